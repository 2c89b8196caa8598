"""Properties that tolerate faults: judged of the circuit with these woven in (rules F)."""

from __future__ import annotations

from verifier.evidence.error import Contradiction, DeadEnd, EvidenceError
from verifier.evidence.totality import total
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.model.tolerant import tolerances, woven
from verifier.report.bundle import folder_of
from verifier.studies.inquiry import Inquiry
from verifier.studies.study import Study
from verifier.studies.watching import Nobody, Watcher
from verifier.transition.compile import compile_circuit


def judged_of(study: Study, number: int, watcher: Watcher | None = None) -> tuple[Study, int]:
    """The study of the circuit that a property is judged of, and the number that it has there: the
    study itself, or that of the circuit with the faults that it tolerates.

    Raises EvidenceError when both translations of that circuit differ.
    """
    if study.circuit.properties[number].tolerating is None:
        return study, number
    for place, tolerance in enumerate(tolerances(study.circuit)):
        if number in tolerance.properties:
            if place not in study.tolerant:
                name = study.circuit.name
                (watcher or Nobody()).begins(
                    name, "its circuit with faults, translated twice", 0, 0
                )
                tolerant = _with_faults(study, woven(study.circuit, tolerance))
                tolerant.begins_with(study.earlier, folder_of(place))
                study.tolerant[place] = tolerant
            return study.tolerant[place], tolerance.properties.index(number)
    raise ValueError(f"property {number} has no tolerance")


def _with_faults(study: Study, circuit: Circuit) -> Study:
    compiled = compile_circuit(circuit)
    comparison = agree(compiled)
    asking = study.inquiry
    inquiry = Inquiry(asking.engine, asking.budget, asking.crew)
    try:
        total(compiled.system)
    except (Contradiction, DeadEnd) as fault:
        # The sound circuit is free to move, and no fault ever has to strike.
        raise EvidenceError(f"faults leave the circuit stuck: {fault}") from None
    return Study(circuit, compiled, comparison, inquiry, every_case=study.every_case)
