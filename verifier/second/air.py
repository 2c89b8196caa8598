"""Pressure in every volume (P1 to P6)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.second.formulas import FALSE, TRUE, Formula, Formulas
from verifier.second.links import Link
from verifier.second.spreading import Region
from verifier.second.variables import KEPT, Facts


class Air(Struct, frozen=True):
    """Formulas per volume.

    fed, vented: by P2, or else by P3.   trapped: by P4.   high, low: it can be so (P1).
    impossible: formulas that this translation takes to be false, each with what it would say; the
    others are right where these are.
    """

    fed: tuple[Formula, ...]
    vented: tuple[Formula, ...]
    trapped: tuple[Formula, ...]
    high: tuple[Formula, ...]
    low: tuple[Formula, ...]
    impossible: tuple[tuple[str, Formula], ...]


class Presumed:
    """What is taken to be impossible, because no sample case shows it: whoever uses the translation
    has to prove it. `possible`: formulas that were found not to be impossible."""

    def __init__(self, formulas: Formulas, possible: Callable[[str], bool]) -> None:
        self._formulas = formulas
        self._possible = possible
        self.impossible: list[tuple[str, Formula]] = []

    def unless_never(self, what: str, formula: Formula) -> Formula:
        """The formula, or FALSE when it is presumed to be."""
        if formula == FALSE or self._formulas.word(formula) or self._possible(what):
            return formula
        self.impossible.append((what, formula))
        return FALSE


def air_of(facts: Facts, presumed: Presumed) -> Air:
    """The pressures of a circuit in any state."""
    circuit, formulas = facts.circuit, facts.formulas
    names = [volume.name for volume in circuit.volumes]
    full, either = _links(facts, ("full",)), _links(facts, ("full", "restricted"))
    sources, sinks = _ends(facts)
    everywhere = range(len(names))
    fed, vented = _both_ways(formulas, full, everywhere, sources, sinks, {})
    undecided = _possible(
        presumed,
        {v: formulas.both(-fed[v], -vented[v]) for v in everywhere},
        lambda v: f"{names[v]} is neither fed nor vented at full bore",
    )
    more_fed, more_vented = _both_ways(formulas, either, undecided, fed, vented, undecided)
    fed, vented = {**fed, **more_fed}, {**vented, **more_vented}
    trapped = _possible(
        presumed,
        {v: formulas.all_of((undecided[v], -fed[v], -vented[v])) for v in undecided},
        lambda v: f"{names[v]} is trapped",
    )
    kept = {v: facts.variable(KEPT, v) for v in trapped}
    some_air = {v: formulas.both(trapped[v], kept[v]) for v in trapped}
    some_none = {v: formulas.both(trapped[v], -kept[v]) for v in trapped}
    has, lacks = _both_ways(formulas, either, trapped, some_air, some_none, trapped)
    return Air(
        tuple(fed[v] for v in everywhere),
        tuple(vented[v] for v in everywhere),
        tuple(trapped.get(v, FALSE) for v in everywhere),
        tuple(formulas.either(fed[v], has.get(v, FALSE)) for v in everywhere),
        tuple(formulas.either(vented[v], lacks.get(v, FALSE)) for v in everywhere),
        tuple(presumed.impossible),
    )


def _possible(
    presumed: Presumed, formulas: Mapping[int, Formula], what: Callable[[int], str]
) -> dict[int, Formula]:
    """Those that may be true."""
    kept = {v: presumed.unless_never(what(v), formula) for v, formula in formulas.items()}
    return {v: formula for v, formula in kept.items() if formula != FALSE}


def _both_ways(
    formulas: Formulas,
    links: Sequence[Link],
    volumes: Iterable[int],
    sources: Mapping[int, Formula],
    sinks: Mapping[int, Formula],
    through: Mapping[int, Formula],
) -> tuple[dict[int, Formula], dict[int, Formula]]:
    """Where air comes to from the sources, and whence it can go to the sinks, one-way passages
    counting in their direction only (P2)."""
    region = Region(formulas, links, sorted(volumes))
    return region.forth(sources, through), region.back(sinks, through)


def _links(facts: Facts, bores: tuple[str, ...]) -> list[Link]:
    """Passages of these bores, between volumes."""
    return [
        Link(one.start, one.end, one.one_way, one.where, facts.met(one.where))
        for one in facts.circuit.passages
        if one.bore in bores and one.start != one.end
    ]


def _ends(facts: Facts) -> tuple[dict[int, Formula], dict[int, Formula]]:
    """When each volume is a source, and when it is a sink (P2)."""
    formulas = facts.formulas
    sources, sinks = {}, {}
    for v, volume in enumerate(facts.circuit.volumes):
        sources[v] = formulas.any_of(facts.supply(s, ("present", "weak")) for s in volume.supplies)
        drains = [facts.supply(s, ("absent", "weak")) for s in volume.supplies]
        sinks[v] = TRUE if volume.open_air else formulas.any_of(drains)
    return sources, sinks


def contested(circuit: Circuit, facts: Facts, air: Air) -> Formula:
    """No supply is weak, and some volume is fed and vented in the same phase (Q9)."""
    formulas = facts.formulas
    fights = formulas.any_of(map(formulas.both, air.fed, air.vented))
    weak = [facts.supply(s, ("weak",)) for s in range(len(circuit.supplies))]
    return formulas.all_of([fights, *(-one for one in weak)])
