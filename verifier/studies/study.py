"""One design under proof, and the answers to one instance of a property."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct

from verifier.engines.worker import Kind
from verifier.evidence.replay import believe_run
from verifier.evidence.translations import Comparison
from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.run import Parting, Run, State
from verifier.report.result import (
    InstanceResult,
    Proof,
    PropertyResult,
    Story,
    UsedAssumption,
    worst,
)
from verifier.simulation.movement import at_rest
from verifier.simulation.replay import Checked
from verifier.studies.earlier import Earlier
from verifier.studies.idle import without_idle_events
from verifier.studies.inquiry import Decode, Found, Inquiry, Open, Proven, Settled
from verifier.studies.modelling import in_force
from verifier.studies.story import tell
from verifier.transition import turning
from verifier.transition.compiled import Compiled
from verifier.transition.decode import Decoder
from verifier.transition.racing import Case
from verifier.transition.system import Goal, System

MORE = "The options --conflicts and --depth let it go on for longer."
# What helps, by what became of workers.
HELPS: dict[Kind, str] = {
    "memory": "The option --memory lets a worker have more.",
    "hang": "The option --patience lets a worker be silent for longer.",
    "killed": "Nothing is wrong with the design; try again.",
    "crash": "That is a bug of shutproof or of a solver; --engine asks another.",
}

Judge = Callable[[Run], bool]
Words = Callable[[Run], str]


class Asked(Struct, frozen=True):
    """A question, so that it can be asked again for a simpler run."""

    system: System
    goal: Goal
    decode: Decode


class Study:
    """The circuit, what it compiles to, how the second translation agrees, and whom to ask.

    decode: of runs of the circuit's own system; what they have in common is decoded once.
    visited: states that replayed runs went through, each once, in order, so that they can be
    reached; and whether each is at rest (M6).
    runs, loops: all that the simulator agreed to; a loop comes back to the state with that number.
    witnessed: those made simple to tell of what holds.
    racing: systems that *no race* asked about, each with the case and its loose elements; None if
    it goes two ways.   partings: pairs of runs that the simulator agreed to, with the element that
    they part.
    rest: the answer to *comes to rest*, once it was asked.
    rests: the argument for it that evidence accepted, and the assumptions it needs.
    tolerant: studies of the circuit with faults, by the number of the tolerance.
    earlier: what was proved of the design before.
    """

    def __init__(
        self,
        circuit: Circuit,
        compiled: Compiled,
        comparison: Comparison,
        inquiry: Inquiry,
        *,
        every_case: bool = False,
    ) -> None:
        self.circuit = circuit
        self.compiled = compiled
        self.comparison = comparison
        self.inquiry = inquiry
        self.every_case = every_case
        self.visited: dict[State, bool] = {}
        self.runs: list[Run] = []
        self.loops: list[tuple[Run, int]] = []
        self.witnessed: list[Run] = []
        self.racing: list[tuple[System, tuple[Case, tuple[int, ...]] | None]] = []
        self.partings: list[tuple[Parting, int]] = []
        self.rest: PropertyResult | None = None
        self.rests: tuple[turning.Settled, tuple[str, ...]] | None = None
        self.decode: Decode = Decoder(compiled).run_of
        self.tolerant: dict[int, Study] = {}
        self.earlier: Earlier = {}
        self._checked: Checked = {}
        self._looked_at: dict[int, State] = {}

    def begins_with(self, earlier: Earlier, folder: str = "") -> None:
        """Clauses of earlier proofs are tried before anybody is asked. folder: that of this study's
        circuit."""
        self.earlier = earlier
        self.inquiry.earlier = earlier.get(folder, ())

    def asked(self, index: int, role: str) -> list[tuple[int, Asked]]:
        """The questions with this role of one property, each with its instance."""
        decode = self.decode
        return [
            (question.instance, Asked(self.compiled.system, question.goal, decode))
            for question in self.compiled.asked_by(index, role)
        ]

    def settle(self, asked: Sequence[tuple[int, Asked]]) -> tuple[Settled, ...]:
        """Answers to questions about the circuit's own system, asked together."""
        goals = [question.goal for _, question in asked]
        decode = self.decode
        return self.inquiry.settle(self.compiled.system, goals, decode)

    def story(self, asked: Asked, found: Found, judge: Judge, outcome: Words, what: str) -> Story:
        """The story of a claimed run, made simple, once the simulator has agreed to all of it.

        Raises EvidenceError when the run is none of the circuit or does not end as claimed.
        """
        simple = self.inquiry.simplified(asked.system, asked.goal, found, asked.decode)
        self.believe(simple, judge, what)
        run = without_idle_events(self.circuit, simple.run, judge)
        self.believe(Found(run, found.shortest), judge, what)
        return tell(self.circuit, run, outcome(run), shortest=found.shortest)

    def told(self, answers: Sequence[Settled]) -> list[int]:
        """Numbers of the answers whose runs are told: the first of the shortest, or every one."""
        runs = {k: len(one.run.steps) for k, one in enumerate(answers) if isinstance(one, Found)}
        if self.every_case or not runs:
            return list(runs)
        return [min(runs, key=lambda number: (runs[number], number))]

    def believe(self, found: Found, judge: Judge, what: str) -> None:
        """Raises EvidenceError unless the run replays and ends as `judge` wants it."""
        believe_run(self.circuit, found.run, judge, what, self._checked)
        self.runs.append(found.run)
        for state in found.run.states:
            # By identity first: runs mostly share the very states, and those are large.
            if id(state) not in self._looked_at:
                self._looked_at[id(state)] = state
                if state not in self.visited:
                    self.visited[state] = at_rest(self.circuit, state)


class Answer(Struct, frozen=True):
    """The results of the instances of one property, and the proofs behind them."""

    instances: tuple[InstanceResult, ...]
    proofs: tuple[Proven, ...] = ()


def unsettled(instance: Instance, found: Open, what: str) -> InstanceResult:
    """Neither proved nor refuted; `what` says what is open."""
    more = " ".join(dict.fromkeys(HELPS[kind] for kind in found.kinds)) or MORE
    searched = f" No run of up to {found.depth} steps shows it." if found.depth >= 0 else ""
    return InstanceResult(
        label=instance.label,
        verdict="inconclusive",
        words=instance.words,
        reason=f"{what} The search gave up: {found.reason}.{searched} {more}",
        depth=found.depth if found.depth >= 0 else None,
    )


def property_result(circuit: Circuit, item: Property, answer: Answer) -> PropertyResult:
    """Puts the answers to all instances together."""
    tolerant = item.tolerating is not None
    return PropertyResult(
        name=item.name,
        form=item.form,
        free=False,
        moment=item.moment,
        verdict=worst(one.verdict for one in answer.instances),
        instances=answer.instances,
        span=item.span,
        doc=item.doc,
        proof=proof_of(answer.proofs),
        assumptions=used_assumptions(circuit, answer.proofs),
        modelling=tuple(one.name for one in in_force(item.form, tolerant=tolerant)),
    )


def proof_of(proofs: Sequence[Proven]) -> Proof | None:
    """All proofs of a property as one; None when nothing was proved."""
    if not proofs:
        return None
    return Proof(
        engine=", ".join(dict.fromkeys(proof.engine for proof in proofs)),
        clauses=sum(proof.clauses for proof in proofs),
        obligations=sum(proof.obligations for proof in proofs),
    )


def used_assumptions(circuit: Circuit, proofs: Sequence[Proven]) -> tuple[UsedAssumption, ...]:
    """Those that at least one of the proofs needed, in the order of the design, each name once."""
    names = {name for proof in proofs for name in proof.assumptions}
    reasons = {one.name: one.reason for one in circuit.assumptions}
    return tuple(UsedAssumption(name, reasons[name]) for name in reasons if name in names)
