"""Workers of the command: interrupts, crashes, the same bytes at any --jobs."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from command import BANK_FROM_MASTER, HERON, ROOT, shutproof

# Everything that can go to a worker goes there, as for a design of a hundred compartments.
ALL_IS_HARD = """
import verifier.engines.rounds as rounds
import verifier.studies.inquiry as inquiry
rounds.MOST_NODES = inquiry.MOST_NODES = inquiry.EASY_NODES = 0
"""
SLEEPER = """
import time
import verifier.engines.registry as registry


class Sleeper:
    name = "sleeper"

    def search(self, system, goal, budget):
        with open({marks!r} + "/" + str(os.getpid()), "w"):
            time.sleep(60)


registry.ENGINES["sleeper"] = Sleeper()
"""


def start(patch: str, *arguments: object, seed: str = "0") -> subprocess.Popen[str]:
    """The command in a fresh interpreter in which `patch` has changed something."""
    program = f"import os, sys\n{patch}\nfrom verifier.cli.main import main\nmain()\n"
    return subprocess.Popen(
        [sys.executable, "-c", program, *map(str, arguments)],
        cwd=ROOT,
        env={**os.environ, "PYTHONHASHSEED": seed},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def alive(pid: int) -> bool:
    """Whether the process runs; one that has ended and waits to be reaped does not."""
    try:
        return Path(f"/proc/{pid}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except FileNotFoundError:
        return False


def wait_for(true: Callable[[], bool], seconds: float = 20) -> bool:
    last = time.monotonic() + seconds
    while time.monotonic() < last:
        if true():
            return True
        time.sleep(0.02)
    return False


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGKILL])
def test_workers_end_with_the_command(number: signal.Signals, tmp_path: Path) -> None:
    patch = SLEEPER.format(marks=str(tmp_path))
    arguments = ("prove", "--engine", "sleeper", "--jobs", 2, HERON)
    with start(patch, *arguments) as process:
        assert wait_for(lambda: len(os.listdir(tmp_path)) == 2)
        workers = [int(name) for name in os.listdir(tmp_path)]
        assert all(map(alive, workers))
        began = time.monotonic()
        process.send_signal(number)
        output, errors = process.communicate(timeout=20)
        assert time.monotonic() - began < 5
        assert (process.returncode, output, errors) == (-number, "", "")
    assert wait_for(lambda: not any(map(alive, workers)), 5)


@pytest.mark.parametrize("design", [HERON, BANK_FROM_MASTER], ids=lambda path: path.stem)
def test_the_same_bytes_from_any_number_of_workers(design: Path) -> None:
    """With all questions in workers, and the same verdicts as with none there."""
    names = ("--property", "discharge with a vent shut", "--property", "no contest")
    outputs = set()
    for jobs, seed in ((1, "0"), (2, "7"), (5, "4242")):
        with start(ALL_IS_HARD, "prove", "--jobs", jobs, *names, design, seed=seed) as process:
            outputs.add((*process.communicate(timeout=120), process.returncode))
    assert len(outputs) == 1
    (output,) = outputs
    plain = shutproof("prove", *names, design)
    assert (plain.stdout, plain.stderr, plain.returncode) == output


CRASH = """
import signal

def crash(*_):
    os.kill(os.getpid(), signal.SIGSEGV)

rounds.reach_each = crash
"""
STOP = ("--property", "the stop shuts every valve")


def test_a_crash_of_every_worker_is_told_without_a_traceback() -> None:
    patch = f"{ALL_IS_HARD}{CRASH}rounds.OTHERS = ()\n"
    with start(patch, "prove", *STOP, HERON) as process:
        output, errors = process.communicate(timeout=120)
    assert (process.returncode, errors) == (3, "")
    told = " ".join(output.split())
    assert "the worker of directed crashed (SIGSEGV). That is a bug of shutproof" in told


def test_what_a_worker_raises_ends_the_command_with_its_traceback() -> None:
    patch = f"""{ALL_IS_HARD}
def stumble(*_):
    raise ValueError("a broken promise")

rounds.reach_each = stumble
"""
    with start(patch, "prove", *STOP, HERON) as process:
        output, errors = process.communicate(timeout=120)
    assert process.returncode == 70
    assert "holds" not in output
    assert "in the worker of directed:" in errors
    assert "in stumble\n" in errors
    assert "ValueError: a broken promise" in errors
    assert "This is a bug of shutproof, not of your design. No verdict is given." in errors


def test_another_engine_answers_where_the_first_has_crashed() -> None:
    with start(ALL_IS_HARD + CRASH, "prove", "--json", *STOP, HERON) as process:
        output, errors = process.communicate(timeout=120)
    (item,) = json.loads(output)["designs"][0]["properties"]
    assert (item["verdict"], errors) == ("inconclusive", "")
    cases = {case["reason"] for case in item["instances"]}
    # The proofs are there; that the stop can be pressed takes a run, which the others cannot find.
    assert all("whether this can ever happen" in reason for reason in cases), cases
