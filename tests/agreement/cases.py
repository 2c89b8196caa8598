"""Many valuations of a system evaluated at once, one bit for each."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.transition.system import System


class Disagreement(AssertionError):
    """Simulator and compiled system differ."""


class Cases:
    """Valuations of the latches, and of the choices if given, evaluated together."""

    def __init__(
        self,
        system: System,
        latches: Sequence[Sequence[bool]],
        choices: Sequence[Sequence[bool]] = (),
    ) -> None:
        self.graph = system.graph
        self.width = len(latches)
        self.values = {
            latch.node: _word(case[i] for case in latches) for i, latch in enumerate(system.latches)
        }
        for i, choice in enumerate(system.choices if choices else ()):
            self.values[choice.node] = _word(case[i] for case in choices)

    def words(self, literals: Sequence[int]) -> list[int]:
        return self.graph.words(literals, self.values, self.width)

    def check(self, what: str, literal: int, expected: Sequence[bool]) -> None:
        found, wanted = self.words([literal])[0], _word(expected)
        if found != wanted:
            case = ((found ^ wanted) & -(found ^ wanted)).bit_length() - 1
            raise Disagreement(f"{what} in case {case}: simulator says {expected[case]}")


def _word(bits: Iterable[bool]) -> int:
    """Bit k is what case k says."""
    return int("".join("01"[bit] for bit in bits)[::-1] or "0", 2)


def bits_of(cases: Cases, literals: Sequence[int]) -> list[list[bool]]:
    """By literal, then by case."""
    return [
        [bool(word >> case & 1) for case in range(cases.width)] for word in cases.words(literals)
    ]
