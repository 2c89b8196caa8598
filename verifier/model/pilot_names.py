"""Pilots are named for the path they make (ISO 11727): 12 makes 1-2, 14 makes 1-4, 10 closes 1."""

from __future__ import annotations

from verifier.model.condition import All, Any, Condition, High
from verifier.model.mistakes import Mistakes
from verifier.model.template import ElementTemplate, KindTemplate

MAKES = {"12": "2", "14": "4"}
CLOSES = "10"


def check_pilot_names(kind: KindTemplate, mistakes: Mistakes) -> None:
    """Tell each move by pilot 10, 12 or 14 to a position that contradicts the pilot's name.

    Only kinds with a numbered supply port 1 are judged: ISO 11727 leaves out air logic and
    cylinders.
    """
    if kind.port_named("1") is None:
        return
    for number, element in enumerate(kind.elements):
        for move in element.moves:
            for pilot in _pilots(move.when):
                wrong = _contradiction(kind, number, element, move.target, pilot)
                if wrong:
                    mistakes.add(
                        "E0512",
                        move.span,
                        f"pilot `{pilot}` is named for a path it does not make: {wrong}",
                        hint=_better_name(kind, number, move.target),
                    )


def _pilots(condition: Condition) -> tuple[str, ...]:
    """Ports whose pressure asks for the move, in order."""
    if isinstance(condition, High):
        return (condition.reader,)
    if isinstance(condition, All | Any):
        return tuple(dict.fromkeys(p for one in condition.of for p in _pilots(one)))
    return ()


def _from_supply(
    kind: KindTemplate, element: int, position: int, *, moved_only: bool
) -> tuple[str, ...]:
    """Ports that port 1 may be joined with while the element stands in the position.

    moved_only: leave out the passages that another element, or none, opens and closes.
    """
    found: dict[str, None] = {}
    for leg in kind.passages:
        ends = (kind.ports[leg.start].name, kind.ports[leg.end].name)
        open_there = all(w.element != element or position in w.positions for w in leg.where)
        moved = any(w.element == element for w in leg.where)
        if "1" in ends and open_there and (moved or not moved_only):
            found[ends[1] if ends[0] == "1" else ends[0]] = None
    return tuple(found)


def _contradiction(
    kind: KindTemplate, number: int, element: ElementTemplate, target: int, pilot: str
) -> str:
    there = f"`{element.name}` at `{element.positions[target]}`"
    if pilot in MAKES and MAKES[pilot] not in _from_supply(kind, number, target, moved_only=False):
        return f"{there} does not pass 1-{MAKES[pilot]}"
    made = _from_supply(kind, number, target, moved_only=True)
    if pilot == CLOSES and made:
        return f"{there} passes 1-{made[0]}, and pilot 10 closes port 1"
    return ""


def _better_name(kind: KindTemplate, number: int, target: int) -> str:
    made = _from_supply(kind, number, target, moved_only=True)
    if not made:
        return "name it `10`"
    if len(made) == 1 and made[0] in MAKES.values():
        return f"name it `1{made[0]}`"
    return ""
