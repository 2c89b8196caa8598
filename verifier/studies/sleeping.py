"""Which faults could anybody see before they are needed, and which sleep: with evidence.

A fault shows if the circuit with it can come to a rest in which some sign differs from what it
would be, hands and surroundings having been worked the same way, if nothing had failed. Signs that
do not always show the same though nothing has failed prove nothing, and are left out; that the
others do is proved first.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct, structs

from verifier.engines.cuts import Complete, Cut, Cuts, Incomplete
from verifier.engines.engine import Budget
from verifier.engines.many import reach_each
from verifier.engines.walk import reached
from verifier.evidence.certificate import certify_all
from verifier.evidence.error import EvidenceError, Unchecked
from verifier.evidence.replay import believe_run
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.model.strikes import Strike
from verifier.model.weaving import SOUND, Woven, weave
from verifier.report.faults import PropertyFaults
from verifier.report.sleeping import SeenFault, Sleepers, SleepingSet
from verifier.simulation.movement import at_rest
from verifier.studies.signs import Sign, names_of, shown_by, signs_of, value_of
from verifier.transition.beside import Beside, beside, runs_of
from verifier.transition.bounds import Bounds, bounded
from verifier.transition.compile import compile_circuit
from verifier.transition.system import Goal, Proved, Reached

SOMETHING = "something shows"


def sleepers(circuit: Circuit, strikes: Sequence[Strike], budget: Budget) -> Sleepers:
    """Of all these faults, each by itself. Raises EvidenceError when what a search claims does not
    stand."""
    return _Study(circuit, strikes, budget).result()


def sleeping_sets(found: Sleepers, properties: Sequence[PropertyFaults]) -> list[SleepingSet]:
    """Cut sets with faults that sleep."""
    asleep = set(found.asleep)
    return [
        SleepingSet(
            item.name,
            tuple(fault for fault in one.faults if fault in asleep),
            tuple(fault for fault in one.faults if fault not in asleep),
        )
        for item in properties
        for one in item.cut_sets
        if asleep.intersection(one.faults)
    ]


class _Steady(Struct, frozen=True):
    """goals: of the signs that always show the same when nothing has failed."""

    goals: tuple[Goal, ...]
    unsteady: tuple[str, ...]
    obligations: int
    open: str


class _Study:
    def __init__(self, circuit: Circuit, strikes: Sequence[Strike], budget: Budget) -> None:
        self._budget = budget
        self._strikes = tuple(strikes)
        # Each hand is kept on until all is at rest, so that both copies take notice of it.
        hands = tuple(structs.replace(hand, held=True) for hand in circuit.hands)
        plain = structs.replace(circuit, hands=hands, properties=())
        self._woven: Woven = weave(plain, strikes)
        compiled = compile_circuit(self._woven.circuit)
        self._signs = signs_of(self._woven.circuit)
        shown = [shown_by(compiled, sign) for sign in self._signs]
        self._pair: Beside = beside(compiled, frozenset(self._woven.elements), shown)
        latches, codes = compiled.system.latches, compiled.element_codes
        self._struck = [2 * latches[codes[e][0]].node for e in self._woven.elements]

    def result(self) -> Sleepers:
        steady = self._steady()
        plain = Sleepers(names_of(self._signs), steady.unsteady, (), (), steady.open)
        if steady.open:
            return plain
        pair = self._pair
        graph = pair.system.graph
        goal = Goal(SOMETHING, graph.any(one.bad for one in steady.goals))
        seen: list[SeenFault] = []
        obligations = steady.obligations
        search = Cuts(pair.system, goal, self._struck, self._budget)
        for one in search.run(1):
            if isinstance(one, Incomplete):
                return structs.replace(plain, seen=tuple(seen), open=one.reason)
            if isinstance(one, Cut):
                seen.append(self._seen(goal, one, steady))
            else:
                try:
                    obligations += self._checked(goal, one)
                except Unchecked as refusal:
                    return structs.replace(plain, seen=tuple(seen), open=str(refusal))
        shows = {one.name for one in seen}
        asleep = tuple(one.name for one in self._strikes if one.name not in shows)
        order = {one.name: number for number, one in enumerate(self._strikes)}
        seen.sort(key=lambda one: order[one.name])
        return structs.replace(plain, seen=tuple(seen), asleep=asleep, obligations=obligations)

    def _steady(self) -> _Steady:
        """What each sign does while nothing fails."""
        pair = self._pair
        within = bounded(pair.system, self._struck, Bounds(0))
        steady: list[Goal] = []
        proofs: list[Proved] = []
        unsteady: list[str] = []
        for sign, goal, finding in zip(
            self._signs, pair.goals, reach_each(within, pair.goals, self._budget), strict=True
        ):
            if isinstance(finding, Proved):
                steady.append(goal)
                proofs.append(finding)
            else:
                # What is not proved to be a sign is none.
                unsteady.append(sign.name)
                if isinstance(finding, Reached):
                    self._believe(finding, [sign])
        try:
            obligations = certify_all(within, steady, proofs).obligations if steady else 0
        except Unchecked as refusal:
            return _Steady((), tuple(unsteady), 0, str(refusal))
        return _Steady(tuple(steady), tuple(unsteady), obligations, "")

    def _checked(self, goal: Goal, one: Complete) -> int:
        return certify_all(one.system, [goal], [one.proof]).obligations

    def _seen(self, goal: Goal, cut: Cut, steady: _Steady) -> SeenFault:
        if len(cut.faults) != 1:
            raise EvidenceError("a sign that was proved to be steady is not")
        finding = reached(self._pair.system, goal, cut.choices, False, "cut sets")
        names = {one.name for one in steady.goals}
        signs = [
            sign
            for sign, one in zip(self._signs, self._pair.goals, strict=True)
            if one.name in names
        ]
        by = self._believe(finding, signs)
        return SeenFault(self._strikes[cut.faults[0]].name, names_of(by), len(cut.choices))

    def _believe(self, finding: Reached, signs: Sequence[Sign]) -> list[Sign]:
        """The signs that differ at the end, which the simulator agrees to; both copies' runs are
        replayed, and that hands and surroundings were worked calmly and the same way."""
        circuit = self._woven.circuit
        failing, sound = runs_of(self._pair, finding)
        for run in (failing, sound):
            believe_run(circuit, run, lambda one: at_rest(circuit, one.states[-1]), SOMETHING)
        _calm(circuit, failing, sound)
        sounds = [circuit.elements[e].positions.index(SOUND) for e in self._woven.elements]
        for state in sound.states:
            if [state.positions[e] for e in self._woven.elements] != sounds:
                raise EvidenceError("the copy in which nothing fails has a fault")
        ends = failing.states[-1], sound.states[-1]
        by = [
            sign
            for sign in signs
            if value_of(circuit, ends[0], sign) != value_of(circuit, ends[1], sign)
        ]
        if not by:
            raise EvidenceError("both copies show the same in a run that was to tell them apart")
        return by


def _calm(circuit: Circuit, failing: Run, sound: Run) -> None:
    """Raises EvidenceError where hands or surroundings differ, or change while one still moves."""
    states = list(zip(failing.states, sound.states, strict=True))
    for one, other in states:
        if (one.hands, one.settings) != (other.hands, other.settings):
            raise EvidenceError("hands and surroundings of both copies differ")
    for (one, other), (after, _) in pairwise(states):
        things = zip((*one.hands, *one.settings), (*after.hands, *after.settings), strict=True)
        touched = sum(before != now for before, now in things)
        if touched > 1:
            raise EvidenceError("more than one thing is worked at a time")
        if touched and not (at_rest(circuit, one) and at_rest(circuit, other)):
            raise EvidenceError("hands or surroundings change before all is at rest")
