"""What both translations of a circuit say, thing by thing, in the words of the trade.

The names of latches and choices are all that the translations share; which input of the graph is
which variable of the second translation is told here.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from verifier.second import variables as says
from verifier.second.formulas import TRUE, Formula, Variable
from verifier.second.translation import Translation
from verifier.transition.compiled import Compiled
from verifier.transition.system import Goal

# The literal of the graph that is never true.
_NEVER = 0

_ROLES = {"bad": "what breaks", "witness": "what is asked for by", "trigger": "the case of"}


class Twice(Struct, frozen=True):
    """literal: in the graph; so are `more`, which are true with it.   formula: in the second
    translation.   property: number of the only property that it matters for; None if it is about
    the circuit."""

    what: str
    literal: int
    formula: Formula
    property: int | None = None
    more: tuple[int, ...] = ()


def inputs_of(compiled: Compiled) -> dict[Variable, int]:
    """The graph's input node for each variable that it has a bit for."""
    latches, encoding = compiled.system.latches, compiled.meaning.encoding
    nodes: dict[Variable, int] = {}
    for e, code in enumerate(compiled.element_codes):
        nodes.update({(says.STANDS, e, k): latches[i].node for k, i in enumerate(code, 1)})
    for s, code in enumerate(compiled.switch_codes):
        nodes.update({(says.SET, s, k): latches[i].node for k, i in enumerate(code)})
    for hand, latch in compiled.hand_latches.items():
        nodes[says.HELD, hand, 0] = latches[latch].node
    for volume, latch in compiled.memory_latches.items():
        nodes[says.KEPT, volume, 0] = latches[latch].node
    for s, bits in enumerate(encoding.next_switches):
        nodes.update({(says.SET_AFTER, s, k): node for k, node in enumerate(bits)})
    for word, choices in (
        (says.ACTS, encoding.acting),
        (says.HELD_AFTER, encoding.next_held),
        (says.MOVES, encoding.go),
        (says.DOWN, encoding.down),
        (says.EMPTY, encoding.empty),
    ):
        nodes.update({(word, thing, 0): node for thing, node in choices.items()})
    for (number, instance), latch in observers(compiled).items():
        nodes[says.SEEN, number, instance] = latches[latch].node
    return nodes


def observers(compiled: Compiled) -> dict[tuple[int, int], int]:
    """The last latches, which observe *order* properties, by property and instance."""
    orders = [
        (number, i)
        for number, item in enumerate(compiled.circuit.properties)
        if item.form == "order"
        for i in range(len(item.instances))
    ]
    count = len(compiled.system.latches)
    return dict(zip(orders, range(count - len(orders), count), strict=True))


def pressures(compiled: Compiled, second: Translation) -> Iterator[Twice]:
    """P1 to P4. A volume without a bit for what it kept must be one that is never trapped."""
    air = second.air
    for v, volume in enumerate(compiled.circuit.volumes):
        yield Twice(f"{volume.name} is fed", compiled.pressures.fed[v], air.fed[v])
        yield Twice(f"{volume.name} is vented", compiled.pressures.vented[v], air.vented[v])
        yield Twice(f"{volume.name} is trapped", compiled.trapped[v], air.trapped[v])
        if v not in compiled.memory_latches:
            yield Twice(f"{volume.name} is trapped, which it never is", _NEVER, air.trapped[v])
        yield Twice(f"{volume.name} can be high", compiled.high[v], air.high[v])
        yield Twice(f"{volume.name} can be low", compiled.low[v], air.low[v])


def paths(compiled: Compiled, second: Translation) -> Iterator[Twice]:
    """Open ways of liquid and vapour, as far as questions about single states speak of them."""
    graph = compiled.system.graph.copy()
    meaning, networks = compiled.meaning.on(graph), compiled.circuit.networks
    for path, formula in second.paths.items():
        literal, network = meaning.some(path), networks[path.network]
        if literal >> 1 < len(compiled.system.graph.fanins):
            ends = f"from {network.places[path.start]} to {network.places[path.end]}"
            yield Twice(f"an open path of {network.medium} {ends}", literal, formula)


def movement(compiled: Compiled, second: Translation) -> Iterator[Twice]:
    """M2, M3, M6, and where elements stand after a step (M4, M5)."""
    latches = compiled.system.latches
    for e, element in enumerate(compiled.circuit.elements):
        demands = dict(compiled.demands[e])
        for position, name in enumerate(element.positions):
            literal = demands.get(position, _NEVER)
            yield Twice(f"{element.name} is sent to {name}", literal, second.demanded[e][position])
        yield Twice(f"{element.name} must move", compiled.must_move[e], second.must_move[e])
    yield Twice("at rest", compiled.at_rest, second.at_rest)
    for e, element in enumerate(compiled.circuit.elements):
        following = tuple(latches[latch].next for latch in compiled.element_codes[e])
        for k, literal in enumerate(following):
            what = f"{element.name} stands at {element.positions[k + 1]} or beyond after the step"
            yield Twice(what, literal, second.beyond_after[e][k], more=following[:k])


def operation(compiled: Compiled, second: Translation) -> Iterator[Twice]:
    """O1 to O3, and what volumes have kept after a step (P4)."""
    circuit, system, facts = compiled.circuit, compiled.system, second.facts
    for hand, latch in compiled.hand_latches.items():
        after = facts.variable(says.HELD_AFTER, hand)
        yield Twice(f"{circuit.hands[hand].name} after the step", system.latches[latch].next, after)
    for s, code in enumerate(compiled.switch_codes):
        for bit, latch in enumerate(code):
            after = facts.variable(says.SET_AFTER, s, bit)
            what = f"{circuit.switches[s].name} after the step"
            yield Twice(what, system.latches[latch].next, after)
    for volume, latch in compiled.memory_latches.items():
        what = f"what {circuit.volumes[volume].name} has kept after the step"
        yield Twice(what, system.latches[latch].next, second.kept_after[volume])
    for k, one in enumerate(circuit.assumptions):
        what = f"assumption “{one.name}”"
        yield Twice(f"{what} in a state", system.state_assumptions[k][1], second.state_allowed[k])
        yield Twice(f"{what} in a step", system.assumptions[k][1], second.step_allowed[k])
    every = second.formulas.all_of
    yield Twice("what is allowed in a state", system.state_allowed, every(second.state_allowed))
    yield Twice("what is allowed in a step", system.step_allowed, every(second.step_allowed))
    yield Twice("what bits may say", system.encoding, TRUE)


def properties(compiled: Compiled, second: Translation) -> Iterator[Twice]:
    """Q3 to Q5, Q8, and that there is no contest (Q9)."""
    yield Twice("a contest", compiled.contest.bad, second.contested)
    goals: dict[tuple[int, int, str, int], Goal] = {
        (q.property, q.instance, q.role, q.index): q.goal for q in compiled.questions
    }
    for question in second.questions:
        item = compiled.circuit.properties[question.property]
        label = item.instances[question.instance].label
        what = (
            f"{_ROLES[question.role]} {item.form} “{item.name}”{f' for {label}' if label else ''}"
        )
        goal = goals[question.property, question.instance, question.role, question.index]
        yield Twice(what, goal.bad, question.formula, question.property)
    seen = observers(compiled)
    for observer in second.observers:
        latch = compiled.system.latches[seen[observer.property, observer.instance]]
        yield Twice(latch.name, latch.next, observer.seen_after, observer.property)


def strange(compiled: Compiled, second: Translation) -> list[str]:
    """What is not told by literals: latches that do not begin as the circuit says (O4), choices
    other than those that a step has, questions that the circuit does not ask."""
    return [*_choices(compiled), *_asked(compiled, second), *_start(compiled)]


def _choices(compiled: Compiled) -> list[str]:
    """Variables of a step that are no choices, and the other way round."""
    encoding = compiled.meaning.encoding
    of_steps = [*encoding.acting.values(), *encoding.next_held.values(), *encoding.go.values()]
    of_steps += [*encoding.down.values(), *encoding.empty.values()]
    of_steps += [node for bits in encoding.next_switches for node in bits]
    free = [choice.node for choice in compiled.system.choices]
    return [] if sorted(of_steps) == sorted(free) else ["what can be chosen in a step"]


def _asked(compiled: Compiled, second: Translation) -> list[str]:
    """Questions that one asks and the other does not."""
    ours = [(q.property, q.instance, q.role, q.index) for q in compiled.questions]
    theirs = [(q.property, q.instance, q.role, q.index) for q in second.questions]
    if sorted(ours) == sorted(theirs):
        return []
    number = min(set(ours) ^ set(theirs), default=ours[0])[0]
    return [f"what is asked of “{compiled.circuit.properties[number].name}”"]


def _start(compiled: Compiled) -> list[str]:
    """What does not begin as the circuit says (O4)."""
    circuit, latches = compiled.circuit, compiled.system.latches
    wanted: dict[int, bool] = {}
    for element, code in zip(circuit.elements, compiled.element_codes, strict=True):
        wanted.update({latch: k <= element.start for k, latch in enumerate(code, 1)})
    for switch, code in zip(circuit.switches, compiled.switch_codes, strict=True):
        # Bits after the first true one do not count.
        wanted.update(
            {latch: k == switch.start for k, latch in enumerate(code[: switch.start + 1])}
        )
    for hand, latch in compiled.hand_latches.items():
        wanted[latch] = circuit.hands[hand].starts_on
    for latch in (*compiled.memory_latches.values(), *observers(compiled).values()):
        wanted[latch] = False
    return [
        f"{latches[i].name} at the start"
        for i, bit in sorted(wanted.items())
        if latches[i].start != bit
    ]
