"""What signs show: in all lanes at once, and in one state of a rig."""

from __future__ import annotations

from itertools import product

from verifier.calm.fleet import Fleet, Look
from verifier.calm.rig import Leg, Rig, State
from verifier.calm.signs import Sign
from verifier.model.condition import Path


def values_of(fleet: Fleet, sign: Sign) -> range:
    """What the sign can show at all."""
    return range(fleet.counts[sign.element]) if sign.element is not None else range(2)


def ways(fleet: Fleet, look: Look, sign: Sign, value: int) -> int:
    """The ways to be at rest in which the sign can show the value (a superset)."""
    every, air = look.layout.every, look.air
    if sign.element is not None:
        return look.rest & look.standing(sign.element, value)
    if sign.gauge is not None:
        return look.rest & (air.high if value else air.low)[sign.gauge]
    if sign.volume is not None:
        shows = air.high[sign.volume]
    elif sign.spot:
        shows = 0
        for hole in fleet.trailer.holes:
            if hole.spot == sign.spot:
                shows |= air.open.get(hole.passage, 0) & air.high[hole.start]
    else:
        shows = _flows(fleet, look, sign.paths, surely=not value)
    return look.rest & (shows if value else every & ~shows)


def _flows(fleet: Fleet, look: Look, paths: tuple[Path, ...], surely: bool) -> int:
    found = 0
    for path in paths:
        found |= may_flow(fleet, look, path, surely)
    return found


def may_flow(fleet: Fleet, look: Look, path: Path, surely: bool) -> int:
    """The ways in which the path may be open; or surely is, whatever can stand either way."""
    network = fleet.trailer.circuit.networks[path.network]
    reached = [0] * len(network.places)
    reached[path.start] = look.layout.every
    legs = []
    for way in network.ways:
        open_ = look.layout.every
        for where in way.where:
            open_ &= _met(fleet, look, where.element, frozenset(where.positions), surely)
        if open_:
            legs.append((way.start, way.end, open_))
            if not (way.one_way and path.directed):
                legs.append((way.end, way.start, open_))
    news = True
    while news:
        news = False
        for start, end, open_ in legs:
            new = reached[start] & open_ & ~reached[end]
            if new:
                reached[end] |= new
                news = True
    return reached[path.end]


def _met(fleet: Fleet, look: Look, element: int, allowed: frozenset[int], surely: bool) -> int:
    if element >= fleet.trailer.own:
        acts = fleet.acts(element, look.layout)
        return acts if 1 in allowed else look.layout.every & ~acts
    here = elsewhere = 0
    for position in range(fleet.counts[element]):
        if position in allowed:
            here |= look.standing(element, position)
        else:
            elsewhere |= look.standing(element, position)
    return look.layout.every & ~elsewhere if surely else here


def shown(rig: Rig, state: State, sign: Sign) -> frozenset[int]:
    """The values that the sign can show in the state, which is at rest."""
    if sign.element is not None:
        if sign.element >= rig.own:
            hand = sign.element - rig.own
            hands = len(state.hands)
            value = state.hands[hand] if hand < hands else state.settings[hand - hands]
            return frozenset([value])
        return frozenset(rig.standing(state, sign.element))
    view = rig.view(state)
    if sign.gauge is not None:
        volume = rig.volume[sign.gauge]
        both = ((1, view.high >> volume & 1), (0, view.low >> volume & 1))
        return frozenset(value for value, can in both if can)
    if sign.volume is not None:
        return frozenset([view.high >> rig.volume[sign.volume] & 1])
    if sign.spot:
        blows = any(view.high >> v & 1 for v, spot in rig.holes if spot == sign.spot)
        return frozenset([int(blows)])
    return _flow_shown(rig, state, sign.paths)


def _flow_shown(rig: Rig, state: State, paths: tuple[Path, ...]) -> frozenset[int]:
    legs = [(path, rig.legs[path.network]) for path in paths]
    elements = sorted({e for _, some in legs for leg in some for e, _ in leg.where})
    places = [rig.standing(state, e) for e in elements]
    found = set()
    for chosen in product(*places):
        at = dict(zip(elements, chosen, strict=True))
        found.add(int(any(_reaches(path, some, at) for path, some in legs)))
    return frozenset(found)


def _reaches(path: Path, legs: tuple[Leg, ...], at: dict[int, int]) -> bool:
    reached = [path.start]
    for place in reached:
        for leg in legs:
            if all(at[e] in allowed for e, allowed in leg.where):
                if leg.start == place and leg.end not in reached:
                    reached.append(leg.end)
                if leg.end == place and leg.start not in reached and not leg.one_way:
                    reached.append(leg.start)
    return path.end in reached
