"""Where the ports of an element open into its squares, and which paths each position opens."""

from __future__ import annotations

import math

from msgspec import Struct

from verifier.drawing.figure import SMALL, shortened, width_of
from verifier.drawing.squares import Medium, Opening, Path
from verifier.drawing.told import Told
from verifier.model.circuit import Passage

# ISO 11727 numbers from left to right, above and below a square.
ABOVE = {"4": 0, "2": 1}
BELOW = {"5": 0, "1": 1, "3": 2}


LONGEST = 16.0  # what is written at a port for liquid or vapour


class Openings(Struct, frozen=True):
    """at, media, labels, ports: for each opening; a port is None for liquid and vapour.

    paths: for each position.   product: the element opens ways for liquid or vapour.
    first_top: how far right of a square's left edge something is above it.
    """

    width: int
    at: tuple[Opening, ...]
    media: tuple[Medium, ...]
    labels: tuple[str, ...]
    ports: tuple[int | None, ...]
    leftwards: tuple[bool, ...]
    ways: tuple[tuple[int, int, int], ...]
    paths: tuple[tuple[Path, ...], ...]
    product: bool
    first_top: int

    @property
    def beyond(self) -> float:
        """How far the labels above a square reach to the right of it."""
        ends = [
            opening.x + 0.8 + width_of(label, SMALL) - self.width
            for opening, label, left in zip(self.at, self.labels, self.leftwards, strict=True)
            if opening.top and not left
        ]
        return max([0.0, *ends])

    def inside(self, port: int) -> bool:
        """Whether a port that is read also opens into the squares: an internal pilot."""
        return port in self.ports


class _Plan:
    def __init__(self) -> None:
        self.at: list[Opening] = []
        self.media: list[Medium] = []
        self.labels: list[str] = []
        self.ports: list[int | None] = []
        self.leftwards: list[bool] = []
        self.ways: list[tuple[int, int, int]] = []
        self.index: dict[tuple[str, int], int] = {}

    def put(
        self,
        key: tuple[str, int],
        opening: Opening,
        medium: Medium,
        label: str,
        leftwards: bool = False,
    ) -> None:
        self.index[key] = len(self.at)
        self.at.append(opening)
        self.media.append(medium)
        self.labels.append(label)
        self.leftwards.append(leftwards)
        self.ports.append(key[1] if key[0] == "air" else None)


def _spread(labels: list[str], first: int) -> list[int]:
    """Places for ports side by side, far enough apart for what is written right of each."""
    found, x = [], first
    for label in labels:
        found.append(x)
        x += 4 if len(label) < 3 else math.ceil(width_of(label, SMALL) + 2)
    return found


def openings_of(told: Told, part: int, element: int, first: bool) -> Openings:
    """first: the element also shows the passages that are open in every position."""
    circuit, roles = told.circuit, told.roles[part]
    passages = [
        passage
        for passage in told.passages[part]
        if any(where.element == element for where in passage.where)
        or (first and not any(_moves(told, where.element) for where in passage.where))
    ]
    used = {port for passage in passages for port in passage.ports}
    plan = _Plan()
    label = {port: circuit.ports[port].label for port in used}
    above = sorted((p for p in used if p in roles.gives), key=lambda p: ABOVE.get(label[p], p + 2))
    below = sorted(
        (p for p in used if p not in roles.gives),
        key=lambda p: BELOW.get(label[p], p + 3),
    )
    last = 2
    if len(above) == len(below) == 1:
        places = ([5], [5])
    else:
        places = (_air(above, label), _air(below, label))
    for top, ports, xs in ((True, above, places[0]), (False, below, places[1])):
        for port, x in zip(ports, xs, strict=True):
            plan.put(("air", port), Opening(x, top), "air", label[port])
            last = max(last, x)
    paths = [_air_paths(told, part, element, passages, plan, k) for k in _count(told, element)]
    product = _products(told, part, element, plan, paths, last)
    right = max((o.x for o in plan.at), default=5)
    tops = [
        o.x - (math.ceil(width_of(said, SMALL)) + 1 if leftwards else 0)
        for o, said, leftwards in zip(plan.at, plan.labels, plan.leftwards, strict=True)
        if o.top
    ]
    return Openings(
        max(10, right + 2 + (right > 10)),
        tuple(plan.at),
        tuple(plan.media),
        tuple(plan.labels),
        tuple(plan.ports),
        tuple(plan.leftwards),
        tuple(plan.ways),
        tuple(tuple(one) for one in paths),
        product,
        min(tops, default=max(10, right + 2)),
    )


def _count(told: Told, element: int) -> range:
    return range(len(told.circuit.elements[element].positions))


def _moves(told: Told, element: int) -> bool:
    return not told.circuit.elements[element].fault


def _air(ports: list[int], label: dict[int, str]) -> list[int]:
    names = [label[port] for port in ports]
    if names == ["4", "2"]:
        return [2, 10]
    if names == ["5", "1", "3"]:
        return [2, 6, 10]
    if names in (["1", "3"],):
        return [2, 8]
    return _spread(names, 2)


def _air_paths(
    told: Told, part: int, element: int, passages: list[Passage], plan: _Plan, position: int
) -> list[Path]:
    roles = told.roles[part]
    found = []
    for passage in passages:
        at = [where.positions for where in passage.where if where.element == element]
        if any(position not in positions for positions in at):
            continue
        start, end = passage.ports
        backwards = end not in roles.exhausts and (
            start in roles.exhausts or (start in roles.gives and end not in roles.gives)
        )
        if backwards and not passage.one_way:
            start, end = end, start
        found.append(
            Path(
                plan.index["air", start],
                plan.index["air", end],
                "air",
                passage.bore == "restricted",
                passage.one_way,
            )
        )
    return found


def _products(
    told: Told, part: int, element: int, plan: _Plan, paths: list[list[Path]], last: int
) -> bool:
    """Openings and paths for liquid and vapour, right of those for air."""
    circuit = told.circuit
    flows = [
        flow
        for flow in told.flows[part]
        if any(where.element == element for where in told.way(flow).where)
    ]
    air = bool(plan.at)
    x = last + 4 if air else 5
    for flow in flows:
        way, medium = told.way(flow), circuit.networks[flow.network].medium
        aside = len(flows) > 1 and flow is flows[0] and not air
        for place, top in ((way.start, True), (way.end, False)):
            if (medium, place) not in plan.index:
                said = shortened(told.beyond(flow, place, part), SMALL, LONGEST)
                plan.put((medium, place), Opening(x, top), medium, said, aside)
        for position in _count(told, element):
            if all(position in where.positions for where in way.where if where.element == element):
                ends = plan.index[medium, way.start], plan.index[medium, way.end]
                paths[position].append(Path(*ends, medium, one_way=way.one_way))
        plan.ways.append((flow.network, flow.way, plan.index[medium, way.start]))
        x += 5
    return bool(flows)
