"""Which parts belong to which compartment: read from the numbers in their names.

Parts whose names differ in one number form a family. The numbers that most parts go through are
taken to count the compartments; each of these gets a column, and each family a row.
"""

from __future__ import annotations

import re
from collections import defaultdict

from msgspec import Struct

from verifier.drawing.told import Told

NUMBER = re.compile(r"(?<=[\[,])(\s*)(\d+)(?=\s*[\],])")


class Member(Struct, frozen=True):
    """family: the name with a star for the number; number: of the compartment."""

    family: str
    number: int


class Families(Struct, frozen=True):
    """numbers: of the compartments, rising; empty if there are none.   member: for each part."""

    numbers: tuple[int, ...]
    member: tuple[Member | None, ...]


def variants(name: str) -> list[Member]:
    """The families that a name may belong to, by its last number first."""
    found = [
        Member(name[: match.start(2)] + "*" + name[match.end(2) :], int(match[2]))
        for match in NUMBER.finditer(name)
    ]
    return found[::-1]


def families_of(told: Told) -> Families:
    """The compartments and what belongs to each. Parts with ways for liquid count threefold."""
    parts = told.circuit.parts
    numbers: dict[str, set[int]] = defaultdict(set)
    for part in parts:
        for variant in variants(part.name):
            numbers[variant.family].add(variant.number)
    votes: dict[tuple[int, ...], int] = defaultdict(int)
    for index, part in enumerate(parts):
        sets = {tuple(sorted(numbers[variant.family])) for variant in variants(part.name)}
        for one in sets:
            if len(one) > 1:
                votes[one] += 1 + 2 * bool(told.flows[index])
    if not votes:
        return Families((), (None,) * len(parts))
    chosen = max(votes, key=lambda one: (votes[one], len(one), one))
    wanted = set(chosen)
    member: list[Member | None] = []
    for part in parts:
        fitting = [
            variant
            for variant in variants(part.name)
            if numbers[variant.family] <= wanted
            and 2 * len(numbers[variant.family]) >= max(3, len(wanted))
        ]
        exact = [variant for variant in fitting if numbers[variant.family] == wanted]
        member.append(next(iter(exact or fitting), None))
    return Families(chosen, _near(told, tuple(member), wanted, numbers))


def _near(
    told: Told,
    member: tuple[Member | None, ...],
    wanted: set[int],
    numbers: dict[str, set[int]],
) -> tuple[Member | None, ...]:
    """Without the families that do not go through all compartments and only look like it: no line
    joins their parts to another part of the same compartment."""
    circuit = told.circuit
    ports_at: dict[int, set[int]] = defaultdict(set)
    for port in circuit.ports:
        ports_at[port.volume].add(port.part)
    tied: dict[str, bool] = defaultdict(bool)
    for volume in sorted(ports_at):
        seen: dict[int, set[str]] = defaultdict(set)
        for part in sorted(ports_at[volume]):
            one = member[part]
            if one is not None:
                seen[one.number].add(one.family)
        for families in seen.values():
            if len(families) > 1 and len(seen) < max(3, len(wanted)):
                for family in families:
                    tied[family] = True
    return tuple(
        one if one is None or numbers[one.family] == wanted or tied[one.family] else None
        for one in member
    )
