"""One wrong connection judged: what it breaks of what held, the worst first, or that nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import structs

from verifier.engines.engine import Budget
from verifier.engines.rounds import EASY_CONFLICTS, EASY_NODES
from verifier.evidence.error import EvidenceError
from verifier.evidence.named import Named, names_of
from verifier.evidence.replay import believe_run
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.load import Loaded
from verifier.model.run import Run
from verifier.model.wrong_connections import (
    LeftOff,
    WrongConnection,
    wrongly_connected,
)
from verifier.report.misconnections import Judgement
from verifier.report.result import InstanceResult, Proof, PropertyResult, Story
from verifier.runs.record import recorded
from verifier.runs.script import Expects, Judged, Line, Missing, Script, Swap, Wrong
from verifier.runs.write import script_text
from verifier.simulation.judging import violation
from verifier.studies.idle import thinned, without_idle_events
from verifier.studies.inquiry import Found, Inquiry, Settled
from verifier.studies.options import Options
from verifier.studies.prove import decided
from verifier.studies.story import tell
from verifier.studies.study import Study
from verifier.studies.told_runs import fitted, run_of, script_of, title_of
from verifier.studies.watching import Nobody
from verifier.studies.wording import outcome
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.decode import Decoder
from verifier.transition.system import Goal

SAFETY = ("never", "always", "order")
LATER = ("recovers", "possible", *SAFETY)
"""The order in which properties are looked at once no danger was found at once."""


def judged(
    loaded: Loaded,
    wrong: WrongConnection,
    held: Sequence[int],
    options: Options,
    earlier: Sequence[Named] = (),
) -> Judgement:
    """held: numbers of the properties that hold of the design as it should be connected; earlier:
    clauses of the proofs of that, which are tried as guesses. First all
    dangers are asked about at once; then, property by property, everything as `prove` does.

    Raises EvidenceError as `prove` does.
    """
    circuit = wrongly_connected(loaded.circuit, wrong)
    return _Judging(loaded, circuit, wrong, held, options, earlier).judgement()


class _Judging:
    def __init__(
        self,
        loaded: Loaded,
        circuit: Circuit,
        wrong: WrongConnection,
        held: Sequence[int],
        options: Options,
        earlier: Sequence[Named],
    ) -> None:
        self.design = loaded.circuit
        self.circuit = circuit
        self.wrong = wrong
        self.held = held
        self.compiled: Compiled = compile_circuit(circuit)
        self.inquiry = Inquiry(None, _budget(options, self.compiled), None, earlier)

    def judgement(self) -> Judgement:
        danger = self._danger()
        if danger is not None:
            return danger
        study = _Brief(self.circuit, self.compiled, agree(self.compiled), self.inquiry)
        found: list[PropertyResult] = []
        for item in self._results(study):
            found.append(item)
            # What comes later cannot be worse.
            if item.verdict == "violated":
                break
        return self._of(study, found)

    # ---- dangers, all at once
    def _danger(self) -> Judgement | None:
        """What breaks a *never*, *always* or *order*, the first that can happen."""
        numbers = [k for k in self.held if self.circuit.properties[k].form in SAFETY]
        bad = [one.goal.bad for k in numbers for one in self.compiled.asked_by(k, "bad")]
        if not bad:
            return None
        goal = Goal("bad: something that held", self.compiled.system.graph.any(bad))
        decode = Decoder(self.compiled).run_of
        (answer,) = self.inquiry.settle(self.compiled.system, [goal], decode)
        # That none of them can happen is proved again, one by one and by the usual path.
        return self._broken(answer.run, numbers) if isinstance(answer, Found) else None

    def _broken(self, run: Run, numbers: Sequence[int]) -> Judgement:
        """The first property that the run breaks, judged and told by the simulator."""
        for number in numbers:
            item = self.circuit.properties[number]
            for instance in item.instances:
                if violation(self.circuit, item, instance, run):
                    return self._shown(run, item, instance)
        raise EvidenceError("the run into something bad breaks nothing")

    def _shown(self, run: Run, item: Property, instance: Instance) -> Judgement:
        def judge(one: Run) -> bool:
            return violation(self.circuit, item, instance, one)

        run = thinned(self.circuit, run, judge)
        run = without_idle_events(self.circuit, run, judge)
        believe_run(self.circuit, run, judge, item.name)
        story = tell(self.circuit, run, outcome(self.circuit, item, instance, run), shortest=False)
        return Judgement(
            "broken",
            item.name,
            item.form,
            instance.label,
            "violated",
            len(run.steps),
            story,
            self._run_text(self.circuit, run, item.name, instance.label),
            decided=1,
        )

    def _run_text(self, circuit: Circuit, run: Run, name: str, label: str) -> str:
        where = f", for {label}" if label else ""
        expected = Line(Expects(Judged(name, label)))
        return script_text(
            Script(
                f"{name}{where}",
                self.design.name,
                Wrong(_how(self.design, self.wrong)),
                (*recorded(circuit, run), expected),
            )
        )

    # ---- everything, one by one
    def _results(self, study: Study) -> Iterator[PropertyResult]:
        for form in LATER:
            for number in self.held:
                if self.circuit.properties[number].form == form:
                    for _, item in decided(study, [number], Nobody()):
                        yield item

    def _of(self, study: Study, found: Sequence[PropertyResult]) -> Judgement:
        for verdict in ("violated", "inconclusive", "vacuous"):
            for item in found:
                if item.verdict == verdict:
                    return structs.replace(self._failing(study, item), decided=len(found))
        return Judgement("harmless", proof=_together(found), decided=len(found))

    def _failing(self, study: Study, item: PropertyResult) -> Judgement:
        if item.verdict == "violated" and item.form != "possible":
            # Now it is worth while to tell a run.
            study = Study(self.circuit, self.compiled, study.comparison, self.inquiry)
            number = [one.name for one in self.circuit.properties].index(item.name)
            ((_, item),) = decided(study, [number], Nobody())
        case = next(one for one in item.instances if one.verdict == item.verdict)
        told = next((one for one in item.instances if one.story and _same(one, case)), case)
        if item.verdict == "inconclusive":
            reason = f'"{item.name}": {case.reason or item.reason}'
            return Judgement("undecided", item.name, item.form, case.label, reason=reason)
        story: Story | None = told.story if item.verdict == "violated" else None
        return Judgement(
            "broken",
            item.name,
            item.form,
            told.label,
            item.verdict,
            0 if story is None else story.steps,
            story,
            "" if story is None else self._told(study, item, told, story),
            told.reason or item.reason,
            item.proof,
        )

    def _told(self, study: Study, item: PropertyResult, case: InstanceResult, story: Story) -> str:
        """The run of a story, which one of the studies has."""
        circuit, run = run_of((study, *study.tolerant.values()), item, story)
        script = script_of(circuit, run, title_of(item, case), (Judged(item.name, case.label),))
        wrong = Wrong(_how(self.design, self.wrong))
        return script_text(
            fitted(self.design, structs.replace(script, design=self.design.name), wrong)
        )


class _Brief(Study):
    """Believes runs, and tells none."""

    def told(self, answers: Sequence[Settled]) -> list[int]:
        return []


def _same(one: InstanceResult, other: InstanceResult) -> bool:
    return one.verdict == other.verdict


def _together(found: Sequence[PropertyResult]) -> Proof | None:
    proofs = [item.proof for item in found if item.proof is not None]
    if not proofs:
        return None
    engines = (name for one in proofs for name in one.engine.split(", "))
    return Proof(
        ", ".join(dict.fromkeys(engines)),
        sum(one.clauses for one in proofs),
        sum(one.obligations for one in proofs),
    )


def _how(design: Circuit, wrong: WrongConnection) -> Swap | Missing:
    if isinstance(wrong, LeftOff):
        return Missing(design.tubes[wrong.tube].name)
    one, other = (design.ports[port].name for port in wrong.ports)
    return Swap(one, other)


def _budget(options: Options, compiled: Compiled) -> Budget:
    """As much as one process spends without asking workers."""
    nodes = max(len(compiled.system.graph.fanins), 1)
    return Budget(
        options.conflicts or EASY_CONFLICTS,
        EASY_NODES // nodes if options.depth is None else options.depth,
    )


def clauses_of(study: Study) -> tuple[Named, ...]:
    """The clauses of all proofs of a study, by the names of their latches."""
    found: dict[Named, None] = {}
    for claim in study.inquiry.claims:
        names = names_of(claim.system)
        for proof in claim.proofs:
            for lemma in proof.lemmas:
                found[tuple(sorted((names[k], sign) for k, sign in lemma))] = None
    return tuple(found)
