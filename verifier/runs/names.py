"""What the names of a run are in a circuit."""

from __future__ import annotations

from collections.abc import Iterable

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit
from verifier.model.mistakes import did_you_mean
from verifier.model.names import element_name, spoken
from verifier.runs.facts import Misread
from verifier.runs.verbs import RELEASE, SUPPLY, meant, verb_of

MOST_LISTED = 8


class Names:
    """Of one circuit, everything by its name. A part with one moving element lends it its name."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.parts = {part.name: k for k, part in enumerate(circuit.parts) if part.kind != "faults"}
        self.supplies = {supply.name: k for k, supply in enumerate(circuit.supplies)}
        self.switches = {switch.name: k for k, switch in enumerate(circuit.switches)}
        self.volumes = {volume.name: k for k, volume in enumerate(circuit.volumes)}
        self.ports = {port.name: k for k, port in enumerate(circuit.ports)}
        self.lines = {line.name: line.volume for line in circuit.lines}
        self.elements: dict[str, int] = {}
        self.faults: dict[str, int] = {}
        for k, element in enumerate(circuit.elements):
            if element.fault:
                self.faults[element.name.removeprefix("fault ")] = k
            else:
                self.elements[element.name] = k
                self.elements.setdefault(element_name(circuit, k), k)

    # ---- elements, volumes, places
    def element(self, name: str, span: Span) -> int:
        if name not in self.elements:
            many = [one for one in self.elements if one.startswith(f"{name}.")]
            if name in self.parts and many:
                told = f"`{name}` has several moving elements"
                raise Misread("E1006", span, told, hint=f"say {_either(many)}")
            if name in self.parts:
                raise Misread("E1007", span, f"nothing in `{name}` moves")
            raise self._unknown("moving element", name, span, self.elements)
        return self.elements[name]

    def position(self, element: int, name: str, span: Span) -> int:
        positions = self.circuit.elements[element].positions
        if name not in positions:
            told = f"`{element_name(self.circuit, element)}` has no position `{spoken(name)}`"
            raise Misread("E1007", span, told, hint=f"it has {_both(positions)}")
        return positions.index(name)

    def volume(self, name: str, span: Span) -> int:
        """Of a line, of a port, or by its own name."""
        name = name.removeprefix("line ").removeprefix("port ")
        if name in self.lines:
            return self.lines[name]
        if name in self.ports:
            return self.circuit.ports[self.ports[name]].volume
        if name in self.volumes:
            return self.volumes[name]
        raise self._unknown("line or port", name, span, [*self.lines, *self.ports])

    def port(self, name: str, span: Span) -> int:
        if name not in self.ports:
            raise self._unknown("port", name, span, self.ports)
        return self.ports[name]

    def fault(self, name: str, span: Span) -> int:
        """Of those that are woven in."""
        if name not in self.faults:
            raise Misread("E1009", span, f"`{name}` has not struck")
        return self.faults[name]

    # ---- what people work
    def switch(self, name: str, span: Span) -> int:
        if name in self.switches:
            return self.switches[name]
        if name in self.supplies:
            return self.circuit.supplies[self.supplies[name]].switch
        known = [*self.switches, *self.supplies]
        raise self._unknown("supply or switch of the surroundings", name, span, known)

    def value(self, switch: int, name: str, span: Span) -> int:
        values = self.circuit.switches[switch].values
        if name not in values:
            told = f"`{self.circuit.switches[switch].name}` is never {spoken(name)}"
            raise Misread("E1007", span, told, hint=f"it is {_either(values)}")
        return values.index(name)

    def hand(self, verb: str, thing: str, on: tuple[bool, ...], span: Span) -> tuple[int, bool]:
        """The hand that the verb works, and whether it is put on. on: the held hands that are."""
        if thing not in self.parts:
            raise self._unknown("part or supply", thing, span, [*self.parts, *self.supplies])
        hands = self.circuit.parts[self.parts[thing]].hands
        labels = {verb_of(self.circuit.hands[hand].label): hand for hand in hands}
        for one in meant(verb):
            if one in labels:
                return labels[one], True
        if verb in RELEASE:
            held = [hand for hand in hands if self.circuit.hands[hand].held]
            now = [hand for hand in held if on[hand]] or held
            if len(now) == 1:
                return now[0], False
            if now:
                names = [spoken(self.circuit.hands[hand].label) for hand in now]
                told = f"`{thing}` can be held in several ways: {_both(names)}"
                raise Misread("E1007", span, told)
        raise Misread("E1007", span, self._not_so(verb, thing), hint=self.ways(thing))

    def labelled(self, thing: str, label: str, span: Span) -> int:
        """The hand of a part by its own label."""
        if thing not in self.parts:
            raise self._unknown("part", thing, span, self.parts)
        for hand in self.circuit.parts[self.parts[thing]].hands:
            if self.circuit.hands[hand].label == label:
                return hand
        told = f"`{thing}` has no hand control `{spoken(label)}`"
        raise Misread("E1007", span, told, hint=self.ways(thing))

    def ways(self, thing: str) -> str:
        """How a part can be worked, as a hint."""
        hands = [self.circuit.hands[k] for k in self.circuit.parts[self.parts[thing]].hands]
        said = []
        for hand in hands:
            verb = verb_of(hand.label)
            said.append(f"`{verb} {thing}`" if verb else f"`work {thing} {hand.label}`")
            said += [f"`{RELEASE[0]} {thing}`"] if hand.held else []
        if said:
            return f"say {' or '.join(dict.fromkeys(said))}"
        able = [one.name for one in self.circuit.parts if one.hands][:MOST_LISTED]
        return f"by hand one works {', '.join(able)}" if able else "nothing is worked by hand"

    def _not_so(self, verb: str, thing: str) -> str:
        if not self.circuit.parts[self.parts[thing]].hands:
            return f"nobody can {verb} `{thing}`: it has no hand control"
        return f"nobody can {verb} `{thing}`"

    def supply_value(self, verb: str, supply: str, span: Span) -> tuple[int, int]:
        """The switch of the supply and the value that the verb puts it to."""
        switch = self.circuit.supplies[self.supplies[supply]].switch
        if verb not in SUPPLY:
            hint = f"say {' or '.join(f'`{one} {supply}`' for one in SUPPLY)}"
            raise Misread("E1007", span, f"nobody can {verb} the supply `{supply}`", hint=hint)
        values = self.circuit.switches[switch].values
        if SUPPLY[verb] not in values:
            told = f"the supply `{supply}` is never {SUPPLY[verb]}"
            raise Misread("E1007", span, told, hint=f"it is {_either(values)}")
        return switch, values.index(SUPPLY[verb])

    def _unknown(self, what: str, name: str, span: Span, known: Iterable[str]) -> Misread:
        names = list(known)
        hint = did_you_mean(name, names)
        if not hint:
            near = [one for one in names if one.split("[")[0] == name.split("[")[0]]
            hint = f"there are {', '.join(near[:MOST_LISTED])}" if near else ""
        return Misread("E1006", span, f"there is no {what} `{name}`", hint=hint)


def _either(names: Iterable[str]) -> str:
    return " or ".join(f"`{spoken(name)}`" for name in names)


def _both(names: Iterable[str]) -> str:
    return " and ".join(f"`{spoken(name)}`" for name in names)
