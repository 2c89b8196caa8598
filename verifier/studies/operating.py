"""A circuit that somebody works by hand: what was done, what moved and why, what may come next."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from random import Random

from msgspec import Struct, structs

from verifier.diagnostics.diagnostic import SourceError
from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.report.result import Event
from verifier.runs.play import Player, groups
from verifier.runs.record import Recorder
from verifier.runs.script import NOWHERE, Expects, Line, Moves, Script, Strikes, Waits
from verifier.runs.stage import stage
from verifier.simulation.cause import cause
from verifier.simulation.events import Change, changes_of, state_after
from verifier.simulation.judging import fights, violation
from verifier.simulation.movement import must_move, next_positions
from verifier.simulation.pressures import pressures
from verifier.studies.names import element_name, spoken
from verifier.studies.story import tell


class Choice(Struct, frozen=True):
    """One element that may move now. must: it cannot stay as it is.   why: in words."""

    line: Line
    words: str
    must: bool
    why: str


class Done(Struct, frozen=True):
    """What came of some lines. broken: what of the design this breaks, in words, each once."""

    events: tuple[Event, ...]
    broken: tuple[str, ...]


class Session:
    """`history`: the lines so far, those of one moment together, and how many steps there were
    before each. Faults are woven in when they are first spoken of; then all is done again."""

    def __init__(
        self, circuit: Circuit, heading: Script | None = None, order: Random | None = None
    ) -> None:
        self.design = circuit
        self.heading = structs.replace(heading or Script(), lines=())
        self.order = order
        self.player = Player(stage(circuit, self.heading), order)
        self.history: list[tuple[list[Line], int]] = []
        self.undone: list[list[Line]] = []

    @property
    def circuit(self) -> Circuit:
        return self.player.circuit

    @property
    def state(self) -> State:
        return self.player.state

    def script(self) -> Script:
        """All that was done, so that it can be done again in the same order."""
        lines = tuple(line for group, _ in self.history for line in group)
        design = self.heading.design or self.design.name
        return structs.replace(self.heading, design=design, lines=lines)

    def do(self, lines: Sequence[Line]) -> Done:
        """Lines that happen together. Raises Misread or SourceError; then nothing has happened."""
        group = list(lines)
        self._make_room(group)
        before, began = len(self.player.steps), self.player.state
        procedure = self.player.procedure_from
        try:
            self.player.do(group)
        except Exception:
            del self.player.steps[before:]
            self.player.procedure_from = procedure
            raise
        steps = self.player.steps[before:]
        if isinstance(group[0].what, Waits) and not steps:
            return Done((), ())
        if self.order is not None and isinstance(group[0].what, Waits):
            # What was drawn is written down, so that it can be done again.
            for line in self._written(began, steps):
                self.history.append((line, before))
                before += 1
        else:
            self.history.append((group, before))
        self.undone.clear()
        return self._told(began, len(self.player.steps) - len(steps), steps)

    def _written(self, state: State, steps: Sequence[Step]) -> Iterator[list[Line]]:
        recorder = Recorder(self.circuit)
        changes = changes_of(self.circuit, Run(state, tuple(steps)))
        for number, step in enumerate(steps):
            mine = [one for one in changes if one.step == number]
            yield recorder.step(state, step, mine)
            state = step.state

    def _make_room(self, group: Sequence[Line]) -> None:
        """Weave in faults that are spoken of for the first time."""
        named = [line.what.fault for line in group if isinstance(line.what, Strikes)]
        if all(name in self.player.names.faults for name in named):
            return
        script = self.script()
        lines = [line for line in script.lines if not isinstance(line.what, Expects)]
        player = Player(stage(self.design, structs.replace(script, lines=(*lines, *group))))
        for one in groups(lines):
            player.do(one)
        player.order = self.order
        self.player = player

    def undo(self) -> bool:
        """Takes back what was done last; False if there is nothing."""
        if not self.history:
            return False
        group, steps = self.history.pop()
        del self.player.steps[steps:]
        if self.player.procedure_from is not None and self.player.procedure_from > steps:
            self.player.procedure_from = None
        self.undone.append(group)
        return True

    def redo(self) -> Done | None:
        """Does again what was undone last; None if there is nothing."""
        if not self.undone:
            return None
        waiting = self.undone[:-1]
        done = self.do(self.undone[-1])
        self.undone = waiting
        return done

    def replayed(self) -> Done:
        """Everything from the start."""
        run = self.player.run()
        return self._told(run.start, 0, run.steps)

    # ---- what is told
    def _told(self, before: State, first: int, steps: Sequence[Step]) -> Done:
        story = tell(self.circuit, Run(before, tuple(steps)), "", shortest=False)
        events = tuple(structs.replace(one, step=one.step + first) for one in story.events)
        return Done(events, self._broken(first, len(steps)))

    def _broken(self, first: int, count: int) -> tuple[str, ...]:
        run = self.player.run()
        found: dict[str, None] = {}
        for end in range(first + 1, first + count + 1):
            so_far = Run(run.start, run.steps[:end], run.procedure_from)
            found.update(dict.fromkeys(broken_by(self.circuit, so_far)))
        return tuple(found)

    def choices(self) -> tuple[Choice, ...]:
        """Elements that may move now, those that must first."""
        circuit, state = self.circuit, self.state
        air = pressures(circuit, state)
        found = []
        for element, thing in enumerate(circuit.elements):
            if thing.fault:
                continue
            for position in next_positions(circuit, state, air, element, ())[1:]:
                move = Change(0, "move", element, position)
                step = Step((), state_after(circuit, state, [move]))
                name = element_name(circuit, element)
                if self.player.names.elements.get(name) != element:
                    name = thing.name
                words = f"{name} goes to {spoken(thing.positions[position])}"
                line = Line(Moves(name, thing.positions[position]), span=NOWHERE)
                must = must_move(circuit, state, element)
                found.append(Choice(line, words, must, cause(circuit, state, step, element)))
        return tuple(sorted(found, key=lambda one: not one.must))


def broken_by(circuit: Circuit, run: Run) -> tuple[str, ...]:
    """What of the design the run breaks in its last state, in words."""
    found = []
    for item in circuit.properties:
        if item.form == "possible" or (item.form == "recovers" and run.procedure_from is None):
            continue
        labels = [
            one.label.replace(" = ", "=")
            for one in item.instances
            if violation(circuit, item, one, run)
        ]
        if labels:
            named = "; ".join(label for label in labels if label)
            found.append(f'{item.form} "{item.name}"{f" for {named}" if named else ""}')
    # That air and exhaust never fight is asked of the sound circuit.
    if not any(one.fault for one in circuit.elements) and fights(circuit, run.states[-1]):
        found.append("no contest: air and exhaust fight")
    return tuple(found)


def begun(circuit: Circuit, script: Script, order: Random | None = None) -> Session:
    """A session in which a run was carried out. Raises SourceError for the first line that cannot
    be, or whose expectation is not met."""
    from verifier.runs.facts import Misread

    session = Session(circuit, script, order)
    for group in groups(script.lines):
        try:
            session.do(group)
        except Misread as mistake:
            raise SourceError((mistake.diagnostic,), {}) from None
    return session
