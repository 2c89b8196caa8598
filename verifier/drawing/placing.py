"""Rows and columns: supplies below, valves of tanks above, each compartment in a column of its own.

Rows are counted from below, columns from the left. The part of the circuit that belongs to no
compartment stands at the left, layered along the air; assemblies in it have columns of their own.
"""

from __future__ import annotations

from collections import Counter, defaultdict

from msgspec import Struct

from verifier.drawing.families import Families
from verifier.drawing.figure import Figure
from verifier.drawing.layering import Seat, layers
from verifier.drawing.told import Told

SHEET = (400, 277)  # mm that an A3 sheet leaves for the drawing, landscape


MOST_ROWS = 10  # of parts that belong to no compartment, one above the other
GIVERS = 6  # of one line that count for the layers


class Item(Struct, frozen=True):
    """A part, or a supply, in its cell. The other index is None."""

    part: int | None
    supply: int | None
    row: int
    column: int
    figure: Figure


class Placement(Struct, frozen=True):
    """items: in order of row and column.   rows, columns: how many there are.

    common: how many columns, from the left, belong to no compartment.
    """

    rows: int
    columns: int
    items: tuple[Item, ...]
    common: int = 0


class Node(Struct):
    """What is layered as one: a supply, a part that belongs to no compartment, or a family."""

    name: str
    parts: list[int]
    supply: int | None = None
    family: bool = False
    block: str = ""
    seat: Seat = Seat(0, 0)


def block_of(assembly: str) -> str:
    """The outermost assembly that a part stands in."""
    return assembly.split(".", 1)[0]


def place(
    told: Told,
    families: Families,
    figures: tuple[Figure, ...],
    supplies: tuple[Figure, ...],
) -> Placement:
    """figures: of the parts; supplies: of the supplies."""
    nodes = _nodes(told, families)
    seats = layers(tuple(_size(node, figures, supplies) for node in nodes), _edges(told, nodes))
    for node, seat in zip(nodes, seats, strict=True):
        node.seat = seat
    wide = max(Counter(node.seat.layer for node in nodes if not node.family).values(), default=1)
    found = [
        _placement(told, families, figures, supplies, nodes, across)
        for across in range(wide, 0, -1)
    ]
    return min(found, key=lambda one: (max(1.0, _too_large(one)), found.index(one)))


def _too_large(placement: Placement) -> float:
    """About how many times too large it is for a sheet of A3 at full size."""
    widths = [0] * placement.columns
    heights = [0] * placement.rows
    for item in placement.items:
        widths[item.column] = max(widths[item.column], item.figure.width + 8)
        heights[item.row] = max(heights[item.row], item.figure.height + 8)
    return max(sum(widths) / SHEET[0], sum(heights) / SHEET[1])


def _placement(
    told: Told,
    families: Families,
    figures: tuple[Figure, ...],
    supplies: tuple[Figure, ...],
    nodes: list[Node],
    wide: int,
) -> Placement:
    items: list[Item] = []
    common = _common(told, nodes, wide)
    columns = 0
    for node, row, column in common:
        columns = max(columns, column + 1)
        if node.supply is not None:
            items.append(Item(None, node.supply, row, column, supplies[node.supply]))
        else:
            items.append(Item(node.parts[0], None, row, column, figures[node.parts[0]]))
    where = {number: columns + k for k, number in enumerate(families.numbers)}
    for row, node in enumerate(_rows(told, nodes)):
        for part in node.parts:
            member = families.member[part]
            assert member is not None
            items.append(Item(part, None, row, where[member.number], figures[part]))
    items.sort(key=lambda item: (item.row, item.column))
    return Placement(
        max((item.row for item in items), default=-1) + 1,
        max((item.column for item in items), default=-1) + 1,
        tuple(items),
        columns,
    )


def _nodes(told: Told, families: Families) -> list[Node]:
    nodes = [Node(s.name, [], k) for k, s in enumerate(told.circuit.supplies)]
    found: dict[str, Node] = {}
    for index, part in enumerate(told.circuit.parts):
        member = families.member[index]
        name = part.name if member is None else member.family
        if name not in found:
            block = block_of(part.assembly)
            if member is not None and block:
                block = member.family.split(".", 1)[0]
            found[name] = Node(name, [], None, member is not None, block)
            nodes.append(found[name])
        found[name].parts.append(index)
    return nodes


def _size(node: Node, figures: tuple[Figure, ...], supplies: tuple[Figure, ...]) -> tuple[int, int]:
    if node.supply is not None:
        return supplies[node.supply].width, supplies[node.supply].height
    return (
        sum(figures[part].width + 6 for part in node.parts),
        max(figures[part].height for part in node.parts),
    )


def _edges(told: Told, nodes: list[Node]) -> tuple[tuple[int, int, int], ...]:
    """Along the air: from what gives it on a line to what takes it there.

    Where a supply is on the line, nothing else is taken to feed it, and of many givers only the
    first few count: the library is slow with dense graphs.
    """
    circuit = told.circuit
    node_of = {part: k for k, node in enumerate(nodes) for part in node.parts}
    fed = {
        circuit.supplies[n.supply].volume: k for k, n in enumerate(nodes) if n.supply is not None
    }
    weights: dict[tuple[int, int], int] = defaultdict(int)
    for index, volume in enumerate(circuit.volumes):
        givers = [fed[index]] if index in fed else []
        takers: list[int] = []
        for port in volume.ports:
            part = circuit.ports[port].part
            if port not in told.roles[part].gives:
                takers.append(node_of[part])
            elif index not in fed and len(givers) < GIVERS:
                givers.append(node_of[part])
        for giver in givers:
            for taker in takers:
                if giver != taker:
                    weights[giver, taker] += 1
    return tuple((a, b, w) for (a, b), w in sorted(weights.items()))


def _product(told: Told, node: Node) -> int:
    """0: a valve for air; 1: air works it and goes no further; 2: for liquid; 3: for vapour."""
    part = node.parts[0]
    media = {told.circuit.networks[flow.network].medium for flow in told.flows[part]}
    if media:
        return 3 if media == {"vapour"} else 2
    return 0 if told.passages[part] else 1


def _rows(told: Told, nodes: list[Node]) -> list[Node]:
    """The families, from the lowest row to the highest; those of an assembly side by side.

    What no line comes to stands above everything; of equals the first stands highest.
    """
    blocks: dict[str, list[Node]] = defaultdict(list)
    for node in nodes:
        if node.family:
            blocks[node.block or node.name].append(node)

    def height(node: Node) -> tuple[bool, int, int, int]:
        bare = not told.circuit.parts[node.parts[0]].ports
        return bare, _product(told, node), node.seat.layer, -node.parts[0]

    for members in blocks.values():
        members.sort(key=height)
    ordered = sorted(blocks.values(), key=lambda members: height(members[0]))
    return [node for members in ordered for node in members]


def _common(told: Told, nodes: list[Node], wide: int) -> list[tuple[Node, int, int]]:
    """Row and column of everything that belongs to no compartment, at most `wide` side by side.

    What would be higher than a sheet goes on at the bottom of further columns.
    """
    blocks: dict[str, list[Node]] = defaultdict(list)
    for node in nodes:
        if not node.family:
            blocks[node.block].append(node)
    found = []
    first = 0
    for block in sorted(blocks, key=lambda name: (name != "", name)):
        seats = _seats(told, blocks[block], wide)
        height = max(row for _, row, _ in seats) + 1
        across = max(column for _, _, column in seats) + 1
        strips = -(-height // MOST_ROWS)
        each = -(-height // strips)
        for node, row, column in seats:
            found.append((node, row % each, first + row // each * across + column))
        first += strips * across
    return found


def _seats(told: Told, members: list[Node], wide: int) -> list[tuple[Node, int, int]]:
    """Row and column of the nodes of a block, in the order of their layers."""
    rows: dict[tuple[bool, int], list[Node]] = defaultdict(list)
    for node in sorted(members, key=lambda node: (node.seat.order, node.name)):
        bare = node.supply is None and not told.circuit.parts[node.parts[0]].ports
        rows[bare, -1 if node.supply is not None else node.seat.layer].append(node)
    found, height = [], 0
    for key in sorted(rows):
        lines = -(-len(rows[key]) // wide)
        each = -(-len(rows[key]) // lines)
        found += [(node, height + k // each, k % each) for k, node in enumerate(rows[key])]
        height += lines
    return found
