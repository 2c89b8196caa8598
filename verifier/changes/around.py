"""What differs around two circuits: supplies, surroundings, liquid and vapour."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from verifier.changes.counterparts import Counterparts, Met, met
from verifier.changes.difference import Difference
from verifier.changes.routes import place_of
from verifier.model.circuit import Network


def of_surroundings(between: Counterparts) -> Iterator[Difference]:
    """Supplies and where they feed in, switches and hands and how they start."""
    old, new = between.old, between.new
    supplies = {supply.name: supply for supply in new.supplies}
    for supply in old.supplies:
        if supply.name not in supplies:
            yield Difference("supply", f"supply `{supply.name}` is no longer there")
        elif between.volumes.get(supply.volume) != supplies[supply.name].volume:
            words = f"supply `{supply.name}` feeds {place_of(new, supplies[supply.name].volume)}, "
            words += f"and fed {place_of(old, supply.volume)}"
            yield Difference("supply", words, supplies=(supply.name,))
    known = {supply.name for supply in old.supplies}
    for supply in new.supplies:
        if supply.name not in known:
            words = f"supply `{supply.name}` is new"
            yield Difference("supply", words, supplies=(supply.name,))
    for a, switch in enumerate(old.switches):
        if a not in between.switches:
            yield Difference("surroundings", f"`{switch.name}` is no longer there")
            continue
        other = new.switches[between.switches[a]]
        if switch.values != other.values:
            words = f"`{other.name}` can be {_or(other.values)}, and could be {_or(switch.values)}"
            yield Difference("surroundings", words)
        elif switch.start != other.start:
            words = f"`{other.name}` starts {other.values[other.start]}, "
            words += f"and started {switch.values[switch.start]}"
            yield Difference("start", words)
    for b in sorted(set(range(len(new.switches))) - set(between.switches.values())):
        yield Difference("surroundings", f"`{new.switches[b].name}` is new")
    for a, b in between.hands.items():
        if old.hands[a].starts_on != new.hands[b].starts_on:
            words = f"`{new.hands[b].name}` starts {'on' if new.hands[b].starts_on else 'off'}"
            yield Difference("start", words, (new.parts[new.hands[b].part].name,))


def _or(values: tuple[str, ...]) -> str:
    return " or ".join(values)


def of_paths(between: Counterparts) -> Iterator[Difference]:
    old = {network.medium: network for network in between.old.networks}
    new = {network.medium: network for network in between.new.networks}
    for medium in dict.fromkeys([*old, *new]):
        before = _ways(old.get(medium), between.place, between.element)
        after = _ways(new.get(medium), _same, _same)
        for ends in dict.fromkeys([*before, *after]):
            way = f"the way of {medium} from `{ends[0]}` to `{ends[1]}`"
            if ends not in after:
                yield Difference("path", f"{way} is no longer there", places=ends[:2])
            elif ends not in before:
                yield Difference("path", f"{way} is new", places=ends[:2])
            elif before[ends] != after[ends]:
                yield Difference("path", f"{way} opens at other positions", places=ends[:2])


_Thing = TypeVar("_Thing")


def _same(thing: _Thing) -> _Thing:
    return thing


def _ways(
    network: Network | None, place: Callable[[str], str], element: Callable[[int], int | None]
) -> dict[tuple[str, str, bool], list[Met]]:
    """Of both ends, and whether it is one way: when it is open."""
    found: dict[tuple[str, str, bool], list[Met]] = {}
    if network is None:
        return found
    for way in network.ways:
        ends = [place(network.places[way.start]), place(network.places[way.end])]
        start, end = ends if way.one_way else sorted(ends)
        found.setdefault((start, end, way.one_way), []).append(met(way.where, element))
    return {ends: sorted(opened, key=repr) for ends, opened in found.items()}
