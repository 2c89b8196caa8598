"""Choices of a step drawn at random, and what they mean."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from verifier.model.run import State
from verifier.transition.compiled import Compiled
from verifier.transition.decode import encode
from verifier.transition.system import Choice

# For each state.
DRAWN = 6


def drawn_choices(
    compiled: Compiled, choices: Sequence[Choice], state: State, random: Random
) -> list[tuple[bool, ...]]:
    """Drawn at random, for some steps so that nothing from outside happens, and nothing leaks."""
    encoding = compiled.meaning.encoding
    nodes = [choice.node for choice in compiled.system.choices]
    still = _unchanged(compiled, state)
    found = []
    for quiet in (k % 3 for k in range(DRAWN)):
        chosen = [random.random() < 0.5 for _ in choices]
        if quiet:
            for k, node in enumerate(nodes):
                chosen[k] = still.get(node, chosen[k])
                if quiet == 2 and node in encoding.empty.values():
                    chosen[k] = False
        found.append(tuple(chosen))
    return found


def _unchanged(compiled: Compiled, state: State) -> dict[int, bool]:
    """The values of the choice bits of a step in which no hand acts and nothing around changes."""
    encoding, code = compiled.meaning.encoding, encode(compiled, state)
    found = dict.fromkeys(encoding.acting.values(), False)
    for hand, node in encoding.next_held.items():
        found[node] = state.hands[hand]
    for nodes, latches in zip(encoding.next_switches, compiled.switch_codes, strict=True):
        found.update((node, code[i]) for node, i in zip(nodes, latches, strict=True))
    return found


def is_still(compiled: Compiled, state: State, chosen: Sequence[bool]) -> bool:
    """No hand acts in the step, and no held hand and no switch changes; a switch keeps its code,
    also where another one means the same."""
    own = (choice.node for choice in compiled.system.choices)
    values = dict(zip(own, chosen, strict=False))
    return all(values[node] == value for node, value in _unchanged(compiled, state).items())


def chosen_of(compiled: Compiled, nodes: dict[int, int], chosen: Sequence[bool]) -> dict[int, bool]:
    values = dict(zip((c.node for c in compiled.system.choices), chosen, strict=False))
    return {thing: values[node] for thing, node in nodes.items()}
