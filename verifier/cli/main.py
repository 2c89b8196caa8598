"""The command `shutproof`: its subcommands, its exit statuses and how it ends."""

from __future__ import annotations

import importlib
import os
import signal
import sys
import threading
from typing import NoReturn

import click

OWN_BUG = 70
INTERRUPTED = 130
COMPLETE = "_SHUTPROOF_COMPLETE"
PIPE_CLOSED = 141  # as shells count the signal; the verdict may not have been reached

# Name of each command, its module and what it does; the modules are imported when used.
COMMANDS = {
    "prove": ("verifier.cli.prove", "Prove every property of designs, or tell how it breaks."),
    "faults": ("verifier.cli.faults", "Find which faults are enough to break a design."),
    "commission": ("verifier.cli.commission", "Write the test sheet of a finished trailer."),
    "diagnose": ("verifier.cli.diagnose", "Tell what explains what was done and seen."),
    "compare": ("verifier.cli.compare", "Tell what a change makes of a design and its safety."),
    "hookup": ("verifier.cli.hookup", "List the connections of a design, and what mistakes do."),
    "operate": ("verifier.cli.operate", "Work a circuit by hand, or carry out runs as tests."),
    "check": ("verifier.cli.check", "Look for mistakes in designs without proving anything."),
    "format": ("verifier.cli.format", "Print designs in the canonical layout."),
    "export": ("verifier.cli.export", "Print a design's circuit, proofs or questions."),
    "draw": ("verifier.cli.draw", "Draw the circuit diagram of a design."),
    "report": ("verifier.cli.report", "Make a page of a design, its verdicts and stories."),
    "audit": ("verifier.cli.audit", "Check a folder of evidence, without the search that made it."),
    "approve": ("verifier.cli.approve", "Write down that a design is approved, with its evidence."),
    "regress": ("verifier.cli.regress", "Check that the approved designs of a folder still stand."),
    "schema": ("verifier.cli.schema", "Print the JSON Schema of the result or the circuit."),
    "designs": ("verifier.cli.designs", "List the approved designs that come along."),
}


class Commands(click.Group):
    """Knows its commands without importing them, so that help and mistakes answer at once."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        module = importlib.import_module(COMMANDS[cmd_name][0])
        command: click.Command = module.command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl([(name, about) for name, (_, about) in COMMANDS.items()])


def _tell_version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted and not ctx.resilient_parsing:
        from importlib.metadata import version

        click.echo(f"shutproof {version('shutproof')}")
        ctx.exit()


@click.group(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    expose_value=False,
    is_eager=True,
    callback=_tell_version,
    help="Show the version and exit.",
)
def commands() -> None:
    """Proves the air interlocks of tank trailers from their piping, or tells the shortest way to
    break them.

    Exit status: 0 all properties hold, 1 one is violated or vacuous, 2 wrong usage or an invalid
    source, 3 one is inconclusive, 70 a bug of shutproof itself. When several apply, the first of
    70, 2, 1, 3 is given.
    """


def main() -> None:
    """Entry point of the console script; never returns."""
    _let_interrupts_end_the_process()
    _complete_if_asked()
    status = 0
    try:
        # Not commands.main: it takes a reader that went away for success.
        with commands.make_context("shutproof", sys.argv[1:]) as context:
            commands.invoke(context)
        sys.stdout.flush()
    except click.exceptions.Exit as ending:
        status = _flushed(ending.exit_code)
    except click.Abort:
        _end_by_interrupt()
    except click.ClickException as error:
        error.show()
        status = error.exit_code
    except BrokenPipeError:
        status = _reader_gone()
    except Exception as error:
        _confess(error)
        status = OWN_BUG
    sys.exit(status)


def _complete_if_asked() -> None:
    """A shell that completes a command line asks through the environment, and no command runs."""
    instruction = os.environ.get(COMPLETE)
    if instruction:
        from click.shell_completion import shell_complete

        sys.exit(shell_complete(commands, {}, "shutproof", COMPLETE, instruction))


def _flushed(status: int) -> int:
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        return _reader_gone()
    return status


def _let_interrupts_end_the_process() -> None:
    """Python's own handler waits for a solver to return from native code, which may take minutes.

    Output files are safe: `files.write_whole` holds the signal back while it writes.
    """
    if threading.current_thread() is threading.main_thread():
        signal.signal(signal.SIGINT, signal.SIG_DFL)


def _end_by_interrupt() -> NoReturn:
    """As the signal would have: shells show status 130."""
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    os.kill(os.getpid(), signal.SIGINT)
    os._exit(INTERRUPTED)


def _reader_gone() -> int:
    """The reader of our output went away: nothing is left to flush, and nobody to tell."""
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return PIPE_CLOSED


def _confess(error: Exception) -> None:
    """Evidence that fails is told by its own words; anything else with the place in the code."""
    import traceback

    if type(error).__module__ == "verifier.evidence.error":
        click.echo(f"Evidence failed: {error}", err=True)
    else:
        click.echo("".join(traceback.format_exception(error)), err=True, nl=False)
    click.echo(
        "\nThis is a bug of shutproof, not of your design. No verdict is given.\n"
        "Please report it with the text above and, if you may share it, the design.",
        err=True,
    )
