"""What the variables of the second translation say, and plain facts told by them.

stands k: the element's bit k; it stands at position k or beyond when bits 1 to k are true.
held: the held hand is on.   set k: the switch's bit k; it stands at the first value whose bit is
true, else at the last one.   kept: the volume, if it is trapped, has kept air.
acts: the momentary hand acts in the step.   held after, set after: the bits after the step.
moves: the element does move if it may.   down: towards its first position where both ways are
demanded.   empty: the volume comes out empty where it may.   seen: the observer of an *order*.
begun k: phase k of a procedure has begun.   begin k: it begins now.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.model.circuit import Circuit, Where
from verifier.second.formulas import FALSE, TRUE, Formula, Formulas

STANDS, HELD, SET, KEPT = "stands", "held", "set", "kept"
ACTS, HELD_AFTER, SET_AFTER = "acts", "held after", "set after"
MOVES, DOWN, EMPTY = "moves", "down", "empty"
SEEN, BEGUN, BEGIN = "seen", "begun", "begin"


class Facts:
    """Formulas for where things stand: now, and, of hands and switches, after the step."""

    def __init__(self, circuit: Circuit, formulas: Formulas) -> None:
        self.circuit = circuit
        self.formulas = formulas
        self._likes: dict[tuple[str, int], str] = {}

    def variable(self, says: str, thing: int, bit: int = 0) -> Formula:
        return self.formulas.variable((says, thing, bit), f"{says} {self._like(says, thing)} {bit}")

    def _like(self, says: str, thing: int) -> str:
        """Things of one sort in parts of one kind are alike."""
        circuit = self.circuit
        if says in (STANDS, MOVES, DOWN):
            owner, label = circuit.elements[thing].part, circuit.elements[thing].label
        elif says in (HELD, HELD_AFTER, ACTS):
            owner, label = circuit.hands[thing].part, circuit.hands[thing].label
        else:
            return "" if says in (KEPT, EMPTY) else str(thing)
        return f"{circuit.parts[owner].kind} {label}"

    def beyond(self, element: int, position: int) -> Formula:
        """The element stands at `position` or a later one."""
        if position >= len(self.circuit.elements[element].positions):
            return FALSE
        return self.formulas.all_of(
            self.variable(STANDS, element, bit) for bit in range(1, position + 1)
        )

    def at(self, element: int, positions: Iterable[int]) -> Formula:
        """The element stands in one of the positions."""
        formulas = self.formulas
        return formulas.any_of(
            formulas.both(self.beyond(element, p), -self.beyond(element, p + 1))
            for p in sorted(set(positions))
        )

    def met(self, where: Sequence[Where]) -> Formula:
        """Every element named stands in one of the positions named."""
        return self.formulas.all_of(self.at(one.element, one.positions) for one in where)

    def setting(self, switch: int, values: Iterable[int], says: str = SET) -> Formula:
        """The switch stands at one of the values, as far as it has them; `says` tells whether now
        or after the step."""
        last = len(self.circuit.switches[switch].values) - 1
        formulas, told = self.formulas, []
        for value in sorted(set(values) & set(range(last + 1))):
            before = [-self.variable(says, switch, bit) for bit in range(value)]
            own = TRUE if value == last else self.variable(says, switch, value)
            told.append(formulas.all_of([*before, own]))
        return formulas.any_of(told)

    def hand(self, hand: int, held: str = HELD) -> Formula:
        """The hand acts: a held one now or (`held`) after the step, a momentary one in the step."""
        says = held if self.circuit.hands[hand].held else ACTS
        return self.variable(says, hand)

    def supply(self, supply: int, values: Sequence[str]) -> Formula:
        """The supply's switch stands at one of the values of these names."""
        switch = self.circuit.supplies[supply].switch
        names = self.circuit.switches[switch].values
        return self.setting(switch, [names.index(value) for value in values if value in names])
