"""The frames of property-directed search, and the questions put to the solver about them."""

from __future__ import annotations

from collections.abc import Iterable

from verifier.engines.relation import Cube, Lifter, Relation
from verifier.engines.slice import Slice
from verifier.engines.walk import Choices
from verifier.transition.system import Lemma, System

# Each question about "not this cube" leaves a dead clause behind; after so many, start afresh.
MOST_DEAD_CLAUSES = 2_000


class Frames:
    """F_0 is the start, F_k for k >= 1 the states that satisfy all clauses of level k and above.

    Invariants: F_k holds all states reachable in at most k steps; each cube in `levels[k]` has a
    literal that the start fails; the step from F_k leads into F_(k+1).
    """

    def __init__(self, system: System, part: Slice, bad: int, work: int) -> None:
        self._system = system
        self._part = part
        self._bad = bad
        self._relation = Relation(system, part, work)
        self._work = work
        self._made_lifter: Lifter | None = None
        self._start = {i: (i + 1 if system.latches[i].start else -(i + 1)) for i in part.latches}
        self.top = 1
        self._levels: list[list[Cube]] = [[], []]
        self._fixed = 0
        self._core: Cube = ()

    def close(self) -> None:
        self._relation.close()
        if self._made_lifter is not None:
            self._made_lifter.close()

    @property
    def _lifter(self) -> Lifter:
        """Made when first needed: many goals are blocked without a look back."""
        if self._made_lifter is None:
            self._made_lifter = Lifter(self._system, self._part, self._work)
        return self._made_lifter

    def has_start(self, cube: Iterable[int]) -> bool:
        return all(self._start[abs(literal) - 1] == literal for literal in cube)

    def is_blocked(self, cube: Cube, level: int) -> bool:
        """Do the clauses of the frame exclude the cube, as far as can be seen without a solver?"""
        literals = set(cube)
        return any(literals.issuperset(other) for cubes in self._levels[level:] for other in cubes)

    def bad_cube(self) -> Cube | None:
        """States of the last frame that are bad."""
        relation = self._relation
        if not relation.possible(self.top, [relation.now(self._bad)]):
            return None
        return self._lifter.lift_bad(relation.state(), self._bad)

    def predecessor(self, cube: Cube, level: int) -> tuple[Cube, Choices] | None:
        """States of F_(level - 1) outside the cube from which one step leads into it."""
        if not self._reaches(cube, level):
            return None
        state, choices = self._relation.state(), self._relation.choices()
        return self._lifter.lift(state, choices, cube), choices

    def learn(self, cube: Cube, level: int) -> int:
        """Turn the cube, which `predecessor` just found to have none, into a clause of as few
        literals and as high a level as comes cheap; that level."""
        short = self._shorten(self._core, level)
        while level < self.top and not self._reaches(short, level + 1):
            level += 1
        self._add(short, level)
        return level

    def propagate(self) -> bool:
        """Open a new frame and move clauses up; True when a frame repeats: the search is over."""
        self.top += 1
        self._levels.append([])
        for level in range(1, self.top):
            for cube in tuple(self._levels[level]):
                if cube in self._levels[level] and not self._reaches(cube, level + 1):
                    self._add(cube, level + 1)
            if not self._levels[level]:
                self._fixed = level
                return True
        return False

    def fixpoint(self) -> list[Lemma]:
        """The clauses of the frame that repeats: an inductive invariant, if all went well."""
        cubes = {cube for level in self._levels[self._fixed :] for cube in level}
        return sorted(tuple((abs(literal) - 1, literal < 0) for literal in cube) for cube in cubes)

    def _add(self, cube: Cube, level: int) -> None:
        """Block the cube in all frames up to `level`; clauses that this one implies are dropped."""
        literals = set(cube)
        for k in range(1, level + 1):
            self._levels[k] = [other for other in self._levels[k] if not literals.issubset(other)]
        self._levels[level].append(cube)
        self._relation.block(cube, level)

    def _shorten(self, cube: Cube, level: int) -> Cube:
        """Leave out literals while the rest still has no predecessor."""
        for literal in cube:
            if literal not in cube:
                continue
            rest = tuple(other for other in cube if other != literal)
            if not self.has_start(rest) and not self._reaches(rest, level):
                cube = self._core
        return cube

    def _reaches(self, cube: Cube, level: int) -> bool:
        """Is there a step from F_(level - 1) outside the cube into it? If not, `_core` is a part of
        the cube of which the same is true and which the start fails."""
        if self._relation.dead > MOST_DEAD_CLAUSES:
            self._renew()
        core = self._relation.enters(cube, level - 1)
        if core is None:
            return True
        if self.has_start(core):
            escape = next(one for one in cube if self._start[abs(one) - 1] != one)
            core = tuple(sorted((*core, escape), key=abs))
        self._core = core
        return False

    def _renew(self) -> None:
        work = self._relation.work_left()
        self._relation.close()
        self._relation = Relation(self._system, self._part, work)
        for level, cubes in enumerate(self._levels):
            for cube in cubes:
                self._relation.block(cube, level)
