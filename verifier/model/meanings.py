"""What can be said of a part: words of its kind, hands, positions, own surroundings."""

from __future__ import annotations

from verifier.model.condition import Condition, Hand
from verifier.model.draft import Draft
from verifier.model.mistakes import did_you_mean
from verifier.model.movement import Stamp, at, setting
from verifier.model.networks import through_ports
from verifier.model.references import Found
from verifier.model.simplify import FALSE
from verifier.model.template import Medium
from verifier.model.things import PartThing, PlaceThing
from verifier.syntax import tree


def settings_of(part: PartThing, label: str | None) -> list[tuple[str, Condition]]:
    """Every `VALUE` of `part is VALUE` (or `part.label is VALUE`), with its condition."""
    found: list[tuple[str, Condition]] = []
    for number, element in enumerate(part.kind.elements):
        if label in (None, element.name):
            size = len(element.positions)
            found.extend(
                (name, at(part.first_element + number, (place,), size))
                for place, name in enumerate(element.positions)
            )
    for number, switch in enumerate(part.kind.switches):
        if label in (None, switch.family.name):
            size = len(switch.values)
            found.extend(
                (name, setting(part.first_switch + number, (place,), size))
                for place, name in enumerate(switch.values)
            )
    return found


def word_on_part(
    word: tree.Word, found: Found, part: PartThing, stamp: Stamp, draft: Draft
) -> Condition:
    """`WORD(part)`: a `means` word of the kind, a hand, or a position that one element has."""
    kind = part.kind
    choices: list[Condition] = []
    if found.label is None:
        if word.name in kind.means:
            return stamp.condition(kind.means[word.name])
        choices = [
            Hand(part.first_hand + number)
            for number, hand in enumerate(kind.hands)
            if hand.name == word.name
        ]
    values = settings_of(part, found.label)
    choices.extend(condition for name, condition in values if name == word.name)
    if len(choices) == 1:
        return choices[0]
    if choices:
        draft.mistakes.add(
            "E0702",
            word.span,
            f"`{word.name}` may mean several things of `{found.name}`",
            related=((kind.span, f"kind `{kind.name}` is here"),),
            hint=f"write `{part.name}.ELEMENT is {word.name}`",
        )
        return FALSE
    names = [*kind.means, *(hand.name for hand in kind.hands), *(name for name, _ in values)]
    if found.label is not None and not values:
        draft.mistakes.add(
            "E0405", found.span, f"`{part.name}`, a {kind.name}, has no element `{found.label}`"
        )
        return FALSE
    draft.mistakes.add(
        "E0701",
        word.span,
        f"the word `{word.name}` says nothing of `{found.name}`, a {kind.name}",
        related=((kind.span, f"its words: {', '.join(dict.fromkeys(names))}"),) if names else (),
        hint=did_you_mean(word.name, names),
    )
    return FALSE


def place_of(found: Found, medium: Medium, draft: Draft) -> str | None:
    """The name in a network of a place, or of a part's port for the medium."""
    inner = through_ports(found, draft, ())
    if inner is None:
        return None
    thing = inner.thing
    if isinstance(thing, PlaceThing):
        return thing.name
    if isinstance(thing, PartThing) and inner.label in thing.kind.medium_ports(medium):
        return inner.name
    told = f"`{found.name}` is neither a place nor a port for {medium}"
    hint = ""
    if isinstance(thing, PartThing) and inner.label is None:
        ports = [f"`{thing.name}.{port}`" for port in thing.kind.medium_ports(medium)]
        hint = f"name a port of it: {', '.join(ports)}" if ports else ""
    draft.mistakes.add("E0516", found.span, told, hint=hint)
    return None
