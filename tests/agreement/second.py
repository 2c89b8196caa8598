"""Whether the second translation says of a circuit what the simulator does.

`compare_second(circuit)` compares, in reachable states and in states drawn at random: pressures,
demanded positions, must move, at rest, contest, assumptions, what every property says; then that
the simulator's steps are steps of the translation, and that random choices lead where the
simulator's steps lead.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random

from tests.agreement.cases import Disagreement
from verifier.model.circuit import Circuit
from verifier.model.run import State, Step
from verifier.second import variables as says
from verifier.second.formulas import Formula, Variable
from verifier.second.translation import Translation, translate
from verifier.simulation.explore import Exploration
from verifier.simulation.judging import fights, out_of_order, shows, triggered
from verifier.simulation.movement import at_rest, demanded, must_move
from verifier.simulation.pressures import pressures
from verifier.simulation.steps import acting_sets, canonical, forbidden, successors, surroundings

REACHABLE = 300
MOST_STATES = 16
MOST_STEPS = 400
STEPS_OF_ONE = 16

Values = dict[Variable, bool]


class Everything:
    """Nothing is taken to be impossible."""

    def __contains__(self, what: object) -> bool:
        return True


class Truth:
    """Truth of formulas for given values of the variables; those without one are false."""

    def __init__(self, second: Translation, values: Values) -> None:
        self._formulas = second.formulas
        self._values = values
        self._known: dict[Formula, bool] = {1: True}

    def of(self, formula: Formula) -> bool:
        number = abs(formula)
        stack = [number]
        while stack:
            top = stack[-1]
            parts = self._formulas.parts[top]
            missing = [abs(part) for part in parts if abs(part) not in self._known]
            if missing and top not in self._known:
                stack += missing
                continue
            stack.pop()
            if top in self._known:
                continue
            if parts:
                self._known[top] = all(self._known[abs(p)] == (p > 0) for p in parts)
            else:
                self._known[top] = self._values.get(self._formulas.said_by(top), False)
        return self._known[number] == (formula > 0)


def compare_second(circuit: Circuit, seed: int = 0, exploration: Exploration | None = None) -> None:
    """Raises Disagreement."""
    random = Random(seed)
    second = translate(circuit, Everything())
    reachable = (exploration or Exploration(circuit, REACHABLE)).states
    states = [*random.sample(reachable, min(len(reachable), MOST_STATES))]
    states += (_any_state(circuit, random) for _ in range(MOST_STATES // 3))
    for state in states:
        _compare_state(second, state)
        _compare_orders(second, state)
    _compare_steps(second, states, random)


def _any_state(circuit: Circuit, random: Random) -> State:
    hands, settings = random.choice(surroundings(circuit))
    positions = tuple(random.randrange(len(e.positions)) for e in circuit.elements)
    memory = tuple(random.random() < 0.5 for _ in circuit.volumes)
    return canonical(circuit, State(positions, hands, settings, memory))


def values_of(circuit: Circuit, state: State) -> Values:
    """The bits that mean a state."""
    values: Values = {}
    for e, position in enumerate(state.positions):
        for k in range(1, len(circuit.elements[e].positions)):
            values[says.STANDS, e, k] = position >= k
    for h, on in enumerate(state.hands):
        values[says.HELD, h, 0] = on
    for s, value in enumerate(state.settings):
        for k in range(len(circuit.switches[s].values) - 1):
            values[says.SET, s, k] = value == k
    for v, kept in enumerate(state.memory):
        values[says.KEPT, v, 0] = kept
    return values


def _demand(truth: Truth, what: str, formula: Formula, expected: bool) -> None:
    if truth.of(formula) != expected:
        raise Disagreement(f"{what}: the simulator says {expected}")


def _compare_state(second: Translation, state: State) -> None:
    circuit = second.circuit
    truth = Truth(second, values_of(circuit, state))
    air, told = pressures(circuit, state), second.air
    for v, volume in enumerate(circuit.volumes):
        _demand(truth, f"{volume.name} is fed", told.fed[v], air.fed[v])
        _demand(truth, f"{volume.name} is vented", told.vented[v], air.vented[v])
        _demand(truth, f"{volume.name} is trapped", told.trapped[v], air.trapped[v])
        _demand(truth, f"{volume.name} is high", told.high[v], air.can_high[v])
        _demand(truth, f"{volume.name} is low", told.low[v], air.can_low[v])
    for e, element in enumerate(circuit.elements):
        wanted = demanded(circuit, state, air, e, ())
        for position, name in enumerate(element.positions):
            formula = second.demanded[e][position]
            _demand(truth, f"{element.name} is sent to {name}", formula, position in wanted)
        must = must_move(circuit, state, e)
        _demand(truth, f"{element.name} must move", second.must_move[e], must)
    _demand(truth, "at rest", second.at_rest, at_rest(circuit, state))
    _demand(truth, "contest", second.contested, fights(circuit, state))
    allowed = second.formulas.all_of(second.state_allowed)
    _demand(truth, "allowed", allowed, not forbidden(circuit, state, ()))
    for question in second.questions:
        item = circuit.properties[question.property]
        instance = item.instances[question.instance]
        if question.role == "trigger":
            trigger = instance.triggers[question.index]
            expected = triggered(circuit, item, trigger, state)
        elif item.form != "order":
            expected = shows(circuit, item, instance, state)
        else:
            continue
        _demand(truth, f"{question.role} of {item.name}", question.formula, expected)


def _compare_orders(second: Translation, state: State) -> None:
    circuit = second.circuit
    for observer in second.observers:
        item = circuit.properties[observer.property]
        instance = item.instances[observer.instance]
        (bad,) = (
            q.formula
            for q in second.questions
            if (q.property, q.instance, q.role) == (observer.property, observer.instance, "bad")
        )
        for seen in (False, True):
            values = values_of(circuit, state)
            values[says.SEEN, observer.property, observer.instance] = seen
            truth = Truth(second, values)
            broken, later = out_of_order(circuit, item, instance, state, seen)
            _demand(truth, f"{item.name} broken", bad, broken)
            _demand(truth, f"{item.name} seen", observer.seen_after, later)


def _compare_steps(second: Translation, states: Sequence[State], random: Random) -> None:
    circuit, enumerated = second.circuit, 0
    for state in states:
        steps = list(successors(circuit, state))
        enumerated += len(steps)
        if enumerated > MOST_STEPS:
            break
        for step in random.sample(steps, min(len(steps), STEPS_OF_ONE)):
            there = _after(second, state, _choices(circuit, state, step))
            if there != step.state:
                raise Disagreement(f"the step leads to {there}, not to {step.state}")
        following = {step.state for step in steps}
        for _ in range(STEPS_OF_ONE):
            drawn = _drawn(circuit, lambda: random.random() < 0.5)
            acts = tuple(h for h in range(len(circuit.hands)) if drawn.get((says.ACTS, h, 0)))
            there = _after(second, state, drawn)
            if there is None:
                continue
            if acts not in acting_sets(circuit, state) or there not in following:
                raise Disagreement(f"no step leads from {state} to {there}")


def _choices(circuit: Circuit, before: State, step: Step) -> Values:
    after = step.state
    values = {(says.ACTS, hand, 0): True for hand in step.acting}
    values |= {(says.HELD_AFTER, h, 0): on for h, on in enumerate(after.hands)}
    for s, value in enumerate(after.settings):
        for k in range(len(circuit.switches[s].values) - 1):
            values[says.SET_AFTER, s, k] = value == k
    for e, (old, new) in enumerate(zip(before.positions, after.positions, strict=True)):
        values[says.MOVES, e, 0], values[says.DOWN, e, 0] = old != new, new < old
    values |= {(says.EMPTY, v, 0): not kept for v, kept in enumerate(after.memory)}
    return values


def _drawn(circuit: Circuit, draw: Callable[[], bool]) -> Values:
    values: Values = {}
    for h, hand in enumerate(circuit.hands):
        values[says.HELD_AFTER if hand.held else says.ACTS, h, 0] = draw()
    for s, switch in enumerate(circuit.switches):
        for k in range(len(switch.values) - 1):
            values[says.SET_AFTER, s, k] = draw()
    for e in range(len(circuit.elements)):
        values[says.MOVES, e, 0], values[says.DOWN, e, 0] = draw(), draw()
    values |= {(says.EMPTY, v, 0): draw() for v in range(len(circuit.volumes))}
    return values


def _after(second: Translation, state: State, chosen: Values) -> State | None:
    """Where the step leads; None if it is not allowed."""
    circuit = second.circuit
    truth = Truth(second, {**values_of(circuit, state), **chosen})
    if not all(map(truth.of, second.step_allowed)):
        return None
    positions = tuple(sum(map(truth.of, beyond)) for beyond in second.beyond_after)
    hands = tuple(
        hand.held and chosen.get((says.HELD_AFTER, h, 0), False)
        for h, hand in enumerate(circuit.hands)
    )
    settings = []
    for s, switch in enumerate(circuit.switches):
        bits = [chosen[says.SET_AFTER, s, k] for k in range(len(switch.values) - 1)]
        settings.append((*bits, True).index(True))
    memory = tuple(map(truth.of, second.kept_after))
    return canonical(circuit, State(positions, hands, tuple(settings), memory))
