"""Reading a kind: from its tree to a template, all its mistakes told."""

from __future__ import annotations

from collections.abc import Iterable

from verifier.diagnostics.span import Span
from verifier.model.circuit import Where
from verifier.model.condition import Condition, Hand
from verifier.model.kind_conditions import Cube, cubes, kind_condition
from verifier.model.kind_faults import read_faults
from verifier.model.kind_names import KindNames
from verifier.model.mistakes import Mistakes, did_you_mean
from verifier.model.pilot_names import check_pilot_names
from verifier.model.simplify import atoms
from verifier.model.template import (
    MEDIA,
    WORKED,
    ElementTemplate,
    KindTemplate,
    LegTemplate,
    Medium,
    MoveTemplate,
    PortTemplate,
)
from verifier.syntax import tree


def read_kind(kind: tree.Kind, mistakes: Mistakes) -> KindTemplate | None:
    """The template of a kind; None if it has mistakes."""
    own = Mistakes()
    names = KindNames(kind, own)
    elements = tuple(_element(item, names) for item in names.elements.values())
    legs = _legs(kind, names)
    means = {word.name: kind_condition(word.condition, names) for word in names.means.values()}
    faults = read_faults(names)
    conditions = [move.when for element in elements for move in element.moves]
    template = KindTemplate(
        name=kind.name,
        doc=kind.doc or "",
        ports=tuple(PortTemplate(name, exhaust) for name, exhaust in names.air.items()),
        liquid_ports=tuple(names.media["liquid"]),
        vapour_ports=tuple(names.media["vapour"]),
        elements=elements,
        hands=tuple(names.hands.values()),
        switches=tuple(names.switches.values()),
        passages=_merged(legs[None]),
        liquid_ways=_merged(legs["liquid"]),
        vapour_ways=_merged(legs["vapour"]),
        means=means,
        roles=tuple(dict.fromkeys(names.roles)),
        faults=faults,
        uses_worked=_uses_worked([*conditions, *means.values()]),
        span=kind.span,
    )
    if not own.any_errors:
        check_pilot_names(template, own)
    mistakes.extend(own.sorted())
    return None if own.any_errors else template


def _uses_worked(conditions: Iterable[Condition]) -> bool:
    return any(
        isinstance(atom, Hand) and atom.hand == WORKED
        for condition in conditions
        for atom in atoms(condition)
    )


def _element(item: tree.ElementItem, names: KindNames) -> ElementTemplate:
    moves: list[MoveTemplate] = []
    otherwise: tree.Otherwise | None = None
    for inner in item.items:
        if isinstance(inner, tree.MoveItem):
            if otherwise is not None:
                names.mistakes.add(
                    "E0606", inner.span, "a move after `otherwise` can never be asked"
                )
            target = names.position(item, inner.target, inner.span)
            when = kind_condition(inner.when, names)
            if target is not None:
                moves.append(MoveTemplate(target, when, inner.span))
        elif isinstance(inner, tree.Otherwise):
            if otherwise is not None:
                names.mistakes.add(
                    "E0606",
                    inner.span,
                    f"`{item.name}` has two `otherwise`",
                    related=((otherwise.span, "the first is here"),),
                )
            otherwise = inner
    rest = None
    if otherwise is None:
        names.mistakes.add(
            "E0605",
            item.span,
            f"`{item.name}` does not say what it does when nothing moves it",
            hint="end it with `otherwise stays` (a detent) or `otherwise to POSITION` (a spring)",
        )
    elif otherwise.target is not None:
        rest = names.position(item, otherwise.target, otherwise.span)
    start = 0
    if item.starts is not None:
        start = names.position(item, item.starts, item.span) or 0
    return ElementTemplate(item.name, item.positions, start, tuple(moves), rest, item.span)


def _legs(kind: tree.Kind, names: KindNames) -> dict[Medium | None, list[LegTemplate]]:
    """All passages and ways, by medium, as written."""
    found: dict[Medium | None, list[LegTemplate]] = {None: [], **{m: [] for m in MEDIA}}

    def add(legs: tuple[tree.Leg, ...], alternatives: tuple[Cube, ...]) -> None:
        for leg in legs:
            resolved = _leg(leg, names)
            if resolved is not None:
                medium, start, end = resolved
                for where in alternatives:
                    found[medium].append(
                        LegTemplate(start, end, leg.one_way, leg.restricted, where, leg.span)
                    )

    for item in kind.items:
        if isinstance(item, tree.PassageItem):
            alternatives: tuple[Cube, ...] | None = ((),)
            if item.when is not None:
                before = names.mistakes.count
                condition = kind_condition(item.when, names)
                clear = names.mistakes.count == before
                alternatives = cubes(condition, names, item.when.span) if clear else None
            add(item.legs, alternatives or ())
        elif isinstance(item, tree.ElementItem) and names.elements[item.name] is item:
            element = list(names.elements).index(item.name)
            for inner in item.items:
                if isinstance(inner, tree.Passes):
                    position = names.position(item, inner.position, inner.span)
                    add(inner.legs, () if position is None else ((Where(element, (position,)),),))
                    if position is None:
                        add(inner.legs, ())
    return found


def _leg(leg: tree.Leg, names: KindNames) -> tuple[Medium | None, int, int] | None:
    """Which medium a leg carries, told by its word or by its ports."""
    choices: list[Medium | None] = [leg.medium] if leg.medium else [None, *MEDIA]
    known = [m for m in choices if _has(names, m, leg.start) and _has(names, m, leg.end)]
    if len(known) == 1:
        medium = known[0]
        if leg.start == leg.end:
            names.mistakes.add("E0611", leg.span, f"a passage from port `{leg.start}` to itself")
            return None
        if leg.restricted and medium is not None:
            names.mistakes.add(
                "E0611", leg.span, f"a way for {medium} has no bore: drop `restricted`"
            )
        ports = list(names.air) if medium is None else list(names.media[medium])
        return medium, ports.index(leg.start), ports.index(leg.end)
    if known:
        names.mistakes.add(
            "E0609",
            leg.span,
            "this could be a way for air, liquid or vapour: say `liquid` or `vapour`",
        )
        return None
    lost = [p for p in (leg.start, leg.end) if not any(_has(names, m, p) for m in choices)]
    for port in lost:
        if leg.medium and any(_has(names, m, port) for m in (None, *MEDIA)):
            told = did_you_mean(port, names.media[leg.medium])
            names.mistakes.add(
                "E0609", leg.span, f"port `{port}` does not carry {leg.medium}", hint=told
            )
        else:
            names.unknown_port(port, leg.span)
    if not lost:
        names.mistakes.add(
            "E0609", leg.span, f"ports `{leg.start}` and `{leg.end}` do not carry the same medium"
        )
    return None


def _has(names: KindNames, medium: Medium | None, port: str) -> bool:
    return port in (names.air if medium is None else names.media[medium])


def _merged(legs: list[LegTemplate]) -> tuple[LegTemplate, ...]:
    """The same leg in several positions of one element becomes one leg."""
    kept: dict[tuple[object, ...], LegTemplate] = {}
    for leg in legs:
        single = leg.where[0] if len(leg.where) == 1 else None
        subject: object = single.element if single else leg.where
        ends = (leg.start, leg.end)
        if not leg.one_way:
            ends = (min(ends), max(ends))
        key = (*ends, leg.one_way, leg.restricted, subject, single is None)
        before = kept.get(key)
        if before is not None and single is not None:
            positions = tuple(sorted({*before.where[0].positions, *single.positions}))
            where = (Where(single.element, positions),)
            kept[key] = LegTemplate(
                before.start, before.end, leg.one_way, leg.restricted, where, before.span
            )
        elif before is None:
            kept[key] = leg
    return tuple(kept.values())


def unknown_kind(name: str, span: Span, known: Iterable[str], mistakes: Mistakes) -> None:
    mistakes.add(
        "E0308", span, f"there is no kind or assembly `{name}`", hint=did_you_mean(name, known)
    )
