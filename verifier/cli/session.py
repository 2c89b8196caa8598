"""The lines of `shutproof operate`: one command a line, one answer each, nothing painted over."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random
from typing import TYPE_CHECKING

import click

from verifier.cli.files import FileTrouble, print_text, write_whole
from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits
from verifier.diagnostics.suggest import did_you_mean

if TYPE_CHECKING:
    from verifier.model.circuit import Circuit
    from verifier.runs.script import Script
    from verifier.studies.operating import Choice, Done, Session

TYPED = "typed"
MOST_CHOICES = 12
HELP = """\
One line for each thing:
  pull PART, push PART, turn on PART …   works a hand control; `hands` lists them
  connect SUPPLY, disconnect SUPPLY      air comes and goes; also fail, weaken
  set SWITCH to VALUE                    the surroundings
  wait                                   all that must move does, until all is at rest
  move PART, move PART to POSITION       one element goes one position further
  NUMBER                                 one of the moves that are listed as possible next
  LINE and LINE                          both in the same moment
  strike FAULT, pass off FAULT           `faults PART` lists those of a part
  leak LINE                              what is cut off loses its air
  expect FACT                            looks whether it is so: `PART out`, `air in LINE`,
                                         `flow from PLACE to PLACE`, `"PROPERTY" broken` …
  wrong PORT and PORT swapped            before anything else: a wrong connection
  look, look PART                        where everything stands; where one part stands, and why
  next                                   what may move next
  undo, redo, replay, restart            take back, do again, tell all of it again, begin again
  save FILE.run, save FILE.run "TITLE"   as a run that `--script` carries out
  quit
"""


def work(
    circuit: Circuit,
    beginning: tuple[Script, str] | None,
    path: Path | None,
    seed: int | None,
    limits: Limits,
) -> int:
    """Reads commands to the end; the exit status: 1 if an expectation was not met, 2 if, with
    nobody at a terminal, a line was not understood."""
    from verifier.studies.operating import Session

    order = None if seed is None else Random(seed)
    desk = Desk(Session(circuit, None if beginning is None else beginning[0], order), limits)
    if beginning is not None and path is not None:
        if not desk.begin(*beginning, path):
            return 2
    else:
        desk.greet()
    terminal = sys.stdin.isatty()
    if terminal:
        _complete(desk)
    for line in _lines(terminal):
        if not desk.obey(line):
            break
    if desk.failed:
        return 1
    return 2 if desk.misunderstood and not terminal else 0


def _lines(terminal: bool) -> Iterator[str]:
    while True:
        try:
            line = input("> " if terminal else "")
        except EOFError:
            return
        if not terminal and line.strip():
            print_text(f"> {line.strip()}\n")
        yield line


def _complete(desk: Desk) -> None:
    """Words can be completed with the tabulator, where the system has that."""
    try:
        import readline
    except ImportError:
        return
    words = desk.words()

    def complete(text: str, state: int) -> str | None:
        found = [word for word in words if word.startswith(text)]
        return found[state] if state < len(found) else None

    readline.set_completer(complete)
    readline.set_completer_delims(" ")
    readline.parse_and_bind("tab: complete")


class Desk:
    """One session at a terminal or at the end of a pipe."""

    def __init__(self, session: Session, limits: Limits) -> None:
        self.session = session
        self.limits = limits
        self.failed = False
        self.misunderstood = False
        self.choices: tuple[Choice, ...] = ()
        self._saved: set[Path] = set()
        self._commands: dict[str, Callable[[str], bool]] = {
            "help": self._help,
            "look": self._look,
            "why": self._look,
            "next": self._next,
            "hands": self._hands,
            "faults": self._faults,
            "undo": self._undo,
            "redo": self._redo,
            "replay": self._replay,
            "restart": self._restart,
            "save": self._save,
            "quit": self._quit,
            "exit": self._quit,
        }

    def words(self) -> list[str]:
        """What lines are made of."""
        from verifier.runs.read import KNOWN

        names = self.session.player.names
        things = (*names.parts, *names.supplies, *names.switches, *names.lines)
        return sorted({*self._commands, *KNOWN, *things})

    def greet(self) -> None:
        circuit = self.session.circuit
        title = f": {circuit.title}" if circuit.title else ""
        _say(f"{circuit.name}{title}")
        _say("Everything stands as at the start. `help` tells what can be said.")
        self._offer()

    def begin(self, script: Script, text: str, path: Path) -> bool:
        """Carries a run out; False if it cannot be."""
        from verifier.cli.reading import show
        from verifier.runs.facts import Misread
        from verifier.runs.play import groups

        for group in groups(script.lines):
            try:
                self.session.do(group)
            except Misread as mistake:
                show((mistake.diagnostic,), {path.as_posix(): text})
                return False
            except SourceError as error:
                show(error.diagnostics, {path.as_posix(): text})
                return False
        self._tell(self.session.replayed())
        return True

    def obey(self, line: str) -> bool:
        """Carries out one line; False when that ends the session."""
        text = line.split("#")[0].strip() if '"' not in line else line.strip()
        if not text:
            return True
        first, _, rest = text.partition(" ")
        if first in self._commands:
            return self._commands[first](rest.strip())
        if text.isdigit():
            self._choose(int(text))
            return True
        try:
            self._do(text)
        except SourceError as error:
            self._refuse(error.diagnostics, text)
        return True

    # ---- what is done
    def _do(self, text: str) -> None:
        from verifier.runs.facts import Misread
        from verifier.runs.read import HEADINGS, read_run

        if text.split()[0] in HEADINGS:
            self._head(text)
            return
        # What stands behind an `and` happens in the same moment.
        parted = text if text.startswith("expect") else re.sub(r"\s+and\s+", "\nand ", text)
        lines = list(read_run(parted, TYPED, self.limits).lines)
        try:
            done = self.session.do(lines)
        except Misread as mistake:
            if mistake.diagnostic.code == "E1012":
                self.failed = True
                _say(f"  NOT {mistake.diagnostic.message.removeprefix('not ')}")
                return
            raise SourceError((mistake.diagnostic,), {TYPED: parted}) from None
        if text.startswith("expect"):
            _say("  as expected")
            return
        self._tell(done)

    def _head(self, text: str) -> None:
        from verifier.runs.read import read_run
        from verifier.studies.operating import Session

        if self.session.history:
            _complain("a heading belongs before everything else; `restart` begins again")
            self.misunderstood = True
            return
        script = read_run(text, TYPED, self.limits)
        session = Session(self.session.design, script, self.session.order)
        self.session = session
        _say("  noted")
        self._offer()

    def _choose(self, number: int) -> None:
        if not 1 <= number <= len(self.choices):
            _complain(f"there is no move number {number}; `next` lists those that there are")
            self.misunderstood = True
            return
        self._tell(self.session.do([self.choices[number - 1].line]))

    def _tell(self, done: Done) -> None:
        from verifier.report.story import event_lines
        from verifier.report.text import wrapped

        for one in event_lines(done.events, wrapped, "  "):
            _say(one)
        if not done.events:
            _say("  nothing happens")
        for words in done.broken:
            for one in wrapped(f"! This breaks {words}", "  ", "  "):
                _say(one)
        self._offer()

    def _offer(self) -> None:
        """What may move next."""
        from verifier.report.text import wrapped

        self.choices = self.session.choices()
        if not self.choices:
            _say("  at rest: nothing moves by itself")
            return
        musts = sum(one.must for one in self.choices)
        _say("  next:" if musts else "  at rest; next, as an in-between pressure is read:")
        for number, one in enumerate(self.choices[:MOST_CHOICES], 1):
            may = "" if one.must else " (it may)"
            for told in wrapped(f"{number}  {one.words}{may}: {one.why}", "    ", "   "):
                _say(told)
        if len(self.choices) > MOST_CHOICES:
            _say(f"    and {len(self.choices) - MOST_CHOICES} more")

    # ---- commands
    def _help(self, _: str) -> bool:
        print_text(HELP)
        return True

    def _quit(self, _: str) -> bool:
        return False

    def _next(self, _: str) -> bool:
        self._offer()
        return True

    def _look(self, rest: str) -> bool:
        from verifier.report.standing import whole_lines
        from verifier.report.text import wrapped
        from verifier.studies.standing import standing

        if rest:
            return self._look_at(rest)
        for one in whole_lines(standing(self.session.circuit, self.session.state), wrapped, "  "):
            _say(one)
        return True

    def _look_at(self, name: str) -> bool:
        from verifier.report.text import wrapped
        from verifier.runs.facts import Misread
        from verifier.studies.looking import looked_at

        try:
            for told in looked_at(self.session.player.names, self.session.state, name):
                for one in wrapped(told, "  ", "  "):
                    _say(one)
        except Misread as mistake:
            self._complain_of(mistake.diagnostic)
        return True

    def _hands(self, _: str) -> bool:
        from verifier.report.text import wrapped
        from verifier.studies.looking import ways_to_work

        for told in ways_to_work(self.session.player.names):
            for one in wrapped(told, "  ", "  "):
                _say(one)
        return True

    def _faults(self, rest: str) -> bool:
        from verifier.report.text import wrapped
        from verifier.runs.stage import stage
        from verifier.studies.looking import faults_like

        circuit = stage(self.session.design, self.session.heading)
        found = faults_like(circuit, rest)
        for told in found:
            for one in wrapped(told, "  ", "  "):
                _say(one)
        if not found:
            hint = did_you_mean(rest, self.session.player.names.parts)
            _complain(f"nothing called `{rest}` has faults{f'; {hint}' if hint else ''}")
            self.misunderstood = True
        return True

    def _undo(self, _: str) -> bool:
        if self.session.undo():
            _say("  taken back")
            self._offer()
        else:
            _say("  there is nothing to take back")
        return True

    def _redo(self, _: str) -> bool:
        done = self.session.redo()
        if done is None:
            _say("  nothing was taken back")
        else:
            self._tell(done)
        return True

    def _replay(self, _: str) -> bool:
        self._tell(self.session.replayed())
        return True

    def _restart(self, _: str) -> bool:
        from verifier.studies.operating import Session

        self.session = Session(self.session.design, None, self.session.order)
        self.greet()
        return True

    def _save(self, rest: str) -> bool:
        from msgspec import structs

        from verifier.runs.read import SUFFIX
        from verifier.runs.write import script_text

        found = re.fullmatch(r'(\S+)(?:\s+"([^"]*)")?(\s+anyway)?', rest)
        if found is None or not found[1].endswith(SUFFIX):
            _complain(f'say `save NAME{SUFFIX}`, perhaps with a title: `save NAME{SUFFIX} "TITLE"`')
            self.misunderstood = True
            return True
        path = Path(found[1])
        if path.exists() and path not in self._saved and not found[3]:
            _complain(f"{path} is there already; say `save {rest} anyway` to write over it")
            self.misunderstood = True
            return True
        script = self.session.script()
        if found[2]:
            script = structs.replace(script, title=found[2])
        try:
            write_whole(path, script_text(script).encode())
        except FileTrouble as trouble:
            _complain(trouble.message)
            self.misunderstood = True
            return True
        self._saved.add(path)
        _say(f"  saved as {path}")
        return True

    # ---- what goes wrong
    def _refuse(self, diagnostics: tuple[Diagnostic, ...], text: str) -> None:
        for one in diagnostics:
            self._complain_of(one)

    def _complain_of(self, mistake: Diagnostic) -> None:
        self.misunderstood = True
        _complain(mistake.message + (f"; {mistake.hint}" if mistake.hint else ""))


def _say(text: str) -> None:
    print_text(f"{text.rstrip()}\n")


def _complain(text: str) -> None:
    """On standard error where that is another place than the answers, so that it is not missed."""
    sys.stdout.flush()
    click.echo(f"  ? {text}", err=not sys.stdout.isatty())
