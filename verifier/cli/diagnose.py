"""`shutproof diagnose`: what explains what was done and seen."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli import options
from verifier.cli.files import deliver, print_text
from verifier.diagnostics.diagnostic import SourceError
from verifier.diagnostics.limits import Limits

if TYPE_CHECKING:
    from verifier.model.load import Loaded
    from verifier.report.diagnosis import Diagnosis
    from verifier.runs.script import Script

TOLD = "what was told"
HELP = """\
  did pull master          what was done (lines of a run)
  saw master goes back in  what was seen then
  undo                     take the last line back
  why NUMBER               the story of an explanation
  ?                        this
  quit                     or the end of the input"""


class InOrder(click.Command):
    """Remembers in which order --did and --saw were given."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        ctx.meta[TOLD] = list(_told(args))
        return super().parse_args(ctx, args)


def _told(args: Sequence[str]) -> Iterator[tuple[str, str]]:
    words = iter(args)
    for word in words:
        if word == "--":
            return
        for name in ("did", "saw"):
            if word == f"--{name}":
                value = next(words, None)
                if value is not None:
                    yield name, value
            elif word.startswith(f"--{name}="):
                yield name, word.partition("=")[2]


@click.command("diagnose", cls=InOrder)
@options.one_file
@click.option(
    "--did", multiple=True, metavar="LINE", help='What was done: "pull master" (repeatable).'
)
@click.option(
    "--saw", multiple=True, metavar="FACT", help='What was seen then: "lamp not showing".'
)
@click.option(
    "--run",
    "run_file",
    type=click.Path(path_type=Path),
    metavar="FILE.run",
    help="Take both from a run; `expect` is what was seen.",
)
@click.option(
    "--sheet",
    type=click.Path(path_type=Path),
    metavar="FILE.csv",
    help="Take both from a filled-in sheet of `shutproof commission`.",
)
@click.option(
    "--order",
    type=click.IntRange(min=1),
    default=1,
    show_default=True,
    metavar="N",
    help="Up to so many faults at once.",
)
@click.option("--mistakes/--no-mistakes", default=True, help="Wrong connections, too.")
@click.option("--no-faults", is_flag=True, help="Only whether it is as designed, which is quick.")
@click.option("--no-gauge", is_flag=True, help="Nobody has a gauge at hand.")
@click.option("--no-advice", is_flag=True, help="Do not say what to look at next.")
@click.option("--stories", is_flag=True, help="Tell the story of every explanation.")
@click.option("--json", "as_json", is_flag=True, help="Print the answer as JSON.")
@options.output
@options.limits
@click.pass_context
def command(
    ctx: click.Context,
    file: Path,
    did: tuple[str, ...],
    saw: tuple[str, ...],
    run_file: Path | None,
    sheet: Path | None,
    order: int,
    mistakes: bool,
    no_faults: bool,
    no_gauge: bool,
    no_advice: bool,
    stories: bool,
    as_json: bool,
    output: Path | None,
    limits: Limits,
) -> None:
    """Explains what was done and seen: first by what nobody mentioned, then by faults.

    Things are done one at a time, and looked at once all is at rest. Every supply is taken to give
    air from the beginning. An explanation has a run that the simulator has replayed; what is not
    among them cannot have shown what was seen, whatever moved first. Without --did, --saw, --run
    or --sheet it asks, line by line.

    Exit status: 0 something explains it, 1 nothing does, 2 wrong usage or invalid input, 3 not all
    is decided, 70 a bug of shutproof itself.
    """
    from verifier.cli.reading import Ending, read

    given = [bool(did or saw), run_file is not None, sheet is not None]
    if sum(given) > 1:
        raise click.UsageError("give either --did and --saw, or --run, or --sheet")
    search = _Search(order, not no_advice, not no_gauge, mistakes, not no_faults)
    with Ending(file):
        loaded = read(file, limits)
        bench = _Bench(file, loaded, search)
        if not any(given):
            ctx.exit(_talk(bench, stories))
        told = ctx.meta[TOLD] if given[0] else []
        found = bench.answer(told, run_file, sheet)
    _print(found, as_json, stories, output)
    ctx.exit(_status(found))


class _Search:
    def __init__(self, order: int, advise: bool, gauge: bool, mistakes: bool, faults: bool) -> None:
        self.order, self.advise, self.gauge = order, advise, gauge
        self.mistakes, self.faults = mistakes, faults


class _Bench:
    """A design ready to be asked about, as often as one likes."""

    def __init__(self, file: Path, loaded: Loaded, search: _Search) -> None:
        from verifier.model.strikes import strikes
        from verifier.studies.diagnose import trailer_of
        from verifier.studies.wrong_strikes import wrong_strikes

        self.file, self.search = file, search
        wrong = wrong_strikes(loaded.circuit)[0] if search.mistakes else ()
        self.considered = (*strikes(loaded.circuit), *wrong) if search.faults else ()
        self.trailer = trailer_of(loaded.circuit, self.considered)

    def answer(
        self, told: Sequence[tuple[str, str]], run: Path | None = None, sheet: Path | None = None
    ) -> Diagnosis:
        """Raises SourceError for what cannot be done or seen."""
        from verifier.studies.diagnose import TooWide, diagnose
        from verifier.studies.observing import Said

        said = Said(self.trailer)
        if run is not None:
            text = _text(run)
            said.run(_script(text, run, self.trailer.design.name), text, str(run))
        if sheet is not None:
            from verifier.studies.sheets import told_by

            told = told_by(_text(sheet), str(sheet))
        for kind, text in told:
            if kind == "did":
                said.did(text)
            else:
                said.saw(text)
        try:
            return diagnose(
                self.trailer,
                self.considered,
                said,
                str(self.file),
                self.search.order,
                self.search.advise,
                self.search.gauge,
            )
        except TooWide as error:
            raise click.UsageError(str(error)) from None


def _script(text: str, path: Path, design: str) -> Script:
    from verifier.runs.read import read_run

    script = read_run(text, str(path))
    if script.design and script.design != design:
        raise click.UsageError(f"{path}: this run is of {script.design}, not of {design}")
    if script.wrong is not None:
        raise click.UsageError(f"{path}: a wrong connection is what diagnosis has to find")
    return script


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        reason = error.strerror if isinstance(error, OSError) else "it is no UTF-8 text"
        raise click.UsageError(f"{path} cannot be read: {reason}") from None


def _print(found: Diagnosis, as_json: bool, stories: bool, output: Path | None) -> None:
    from verifier.report.diagnosis import DiagnosisResult, diagnosis_text
    from verifier.report.json import text_of
    from verifier.studies.modelling import CAUTIONS

    if as_json:
        deliver(text_of(DiagnosisResult(found, CAUTIONS)), output)
        return
    text = diagnosis_text(found, stories=stories)
    if output is None:
        print_text(text)
    else:
        deliver(text.encode(), output)


def _status(found: Diagnosis) -> int:
    if found.explanations:
        return 0
    return 3 if found.undecided else 1


def _talk(bench: _Bench, stories: bool) -> int:
    """Line by line; the answer after every look."""
    from verifier.cli.reading import show
    from verifier.report.diagnosis import diagnosis_text

    told: list[tuple[str, str]] = []
    found: Diagnosis | None = None
    click.echo(f"{bench.file}: what was done, and what was seen?\n{HELP}")
    for line in _lines_asked():
        word, _, rest = line.partition(" ")
        if word in ("quit", "exit"):
            break
        if word == "?":
            click.echo(HELP)
        elif word == "undo":
            if told:
                click.echo("taken back: {} {}".format(*told.pop()))
        elif word == "why":
            click.echo(_story(found, rest))
        elif word not in ("did", "saw") or not rest.strip():
            click.echo("begin with `did` or `saw`; `?` tells more")
        else:
            told.append((word, rest.strip()))
            try:
                found = bench.answer(told)
            except SourceError as error:
                told.pop()
                show(error.diagnostics, error.texts)
            else:
                if word == "saw":
                    print_text(diagnosis_text(found, stories=stories, first=False))
    return 0 if found is None else _status(found)


def _story(found: Diagnosis | None, rest: str) -> str:
    from verifier.report.diagnosis import story_text

    number = int(rest) if rest.strip().isdigit() else 0
    if found is None or not 1 <= number <= len(found.explanations):
        return "there is no such explanation"
    return story_text(found.explanations[number - 1])


def _lines_asked() -> Iterator[str]:
    asks = sys.stdin.isatty()
    while True:
        if asks:
            click.echo("> ", nl=False)
        line = sys.stdin.readline()
        if not line:
            return
        if line.strip():
            yield " ".join(line.split())
