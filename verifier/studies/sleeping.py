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

from verifier.engines.engine import Budget
from verifier.engines.many import reach_each
from verifier.engines.near import Near
from verifier.engines.relation import Allowance, Exhausted
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
from verifier.transition.graph import FALSE
from verifier.transition.system import Goal, Proved, Reached, Undecided

SOMETHING = "something shows"


def sleepers(circuit: Circuit, strikes: Sequence[Strike], budget: Budget) -> Sleepers:
    """Of all these faults, each by itself. Raises EvidenceError when what a search claims does not
    stand."""
    return _Study(circuit, strikes, budget).result()


def sleeping_sets(found: Sleepers, properties: Sequence[PropertyFaults]) -> tuple[SleepingSet, ...]:
    """Cut sets with faults that sleep."""
    asleep = set(found.asleep)
    return tuple(
        SleepingSet(
            item.name,
            tuple(fault for fault in one.faults if fault in asleep),
            tuple(fault for fault in one.faults if fault not in asleep),
        )
        for item in properties
        for one in item.cut_sets
        if asleep.intersection(one.faults)
    )


class _Copies(Struct, frozen=True):
    """Both copies of a circuit with some faults woven in."""

    woven: Woven
    pair: Beside
    signs: tuple[Sign, ...]
    struck: tuple[int, ...]


class _Steady(Struct, frozen=True):
    """signs: names of those that always show the same when nothing has failed."""

    signs: frozenset[str]
    unsteady: tuple[str, ...]
    obligations: int


def _copies(circuit: Circuit, strikes: Sequence[Strike]) -> _Copies:
    """Each hand is kept on until all is at rest, so that both copies take notice of it."""
    hands = tuple(structs.replace(hand, held=True) for hand in circuit.hands)
    woven = weave(structs.replace(circuit, hands=hands, properties=()), strikes)
    compiled = compile_circuit(woven.circuit)
    signs = signs_of(woven.circuit)
    shown = [shown_by(compiled, sign) for sign in signs]
    pair = beside(compiled, frozenset(woven.elements), shown)
    latches, codes = compiled.system.latches, compiled.element_codes
    struck = tuple(2 * latches[codes[e][0]].node for e in woven.elements)
    return _Copies(woven, pair, signs, struck)


class _Study:
    def __init__(self, circuit: Circuit, strikes: Sequence[Strike], budget: Budget) -> None:
        self._budget = budget
        self._circuit = circuit
        self._strikes = tuple(strikes)
        self._sound = _copies(circuit, ())
        self._failing = _copies(circuit, strikes)

    def result(self) -> Sleepers:
        plain = Sleepers(names_of(self._failing.signs), (), (), ())
        try:
            steady = self._steady()
        except Unchecked as refusal:
            return structs.replace(plain, open=str(refusal))
        plain = structs.replace(plain, unsteady=steady.unsteady)
        seen: dict[str, SeenFault] = {}
        try:
            obligations = steady.obligations + self._told_apart(steady, seen)
        except Unchecked as refusal:
            return structs.replace(plain, seen=self._ordered(seen), open=str(refusal))
        asleep = tuple(one.name for one in self._strikes if one.name not in seen)
        return structs.replace(
            plain, seen=self._ordered(seen), asleep=asleep, obligations=obligations
        )

    def _told_apart(self, steady: _Steady, seen: dict[str, SeenFault]) -> int:
        """Fills `seen`, and proves of all others that they sleep; how many obligations that took.
        Raises Unchecked when it is not known of all."""
        copies = self._failing
        graph = copies.pair.system.graph
        goal = Goal(SOMETHING, graph.any([FALSE, *(one.bad for one in _signs(copies, steady))]))
        within = bounded(copies.pair.system, copies.struck, Bounds(1))
        left = Allowance(self._budget.conflicts)
        near = Near(within, goal, copies.struck, left, self._budget.depth)
        far = 0
        try:
            while True:
                for cut in near.cuts(far):
                    finding = reached(within, goal, cut.choices, False, "cut sets")
                    self._note(copies, steady, finding, seen)
                # What has been seen is left out, which makes the circuit smaller.
                rest = _copies(
                    self._circuit, [one for one in self._strikes if one.name not in seen]
                )
                system = bounded(rest.pair.system, rest.struck, Bounds(1))
                goals = _signs(rest, steady)
                proofs: list[Proved] = []
                for one in reach_each(system, goals, self._budget):
                    if isinstance(one, Undecided):
                        raise Unchecked(one.reason)
                    if isinstance(one, Reached):
                        far = max(far, len(one.choices))
                        self._note(rest, steady, one, seen)
                    else:
                        proofs.append(one)
                if len(proofs) == len(goals):
                    return certify_all(system, goals, proofs).obligations if goals else 0
        except Exhausted:
            reason = f"used up its budget of {self._budget.conflicts} conflicts"
            raise Unchecked(reason) from None
        finally:
            near.close()

    def _note(
        self, copies: _Copies, steady: _Steady, finding: Reached, seen: dict[str, SeenFault]
    ) -> None:
        signs = [sign for sign in copies.signs if sign.name in steady.signs]
        by = _believe(copies, finding, signs)
        end = runs_of(copies.pair, finding)[0].states[-1]
        struck = [
            strike.name
            for strike, e in zip(copies.woven.strikes, copies.woven.elements, strict=True)
            if end.positions[e]
        ]
        if len(struck) != 1:
            raise EvidenceError("a sign that was proved to be steady is not")
        seen.setdefault(struck[0], SeenFault(struck[0], names_of(by), len(finding.choices)))

    def _ordered(self, seen: dict[str, SeenFault]) -> tuple[SeenFault, ...]:
        return tuple(seen[one.name] for one in self._strikes if one.name in seen)

    def _steady(self) -> _Steady:
        """What each sign does while nothing fails. What only faults bring about stays away then."""
        copies = self._sound
        pair = copies.pair
        steady: list[Goal] = []
        proofs: list[Proved] = []
        signs: list[str] = []
        unsteady: list[str] = []
        for sign, goal, finding in zip(
            copies.signs, pair.goals, reach_each(pair.system, pair.goals, self._budget), strict=True
        ):
            if isinstance(finding, Proved):
                steady.append(goal)
                proofs.append(finding)
                signs.append(sign.name)
                continue
            if isinstance(finding, Undecided):
                raise Unchecked(f"whether {sign.name} is a sign: {finding.reason}")
            _believe(copies, finding, [sign])
            unsteady.append(sign.name)
        obligations = certify_all(pair.system, steady, proofs).obligations if steady else 0
        added = [one.name for one in self._failing.signs if one.added]
        return _Steady(frozenset([*signs, *added]), tuple(unsteady), obligations)


def _signs(copies: _Copies, steady: _Steady) -> list[Goal]:
    """The goals of those that count."""
    return [
        goal
        for sign, goal in zip(copies.signs, copies.pair.goals, strict=True)
        if sign.name in steady.signs
    ]


def _believe(copies: _Copies, finding: Reached, signs: Sequence[Sign]) -> list[Sign]:
    """The signs that differ at the end, which the simulator agrees to; both copies' runs are
    replayed, and that hands and surroundings were worked calmly and the same way."""
    circuit, elements = copies.woven.circuit, copies.woven.elements
    failing, sound = runs_of(copies.pair, finding)
    for run in (failing, sound):
        believe_run(circuit, run, lambda one: at_rest(circuit, one.states[-1]), SOMETHING)
    _calm(circuit, failing, sound)
    whole = [circuit.elements[e].positions.index(SOUND) for e in elements]
    for state in sound.states:
        if [state.positions[e] for e in elements] != whole:
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
    """Raises EvidenceError where hands or surroundings differ, more than one of them changes at a
    time, or one does before both are at rest."""
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
