"""Ports, volumes and passages of a circuit with faults woven in (F3, P7)."""

from __future__ import annotations

from collections import defaultdict
from typing import Literal

from msgspec import structs

from verifier.diagnostics.span import Span
from verifier.model.acting import Acting, unless
from verifier.model.circuit import (
    Circuit,
    FaultEffect,
    Part,
    Passage,
    Port,
    Supply,
    Switch,
    Volume,
    Where,
)
from verifier.model.strikes import JUNCTION, Effect, SupplyEffect, TubeEffect

Bore = Literal["full", "restricted"]
# Names that no design can give.
NOBODY, AROUND, CHANCE = "what may fail", "the air around", "sheer chance"
End = tuple[Literal["port", "supply"], int]
"""What a tube ends in."""
TORN = ("torn", "torn off 0", "torn off 1")
"""In two; or at one of its ends."""


def inside_name(circuit: Circuit, port: int) -> str:
    """The volume of a port that is cut off from its line by some fault."""
    line = circuit.volumes[circuit.ports[port].volume].line
    side = "inside" if line is None else f"at {circuit.lines[line].name}"
    return f"{circuit.ports[port].name} {side}"


def outlet_name(supply: str) -> str:
    """That of a supply."""
    return f"outlet of {supply}"


class WovenAir:
    """What the effects noted make of the air's part of a circuit.

    moved: the volume of each port that is cut off from its line by some fault.
    nobody: the part that has the faults which are no part's.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.parts = list(circuit.parts)
        self.ports = list(circuit.ports)
        self.volumes = list(circuit.volumes)
        self.supplies = list(circuit.supplies)
        self.switches = list(circuit.switches)
        self.passages = list(circuit.passages)
        self.moved: dict[int, int] = {}
        self._shut: dict[tuple[int, int], list[Acting]] = defaultdict(list)
        self._port_shut: dict[int, list[Acting]] = defaultdict(list)
        self._tubes: dict[int, dict[str, list[Acting]]] = defaultdict(lambda: defaultdict(list))
        self._supplies: dict[int, dict[str, list[Acting]]] = defaultdict(lambda: defaultdict(list))
        self._open: list[tuple[int, Bore, Acting]] = []
        self._across: list[tuple[tuple[int, int], Bore, bool, Acting]] = []
        self._inside = {port.name: k for k, port in enumerate(circuit.ports)}
        self._fed = {f"supply {supply.name}": k for k, supply in enumerate(circuit.supplies)}
        span = circuit.parts[0].span if circuit.parts else Span("", 1, 1, 1, 1)
        self.nobody = self._part(NOBODY, span)
        self._air = self._volume(AROUND, open_air=True)

    def either_way(self, span: Span) -> int:
        """A volume that is fed and vented, always, so that whoever reads it reads what he likes."""
        return self._source(CHANCE, span, open_air=True)

    def _source(self, name: str, span: Span, *, open_air: bool = False) -> int:
        """The volume of one more supply, which is always present."""
        switch = len(self.switches)
        self.switches.append(Switch(name, None, name, ("present",), 0, span))
        volume = self._volume(name, open_air=open_air, supplies=(len(self.supplies),))
        self.supplies.append(Supply(name, switch, volume, span))
        return volume

    def note(self, effect: Effect, acting: Acting) -> None:
        """The effect is there while the fault acts so."""
        if isinstance(effect, TubeEffect):
            end = "" if effect.off is None else f" off {effect.off}"
            self._tubes[effect.tube][f"{effect.fault}{end}"].append(acting)
        elif isinstance(effect, SupplyEffect):
            self._supplies[effect.supply][effect.fault].append(acting)
        elif effect.medium is None:
            self._note(effect, acting)

    def _note(self, effect: FaultEffect, acting: Acting) -> None:
        match effect.effect:
            case "leaks" | "passes":
                bore: Bore = "full" if effect.effect == "passes" else "restricted"
                ends = (effect.ports[0], effect.ports[1])
                self._across.append((ends, bore, effect.one_way, acting))
            case "vents" | "bursts":
                bore = "full" if effect.effect == "bursts" else "restricted"
                self._open.append((effect.ports[0], bore, acting))
            case "blocks" if len(effect.ports) == 1:
                self._port_shut[effect.ports[0]].append(acting)
            case "blocks":
                self._shut[effect.ports[0], effect.ports[1]].append(acting)
            case _:
                pass  # of elements and hands

    def weave(self) -> None:
        """Make what was noted."""
        for tube, faults in self._tubes.items():
            self._weave_tube(tube, faults)
        for port, shut in self._port_shut.items():
            if port not in self.moved:
                outside = self.ports[port].volume
                self._split_port(port)
                self._join(outside, self.ports[port].volume, shut, {})
        for supply, faults in self._supplies.items():
            self._weave_supply(supply, faults)
        own = [self._passage(one) for one in self.circuit.passages]
        self.passages = own + self.passages[len(own) :]
        for ends, bore, one_way, acting in self._across:
            self._add(ends, bore, one_way, (acting.acts,))
        for port, bore, acting in self._open:
            self._vent(self.ports[port].volume, bore, (acting.acts,))

    def _passage(self, passage: Passage) -> Passage:
        """Its ends where their ports are now; shut when a fault shuts it."""
        ends = passage.ports
        shut = (*self._shut.get(ends, ()), *self._shut.get((ends[1], ends[0]), ()))
        return structs.replace(
            passage,
            start=self.ports[ends[0]].volume,
            end=self.ports[ends[1]].volume,
            where=(*passage.where, *unless(shut)),
        )

    def _weave_tube(self, tube: int, faults: dict[str, list[Acting]]) -> None:
        """One end is cut off from the rest of its line, if some fault of the tube can do that."""
        line = self.circuit.tubes[tube].line
        rest = self.circuit.lines[line].volume
        end = self._end(tube)
        # Whichever end is split off, the other is the rest of the line.
        mine = 0 if self.circuit.tubes[tube].ends[1] == JUNCTION else 1
        if any(faults[name] for name in ("blocked", "kinked", *TORN)):
            own = self._split(end)
            closed = self._port_shut.get(end[1], []) if end[0] == "port" else []
            self._join(rest, own, closed, faults)
            self._holes(own, faults, mine, closed)
        self._holes(rest, faults, 1 - mine, [])

    def _holes(
        self, volume: int, faults: dict[str, list[Acting]], end: int, closed: list[Acting]
    ) -> None:
        """Where a tube is open to the air, at one of its ends; `closed`: faults that close the port
        before the hole."""
        bores: tuple[tuple[str, Bore], ...] = (
            ("torn", "full"),
            (TORN[end + 1], "full"),
            (TORN[2 - end], "restricted"),
            ("burst", "full"),
            ("leaking", "restricted"),
        )
        for name, bore in bores:
            for acting in faults[name]:
                self._vent(volume, bore, (acting.acts, *unless(closed)))

    def _join(
        self, rest: int, own: int, closed: list[Acting], faults: dict[str, list[Acting]]
    ) -> None:
        """The tube between the volumes: at full bore while it is whole, kinked at less."""
        shut = [*closed, *(one for name in ("blocked", *TORN) for one in faults.get(name, ()))]
        kinked = faults.get("kinked", [])
        ends = (self._mouth(rest), self._mouth(own))
        # What opens again joins two pressures, as any passage does; only what stays is a tube (P7).
        lasting = all(one.stays for one in (*shut, *kinked))
        self._add(ends, "full", False, unless([*shut, *kinked]), tube=lasting)
        for acting in kinked:
            self._add(ends, "restricted", False, (acting.acts, *unless(shut)))

    def _weave_supply(self, supply: int, faults: dict[str, list[Acting]]) -> None:
        """A supply that is lost is an open end; one that is weak is a source and an open end."""
        fed = self.supplies[supply].volume
        span = self.supplies[supply].span
        lost, restored = faults["lost"], faults["restored"]
        if lost or restored:
            name = self.supplies[supply].name
            self._split_supply(supply, f"source of {name}")
            ends = (self._mouth(self.supplies[supply].volume), self._mouth(fed))
            self._add(ends, "full", False, unless([*lost, *restored]))
            if restored:
                unasked = self._source(f"air unasked for from {name}", span)
                for acting in restored:
                    ends = (self._mouth(unasked), self._mouth(fed))
                    self._add(ends, "full", True, (acting.acts, *unless(lost)))
        for acting in (*lost, *faults["weak"]):
            self._vent(fed, "full", (acting.acts,))

    def _end(self, tube: int) -> End:
        """The last end of a tube, or the one that is not the junction."""
        first, last = self.circuit.tubes[tube].ends
        name = first if last == JUNCTION else last
        if name in self._fed:
            return "supply", self._fed[name]
        return "port", self._inside[name]

    def _split(self, end: End) -> int:
        if end[0] == "port":
            return self._split_port(end[1])
        return self._split_supply(end[1], outlet_name(self.supplies[end[1]].name))

    def _split_supply(self, number: int, name: str) -> int:
        supply = self.supplies[number]
        own = self._volume(name, supplies=(number,))
        rest = self.volumes[supply.volume]
        left = tuple(one for one in rest.supplies if one != number)
        self.volumes[supply.volume] = structs.replace(rest, supplies=left)
        self.supplies[number] = structs.replace(supply, volume=own)
        return own

    def _split_port(self, number: int) -> int:
        port = self.ports[number]
        own = self._volume(inside_name(self.circuit, number), ports=(number,))
        rest = self.volumes[port.volume]
        left = tuple(one for one in rest.ports if one != number)
        self.volumes[port.volume] = structs.replace(rest, ports=left)
        state = "plugged" if port.state == "atmosphere" else port.state
        self.ports[number] = structs.replace(port, volume=own, state=state)
        self.moved[number] = own
        return own

    def _mouth(self, volume: int) -> int:
        """A port of the faults' own part in the volume."""
        number = len(self.ports)
        name = f"mouth {number} of {self.volumes[volume].name}"
        line = self.volumes[volume]
        open_air = line.open_air
        piped = line.line is not None
        state: Literal["piped", "atmosphere", "plugged"] = (
            "piped" if piped else "atmosphere" if open_air else "plugged"
        )
        span = self.parts[self.nobody].span
        self.ports.append(Port(name, self.nobody, name, volume, False, state, span))
        mine = (*self.parts[self.nobody].ports, number)
        self.parts[self.nobody] = structs.replace(self.parts[self.nobody], ports=mine)
        self.volumes[volume] = structs.replace(line, ports=(*line.ports, number))
        return number

    def _vent(self, volume: int, bore: Bore, where: tuple[Where, ...]) -> None:
        """Air goes out, and none comes in by it."""
        self._add((self._mouth(volume), self._mouth(self._air)), bore, True, where)

    def _add(
        self,
        ends: tuple[int, int],
        bore: Bore,
        one_way: bool,
        where: tuple[Where, ...],
        tube: bool = False,
    ) -> None:
        first, last = (self.ports[port] for port in ends)
        self.passages.append(
            Passage(
                first.part, ends, first.volume, last.volume, bore, one_way, where, first.span, tube
            )
        )

    def _volume(
        self,
        name: str,
        ports: tuple[int, ...] = (),
        *,
        open_air: bool = False,
        supplies: tuple[int, ...] = (),
    ) -> int:
        self.volumes.append(Volume(name, ports, open_air, supplies, None))
        return len(self.volumes) - 1

    def _part(self, name: str, span: Span) -> int:
        self.parts.append(Part(name, "faults", (), (), (), (), (), span))
        return len(self.parts) - 1
