"""Engines and evidence against explicit search, on one circuit.

`compare_engines(circuit, seed)` explores the circuit with the simulator and asks every engine every
question. It demands the same verdict, the same shortest length, for the default engine also the
same number of events and motions, a run that evidence believes for every violation, and a
certificate for every proof. Returns how often what was said.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from random import Random

from msgspec import Struct

from tests.agreement.cases import Disagreement
from verifier.engines.engine import Budget
from verifier.engines.lasso import Loops
from verifier.engines.many import reach_each, search_many
from verifier.engines.registry import ENGINES
from verifier.engines.settle import settles
from verifier.evidence.certificate import certify, certify_all
from verifier.evidence.replay import believe
from verifier.evidence.settling import believe_loop, confirm
from verifier.evidence.totality import total
from verifier.model.circuit import Circuit
from verifier.model.run import Run
from verifier.simulation.explore import Answer, Exploration
from verifier.simulation.judging import fights
from verifier.simulation.replay import replay
from verifier.simulation.rest import comes_to_rest
from verifier.simulation.steps import cost
from verifier.transition import decode
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.recovery import Recovery, recovery
from verifier.transition.recovery import run_of as recovery_run
from verifier.transition.system import Finding, Goal, Proved, Reached
from verifier.transition.turning import Settled

BUDGET = Budget(conflicts=500_000, depth=80)
# Bounded search alone proves nothing: it says how far it got, and stops a little past the truth.
SHALLOW = Budget(conflicts=500_000, depth=20)
# One of these on one question of each circuit; the others on a few questions, all of which the
# ways for many goals at once have answered before.
SLOW = ("bounded", "horn", "pairs")
ALONE = 2


class Asked(Struct, frozen=True):
    """A question with its true answer: the length of a shortest run, None if there is none, and the
    explicit search's whole cost. `recovery` if the question has a system of its own."""

    goal: Goal
    property: int | None
    instance: int
    length: int | None
    answer: Answer | None
    recovery: Recovery | None = None


def compare_engines(
    circuit: Circuit,
    seed: int = 0,
    exploration: Exploration | None = None,
    alone: int = ALONE,
    rest: bool = True,
) -> Counter[str]:
    """Raises Disagreement, or the error of an engine or of evidence that refuses. alone: questions
    that each engine which takes one at a time is asked.   rest: whether it comes to rest, too."""
    exploration = exploration or Exploration(circuit)
    if not exploration.complete:
        raise ValueError("the circuit has too many states to know the truth")
    compiled = compile_circuit(circuit)
    random = Random(seed)
    total(compiled.system)
    said: Counter[str] = Counter()
    plain = _questions(compiled, exploration)
    _compare_together(compiled, plain, said)
    own = _recoveries(compiled, exploration)
    slow = random.choice(SLOW)
    for name in (name for name in ENGINES if name == slow or name not in SLOW):
        every = [*plain, *own]
        for asked in random.sample(every, 1 if name == slow else min(len(every), alone)):
            _compare_alone(compiled, asked, name, said)
    for asked in random.sample(own, min(len(own), alone)):
        _compare_alone(compiled, asked, "portfolio", said)
    if rest:
        _compare_rest(compiled, exploration, said)
    return said


def _questions(compiled: Compiled, exploration: Exploration) -> list[Asked]:
    circuit, found = compiled.circuit, []
    for question in compiled.questions:
        thing = circuit.properties[question.property]
        instance = thing.instances[question.instance]
        if question.role == "trigger":
            state = exploration.trigger(thing, instance.triggers[question.index])
            length = None if state is None else len(exploration.run_to(state).steps)
            found.append(Asked(question.goal, None, 0, length, None))
            continue
        answer = exploration.answer(thing, instance)
        length = None if answer.run is None else len(answer.run.steps)
        place = (question.property, question.instance)
        found.append(Asked(question.goal, *place, length, answer))
    contest = exploration.contest()
    length = None if contest.run is None else len(contest.run.steps)
    found.append(Asked(compiled.contest, None, 0, length, contest))
    return found


def _recoveries(compiled: Compiled, exploration: Exploration) -> list[Asked]:
    found = []
    for p, thing in enumerate(compiled.circuit.properties):
        for i, instance in enumerate(thing.instances if thing.form == "recovers" else ()):
            posed = recovery(compiled, p, i)
            answer = exploration.answer(thing, instance)
            length = None if answer.run is None else len(answer.run.steps)
            found.append(Asked(posed.goal, p, i, length, answer, posed))
    return found


def _compare_together(compiled: Compiled, plain: Sequence[Asked], said: Counter[str]) -> None:
    """The ways that take many goals at once."""
    goals = [asked.goal for asked in plain]
    proved = []
    for ask in (search_many, reach_each):
        for asked, finding in zip(plain, ask(compiled.system, goals, BUDGET), strict=True):
            said[_judge(compiled, asked, finding, ask is search_many)] += 1
            if isinstance(finding, Proved):
                proved.append((asked.goal, finding))
    if proved:
        certify_all(compiled.system, [g for g, _ in proved], [p for _, p in proved])


def _compare_alone(compiled: Compiled, asked: Asked, engine: str, said: Counter[str]) -> None:
    system = compiled.system if asked.recovery is None else asked.recovery.system
    budget = SHALLOW if engine == "bounded" and (asked.length or 0) < SHALLOW.depth else BUDGET
    finding = ENGINES[engine].search(system, asked.goal, budget)
    if isinstance(finding, Proved):
        certify(system, asked.goal, finding)
    said[f"{engine} {_judge(compiled, asked, finding, engine in ('portfolio', 'bounded'))}"] += 1


def _judge(compiled: Compiled, asked: Asked, finding: Finding, simplest: bool) -> str:
    """The kind of finding; Disagreement if it is not true. simplest: nothing costs less."""
    name = asked.goal.name
    if isinstance(finding, Proved):
        if asked.length is not None:
            raise Disagreement(f"{name}: proved, but {asked.length} steps lead there")
        return "proved"
    if not isinstance(finding, Reached):
        return "undecided"
    if asked.length is None:
        raise Disagreement(f"{name}: reached, but nothing leads there")
    if finding.shortest and len(finding.choices) != asked.length:
        raise Disagreement(f"{name}: {len(finding.choices)} steps instead of {asked.length}")
    run = _run(compiled, asked, finding)
    _believe(compiled.circuit, asked, run)
    costs = None if asked.answer is None else asked.answer.costs
    if simplest and costs is not None and tuple(costs) != _cost(compiled.circuit, run):
        raise Disagreement(f"{name}: cost {_cost(compiled.circuit, run)} instead of {costs}")
    return "reached"


def _run(compiled: Compiled, asked: Asked, finding: Reached) -> Run:
    if asked.recovery is not None:
        return recovery_run(asked.recovery, finding)
    return decode.run_of(compiled, finding)


def _believe(circuit: Circuit, asked: Asked, run: Run) -> None:
    if asked.property is not None:
        believe(circuit, asked.property, asked.instance, run)
        return
    replay(circuit, run)
    if asked.answer is not None and not fights(circuit, run.states[-1]):
        raise Disagreement(f"{asked.goal.name}: nothing fights at the end")


def _cost(circuit: Circuit, run: Run) -> tuple[int, ...]:
    each = [
        cost(circuit, before, step) for before, step in zip(run.states, run.steps, strict=False)
    ]
    return len(run.steps), *(sum(price[k] for price in each) for k in range(3))


def _compare_rest(compiled: Compiled, exploration: Exploration, said: Counter[str]) -> None:
    truth = comes_to_rest(exploration).truth
    finding = settles(compiled, (), BUDGET)
    if isinstance(finding, Settled):
        confirm(compiled, finding)
        if truth != "holds":
            raise Disagreement("an argument that the circuit comes to rest, which it does not")
        said["rest settled"] += 1
    elif isinstance(finding, Loops):
        believe_loop(compiled.circuit, decode.run_of(compiled, finding.reached), finding.loop_from)
        if truth != "violated":
            raise Disagreement("a loop of a circuit that comes to rest")
        said["rest loops"] += 1
    else:
        said[f"rest undecided, truth {truth}"] += 1
