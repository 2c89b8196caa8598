"""What properties ask (Q1 to Q8)."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from verifier.model.circuit import Instance, Property
from verifier.model.condition import AtRest, Condition, Not, Path
from verifier.second.air import Air
from verifier.second.conditions import Judge, Plain
from verifier.second.formulas import TRUE, Formula
from verifier.second.movement import Acting, alone, at_rest, truth_of
from verifier.second.paths import AllPaths
from verifier.second.variables import SEEN, Facts


class Question(Struct, frozen=True):
    """role: bad, witness or trigger, of which there may be several, told apart by `index`."""

    property: int
    instance: int
    role: str
    index: int
    formula: Formula


class Observer(Struct, frozen=True):
    """What an *order* remembers: `seen`, that its second condition has been true without a break
    since a moment when the first was not. It starts false."""

    property: int
    instance: int
    seen_after: Formula


class Properties:
    """Judges states. at_rest: with no momentary hand acting (M6)."""

    def __init__(self, facts: Facts, air: Air, resting: Formula, paths: AllPaths) -> None:
        self.facts = facts
        self.at_rest = resting
        acting: Acting = alone(facts)

        def truth(atom: Plain) -> Formula:
            if isinstance(atom, AtRest):
                return resting
            if isinstance(atom, Path):
                return paths.open(atom)
            return truth_of(facts, acting, atom)

        self.judge = Judge(facts, air, truth)
        self._at_rest_while: dict[int, Formula] = {}

    def at_rest_while(self, hand: int) -> Formula:
        """No element must move while this momentary hand acts and no other does."""
        known = self._at_rest_while
        if hand not in known:
            known[hand] = at_rest(self.facts, self.judge.air, alone(self.facts, hand))
        return known[hand]

    def questions(self, number: int, item: Property) -> Iterator[Question]:
        """All that is asked of one state; the end of a *recovers* is not."""
        moment = self.at_rest if item.moment == "at_rest" else TRUE
        both = self.facts.formulas.both
        for i, instance in enumerate(item.instances):
            asked = self._asked(number, i, item, instance)
            if asked is not None:
                role, formula = asked
                yield Question(number, i, role, 0, both(moment, formula))
            for index, trigger in enumerate(instance.triggers):
                always = self.judge.every(trigger)
                yield Question(number, i, "trigger", index, both(moment, always))

    def _asked(
        self, number: int, i: int, item: Property, instance: Instance
    ) -> tuple[str, Formula] | None:
        """never, always (Q3), possible (Q4), order (Q5)."""
        judge, condition = self.judge, instance.condition
        if item.form == "never":
            return "bad", judge.some(condition)
        if item.form == "always":
            return "bad", judge.some(Not(condition))
        if item.form == "possible":
            return "witness", judge.every(condition)
        if item.form == "order":
            seen = self.facts.variable(SEEN, number, i)
            allowed = self.facts.formulas.both(judge.every(_first(instance)), seen)
            return "bad", self.facts.formulas.both(judge.some(condition), -allowed)
        return None

    def observer(self, number: int, i: int, instance: Instance) -> Observer:
        """How the observer of an *order* follows the state before a step (Q5)."""
        formulas, judge = self.facts.formulas, self.judge
        seen = self.facts.variable(SEEN, number, i)
        not_yet = -judge.some(instance.condition)
        after = formulas.both(judge.every(_first(instance)), formulas.either(not_yet, seen))
        return Observer(number, i, after)


def _first(instance: Instance) -> Condition:
    if instance.first is None:
        raise AssertionError("an order without what comes first")
    return instance.first
