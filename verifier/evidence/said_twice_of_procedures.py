"""What both translations say of the procedure of a *recovers* (Q6).

Its system is that of the circuit with other choices of operator and surroundings. So what they
choose is compared, and then that all else is the circuit's with these choices put in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from verifier.evidence.said_twice import Twice
from verifier.second import variables as says
from verifier.second.formulas import Variable
from verifier.second.procedures import Procedure
from verifier.transition.compiled import Compiled
from verifier.transition.graph import Graph
from verifier.transition.recovery import Recovery
from verifier.transition.system import System


def altered(base: System, made: System, phases: int) -> list[str]:
    """What the system of a procedure takes over from the circuit's and may not change, and does;
    its phases have a latch and a choice each, and none has begun at the start."""
    latches, choices = len(base.latches), len(base.choices)
    own = made.latches[latches:]
    same = {
        "formulas": made.graph.fanins[: len(base.graph.fanins)] == base.graph.fanins,
        "latches": all(
            (a.node, a.start) == (b.node, b.start)
            for a, b in zip(base.latches, made.latches, strict=False)
        ),
        "choices": made.choices[:choices] == base.choices,
        "assumptions": (made.state_allowed, made.state_assumptions)
        == (base.state_allowed, base.state_assumptions)
        and [name for name, _ in made.assumptions] == [name for name, _ in base.assumptions],
        "phases": len(own) == len(made.choices) - choices == phases,
        "start": not any(latch.start for latch in own),
    }
    return [f"the {what} of a procedure" for what, kept in same.items() if not kept]


def phases(base: System, made: System) -> dict[Variable, int]:
    """The graph's input node for each variable that a procedure adds."""
    nodes: dict[Variable, int] = {}
    for k, latch in enumerate(made.latches[len(base.latches) :]):
        nodes[says.BEGUN, k, 0] = latch.node
    for k, choice in enumerate(made.choices[len(base.choices) :]):
        nodes[says.BEGIN, k, 0] = choice.node
    return nodes


def procedures(
    compiled: Compiled, posed: Recovery, told: Procedure, property: int
) -> Iterator[Twice]:
    """When phases are under way, what hands and surroundings do in them, and what is asked."""
    circuit, latches = compiled.circuit, posed.system.latches
    name = f"recovers “{circuit.properties[property].name}”"
    own = latches[len(compiled.system.latches) :]
    for k, (latch, under_way) in enumerate(zip(own, told.under_way, strict=True)):
        yield Twice(f"phase {k + 1} of {name}", latch.next, under_way, property)
    yield Twice(f"the beginning of {name}", posed.begun, told.under_way[0], property)
    for hand in compiled.meaning.encoding.acting:
        what = f"whether {circuit.hands[hand].name} acts in {name}"
        yield Twice(what, posed.acting[hand], told.operated[says.ACTS, hand, 0], property)
    for hand, latch_of_hand in compiled.hand_latches.items():
        what = f"{circuit.hands[hand].name} after a step of {name}"
        formula = told.operated[says.HELD_AFTER, hand, 0]
        yield Twice(what, latches[latch_of_hand].next, formula, property)
    for s, code in enumerate(compiled.switch_codes):
        for bit, latch_of_switch in enumerate(code):
            what = f"{circuit.switches[s].name} after a step of {name}"
            formula = told.operated[says.SET_AFTER, s, bit]
            yield Twice(what, latches[latch_of_switch].next, formula, property)
    yield Twice(f"the end of {name}", posed.over.bad, told.over, property)
    yield Twice(f"what breaks {name}", posed.goal.bad, told.bad, property)


def made_again(base: System, made: System) -> Iterator[tuple[str, int, int]]:
    """Literals of the procedure's system, each with the one of the circuit that it is made from."""
    for latch, original in zip(made.latches, base.latches, strict=False):
        yield f"{original.name} after the step", latch.next, original.next
    for (name, literal), (_, asked) in zip(made.assumptions, base.assumptions, strict=True):
        yield f"assumption “{name}”", literal, asked
    yield "what is allowed in a step", made.step_allowed, base.step_allowed
    yield "what bits may say", made.encoding, base.encoding


def depending(graph: Graph, inputs: Iterable[int]) -> set[int]:
    """The nodes that depend on one of some input nodes, these included."""
    found = set(inputs)
    for node, (a, b) in enumerate(graph.fanins):
        if a >= 0 and (a >> 1 in found or b >> 1 in found):
            found.add(node)
    return found
