"""A transition system in the AIGER format, version 1.9, for any model checker that reads it.

Choices are the inputs, latches start at their reset values, each question is a bad state, and the
constraint says which steps and states are allowed. Every allowed state has an allowed step (O3), so
that the constraint, which must hold in the bad state too, takes no run away. Names are the trade's.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec import Struct

from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.system import Goal, Latch, System


class Numbered(Struct, frozen=True):
    """A system in AIGER's numbers: variables are inputs, latches, ands, in this order from 1.

    `literal` maps nodes of the graph to AIGER literals; `ands` are (left, right) literals of the
    and-nodes, ascending, left at least right; `latches` are (reset, next).
    """

    literal: dict[int, int]
    inputs: tuple[str, ...]
    latches: tuple[tuple[bool, int], ...]
    latch_names: tuple[str, ...]
    bads: tuple[tuple[str, int], ...]
    constraints: tuple[tuple[str, int], ...]
    ands: tuple[tuple[int, int], ...]

    @property
    def header(self) -> str:
        """What stands behind `aig` or `aag`: M I L O A B C."""
        counts = (len(self.inputs), len(self.latches), 0, len(self.ands))
        return " ".join(map(str, (sum(counts), *counts, len(self.bads), len(self.constraints))))


def numbered(system: System, goals: Sequence[Goal], *, reduced: bool = False) -> Numbered:
    """The system with the goals as bad states.

    reduced: only the latches and choices that a goal or the constraint can feel, for programs that
    would carry the others along. Otherwise all of them, in the order of the system.
    """
    constraints = _constraints(system)
    roots = [goal.bad for goal in goals] + [literal for _, literal in constraints]
    latches = felt(system, roots) if reduced else system.latches
    cone = system.graph.cone([*roots, *(latch.next for latch in latches)])
    used = set(cone)
    choices = [one for one in system.choices if not reduced or one.node in used]
    literal = {0: FALSE}
    for node in [*(one.node for one in choices), *(latch.node for latch in latches)]:
        literal[node] = 2 * len(literal)
    ands = []
    for node in cone:
        if system.graph.is_and(node):
            pair = [_at(literal, fanin) for fanin in system.graph.fanins[node]]
            literal[node] = 2 * len(literal)
            ands.append((max(pair), min(pair)))
    return Numbered(
        literal,
        tuple(one.name for one in choices),
        tuple((latch.start, _at(literal, latch.next)) for latch in latches),
        tuple(latch.name for latch in latches),
        tuple((goal.name, _at(literal, goal.bad)) for goal in goals),
        tuple((name, _at(literal, at)) for name, at in constraints),
        tuple(ands),
    )


def felt(system: System, roots: Iterable[int]) -> tuple[Latch, ...]:
    """The latches that the roots depend on, now or later (cone of influence)."""
    graph = system.graph
    latch_of = {latch.node: latch for latch in system.latches}
    known: set[int] = set()
    fresh = _inputs(graph, roots)
    while fresh:
        known |= fresh
        nexts = [latch_of[node].next for node in sorted(fresh) if node in latch_of]
        fresh = _inputs(graph, nexts) - known
    return tuple(latch for latch in system.latches if latch.node in known)


def together(system: System, goals: Sequence[Goal]) -> Goal:
    """One goal for all: its bad states are those of any. The graph gets nodes for it."""
    return Goal("any of the questions", system.graph.any(goal.bad for goal in goals))


def ascii_file(model: Numbered, comments: Sequence[str] = ()) -> bytes:
    """The text form, `aag`."""
    first = len(model.inputs) + 1
    after = first + len(model.latches)
    lines = [f"aag {model.header}"]
    lines += [str(2 * (1 + k)) for k in range(len(model.inputs))]
    lines += [f"{2 * (first + k)} {row}" for k, row in enumerate(_latch_rows(model))]
    lines += _property_rows(model)
    lines += [f"{2 * (after + k)} {a} {b}" for k, (a, b) in enumerate(model.ands)]
    return "\n".join([*lines, *_tail(model, comments)]).encode()


def binary_file(model: Numbered, comments: Sequence[str] = ()) -> bytes:
    """The binary form, `aig`: inputs and latches are counted only, ands are differences."""
    lines = [f"aig {model.header}", *_latch_rows(model), *_property_rows(model)]
    after = len(model.inputs) + len(model.latches) + 1
    packed = bytearray()
    for k, (a, b) in enumerate(model.ands):
        for difference in (2 * (after + k) - a, a - b):
            while difference > 0x7F:
                packed.append(difference & 0x7F | 0x80)
                difference >>= 7
            packed.append(difference)
    head = "".join(f"{line}\n" for line in lines).encode()
    return head + bytes(packed) + "\n".join(_tail(model, comments)).encode()


def _constraints(system: System) -> list[tuple[str, int]]:
    """What steps and states must satisfy; conjuncts that are always true are left out."""
    rows = [
        ("steps that are allowed", system.step_allowed),
        ("states that are allowed", system.state_allowed),
    ]
    return [(name, literal) for name, literal in rows if literal != TRUE]


def _latch_rows(model: Numbered) -> list[str]:
    return [f"{then} {int(reset)}" for reset, then in model.latches]


def _property_rows(model: Numbered) -> list[str]:
    return [str(literal) for _, literal in (*model.bads, *model.constraints)]


def _tail(model: Numbered, comments: Sequence[str]) -> list[str]:
    """Symbols and comments; the last line is ended too."""
    kinds = {
        "i": model.inputs,
        "l": model.latch_names,
        "b": [name for name, _ in model.bads],
        "c": [name for name, _ in model.constraints],
    }
    symbols = [
        f"{letter}{number} {_one_line(name)}"
        for letter, names in kinds.items()
        for number, name in enumerate(names)
    ]
    said = ["c", *map(_one_line, comments)] if comments else []
    return [*symbols, *said, ""]


def _one_line(name: str) -> str:
    return " ".join(name.split())


def _at(literal: dict[int, int], at: int) -> int:
    return literal[at >> 1] ^ (at & 1)


def _inputs(graph: Graph, roots: Iterable[int]) -> set[int]:
    return {node for node in graph.cone(roots) if node and not graph.is_and(node)}
