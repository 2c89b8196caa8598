"""The main study: a verdict with evidence for every property of a design."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence

from msgspec import structs

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.engines.crew import Crew, default_jobs
from verifier.engines.engine import Budget, Engine
from verifier.engines.registry import DEFAULT, ENGINES
from verifier.evidence.error import Contradiction, DeadEnd
from verifier.evidence.totality import total
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.report.result import DesignResult, Mistake, PropertyResult, worst
from verifier.studies import contest, possible, races, recovering, rest, safety
from verifier.studies.earlier import Earlier
from verifier.studies.inquiry import Inquiry
from verifier.studies.modelling import all_in_force, notes
from verifier.studies.options import Options
from verifier.studies.study import Answer, Study, property_result
from verifier.studies.tolerated import tolerated
from verifier.studies.tolerating import judged_of
from verifier.studies.translated import doubted, translations
from verifier.studies.watching import Nobody, Watcher, watched
from verifier.studies.witnesses import with_witnesses
from verifier.transition.compile import compile_circuit
from verifier.transition.system import System

DECIDE: dict[str, Callable[[Study, int], Answer]] = {
    "never": safety.decide,
    "always": safety.decide,
    "order": safety.decide,
    "possible": possible.decide,
    "recovers": recovering.decide,
}
FREE: dict[str, Callable[[Study], PropertyResult]] = {
    contest.NAME: contest.decide,
    rest.NAME: rest.decide,
    races.NAME: races.decide,
}


class UnknownName(Exception):
    """A property or an engine that there is not; the message lists those that there are."""


def prove(
    loaded: Loaded,
    options: Options | None = None,
    names: Collection[str] = (),
    watcher: Watcher | None = None,
    earlier: Earlier | None = None,
) -> DesignResult:
    """The verdict on every property, or on those with one of the `names`. The watcher is told how
    it goes. earlier: what was proved of the design before a change, to begin with.

    Raises SourceError when the design's assumptions are at fault, UnknownName, and EvidenceError
    when what an engine claims does not stand, or both translations of the circuit differ: then
    there is no verdict at all.
    """
    return prove_and_keep(loaded, options, names, watcher, earlier)[0]


def prove_and_keep(
    loaded: Loaded,
    options: Options | None = None,
    names: Collection[str] = (),
    watcher: Watcher | None = None,
    earlier: Earlier | None = None,
) -> tuple[DesignResult, Study]:
    """As `prove`, with the study, which has the evidence."""
    options, watcher = options or Options(), watcher or Nobody()
    with watched(watcher):
        return _proved(loaded, options, names, watcher, earlier)


def _proved(
    loaded: Loaded,
    options: Options,
    names: Collection[str],
    watcher: Watcher,
    earlier: Earlier | None,
) -> tuple[DesignResult, Study]:
    study, properties = decide_all(loaded, options, names, watcher, earlier)
    circuit = loaded.circuit
    result = DesignResult(
        file=next(iter(loaded.texts), ""),
        design=circuit.name,
        title=circuit.title,
        revision=circuit.revision,
        verdict=worst(item.verdict for item in properties),
        properties=properties,
        modelling=all_in_force(properties),
        warnings=tuple(map(Mistake.of, loaded.warnings)),
        notes=notes(circuit),
        translations=translations(one.comparison for one in (study, *study.tolerant.values())),
    )
    watcher.begins(circuit.name, "runs to show", 0, 0)
    result = with_witnesses(study, result)
    if options.cores:
        # Here, so that those who do not ask for cores do not wait for the import.
        from verifier.studies.cores import with_cores

        watcher.begins(circuit.name, "what the proofs rest on", 0, 0)
        result = with_cores(study, result)
    return result, study


def decide_all(
    loaded: Loaded,
    options: Options,
    names: Collection[str] = (),
    watcher: Watcher | None = None,
    earlier: Earlier | None = None,
) -> tuple[Study, tuple[PropertyResult, ...]]:
    """The study with all that it learned, and the results in the order of the source."""
    watcher = watcher or Nobody()
    study = begin(loaded, options, watcher)
    if earlier is not None:
        study.begins_with(earlier)
    results = dict(decided(study, _chosen(loaded.circuit, names), watcher))
    return study, tuple(results[number] for number in sorted(results))


def begin(loaded: Loaded, options: Options, watcher: Watcher | None = None) -> Study:
    """The study of a design whose assumptions leave it free to move (O3).

    Raises SourceError when they do not, UnknownName for an engine that there is not, and
    EvidenceError when both translations of the circuit differ.
    """
    watcher = watcher or Nobody()
    watcher.begins(loaded.circuit.name, "its circuit, translated twice", 0, 0)
    compiled = compile_circuit(loaded.circuit)
    comparison = agree(compiled)
    inquiry = Inquiry(_engine(options.engine), _budget(options), _crew(options, watcher))
    free_to_move(loaded, compiled.system)
    return Study(loaded.circuit, compiled, comparison, inquiry, every_case=options.every_case)


def free_to_move(loaded: Loaded, system: System) -> None:
    """Raises SourceError unless the assumptions leave the design free to move (O3)."""
    try:
        total(system)
    except (Contradiction, DeadEnd) as fault:
        raise SourceError(tuple(_at_fault(loaded.circuit, fault)), loaded.texts) from None


def _engine(name: str | None) -> Engine | None:
    if name in (None, DEFAULT):
        return None
    if name not in ENGINES:
        raise UnknownName(f"there is no engine {name}; there are {', '.join(ENGINES)}")
    return ENGINES[name]


def _budget(options: Options) -> Budget:
    given = {"conflicts": options.conflicts, "depth": options.depth}
    return Budget(**{name: value for name, value in given.items() if value is not None})


def _crew(options: Options, watcher: Watcher) -> Crew:
    usual = Crew()
    return Crew(
        options.jobs or default_jobs(),
        options.memory or usual.memory,
        options.patience or usual.patience,
        watcher.works,
    )


def _at_fault(circuit: Circuit, fault: Contradiction | DeadEnd) -> Iterator[Diagnostic]:
    """One diagnostic, at the first assumption; the others are related places."""
    first, *others = dict.fromkeys(one.span for one in circuit.assumptions)
    code = "E0801" if isinstance(fault, Contradiction) else "E0802"
    related = tuple((span, "another assumption") for span in others)
    yield Diagnostic(first, code, str(fault), related)


def _chosen(circuit: Circuit, names: Collection[str]) -> list[int]:
    """Numbers of the properties asked for; those that come free are numbered after the others.

    A design that runs on by intention is not asked to come to rest.
    """
    known = [*(item.name for item in circuit.properties), *_free(circuit)]
    strange = [name for name in names if name not in known]
    if strange:
        listed = ", ".join(f'"{name}"' for name in dict.fromkeys(known))
        raise UnknownName(f'there is no property "{strange[0]}"; there are {listed}')
    return [number for number, name in enumerate(known) if not names or name in names]


def _free(circuit: Circuit) -> list[str]:
    """The properties that are asked of this design although it does not state them."""
    return [name for name in FREE if not (circuit.runs_on and name == rest.NAME)]


def decided(
    study: Study, numbers: Sequence[int], watcher: Watcher
) -> Iterator[tuple[int, PropertyResult]]:
    """Results by number, as they are decided; numbers past those of the properties that are stated
    are of those that come free. Those of *possible* come first: the states that their
    runs go through show that what other properties speak of can happen."""
    properties, free = study.circuit.properties, [FREE[name] for name in _free(study.circuit)]

    def late(number: int) -> bool:
        return number >= len(properties) or properties[number].form != "possible"

    design, names = study.circuit.name, [*(item.name for item in properties), *_free(study.circuit)]
    for count, number in enumerate(sorted(numbers, key=late), 1):
        watcher.begins(design, names[number], count, len(numbers))
        asked, open_ones = number, study.comparison.open
        if number >= len(properties):
            found = free[number - len(properties)](study)
        else:
            item = properties[number]
            judging, own = judged_of(study, number, watcher)
            found = property_result(judging.circuit, item, DECIDE[item.form](judging, own))
            found = structs.replace(found, tolerating=tolerated(study.circuit, item))
            asked, open_ones = own, judging.comparison.open
        result = doubted(asked, found, open_ones)
        watcher.decides(design, result)
        yield number, result
