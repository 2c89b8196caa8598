"""Whether the systems of *recovers* properties follow procedures as the simulator does.

`compare_recovery(compiled, property, instance, states, random)` takes states, each before the
procedure and in each of its phases. It compares which phases can be under way, whether that is a
failure to recover, the steps of each phase with what they cost, and where random choices lead.
"""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from tests.agreement.cases import Cases, Disagreement, bits_of
from verifier.model.circuit import Circuit, Instance
from verifier.model.run import State, Step
from verifier.simulation.explore import phase_steps
from verifier.simulation.procedure import fails_to_recover, phases_begun
from verifier.simulation.steps import cost, successors
from verifier.transition.compiled import Compiled
from verifier.transition.decode import choices_of, encode, state_of
from verifier.transition.recovery import Recovery, recovery

STEPS_OF_ONE = 20
Node = tuple[State, int]
"""A state and the phase under way; -1 before the procedure."""


def compare_recovery(
    compiled: Compiled, property: int, instance: int, states: Sequence[State], random: Random
) -> None:
    """Raises Disagreement."""
    circuit = compiled.circuit
    thing = circuit.properties[property].instances[instance]
    found = recovery(compiled, property, instance)
    nodes = [(s, phase) for s in states for phase in range(-1, len(thing.procedure) + 1)]
    begun = [_begun(circuit, thing, *node) for node in nodes]
    cases = Cases(found.system, [_code(compiled, thing, node) for node in nodes])
    reach = found.system.definitions[-len(thing.procedure) - 1 :]
    for phase, definition in enumerate(reach):
        cases.check(definition.name, definition.literal, [max(some) >= phase for some in begun])
    fails = [
        any(fails_to_recover(circuit, thing, node[0], phase) for phase in some)
        for node, some in zip(nodes, begun, strict=True)
    ]
    cases.check(found.goal.name, found.goal.bad, fails)
    _compare_steps(found, thing, nodes, begun, random)
    _compare_choices(found, thing, nodes, random)


def _begun(circuit: Circuit, instance: Instance, state: State, phase: int) -> tuple[int, ...]:
    if phase >= 0:
        return phases_begun(circuit, instance, state, phase)
    return (-1, *phases_begun(circuit, instance, state, 0))


def _code(compiled: Compiled, instance: Instance, node: Node) -> list[bool]:
    phases = range(len(instance.procedure) + 1)
    return [*encode(compiled, node[0]), *(node[1] >= phase for phase in phases)]


def _compare_steps(
    found: Recovery,
    instance: Instance,
    nodes: Sequence[Node],
    begun: Sequence[tuple[int, ...]],
    random: Random,
) -> None:
    """Every step before the procedure is one of the system, and every step of a phase, whatever
    else people might choose."""
    compiled, circuit = found.compiled, found.compiled.circuit
    names = [choice.name for choice in compiled.system.choices]
    theirs = [" acts" in name or name.startswith("next ") for name in names]
    codes, choices, taken = [], [], []
    for node, phases in zip(nodes, begun, strict=True):
        for phase in phases:
            free = [phase >= 0 and one for one in theirs]
            steps = (
                list(successors(circuit, node[0]))
                if phase < 0
                else phase_steps(circuit, instance, phase, node[0])
            )
            for step in random.sample(steps, min(len(steps), STEPS_OF_ONE)):
                own = choices_of(compiled, node[0], step)
                drawn = (random.random() < 0.5 if f else c for f, c in zip(free, own, strict=True))
                starts = (phase >= k for k in range(len(instance.procedure) + 1))
                codes.append(_code(compiled, instance, node))
                choices.append([*drawn, *starts])
                taken.append((node[0], phase, step))
    cases = Cases(found.system, codes, choices)
    cases.check("a step of a phase", found.system.step_allowed, [True] * len(taken))
    cases.check("in the procedure", found.begun, [phase >= 0 for _, phase, _ in taken])
    for hand, literal in found.acting.items():
        acts = [hand in step.acting for _, _, step in taken]
        cases.check(circuit.hands[hand].name, literal, acts)
    for (_, phase, step), there in zip(taken, _after(found, cases), strict=True):
        if there != (step.state, phase):
            raise Disagreement(f"a step to {step.state} in phase {phase} leads to {there}")
    prices = [cost(circuit, state, step) for state, _, step in taken]
    turned = [found.system.events[k] for k in found.system.surroundings]
    for which, literals in enumerate((found.system.events, turned, found.system.motions)):
        columns = bits_of(cases, [definition.literal for definition in literals])
        counted = [sum(bits) for bits in zip(*columns, strict=True)] or [0] * len(taken)
        if counted != [price[which] for price in prices]:
            raise Disagreement(("events", "surroundings", "motions")[which])


def _compare_choices(
    found: Recovery, instance: Instance, nodes: Sequence[Node], random: Random
) -> None:
    """Whatever is chosen makes a step of the circuit, or one of the phase that is under way."""
    circuit = found.compiled.circuit
    sources = [node for node in nodes for _ in range(8)]
    codes = [_code(found.compiled, instance, node) for node in sources]
    drawn = [[random.random() < 0.5 for _ in found.system.choices] for _ in sources]
    cases = Cases(found.system, codes, drawn)
    allowed = bits_of(cases, [found.system.step_allowed])[0]
    acting = list(zip(*bits_of(cases, list(found.acting.values())), strict=True))
    steps: dict[Node, set[Step]] = {}
    for case, (there, phase) in enumerate(_after(found, cases)):
        before, was = sources[case]
        if not allowed[case]:
            continue
        if phase not in _begun(circuit, instance, before, was):
            raise Disagreement(f"phase {phase} cannot be under way")
        if (before, phase) not in steps:
            every = (
                successors(circuit, before)
                if phase < 0
                else phase_steps(circuit, instance, phase, before)
            )
            steps[before, phase] = set(every)
        acts = acting[case] if acting else ()
        hands = tuple(h for h, act in zip(found.acting, acts, strict=True) if act)
        if Step(hands, there) not in steps[before, phase]:
            raise Disagreement(f"phase {phase} has no step from {before} to {there}")


def _after(found: Recovery, cases: Cases) -> list[Node]:
    """State and phase after the step of each case."""
    latches = found.system.latches
    codes = zip(*bits_of(cases, [latch.next for latch in latches]), strict=True)
    own = len(found.compiled.system.latches)
    nodes = []
    for code in codes:
        phases = code[own:]
        phase = next((k for k, bit in enumerate(phases) if not bit), len(phases)) - 1
        nodes.append((state_of(found.compiled, code[:own]), phase))
    return nodes
