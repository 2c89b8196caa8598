"""Does a circuit come to rest once hands and surroundings are still? Search for the argument."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.engines.lasso import Loops, find_loop
from verifier.solving.answer import Answer
from verifier.solving.cnf import Frame, Gates
from verifier.solving.sat_door import SatSolver
from verifier.transition.compiled import Compiled
from verifier.transition.system import Goal, Lemma, Proved, Undecided
from verifier.transition.turning import Settled, Still, Thing, Turning

ENGINE = "settling"
# How often a state that spoils the argument may be shown to be out of reach before giving up.
MOST_REFINEMENTS = 60
LOOP_DEPTH = 14


class _Obstacle(Struct, frozen=True):
    """Two moments, as valuations of the latches, that spoil the argument for a thing."""

    thing: Thing
    moments: tuple[tuple[bool, ...], tuple[bool, ...]]


def settles(
    compiled: Compiled, lemmas: Sequence[Lemma], budget: Budget
) -> Settled | Loops | Undecided:
    """Settled, a loop, or neither. `lemmas` are known to hold in every state that can be reached.

    First the argument over all states that satisfy the lemmas; states that spoil it are then shown
    to be out of reach, which gives more lemmas; where they are within reach, a loop is looked for.
    """
    known = list(lemmas)
    obstacles: list[_Obstacle] = []
    within_reach: set[tuple[bool, ...]] = set()
    for _ in range(MOST_REFINEMENTS):
        attempt = _attempt(compiled, known, budget)
        if isinstance(attempt, (Settled, Undecided)):
            return attempt
        obstacles = attempt
        fresh: list[Lemma] = []
        for obstacle in obstacles:
            for moment in obstacle.moments:
                if moment not in within_reach and not fresh:
                    fresh = _out_of_reach(compiled, moment, budget, within_reach)
        if not fresh:
            break
        known = sorted({*known, *fresh})
    return _loop(compiled, obstacles, budget)


def _loop(compiled: Compiled, obstacles: Sequence[_Obstacle], budget: Budget) -> Loops | Undecided:
    loops = find_loop(compiled, Budget(budget.conflicts, min(budget.depth, LOOP_DEPTH)))
    if loops is not None:
        return loops
    names = ", ".join(_name(compiled, obstacle.thing) for obstacle in obstacles[:3])
    reason = f"no argument that these come to be still, and no loop found: {names}"
    return Undecided("comes to rest", reason, min(budget.depth, LOOP_DEPTH), ENGINE)


def _name(compiled: Compiled, thing: Thing) -> str:
    circuit = compiled.circuit
    if thing.kind == "element":
        return circuit.elements[thing.index].name
    return circuit.volumes[thing.index].name


def _out_of_reach(
    compiled: Compiled,
    moment: tuple[bool, ...],
    budget: Budget,
    within_reach: set[tuple[bool, ...]],
) -> list[Lemma]:
    """Lemmas that exclude the state; none, and the state noted, if it can be reached."""
    system = compiled.system
    latches = system.latches
    observed = _circuit_latches(compiled)
    cube = system.graph.all(2 * latches[i].node ^ (not moment[i]) for i in observed)
    finding = Directed().search(system, Goal("a state that spoils the argument", cube), budget)
    if isinstance(finding, Proved):
        excluded = tuple((i, not moment[i]) for i in observed)
        # "Not this state" is part of what the finding claims to be inductive.
        return (
            list(finding.lemmas)
            if _excludes(finding.lemmas, moment)
            else [
                *finding.lemmas,
                excluded,
            ]
        )
    within_reach.add(moment)
    return []


def _excludes(lemmas: Sequence[Lemma], moment: Sequence[bool]) -> bool:
    return any(all(moment[i] != sign for i, sign in lemma) for lemma in lemmas)


def _circuit_latches(compiled: Compiled) -> list[int]:
    """Latches of the circuit itself, without those that observe properties."""
    codes = (*compiled.element_codes, *compiled.switch_codes)
    found = {i for code in codes for i in code}
    found |= {*compiled.hand_latches.values(), *compiled.memory_latches.values()}
    return sorted(found)


def _attempt(
    compiled: Compiled, lemmas: Sequence[Lemma], budget: Budget
) -> Settled | Undecided | list[_Obstacle]:
    asker = _Asker(compiled, lemmas, budget)
    waiting = list(asker.turning.things)
    order: list[Still] = []
    obstacles: list[_Obstacle] = []
    while waiting:
        obstacles = []
        rest: list[Thing] = []
        for thing in waiting:
            found = asker.still(thing, order)
            if found is None:
                reason = f"used up its budget of {budget.conflicts} conflicts"
                return Undecided("comes to rest", reason, -1, ENGINE)
            if isinstance(found, Still):
                order.append(found)
            else:
                rest.append(thing)
                obstacles.append(found)
        if len(rest) == len(waiting):
            break
        waiting = rest
    if any(thing.kind == "element" for thing in waiting):
        return obstacles
    if waiting:
        wavering = asker.wavering(order)
        if wavering is None:
            return Undecided("comes to rest", "used up its budget", -1, ENGINE)
        if wavering:
            return [*wavering, *obstacles]
    return Settled(tuple(order), tuple(lemmas))


class _Asker:
    """Puts the questions of `Turning` to a solver."""

    def __init__(self, compiled: Compiled, lemmas: Sequence[Lemma], budget: Budget) -> None:
        self._compiled = compiled
        self._work = budget.conflicts
        self.turning = Turning(compiled, lemmas)
        self._solver = SatSolver()
        self._frame = Frame(self.turning.graph, Gates(self._solver), {})
        for literal in (*self.turning.always, *self.turning.assumed):
            self._solver.add([self._frame.literal(literal)])
        self._same = {
            thing: self._frame.literal(self.turning.same(thing)) for thing in self.turning.things
        }

    def still(self, thing: Thing, order: Sequence[Still]) -> Still | _Obstacle | None:
        """None when the budget is used up."""
        known = [self._same[one.thing] for one in order]
        steady: list[int] = []
        for volume in self.turning.read_by(thing):
            answer = self._ask(self.turning.unsteady(volume), [*known, self._same[thing]])
            if answer is Answer.UNKNOWN:
                return None
            if answer is Answer.UNSAT:
                steady.append(volume)
        answer = self._ask(self.turning.turns(thing, steady), known)
        if answer is Answer.UNKNOWN:
            return None
        if answer is Answer.UNSAT:
            return Still(thing, tuple(steady))
        return self._obstacle(thing)

    def wavering(self, order: Sequence[Still]) -> list[_Obstacle] | None:
        """Elements that are still but do not settle whether they must move."""
        known = [self._same[one.thing] for one in order]
        found = []
        for thing in self.turning.things:
            if thing.kind == "element":
                answer = self._ask(self.turning.wavers(thing.index), known)
                if answer is Answer.UNKNOWN:
                    return None
                if answer is Answer.SAT:
                    found.append(self._obstacle(thing))
        return found

    def _ask(self, literal: int, known: Sequence[int]) -> Answer:
        asked = self._frame.literal(literal)
        return self._solver.solve([asked, *known], self._work - self._solver.work)

    def _obstacle(self, thing: Thing) -> _Obstacle:
        nodes = [latch.node for latch in self._compiled.system.latches]
        second = self.turning.then([2 * node for node in nodes])
        return _Obstacle(thing, (self._values([2 * node for node in nodes]), self._values(second)))

    def _values(self, literals: Sequence[int]) -> tuple[bool, ...]:
        return tuple(self._solver.value(self._frame.literal(one)) for one in literals)
