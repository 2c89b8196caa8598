"""How the command ends: stopped, with its reader gone, or wrong itself."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from pathlib import Path

import pytest
from command import HERON, ROOT, SHUTPROOF, broken, shutproof

SHEARWATER = ROOT / "specs" / "shearwater" / "shearwater.ilk"


@pytest.mark.parametrize("delay", [0.0, 0.3, 1.0])
def test_interrupt_ends_within_a_second_and_leaves_nothing(delay: float, tmp_path: Path) -> None:
    """The signal comes while the second design is read, compiled or searched."""
    target = tmp_path / "result.json"
    command = [str(SHUTPROOF), "prove", "--json", "--timings", "-o", str(target)]
    with subprocess.Popen(
        [*command, str(HERON), str(SHEARWATER)], stderr=subprocess.PIPE, text=True
    ) as process:
        assert process.stderr is not None
        assert "heron" in process.stderr.readline()
        time.sleep(delay)
        process.send_signal(signal.SIGINT)
        began = time.perf_counter()
        process.wait(timeout=30)
    assert time.perf_counter() - began < 1
    assert os.listdir(tmp_path) == []
    assert process.returncode == -signal.SIGINT


def test_a_shell_sees_130(tmp_path: Path) -> None:
    script = (
        f'"{SHUTPROOF}" prove "{SHEARWATER}" >/dev/null 2>&1 & sleep 0.7; kill -INT $!; wait $!'
    )
    # A shell without job control lets what it starts in the background ignore the signal.
    done = subprocess.run(["bash", "-c", f"set -m; {script}"], check=False)
    assert done.returncode == 130


def test_a_reader_that_goes_away(tmp_path: Path) -> None:
    script = f'set -o pipefail; "{SHUTPROOF}" export "{SHEARWATER}" --as circuit | head -c 10'
    done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert len(done.stdout) == 10
    assert done.returncode == 141


def test_a_crash_is_status_70_without_a_verdict() -> None:
    patch = (
        "import verifier.studies.prove as study\n"
        "def crash(*_, **__): raise KeyError('inside')\n"
        "study.prove = crash"
    )
    done = broken(patch, "prove", HERON)
    assert (done.returncode, done.stdout) == (70, "")
    assert "Please report it" in done.stderr
    assert "KeyError" in done.stderr


def test_no_colour_in_a_pipe() -> None:
    assert "\x1b" not in shutproof("prove", HERON, CLICOLOR_FORCE="1").stdout
