"""Workers that die, hang, raise or want too much: the design's other answers are not touched."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from verifier import load
from verifier.engines.bounded import Bounded
from verifier.engines.crew import Crew, Task, ask, ask_all
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.engines.registry import ENGINES
from verifier.engines.worker import MIB, Failure, WorkerError
from verifier.report.result import DesignResult
from verifier.studies.options import Options
from verifier.studies.prove import prove
from verifier.transition.system import Finding, Goal, System

ROOT = Path(__file__).resolve().parents[2]
HERON = ROOT / "specs" / "heron" / "heron.ilk"
NAMES = ("each compartment can discharge", "discharge with a vent shut", "no contest")
SPOILT = "no contest"


def end_by(number: signal.Signals) -> Callable[[], None]:
    return lambda: os.kill(os.getpid(), number)


def allocate() -> None:
    kept = []
    while True:
        kept.append(bytes(16 * MIB))


def hang() -> None:
    signal.pause()


def stumble() -> None:
    raise ValueError("a broken promise")


def leave() -> None:
    os._exit(3)


class Spoilt:
    """A good engine, but for one goal."""

    name = "spoilt"

    def __init__(self, happens: Callable[[], object]) -> None:
        self._happens = happens

    def search(self, system: System, goal: Goal, budget: Budget) -> Finding:
        if goal.name == SPOILT:
            self._happens()
        finding = Directed().search(system, goal, budget)
        assert os.getpid() != PARENT
        return finding


PARENT = os.getpid()


@pytest.fixture(autouse=True)
def nothing_is_left() -> Iterator[None]:
    """No worker outlives its question, not even as a zombie."""
    yield
    with pytest.raises(ChildProcessError):
        os.waitpid(-1, os.WNOHANG)


def with_spoilt(
    monkeypatch: pytest.MonkeyPatch,
    happens: Callable[[], object],
    jobs: int = 1,
    patience: float | None = None,
) -> DesignResult:
    monkeypatch.setitem(ENGINES, "spoilt", Spoilt(happens))
    options = Options("spoilt", jobs=jobs, memory=256, patience=patience)
    return prove(load(HERON), options, NAMES)


@pytest.mark.parametrize("jobs", [1, 3])
@pytest.mark.parametrize(
    ("happens", "words"),
    [
        (end_by(signal.SIGKILL), "was killed from outside (SIGKILL)"),
        (end_by(signal.SIGSEGV), "crashed (SIGSEGV)"),
        (end_by(signal.SIGABRT), "--memory"),
        (allocate, "needs more than the 256 MiB that it may use. The option --memory"),
        (leave, "ended without an answer"),
        (lambda: os._exit(101), "needs more than the 256 MiB"),
    ],
    ids=["killed", "crash", "abort", "memory", "leaves", "z3 without memory"],
)
def test_a_worker_that_fails_leaves_one_question_open(
    monkeypatch: pytest.MonkeyPatch, happens: Callable[[], object], words: str, jobs: int
) -> None:
    result = with_spoilt(monkeypatch, happens, jobs=jobs)
    verdicts = {item.name: item.verdict for item in result.properties}
    assert verdicts == dict(zip(NAMES, ("holds", "holds", "inconclusive"), strict=True))
    (open_one,) = result.properties[-1].instances
    assert "the worker of spoilt " in open_one.reason
    assert words in open_one.reason


@pytest.mark.parametrize("jobs", [1, 3])
def test_what_a_worker_raises_is_a_bug_of_ours(monkeypatch: pytest.MonkeyPatch, jobs: int) -> None:
    """Not a question left open: nothing that such a program says is worth anything."""
    with pytest.raises(WorkerError) as raised:
        with_spoilt(monkeypatch, stumble, jobs=jobs)
    told = str(raised.value)
    assert told.startswith("in the worker of spoilt:")
    assert "in stumble\n" in told, "where it happened"
    assert told.rstrip().endswith("ValueError: a broken promise")


def test_any_text_of_what_is_raised_is_kept() -> None:
    def work() -> int:
        raise ValueError("half a letter: \ud800 " + "x" * 100_000)

    with pytest.raises(WorkerError, match=r"half a letter: \\ud800 x{100000}\n$"):
        ask(Crew(), "odd", work, int)


def test_what_a_needless_worker_raises_is_not_heard() -> None:
    """Else it would depend on the number of jobs whether it is."""
    taken: list[int | Failure] = []

    def work() -> int:
        raise ValueError

    tasks = [Task("a", slowly(0.3, 1), int), Task("b", work, int, lambda: not taken)]
    ask_all(Crew(2), tasks, lambda _, outcome: taken.append(outcome))
    assert taken == [1]


def test_a_worker_that_hangs_is_killed(monkeypatch: pytest.MonkeyPatch) -> None:
    began = time.monotonic()
    result = with_spoilt(monkeypatch, hang, patience=0.5)
    assert time.monotonic() - began < 30
    (open_one,) = result.properties[-1].instances
    assert "was killed, after no solver call ended in 0.5 seconds" in open_one.reason
    assert "--patience" in open_one.reason


def test_a_busy_worker_is_not_taken_for_a_hanging_one() -> None:
    """It takes several times the patience, but its solver calls end."""
    from verifier.solving.pulse import beat

    def work() -> int:
        for _ in range(15):
            time.sleep(0.1)
            beat(1)
        return 7

    assert ask(Crew(patience=0.6), "busy", work, int) == 7


def test_an_answer_of_the_wrong_kind_is_a_failure() -> None:
    outcome = ask(Crew(), "strange", lambda: "seven", int)
    assert outcome == Failure("crash", "gave an answer that cannot be read")


def slowly(seconds: float, value: int) -> Callable[[], int]:
    def work() -> int:
        time.sleep(seconds)
        return value

    return work


@pytest.mark.parametrize("jobs", [1, 2, 5])
def test_outcomes_count_in_order_whoever_is_first(jobs: int) -> None:
    """The second would settle it sooner, but the first is better; the fourth is needless."""
    taken: list[tuple[int, int | Failure]] = []
    tasks = [
        Task("a", slowly(0.4, 1), int),
        Task("b", slowly(0.0, 2), int),
        Task("c", slowly(0.2, 3), int, lambda: len(taken) < 2),
        Task("d", slowly(60, 4), int, lambda: len(taken) < 2),
    ]
    began = time.monotonic()
    ask_all(Crew(jobs), tasks, lambda number, outcome: taken.append((number, outcome)))
    assert taken == [(0, 1), (1, 2)]
    assert time.monotonic() - began < 30


def test_workers_run_side_by_side() -> None:
    """Four that wait half a second each take less than the two seconds of one after the other."""
    tasks = [Task(str(k), slowly(0.5, k), int) for k in range(4)]
    taken: list[int | Failure] = []
    began = time.monotonic()
    ask_all(Crew(4), tasks, lambda _, outcome: taken.append(outcome))
    assert taken == [0, 1, 2, 3]
    assert time.monotonic() - began < 1.8


def test_a_large_answer_arrives_whole() -> None:
    numbers = tuple(range(300_000))
    assert ask(Crew(), "large", lambda: numbers, tuple[int, ...]) == numbers


def test_an_exception_of_the_parent_ends_its_workers() -> None:
    def refuse(_: int, __: int | Failure) -> None:
        raise KeyError("no more")

    tasks = [Task("first", slowly(0, 1), int), Task("second", slowly(60, 2), int)]
    with pytest.raises(KeyError):
        ask_all(Crew(2), tasks, refuse)


def test_the_parent_does_not_grow_by_what_a_worker_takes() -> None:
    import resource

    def work() -> int:
        return len(bytes(200 * MIB))

    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert ask(Crew(memory=1024), "eater", work, int) == 200 * MIB
    after = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    assert (after - before) * 1024 < 50 * MIB


@pytest.mark.parametrize("engine", [Directed.name, Bounded.name])
def test_a_named_engine_answers_as_it_does_here(engine: str) -> None:
    name = "discharge with a vent shut"
    one, other = (prove(load(HERON), Options(engine, depth=4, jobs=k), [name]) for k in (1, 3))
    assert one == other
