"""Conditions under which the order of movements cannot matter, as questions about one step (Q11).

The system here is the circuit's with a latch more: `after`, that hands and surroundings stand still
for good. It may be set in any step from a state at rest or from the start, so a state with `after`
is one that such a step, the event, leads to, and movements after it. Of such states three things
are asked:
- *readings*: some element may move but need not, or may go either way;
- *leaks*: with all kept air leaked away, some element's demand is another one;
- *order*: some element z must move and other elements move before it; after that z must no longer
  make this move; and, had it moved along with them, it would not have to take the move back.

If no reachable state does any of these, and circuits with hands and surroundings still have only
finite sequences of movements before rest (*comes to rest*), then there is no race. For a state with
`after` let its stand be where the elements stand. By the first two, what may and must move depends
on the stand alone: two states that differ in what volumes kept both lead, by leaking, to the one
that keeps nothing. Stands are connected by moves of non-empty sets Y of elements that must move,
and those sequences are finite, so say that for every stand that follows s all ends are the same.
For elements Y and z of s, *order* leaves two cases. Either z still must move in s + Y, which leads
to s + Y + z; or in s + Y + z it must move back, which leads to s + Y. Either way one of the two
follows the other, so they have the same end. So dropping elements from a set, and taking others in,
never changes the end: every way out of s has the same. If s is at rest, nothing moves any more.

Where comes to rest is not proved, *order* without its second case is enough (*persistent*): then z
must still move whatever moves before it, so ways out of s that part join again in one move each.

Elements with two positions may be called *loose*: it is to be shown that at most where they stop
depends on the order, and that nothing else does. For them *order* has a third case: z must neither
move in s + Y nor move back in s + Y + z. What is asked besides:
- *loose*: were loose elements put where they do not stand, all of them content both here and there,
  the demand of some other element would be another one.
Two stands that follow s and differ like that have ends that differ in loose elements only: the same
elements must move in both, so let the same ones move in both; where a loose element in which they
differ is discontent in one of them after that, let it move there, and they differ less. When one of
the two is at rest, so is the other. Thus all that was said above of ends holds of where the other
elements stop.

Where *readings* fails, *order* may be asked of firm movements only (*firm*): of elements that must
move and may go one way only, none being torn both ways. All of this is then shown of the ends to
which firm movements lead.

Of an element with a spring and two positions nothing has to be asked, unless its demands depend on
where it stands itself: it always demands one of them, so it must still move or must move back.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Literal

from msgspec import Struct, structs

from verifier.transition.compiled import Compiled
from verifier.transition.conditions import Meaning
from verifier.transition.encoding import Encoding
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.system import Choice, Goal, Latch, System

AFTER = "hands and surroundings stand still"
FIRST = "nothing has happened yet"


Case = Literal["plain", "firm", "persistent"]


class Racing(Struct, frozen=True):
    """The questions; loose: None if no element is loose.

    spoilt: of each element, the literal of a step in which *order* fails for its demand.
    """

    system: System
    readings: Goal
    leaks: Goal
    order: Goal
    loose: Goal | None
    spoilt: tuple[int, ...]

    @property
    def goals(self) -> tuple[Goal, ...]:
        asked = (self.readings, self.leaks, self.order)
        return asked if self.loose is None else (*asked, self.loose)


def racing_of(compiled: Compiled, case: Case, loose: Collection[int] = ()) -> Racing:
    """The questions about one circuit. loose: elements with two positions."""
    graph = compiled.system.graph.copy()
    demands = _Demands(compiled, compiled.meaning.on(graph), case, loose)
    spoilt = demands.order()
    steps = {f"{case} order": graph.any([*spoilt, demands.torn()])}
    choices = [graph.input("hands and surroundings stand still from the next state on")]
    if loose:
        steps["loose"] = demands.felt(choices)
    after = graph.input(AFTER)
    first = graph.input(FIRST)
    ready = graph.either(first, compiled.at_rest)
    begun = graph.either(after, graph.both(choices[0], ready))
    latches = [Latch(AFTER, after >> 1, False, begun), Latch(FIRST, first >> 1, True, FALSE)]
    goals = []
    for name, literal in steps.items():
        mark = graph.input(f"{name} failed")
        latches.append(Latch(graph.names[mark >> 1], mark >> 1, False, graph.both(after, literal)))
        goals.append(Goal(f"no race: {name}", mark))
    still = graph.either(after ^ 1, stillness(compiled, graph))
    system = compiled.system
    return Racing(
        system=structs.replace(
            system,
            graph=graph,
            latches=(*system.latches, *latches),
            choices=(*system.choices, *(Choice(graph.names[c >> 1], c >> 1) for c in choices)),
            step_allowed=graph.both(system.step_allowed, still),
            encoding=graph.both(system.encoding, still),
        ),
        readings=Goal("no race: readings", graph.both(after, demands.either_way())),
        leaks=Goal("no race: leaks", graph.both(after, demands.leaky())),
        order=goals[0],
        loose=goals[1] if loose else None,
        spoilt=tuple(spoilt),
    )


def stillness(compiled: Compiled, graph: Graph) -> int:
    """A literal of a step: no hand acts, no held hand and no switch changes."""
    latches = compiled.system.latches
    codes = [i for code in compiled.switch_codes for i in code]
    kept = [latches[i] for i in (*compiled.hand_latches.values(), *codes)]
    acting = compiled.meaning.encoding.acting.values()
    return graph.all(
        [*(graph.same(2 * latch.node, latch.next) for latch in kept), *(2 * n ^ 1 for n in acting)]
    )


class _Demands:
    """Of each element, whether it may go up, may go down, and must move, no hand acting (M3).

    `dry` is the same where no volume has kept any air; `moves`: it goes up, goes down, there.
    """

    def __init__(
        self, compiled: Compiled, meaning: Meaning, case: Case, loose: Collection[int]
    ) -> None:
        self._compiled = compiled
        self._graph = graph = meaning.graph
        self._encoding = meaning.encoding
        self._case = case
        self._loose = sorted(loose)
        self._wet = [
            (*ways(meaning.encoding, e, compiled.demands[e]), must)
            for e, must in enumerate(compiled.must_move)
        ]
        memory = {compiled.system.latches[i].node: FALSE for i in compiled.memory_latches.values()}
        self._dry = self._where(self._wet, memory)
        self._support = _support(graph, meaning.encoding.elements) if case == "plain" else []
        self._moves = [(up, down) for up, down, _ in self._dry]
        if case == "firm":
            self._moves = [
                (graph.all([must, up, down ^ 1]), graph.all([must, down, up ^ 1]))
                for up, down, must in self._dry
            ]

    def either_way(self) -> int:
        """Some element may move and need not, or may go up and may go down.

        Where nothing is ever cut off and no supply is weak, that takes a volume in which supply and
        exhaust fight.
        """
        compiled, graph = self._compiled, self._graph
        circuit = compiled.circuit
        weak = any("weak" in circuit.switches[one.switch].values for one in circuit.supplies)
        if not compiled.memory_latches and not weak:
            return compiled.contest.bad
        found = []
        for up, down, must in self._wet:
            found.append(graph.both(up, down))
            found.append(graph.both(graph.either(up, down), must ^ 1))
        return graph.any(found)

    def torn(self) -> int:
        """Some element must move and may go either way, where that matters."""
        if self._case != "firm":
            return FALSE
        return self._graph.any(self._graph.all(ways) for ways in self._dry)

    def leaky(self) -> int:
        """Some element's demand is another one where no air is kept."""
        graph = self._graph
        return graph.any(
            graph.same(a, b) ^ 1
            for wet, dry in zip(self._wet, self._dry, strict=True)
            for a, b in zip(wet, dry, strict=True)
        )

    def order(self) -> list[int]:
        """For each element, the literal of a step in which others move and it must, and does not,
        and in which that is none of the cases of *order*."""
        asked = [e for e in range(len(self._moves)) if not self._always_fine(e)]
        moved = [self._moved_alone(e) for e in asked] if self._case != "persistent" else []
        rows: list[tuple[int, ...]] = [self._moves[e] for e in asked]
        rows += [(self._dry[e][2],) for e in asked] if self._loose else []
        then = self._where([*rows, *moved], self._later())
        count = len(asked)
        spoilt = [FALSE] * len(self._moves)
        for k, element in enumerate(asked):
            after = then[-count + k] if moved else (FALSE,) * 4
            must = then[count + k][0] if self._loose else TRUE
            spoilt[element] = self._spoilt(element, then[k], must, after)
        return spoilt

    def _spoilt(
        self, element: int, then: tuple[int, ...], must: int, after: tuple[int, ...]
    ) -> int:
        """then, must: after the step, that it goes up, goes down, must move. after: had it gone up,
        it must move, and goes down; had it gone down, it must move, and goes up."""
        graph, go = self._graph, self._encoding.go.get(element)
        found = []
        for way, (later, back) in enumerate((after[:2], after[2:])):
            fine = graph.either(then[way], back)
            if element in self._loose:
                fine = graph.either(fine, graph.both(must ^ 1, later ^ 1))
            found.append(graph.both(self._moves[element][way], fine ^ 1))
        return graph.both(TRUE if go is None else 2 * go ^ 1, graph.any(found))

    def _always_fine(self, element: int) -> bool:
        """A spring and two positions, and demands that do not depend on where it stands."""
        thing = self._compiled.circuit.elements[element]
        if self._case != "plain" or thing.otherwise is None or len(thing.positions) != 2:
            return False
        demands = [literal for _, literal in self._compiled.demands[element]]
        return not any(self._support[one >> 1] >> element & 1 for one in demands)

    def felt(self, choices: list[int]) -> int:
        """A literal of a state: other demands would follow were loose elements put elsewhere.
        Choices that say which are appended."""
        graph, dry = self._graph, self._dry
        values: dict[int, int] = {}
        elsewhere: dict[int, int] = {}
        for element in self._loose:
            (node,) = self._encoding.elements[element]
            name = self._compiled.circuit.elements[element].name
            elsewhere[element] = graph.input(f"{name} might stand elsewhere")
            choices.append(elsewhere[element])
            values[node] = graph.choose(elsewhere[element], 2 * node ^ 1, 2 * node)
        then = self._where(dry, values)
        content = [
            graph.either(put ^ 1, graph.both(dry[e][2] ^ 1, then[e][2] ^ 1))
            for e, put in elsewhere.items()
        ]
        other = [
            graph.both(elsewhere.get(e, FALSE) ^ 1, graph.same(a, b) ^ 1)
            for e, rows in enumerate(zip(dry, then, strict=True))
            for a, b in zip(*rows, strict=True)
        ]
        return graph.both(graph.all(content), graph.any(other))

    def _moved_alone(self, element: int) -> tuple[int, ...]:
        """Had the element gone up: it must move, and goes down; had it gone down: likewise."""
        (up, down), must = self._moves[element], self._dry[element][2]
        rises = self._graph.substitute([must, down], self._moved(element, TRUE, FALSE))
        falls = self._graph.substitute([must, up], self._moved(element, FALSE, TRUE))
        return (*rises, *falls)

    def _later(self) -> dict[int, int]:
        """The position bits after a step in which those that are chosen and must move do."""
        found: dict[int, int] = {}
        for element, node in self._encoding.go.items():
            up, down = (self._graph.both(2 * node, way) for way in self._moves[element])
            found.update(self._moved(element, up, down))
        return found

    def _moved(self, element: int, up: int, down: int) -> dict[int, int]:
        """The position bits of an element that goes up or down, if it does."""
        graph, encoding = self._graph, self._encoding
        found = {}
        for k, node in enumerate(encoding.elements[element], 1):
            leaves = graph.both(down, encoding.at(element, (k,)))
            arrives = graph.both(up, encoding.at(element, (k - 1,)))
            stays = graph.both(encoding.beyond(element, k), leaves ^ 1)
            found[node] = graph.either(stays, arrives)
        return found

    def _where(
        self, rows: Sequence[tuple[int, ...]], values: dict[int, int]
    ) -> list[tuple[int, ...]]:
        """The rows of literals with input nodes replaced."""
        if not values:
            return list(rows)
        found = iter(self._graph.substitute([one for row in rows for one in row], values))
        return [tuple(next(found) for _ in row) for row in rows]


def ways(encoding: Encoding, element: int, demands: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """The element may go up, may go down, by the literals of what is demanded of it (M3)."""
    graph = encoding.graph
    up = [graph.both(told, encoding.beyond(element, t) ^ 1) for t, told in demands]
    down = [graph.both(told, encoding.beyond(element, t + 1)) for t, told in demands]
    return graph.any(up), graph.any(down)


def _support(graph: Graph, bits: Sequence[Sequence[int]]) -> list[int]:
    """Of each node, which elements' positions it depends on: bit e is element e."""
    own = {node: 1 << e for e, nodes in enumerate(bits) for node in nodes}
    found: list[int] = []
    for node, (a, b) in enumerate(graph.fanins):
        found.append(own.get(node, 0) if a < 0 else found[a >> 1] | found[b >> 1])
    return found
