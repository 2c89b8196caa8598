"""Obligations as clauses: DIMACS text for any solver or checker of propositional proofs.

Variable 1 is false; then the free bits have variables of their own, then the gates, each with the
clauses that say what it is. Last comes the claim to refute: some obligation fails.
"""

from __future__ import annotations

from collections.abc import Iterator

from verifier.transition.obligations import Sheet

Clause = tuple[int, ...]


def clauses_of(sheet: Sheet) -> tuple[int, list[Clause], list[str]]:
    """The number of variables, the clauses, and what the variables stand for. That the clauses
    cannot all be true says that no obligation fails."""
    posed = sheet.obligations
    needed = sheet.cone(literal for one in posed for literal in one.literals)
    free = [node for node in needed if node in sheet.inputs]
    gates = [node for node in needed if node and node not in sheet.inputs]
    variable = {0: 1}
    variable.update((node, number) for number, node in enumerate([*free, *gates], 2))

    def signed(literal: int) -> int:
        return -variable[literal >> 1] if literal & 1 else variable[literal >> 1]

    clauses: list[Clause] = [(-1,)]
    for node in gates:
        gate, (a, b) = variable[node], sheet.fanins[node]
        left, right = signed(a), signed(b)
        clauses += ((-gate, left), (-gate, right), (gate, -left, -right))
    meanings = [f"{variable[node]}: {sheet.inputs[node]}" for node in free]
    meanings += (
        f"{'-' if literal & 1 else ''}{variable[node]}: {words}"
        for node in gates
        if node in sheet.words
        for literal, words in (sheet.words[node],)
    )
    count = len(variable)
    failing: list[int] = []
    for one in posed:
        count += 1
        failing.append(count)
        meanings.append(f"{count}: fails: {one.words}")
        clauses += ((-count, signed(literal)) for literal in one.literals)
    clauses.append(tuple(failing))
    return count, clauses, meanings


def text(sheet: Sheet) -> str:
    """The clauses as DIMACS, with what the variables stand for as comments."""
    return "".join(_lines(*clauses_of(sheet)))


def _lines(count: int, clauses: list[Clause], meanings: list[str]) -> Iterator[str]:
    for meaning in meanings:
        # Some readers end a line at other signs than the usual one, and would read on in the next.
        plain = "".join(sign if sign.isprintable() else "?" for sign in meaning)
        yield f"c {plain.encode('ascii', 'backslashreplace').decode()}\n"
    yield f"p cnf {count} {len(clauses)}\n"
    for clause in clauses:
        yield f"{' '.join(map(str, clause))} 0\n"
