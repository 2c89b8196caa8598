"""Reads AIGER files, text and binary, and runs them step by step.

Written from the format's published description (Biere, Heljanko, Wieringa: AIGER 1.9 and beyond,
2011), from memory; it shares nothing with the writer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field


@dataclass
class Model:
    """Literals as in the file. latches: variable literal, next, reset; ands: by left side."""

    inputs: list[int] = field(default_factory=list)
    latches: list[tuple[int, int, int]] = field(default_factory=list)
    bads: list[int] = field(default_factory=list)
    constraints: list[int] = field(default_factory=list)
    ands: dict[int, tuple[int, int]] = field(default_factory=dict)
    symbols: dict[str, str] = field(default_factory=dict)
    comments: list[str] = field(default_factory=list)

    def start(self) -> tuple[bool, ...]:
        return tuple(bool(reset) for _, _, reset in self.latches)

    def look(self, state: Sequence[bool], inputs: Sequence[bool]) -> Moment:
        """What the file says of a state with these inputs."""
        known = {0: False}
        known.update(zip(self.inputs, inputs, strict=True))
        known.update({row[0]: bit for row, bit in zip(self.latches, state, strict=True)})
        for left in sorted(self.ands):
            a, b = (known[one & ~1] ^ bool(one & 1) for one in self.ands[left])
            known[left] = a and b

        def truth(literal: int) -> bool:
            return known[literal & ~1] ^ bool(literal & 1)

        return Moment(
            tuple(map(truth, self.bads)),
            all(map(truth, self.constraints)),
            tuple(truth(then) for _, then, _ in self.latches),
        )


@dataclass
class Moment:
    bads: tuple[bool, ...]
    allowed: bool
    after: tuple[bool, ...]


def read(content: bytes) -> Model:
    """Raises ValueError when the file breaks a rule of the format."""
    head, _, rest = content.partition(b"\n")
    word, *numbers = head.decode().split()
    most, inputs, latches, outputs, ands, bads, constraints = map(int, [*numbers, 0, 0][:7])
    binary = {"aig": True, "aag": False}[word]
    if most != inputs + latches + ands or outputs:
        raise ValueError("counts")
    model = Model(inputs=[2 * k for k in range(1, inputs + 1)])
    lines = _Lines(rest)
    if not binary and [int(lines.next()) for _ in range(inputs)] != model.inputs:
        raise ValueError("inputs")
    for k in range(latches):
        row = [int(one) for one in lines.next().split()]
        left = 2 * (inputs + 1 + k) if binary else row.pop(0)
        model.latches.append((left, row[0], row[1] if len(row) > 1 else 0))
    model.bads = [int(lines.next()) for _ in range(bads)]
    model.constraints = [int(lines.next()) for _ in range(constraints)]
    for k in range(ands):
        if binary:
            left = 2 * (inputs + latches + 1 + k)
            right = left - lines.packed()
            model.ands[left] = (right, right - lines.packed())
        else:
            left, right, low = (int(one) for one in lines.next().split())
            model.ands[left] = (right, low)
        if not left > model.ands[left][0] >= model.ands[left][1] >= 0:
            raise ValueError("order of an and")
    for line in lines.others():
        if model.comments or line == "c":
            model.comments.append(line)
        else:
            key, _, name = line.partition(" ")
            model.symbols[key] = name
    return model


class _Lines:
    def __init__(self, content: bytes) -> None:
        self.content = content
        self.at = 0

    def next(self) -> str:
        end = self.content.index(b"\n", self.at)
        line = self.content[self.at : end].decode()
        self.at = end + 1
        return line

    def packed(self) -> int:
        number = shift = 0
        while True:
            byte = self.content[self.at]
            self.at += 1
            number |= (byte & 0x7F) << shift
            shift += 7
            if byte < 0x80:
                return number

    def others(self) -> list[str]:
        left = self.content[self.at :].decode()
        if left and not left.endswith("\n"):
            raise ValueError("the last line has no end")
        return left.splitlines()
