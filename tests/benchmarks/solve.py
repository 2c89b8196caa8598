"""Answers the question about one member by one method; run as a process of its own.

    python -m tests.benchmarks.solve METHOD FILE FAMILY SIZE ... [--flawed]

Prints a line of JSON: the verdict, the length of the run, and CPU seconds of each stage.
"""

from __future__ import annotations

import argparse
import resource
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Literal

import msgspec
from msgspec import Struct

from tests.benchmarks.families import FAMILIES
from tests.benchmarks.question import Posed, circuit_of, pose

Verdict = Literal["holds", "violated", "unknown"]
EVERY_STATE = 10**9


class Solved(Struct):
    """length: of a run that was found, in steps.   seconds: CPU, by stage: `read` from text to
    circuit, `compile` from there to the graph, `search`, `check`.   parts, latches, nodes: sizes of
    the circuit and of its system.
    """

    verdict: Verdict
    length: int | None = None
    seconds: dict[str, float] = {}
    parts: int = 0
    latches: int = 0
    nodes: int = 0


class Stages:
    """Stopwatch for the CPU of this process and of those that it started."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = {}

    @contextmanager
    def stage(self, name: str) -> Iterator[None]:
        before = _spent()
        yield
        self.seconds[name] = self.seconds.get(name, 0.0) + _spent() - before


def ours(posed: Posed, at: Stages) -> Solved:
    """The search behind `prove`, and its evidence: the certificate by a fresh z3, or the replay."""
    import verifier.solving.sat_door
    import verifier.solving.z3_door  # noqa: F401 - the clock does not count imports, here or below
    from verifier.engines.engine import Budget
    from verifier.engines.many import reach_each
    from verifier.evidence.certificate import certify_all
    from verifier.evidence.replay import believe_run
    from verifier.transition.decode import run_of
    from verifier.transition.system import Proved, Reached

    system, goal = posed.compiled.system, posed.goal
    with at.stage("search"):
        (finding,) = reach_each(system, [goal], Budget())
    with at.stage("check"):
        if isinstance(finding, Proved):
            certify_all(system, [goal], [finding])
            return Solved("holds")
        if isinstance(finding, Reached):
            run = run_of(posed.compiled, finding)
            believe_run(posed.circuit, run, lambda one: posed.broken(one.states[-1]), goal.name)
            return Solved("violated", len(run.steps))
    return Solved("unknown")


def horn(posed: Posed, at: Stages) -> Solved:
    """z3's engine for Horn clauses, over the latches that the question depends on."""
    from verifier.engines.slice import slice_of
    from verifier.solving.answer import Answer
    from verifier.solving.horn_door import HornQuery

    system, bad = posed.compiled.system, posed.goal.bad
    with at.stage("search"):
        part = slice_of(system, [bad])
        query = HornQuery(system, part.latches, part.step_allowed, part.state_allowed)
        answer = query.ask(bad, 10**9)
    words: dict[Answer, Verdict] = {Answer.SAT: "violated", Answer.UNSAT: "holds"}
    return Solved(words.get(answer, "unknown"))


def explicit(posed: Posed, at: Stages) -> Solved:
    """State after state by the simulator, which knows nothing of the graph."""
    from verifier.simulation.explore import Exploration
    from verifier.simulation.search import Search
    from verifier.simulation.steps import start

    with at.stage("search"):
        steps = Exploration(posed.circuit, limit=1)
        search = Search((start(posed.circuit),), steps.edges, EVERY_STATE, posed.broken)
    if search.goal is None:
        return Solved("holds" if search.complete else "unknown")
    return Solved("violated", search.cost[search.goal][0])


def diagrams(posed: Posed, at: Stages) -> Solved:
    """Binary decision diagrams."""
    from tests.benchmarks.symbolic import shortest

    with at.stage("search"):
        length = shortest(posed.compiled.system, posed.goal)
    return Solved("holds" if length is None else "violated", length)


METHODS: dict[str, Callable[[Posed, Stages], Solved]] = {
    "ours": ours,
    "horn": horn,
    "explicit": explicit,
    "bdd": diagrams,
}


def main() -> None:
    parser = argparse.ArgumentParser(prog="tests.benchmarks.solve", description=__doc__)
    parser.add_argument("method", choices=METHODS)
    parser.add_argument("file", type=Path)
    parser.add_argument("family", choices=FAMILIES)
    parser.add_argument("sizes", type=int, nargs="+")
    parser.add_argument("--flawed", action="store_true")
    options = parser.parse_args()
    member = FAMILIES[options.family].member(*options.sizes, flawed=options.flawed)
    at = Stages()
    with at.stage("read"):
        circuit = circuit_of(options.file)
    with at.stage("compile"):
        posed = pose(circuit, member)
    solved = METHODS[options.method](posed, at)
    solved.seconds = at.seconds
    solved.parts = len(circuit.parts)
    solved.latches = len(posed.compiled.system.latches)
    solved.nodes = len(posed.compiled.system.graph.fanins)
    print(msgspec.json.encode(solved).decode())


def _spent() -> float:
    spent = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(one.ru_utime + one.ru_stime for one in spent)


if __name__ == "__main__":
    main()
