"""Systems in which hands and surroundings are changed only at rest.

`unhurried`: they may do anything, at rest.   `prescribed`: they do what was written down, one thing
after the other, each at rest.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, structs

from verifier.model.condition import Condition
from verifier.transition.compiled import Compiled
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.system import Choice, Goal, Latch, System

AT_REST = "hands and surroundings are changed at rest"
AS_WRITTEN = "hands and surroundings are changed as written"


class Change(Struct, frozen=True):
    """What operator and surroundings do in one step: held hands and switches after it, and the
    momentary hands that act in it. Parallel to hands and switches of the circuit."""

    hands: tuple[bool, ...]
    settings: tuple[int, ...]
    acting: tuple[int, ...]


def unhurried(compiled: Compiled, together: Sequence[tuple[int, int]] = ()) -> System:
    """Nothing is changed while some element must move.

    together: pairs of elements that, where they stand alike, do so after any such change too: it is
    not the change that is to tell them apart, which a hand that acts for a moment could.
    """
    system = compiled.system
    graph = system.graph.copy()
    event = graph.any(definition.literal for definition in system.events)
    alike = [_alike(compiled, graph, a, b) for a, b in together]
    calm = graph.either(event ^ 1, graph.all([compiled.at_rest, *alike]))
    return _narrowed(system, graph, AT_REST, calm)


def _alike(compiled: Compiled, graph: Graph, a: int, b: int) -> int:
    """Two elements that stand alike before a step do so after it."""
    latches = compiled.system.latches
    pairs = list(zip(compiled.element_codes[a], compiled.element_codes[b], strict=True))
    now = graph.all(graph.same(2 * latches[x].node, 2 * latches[y].node) for x, y in pairs)
    after = graph.all(graph.same(latches[x].next, latches[y].next) for x, y in pairs)
    return graph.either(now ^ 1, after)


def prescribed(
    compiled: Compiled, changes: Sequence[Change], condition: Condition, name: str
) -> tuple[System, Goal]:
    """The runs in which just these changes come, one after the other, each at rest; and the goal of
    rest after the last of them with the condition true under some reading. Not every state has a
    step: after a change that an assumption excludes nothing can follow."""
    graph = compiled.system.graph.copy()
    meaning = compiled.meaning.on(graph)
    system = compiled.system
    done = [graph.input(f"change {k + 1} of {name} has come") for k in range(len(changes))]
    comes = graph.input(f"the next change of {name} comes")
    event = graph.any(definition.literal for definition in system.events)
    cases, latches = [graph.both(comes ^ 1, event ^ 1)], []
    before = TRUE
    for k, change in enumerate(changes):
        now = graph.all([comes, before, done[k] ^ 1])
        cases.append(graph.all([now, compiled.at_rest, _does(compiled, graph, change)]))
        told = f"change {k + 1} of {name} has come"
        latches.append(Latch(told, done[k] >> 1, False, graph.either(done[k], now)))
        before = graph.both(before, done[k])
    written = _narrowed(system, graph, AS_WRITTEN, graph.any(cases))
    shown = graph.all([before, compiled.at_rest, meaning.some(condition)])
    return structs.replace(
        written,
        latches=(*system.latches, *latches),
        choices=(*system.choices, Choice(f"the next change of {name} comes", comes >> 1, FALSE)),
    ), Goal(f"bad:{name}", shown)


def _does(compiled: Compiled, graph: Graph, change: Change) -> int:
    encoding = compiled.meaning.on(graph).encoding
    held = [
        encoding.hand(hand, following=True) ^ int(not change.hands[hand]) for hand in encoding.held
    ]
    settings = [
        encoding.setting(switch, (value,), following=True)
        for switch, value in enumerate(change.settings)
    ]
    acting = [2 * node ^ int(hand not in change.acting) for hand, node in encoding.acting.items()]
    return graph.all([*held, *settings, *acting])


def _narrowed(system: System, graph: Graph, name: str, step: int) -> System:
    return structs.replace(
        system,
        graph=graph,
        step_allowed=graph.both(system.step_allowed, step),
        assumptions=(*system.assumptions, (name, step)),
        state_assumptions=(*system.state_assumptions, (name, TRUE)),
    )
