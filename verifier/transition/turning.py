"""Two moments of one stretch in which hands and surroundings stay as they are: can a thing that
moved one way at the first move back at the second? The questions behind *comes to rest*.

The argument is about a run that from some moment on has hands and surroundings still, no hand
acting, and never a state at rest. Say that a set of things (elements, and volumes that keep air) is
known to be still from some moment on. Then another thing is still from some later moment on, if no
two moments that agree on the known things let it go one way at the first and back at the second:
- an element that moves for ever goes, again and again, from position j - 1 to j and next from j
  back to j - 1, where j is the highest position that it takes for ever;
- a volume that does not keep what it kept gains air again and again: it has none, or is not cut
  off, at a moment when it may be high, and has air while cut off at another.
When every element is still, whether it must move may still change with what volumes keep; if no two
moments differ in that either, then each element either must move for ever, which it would do
eventually, or never must; so the state is at rest.

Readings (M2, P5) of an element are the same at its two moments where its pilot's volume can be read
either way at both and cannot have been definite in between: the modelling assumption *steady
reading*. That holds for a volume of which the known things and the element's own position tell
whether it can be read either way, since the element stays at j between the two moments.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from msgspec import Struct

from verifier.transition.compiled import Compiled
from verifier.transition.graph import FALSE
from verifier.transition.selection import Selection
from verifier.transition.system import Lemma


class Thing(Struct, frozen=True, order=True):
    """A moving element, or a volume in so far as it keeps air; `index` is the circuit's."""

    kind: Literal["element", "memory"]
    index: int


class Still(Struct, frozen=True):
    """`thing` is still once all things before it are. steady: volumes whose readings by the element
    are the same at both moments."""

    thing: Thing
    steady: tuple[int, ...] = ()


class Settled(Struct, frozen=True):
    """Claimed: the things come to be still in this order, and then the circuit is at rest.

    lemmas: claimed to be inductive; the argument is about states that satisfy them.
    """

    order: tuple[Still, ...]
    lemmas: tuple[Lemma, ...]


class Turning:
    """Literals over two moments. The first has the latches of the system, the second has inputs of
    its own except for hands and surroundings, which it shares.

    always: what both moments satisfy: the assumptions' states, no rest, the lemmas.
    """

    def __init__(self, compiled: Compiled, lemmas: Sequence[Lemma]) -> None:
        self._compiled = compiled
        self.graph = graph = compiled.system.graph.copy()
        self._meaning = compiled.meaning.on(graph)
        self._selection = Selection(compiled, self._meaning)
        self._latches = compiled.system.latches
        kept = {i for code in compiled.switch_codes for i in code}
        kept |= set(compiled.hand_latches.values())
        self._then = {0: FALSE} | {
            latch.node: graph.input(f"{latch.name}, then")
            for i, latch in enumerate(self._latches)
            if i not in kept
        }
        first = [compiled.at_rest ^ 1, *(self._clause(lemma) for lemma in lemmas)]
        allowed = [literal for _, literal in compiled.system.state_assumptions]
        self.always = (*first, *self.then(first))
        self.assumed = tuple(graph.all([now, self.then([now])[0]]) for now in allowed)
        self.things = (
            *(Thing("element", e) for e in range(len(compiled.element_codes))),
            *(Thing("memory", v) for v in sorted(compiled.memory_latches)),
        )

    def then(self, literals: Sequence[int]) -> list[int]:
        """The literals at the second moment."""
        return self.graph.replace(literals, self._then)

    def name(self, thing: Thing) -> str:
        """In the words of the circuit."""
        circuit = self._compiled.circuit
        if thing.kind == "element":
            return circuit.elements[thing.index].name
        return circuit.volumes[thing.index].name

    def same(self, thing: Thing) -> int:
        """The thing is at both moments as it is at the first."""
        if thing.kind == "memory":
            bits = [self._keeps(thing.index)]
        else:
            count = len(self._compiled.circuit.elements[thing.index].positions)
            encoding = self._meaning.encoding
            bits = [encoding.beyond(thing.index, k) for k in range(1, count)]
        pairs = zip(bits, self.then(bits), strict=True)
        return self.graph.all(self.graph.same(a, b) for a, b in pairs)

    def read_by(self, thing: Thing) -> tuple[int, ...]:
        """Volumes that the element's pilots read, ascending."""
        if thing.kind == "memory":
            return ()
        return tuple(sorted({volume for _, volume in self._selection.readers(thing.index)}))

    def unsteady(self, volume: int) -> int:
        """The volume can be read either way at one moment and not at the other."""
        contested = self._contested(volume)
        return self.graph.same(contested, self.then([contested])[0]) ^ 1

    def turns(self, thing: Thing, steady: Sequence[int]) -> int:
        """The thing may go one way at the first moment and back at the second."""
        if thing.kind == "memory":
            return self._gains(thing.index)
        return self._reverses(thing.index, steady)

    def wavers(self, element: int) -> int:
        """The element must move at the first moment and need not at the second."""
        must = self._compiled.must_move[element]
        return self.graph.both(must, self.then([must])[0] ^ 1)

    def _gains(self, volume: int) -> int:
        keeps = self._keeps(volume)
        high = self._compiled.high[volume]
        return self.graph.all([keeps ^ 1, high, self.then([keeps])[0]])

    def _keeps(self, volume: int) -> int:
        node = self._latches[self._compiled.memory_latches[volume]].node
        return self.graph.both(2 * node, self._compiled.trapped[volume])

    def _contested(self, volume: int) -> int:
        return self.graph.both(self._compiled.high[volume], self._compiled.low[volume])

    def _reverses(self, element: int, steady: Sequence[int]) -> int:
        graph, encoding = self.graph, self._meaning.encoding
        readers = self._selection.readers(element)
        now = {key: graph.input(f"{key[0]} reads high") for key in readers}
        then = {key: graph.input(f"{key[0]} reads high, then") for key in readers}
        seen = [
            {key: self._selection.reading(key, inputs[key]) for key in readers}
            for inputs in (now, then)
        ]
        found = []
        for j in range(1, len(self._compiled.circuit.elements[element].positions)):
            rises = graph.both(
                encoding.at(element, [j - 1]), self._selection.beyond(element, seen[0], j)
            )
            falls = graph.both(
                encoding.at(element, [j]), self._selection.below(element, seen[1], j)
            )
            found.append(graph.both(rises, self.then([falls])[0]))
        kept = [
            graph.either(graph.same(now[key], then[key]), self._both_contested(key[1]) ^ 1)
            for key in readers
            if key[1] in steady
        ]
        return graph.all([graph.any(found), *kept])

    def _both_contested(self, volume: int) -> int:
        contested = self._contested(volume)
        return self.graph.both(contested, self.then([contested])[0])

    def _clause(self, lemma: Lemma) -> int:
        if not lemma:
            return FALSE
        return self.graph.any(2 * self._latches[i].node ^ (not sign) for i, sign in lemma)
