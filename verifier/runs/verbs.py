"""How one says that a hand control is worked: `pushed` is to push, `turned_on` to turn on."""

from __future__ import annotations

# Participles that hands of kinds are named for, and what one does then. For others there is
# `work PART LABEL`.
VERBS = {
    "closed": "close",
    "connected": "connect",
    "coupled": "couple",
    "drawn": "draw",
    "fitted": "fit",
    "held": "hold",
    "lifted": "lift",
    "locked": "lock",
    "lowered": "lower",
    "opened": "open",
    "pressed": "press",
    "pulled": "pull",
    "pushed": "push",
    "put": "put",
    "raised": "raise",
    "set": "set",
    "shut": "shut",
    "squeezed": "squeeze",
    "switched": "switch",
    "taken": "take",
    "tipped": "tip",
    "trodden": "tread",
    "turned": "turn",
    "twisted": "twist",
    "unlocked": "unlock",
}
# What else people say.
SAME = {
    "press": ("push",),
    "connect": ("couple",),
    "tread": ("push", "press"),
    "draw": ("pull",),
    "depress": ("push", "press"),
}
RELEASE = ("release", "let go", "uncouple", "disconnect", "close", "shut", "fit", "let off")
"""Verbs for a held hand that is let go; the first is the one written."""
SUPPLY = {
    "connect": "present",
    "disconnect": "absent",
    "fail": "absent",
    "weaken": "weak",
}
"""Verbs of supplies, and the value of the switch."""


def verb_of(label: str) -> str:
    """`turn on` for `turned_on`; "" if there is no verb for it."""
    first, *rest = label.split("_")
    verb = VERBS.get(first)
    return "" if verb is None else " ".join((verb, *rest))


def supply_verb(value: str) -> str:
    return next(verb for verb, known in SUPPLY.items() if known == value)


def meant(verb: str) -> tuple[str, ...]:
    """The verb and those that it may stand for."""
    first, _, rest = verb.partition(" ")
    others = SAME.get(first, ())
    return (verb, *(f"{one} {rest}".strip() for one in others))
