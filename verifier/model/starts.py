"""`start X is VALUE`: where elements, switches and held hands stand at first (O4)."""

from __future__ import annotations

from dataclasses import dataclass, field

from verifier.diagnostics.span import Span
from verifier.model.draft import Draft
from verifier.model.mistakes import did_you_mean
from verifier.model.references import Finder, Found
from verifier.model.things import PartThing, SwitchThing
from verifier.syntax import tree


@dataclass(eq=False)
class Starts:
    """Start positions of elements, values of switches and held hands on, by circuit index."""

    elements: dict[int, int] = field(default_factory=dict)
    switches: dict[int, int] = field(default_factory=dict)
    hands: dict[int, bool] = field(default_factory=dict)
    said: dict[tuple[str, int], Span] = field(default_factory=dict)


def starts(draft: Draft) -> Starts:
    """Read the starts of supplies and every `start` statement; tell those said twice."""
    found = Starts()
    for supply, statement in zip(draft.supplies, draft.supply_statements, strict=True):
        value = statement.starts or "absent"
        if value in supply.values:
            found.switches[supply.index] = supply.values.index(value)
        if statement.starts is not None:
            found.said[("switch", supply.index)] = statement.span
    for scope, item in draft.statements():
        if isinstance(item, tree.StartAt):
            finder = Finder(draft, scope, scope.env, ranges=True)
            for subject in finder.find(item.subject) or ():
                _start(item, subject, found, draft)
    return found


def _start(item: tree.StartAt, subject: Found, found: Starts, draft: Draft) -> None:
    thing = subject.thing
    choices: list[tuple[str, str, int, int]] = []  # value, list, index in it, what it becomes
    if isinstance(thing, SwitchThing):
        choices = [(v, "switch", thing.index, n) for n, v in enumerate(thing.values)]
    elif isinstance(thing, PartThing):
        choices = _of_part(thing, subject.label)
    matching = [choice for choice in choices if choice[0] == item.value]
    if len(matching) != 1:
        _not_one(item, subject, [choice[0] for choice in choices], len(matching), draft)
        return
    _, where, index, value = matching[0]
    first = found.said.setdefault((where, index), item.span)
    if first is not item.span:
        draft.mistakes.add(
            "E0510",
            item.span,
            f"the start of `{subject.name}` is said twice",
            related=((first, "it is said here"),),
        )
        return
    if where == "element":
        found.elements[index] = value
    elif where == "switch":
        found.switches[index] = value
    else:
        found.hands[index] = True


def _of_part(part: PartThing, label: str | None) -> list[tuple[str, str, int, int]]:
    choices: list[tuple[str, str, int, int]] = []
    for number, element in enumerate(part.kind.elements):
        if label in (None, element.name):
            index = part.first_element + number
            choices.extend((p, "element", index, n) for n, p in enumerate(element.positions))
    for number, switch in enumerate(part.kind.switches):
        if label in (None, switch.family.name):
            index = part.first_switch + number
            choices.extend((v, "switch", index, n) for n, v in enumerate(switch.values))
    if label is None:
        choices.extend(
            (hand.name, "hand", part.first_hand + number, 1)
            for number, hand in enumerate(part.kind.hands)
            if hand.held
        )
    return choices


def _not_one(
    item: tree.StartAt, subject: Found, values: list[str], matching: int, draft: Draft
) -> None:
    if matching:
        told = f"`{item.value}` may be said of several things of `{subject.name}`: name one"
        draft.mistakes.add("E0702", item.span, told)
        return
    draft.mistakes.add(
        "E0511",
        item.span,
        f"`{subject.name}` cannot start `{item.value}`",
        related=((subject.thing.span, f"it can be: {', '.join(dict.fromkeys(values))}"),)
        if values
        else (),
        hint=did_you_mean(item.value, values),
    )
