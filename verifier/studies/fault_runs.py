"""Runs that show that a set of faults is enough, each replayed in the circuit with only these."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from verifier.engines.engine import Budget
from verifier.engines.many import reach_each
from verifier.engines.near import CutSet
from verifier.engines.trial import Lane, Script, Trial
from verifier.evidence.error import EvidenceError
from verifier.evidence.replay import believe_run
from verifier.model.circuit import Circuit, Instance
from verifier.model.run import Run, State, Step
from verifier.model.strikes import Strike
from verifier.model.weaving import Woven
from verifier.model.woven_air import inside_name, outlet_name
from verifier.simulation.judging import violation
from verifier.simulation.replay import ReplayError, replay
from verifier.simulation.steps import canonical
from verifier.studies.fault_questions import Question, questions, woven_of
from verifier.studies.keeping import keepers
from verifier.transition import recovery
from verifier.transition.decode import run_of
from verifier.transition.encoding import element_position, kept_name, switch_value
from verifier.transition.system import Goal, Lemma, Proved, Reached, Undecided


class Shown(Struct, frozen=True):
    """The simulator agreed that with these faults alone a run of so many steps breaks the instance
    with this label."""

    faults: CutSet
    label: str
    steps: int


class Refuted(Struct, frozen=True):
    """It is claimed that these faults do not break it. lemmas: literals by the names of latches."""

    faults: CutSet
    lemmas: tuple[tuple[tuple[str, bool], ...], ...]


class Unknown(Struct, frozen=True):
    faults: CutSet
    reason: str


class Runs:
    """Looks for runs that break one property as one question asks about it.

    goals: literals of its claims, some of which each set is suspected to bring about.
    """

    def __init__(
        self,
        circuit: Circuit,
        strikes: Sequence[Strike],
        question: Question,
        property: int,
        budget: Budget,
    ) -> None:
        self._circuit = circuit
        self._strikes = strikes
        self._question = question
        self._property = property
        self._budget = budget
        self._goals = [one.goal.bad for one in question.claims if one.property == property]
        self._followed = tuple(self._wanted())
        self._trial: Trial | None = None
        self._scripts: list[Script] = []
        self._choices = {choice.name: choice.node for choice in question.system.choices}

    def of(self, sets: Sequence[CutSet]) -> Iterator[Shown | Refuted | Unknown]:
        """What becomes of each set, in whatever order."""
        left = dict.fromkeys(sets)
        for script in self._scripts:
            yield from self._tried(script, left)
        while left:
            faults = next(iter(left))
            del left[faults]
            found, new = self._searched(faults)
            yield found
            if new is not None:
                self._scripts.append(new)
                yield from self._tried(new, left)

    def _tried(self, script: Script, left: dict[CutSet, None]) -> list[Shown]:
        """Those that the run of another set is a run of, nearly."""
        if not left:
            return []
        if self._trial is None:
            question = self._question
            self._trial = Trial(question.system, question.faults, self._goals, self._followed)
        goals = dict.fromkeys(left, self._goals)
        found = []
        for faults, lane in self._trial.hits(script, list(left), goals):
            shown = self._shown(faults, lane)
            if shown is not None:
                found.append(shown)
        for one in found:
            del left[one.faults]
        return found

    def _searched(self, faults: CutSet) -> tuple[Shown | Refuted | Unknown, Script | None]:
        """Asks about the circuit with these faults alone."""
        woven = self._woven(faults)
        (asked,) = (
            one
            for one in questions(woven, [self._property])
            if one.procedure == self._question.procedure
        )
        goals = [one.goal for one in asked.claims]
        bad = Goal("broken", asked.system.graph.any(goal.bad for goal in goals))
        (finding,) = reach_each(asked.system, [bad], self._budget)
        if isinstance(finding, Undecided):
            return Unknown(faults, finding.reason), None
        if isinstance(finding, Proved):
            latches = asked.system.latches
            lemmas = tuple(
                tuple((latches[i].name, positive) for i, positive in lemma)
                for lemma in finding.lemmas
            )
            return Refuted(faults, lemmas), None
        run = (
            run_of(asked.compiled, finding)
            if asked.recovery is None
            else recovery.run_of(asked.recovery, finding)
        )
        return self._believed(faults, woven, run), self._script(asked, finding)

    def _believed(self, faults: CutSet, woven: Woven, run: Run) -> Shown:
        """Raises EvidenceError unless the simulator agrees, and all of the faults strike."""
        item = woven.circuit.properties[0]
        broken = [one for one in item.instances if self._breaks(woven, one, run)]
        if not broken:
            raise EvidenceError(f"{item.name}: the end of the run does not show what it should")
        believe_run(
            woven.circuit, run, functools.partial(self._breaks, woven, broken[0]), item.name
        )
        if any(run.states[-1].positions[one] == 0 for one in woven.elements):
            raise EvidenceError(f"{item.name}: fewer faults are enough than was shown to be needed")
        for keeper in keepers():
            keeper.cut_set(self._property, faults, run)
        return Shown(faults, broken[0].label, len(run.steps))

    def _breaks(self, woven: Woven, instance: Instance, run: Run) -> bool:
        return violation(woven.circuit, woven.circuit.properties[0], instance, run)

    def _script(self, asked: Question, finding: Reached) -> Script:
        """The run without its faults, in terms of the circuit with all of them."""
        own = asked.faults.own
        known = [
            (k, self._choices[choice.name])
            for k, choice in enumerate(asked.system.choices)
            if choice.node not in own and choice.name in self._choices
        ]
        return tuple({node: row[k] for k, node in known} for row in finding.choices)

    def _woven(self, faults: CutSet) -> Woven:
        chosen = [self._strikes[one] for one in faults]
        return woven_of(self._circuit, chosen, [self._property])

    def _wanted(self) -> Iterator[int]:
        """Literals that tell the states and steps of a run."""
        question, compiled = self._question, self._question.compiled
        latches = question.system.latches
        for code in compiled.element_codes:
            yield from (2 * latches[i].node for i in code)
        for hand in compiled.hand_latches.values():
            yield 2 * latches[hand].node
        for code in compiled.switch_codes:
            yield from (2 * latches[i].node for i in code)
        for memory in compiled.memory_latches.values():
            yield 2 * latches[memory].node
        yield from question.acting.values()
        if question.recovery is not None:
            yield question.recovery.begun

    def _shown(self, faults: CutSet, lane: Lane) -> Shown | None:
        """None where what the lane says is no run of the circuit with these faults alone, as far as
        it can be told; then it is asked about by itself."""
        woven = self._woven(faults)
        run = self._told(faults, lane, woven)
        try:
            replay(woven.circuit, run)
        except ReplayError:
            return None
        item = woven.circuit.properties[0]
        if not any(self._breaks(woven, one, run) for one in item.instances):
            return None
        return self._believed(faults, woven, run)

    def _told(self, faults: CutSet, lane: Lane, woven: Woven) -> Run:
        states = [self._state(faults, lane, moment, woven) for moment in range(lane.steps + 1)]
        steps = []
        for moment, state in enumerate(states[1:]):
            acting = self._question.acting.items()
            acts = tuple(hand for hand, literal in acting if lane.true(moment, literal))
            steps.append(Step(acts, state))
        posed, start = self._question.recovery, None
        if posed is not None:
            begins = (k for k in range(lane.steps) if lane.true(k, posed.begun))
            start = next(begins, lane.steps)
        return Run(states[0], tuple(steps), start)

    def _state(self, faults: CutSet, lane: Lane, moment: int, woven: Woven) -> State:
        question, compiled, circuit = self._question, self._question.compiled, woven.circuit
        latches = question.system.latches

        def true(latch: int) -> bool:
            return lane.true(moment, 2 * latches[latch].node)

        own = len(self._circuit.elements)
        codes = [*compiled.element_codes[:own], *(question.faults.latches[one] for one in faults)]
        positions = tuple(element_position([true(latch) for latch in code]) for code in codes)
        hands = [False] * len(circuit.hands)
        for hand, latch in compiled.hand_latches.items():
            hands[hand] = true(latch)
        settings = tuple(
            switch_value([true(latch) for latch in code])
            for code in compiled.switch_codes[: len(circuit.switches)]
        )
        kept: Mapping[str, bool] = {
            compiled.circuit.volumes[volume].name: true(latch)
            for volume, latch in compiled.memory_latches.items()
        }
        memory = tuple(kept.get(volume.name, False) for volume in circuit.volumes)
        return canonical(circuit, State(positions, tuple(hands), settings, memory))


def lemmas_of(circuit: Circuit, question: Question, refuted: Refuted) -> list[tuple[Lemma, ...]]:
    """What was learned of few faults, in terms of the system with all of them, as far as it has the
    same latches. There the ends of tubes are volumes of their own, of which is guessed what is
    known of their line; what comes of one clause stays together."""
    known = {latch.name: k for k, latch in enumerate(question.system.latches)}
    alike = _ends(circuit)
    found = []
    for lemma in refuted.lemmas:
        told = (
            tuple(sorted((known[name], positive) for name, positive in names))
            for names in _variants(lemma, alike)
            if all(name in known for name, _ in names)
        )
        found.append(tuple(dict.fromkeys(told)))
    return [tuple(x for some in found for x in some)]


def _variants(
    lemma: tuple[tuple[str, bool], ...], alike: Mapping[str, Sequence[str]]
) -> Iterator[tuple[tuple[str, bool], ...]]:
    """The lemma, and what it is with another end of the line in the place of each line."""
    yield lemma
    for place, (name, positive) in enumerate(lemma):
        for other in alike.get(name, ()):
            yield (*lemma[:place], (other, positive), *lemma[place + 1 :])


def _ends(circuit: Circuit) -> dict[str, list[str]]:
    """For the latch of what a line keeps those of the ends of its tubes."""
    return {
        kept_name(volume.name): [
            kept_name(name)
            for name in (
                *(inside_name(circuit, port) for port in volume.ports),
                *(outlet_name(circuit.supplies[supply].name) for supply in volume.supplies),
            )
        ]
        for volume in circuit.volumes
    }
