"""Whether the compiled definitions say of a circuit what the simulator does.

`compare_compiled(circuit)` takes reachable states and states drawn at random. It compares for each:
pressures, demanded positions, must move, at rest, what the assumptions allow, contest, what every
property says of it, and the set of states that one step leads to. Steps of the simulator must be
steps of the compiled system, with equal costs; random choices of the compiled system must lead to
states that the simulator's steps lead to.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

from tests.agreement.cases import Cases, Disagreement, bits_of
from tests.agreement.recovered import compare_recovery
from verifier.model.circuit import Circuit
from verifier.model.run import State, Step
from verifier.simulation.explore import Exploration
from verifier.simulation.judging import fights, out_of_order, shows, triggered
from verifier.simulation.movement import at_rest, demanded, must_move
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import (
    acting_sets,
    canonical,
    cost,
    forbidden,
    start,
    successors,
    surroundings,
)
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled, Question
from verifier.transition.decode import choices_of, encode, state_of

REACHABLE = 300
MOST_STATES = 24
FEWER_STATES = 8
MOST_STEPS = 600
STEPS_OF_ONE = 24
RECOVERING = 3


def compare_compiled(
    circuit: Circuit,
    seed: int = 0,
    exploration: Exploration | None = None,
    most: int = MOST_STATES,
) -> None:
    """Raises Disagreement. An exploration that is there already need not be made again. most: of
    the reachable states, so many are looked at."""
    random = Random(seed)
    compiled = compile_circuit(circuit)
    begin = tuple(latch.start for latch in compiled.system.latches)
    if state_of(compiled, begin) != start(circuit):
        raise Disagreement("the start")
    reachable = (exploration or Exploration(circuit, REACHABLE)).states
    states = [*random.sample(reachable, min(len(reachable), most))]
    states += (_any_state(circuit, random) for _ in range(most // 3))
    random.shuffle(states)
    _compare_states(compiled, states)
    _compare_orders(compiled, states)
    _compare_steps(compiled, states, random)
    for p, property in enumerate(circuit.properties):
        for i in range(len(property.instances) if property.form == "recovers" else 0):
            compare_recovery(
                compiled, p, i, states[: max(1, RECOVERING * most // MOST_STATES)], random
            )


def _any_state(circuit: Circuit, random: Random) -> State:
    """A state that the assumptions allow, reachable or not."""
    hands, settings = random.choice(surroundings(circuit))
    positions = tuple(random.randrange(len(e.positions)) for e in circuit.elements)
    memory = tuple(random.random() < 0.5 for _ in circuit.volumes)
    return canonical(circuit, State(positions, hands, settings, memory))


def _compare_states(compiled: Compiled, states: Sequence[State]) -> None:
    circuit = compiled.circuit
    codes = [encode(compiled, state) for state in states]
    if [state_of(compiled, code) for code in codes] != list(states):
        raise Disagreement("encoding and decoding")
    cases = Cases(compiled.system, codes)

    def compare(what: str, literal: int, of: Callable[[State], bool]) -> None:
        cases.check(what, literal, [of(state) for state in states])

    airs = [pressures(circuit, state) for state in states]
    for v, volume in enumerate(circuit.volumes):
        cases.check(f"{volume.name} high", compiled.high[v], [air.can_high[v] for air in airs])
        cases.check(f"{volume.name} low", compiled.low[v], [air.can_low[v] for air in airs])
        cases.check(f"{volume.name} trapped", compiled.trapped[v], [a.trapped[v] for a in airs])
        fed, vented = compiled.pressures.fed[v], compiled.pressures.vented[v]
        cases.check(f"{volume.name} fed", fed, [air.fed[v] for air in airs])
        cases.check(f"{volume.name} vented", vented, [air.vented[v] for air in airs])
    for e, element in enumerate(circuit.elements):
        _compare_demands(compiled, cases, states, e)
        must = [must_move(circuit, state, e) for state in states]
        cases.check(f"{element.name} must move", compiled.must_move[e], must)
    compare("at rest", compiled.at_rest, lambda state: at_rest(circuit, state))
    compare("contest", compiled.contest.bad, lambda state: fights(circuit, state))
    allowed = compiled.system.state_allowed
    compare("allowed", allowed, lambda state: not forbidden(circuit, state, ()))
    for question in compiled.questions:
        property = circuit.properties[question.property]
        instance = property.instances[question.instance]
        name, bad = question.goal.name, question.goal.bad
        if question.role == "trigger":
            trigger = instance.triggers[question.index]
            expected = [triggered(circuit, property, trigger, state) for state in states]
            cases.check(name, bad, expected)
        elif property.form != "order":
            expected = [shows(circuit, property, instance, state) for state in states]
            cases.check(name, bad, expected)


def _compare_demands(
    compiled: Compiled, cases: Cases, states: Sequence[State], element: int
) -> None:
    circuit, targets = compiled.circuit, dict(compiled.demands[element])
    found = [demanded(circuit, state, pressures(circuit, state), element, ()) for state in states]
    for position, name in enumerate(circuit.elements[element].positions):
        what = f"{circuit.elements[element].name} is sent to {name}"
        cases.check(what, targets.get(position, 0), [position in some for some in found])


def _compare_orders(compiled: Compiled, states: Sequence[State]) -> None:
    """What an *order* says and remembers, with its observer off and on."""
    circuit, system = compiled.circuit, compiled.system
    observers = range(len(system.latches))[-len(_orders(compiled)) :] if _orders(compiled) else ()
    for question, latch in zip(_orders(compiled), observers, strict=True):
        property = circuit.properties[question.property]
        instance = property.instances[question.instance]
        for ready in (False, True):
            codes = [list(encode(compiled, state)) for state in states]
            for code in codes:
                code[latch] = ready
            cases = Cases(compiled.system, codes)
            told = [out_of_order(circuit, property, instance, state, ready) for state in states]
            cases.check(question.goal.name, question.goal.bad, [broken for broken, _ in told])
            following = system.latches[latch].next
            cases.check(system.latches[latch].name, following, [later for _, later in told])


def _orders(compiled: Compiled) -> list[Question]:
    forms = [property.form for property in compiled.circuit.properties]
    return [q for q in compiled.questions if forms[q.property] == "order" and q.role == "bad"]


def _compare_steps(compiled: Compiled, states: Sequence[State], random: Random) -> None:
    """Every step of the simulator is one of the compiled system, and the other way round."""
    circuit = compiled.circuit
    pairs: list[tuple[State, Step]] = []
    following: dict[State, set[State]] = {}
    enumerated = 0
    for state in states:
        steps = list(successors(circuit, state))
        following[state] = {step.state for step in steps}
        some = random.sample(steps, min(len(steps), STEPS_OF_ONE))
        pairs += ((state, step) for step in some)
        enumerated += len(steps)
        if enumerated > MOST_STEPS:
            break
    codes_of = {state: encode(compiled, state) for state in following}
    codes = [codes_of[state] for state, _ in pairs]
    choices = [choices_of(compiled, state, step) for state, step in pairs]
    _accepts(compiled, Cases(compiled.system, codes, choices), pairs)
    sources = [state for state in following for _ in range(STEPS_OF_ONE)]
    drawn = [[random.random() < 0.5 for _ in compiled.system.choices] for _ in sources]
    cases = Cases(compiled.system, [codes_of[state] for state in sources], drawn)
    allowed = [bool(bit) for bit in bits_of(cases, [compiled.system.step_allowed])[0]]
    after = list(
        zip(*bits_of(cases, [latch.next for latch in compiled.system.latches]), strict=True)
    )
    acting = compiled.meaning.encoding.acting
    where = {choice.node: i for i, choice in enumerate(compiled.system.choices)}
    for case, state in enumerate(sources):
        if not allowed[case]:
            continue
        acts = tuple(hand for hand, node in acting.items() if drawn[case][where[node]])
        if acts not in acting_sets(circuit, state):
            raise Disagreement(f"hands {acts} may not act in {state}")
        there = state_of(compiled, after[case])
        if there not in following[state]:
            raise Disagreement(f"no step leads from {state} to {there}")


def _accepts(compiled: Compiled, cases: Cases, pairs: Sequence[tuple[State, Step]]) -> None:
    circuit, system = compiled.circuit, compiled.system
    cases.check("a step", system.step_allowed, [True] * len(pairs))
    codes_of = {step.state: encode(compiled, step.state) for _, step in pairs}
    codes = [codes_of[step.state] for _, step in pairs]
    memory = {latch: volume for volume, latch in compiled.memory_latches.items()}
    beyond = len(system.latches) - len(_orders(compiled))
    for index, latch in enumerate(system.latches[:beyond]):
        if index not in memory:
            cases.check(f"next {latch.name}", latch.next, [code[index] for code in codes])
    after = zip(*bits_of(cases, [latch.next for latch in system.latches]), strict=True)
    for there, code in dict.fromkeys(zip((step.state for _, step in pairs), after, strict=True)):
        if state_of(compiled, code) != there:
            raise Disagreement(f"the step leads to {state_of(compiled, code)}, not {there}")
    prices = [cost(circuit, state, step) for state, step in pairs]
    turned = [system.events[k] for k in system.surroundings]
    for which, literals in enumerate((system.events, turned, system.motions)):
        columns = bits_of(cases, [definition.literal for definition in literals])
        counted = [sum(bits) for bits in zip(*columns, strict=True)] or [0] * len(pairs)
        if counted != [price[which] for price in prices]:
            raise Disagreement(("events", "surroundings", "motions")[which])
