"""Goals settled in rounds: what is easy in this process, what is not by a portfolio in workers.

Findings are taken by the order of the engines and by their work, never by who was first.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from msgspec import Struct, structs

from verifier.engines.crew import Crew, Task, ask, ask_all, can_have_workers
from verifier.engines.engine import Budget, Engine
from verifier.engines.horn import Horn
from verifier.engines.lasso import Loops
from verifier.engines.many import reach_each, settled
from verifier.engines.pairs import Pairs
from verifier.engines.settle import ENGINE, settles
from verifier.engines.worker import Failure, Kind
from verifier.transition.compiled import Compiled
from verifier.transition.system import (
    Finding,
    Goal,
    Lemma,
    Proved,
    Reached,
    System,
    Undecided,
)
from verifier.transition.turning import Settled

# What the first round may spend in this process: conflicts, and steps times nodes of the graph,
# which bounds the memory that it takes.
EASY_CONFLICTS = 20_000
EASY_NODES = 600_000
# Systems with more nodes have no first round.
MOST_NODES = 20_000
# Who is asked about what the first of them leaves open: engines with other strengths.
OTHERS: tuple[Engine, ...] = (Pairs(), Horn())
OTHERS_CONFLICTS = 100_000
MAIN = "directed"


class Unsettled(Struct, frozen=True):
    """What everybody who was asked about a goal has said.   depth: as of Undecided.
    kinds: what became of workers, each once, in the order in which they were asked."""

    reason: str
    depth: int
    kinds: tuple[Kind, ...] = ()


def is_easy(system: System, budget: Budget) -> bool:
    """Whether all of the budget may be spent in this process."""
    nodes = len(system.graph.fanins)
    return budget.conflicts <= EASY_CONFLICTS and budget.depth * nodes <= EASY_NODES


def easy_part(system: System, budget: Budget) -> Budget | None:
    """What of a budget is spent in this process before workers are asked; None: nothing."""
    nodes = len(system.graph.fanins)
    if nodes > MOST_NODES:
        return None
    depth = min(budget.depth, EASY_NODES // max(nodes, 1))
    return Budget(min(budget.conflicts, EASY_CONFLICTS), depth)


def settle_goals(
    system: System,
    goals: Sequence[Goal],
    budget: Budget,
    crew: Crew,
    engine: Engine | None,
    earlier: Sequence[Lemma] = (),
) -> tuple[Finding | Unsettled, ...]:
    """A finding for each goal, or what is known instead. A named engine always works in workers,
    goal by goal; None asks the portfolio, which begins with earlier clauses (many.py)."""
    if not can_have_workers():
        return _here(system, goals, budget, engine, earlier)
    rounds = _Rounds(system, goals, budget, crew, earlier)
    if engine is not None:
        rounds.ask_one(engine)
    elif is_easy(system, budget):
        return _here(system, goals, budget, None, earlier)
    else:
        rounds.first()
        rounds.portfolio()
    return rounds.findings()


def _here(
    system: System,
    goals: Sequence[Goal],
    budget: Budget,
    engine: Engine | None,
    earlier: Sequence[Lemma],
) -> tuple[Finding | Unsettled, ...]:
    """All in this process."""
    if engine is None:
        findings = reach_each(system, goals, budget, earlier)
    else:
        findings = tuple(engine.search(system, goal, budget) for goal in goals)
    return tuple(
        Unsettled(one.reason, one.depth) if isinstance(one, Undecided) else one for one in findings
    )


class _Rest(Struct, frozen=True):
    """One of them."""

    argument: Settled | None = None
    loops: Loops | None = None
    undecided: Undecided | None = None

    @classmethod
    def of(cls, answer: Settled | Loops | Undecided) -> _Rest:
        if isinstance(answer, Settled):
            return cls(argument=answer)
        return cls(loops=answer) if isinstance(answer, Loops) else cls(undecided=answer)


def settle_rest(compiled: Compiled, budget: Budget, crew: Crew) -> Settled | Loops | Unsettled:
    """As `verifier.engines.settle.settles`, in rounds."""
    easy = easy_part(compiled.system, budget)
    alone = is_easy(compiled.system, budget) or not can_have_workers()
    if alone or easy is not None:
        answer = settles(compiled, (), budget if alone or easy is None else easy)
        if not isinstance(answer, Undecided):
            return answer
        if alone:
            return Unsettled(answer.reason, answer.depth)
    said: _Rest | Failure = ask(
        crew, ENGINE, lambda: _Rest.of(settles(compiled, (), budget)), _Rest
    )
    if isinstance(said, Failure):
        return Unsettled(_words(ENGINE, said, alone=True), -1, (said.kind,))
    if said.undecided is not None:
        return Unsettled(said.undecided.reason, said.undecided.depth)
    found = said.argument or said.loops
    if found is None:
        raise ValueError("a worker's answer is empty")
    return found


class _Rounds:
    """`_found`: what is settled. `_said`: who has said what about the other goals.
    `_longer`: runs that may not be shortest ones, from the first round."""

    def __init__(
        self,
        system: System,
        goals: Sequence[Goal],
        budget: Budget,
        crew: Crew,
        earlier: Sequence[Lemma],
    ) -> None:
        self._earlier = earlier
        self._system = system
        self._goals = goals
        self._budget = budget
        self._crew = crew
        self._found: dict[str, Finding] = {}
        self._longer: dict[str, Finding] = {}
        self._said: dict[str, list[tuple[str, Undecided | Failure]]] = {g.name: [] for g in goals}

    def findings(self) -> tuple[Finding | Unsettled, ...]:
        known = {**self._longer, **self._found}
        return tuple(known.get(goal.name) or self._unsettled(goal) for goal in self._goals)

    def first(self) -> None:
        budget = easy_part(self._system, self._budget)
        if budget is not None:
            for finding in reach_each(self._system, self._goals, budget, self._earlier):
                if settled(finding):
                    self._found[finding.goal] = finding
                elif isinstance(finding, Reached):
                    self._longer[finding.goal] = finding

    def portfolio(self) -> None:
        """The main search about all goals that are left; where its worker failed, about each alone;
        then the others about each."""
        left = [goal for goal in self._goals if goal.name not in self._found]
        if not left:
            return
        system, budget, earlier = self._system, self._budget, self._earlier
        tasks = [Task(MAIN, lambda: reach_each(system, left, budget, earlier), tuple[Finding, ...])]
        about: list[tuple[Goal, ...]] = [tuple(left)]
        if len(left) > 1:
            for goal in left:
                tasks.append(self._alone(goal))
                about.append((goal,))
        for engine in OTHERS:
            # They find no runs.
            for goal in (goal for goal in left if goal.name not in self._longer):
                tasks.append(self._task(engine, goal, OTHERS_CONFLICTS))
                about.append((goal,))
        self._ask(tasks, about)

    def ask_one(self, engine: Engine) -> None:
        tasks = [self._task(engine, goal, self._budget.conflicts) for goal in self._goals]
        self._ask(tasks, [(goal,) for goal in self._goals])

    def _ask(
        self, tasks: Sequence[Task[tuple[Finding, ...]]], about: Sequence[tuple[Goal, ...]]
    ) -> None:
        def accept(number: int, outcome: tuple[Finding, ...] | Failure) -> None:
            for k, goal in enumerate(about[number]):
                said = outcome if isinstance(outcome, Failure) else outcome[k]
                self._note(goal, tasks[number].name, said)

        ask_all(self._crew, tasks, accept)

    def _note(self, goal: Goal, name: str, said: Finding | Failure) -> None:
        if goal.name in self._found:
            return
        if isinstance(said, (Proved, Reached)):
            self._found[goal.name] = said
        else:
            self._said[goal.name].append((name, said))

    def _task(self, engine: Engine, goal: Goal, most: int) -> Task[tuple[Finding, ...]]:
        system = self._system
        budget = structs.replace(self._budget, conflicts=min(self._budget.conflicts, most))
        return Task(
            engine.name,
            lambda: (engine.search(system, goal, budget),),
            tuple[Finding],
            self._open(goal),
        )

    def _alone(self, goal: Goal) -> Task[tuple[Finding, ...]]:
        """The main search about one goal, if it has failed about all of them."""
        system, budget, still_open = self._system, self._budget, self._open(goal)

        def needed() -> bool:
            said = self._said[goal.name]
            return still_open() and bool(said) and isinstance(said[0][1], Failure)

        def work() -> tuple[Finding, ...]:
            return reach_each(system, [goal], budget)

        return Task(MAIN, work, tuple[Finding], needed, ahead=False)

    def _open(self, goal: Goal) -> Callable[[], bool]:
        return lambda: goal.name not in self._found

    def _unsettled(self, goal: Goal) -> Unsettled:
        said = self._said[goal.name]
        if len(said) > 1 and len({name for name, _ in said}) < len(said):
            # The main search alone knows better than the one about all goals.
            said = [
                one for k, one in enumerate(said) if one[0] not in {n for n, _ in said[k + 1 :]}
            ]
        words = [_words(name, one, alone=len(said) == 1) for name, one in said]
        depth = max((one.depth for _, one in said if isinstance(one, Undecided)), default=-1)
        kinds = dict.fromkeys(one.kind for _, one in said if isinstance(one, Failure))
        return Unsettled("; ".join(words), depth, tuple(kinds))


def _words(name: str, said: Undecided | Failure, *, alone: bool) -> str:
    if isinstance(said, Failure):
        return f"the worker of {name} {said.words}"
    return said.reason if alone else f"{name}: {said.reason}"
