"""What must be impossible if a proof stands, written down gate by gate.

A sheet repeats the gates of a system's graph for each moment that a proof speaks of: a state and a
step from it, the state after it, other moments of a stretch. Nothing is simplified on the way, so
that between system and obligations there is only copying. Every obligation is a set of literals
that cannot be true together; `smt2` and `dimacs` print them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from verifier.transition.compiled import Compiled
from verifier.transition.graph import FALSE, TRUE, Graph
from verifier.transition.settling import Misfit, steps_of
from verifier.transition.system import Goal, Lemma, System
from verifier.transition.turning import Settled, Turning

Names = Mapping[int, tuple[int, str]]
"""Words for some literals, by their nodes."""


class Obligation(Struct, frozen=True):
    """The literals of a sheet cannot all be true; `words` say what that would mean."""

    words: str
    literals: tuple[int, ...]


class Sheet:
    """Gates in topological order; literals are those of `Graph`, node 0 is false.

    inputs: words of each free node.   words: of gates that mean something, a literal and its words.
    """

    def __init__(self) -> None:
        self.fanins: list[tuple[int, int]] = [(-1, -1)]
        self.inputs: dict[int, str] = {}
        self.words: dict[int, tuple[int, str]] = {}
        self.obligations: list[Obligation] = []
        self._known: dict[tuple[int, int], int] = {}

    def input(self, words: str) -> int:
        self.fanins.append((-1, -1))
        node = len(self.fanins) - 1
        self.inputs[node] = words
        return 2 * node

    def both(self, a: int, b: int) -> int:
        """The gate of two literals, made once."""
        node = self._known.get((a, b))
        if node is None:
            self.fanins.append((a, b))
            node = self._known[a, b] = len(self.fanins) - 1
        return 2 * node

    def every(self, literals: Iterable[int], words: str = "") -> int:
        """All of them, as a chain; with words a gate of its own, or none if there is but one."""
        literal = TRUE
        for one in literals:
            literal = one if literal == TRUE else self.both(literal, one)
        if words and literal > TRUE and literal >> 1 not in self.inputs:
            self.words.setdefault(literal >> 1, (literal, words))
        return literal

    def some(self, literals: Iterable[int], words: str = "") -> int:
        """One of them at least."""
        none = self.every(literal ^ 1 for literal in literals)
        if words and none > TRUE and none >> 1 not in self.inputs:
            self.words.setdefault(none >> 1, (none ^ 1, words))
        return none ^ 1

    def refuse(self, words: str, *literals: int) -> None:
        """One more obligation, unless it is plain from a literal that is false."""
        if FALSE not in literals:
            self.obligations.append(
                Obligation(words, tuple(one for one in literals if one != TRUE))
            )

    def cone(self, roots: Iterable[int]) -> list[int]:
        """Nodes that the roots depend on, in topological order."""
        seen: set[int] = set()
        stack = [root >> 1 for root in roots]
        while stack:
            node = stack.pop()
            if node not in seen:
                seen.add(node)
                stack += (fanin >> 1 for fanin in self.fanins[node] if fanin >= 0)
        return sorted(seen)


class Moment:
    """A graph's literals on a sheet, given those of the inputs. `prefix` goes before the words."""

    def __init__(
        self, graph: Graph, sheet: Sheet, inputs: Mapping[int, int], names: Names, prefix: str = ""
    ) -> None:
        self._graph = graph
        self._sheet = sheet
        self._literals = {0: FALSE, **inputs}
        self._names = names
        self._prefix = prefix

    def literal(self, literal: int) -> int:
        """Raises Misfit if it depends on an input that has no meaning at this moment."""
        known = self._literals
        if literal >> 1 not in known:
            for node in self._missing(literal >> 1):
                known[node] = self._copied(node)
        return known[literal >> 1] ^ (literal & 1)

    def _missing(self, root: int) -> list[int]:
        """What the node rests on and is not there yet, in topological order."""
        known, fanins = self._literals, self._graph.fanins
        found: set[int] = set()
        stack = [root]
        while stack:
            node = stack.pop()
            if node not in known and node not in found:
                found.add(node)
                a, b = fanins[node]
                if a >= 0:
                    stack += (a >> 1, b >> 1)
        return sorted(found)

    def clause(self, system: System, lemma: Lemma) -> int:
        """Raises Misfit for latches that do not exist."""
        literals = []
        for index, positive in lemma:
            if not 0 <= index < len(system.latches):
                raise Misfit(f"a clause speaks of latch {index}, which does not exist")
            literals.append(self.literal(2 * system.latches[index].node ^ int(not positive)))
        return self._sheet.every(literal ^ 1 for literal in literals) ^ 1

    def _copied(self, node: int) -> int:
        a, b = self._graph.fanins[node]
        if a < 0:
            raise Misfit(f"{self._graph.names[node]!r} has no meaning here")
        left, right = self._literals[a >> 1] ^ (a & 1), self._literals[b >> 1] ^ (b & 1)
        copied = self._sheet.both(left, right)
        if node in self._names:
            named, words = self._names[node]
            self._sheet.words.setdefault(
                copied >> 1, (copied ^ (named & 1), f"{self._prefix}{words}")
            )
        return copied


def invariant(
    system: System, goals: Sequence[Goal], lemmas: Sequence[Lemma], assumptions: Sequence[str]
) -> Sheet:
    """Of the claim that the lemmas, what these assumptions say of states, and "not bad" of every
    goal are together inductive: true at the start, and kept by every step that these assumptions
    allow. Raises Misfit for assumptions and latches that the system does not have."""
    sheet = Sheet()
    now = _now(system, system.graph, sheet)
    _inductive(system, system.graph, sheet, now, (goals, lemmas, assumptions))
    return sheet


def free_to_move(system: System) -> Sheet:
    """Of the claim that the assumptions allow the start, that in every state that they allow the
    step in which nothing happens is allowed, and that allowed steps lead to allowed states (O3)."""
    sheet = Sheet()
    now = _now(system, system.graph, sheet)
    names = _named(system)
    inputs = {latch.node: now.literal(2 * latch.node) for latch in system.latches}
    nothing = {choice.node: now.literal(choice.still) for choice in system.choices}
    still = Moment(system.graph, sheet, {**inputs, **nothing}, names, "if nothing happens: ")
    after = _after(system, system.graph, sheet, now)
    allowed, step = now.literal(system.state_allowed), now.literal(system.step_allowed)
    start = _start(system, sheet, now)
    sheet.refuse("the start is not allowed", start, allowed ^ 1)
    stuck = still.literal(system.step_allowed) ^ 1
    sheet.refuse("in an allowed state something must happen", allowed, stuck)
    leaves = after.literal(system.state_allowed) ^ 1
    sheet.refuse("an allowed step leads to a state that is not", allowed, step, leaves)
    return sheet


def comes_to_rest(compiled: Compiled, settled: Settled, assumptions: Sequence[str]) -> Sheet:
    """Of the argument that things come to be still one after the other (turning.py), in states that
    satisfy its lemmas; and that these are inductive. Raises Misfit for an argument out of shape."""
    system, turning = compiled.system, Turning(compiled, settled.lemmas)
    steps = steps_of(turning, settled)
    sheet = Sheet()
    now = _now(system, turning.graph, sheet)
    if settled.lemmas:
        _inductive(system, turning.graph, sheet, now, ((), settled.lemmas, assumptions))
    inputs = {latch.node: now.literal(2 * latch.node) for latch in system.latches}
    free = {
        node: sheet.input(words)
        for node, words in turning.graph.names.items()
        if node not in inputs
    }
    both = Moment(turning.graph, sheet, {**inputs, **free}, _named(system))
    known = [name for name, _ in system.state_assumptions]
    _check_known(assumptions, known)
    allowed = [both.literal(turning.assumed[known.index(name)]) for name in assumptions]
    always = sheet.every(
        (*(both.literal(literal) for literal in turning.always), *allowed),
        "both moments are without rest",
    )
    alike = TRUE
    kept = [alike]
    for still in settled.order:
        alike = sheet.every([alike, both.literal(turning.same(still.thing))])
        kept.append(alike)
    for sort in dict.fromkeys(step.sort for step in steps):
        failing = [
            sheet.every([kept[step.alike], both.literal(step.literal)], step.words)
            for step in steps
            if step.sort == sort
        ]
        sheet.refuse(f"comes to rest: {sort}", always, sheet.some(failing, sort))
    return sheet


def _now(system: System, graph: Graph, sheet: Sheet) -> Moment:
    inputs = {latch.node: sheet.input(latch.name) for latch in system.latches}
    inputs.update((choice.node, sheet.input(f"chosen: {choice.name}")) for choice in system.choices)
    return Moment(graph, sheet, inputs, _named(system))


def _named(system: System) -> Names:
    """The system's definitions, the first of each node."""
    names: dict[int, tuple[int, str]] = {}
    for definition in system.definitions:
        if system.graph.is_and(definition.literal >> 1):
            names.setdefault(definition.literal >> 1, (definition.literal, definition.name))
    return names


def _after(system: System, graph: Graph, sheet: Sheet, now: Moment) -> Moment:
    nexts = {latch.node: now.literal(latch.next) for latch in system.latches}
    return Moment(graph, sheet, nexts, _named(system), "after: ")


def _start(system: System, sheet: Sheet, now: Moment) -> int:
    bits = (now.literal(2 * latch.node) ^ int(not latch.start) for latch in system.latches)
    return sheet.every(bits, "at the start")


def _check_known(names: Sequence[str], known: Sequence[str]) -> None:
    strange = sorted(set(names) - set(known))
    if strange:
        raise Misfit(f"there is no assumption {strange[0]!r}")


def _inductive(
    system: System,
    graph: Graph,
    sheet: Sheet,
    now: Moment,
    claim: tuple[Sequence[Goal], Sequence[Lemma], Sequence[str]],
) -> None:
    goals, lemmas, assumptions = claim
    _check_known(assumptions, [name for name, _ in system.state_assumptions])
    in_use = [literal for name, literal in system.assumptions if name in assumptions]
    step = sheet.every(
        [now.literal(literal) for literal in (system.encoding, *in_use)], "the step is allowed"
    )
    sheet.refuse("a step is not what its parts say", now.literal(system.step_allowed), step ^ 1)
    after, start = _after(system, graph, sheet, now), _start(system, sheet, now)
    kept = [literal for name, literal in system.state_assumptions if name in assumptions]
    parts = []
    for at, before in ((now, ""), (after, "after: ")):
        unmet = [
            sheet.every([at.literal(goal.bad ^ 1)], f"{before}not {goal.name}") for goal in goals
        ]
        learned = [at.clause(system, lemma) for lemma in lemmas]
        parts.append(
            (
                sheet.every(map(at.literal, kept), f"{before}the assumptions"),
                sheet.every(unmet, f"{before}no goal is met"),
                sheet.every(learned, f"{before}the lemmas"),
            )
        )
    here, later = parts
    holds = sheet.every(here, "the invariant")
    sheet.refuse("the invariant fails at the start", start, holds ^ 1)
    for words, part in zip(("an assumption", "a goal", "a lemma"), later, strict=True):
        sheet.refuse(f"a step breaks the invariant: {words}", holds, step, part ^ 1)
