"""Obligations as SMT-LIB text, in the words of the circuit, for any solver that reads it.

What is free in them is declared, everything else is defined, in order and as far as it is needed.
Every answer must be unsat.
"""

from __future__ import annotations

from collections.abc import Iterable

from verifier.transition.obligations import Sheet

MOST_NESTED = 12
"""Terms nested deeper are given a name of their own."""


class Symbols:
    """Symbols that are all different, in signs that every reader of SMT-LIB takes."""

    def __init__(self) -> None:
        self._taken: set[str] = set()

    def new(self, words: str) -> str:
        plain = words.replace("|", "/").replace("\\", "/")
        plain = "".join(sign if sign.isascii() and sign.isprintable() else "?" for sign in plain)
        name, count = plain, 1
        while name in self._taken:
            count += 1
            name = f"{plain} ({count})"
        self._taken.add(name)
        return f"|{name}|"


class Printer:
    """Terms for the literals of a sheet; what they need is declared and defined in `lines`."""

    def __init__(self, sheet: Sheet, roots: Iterable[int]) -> None:
        self.lines: list[str] = []
        self._sheet = sheet
        self._symbols = Symbols()
        self._terms = {0: "false"}
        self._depth = {0: 0}
        needed = sheet.cone(roots)
        self._uses: dict[int, int] = {}
        for node in needed:
            if node in sheet.inputs:
                self._declare(node)
            for fanin in sheet.fanins[node]:
                self._uses[fanin >> 1] = self._uses.get(fanin >> 1, 0) + 1
        for node in needed:
            if node not in self._terms:
                self._place(node)

    def term(self, literal: int) -> str:
        """A constant, its negation, or a short term."""
        term = self._terms.get(literal >> 1)
        if term is None:
            return self._spelled(literal)
        if not literal & 1:
            return term
        return term[5:-1] if term.startswith("(not ") else f"(not {term})"

    def _declare(self, node: int) -> None:
        symbol = self._symbols.new(self._sheet.inputs[node])
        self.lines.append(f"(declare-const {symbol} Bool)")
        self._terms[node] = symbol
        self._depth[node] = 0

    def _place(self, node: int) -> None:
        """Define it, unless it is a short term that is used once and has no name."""
        depth = 1 + max(self._depth[fanin >> 1] for fanin in self._sheet.fanins[node])
        self._depth[node] = depth
        if node in self._sheet.words or self._uses.get(node, 0) != 1 or depth > MOST_NESTED:
            literal, words = self._sheet.words.get(node, (2 * node, f"shared {node}"))
            symbol = self._symbols.new(words)
            self.lines.append(f"(define-fun {symbol} () Bool {self._spelled(literal)})")
            self._terms[node] = f"(not {symbol})" if literal & 1 else symbol
            self._depth[node] = 0

    def _spelled(self, literal: int) -> str:
        """A conjunction, or a disjunction of the opposites, parts of the same sort drawn in."""
        parts, stack = [], [literal & ~1]
        while stack:
            part = stack.pop()
            if part == literal & ~1 or (not part & 1 and part >> 1 not in self._terms):
                stack += reversed(self._sheet.fanins[part >> 1])
            else:
                parts.append(part)
        word, flip = ("or", 1) if literal & 1 else ("and", 0)
        return f"({word} {' '.join(self.term(part ^ flip) for part in parts)})"


def comment(words: str) -> str:
    """A line for people only, in signs that every reader takes."""
    plain = "".join(sign if sign.isprintable() else "?" for sign in words)
    return f"; {plain.encode('ascii', 'backslashreplace').decode()}"


def script(sheet: Sheet) -> str:
    """The obligations, each a question of its own."""
    posed = sheet.obligations
    printer = Printer(sheet, (literal for one in posed for literal in one.literals))
    lines = ["(set-logic QF_UF)", *printer.lines]
    for one in posed:
        terms = " ".join(printer.term(literal) for literal in one.literals)
        lines += [comment(one.words), "(push 1)", f"(assert (and true {terms}))"]
        lines += ["(check-sat)", "(pop 1)"]
    return "\n".join(lines) + "\n"
