"""Probability that some cut set has struck whole, and what each fault has to do with it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from msgspec import Struct

from verifier.risk.between import NOUGHT, ONE, Between, between, ratio
from verifier.risk.diagram import MOST_NODES, diagram
from verifier.risk.families import CutSet, apart, faults_of, minimal


class Chance(Struct, frozen=True):
    """exact: by decision diagram, at most `error` away from the true value, before that is rounded
    to a float.   rare: the sum over the cut sets, an upper bound that can pass 1.   bound: one less
    the product of what each set lacks to 1 (Esary and Proschan), an upper bound below 1. exact and
    error are None where the diagram would be too large.
    """

    exact: float | None
    error: float | None
    rare: float
    bound: float


class Importance(Struct, frozen=True):
    """What a fault has to do with the top event.

    birnbaum: probability that the others are such that it decides.   fussell_vesely: of the
    probability of the top event, the share in which some cut set that holds the fault has struck
    whole.   criticality: the share that would go if the fault never struck.   The shares are None
    where the top event has probability 0.
    """

    fault: str
    probability: float
    birnbaum: float
    fussell_vesely: float | None
    criticality: float | None


class Weighed(Struct, frozen=True):
    """importances: of every fault in some cut set, the most critical first."""

    chance: Chance
    importances: tuple[Importance, ...]


def weigh(
    sets: Iterable[Iterable[str]],
    probability: Mapping[str, Fraction | float],
    most: int = MOST_NODES,
) -> Weighed:
    """Numbers of a family of cut sets whose faults strike independently of each other.

    Names that share a cause are one name. Sets that hold others are left out. Raises ValueError
    for a probability outside of 0 to 1, KeyError for a name without one, TooLarge.
    """
    family = minimal(sets)
    of = _known(family, probability)
    none = ONE
    groups = [_Group(group, of, most) for group in apart(family)]
    for group in groups:
        none = none.times(ONE - group.chance)
    exact = ONE - none
    importances = [
        one
        for group, others in zip(groups, _others(groups), strict=True)
        for one in group.importances(exact, others)
    ]
    importances.sort(key=lambda one: (-(one.criticality or 0), -one.birnbaum, one.fault))
    rare, bound = _bounds(family, of)
    return Weighed(Chance(exact.nearest(), exact.error(), rare, bound), tuple(importances))


def bounds(sets: Iterable[Iterable[str]], probability: Mapping[str, Fraction | float]) -> Chance:
    """The bounds alone, which need no diagram. Raises ValueError and KeyError as `weigh` does."""
    family = minimal(sets)
    rare, bound = _bounds(family, _known(family, probability))
    return Chance(None, None, rare, bound)


def _bounds(family: Sequence[CutSet], of: Mapping[str, Between]) -> tuple[float, float]:
    rare, spared = NOUGHT, ONE
    for one in family:
        worth = _all(one, of)
        rare += worth
        spared = spared.times(ONE - worth)
    return rare.nearest(), (ONE - spared).nearest()


def _known(
    family: Sequence[CutSet], probability: Mapping[str, Fraction | float]
) -> dict[str, Between]:
    return {fault: _probability(fault, probability[fault]) for fault in faults_of(family)}


def more_than(count: int, probabilities: Sequence[Fraction | float]) -> Between:
    """Probability that more than so many of independent faults have struck."""
    exactly = [ONE] + [NOUGHT] * count
    for value in probabilities:
        p = between(value)
        for k in range(count, -1, -1):
            fewer = exactly[k - 1].times(p) if k else NOUGHT
            exactly[k] = exactly[k].times(ONE - p) + fewer
    rest = ONE
    for one in exactly:
        rest -= one
    return rest


class _Group:
    """Cut sets that share no fault with the others."""

    def __init__(self, sets: list[CutSet], of: Mapping[str, Between], most: int) -> None:
        self._sets = sets
        self._of = of
        self._most = most
        self._diagram = diagram(sets, most)
        self.chance = self._diagram.chance(of)

    def importances(self, top: Between, others: Between) -> Iterator[Importance]:
        """top: probability of the top event; others: that no other group has brought it about."""
        decides = self._diagram.sensitivity(self._of)
        for fault in faults_of(self._sets):
            p = self._of[fault]
            here = decides[fault].times(others)
            yield Importance(
                fault,
                p.nearest(),
                here.nearest(),
                ratio(self._through(fault), top),
                ratio(p.times(here), top),
            )

    def _through(self, fault: str) -> Between:
        """Probability that all of some set with this fault have struck."""
        rests = [one - {fault} for one in self._sets if fault in one]
        return diagram(rests, self._most).chance(self._of).times(self._of[fault])


def _others(groups: Sequence[_Group]) -> list[Between]:
    """For each group, the product over the others of what their chances lack to 1."""
    after = [ONE]
    for group in reversed(groups):
        after.append(after[-1].times(ONE - group.chance))
    products, before = [], ONE
    for k, group in enumerate(groups):
        products.append(before.times(after[len(groups) - 1 - k]))
        before = before.times(ONE - group.chance)
    return products


def _all(one: CutSet, of: Mapping[str, Between]) -> Between:
    worth = ONE
    for fault in sorted(one):
        worth = worth.times(of[fault])
    return worth


def _probability(fault: str, value: Fraction | float) -> Between:
    if not 0 <= value <= 1:
        raise ValueError(f"the probability of `{fault}` is {value}, not between 0 and 1")
    return between(value)
