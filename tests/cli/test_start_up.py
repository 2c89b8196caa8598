"""Help and usage mistakes answer at once, without loading solvers or the parser."""

from __future__ import annotations

import subprocess
import sys
import time

import pytest
from command import SHUTPROOF, shutproof

HEAVY = ("z3", "pysat", "networkx", "lark", "rich", "jsonschema", "hypothesis")


@pytest.mark.parametrize("arguments", [["--help"], ["prove", "--help"], ["export", "--help"]])
def test_help_imports_nothing_heavy(arguments: list[str]) -> None:
    program = (
        "import sys; from verifier.cli.main import commands;"
        f"status = commands.main({arguments!r}, standalone_mode=False);"
        f"print(sorted(name for name in {HEAVY!r} if name in sys.modules))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert done.stdout.splitlines()[-1] == "[]"


def best_time(command: list[str]) -> float:
    """Seconds of the fastest of several runs."""
    best = float("inf")
    for _ in range(7):
        began = time.perf_counter()
        subprocess.run(command, capture_output=True, check=True)
        best = min(best, time.perf_counter() - began)
    return best


def test_help_costs_little_more_than_its_libraries() -> None:
    """Measured against the bare import of click, so that a slow machine does not matter."""
    bare = best_time([sys.executable, "-c", "import click"])
    assert best_time([str(SHUTPROOF), "--help"]) < 2.5 * bare


def test_help_names_every_command_and_status() -> None:
    text = shutproof("--help").stdout
    for word in ("prove", "check", "format", "export", "schema", "designs", "70", "vacuous"):
        assert word in text


def test_version() -> None:
    done = shutproof("--version")
    assert done.returncode == 0
    assert done.stdout.startswith("shutproof ")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Usage"),
        (["prove"], "Missing argument"),
        (["prov"], "No such command"),
        (["prove", "--colour", "x.ilk"], "No such option"),
        (["prove", "--max-nesting", "0", "x.ilk"], "--max-nesting"),
        (["prove", "--max-nesting", "100000", "x.ilk"], "--max-nesting"),
        (["export", "x.ilk", "--as", "picture"], "circuit"),
        (["schema", "design"], "result"),
        (["format", "--check", "--write", "x.ilk"], "exclude"),
    ],
)
def test_wrong_usage_is_status_2(arguments: list[str], words: str) -> None:
    done = shutproof(*arguments)
    assert done.returncode == 2
    assert words in done.stderr
    assert done.stdout == ""
