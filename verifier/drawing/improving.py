"""Better aisles for the spines of lines: tried one after the other, with a budget of work."""

from __future__ import annotations

from msgspec.structs import replace

from verifier.drawing.lines import segments_of
from verifier.drawing.nets import Net, Outside
from verifier.drawing.routing import Plan, Routed, first_nets, route

CROSSING = 30  # a crossing is worth a detour of so many units
LARGEST = 48  # with more items, what is found at first is kept: trying would take too long
WORK = 3600  # routes that are tried, times items


def best_route(plan: Plan, outside: dict[int, Outside]) -> Routed:
    """The nets routed, and then routed again with other aisles while that is better.

    What counts is how much work it was, not how long it took: so it ends the same on any machine.
    """
    nets = list(first_nets(plan, outside))
    best = route(plan, tuple(nets))
    items = len(plan.placement.items)
    if not 0 < items <= LARGEST:
        return best
    least, tries = _cost(best), WORK // items
    large_first = sorted(range(len(nets)), key=lambda k: (-len(nets[k].ends), k))
    for k in large_first:
        for net in _elsewhere(nets[k], plan.placement.columns):
            if not tries:
                return best
            tries -= 1
            other = route(plan, (*nets[:k], net, *nets[k + 1 :]))
            cost = _cost(other)
            if cost < least:
                best, least = other, cost
        nets[k] = best.nets[k]
    return best


def _elsewhere(net: Net, columns: int) -> list[Net]:
    """The net with its spine in each other aisle, nearer ones first."""
    if net.aisle is None:
        return []
    at = net.aisle
    others = sorted(range(columns + 1), key=lambda aisle: (abs(aisle - at), aisle))
    return [replace(net, aisle=aisle) for aisle in others[1:]]


def _cost(routed: Routed) -> int:
    """Crossings of different lines, and the length of all."""
    upright: list[tuple[int, int, int, int]] = []
    level: list[tuple[int, int, int, int]] = []
    length = 0
    for k in range(len(routed.nets)):
        for s in segments_of(routed, k)[0]:
            length += s.x2 - s.x1 + s.y2 - s.y1
            if s.x1 == s.x2:
                upright.append((k, s.x1, s.y1, s.y2))
            else:
                level.append((k, s.y1, s.x1, s.x2))
    crossings = sum(
        1
        for k, x, y1, y2 in upright
        for j, y, x1, x2 in level
        if x1 < x < x2 and y1 < y < y2 and k != j
    )
    return CROSSING * crossings + length
