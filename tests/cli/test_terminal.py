"""What is seen on a terminal, in a pipe and while a shell completes."""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest
from command import shutproof
from test_report import DESIGN

from verifier.cli.progress import IN_PIPE, LONG, Counter
from verifier.cli.regress import _painted
from verifier.report.library import Examined
from verifier.report.library_text import line_of


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    path = tmp_path / "lamp.ilk"
    path.write_text(DESIGN)
    return path


@pytest.mark.parametrize("command", ["prove", "faults", "compare", "regress"])
def test_a_pipe_gets_plain_lines_of_80_columns(command: str, lamp: Path, tmp_path: Path) -> None:
    what = {"compare": (lamp.name, lamp.name), "regress": (".",)}.get(command, (lamp.name,))
    done = shutproof(command, *what, folder=tmp_path, PYTHONPATH=os.environ.get("PYTHONPATH", ""))
    assert done.returncode in (0, 1)
    assert done.stdout
    assert "\x1b" not in done.stdout + done.stderr
    assert [line for line in done.stdout.splitlines() if len(line) > 80] == []


@pytest.mark.parametrize(
    ("one", "colour"),
    [
        (Examined("a.ilk", "approved", "holds"), 32),
        (Examined("a.ilk", "unapproved", "holds"), 33),
        (Examined("a.ilk", "unapproved", "violated"), 31),
        (Examined("a.ilk", "tampered"), 31),
    ],
)
def test_a_status_has_a_colour_beside_its_word(one: Examined, colour: int) -> None:
    painted = line_of(one, _painted)
    assert f"\x1b[{colour}m" in painted
    assert re.sub("\x1b\\[\\d+m", "", painted) == line_of(one)


def test_many_are_counted_after_a_second(capsys: pytest.CaptureFixture[str]) -> None:
    now = [0.0]
    counter = Counter(True, lambda: now[0])
    counter.tell(1, 100, "designs")
    now[0] = LONG
    counter.tell(2, 100, "designs")
    counter.tell(3, 100, "designs")
    now[0] += IN_PIPE
    counter.tell(50, 100, "designs")
    counter.clear()
    told = capsys.readouterr().err
    assert told == "2 of 100 designs, about 49 s left\n50 of 100 designs, about 6 s left\n"
    silent = Counter(None, lambda: now[0])
    now[0] += LONG
    silent.tell(99, 100, "designs")
    assert capsys.readouterr().err == ""


def test_a_shell_completes_commands_and_options() -> None:
    told = {"_SHUTPROOF_COMPLETE": "bash_complete"}
    words = shutproof(COMP_WORDS="shutproof re", COMP_CWORD="1", **told).stdout.split()
    assert words == ["plain,report", "plain,regress"]
    words = shutproof(COMP_WORDS="shutproof report --co", COMP_CWORD="2", **told).stdout.split()
    assert words == ["plain,--compare", "plain,--cores", "plain,--conflicts"]
    script = shutproof(_SHUTPROOF_COMPLETE="bash_source").stdout
    assert "complete -o nosort -F _shutproof_completion shutproof" in script
