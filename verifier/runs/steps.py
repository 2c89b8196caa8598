"""From events in words to a step of the simulator."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit
from verifier.model.names import element_name, spoken
from verifier.model.run import State, Step
from verifier.runs.facts import Misread
from verifier.runs.names import Names
from verifier.runs.script import (
    Does,
    Event,
    Leaks,
    Moves,
    PassesOff,
    Sets,
    Strikes,
    Works,
)
from verifier.simulation.cause import why_it_stands
from verifier.simulation.checking import check_step
from verifier.simulation.events import Change, state_after
from verifier.simulation.movement import next_positions
from verifier.simulation.pressures import driven, pressures
from verifier.simulation.steps import whole_tubes


def steps_of(names: Names, state: State, events: Sequence[tuple[Event, Span]]) -> list[Step]:
    """The step in which all events happen; none if nothing does. Raises Misread."""
    circuit = names.circuit
    found = _Step(names, state)
    for event, span in events:
        found.add(event, span)
    acting = tuple(sorted(found.acting))
    for element, position in moved_by(circuit, state, acting).items():
        if not found.brief:
            found.moves.setdefault(element, (position, events[0][1]))
    found.check_moves(acting)
    found.leak_on()
    changes = [
        *(Change(0, "hand", k, int(on)) for k, on in found.hands.items()),
        *(Change(0, "switch", k, value) for k, value in found.switches.items()),
        *(Change(0, "move", k, position) for k, (position, _) in found.moves.items()),
        *(Change(0, "leak", k, 0) for k in found.leaks),
    ]
    step = Step(acting, state_after(circuit, state, changes))
    span = events[0][1]
    for breach in check_step(circuit, state, step):
        raise Misread("E1011", span, f"this cannot happen now: {breach.words} ({breach.rule})")
    found.check_leaks(step.state)
    return [step] if acting or step.state != state else []


def moved_by(circuit: Circuit, state: State, acting: tuple[int, ...]) -> dict[int, int]:
    """What momentary hands move at once: elements that could not go there without them."""
    if not acting:
        return {}
    air = pressures(circuit, state)
    found = {}
    for element, thing in enumerate(circuit.elements):
        if thing.fault:
            continue
        without = next_positions(circuit, state, air, element, ())
        ways = next_positions(circuit, state, air, element, acting)
        fresh = [position for position in ways if position not in without]
        if fresh:
            found[element] = fresh[0]
    return found


class _Step:
    """What happens in one moment."""

    def __init__(self, names: Names, state: State) -> None:
        self.names, self.circuit, self.state = names, names.circuit, state
        self.acting: list[int] = []
        self.brief = False
        self.hands: dict[int, bool] = {}
        self.switches: dict[int, int] = {}
        self.moves: dict[int, tuple[int, Span]] = {}
        self.leaks: dict[int, Span] = {}

    def add(self, event: Event, span: Span) -> None:
        names = self.names
        match event:
            case Does(verb=verb, thing=thing, briefly=briefly):
                if thing in names.supplies:
                    self._turn(*names.supply_value(verb, thing, span), span)
                else:
                    hand, on = names.hand(verb, thing, self.state.hands, span)
                    self._work(hand, on, briefly, span)
            case Works(thing=thing, label=label, briefly=briefly, on=on):
                self._work(names.labelled(thing, label, span), on, briefly, span)
            case Sets(switch=switch, value=value):
                number = names.switch(switch, span)
                self._turn(number, names.value(number, value, span), span)
            case Moves(element=element, position=position):
                self._move(names.element(element, span), position, span)
            case Leaks(volume=volume):
                self.leaks[names.volume(volume, span)] = span
            case Strikes(fault=fault):
                self.moves[names.fault(fault, span)] = (1, span)
            case PassesOff(fault=fault):
                self._pass_off(fault, span)

    def _pass_off(self, fault: str, span: Span) -> None:
        element = self.names.fault(fault, span)
        if len(self.circuit.elements[element].positions) < 3:
            raise Misread("E1007", span, f"`{fault}` stays once it has struck")
        self.moves[element] = (2, span)

    def _turn(self, switch: int, value: int, span: Span) -> None:
        if switch in self.switches:
            told = f"`{self.circuit.switches[switch].name}` is set twice in one moment"
            raise Misread("E1011", span, told)
        self.switches[switch] = value

    def _work(self, hand: int, on: bool, briefly: bool, span: Span) -> None:
        control = self.circuit.hands[hand]
        name = self.circuit.parts[control.part].name
        if hand in self.hands or hand in self.acting:
            raise Misread("E1011", span, f"`{name}` is {spoken(control.label)} twice in one moment")
        if not control.held and not on:
            raise Misread("E1007", span, f"`{name}` is not held {spoken(control.label)}")
        if control.held and briefly:
            raise Misread("E1007", span, f"`{name}` stays {spoken(control.label)} until released")
        if control.held:
            self.hands[hand] = on
        else:
            self.acting.append(hand)
            self.brief = self.brief or briefly

    def _move(self, element: int, position: str, span: Span) -> None:
        if element in self.moves:
            name = element_name(self.circuit, element)
            raise Misread("E1011", span, f"`{name}` moves twice in one moment")
        if position:
            self.moves[element] = (self.names.position(element, position, span), span)
            return
        air = pressures(self.circuit, self.state)
        ways = next_positions(self.circuit, self.state, air, element, ())[1:]
        if len(ways) != 1:
            raise self._stays(element, "any other position", span)
        self.moves[element] = (ways[0], span)

    def check_moves(self, acting: tuple[int, ...]) -> None:
        """That each element may go where it is said to, one position further (M3)."""
        air = pressures(self.circuit, self.state)
        for element, (position, span) in self.moves.items():
            ways = next_positions(self.circuit, self.state, air, element, acting)
            if position not in ways[1:]:
                raise self._stays(
                    element, spoken(self.circuit.elements[element].positions[position]), span
                )

    def _stays(self, element: int, there: str, span: Span) -> Misread:
        thing = self.circuit.elements[element]
        name = element_name(self.circuit, element)
        here = spoken(thing.positions[self.state.positions[element]])
        if thing.fault:
            told = f"{thing.doc}: this fault is {here} now"
            return Misread("E1011", span, told)
        if here == there:
            return Misread("E1011", span, f"{name} stands {here} already")
        why = why_it_stands(self.circuit, self.state, element)
        told = f"{name} stands {here} and cannot go to {there} now"
        return Misread("E1011", span, told, hint=why)

    def leak_on(self) -> None:
        """Both ends of a tube that stays whole lose their air (P7)."""
        positions = list(self.state.positions)
        for element, (position, _) in self.moves.items():
            positions[element] = position
        tubes = whole_tubes(self.circuit, tuple(positions))
        waiting = list(self.leaks)
        while waiting:
            here = waiting.pop()
            for ends in tubes:
                for there in ends:
                    if here in ends and there not in self.leaks:
                        self.leaks[there] = self.leaks[here]
                        waiting.append(there)

    def check_leaks(self, after: State) -> None:
        """Only what is cut off, and could have kept its air, loses it (P4)."""
        trapped = driven(self.circuit, after.positions, after.settings).trapped
        air = pressures(self.circuit, self.state)
        for volume, span in self.leaks.items():
            name = self.circuit.volumes[volume].name
            if not trapped[volume]:
                raise Misread("E1011", span, f"{name} is not cut off, so nothing is kept in it")
            if not air.can_high[volume]:
                raise Misread("E1011", span, f"{name} has no air that could leak away")
