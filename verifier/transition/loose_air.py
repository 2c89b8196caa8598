"""Pressures when parts and tubes may be let go (rules P1 to P6, Q13).

The nodes are the circuit's volumes, then the ends: each piped port at which a passage begins. An
end is one with its line as long as its tube is not blocked.
"""

from __future__ import annotations

from collections.abc import Collection

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.transition.elimination import reached
from verifier.transition.encoding import Encoding
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.loosening import Loosening

Edges = dict[tuple[int, int], int]
Bore = str


class LooseAir(Struct, frozen=True):
    """Literals by node. end: the node at each port that has one of its own. contest: some node is
    fed and vented in the same phase, and no supply weak (not per node).
    """

    high: tuple[int, ...]
    low: tuple[int, ...]
    trapped: tuple[int, ...]
    end: dict[int, int]
    contest: int


class _Net(Struct, frozen=True):
    """Literals under which air passes from one node to another: at full bore, where it passes back
    likewise; at full bore; through a restriction."""

    full: Edges
    full_one_way: Edges
    narrow: Edges


def loose_air(loosening: Loosening, encoding: Encoding, kept: Collection[int]) -> LooseAir:
    """kept: the volumes that remember a pressure when they are cut off. Any other volume is cut off
    only when something was let go; then it can be high and can be low."""
    return _Air(loosening, encoding).pressures(kept)


class _Air:
    """sources, sinks: of the full bore.   leaks: restricted ways to the atmosphere.
    blocked: an end is not one with its line."""

    def __init__(self, loosening: Loosening, encoding: Encoding) -> None:
        self.loosening = loosening
        self.graph: Graph = loosening.graph
        self.circuit: Circuit = loosening.circuit
        self.encoding = encoding
        volumes = len(self.circuit.volumes)
        ways = _ways(self.graph, self.circuit, encoding)
        ports = sorted({port for _, *pair in ways for port in pair if port in loosening.tube_at})
        self.end = {port: volumes + k for k, port in enumerate(ports)}
        count = volumes + len(ports)
        self.sources = [FALSE] * count
        self.sinks = [FALSE] * count
        self.leaks = [FALSE] * count
        self.blocked = [FALSE] * count
        self.net = _Net({}, {}, {})
        for (part, first, second), own in ways.items():
            self._join(part, first, second, own)
        for port, node in self.end.items():
            self._tube_end(port, node)
        self._supplies()
        self._let_out()

    def pressures(self, kept: Collection[int]) -> LooseAir:
        graph = self.graph
        wide = _merged(graph, self.net.full, self.net.full_one_way)
        fed, vented = reached(graph, self.sources, wide), reached(graph, self.sinks, _back(wide))
        free = self._neither(fed, vented)
        nothing = [FALSE] * len(free)
        more_fed = self._restricted(free, fed, nothing, back=False)
        more_vented = self._restricted(free, vented, self.leaks, back=True)
        contest = self._contest([(fed, vented), (more_fed, more_vented)])
        fed = [graph.either(a, b) for a, b in zip(fed, more_fed, strict=True)]
        vented = [graph.either(a, b) for a, b in zip(vented, more_vented, strict=True)]
        trapped = self._neither(fed, vented)
        full, empty = self._kept(trapped, kept)
        high = reached(graph, full, self._among(trapped, self.net.narrow, back=False))
        low = reached(graph, empty, self._among(trapped, self.net.narrow, back=True))
        return LooseAir(
            tuple(graph.either(a, b) for a, b in zip(fed, high, strict=True)),
            tuple(graph.either(a, b) for a, b in zip(vented, low, strict=True)),
            tuple(trapped),
            self.end,
            contest,
        )

    def _join(self, part: int, first: int, second: int, own: dict[tuple[Bore, bool], int]) -> None:
        """The ways of a part between two of its ports; let go, each is open or shut, at either
        bore, in either direction."""
        keeps, graph = self.loosening.works(part), self.graph
        a, b = self.node(first), self.node(second)
        if a == b:
            return
        name = f"{self.circuit.ports[first].name} to {self.circuit.ports[second].name}"
        for bore in ("full", "restricted"):
            onward, back = (own.get((bore, forward), FALSE) for forward in (True, False))
            there = here = self.loosening.loose(keeps, f"{name} is open, {bore}")
            if onward != back:
                here = self.loosening.loose(keeps, f"{name} is open backwards, {bore}")
            onward = graph.either(graph.both(keeps, onward), there)
            back = graph.either(graph.both(keeps, back), here)
            if bore == "full":
                self._add(self.net.full if onward == back else self.net.full_one_way, a, b, onward)
                self._add(self.net.full if onward == back else self.net.full_one_way, b, a, back)
            else:
                self._add(self.net.narrow, a, b, onward)
                self._add(self.net.narrow, b, a, back)

    def _add(self, edges: Edges, start: int, end: int, literal: int) -> None:
        if literal != FALSE:
            edges[start, end] = self.graph.either(edges.get((start, end), FALSE), literal)

    def _tube_end(self, port: int, node: int) -> None:
        """Let go, a tube may be blocked; then what it cuts off has air or not as it likes, and air
        is let out of it where part or tube is not tight."""
        graph, loosening = self.graph, self.loosening
        thing, tube = self.circuit.ports[port], loosening.tube_at[port]
        blocked = loosening.loose(loosening.passes(tube), f"{thing.name} is cut off")
        self._add(self.net.full, node, thing.volume, blocked ^ 1)
        self._add(self.net.full, thing.volume, node, blocked ^ 1)
        self.blocked[node] = blocked
        tight = graph.both(loosening.is_tight("tube", tube), loosening.is_tight("part", thing.part))
        for base, words in ((self.sinks, "bursts"), (self.leaks, "leaks")):
            base[node] = loosening.loose(tight, f"{thing.name} {words}")

    def _supplies(self) -> None:
        """Let go, the tube at a supply may be blocked."""
        graph, loosening = self.graph, self.loosening
        for v, volume in enumerate(self.circuit.volumes):
            self.sinks[v] = TRUE if volume.open_air else FALSE
        for index, supply in enumerate(self.circuit.supplies):
            joined = TRUE
            if index in loosening.tube_at_supply:
                passes = loosening.passes(loosening.tube_at_supply[index])
                joined = loosening.loose(passes, f"{supply.name} is cut off") ^ 1
            values = self.circuit.switches[supply.switch].values
            for names, base in (
                (("present", "weak"), self.sources),
                (("absent", "weak"), self.sinks),
            ):
                which = [v for v, name in enumerate(values) if name in names]
                literal = graph.both(joined, self.encoding.setting(supply.switch, which))
                base[supply.volume] = graph.either(base[supply.volume], literal)

    def _let_out(self) -> None:
        """Air is let out of a volume, fast or slowly, where something at it is not tight."""
        graph, circuit, loosening = self.graph, self.circuit, self.loosening
        tight: list[list[int]] = [[] for _ in circuit.volumes]
        for port in circuit.ports:
            tight[port.volume].append(loosening.is_tight("part", port.part))
        for t, tube in enumerate(circuit.tubes):
            tight[circuit.lines[tube.line].volume].append(loosening.is_tight("tube", t))
        for v, volume in enumerate(circuit.volumes):
            for base, words in ((self.sinks, "bursts"), (self.leaks, "leaks")):
                if self.sinks[v] != TRUE:
                    literal = loosening.loose(graph.all(tight[v]), f"{volume.name} {words}")
                    base[v] = graph.either(base[v], literal)

    def _contest(self, phases: list[tuple[list[int], list[int]]]) -> int:
        graph = self.graph
        both = (graph.both(*one) for fed, vented in phases for one in zip(fed, vented, strict=True))
        weak = (
            self.encoding.setting(supply.switch, [value])
            for supply in self.circuit.supplies
            for value, name in enumerate(self.circuit.switches[supply.switch].values)
            if name == "weak"
        )
        return graph.both(graph.any(both), graph.any(weak) ^ 1)

    def _neither(self, fed: list[int], vented: list[int]) -> list[int]:
        return [self.graph.both(a ^ 1, b ^ 1) for a, b in zip(fed, vented, strict=True)]

    def _restricted(
        self, free: list[int], source: list[int], leaks: list[int], *, back: bool
    ) -> list[int]:
        """What the restricted phase adds (P3). free: the full bore does not drive the node."""
        graph = self.graph
        narrow = _back(self.net.narrow) if back else self.net.narrow
        entries = [[graph.both(leak, f)] for leak, f in zip(leaks, free, strict=True)]
        for (start, end), literal in narrow.items():
            entries[end].append(graph.all([literal, source[start], free[end]]))
        base = [graph.any(ways) for ways in entries]
        return reached(graph, base, self._among(free, self.net.narrow, back=back))

    def _among(self, inside: list[int], narrow: Edges, *, back: bool) -> Edges:
        """The ways between nodes of a phase; `inside`: the node takes part in it. An open way of
        full bore both ways cannot have one end inside and the other outside."""
        graph = self.graph
        one_way = _merged(graph, self.net.full_one_way, narrow)
        if back:
            one_way = _back(one_way)
        guarded = {ends: graph.both(way, inside[ends[1]]) for ends, way in one_way.items()}
        return _merged(graph, self.net.full, guarded)

    def _kept(self, trapped: list[int], kept: Collection[int]) -> tuple[list[int], list[int]]:
        """What may have kept air, and what may have kept none (P4)."""
        graph = self.graph
        full, empty = [], []
        for node, literal in enumerate(trapped):
            if node >= len(self.circuit.volumes):
                # An end that is one with its line has nothing of its own.
                literal = graph.both(literal, self.blocked[node])
            memory = self.encoding.keep(node) if node in kept else None
            full.append(literal if memory is None else graph.both(literal, memory))
            empty.append(literal if memory is None else graph.both(literal, memory ^ 1))
        return full, empty

    def node(self, port: int) -> int:
        """The node at a port."""
        return self.end.get(port, self.circuit.ports[port].volume)


def _ways(
    graph: Graph, circuit: Circuit, encoding: Encoding
) -> dict[tuple[int, int, int], dict[tuple[Bore, bool], int]]:
    """By part and two of its ports, the lower first: the literal of its own passages by bore and by
    whether they lead from the first to the second. Ways that faults make are there too, shut."""
    found: dict[tuple[int, int, int], dict[tuple[Bore, bool], int]] = {}
    for passage in circuit.passages:
        first, second = passage.ports
        cases = found.setdefault((passage.part, min(first, second), max(first, second)), {})
        literal = encoding.met(passage.where)
        for forward in (True, False):
            if forward == (first < second) or not passage.one_way:
                old = cases.get((passage.bore, forward), FALSE)
                cases[passage.bore, forward] = graph.either(old, literal)
    for fault in circuit.faults:
        for effect in fault.effects:
            if effect.effect in ("leaks", "passes") and len(effect.ports) == 2:
                found.setdefault((fault.part, min(effect.ports), max(effect.ports)), {})
    return found


def _merged(graph: Graph, *kinds: Edges) -> Edges:
    edges: Edges = {}
    for kind in kinds:
        for ends, literal in kind.items():
            edges[ends] = graph.either(edges.get(ends, FALSE), literal)
    return edges


def _back(edges: Edges) -> Edges:
    return {(end, start): literal for (start, end), literal in edges.items()}
