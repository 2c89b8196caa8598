"""Collecting the mistakes of a stage, and counting what a design expands to."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from msgspec.structs import replace

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits, exceeded
from verifier.diagnostics.span import Span
from verifier.diagnostics.suggest import suggest

MOST_MISTAKES = 200
MOST_ALIKE = 3
MOST_CANDIDATES = 1000


class Enough(Exception):
    """So many mistakes have been found that the rest of the stage is left undone."""


class Mistakes:
    """Diagnostics in the order found; the same one is kept once.

    Of those with one code at one place, which the members of a family or the instances of an
    assembly have in common, MOST_ALIKE are kept and the others counted.
    """

    def __init__(self) -> None:
        self._found: dict[Diagnostic, None] = {}
        self._alike: dict[tuple[str, Span], dict[str, None]] = {}
        self.count = 0

    def add(
        self,
        code: str,
        span: Span,
        message: str,
        *,
        related: tuple[tuple[Span, str], ...] = (),
        hint: str = "",
    ) -> None:
        """Note a mistake; raise `Enough` when MOST_MISTAKES are kept."""
        alike = self._alike.setdefault((code, span), {})
        if message in alike:
            return
        alike[message] = None
        self.count += 1
        if len(alike) <= MOST_ALIKE:
            self._found[Diagnostic(span, code, message, related, hint)] = None
        if len(self._found) >= MOST_MISTAKES and self.any_errors:
            raise Enough

    def extend(self, diagnostics: Iterable[Diagnostic]) -> None:
        before = len(self._found)
        self._found.update(dict.fromkeys(diagnostics))
        self.count += len(self._found) - before

    @property
    def any_errors(self) -> bool:
        return any(d.severity == "error" for d in self._found)

    def sorted(self) -> tuple[Diagnostic, ...]:
        """By place; the last of those kept of many says how many more there are."""
        found = sorted(self._found)
        last = {(one.code, one.span): number for number, one in enumerate(found)}
        for place, alike in self._alike.items():
            if len(alike) > MOST_ALIKE:
                one = found[last[place]]
                more = f"{one.message}; and {len(alike) - MOST_ALIKE} more like it"
                found[last[place]] = replace(one, message=more)
        return tuple(found)

    def warnings(self) -> tuple[Diagnostic, ...]:
        return tuple(d for d in self.sorted() if d.severity == "warning")

    def stop_if_errors(self, texts: dict[str, str]) -> None:
        """End the stage: raise `SourceError` with everything found if an error is among it."""
        if self.any_errors:
            raise SourceError(self.sorted(), dict(texts))


class Budget:
    """Counts what a design expands to; refuses before the machine is full.

    Members are named things and instances of properties. Work is what is done for them (ports,
    ranges, atoms of conditions), and may be WORK_PER_MEMBER times as much.
    """

    WORK_PER_MEMBER = 25

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self._members = 0
        self._work = 0

    def member(self, name: str) -> None:
        """Count one member; raise `LimitError` beyond the limit."""
        self._members += 1
        if self._members > self._limits.max_members:
            raise exceeded(self._limits, "max_members", name, "members of families and properties")

    def work(self, count: int, name: str) -> None:
        """Count work done for `name`; raise `LimitError` beyond the limit."""
        self._work += count
        if self._work > self._limits.max_members * self.WORK_PER_MEMBER:
            raise exceeded(
                self._limits,
                "max_members",
                name,
                f"members, {self.WORK_PER_MEMBER} references each",
            )

    def depth(self, depth: int, name: str) -> None:
        """Refuse assemblies nested too deep."""
        if depth > self._limits.max_depth:
            raise exceeded(self._limits, "max_depth", name, "assemblies within each other")


def did_you_mean(name: str, candidates: Iterable[str], prefix: str = "") -> str:
    """A hint if one candidate stands out, shown with `prefix` before it; else the empty text.

    Among more than MOST_CANDIDATES names none is looked for: it would take too long.
    """
    names = list(islice(candidates, MOST_CANDIDATES + 1))
    guess = suggest(name, names) if len(names) <= MOST_CANDIDATES else None
    return f"did you mean `{prefix}{guess}`?" if guess else ""
