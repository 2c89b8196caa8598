"""What was promised and what was taken for granted, then and now: properties and assumptions.

For each statement of the old design that the new one still has, under its name or word for word
under another, the conditions by which it can be compared: `Weighing.old` must follow from
`Weighing.new` where the new statement promises at least as much, and so on (`Weighing`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct, structs

from verifier.changes.counterparts import Counterparts, Foreign
from verifier.model.circuit import Assumption, Instance, Property, Setpoint, Tolerating
from verifier.model.condition import Any, AtRest, Condition, Not
from verifier.model.simplify import all_of

What = Literal["property", "assumption"]
Tolerance = Literal["same", "fewer", "more", "other"]


class Weighing(Struct, frozen=True):
    """Two conditions in the new design's terms: what each statement excludes, or, of a *possible*,
    what it asks for."""

    old: Condition
    new: Condition


class Statement(Struct, frozen=True):
    """A statement of either design.

    status: added, dropped; same: nothing about it changed, but perhaps its name; changed: see
    `weighings`, all of which say how; None if they cannot say, for the reason in `why`.
    asks_for: it asks for something, rather than exclude it.   tolerance: whether it must hold
    under fewer faults than it had to, or under more; other: under others.
    """

    what: What
    name: str
    status: Literal["same", "added", "dropped", "changed"]
    form: str = ""
    before: str = ""
    weighings: tuple[Weighing, ...] | None = None
    why: str = ""
    asks_for: bool = False
    tolerance: Tolerance = "same"


def statements(between: Counterparts) -> list[Statement]:
    """Properties, assumptions, faults left out; of each those of the new design come first."""
    return [*_properties(between), *_assumptions(between), *_exclusions(between)]


# ---- properties
def _properties(between: Counterparts) -> Iterator[Statement]:
    olds = {one.name: one for one in between.old.properties}
    told = {one.name: _translated(between, one) for one in olds.values()}
    pairs: dict[str, str] = {
        one.name: one.name for one in between.new.properties if one.name in olds
    }
    for one in between.new.properties:
        if one.name in pairs:
            continue
        for name, before in told.items():
            if (
                name not in pairs.values()
                and isinstance(before, Property)
                and _says(before) == _says(one)
            ):
                pairs[one.name] = name
                break
    for one in between.new.properties:
        if one.name not in pairs:
            yield Statement("property", one.name, "added", one.form)
            continue
        name = pairs[one.name]
        before = told[name]
        if isinstance(before, str):
            why = f"it spoke of {before}, which the new design does not have"
            yield Statement("property", one.name, "changed", one.form, name, None, why)
        elif _says(before) == _says(one):
            yield Statement("property", one.name, "same", one.form, name)
        else:
            yield _weighed(one, before, name)
    for name, one in olds.items():
        if name not in pairs.values():
            yield Statement("property", name, "dropped", one.form)


_Said = tuple[object, ...]


def _says(one: Property | str) -> _Said:
    """All that counts of it: not its name, nor how it is worded."""
    if isinstance(one, str):
        return (one,)
    return (
        one.form,
        one.moment,
        None if one.tolerating is None else (one.tolerating.most, one.tolerating.faults),
        tuple(
            (
                x.condition,
                x.first,
                x.triggers,
                tuple((s.hand, s.switch, s.value) for s in x.procedure),
            )
            for x in one.instances
        ),
    )


def _translated(between: Counterparts, one: Property) -> Property | str:
    """The property in the new design's terms, or what it speaks of that is not there."""
    try:
        instances = tuple(_instance(between, instance) for instance in one.instances)
    except Foreign as missing:
        return f"`{missing}`"
    return structs.replace(one, instances=instances)


def _instance(between: Counterparts, one: Instance) -> Instance:
    return structs.replace(
        one,
        condition=between.condition(one.condition),
        triggers=tuple(map(between.condition, one.triggers)),
        first=None if one.first is None else between.condition(one.first),
        procedure=tuple(_setpoint(between, setpoint) for setpoint in one.procedure),
    )


def _setpoint(between: Counterparts, one: Setpoint) -> Setpoint:
    if one.hand is not None:
        if one.hand not in between.hands:
            raise Foreign(between.old.hands[one.hand].name)
        return structs.replace(one, hand=between.hands[one.hand])
    if one.switch is None:
        return one
    mine = between.old.switches[one.switch]
    if one.switch not in between.switches:
        raise Foreign(mine.name)
    there = between.switches[one.switch]
    values = between.new.switches[there].values
    if mine.values[one.value] not in values:
        raise Foreign(f"{mine.name} is {mine.values[one.value]}")
    return structs.replace(one, switch=there, value=values.index(mine.values[one.value]))


def _weighed(one: Property, before: Property, name: str) -> Statement:
    def changed(
        weighings: Sequence[Weighing] | None, why: str = "", asks_for: bool = False
    ) -> Statement:
        told = None if weighings is None else tuple(weighings)
        tolerance = _tolerance(before.tolerating, one.tolerating)
        return Statement(
            "property", one.name, "changed", one.form, name, told, why, asks_for, tolerance
        )

    excluding = ("never", "always")
    if one.form in excluding and before.form in excluding:
        return changed([Weighing(_excluded(before), _excluded(one))])
    if one.form != before.form:
        return changed(None, f"it was a *{before.form}*, and is a *{one.form}*")
    pairs = _by_label(before, one)
    if pairs is None:
        return changed(None, "it speaks of other cases")
    if one.form == "order":
        if one.moment != before.moment:
            return changed(None, "it is judged at other moments")
        # Excluded is the thing itself without what must come first.
        told = [Weighing(x.condition, y.condition) for x, y in pairs]
        told += [
            Weighing(Not(x.first), Not(y.first))
            for x, y in pairs
            if x.first is not None and y.first is not None
        ]
        return changed(told)
    if one.form == "recovers":
        if any(_acts(x) != _acts(y) for x, y in pairs):
            return changed(None, "its procedure is another one")
        return changed([Weighing(Not(x.condition), Not(y.condition)) for x, y in pairs])
    counted = [(_counted(before, x.condition), _counted(one, y.condition)) for x, y in pairs]
    return changed([Weighing(x, y) for x, y in counted], asks_for=True)


def _tolerance(before: Tolerating | None, after: Tolerating | None) -> Tolerance:
    fewer, more = _within(after, before), _within(before, after)
    return "same" if fewer and more else "fewer" if fewer else "more" if more else "other"


def _within(one: Tolerating | None, other: Tolerating | None) -> bool:
    """Whether the other has to be borne wherever the one has."""
    if one is None or one.most == 0:
        return True
    if other is None or (other.most is not None and (one.most is None or one.most > other.most)):
        return False
    if other.faults is None:
        return True
    return one.faults is not None and set(one.faults) <= set(other.faults)


def _acts(one: Instance) -> list[tuple[int | None, int | None, int]]:
    return [(setpoint.hand, setpoint.switch, setpoint.value) for setpoint in one.procedure]


def _by_label(before: Property, one: Property) -> list[tuple[Instance, Instance]] | None:
    olds = {instance.label: instance for instance in before.instances}
    if set(olds) != {instance.label for instance in one.instances}:
        return None
    return [(olds[instance.label], instance) for instance in one.instances]


def _excluded(one: Property) -> Condition:
    """The states that a *never* or an *always* excludes."""
    never = one.form == "never"
    parts = (x.condition if never else Not(x.condition) for x in one.instances)
    return _counted(one, Any(tuple(parts)))


def _counted(one: Property, condition: Condition) -> Condition:
    return condition if one.moment == "every_moment" else all_of((AtRest(), condition))


# ---- assumptions
def _assumptions(between: Counterparts) -> Iterator[Statement]:
    olds = {one.name: one for one in between.old.assumptions}
    told = {one.name: _condition(between, one) for one in olds.values()}
    pairs = {one.name: one.name for one in between.new.assumptions if one.name in olds}
    for one in between.new.assumptions:
        alike = (n for n in olds if n not in pairs.values() and told[n] == one.condition)
        name = pairs.get(one.name) or next(alike, None)
        if name is None:
            yield Statement("assumption", one.name, "added")
            continue
        pairs[one.name] = name
        before = told[name]
        if isinstance(before, str):
            why = f"it spoke of {before}, which the new design does not have"
            yield Statement("assumption", one.name, "changed", "", name, None, why)
        elif before == one.condition:
            yield Statement("assumption", one.name, "same", "", name)
        else:
            # It excludes what it does not allow.
            weighing = Weighing(Not(before), Not(one.condition))
            yield Statement("assumption", one.name, "changed", "", name, (weighing,))
    for name in olds:
        if name not in pairs.values():
            yield Statement("assumption", name, "dropped")


def _condition(between: Counterparts, one: Assumption) -> Condition | str:
    try:
        return between.condition(one.condition)
    except Foreign as missing:
        return f"`{missing}`"


# ---- faults that are left out
def _exclusions(between: Counterparts) -> Iterator[Statement]:
    """Each fault for itself, by its name in the new design: to leave one out is to assume that it
    does not happen (F4)."""
    then = {between.fault(name) for one in between.old.exclusions for name in one.faults}
    now = {name for one in between.new.exclusions for name in one.faults}
    for name in sorted(now | then):
        status: Literal["same", "added", "dropped"] = (
            "same" if name in now & then else "added" if name in now else "dropped"
        )
        before = "" if status == "added" else f"never: {name}"
        yield Statement("assumption", f"never: {name}", status, before=before)
