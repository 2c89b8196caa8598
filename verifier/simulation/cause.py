"""Why an element moved: the move that fired and the physical facts that made it fire."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit, moving
from verifier.model.condition import All, Any, At, Condition, Hand, High, Not, Path, Setting
from verifier.model.run import State, Step
from verifier.model.woven_air import AROUND, CHANCE, NOBODY
from verifier.model.wrong_connections import LEFT_OFF
from verifier.simulation.air import Air, AirPath, Hop, air_of
from verifier.simulation.movement import Readings, every_reading, selected, truth
from verifier.simulation.plan import plan_of
from verifier.simulation.pressures import pressures


class Reason(Struct, frozen=True):
    """One fact. `met`: the thing named is so; else it is not.

    subject: a pilot's port or reader, a hand, a part or element, a switch, or a liquid path.
    value: the position, switch value or hand label spoken of.   own: it belongs to the part that
    moves.   air: for a pilot, the pressure that it reads.
    """

    what: Literal["pilot", "hand", "element", "switch", "path", "fault"]
    subject: str
    value: str
    met: bool
    own: bool
    air: Air | None = None


class Cause(Struct, frozen=True):
    """Why an element moved towards `target`. spring: no move of its list was demanded, and its
    `otherwise` brings it there."""

    element: str
    origin: str
    target: str
    spring: bool
    reasons: tuple[Reason, ...]


def cause_of(circuit: Circuit, before: State, step: Step, element: int) -> Cause:
    """Why the element moved in an allowed step (M1 to M3). Raises ValueError if it did not move.

    The facts are those of the state before, with the hands that act in the step (M5).
    """
    thing = circuit.elements[element]
    old, new = before.positions[element], step.state.positions[element]
    if old == new:
        raise ValueError(f"{thing.name} did not move")
    for readings in every_reading(pressures(circuit, before), plan_of(circuit).readings[element]):
        target = selected(circuit, before, element, step.acting, readings)
        if (target - old) * (new - old) > 0:
            break
    else:
        raise ValueError(f"nothing demanded that {thing.name} moved")
    view = _View(circuit, before, step.acting, readings, element)
    fired = next((move for move in thing.moves if view.true(move.when)), None)
    if fired is not None:
        reasons = list(view.support(fired.when, True))
    else:
        reasons = [fact for move in thing.moves for fact in view.support(move.when, False)]
        # That nobody works a hand is news only if nothing else held the element.
        reasons = [fact for fact in reasons if fact.what != "hand"] or reasons
    return Cause(
        thing.name,
        thing.positions[old],
        thing.positions[new],
        fired is None,
        tuple(dict.fromkeys(reasons)),
    )


class _View:
    """Conditions in one state, under one reading, as one element sees them."""

    def __init__(
        self,
        circuit: Circuit,
        state: State,
        acting: tuple[int, ...],
        readings: Readings,
        element: int,
    ) -> None:
        self.circuit, self.state, self.acting = circuit, state, acting
        self.readings, self.part = readings, circuit.elements[element].part

    def true(self, condition: Condition) -> bool:
        return truth(self.circuit, self.state, condition, self.acting, self.readings)

    def support(self, condition: Condition, value: bool) -> Iterator[Reason]:
        """Facts that suffice to make the condition have this value, which it has."""
        match condition:
            case Not(of=inner):
                yield from self.support(inner, not value)
            case All(of=parts) | Any(of=parts):
                together = isinstance(condition, All) == value
                mine = [part for part in parts if self.true(part) == value]
                for part in mine if together else mine[:1]:
                    yield from self.support(part, value)
            case High(volume=volume) if self.circuit.volumes[volume].name == CHANCE:
                return  # what a fault does is up to nothing
            case High() | At() | Hand() | Setting() | Path():
                yield self.reason(condition, value)
            case _:
                return

    def reason(self, atom: High | At | Hand | Setting | Path, met: bool) -> Reason:
        circuit, state = self.circuit, self.state
        if isinstance(atom, High):
            air = air_of(circuit, state, atom.volume)
            own = atom.reader.startswith(f"{circuit.parts[self.part].name}.")
            return Reason("pilot", atom.reader, "", met, own, air)
        if isinstance(atom, Hand):
            hand = circuit.hands[atom.hand]
            part = circuit.parts[hand.part].name
            return Reason("hand", part, hand.label, met, hand.part == self.part)
        if isinstance(atom, At):
            other = circuit.elements[atom.element]
            if other.fault:
                return Reason("fault", other.doc, "", met, False)
            name = circuit.parts[other.part].name
            if len(moving(circuit, other.part)) > 1:
                name = other.name
            stands = other.positions[state.positions[atom.element]]
            return Reason("element", name, stands, True, other.part == self.part)
        if isinstance(atom, Setting):
            switch = circuit.switches[atom.switch]
            value = switch.values[state.settings[atom.switch]]
            return Reason("switch", switch.name, value, True, switch.part == self.part)
        network = circuit.networks[atom.network]
        ends = f"{network.medium} from {network.places[atom.start]} to {network.places[atom.end]}"
        return Reason("path", ends, "", met, False)


def cause(circuit: Circuit, before: State, step: Step, element: int) -> str:
    """Why the element moved, in a fitter's words; no capital, no full stop."""
    return sentence(cause_of(circuit, before, step, element))


def sentence(found: Cause) -> str:
    """The cause in words."""
    facts = " and ".join(_fact(reason) for reason in found.reasons)
    if not found.spring:
        return facts or "nothing holds it"
    return f"its spring brings it back, since {facts}" if facts else "its spring brings it back"


def _fact(reason: Reason) -> str:
    value = reason.value.replace("_", " ")
    if reason.what == "pilot" and reason.air is not None:
        return _pilot(reason, reason.air)
    if reason.what == "hand":
        who = "it" if reason.own else reason.subject
        return f"{who} is {'' if reason.met else 'not '}{value} by hand"
    if reason.what == "element":
        return f"{reason.subject} stands {value}"
    if reason.what == "switch":
        return f"{reason.subject} is {value}"
    if reason.what == "fault":
        return f"{'the fault acts' if reason.met else 'no fault'}: {reason.subject}"
    return f"there is {'an' if reason.met else 'no'} open way for {reason.subject}"


def _pilot(reason: Reason, air: Air) -> str:
    who, why = air.volume, f"it {air_words(air)}"
    if reason.own:
        label = reason.subject.rsplit(".", 1)[-1].replace("_", " ")
        # ISO 11727 numbers pilots from 10.
        number = label.isdigit() and len(label) == 2
        who = "its pilot" if label == "pilot" else f"its {'pilot' if number else 'port'} {label}"
        why = f"{air.volume} {air_words(air)}"
    if air.reading == "between":
        return f"{who} reads as {'' if reason.met else 'no '}air an in-between pressure ({why})"
    return f"{who} has {'' if reason.met else 'no '}air ({why})"


def air_words(air: Air) -> str:
    """How a volume is fed, vented or cut off; the words follow its name."""
    if air.trapped:
        kept = {"high": "is cut off with air in it", "low": "is cut off without air in it"}
        return kept.get(air.reading, "is cut off together with others that differ from it")
    if air.fed is not None and air.vented is not None and air.fed.end == air.vented.end:
        return f"is fed by {air.fed.end}, which is weak{_through(air.fed, ',')}"
    return " and ".join(_way(path) for path in (air.fed, air.vented) if path is not None)


def _way(path: AirPath) -> str:
    if path.source:
        return f"is fed by {path.end}{_through(path)}"
    if path.open_air and path.end == f"port {AROUND}":
        return f"is open to the air by a fault{_through(path)}"
    if path.open_air:
        return f"exhausts{_through(path)}" if path.hops else "is open to the air"
    return f"drains{_through(path)} into {path.end}, which gives no air"


def _hop(hop: Hop) -> str:
    """`master 1 to 4`; nothing for a tube by itself, since its ends are those of its line."""
    if hop.part == LEFT_OFF:
        return f"the {hop.start}"
    if hop.part != NOBODY:
        return f"{hop.part} {hop.start} to {hop.end}"
    return "what is broken" if AROUND in hop.end or AROUND in hop.start else ""


def _through(path: AirPath, comma: str = "") -> str:
    """` through master 1 to 4, vent[1] in to out`; nothing where the end is the volume itself."""
    hops = [
        words + (", restricted" if hop.restricted else "")
        for hop in path.hops
        if (words := _hop(hop))
    ]
    # The ends of a long way say enough: how its middle came about was told before.
    told = hops if len(hops) < 3 else [hops[0], "...", hops[-1]]
    return f"{comma} through {', '.join(told)}" if told else ""


def why_it_stands(circuit: Circuit, state: State, element: int) -> str:
    """Why the element stands where it does and goes nowhere else, no hand acting; "" if it is about
    to go."""
    here = state.positions[element]
    for readings in every_reading(pressures(circuit, state), plan_of(circuit).readings[element]):
        if selected(circuit, state, element, (), readings) == here:
            break
    else:
        return ""
    thing = circuit.elements[element]
    view = _View(circuit, state, (), readings, element)
    fired = next((move for move in thing.moves if view.true(move.when)), None)
    if fired is not None:
        reasons = list(view.support(fired.when, True))
    else:
        others = [move for move in thing.moves if move.target != here]
        reasons = [fact for move in others for fact in view.support(move.when, False)]
    # That it stands where it stands is no news.
    told = [_fact(one) for one in reasons if one.what != "element" or not one.own]
    return " and ".join(dict.fromkeys(told)) or "nothing moves it"
