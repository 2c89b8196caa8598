"""`shutproof operate`: by hand at a pipe, and scripts as tests."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path
from random import Random

import pytest

from tests.cli.command import HERON, ROOT, SHUTPROOF, shutproof
from verifier import load
from verifier.cli.session import Desk
from verifier.diagnostics.limits import Limits
from verifier.runs.play import play
from verifier.runs.read import read_run
from verifier.studies.operating import Session

CIRCUIT = load(HERON).circuit


class Typed:
    """A session without a terminal; what each line answered, by the line."""

    def __init__(self, capfd: pytest.CaptureFixture[str], seed: int | None = None) -> None:
        order = None if seed is None else Random(seed)
        self.desk = Desk(Session(CIRCUIT, None, order), Limits())
        self._capfd = capfd

    def __call__(self, *lines: str) -> str:
        self._capfd.readouterr()
        for line in lines:
            assert self.desk.obey(line)
        out, err = self._capfd.readouterr()
        return out + err


def test_what_moves_is_told_with_its_cause(capfd: pytest.CaptureFixture[str]) -> None:
    typed = Typed(capfd)
    assert "air now in: air, home" in typed("connect tractor")
    answer = typed("pull master")
    assert "master is pulled and goes from in to out" in answer
    assert "1  vent[1] goes to open: its port in has air" in answer
    assert "vent[1] goes from shut to open" in typed("1")
    assert "at rest: nothing moves by itself" in typed("wait")
    assert "open: vent[1..3]" in typed("look")
    assert "vapour between tank[1..3], sky" in typed("look")
    assert "its pilot has no air (line lift[1] exhausts" in typed("look foot[1]")


def test_several_things_in_one_moment(capfd: pytest.CaptureFixture[str]) -> None:
    typed = Typed(capfd)
    assert "1a" in typed("connect tractor and pull master")
    assert len(typed.desk.session.player.steps) == 1


def test_near_misses_are_named_and_nothing_happens(capfd: pytest.CaptureFixture[str]) -> None:
    typed = Typed(capfd)
    for line, hint in (
        ("pull mastr", "did you mean `master`?"),
        ("pul master", "did you mean `pull`?"),
        ("pull vent[1]", "it has no hand control; by hand one works stop, master"),
        ("move vent[1] to open", "line rise exhausts"),
        ("expect foot[1] wide", "it has `shut` and `open`"),
        ("strike foot[1] stick", "did you mean `foot[1] stuck`?"),
        ("look foott[1]", "did you mean"),
        ("faults foott[1]", "did you mean `foot[1]`?"),
        ("save there", "say `save NAME.run`"),
        ("3", "`next` lists"),
    ):
        assert hint in typed(line), line
    assert typed.desk.session.player.steps == []
    assert typed.desk.misunderstood


def test_undo_and_redo(capfd: pytest.CaptureFixture[str]) -> None:
    typed = Typed(capfd)
    typed("connect tractor", "pull master", "wait")
    states = typed.desk.session.player.run().states
    typed("undo", "undo")
    assert typed.desk.session.player.run().states == states[:2]
    typed("redo", "redo")
    assert typed.desk.session.player.run().states == states
    assert "nothing was taken back" in typed("redo")
    typed("undo", "undo", "undo")
    assert "nothing to take back" in typed("undo")
    typed("disconnect tractor")
    assert "nothing was taken back" in typed("redo")  # it would not fit any more


def test_a_fault_strikes_in_the_middle_and_what_came_before_stays(
    capfd: pytest.CaptureFixture[str],
) -> None:
    typed = Typed(capfd)
    typed("connect tractor", "pull master", "wait", "pull pick[2]", "wait")
    before = len(typed.desk.session.player.steps)
    answer = typed("strike lamp stuck", "strike foot[2] stuck")
    assert "Fault: foot[2] stuck" in answer
    assert len(typed.desk.session.player.steps) == before + 2
    typed("push master", "wait")
    assert "foot[2] stands open: the fault acts" in typed("look foot[2]")
    assert "This breaks" in typed("replay")
    typed("undo", "undo")
    assert len(typed.desk.session.player.steps) == before + 2
    typed("pass off foot[2] stuck", "push master", "wait", "expect foot[2] shut")
    assert not typed.desk.failed


def test_what_is_broken_is_said_at_once(capfd: pytest.CaptureFixture[str]) -> None:
    typed = Typed(capfd)
    typed("wrong vent[2].in and vent[2].out swapped", "connect tractor", "pull master")
    typed("strike vent[3] moves_unbidden", "move vent[3] to open")
    assert "! This breaks" not in typed("wait")
    typed("restart", "connect tractor", "pull master", "strike tube back at lamp.in torn", "wait")
    assert 'This breaks always "the indicator shows when the vents are open"' in typed("replay")


@pytest.mark.parametrize("seed", [None, 3])
def test_what_is_saved_is_the_same_run(
    capfd: pytest.CaptureFixture[str], tmp_path: Path, seed: int | None
) -> None:
    typed = Typed(capfd, seed)
    file = tmp_path / "tried.run"
    typed("connect tractor", "pull master", "wait", "pull pick[1]", "wait", "push stop")
    typed("strike foot[1] stuck", "wait", "expect foot[1] open")
    assert "saved as" in typed(f'save {file} "the foot valve sticks"')
    assert "is there already" not in typed(f"save {file}")
    script = read_run(file.read_text())
    assert script.title == ""  # the last saving gave none
    assert script.design == "heron"
    found = play(CIRCUIT, script)
    assert found.problems == ()
    assert found.run == typed.desk.session.player.run()
    other = Typed(capfd)
    assert "is there already" in other(f"save {file}")
    assert "saved as" in other(f"save {file} anyway")


def piped(*arguments: object, said: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(SHUTPROOF), "operate", *map(str, arguments)],
        cwd=ROOT,
        env=dict(os.environ),
        input=said,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.mark.parametrize(
    ("said", "status"),
    [
        ("connect tractor\nexpect tractor present\n", 0),
        ("expect lamp showing\nquit\n", 1),
        ("pull the lever\n", 2),
    ],
)
def test_a_pipe_can_work_a_circuit(said: str, status: int) -> None:
    done = piped(HERON, said=said)
    assert done.returncode == status, done.stdout + done.stderr
    assert f"> {said.splitlines()[0]}" in done.stdout


def test_scripts_are_tests(tmp_path: Path) -> None:
    good, bad, unread = (tmp_path / f"{name}.run" for name in ("good", "bad", "unread"))
    good.write_text("connect tractor\npull master\nwait\nexpect lamp showing\n")
    bad.write_text("connect tractor\nwait\nexpect lamp showing\n")
    unread.write_text("conect tractor\n")
    done = shutproof("operate", HERON, "--script", good, "--orders", 3, "--quiet")
    assert done.returncode == 0
    assert "6 steps, 1 of 1 expectation met, in 3 orders." in done.stdout
    done = shutproof("operate", HERON, "--script", good, "--script", bad)
    assert done.returncode == 1
    assert "0 of 1 expectation met" in done.stdout
    assert "bad.run:3:1: error E1012: not as expected: lamp stands hidden" in done.stderr
    done = shutproof("operate", HERON, "--script", unread)
    assert done.returncode == 2
    assert "did you mean `connect`?" in done.stderr


def test_a_run_can_be_begun_with(tmp_path: Path) -> None:
    file = tmp_path / "begun.run"
    file.write_text("connect tractor\npull master\nwait\n")
    done = piped(HERON, "--begin-with", file, said="expect lamp showing\n")
    assert done.returncode == 0, done.stdout + done.stderr
    assert "lamp goes from hidden to showing" in done.stdout
