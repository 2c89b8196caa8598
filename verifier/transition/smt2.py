"""A system, and what a proof of it claims, as SMT-LIB text in the words of the circuit.

The state before a step is declared, what is chosen in it too; everything else is defined, in order:
the named definitions of the system, what the invariant says, the state after the step, and the
same definitions again, as far as they are needed, for that state.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from verifier.transition.graph import TRUE, Graph
from verifier.transition.system import Goal, Lemma, Proved, System

MOST_NESTED = 12
"""Terms nested deeper are given a name of their own."""


class Symbols:
    """Symbols that are all different."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def new(self, words: str) -> str:
        plain = words.replace("|", "/").replace("\\", "/")
        name, count = plain, 1
        while name in self._taken:
            count += 1
            name = f"{plain} ({count})"
        self._taken.add(name)
        return f"|{name}|"


class Printer:
    """Terms for literals at one moment; the definitions they need are appended to `lines`.

    inputs: the term of each input node.   names: literals that have a name, by node; each is
    defined under it when it is first needed.   moment: goes before every name.
    """

    def __init__(
        self,
        graph: Graph,
        lines: list[str],
        symbols: Symbols,
        inputs: Mapping[int, str],
        names: Mapping[int, tuple[int, str]],
        moment: str,
    ) -> None:
        self._graph = graph
        self._lines = lines
        self._symbols = symbols
        self._terms = {0: "false", **inputs}
        self._depth = dict.fromkeys(self._terms, 0)
        self._names = names
        self._moment = moment
        self._uses: dict[int, int] = {}

    def term(self, literal: int) -> str:
        """The term of a literal, after everything that it needs."""
        waiting = [node for node in self._graph.cone([literal]) if node not in self._terms]
        for node in waiting:
            for fanin in self._graph.fanins[node]:
                self._uses[fanin >> 1] = self._uses.get(fanin >> 1, 0) + 1
        for node in waiting:
            depth = 1 + max(self._depth[fanin >> 1] for fanin in self._graph.fanins[node])
            self._depth[node] = depth
            if node in self._names or self._uses.get(node, 0) > 1 or depth > MOST_NESTED:
                self._define(node)
        return self._signed(literal)

    def define(self, words: str, term: str) -> str:
        """Defines a symbol; its name."""
        symbol = self._symbols.new(self._moment + words)
        self._lines.append(f"(define-fun {symbol} () Bool {term})")
        return symbol

    def _define(self, node: int) -> None:
        literal, words = self._names.get(node, (2 * node, f"shared {node}"))
        symbol = self.define(words, self._spelled(literal))
        self._terms[node] = f"(not {symbol})" if literal & 1 else symbol
        self._depth[node] = 0

    def _signed(self, literal: int) -> str:
        term = self._terms.get(literal >> 1)
        if term is None:
            return self._spelled(literal)
        if not literal & 1:
            return term
        return term[5:-1] if term.startswith("(not ") else f"(not {term})"

    def _spelled(self, literal: int) -> str:
        """A conjunction, or a disjunction of the opposites, parts of the same sort drawn in."""
        parts, stack = [], [literal & ~1]
        while stack:
            part = stack.pop()
            if part == literal & ~1 or (not part & 1 and part >> 1 not in self._terms):
                stack += reversed(self._graph.fanins[part >> 1])
            else:
                parts.append(part)
        word, flip = ("or", 1) if literal & 1 else ("and", 0)
        return f"({word} {' '.join(self._signed(part ^ flip) for part in parts)})"


class Script:
    """The definitions of a system."""

    def __init__(self, system: System) -> None:
        self.system = system
        self.lines = ["(set-logic QF_UF)"]
        self.symbols = Symbols()
        latches, choices = system.latches, system.choices
        now = {latch.node: self.symbols.new(latch.name) for latch in latches}
        chosen = {choice.node: self.symbols.new(f"chosen: {choice.name}") for choice in choices}
        self._say("the state before a step")
        self._declare(now.values())
        self._say("what is chosen in the step")
        self._declare(chosen.values())
        names: dict[int, tuple[int, str]] = {}
        for definition in system.definitions:
            node = definition.literal >> 1
            if system.graph.is_and(node):
                names.setdefault(node, (definition.literal, definition.name))
        self.now = self._printer({**now, **chosen}, names, "")
        self._say("what the state means")
        for definition in system.definitions:
            self.now.term(definition.literal)
        self._say("what a step may be, and the state after it")
        self.step = self.now.define("the step is allowed", self.now.term(system.step_allowed))
        self.next = {
            latch.node: self.now.define(f"after: {latch.name}", self.now.term(latch.next))
            for latch in latches
        }
        self.after = self._printer(self.next, names, "after: ")
        starts = (
            name if latch.start else f"(not {name})"
            for latch, name in zip(latches, now.values(), strict=True)
        )
        self.start = self.now.define("at the start", _every(starts))

    def _printer(
        self, inputs: Mapping[int, str], names: Mapping[int, tuple[int, str]], moment: str
    ) -> Printer:
        return Printer(self.system.graph, self.lines, self.symbols, inputs, names, moment)

    def _say(self, words: str) -> None:
        self.lines.append(f"; {words}")

    def _declare(self, names: Iterable[str]) -> None:
        self.lines += (f"(declare-const {name} Bool)" for name in names)

    def clause(self, lemma: Lemma, at: Printer) -> str:
        literals = [2 * self.system.latches[i].node ^ int(not positive) for i, positive in lemma]
        return f"(or false {' '.join(at.term(literal) for literal in literals)})"

    def refute(self, words: str, terms: Iterable[str]) -> None:
        """A question to which the answer must be unsat."""
        self._say(words)
        self.lines.append("(push 1)")
        self.lines += (f"(assert {term})" for term in terms)
        self.lines += ("(check-sat)", "(pop 1)")


def definitions_text(system: System) -> str:
    """The definitions alone."""
    return "\n".join(Script(system).lines) + "\n"


def obligations_text(system: System, goals: Sequence[Goal], proofs: Sequence[Proved]) -> str:
    """The definitions, and the obligations of the claim that the clauses of the proofs, what the
    assumptions say of states and "not bad" of every goal are together an inductive invariant.

    Every answer must be unsat: each part holds at the start, and after every allowed step from a
    state that has all parts.
    """
    script = Script(system)
    lemmas = sorted({lemma for proved in proofs for lemma in proved.lemmas})
    parts: list[tuple[str, str, str]] = []
    for words, literal in (
        *((f"assumption {name}", literal) for name, literal in system.state_assumptions),
        *((f"not {goal.name}", goal.bad ^ 1) for goal in goals),
    ):
        if literal != TRUE:
            now = script.now.define(words, script.now.term(literal))
            parts.append((words, now, script.after.define(words, script.after.term(literal))))
    if lemmas:
        now, after = (
            at.define("learned", _every(script.clause(lemma, at) for lemma in lemmas))
            for at in (script.now, script.after)
        )
        parts.append(("learned", now, after))
    invariant = script.now.define("the invariant", _every(now for _, now, _ in parts))
    for words, now, after in parts:
        script.refute(f"{words}: at the start", [script.start, f"(not {now})"])
        script.refute(f"{words}: after a step", [invariant, script.step, f"(not {after})"])
    return "\n".join(script.lines) + "\n"


def _every(terms: Iterable[str]) -> str:
    return f"(and true {' '.join(terms)})"
