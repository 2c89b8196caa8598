"""Options that several commands share."""

from __future__ import annotations

import functools
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import click
import msgspec

from verifier.diagnostics.limits import Limits, option

Function = Callable[..., Any]

FILE = click.Path(path_type=Path)

one_file = click.argument("file", type=FILE)
files = click.argument("files", type=FILE, nargs=-1, required=True)
progress = click.option(
    "--progress/--no-progress",
    "progress",
    default=None,
    help="Show long work on standard error; on a terminal that is usual.",
)

_ABOUT = {
    "max_bytes": "of one source file",
    "max_line_length": "characters of one line",
    "max_statements": "of one file",
    "max_nesting": "of conditions",
    "max_files": "read for one design",
    "max_members": "of all families and cases of a design",
    "max_depth": "of assemblies within assemblies",
}


def limits(function: Function) -> Function:
    """Adds an option for each field of Limits and passes them on as `limits`."""
    defaults = {field.name: field.default for field in msgspec.structs.fields(Limits)}

    @functools.wraps(function)
    def with_limits(**values: Any) -> Any:
        chosen = {name: values.pop(name) for name in defaults}
        try:
            return function(limits=Limits(**chosen), **values)
        except ValueError as error:
            if str(error).startswith("--max-"):
                raise click.UsageError(str(error)) from None
            raise

    decorated: Function = with_limits
    for name, default in reversed(defaults.items()):
        decorated = click.option(
            option(name),
            name,
            type=click.IntRange(min=1),
            default=default,
            show_default=True,
            metavar="N",
            help=f"Limit: {_ABOUT[name]}.",
        )(decorated)
    return decorated


output = click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    help="Write to this file instead of standard output.",
)


sarif = click.option(
    "--sarif",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write what does not hold as SARIF, with stories as code flows.",
)


def search(function: Function) -> Function:
    """Adds the choice of engine and its budget, passed on as `search` (studies.options.Options)."""

    @functools.wraps(function)
    def with_search(
        engine: str | None,
        conflicts: int | None,
        depth: int | None,
        jobs: int | None,
        memory: int | None,
        patience: float | None,
        every_case: bool = False,
        cores: bool = False,
        **values: Any,
    ) -> Any:
        from verifier.studies.options import Options

        about_workers = {"--jobs": jobs, "--memory": memory, "--patience": patience}
        if not hasattr(os, "fork") and any(about_workers.values()):
            given = ", ".join(name for name, value in about_workers.items() if value)
            raise click.UsageError(f"{given}: this system has no workers, as it cannot fork")
        chosen = Options(engine, conflicts, depth, every_case, cores, jobs, memory, patience)
        return function(search=chosen, **values)

    decorated: Function = with_search
    for declare in (
        click.option(
            "--patience",
            type=click.FloatRange(min=0, min_open=True),
            metavar="S",
            help="Kill a worker that is silent for so many seconds.",
        ),
        click.option(
            "--memory",
            type=click.IntRange(min=1),
            metavar="MIB",
            help="Memory of a worker.",
        ),
        click.option("--jobs", type=click.IntRange(min=1), metavar="N", help="Workers at a time."),
        click.option(
            "--depth",
            type=click.IntRange(min=0),
            metavar="N",
            help="Budget: steps beyond those that any run to an answer is known to need.",
        ),
        click.option(
            "--conflicts", type=click.IntRange(min=1), metavar="N", help="Budget: solver conflicts."
        ),
        click.option("--engine", metavar="NAME", help="Ask only this engine."),
    ):
        decorated = declare(decorated)
    return decorated
