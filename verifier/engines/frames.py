"""The frames of property-directed search, and the questions put to the solver about them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from verifier.engines.distances import NEVER, Distances
from verifier.engines.relation import Allowance, Cube, Lifter, Relation
from verifier.engines.sample import Sample
from verifier.engines.slice import Slice
from verifier.engines.walk import Choices
from verifier.transition.system import Lemma, System

# Each question about "not this cube" leaves a dead clause behind; after so many, start afresh.
MOST_DEAD_CLAUSES = 2_000

Mask = tuple[int, int]
"""The latches that a cube wants true, and those that it wants false, as bits of two numbers."""


class Frames:
    """F_0 is the start, F_k for k >= 1 the states that satisfy all clauses of level k and above.

    Invariants: F_k holds all states reachable in at most k steps; each cube in `levels[k]` has a
    literal that the start fails; the step from F_k leads into F_(k+1).
    assumed: graph literals that are true in every state that can be reached.
    sample: states that can be reached. With it, clauses are made that might hold for ever, instead
    of the shortest that hold for a while.
    """

    def __init__(
        self,
        system: System,
        part: Slice,
        allowance: Allowance,
        distances: Distances,
        assumed: Sequence[int] = (),
        sample: Sample | None = None,
    ) -> None:
        self._system = system
        self._sample = sample
        self._part = part
        self._assumed = assumed
        self._allowance = allowance
        self._relation = Relation(system, part, allowance, assumed)
        self._made_lifter: Lifter | None = None
        self._past_effort = 0
        self._start = {i: (i + 1 if system.latches[i].start else -(i + 1)) for i in part.latches}
        self.top = 0
        # Level by level the cubes that are blocked there, each with its mask.
        self._levels: list[dict[Cube, Mask]] = [{}]
        # Cubes blocked at every level; and of a cube that could not be pushed the state that was in
        # the way, which is there until something blocks it.
        self._always: dict[Cube, Mask] = {}
        self._in_the_way: dict[Cube, Mask] = {}
        self._fixed = 0
        self._core: Cube = ()
        self._seed(distances)

    @property
    def effort(self) -> int:
        """Goes with the time spent in solvers."""
        lifted = self._made_lifter.effort if self._made_lifter is not None else 0
        return self._past_effort + self._relation.effort + lifted

    def close(self) -> None:
        self._relation.close()
        if self._made_lifter is not None:
            self._made_lifter.close()

    @property
    def _lifter(self) -> Lifter:
        """Made when first needed: many goals are blocked without a look back."""
        if self._made_lifter is None:
            self._made_lifter = Lifter(self._system, self._part, self._allowance)
        return self._made_lifter

    def open(self, top: int) -> None:
        """Have the frames up to `top`."""
        self.top = max(self.top, top)
        while len(self._levels) <= self.top:
            self._levels.append({})

    def has_start(self, cube: Iterable[int]) -> bool:
        return all(self._start[abs(literal) - 1] == literal for literal in cube)

    def is_blocked(self, cube: Cube, level: int) -> bool:
        """Do the clauses of the frame exclude the cube, as far as can be seen without a solver?"""
        true, false = mask_of(cube)
        return any(
            not (t & ~true or f & ~false)
            for cubes in (*self._levels[level:], self._always)
            for t, f in cubes.values()
        )

    def bad_cube(self, bads: Sequence[int]) -> tuple[int, Cube] | None:
        """One of the graph literals and states of the last frame in which it is true."""
        relation = self._relation
        if not relation.possible(self.top, [relation.one_of(bads)]):
            return None
        bad = next(one for one in bads if relation.true(one))
        return bad, self._lifter.lift_bad(relation.state(), bad)

    def predecessor(self, cube: Cube, level: int) -> tuple[Cube, Choices] | None:
        """States of F_(level - 1) outside the cube from which one step leads into it."""
        if not self._reaches(cube, level):
            return None
        state, choices = self._relation.state(), self._relation.choices()
        return self._lifter.lift(state, choices, cube), choices

    def learn(self, cube: Cube, level: int) -> int:
        """Turn the cube, which `predecessor` just found to have none, into a clause of as few
        literals and as high a level as comes cheap; that level."""
        guide = self._sample
        if guide is not None and guide.meets(cube):
            guide = None
        short = self._shorten(cube, level, guide)
        while level < self.top and not self._reaches(short, level + 1):
            level += 1
        self._add(short, level)
        return level

    def propagate(self) -> bool:
        """Move clauses up as far as they go; True when a frame repeats: the search is over."""
        for level in range(1, self.top):
            for cube in tuple(self._levels[level]):
                if cube in self._levels[level] and self._moves_up(cube, level):
                    self._add(cube, level + 1)
            if not self._levels[level]:
                self._fixed = level
                return True
        return False

    def settle(self) -> None:
        """Take what is blocked at every level for the invariant."""
        self._fixed = len(self._levels)

    def fixpoint(self) -> list[Lemma]:
        """The clauses of the frame that repeats: an inductive invariant, if all went well."""
        cubes = {cube for level in self._levels[self._fixed :] for cube in level}
        cubes.update(self._always)
        return sorted(tuple((abs(literal) - 1, literal < 0) for literal in cube) for cube in cubes)

    def _seed(self, distances: Distances) -> None:
        """A latch has its start value until its other value is as near as its distance; with a
        sample, only if it has it for ever."""
        for i in self._part.latches:
            latch = self._system.latches[i]
            starts = 2 * latch.node ^ (not latch.start)
            # What has no distance at all is not known.
            soonest = distances.of(starts ^ 1) if distances.of(starts) == 0 else 0
            cube = (-self._start[i],)
            if soonest == NEVER:
                self._always[cube] = mask_of(cube)
            elif soonest > 1 and self._sample is None:
                self.open(soonest - 1)
                self._levels[soonest - 1][cube] = mask_of(cube)
        self.top = 0
        self._load(self._relation)

    def _load(self, relation: Relation) -> None:
        for cube in self._always:
            relation.exclude(cube)
        for level, cubes in enumerate(self._levels):
            for cube in cubes:
                relation.block(cube, level)

    def _moves_up(self, cube: Cube, level: int) -> bool:
        if cube in self._in_the_way:
            return False
        if not self._reaches(cube, level + 1):
            return True
        self._in_the_way[cube] = mask_of(self._relation.state())
        return False

    def _add(self, cube: Cube, level: int) -> None:
        """Block the cube in all frames up to `level`; clauses that this one implies are dropped."""
        true, false = mask = mask_of(cube)
        for k in range(1, level + 1):
            cubes = self._levels[k]
            for other in [o for o, (t, f) in cubes.items() if not (true & ~t or false & ~f)]:
                del cubes[other]
                self._in_the_way.pop(other, None)
            for other in cubes:
                state = self._in_the_way.get(other)
                if state is not None and not (true & ~state[0] or false & ~state[1]):
                    del self._in_the_way[other]
        self._levels[level][cube] = mask
        self._relation.block(cube, level)

    def _shorten(self, cube: Cube, level: int, guide: Sample | None) -> Cube:
        """Leave out literals while the rest still has no predecessor, nor a state of the guide."""
        cube = guide.widen(self._core, cube) if guide is not None else self._core
        for literal in cube:
            if literal not in cube:
                continue
            rest = tuple(other for other in cube if other != literal)
            if self.has_start(rest) or (guide is not None and guide.meets(rest)):
                continue
            if not self._reaches(rest, level):
                cube = guide.widen(self._core, rest) if guide is not None else self._core
        return cube

    def _reaches(self, cube: Cube, level: int) -> bool:
        """Is there a step from F_(level - 1) outside the cube into it? If not, `_core` is a part of
        the cube of which the same is true and which the start fails."""
        if self._relation.dead > MOST_DEAD_CLAUSES:
            self._past_effort += self._relation.effort
            self._relation.close()
            self._relation = Relation(self._system, self._part, self._allowance, self._assumed)
            self._load(self._relation)
        core = self._relation.enters(cube, level - 1)
        if core is None:
            return True
        if self.has_start(core):
            escape = next(one for one in cube if self._start[abs(one) - 1] != one)
            core = tuple(sorted((*core, escape), key=abs))
        self._core = core
        return False


def mask_of(cube: Cube) -> Mask:
    true = false = 0
    for one in cube:
        if one > 0:
            true |= 1 << one
        else:
            false |= 1 << -one
    return true, false
