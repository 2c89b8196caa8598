"""Clauses by the names of their latches, so that they can be told of another system.

A compiler may number latches anew, and a change of a design adds some and takes some away: names
are those of the trade and stay. Whoever reads clauses by names has to check them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from verifier.transition.settling import Misfit
from verifier.transition.system import Lemma, System

Named = tuple[tuple[str, bool], ...]
"""A clause over names of latches; true when one matches."""


def names_of(system: System) -> tuple[str, ...]:
    """One for each latch; of those that are called alike, the second is told as such."""
    found: dict[str, None] = {}
    for latch in system.latches:
        name, count = latch.name, 1
        while name in found:
            count += 1
            name = f"{latch.name} ({count})"
        found[name] = None
    return tuple(found)


def numbered(system: System, names: Sequence[str], lemmas: Iterable[Lemma]) -> tuple[Lemma, ...]:
    """Clauses over places in `names`, over the latches of a system. Raises Misfit for a name that
    it does not have."""
    index = {name: i for i, name in enumerate(names_of(system))}
    found = []
    for lemma in lemmas:
        if not all(0 <= place < len(names) for place, _ in lemma):
            raise Misfit("a clause speaks of a name that is not there")
        strange = [names[place] for place, _ in lemma if names[place] not in index]
        if strange:
            raise Misfit(f"there is no {strange[0]!r}")
        found.append(tuple(sorted((index[names[place]], sign) for place, sign in lemma)))
    return tuple(found)


class Table:
    """Names, each once, in the order in which they were met."""

    def __init__(self) -> None:
        self._places: dict[str, int] = {}

    @property
    def names(self) -> tuple[str, ...]:
        return tuple(self._places)

    def placed(self, system: System, lemmas: Iterable[Lemma]) -> tuple[Lemma, ...]:
        """Clauses over the latches of a system, over places in the table."""
        names, places = names_of(system), self._places
        return tuple(
            sorted(
                tuple(sorted((places.setdefault(names[i], len(places)), sign) for i, sign in lemma))
                for lemma in lemmas
            )
        )


def met_at_start(system: System, clauses: Iterable[Named]) -> tuple[Lemma, ...]:
    """Of the clauses those that speak of latches of the system only and hold at its start."""
    index: Mapping[str, int] = {name: i for i, name in enumerate(names_of(system))}
    found: dict[Lemma, None] = {}
    for clause in clauses:
        if all(name in index for name, _ in clause):
            lemma = tuple(sorted((index[name], sign) for name, sign in clause))
            if any(system.latches[i].start == sign for i, sign in lemma):
                found[lemma] = None
    return tuple(found)
