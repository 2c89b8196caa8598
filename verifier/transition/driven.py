"""Which volumes are driven in every state, whatever stands where (P2, P3)."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product

from verifier.model.circuit import Circuit, Where

MOST_CASES = 4096


def always_driven(circuit: Circuit, bores: tuple[str, ...]) -> frozenset[int]:
    """Volumes that are fed or vented in every state over passages of these bores alone.

    A volume is one if it has a source of its own, or if in every position of the elements next to
    it some passage that is open both ways joins it to a volume already known to be one. Each is
    found from others found before, so no two of them hold each other up (P6). There may be more
    than are found.
    """
    near: dict[int, list[tuple[int, tuple[Where, ...]]]] = {}
    for passage in circuit.passages:
        if passage.bore in bores and not passage.one_way:
            near.setdefault(passage.start, []).append((passage.end, passage.where))
            near.setdefault(passage.end, []).append((passage.start, passage.where))
    found = {v for v, volume in enumerate(circuit.volumes) if volume.open_air}
    found |= {supply.volume for supply in circuit.supplies}
    waiting = sorted(found)
    while waiting:
        for volume, _ in near.get(waiting.pop(), ()):
            if volume in found:
                continue
            ways = [where for other, where in near[volume] if other in found]
            if always_one(circuit, ways):
                found.add(volume)
                waiting.append(volume)
    return frozenset(found)


def always_one(circuit: Circuit, ways: list[tuple[Where, ...]]) -> bool:
    """Whether one of the conjunctions is met in every case; False also if cases are too many."""
    single: dict[int, set[int]] = {}
    for where in ways:
        if len(where) == 1:
            single.setdefault(where[0].element, set()).update(where[0].positions)
    if any(not where for where in ways) or any(
        len(positions) == len(circuit.elements[element].positions)
        for element, positions in single.items()
    ):
        return True
    elements = sorted({w.element for where in ways for w in where})
    ranges = [range(len(circuit.elements[element].positions)) for element in elements]
    cases = 1
    for positions in ranges:
        cases *= len(positions)
    if cases > MOST_CASES:
        return False
    return all(_one_met(ways, dict(zip(elements, case, strict=True))) for case in product(*ranges))


def _one_met(ways: Iterable[tuple[Where, ...]], positions: dict[int, int]) -> bool:
    return any(all(positions[w.element] in w.positions for w in where) for where in ways)
