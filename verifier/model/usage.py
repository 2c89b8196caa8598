"""Warnings about what a design declares and never uses, and about words the trade has given up."""

from __future__ import annotations

from verifier.diagnostics.span import Span
from verifier.model.draft import Draft
from verifier.model.things import Thing
from verifier.syntax import tree

# ISO 5598:2020 prefers the word on the right (facts: terms of the vocabulary, back-translated).
DEPRECATED = {
    "fitting": "connector",
    "operator": "control mechanism",
    "flow_regulator": "flow control valve",
    "input_port": "inlet port",
    "five_way": "five-port",
    "four_way": "four-port",
    "three_way": "three-port",
}


def usage_checks(draft: Draft, has_properties: bool) -> None:
    """Tell what is never used, words given up by the trade, and a design without properties."""
    _unused(draft)
    _deprecated(draft)
    if not has_properties:
        first = draft.scopes[0].statements
        design = next((s for s in first if isinstance(s, tree.Design)), None)
        if design is not None:
            draft.mistakes.add(
                "W0508",
                design.span,
                "the design declares no property: only the free ones are proved",
                hint='for example `never "flow, vent shut": flow(tank, hose) and shut(vent)`',
            )


def _unused(draft: Draft) -> None:
    """One warning per statement, naming the members that nothing refers to."""
    things: list[tuple[str, Thing]] = []
    owned = {
        part.first_switch + offset
        for part in draft.parts
        for offset in range(len(part.kind.switches))
    }
    things.extend(("part", part) for part in draft.parts)
    things.extend(("supply", supply) for supply in draft.supplies)
    things.extend(("place", place) for place in draft.places)
    switches = [s for s in draft.switches if s.index not in owned]
    things.extend(("surroundings", s) for s in switches if s not in draft.supplies)
    things.extend(("part", assembled) for assembled in draft.assembled)
    unused: dict[tuple[str, Span], list[str]] = {}
    for what, thing in things:
        if not thing.used:
            unused.setdefault((what, thing.span), []).append(thing.name)
    for (what, span), names in unused.items():
        listed = ", ".join(f"`{name}`" for name in names[:4]) + (", …" if len(names) > 4 else "")
        draft.mistakes.add("W0506", span, f"{what} {listed} is never used")


def _deprecated(draft: Draft) -> None:
    named = [(n, e.span) for scope in draft.scopes[:1] for n, e in scope.names.items()]
    named.extend((name, draft.kinds[name].span) for name in draft.own_kinds)
    named.extend((name, assembly.span) for name, assembly in draft.assemblies.items())
    for name, span in named:
        for old, new in DEPRECATED.items():
            if old in name.split("_") or ("_" in old and old in name):
                draft.mistakes.add("W0509", span, f"`{old}` in `{name}`: the trade's word is {new}")
