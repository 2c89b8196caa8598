"""Pressures as literals over the latches (rules P1 to P6)."""

from __future__ import annotations

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.transition.driven import always_driven
from verifier.transition.elimination import Edges, reached
from verifier.transition.encoding import Encoding
from verifier.transition.graph import FALSE, TRUE, Graph

MOST_INPUTS = 14
"""A volume is given no memory when trying all cases of at most this many latches shows that it is
never trapped."""

BOTH = ("full", "restricted")


class Pressures(Struct, frozen=True):
    """Literals, one entry per volume.

    fed, vented: at full bore or, where that drives nothing, over restricted passages.
    high, low: what a reader may find; where trapped, by what the group of the volume kept.
    contest: fed and vented in the same phase somewhere, and no supply weak (not per volume).
    """

    fed: tuple[int, ...]
    vented: tuple[int, ...]
    trapped: tuple[int, ...]
    high: tuple[int, ...]
    low: tuple[int, ...]
    contest: int


class _Passages(Struct, frozen=True):
    """Literal under which some passage of a kind is open from one volume to another."""

    full: dict[tuple[int, int], int]
    one_way: dict[tuple[int, int], int]
    restricted: dict[tuple[int, int], int]
    restricted_one_way: dict[tuple[int, int], int]


def pressures_of(graph: Graph, circuit: Circuit, encoding: Encoding) -> Pressures:
    """The closed form of every volume's pressure."""
    count = len(circuit.volumes)
    passages = _open(graph, circuit, encoding)
    present, sources, sinks = _sources(graph, circuit, encoding)
    wide = _merged(graph, passages.full, passages.one_way)
    fed, vented = reached(graph, sources, wide), reached(graph, sinks, _back(wide))
    contests = [graph.both(literal, vented[volume]) for volume, literal in present]

    certain = always_driven(circuit, ("full",))
    free = [FALSE if v in certain else graph.both(fed[v] ^ 1, vented[v] ^ 1) for v in range(count)]
    entries, more_fed = _restricted_phase(graph, passages, free, fed, back=False)
    _, more_vented = _restricted_phase(graph, passages, free, vented, back=True)
    contests += (graph.both(b, v) for b, v in zip(entries, more_vented, strict=True))
    fed = [graph.either(a, b) for a, b in zip(fed, more_fed, strict=True)]
    vented = [graph.either(a, b) for a, b in zip(vented, more_vented, strict=True)]

    certain = always_driven(circuit, BOTH)
    trapped = []
    for v in range(count):
        literal = FALSE if v in certain else graph.both(fed[v] ^ 1, vented[v] ^ 1)
        trapped.append(FALSE if graph.never(literal, MOST_INPUTS) else literal)
    kept_high, kept_low = _kept(graph, passages, trapped, encoding)
    weak = [_supply(circuit, encoding, s, ("weak",)) for s in range(len(circuit.supplies))]
    return Pressures(
        tuple(fed),
        tuple(vented),
        tuple(trapped),
        tuple(graph.either(a, b) for a, b in zip(fed, kept_high, strict=True)),
        tuple(graph.either(a, b) for a, b in zip(vented, kept_low, strict=True)),
        graph.both(graph.any(contests), graph.any(weak) ^ 1),
    )


def _open(graph: Graph, circuit: Circuit, encoding: Encoding) -> _Passages:
    passages = _Passages({}, {}, {}, {})
    for passage in circuit.passages:
        literal = encoding.met(passage.where)
        ends = [(passage.start, passage.end)]
        if passage.one_way:
            kind = passages.one_way if passage.bore == "full" else passages.restricted_one_way
        else:
            kind = passages.full if passage.bore == "full" else passages.restricted
            ends.append((passage.end, passage.start))
        for pair in ends:
            if literal != FALSE and pair[0] != pair[1]:
                kind[pair] = graph.either(kind.get(pair, FALSE), literal)
    return passages


def _sources(
    graph: Graph, circuit: Circuit, encoding: Encoding
) -> tuple[list[tuple[int, int]], list[int], list[int]]:
    """(volume, its supply brings air) per supply; then per volume: some source, some sink (P2)."""
    sources = [FALSE] * len(circuit.volumes)
    sinks = [TRUE if volume.open_air else FALSE for volume in circuit.volumes]
    present = []
    for index, supply in enumerate(circuit.supplies):
        brings = _supply(circuit, encoding, index, ("present", "weak"))
        drains = _supply(circuit, encoding, index, ("absent", "weak"))
        present.append((supply.volume, brings))
        sources[supply.volume] = graph.either(sources[supply.volume], brings)
        sinks[supply.volume] = graph.either(sinks[supply.volume], drains)
    return present, sources, sinks


def _supply(circuit: Circuit, encoding: Encoding, supply: int, names: tuple[str, ...]) -> int:
    switch = circuit.supplies[supply].switch
    values = circuit.switches[switch].values
    return encoding.setting(switch, [v for v, name in enumerate(values) if name in names])


def _restricted_phase(
    graph: Graph, passages: _Passages, free: list[int], source: list[int], back: bool
) -> tuple[list[int], list[int]]:
    """What the restricted phase adds (P3): where it enters, and all that it reaches.

    free: the full bore does not drive the volume.   back: against the air, for what is vented.
    It enters a free volume over a restricted passage only: what an open full-bore one joins to a
    driven volume is driven itself, or lies on the wrong side of a one-way passage.
    """
    entries = _merged(graph, passages.restricted, passages.restricted_one_way)
    narrow = _merged(graph, passages.one_way, entries)
    if back:
        entries, narrow = _back(entries), _back(narrow)
    base = [FALSE] * len(free)
    for (start, end), literal in entries.items():
        enters = graph.all([literal, source[start], free[end]])
        base[end] = graph.either(base[end], enters)
    return base, reached(graph, base, _among(graph, free, passages.full, narrow))


def _kept(
    graph: Graph, passages: _Passages, trapped: list[int], encoding: Encoding
) -> tuple[list[int], list[int]]:
    """What trapped volumes can be by what their groups kept (P4): high, low."""
    memory = [FALSE if t == FALSE else encoding.keep(v) for v, t in enumerate(trapped)]
    full = [graph.both(t, m) for t, m in zip(trapped, memory, strict=True)]
    empty = [graph.both(t, m ^ 1) for t, m in zip(trapped, memory, strict=True)]
    both = _merged(graph, passages.full, passages.restricted)
    one_way = _merged(graph, passages.one_way, passages.restricted_one_way)
    return (
        reached(graph, full, _among(graph, trapped, both, one_way)),
        reached(graph, empty, _among(graph, trapped, both, _back(one_way))),
    )


def _among(graph: Graph, inside: list[int], both: Edges, one_way: Edges) -> Edges:
    """The passages between volumes of a phase; `inside`: the volume takes part in it.

    A two-way passage that is open cannot have one end inside and the other outside.
    """
    edges = {
        (start, end): literal
        for (start, end), literal in both.items()
        if inside[start] != FALSE and inside[end] != FALSE
    }
    guarded = {
        (start, end): graph.both(literal, inside[end])
        for (start, end), literal in one_way.items()
        if inside[start] != FALSE
    }
    return _merged(graph, edges, guarded)


def _merged(graph: Graph, *kinds: Edges) -> dict[tuple[int, int], int]:
    edges: dict[tuple[int, int], int] = {}
    for kind in kinds:
        for ends, literal in kind.items():
            edges[ends] = graph.either(edges.get(ends, FALSE), literal)
    return edges


def _back(edges: Edges) -> dict[tuple[int, int], int]:
    return {(end, start): literal for (start, end), literal in edges.items()}
