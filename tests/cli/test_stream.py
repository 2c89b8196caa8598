"""Answers as they come, and progress of long work."""

from __future__ import annotations

import io
import json
import os
import pty
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from command import BANK_FROM_MASTER, HERON, ROOT, shutproof

from verifier.cli.progress import IN_PIPE, LONG, ON_TERMINAL, Progress
from verifier.report.json import schema_path

NAMES = ("--property", "each compartment can discharge", "--property", "the stop shuts every valve")


def test_lines_say_what_the_result_says(tmp_path: Path) -> None:
    broken = tmp_path / "broken.ilk"
    broken.write_text("design broken\nuse nothing\n")
    arguments = (*NAMES, HERON, BANK_FROM_MASTER, broken)
    done = shutproof("prove", "--json-lines", *arguments)
    lines = [json.loads(line) for line in done.stdout.splitlines()]
    schema = json.loads(schema_path("lines").read_text())
    for line in lines:
        jsonschema.validate(line, schema, jsonschema.Draft202012Validator)
    result = json.loads(shutproof("prove", "--json", *arguments).stdout)
    kinds = [line["line"] for line in lines]
    assert kinds == [*(["property"] * 2 + ["design"]) * 2, "refused", "end"]
    for design in result["designs"]:
        told = [x for x in lines if x["line"] == "property" and x["design"] == design["design"]]
        by_name = {line["property"]["name"]: line["property"] for line in told}
        # *possible* is decided first.
        assert told[0]["property"]["form"] == "possible"
        for item in design["properties"]:
            assert without_witnesses(item) == without_witnesses(by_name[item["name"]])
    assert [x["result"] for x in lines if x["line"] == "design"] == result["designs"]
    assert lines[-2]["refused"] == result["refused"][0]
    assert (lines[-1]["exit_status"], done.returncode) == (result["exit_status"], 2)


def without_witnesses(item: dict[str, Any]) -> dict[str, Any]:
    cases = [{**case, "witnesses": None} for case in item["instances"]]
    return {**item, "instances": cases, "no_witness": None}


def test_cores_are_in_the_result_of_the_design() -> None:
    name = ("--property", "the stop shuts every valve")
    done = shutproof("prove", "--json-lines", "--cores", *name, HERON)
    first, design, _ = (json.loads(line) for line in done.stdout.splitlines())
    assert first["property"]["core"] is None
    assert design["result"]["properties"][0]["core"]["parts"]


SLEEPS_AT_THE_SECOND = """
import time
import verifier.engines.registry as registry
from verifier.engines.directed import Directed


class Sleeper:
    name = "sleeper"

    def search(self, system, goal, budget):
        if goal.name.startswith("bad:"):
            time.sleep(60)
        return Directed().search(system, goal, budget)


registry.ENGINES["sleeper"] = Sleeper()
"""
AT_ONCE = "import verifier.cli.progress as progress\nprogress.LONG = 0\n"


def program(patch: str) -> str:
    return f"import os, sys\n{patch}\nfrom verifier.cli.main import main\nmain()\n"


def test_a_line_is_there_before_the_next_is_decided() -> None:
    arguments = ["prove", "--json-lines", "--engine", "sleeper", *NAMES, str(HERON)]
    command = [sys.executable, "-c", program(SLEEPS_AT_THE_SECOND), *arguments]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        line = json.loads(process.stdout.readline())
        assert line["property"]["name"] == NAMES[1]
        assert process.poll() is None
        process.send_signal(signal.SIGINT)
        rest, _ = process.communicate(timeout=20)
    # What was interrupted has no last line.
    assert rest == ""


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--json", "--json-lines"], "--json and --json-lines"),
        (["--json-lines", "-o", "x"], "--json-lines and --output"),
    ],
)
def test_what_excludes_each_other(arguments: list[str], words: str) -> None:
    done = shutproof("prove", *arguments, HERON)
    assert (done.returncode, done.stdout) == (2, "")
    assert f"{words} exclude each other" in done.stderr


def on_terminal(*arguments: object, **environment: str) -> tuple[str, str]:
    """Standard output, and what a terminal gets of standard error; all work counts as long."""
    ours, theirs = pty.openpty()
    with subprocess.Popen(
        [sys.executable, "-c", program(AT_ONCE), "prove", *map(str, arguments)],
        cwd=ROOT,
        env={**os.environ, "TERM": "xterm", **environment},
        stdout=subprocess.PIPE,
        stderr=theirs,
        text=True,
    ) as process:
        os.close(theirs)
        seen = b""
        try:
            while part := os.read(ours, 4096):
                seen += part
        except OSError:
            pass  # how Linux tells that the other end is closed
        output, _ = process.communicate(timeout=60)
    os.close(ours)
    return output, seen.decode()


def test_a_terminal_shows_progress_and_is_left_clean() -> None:
    output, seen = on_terminal(*NAMES, HERON, NO_COLOR="1")
    assert "heron: each compartment can discharge (1 of 2), solver work " in seen
    assert seen.replace("\r\x1b[K", "").count("\x1b") == 0
    assert seen.endswith("\r\x1b[K")
    assert output == shutproof("prove", *NAMES, HERON).stdout


def test_colours_and_silence_are_as_the_terminal_is() -> None:
    assert "\x1b[2m" in on_terminal(*NAMES, HERON, NO_COLOR="")[1]
    assert on_terminal(*NAMES, HERON, TERM="dumb")[1] == ""
    assert on_terminal("--no-progress", *NAMES, HERON)[1] == ""


def test_a_pipe_sees_progress_only_when_asked() -> None:
    command = [sys.executable, "-c", program(AT_ONCE), "prove", *NAMES, str(HERON)]
    plain, asked = (
        subprocess.run([*command, *more], cwd=ROOT, capture_output=True, text=True, check=True)
        for more in ([], ["--progress"])
    )
    assert plain.stderr == ""
    assert "heron: the stop shuts every valve (2 of 2), solver work " in asked.stderr
    assert "\x1b" not in asked.stderr
    assert plain.stdout == asked.stdout


@pytest.mark.parametrize("terminal", [False, True])
def test_only_long_work_is_shown_and_not_too_often(terminal: bool) -> None:
    now, stream = [0.0], io.StringIO()
    shown = Progress(stream, terminal=terminal, colour=False, clock=lambda: now[0])
    shown.begins("gull", "no race", 1, 3)
    shown.works("", 5)
    now[0] = LONG / 2
    shown.works("", 5)
    assert stream.getvalue() == ""
    now[0] = LONG
    shown.works("", 5)
    shown.works("horn", 1234)
    first = stream.getvalue()
    assert first.count("gull: no race (1 of 3), solver work 15") == 1
    now[0] += ON_TERMINAL if terminal else IN_PIPE
    shown.works("horn", 2345)
    assert stream.getvalue().removeprefix(first).strip("\r\x1b[K\n") == (
        "gull: no race (1 of 3), solver work 15, horn 2,345"
    )
    shown.begins("gull", "comes to rest", 2, 3)
    shown.works("", 5)
    assert stream.getvalue().count("comes to rest") == 0
