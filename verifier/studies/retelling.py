"""A run of a rig, retold as one of the circuit with its faults woven in, and replayed."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.calm.rig import Rig, State
from verifier.calm.runner import Trace
from verifier.calm.script import Happening, Put, Seen
from verifier.calm.signs import Sign
from verifier.calm.trailer import Trailer
from verifier.evidence.error import EvidenceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run, Step
from verifier.model.run import State as Full
from verifier.model.weaving import weave
from verifier.model.woven_air import AROUND
from verifier.simulation.movement import demanded, holds_some
from verifier.simulation.pressures import driven, pressures
from verifier.simulation.replay import ReplayError, replay
from verifier.simulation.steps import start


class Retold(Struct, frozen=True):
    """circuit: with the faults of the rig woven in. run: replayed by the simulator, which agrees
    that it shows what was seen."""

    circuit: Circuit
    run: Run


def retell(trailer: Trailer, rig: Rig, trace: Trace, happenings: Sequence[Happening]) -> Retold:
    """Raises EvidenceError if the simulator does not agree."""
    chosen = [one for one in trailer.strikes if one.name in rig.faults]
    circuit = weave(trailer.design, chosen).circuit
    teller = _Teller(trailer, rig, circuit)
    looks: dict[int, list[Seen]] = {}
    for happening, place in zip(happenings, trace.at, strict=True):
        if not isinstance(happening, Put):
            looks.setdefault(place, []).append(happening)
    teller.begin(trace.states[0])
    for number, state in enumerate(trace.states):
        if number:
            teller.step(state)
        ends = number + 1 == len(trace.states)
        worked = not ends and _inputs(trace.states[number + 1]) != _inputs(state)
        if number in looks or ends or worked:
            for seen in looks.get(number, ()):
                teller.show(seen)
            teller.rest(worked or ends)
    run = Run(teller.first, tuple(teller.steps))
    try:
        replay(circuit, run)
    except ReplayError as error:
        raise EvidenceError(f"a run that was to explain what was seen: {error}") from None
    return Retold(circuit, run)


def _inputs(state: State) -> tuple[tuple[int, ...], tuple[int, ...]]:
    return state.hands, state.settings


class _Teller:
    """Adds steps of the elements that only follow, which a rig leaves out."""

    def __init__(self, trailer: Trailer, rig: Rig, circuit: Circuit) -> None:
        self.rig, self.circuit = rig, circuit
        self.own = trailer.own
        mine = {volume.name: k for k, volume in enumerate(trailer.circuit.volumes)}
        self.volume = [
            rig.volume[mine[v.name]] if v.name in mine else None for v in circuit.volumes
        ]
        self.first = self.now = start(circuit)
        self.steps: list[Step] = []

    def begin(self, state: State) -> None:
        """The faults strike, before anything else."""
        if self.rig.faults:
            positions = list(self.now.positions)
            for number in range(self.own, len(positions)):
                positions[number] = 1
            self._go(state, tuple(positions))

    def step(self, state: State) -> None:
        positions = list(self.now.positions)
        air = pressures(self.circuit, self.now)
        for number in range(self.own):
            if number not in self.rig.followers:
                positions[number] = state.positions[number]
            else:
                targets = demanded(self.circuit, self.now, air, number, ())
                positions[number] = self._towards(number, targets)
        self._go(state, tuple(positions))

    def _towards(self, number: int, targets: Sequence[int]) -> int:
        own = self.now.positions[number]
        return own if own in targets else own + (1 if targets[0] > own else -1)

    def rest(self, needed: bool) -> None:
        """Let those that follow come to rest."""
        while needed:
            air = pressures(self.circuit, self.now)
            positions = list(self.now.positions)
            for number in sorted(self.rig.followers):
                targets = demanded(self.circuit, self.now, air, number, ())
                positions[number] = self._towards(number, targets)
            if tuple(positions) == self.now.positions:
                return
            self._still(tuple(positions))

    def show(self, seen: Seen) -> None:
        """Come to rest so that this is seen. Raises EvidenceError if the simulator sees it not."""
        self.rest(True)
        if not self._shows(seen):
            for number in sorted(self.rig.followers):
                self._try(number, seen)
        if not self._shows(seen):
            raise EvidenceError(f"a run that was to show this does not: {seen.words}")

    def _try(self, number: int, seen: Seen) -> None:
        """Something that can stand either way stands the other way."""
        air = pressures(self.circuit, self.now)
        for target in demanded(self.circuit, self.now, air, number, ()):
            own = self.now.positions[number]
            if target != own and not self._shows(seen):
                for place in range(own, target, 1 if target > own else -1):
                    positions = list(self.now.positions)
                    positions[number] = place + (1 if target > own else -1)
                    self._still(tuple(positions))

    def _shows(self, seen: Seen) -> bool:
        return any(_shown(self.circuit, self.now, seen.sign, value) for value in seen.values)

    def _still(self, positions: tuple[int, ...]) -> None:
        after = Full(positions, self.now.hands, self.now.settings, self.now.memory)
        self.steps.append(Step((), after))
        self.now = after

    def _go(self, state: State, positions: tuple[int, ...]) -> None:
        settings = state.settings[: len(self.circuit.switches)]
        settings += tuple(one.start for one in self.circuit.switches[len(settings) :])
        trapped = driven(self.circuit, positions, settings).trapped
        memory = tuple(
            bool(cut and mine is not None and state.kept >> mine & 1)
            for cut, mine in zip(trapped, self.volume, strict=True)
        )
        after = Full(positions, tuple(map(bool, state.hands)), settings, memory)
        if after != self.now:
            self.steps.append(Step((), after))
            self.now = after


def _shown(circuit: Circuit, state: Full, sign: Sign, value: int) -> bool:
    """Whether the sign can show the value, by the simulator."""
    if sign.element is not None:
        return _place(circuit, state, sign.element) == value
    if sign.gauge is not None:
        air = pressures(circuit, state)
        return (air.can_high if value else air.can_low)[sign.gauge]
    if sign.volume is not None and not sign.added:
        return pressures(circuit, state).can_high[sign.volume] == bool(value)
    if sign.paths:
        return any(holds_some(circuit, state, path) for path in sign.paths) == bool(value)
    around = next((k for k, v in enumerate(circuit.volumes) if v.name == AROUND), None)
    blows = around is not None and pressures(circuit, state).can_high[around]
    return blows if value else sign.spot != "" or not blows


def _place(circuit: Circuit, state: Full, thing: int) -> int:
    own = sum(not element.fault for element in circuit.elements)
    if thing < own:
        return state.positions[thing]
    if thing < own + len(circuit.hands):
        return int(state.hands[thing - own])
    return state.settings[thing - own - len(circuit.hands)]
