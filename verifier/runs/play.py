"""Carrying a run out: every step goes through the simulator, and what is expected is looked at."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.runs.facts import Misread
from verifier.runs.looks import look
from verifier.runs.names import Names
from verifier.runs.script import Begins, Event, Expects, Line, Script, Waits
from verifier.runs.stage import stage
from verifier.runs.steps import steps_of
from verifier.runs.waiting import waited
from verifier.simulation.replay import replay
from verifier.simulation.steps import start

MOST_STEPS = 2000
"""In which a circuit has to come to rest."""


class Played(Struct, frozen=True):
    """A run that was carried out. at: after each line of the script that was, how many steps there
    are.   problems: the step that could not happen, at which it ended, and expectations not met.
    """

    circuit: Circuit
    run: Run
    at: tuple[int, ...]
    problems: tuple[Diagnostic, ...]


def play(circuit: Circuit, script: Script, order: Random | None = None) -> Played:
    """Carry a script out from the start of the design. order: draws which of the elements that must
    move does so next while one waits; all of them at once if there is none.

    Raises SourceError (without texts) when names are not those of the design.
    """
    player = Player(stage(circuit, script), order)
    at: list[int] = []
    problems: list[Diagnostic] = []
    for group in groups(script.lines):
        try:
            player.do(group)
        except Misread as mistake:
            problems.append(mistake.diagnostic)
            if mistake.diagnostic.code not in ("E1012", "E1011", "E1013"):
                raise SourceError(tuple(problems), {}) from None
            if mistake.diagnostic.code != "E1012":
                break
        at += [len(player.steps)] * len(group)
    run = player.run()
    replay(player.circuit, run)
    return Played(player.circuit, run, tuple(at), tuple(problems))


def groups(lines: Sequence[Line]) -> list[list[Line]]:
    """Lines that happen together, in order."""
    found: list[list[Line]] = []
    for line in lines:
        if line.together and found:
            found[-1].append(line)
        else:
            found.append([line])
    return found


class Player:
    """A run on its way. Every step that is taken is allowed by the rules."""

    def __init__(self, circuit: Circuit, order: Random | None = None) -> None:
        self.circuit = circuit
        self.names = Names(circuit)
        self.start = start(circuit)
        self.steps: list[Step] = []
        self.procedure_from: int | None = None
        self.order = order

    @property
    def state(self) -> State:
        return self.steps[-1].state if self.steps else self.start

    def run(self) -> Run:
        return Run(self.start, tuple(self.steps), self.procedure_from)

    def do(self, lines: Sequence[Line]) -> None:
        """Lines that happen together. Raises Misread: E1012 for an expectation that is not met,
        E1011 and E1013 for what cannot happen, others for what the circuit does not have."""
        first = lines[0]
        if isinstance(first.what, Expects):
            self.expect(first)
        elif isinstance(first.what, Begins):
            self.procedure_from = len(self.steps)
        elif isinstance(first.what, Waits):
            self.wait(first.span)
        else:
            events: list[tuple[Event, Span]] = []
            for line in lines:
                assert not isinstance(line.what, Expects | Begins)
                events.append((line.what, line.span))
            self.steps += steps_of(self.names, self.state, events)

    def wait(self, span: Span) -> None:
        """Until everything is at rest."""
        found = waited(self.circuit, self.state, self.order, MOST_STEPS)
        if found is None:
            told = f"this does not come to rest within {MOST_STEPS} steps"
            hint = "`shutproof prove` tells whether it can go on for ever"
            raise Misread("E1013", span, told, hint=hint)
        self.steps += found

    def expect(self, line: Line) -> None:
        assert isinstance(line.what, Expects)
        found = look(self.names, self.run(), line.what.fact, line.span)
        if not found.met:
            why = f": {found.why}" if found.why else ""
            raise Misread("E1012", line.span, f"not as expected: {found.told}{why}")
