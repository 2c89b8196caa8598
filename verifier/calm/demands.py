"""What moving elements demand, in all lanes at once (M1, M2, P5)."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product

from verifier.calm.lanes import Layout
from verifier.calm.spread import Pressure, Spread
from verifier.calm.trailer import Trailer
from verifier.model.condition import (
    All,
    Always,
    Any,
    At,
    Condition,
    Hand,
    High,
    Not,
    Setting,
)

Reads = dict[tuple[str, int], int]


class Demands:
    """The positions that elements demand, found when they are asked for."""

    def __init__(self, trailer: Trailer, spread: Spread, layout: Layout, air: Pressure) -> None:
        self._trailer = trailer
        self._spread = spread
        self._layout = layout
        self._air = air
        self._wanted: dict[int, list[int]] = {}

    def wanted(self, thing: int) -> list[int]:
        """Of each position the ways in which some reading selects it."""
        if thing not in self._wanted:
            self._wanted[thing] = self._find(thing)
        return self._wanted[thing]

    def _find(self, thing: int) -> list[int]:
        layout, air = self._layout, self._air
        element = self._trailer.circuit.elements[thing]
        wanted = [0] * len(element.positions)
        readings = self._trailer.readings[thing]
        doubtful = [one for one in readings if air.high[one[1]] & air.low[one[1]]]
        reads: Reads = {one: air.high[one[1]] for one in readings}
        for values in product((True, False), repeat=len(doubtful)):
            left = layout.every
            for one, value in zip(doubtful, values, strict=True):
                left &= air.high[one[1]] if value else air.low[one[1]]
                reads[one] = -1 if value else 0
            for move in element.moves:
                if not left:
                    break
                chosen, unbidden = self._true(move.when, reads)
                wanted[move.target] |= left & chosen
                if not unbidden:
                    left &= ~chosen
            if element.otherwise is not None:
                wanted[element.otherwise] |= left
            elif left:
                for position in range(len(wanted)):
                    wanted[position] |= left & layout.place(thing, position)
        return wanted

    def _true(self, condition: Condition, reads: Reads) -> tuple[int, bool]:
        """The ways in which it is true; and whether it need not be, as it reads sheer chance."""
        chance = self._trailer.chance
        unbidden = False

        def of(part: Condition) -> int:
            nonlocal unbidden
            match part:
                case High(volume=volume) if volume == chance:
                    unbidden = True
                    return self._layout.every
                case High(volume=volume, reader=reader):
                    return reads[reader, volume]
                case Not(of=inner):
                    return ~of(inner)
                case All(of=parts):
                    found = self._layout.every
                    for one in parts:
                        found &= of(one)
                        if not found and not unbidden:
                            break
                    return found
                case Any(of=parts):
                    found = 0
                    for one in parts:
                        found |= of(one)
                    return found
                case At(element=element, positions=positions):
                    return self._standing(element, positions)
                case Hand(hand=hand):
                    return self._layout.place(self._trailer.own + hand, 1)
                case Setting(switch=switch, values=values):
                    found = 0
                    first = self._trailer.own + len(self._trailer.held)
                    for value in values:
                        found |= self._layout.place(first + switch, value)
                    return found
                case Always(value=value):
                    return self._layout.every if value else 0
                case _:
                    raise ValueError("moves do not speak of paths or of rest")

        return of(condition), unbidden

    def _standing(self, element: int, positions: Sequence[int]) -> int:
        if element >= self._trailer.own:
            acts = self._spread.acts(element, self._layout)
            return acts if 1 in positions else self._layout.every & ~acts
        found = 0
        for position in positions:
            found |= self._layout.place(element, position)
        return found
