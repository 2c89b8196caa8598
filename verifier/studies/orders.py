"""Looking for two orders of movements that part after the same event and end apart (Q11)."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from itertools import combinations

from msgspec import Struct, structs

from verifier.engines.engine import Budget
from verifier.engines.parting import part, simplest
from verifier.evidence.parting import pair_of
from verifier.model.circuit import Acceptance, Circuit
from verifier.model.run import Parting, Run, State, Step
from verifier.simulation.movement import at_rest
from verifier.simulation.races import accepted, firm_run
from verifier.studies.study import Study
from verifier.transition.graph import FALSE
from verifier.transition.system import Goal, Reached
from verifier.transition.twofold import Twofold, runs_of, twofold

# The search for two orders, and that for the simplest of them, may spend the budget divided by
# this, in conflicts and in steps.
SEARCH = (100, 4)
SIMPLEST = (1000, 4)
# No way to rest that is tried out is longer.
MOST_STEPS = 1000


class Part(Struct, frozen=True):
    """Two orders between which an element ends differently; nothing is believed yet.

    firm: by order alone, no reading and no leak.   shortest: none has fewer steps.
    """

    element: int
    parting: Parting
    shortest: bool
    firm: bool
    ways: Twofold | None = None
    reached: Reached | None = None

    def accepted(self, circuit: Circuit) -> Acceptance | None:
        """Why the design accepts it, if it does."""
        return accepted(circuit, self.parting.first.states[-1], self.element)

    @property
    def steps(self) -> int:
        first, second, shared = self.parting.first, self.parting.second, self.parting.shared
        return len(first.steps) + len(second.steps) - shared


class Sought(Struct, frozen=True):
    """parts: one for each element found.   depth: no other has one of up to so many steps."""

    parts: tuple[Part, ...]
    depth: int


def share(study: Study, shares: tuple[int, int]) -> Budget:
    """A part of the study's budget."""
    given = study.inquiry.budget
    return Budget(max(given.conflicts // shares[0], 1), given.depth // shares[1])


def search(
    study: Study, elements: Collection[int], *, firm: bool, within: Acceptance | None = None
) -> Sought:
    """Elements that orders part, in a race that the design does not accept, or in that one."""
    ways = twofold(study.compiled, firm=firm)
    goals = ways.unaccepted
    if within is not None:
        goals = tuple(_within(study.circuit, ways, e, within) for e in range(len(goals)))
    ways = structs.replace(ways, goals=goals)
    elements = [e for e in elements if goals[e].bad != FALSE]
    if not elements:
        return Sought((), share(study, SEARCH).depth)
    found = part(ways, elements, share(study, SEARCH))
    parts = (part_of(ways, e, reached, firm=firm) for e, reached in found.runs.items())
    return Sought(tuple(parts), found.depth)


def _within(circuit: Circuit, ways: Twofold, element: int, race: Acceptance) -> Goal:
    """What parts the element in a race that is accepted so, and not for an earlier reason."""
    goal, graph = ways.goals[element], ways.system.graph
    number = circuit.accepted.index(race)
    pairs = zip(circuit.accepted[:number], ways.accepts, strict=False)
    earlier = [met for one, met in pairs if element in one.elements]
    met = graph.both(ways.accepts[number], graph.any(earlier) ^ 1)
    return Goal(goal.name, graph.both(goal.bad, met))


def part_of(ways: Twofold, element: int, reached: Reached, *, firm: bool) -> Part:
    parting = pair_of(*runs_of(ways, reached))
    return Part(element, parting, reached.shortest, firm, ways, reached)


def shortened(study: Study, known: Part) -> Part:
    """With as few steps as can be found for the same element, if that is fewer."""
    budget = share(study, SEARCH)
    ways = twofold(study.compiled, firm=known.firm)
    if known.accepted(study.circuit) is None:
        ways = structs.replace(ways, goals=ways.unaccepted)
    below = Budget(budget.conflicts, min(budget.depth, known.steps - 1))
    found = part(ways, [known.element], below)
    if known.element in found.runs:
        return part_of(ways, known.element, found.runs[known.element], firm=known.firm)
    return known


def simplified(study: Study, known: Part) -> Part:
    """Among those as short, one with fewest events, as far as the budget lasts."""
    if known.ways is None or known.reached is None:
        return known
    better = simplest(known.ways, known.element, known.reached, share(study, SIMPLEST))
    return part_of(known.ways, known.element, better, firm=known.firm)


def tried(circuit: Circuit, run: Run, late: Collection[int], but: Collection[int]) -> Part | None:
    """Two orders with different ends, from the state before the last step of a run, in which other
    elements than the late ones move. Ends are compared by all elements but some."""
    base = Run(run.start, run.steps[:-1])
    state = base.states[-1]
    pairs = zip(state.positions, run.states[-1].positions, strict=True)
    early = [e for e, (a, b) in enumerate(pairs) if a != b]
    plans = [(late, ()), (early, late), ((), late), (early, ()), ((), ())]
    tails = [firm_run(circuit, state, *plan, MOST_STEPS) for plan in plans]
    found = []
    for first, second in combinations(_resting(circuit, state, tails), 2):
        ends = zip(_end(state, first).positions, _end(state, second).positions, strict=True)
        apart = [e for e, (a, b) in enumerate(ends) if a != b and e not in but]
        if apart:
            found.append((len(first) + len(second), apart[0], first, second))
    if not found:
        return None
    _, element, first, second = min(found, key=lambda each: each[:2])
    return Part(element, pair_of(_on(base, first), _on(base, second)), False, True)


def _resting(
    circuit: Circuit, state: State, tails: Iterable[Sequence[State]]
) -> Iterator[Sequence[State]]:
    return (tail for tail in tails if at_rest(circuit, _end(state, tail)))


def _end(state: State, tail: Sequence[State]) -> State:
    return tail[-1] if tail else state


def _on(run: Run, tail: Sequence[State]) -> Run:
    return Run(run.start, (*run.steps, *(Step((), state) for state in tail)))
