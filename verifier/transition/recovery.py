"""The system that looks for a failure of a *recovers* property (property rules, O3).

Its runs are runs of the circuit of which the operator, from some moment on, follows the procedure.
Phase k puts setpoint k and waits for rest; after the last one follows a phase in which nothing
acts. Latch k says that phase k has begun; as in all codes, those after a false one do not count.
Phases begin and end between steps: before each step, the next phases may begin that can. What the
operator and the surroundings choose in the circuit's own system is here what the phase makes of it.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, structs

from verifier.model.circuit import Instance, Setpoint
from verifier.model.condition import Not
from verifier.model.run import Run, Step
from verifier.transition.compiled import Compiled
from verifier.transition.conditions import Meaning
from verifier.transition.decode import state_of
from verifier.transition.encoding import switch_code
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.movement import demand_of
from verifier.transition.properties import goal_name
from verifier.transition.system import Choice, Definition, Goal, Latch, Reached, System


class Recovery(Struct, frozen=True):
    """goal: a state in which the procedure may be over, at rest, and the condition fails under some
    reading. The latches and choices of the circuit come first, in its order.

    A step may be impossible in a phase: an assumption can exclude its setpoint. So the system need
    not be total, and a procedure that cannot be carried out is not a failure to recover.
    over: a state at rest in which the procedure may be over; if none can be reached, the property
    says nothing.
    begun: whether the step is one of the procedure.   acting: whether each momentary hand acts.
    """

    compiled: Compiled
    system: System
    goal: Goal
    over: Goal
    begun: int
    acting: dict[int, int]


def recovery(compiled: Compiled, property: int, instance: int) -> Recovery:
    """The system of one instance. Raises ValueError if the property is not a *recovers*."""
    thing = compiled.circuit.properties[property]
    if thing.form != "recovers":
        raise ValueError(f"{thing.form} has no procedure")
    posed = thing.instances[instance]
    return recovery_of(compiled, goal_name(thing, posed), posed)


def recovery_of(compiled: Compiled, name: str, instance: Instance) -> Recovery:
    """The system of an instance of a *recovers* property, which goes by this name."""
    return _Phases(compiled, name, instance).recovery()


class _Phases:
    """Literals over the latches and choices of one instance's system."""

    def __init__(self, compiled: Compiled, name: str, instance: Instance) -> None:
        self.compiled = compiled
        self.name = name
        self.instance = instance
        self.graph: Graph = compiled.system.graph.copy()
        self.meaning: Meaning = compiled.meaning.on(self.graph)
        self.names = [f"phase {k + 1} of {name}" for k in range(len(instance.procedure) + 1)]
        graph = self.graph
        self.latches = [graph.input(f"{name} has begun") for name in self.names]
        self.choices = [graph.input(f"{name} begins") for name in self.names]
        ends = [TRUE, *(self._may_end(setpoint) for setpoint in instance.procedure)]
        # under_way[k]: phase k or a later one, in the step; within_reach[k]: it could be.
        self.under_way: list[int] = []
        self.within_reach: list[int] = []
        before = under_way = within_reach = TRUE
        for end, latch, choice in zip(ends, self.latches, self.choices, strict=True):
            before = graph.both(before, latch)
            within_reach = graph.either(before, graph.both(within_reach, end))
            under_way = graph.either(before, graph.all([under_way, end, choice]))
            self.within_reach.append(within_reach)
            self.under_way.append(under_way)

    def recovery(self) -> Recovery:
        compiled, graph, base = self.compiled, self.graph, self.compiled.system
        over = graph.both(self.within_reach[-1], compiled.at_rest)
        bad = graph.both(over, self.meaning.some(Not(self.instance.condition)))
        chosen = self._chosen()
        acting = {hand: chosen[node] for hand, node in compiled.meaning.encoding.acting.items()}
        return Recovery(
            compiled=compiled,
            system=self._system(base, chosen),
            goal=Goal(f"bad:{self.name}", bad),
            over=Goal(f"over:{self.name}", over),
            begun=self.under_way[0],
            acting=acting,
        )

    def _system(self, base: System, chosen: dict[int, int]) -> System:
        """The circuit's system with its choices as the phases make them."""
        graph = self.graph
        roots = [latch.next for latch in base.latches]
        roots += [literal for _, literal in base.assumptions]
        roots += [definition.literal for definition in (*base.events, *base.motions)]
        made = iter(graph.substitute([*roots, base.step_allowed, base.encoding], chosen))
        latches = [structs.replace(latch, next=next(made)) for latch in base.latches]
        assumptions = tuple((name, next(made)) for name, _ in base.assumptions)
        events = tuple(structs.replace(event, literal=next(made)) for event in base.events)
        motions = tuple(structs.replace(motion, literal=next(made)) for motion in base.motions)
        latches += (
            Latch(f"{name} has begun", latch >> 1, False, under_way)
            for name, latch, under_way in zip(self.names, self.latches, self.under_way, strict=True)
        )
        choices = (
            Choice(f"{name} begins", choice >> 1)
            for name, choice in zip(self.names, self.choices, strict=True)
        )
        reach = (
            Definition(f"{name} can be under way", literal)
            for name, literal in zip(self.names, self.within_reach, strict=True)
        )
        return structs.replace(
            base,
            graph=graph,
            latches=tuple(latches),
            choices=(*base.choices, *choices),
            step_allowed=next(made),
            encoding=next(made),
            definitions=(*base.definitions, *reach),
            assumptions=assumptions,
            events=events,
            motions=motions,
            phases=tuple(range(len(base.latches), len(latches))),
        )

    def _chosen(self) -> dict[int, int]:
        """What becomes of each choice of operator and surroundings: free before the procedure; in
        it, momentary hands act, held hands and switches stand, as the phase says."""
        graph, encoding = self.graph, self.meaning.encoding
        outside = self.under_way[0] ^ 1
        made: dict[int, int] = {}
        for hand, node in encoding.acting.items():
            cases = [(True, self._phase(k)) for k in self._about(hand, None) if self._value(k)]
            made[node] = graph.either(graph.both(outside, 2 * node), _merge(graph, FALSE, cases))
        for hand, node in encoding.next_held.items():
            cases = [(bool(self._value(k)), self._phase(k)) for k in self._about(hand, None)]
            inside = _merge(graph, encoding.hand(hand), cases)
            made[node] = graph.choose(outside, 2 * node, inside)
        for switch, nodes in enumerate(encoding.next_switches):
            count = len(self.compiled.circuit.switches[switch].values)
            for bit, node in enumerate(nodes):
                cases = [
                    (switch_code(self._value(k), count)[bit], self._phase(k))
                    for k in self._about(None, switch)
                ]
                inside = _merge(graph, 2 * encoding.switches[switch][bit], cases)
                made[node] = graph.choose(outside, 2 * node, inside)
        return made

    def _about(self, hand: int | None, switch: int | None) -> list[int]:
        """The phases whose setpoint is on this hand or switch."""
        return [
            k
            for k, setpoint in enumerate(self.instance.procedure)
            if (setpoint.hand, setpoint.switch) == (hand, switch)
        ]

    def _value(self, phase: int) -> int:
        return self.instance.procedure[phase].value

    def _phase(self, phase: int) -> int:
        """The step is one of this very phase."""
        return self.graph.both(self.under_way[phase], self.under_way[phase + 1] ^ 1)

    def _may_end(self, setpoint: Setpoint) -> int:
        """The setpoint is in force and no element must move, its momentary hand acting."""
        graph, encoding = self.graph, self.meaning.encoding
        if setpoint.switch is not None:
            in_force = encoding.setting(setpoint.switch, (setpoint.value,))
            return graph.both(in_force, self.compiled.at_rest)
        if setpoint.hand is None:
            raise ValueError(f"a setpoint on nothing: {setpoint.words}")
        if setpoint.hand in encoding.held:
            in_force = encoding.hand(setpoint.hand) ^ int(not setpoint.value)
            return graph.both(in_force, self.compiled.at_rest)
        if not setpoint.value:
            return self.compiled.at_rest
        acting = {setpoint.hand: TRUE}
        elements = range(len(self.compiled.circuit.elements))
        return graph.all(
            demand_of(self.meaning, element, acting).must_move ^ 1 for element in elements
        )


def _merge(graph: Graph, otherwise: int, cases: Sequence[tuple[bool, int]]) -> int:
    """The value of the case that is met, at most one; `otherwise` when none is."""
    on = graph.any(met for value, met in cases if value)
    off = graph.any(met for value, met in cases if not value)
    return graph.either(on, graph.both(otherwise, off ^ 1))


def run_of(found: Recovery, reached: Reached) -> Run:
    """The run that an engine claims, and the step after which its procedure begins."""
    system = found.system
    states = [state_of(found.compiled, values) for values in reached.states]
    hands = list(found.acting)
    roots = [found.begun, *found.acting.values()]
    steps: list[Step] = []
    procedure_from = None
    for values, chosen, state in zip(reached.states, reached.choices, states[1:], strict=False):
        inputs = {latch.node: v for latch, v in zip(system.latches, values, strict=True)}
        inputs |= {choice.node: v for choice, v in zip(system.choices, chosen, strict=True)}
        begun, *acts = system.graph.evaluate(roots, inputs)
        if begun and procedure_from is None:
            procedure_from = len(steps)
        acting = tuple(hand for hand, act in zip(hands, acts, strict=True) if act)
        steps.append(Step(acting, state))
    return Run(states[0], tuple(steps), len(steps) if procedure_from is None else procedure_from)
