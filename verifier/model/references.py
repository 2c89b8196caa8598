"""Following references such as `leg[i].pick[1..3].2` to the things they name."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from verifier.diagnostics.span import Span
from verifier.model.draft import Draft
from verifier.model.mistakes import did_you_mean
from verifier.model.numbers import (
    Env,
    Key,
    Value,
    evaluate,
    key_text,
    span_of_range,
    told_variable_twice,
)
from verifier.model.things import (
    AssemblyThing,
    FamilyEntry,
    PartThing,
    Scope,
    Thing,
)
from verifier.syntax import tree


@dataclass(frozen=True, slots=True)
class Found:
    """A thing, or what is called `label` on a part."""

    thing: Thing
    label: str | None
    span: Span

    @property
    def name(self) -> str:
        return f"{self.thing.name}.{self.label}" if self.label is not None else self.thing.name


@dataclass(frozen=True, slots=True)
class Finder:
    """Follows references written in one scope. `ranges`: a reference may name several things.

    `bound` are variables that the statement has bound in its references: each has one value here.
    """

    draft: Draft
    scope: Scope
    env: Env
    ranges: bool = False
    bound: frozenset[str] = frozenset()

    def find(self, reference: tree.Reference) -> list[Found] | None:
        """What the reference names; None after telling a mistake (or when one was told before)."""
        found = self._walk(reference, 0, self.scope, self.env)
        if found is not None:
            for one in found:
                one.thing.used = True
        return found

    def one(self, reference: tree.Reference) -> Found | None:
        """The single thing that the reference names."""
        found = self.find(reference)
        return found[0] if found else None

    def _walk(
        self, reference: tree.Reference, at: int, scope: Scope, env: Env
    ) -> list[Found] | None:
        segment = reference.segments[at]
        entry = scope.names.get(segment.name)
        if entry is None:
            if segment.name not in scope.broken:
                self._unknown(segment, scope)
            return None
        keys = self._keys(segment, entry, scope, env)
        if keys is None:
            return None
        result: list[Found] = []
        clear = True
        for key, inner in keys:
            thing = entry.members.get(key)
            if thing is None:
                self._out_of_range(segment, entry, key, scope)
                clear = False
                continue
            reached = self._rest(reference, at, thing, inner)
            if reached is None:
                clear = False
            else:
                result.extend(reached)
        return result if clear else None

    def _rest(
        self, reference: tree.Reference, at: int, thing: Thing, env: Env
    ) -> list[Found] | None:
        rest = reference.segments[at + 1 :]
        if type(thing) is Thing:
            return None
        if not rest:
            return [Found(thing, None, reference.span)]
        if isinstance(thing, AssemblyThing):
            thing.used = True
            return self._walk(reference, at + 1, thing.inner, env)
        if isinstance(thing, PartThing):
            if len(rest) == 1 and not rest[0].indices:
                return [Found(thing, rest[0].name, reference.span)]
            self.draft.mistakes.add(
                "E0405", rest[0].span, f"`{thing.name}` has no member that goes further than a port"
            )
            return None
        self.draft.mistakes.add("E0405", rest[0].span, f"`{thing.name}` has no ports or members")
        return None

    def _keys(
        self, segment: tree.Segment, entry: FamilyEntry, scope: Scope, env: Env
    ) -> list[tuple[Key, Env]] | None:
        """The members that a segment's indices choose, with the variables that they bind."""
        if len(segment.indices) != entry.arity:
            wanted = (
                "no index"
                if entry.arity == 0
                else f"{entry.arity} " + ("index" if entry.arity == 1 else "indices")
            )
            known = member_text(entry, segment.name)
            hint = (
                f"its members: {known}" if entry.arity and segment.name not in scope.broken else ""
            )
            self.draft.mistakes.add(
                "E0403", segment.span, f"`{segment.name}` takes {wanted}", hint=hint
            )
            return None
        chosen: list[tuple[Key, Env]] = [((), env)]
        for index in segment.indices:
            longer: list[tuple[Key, Env]] = []
            for key, inner in chosen:
                values = self._values(index, inner)
                if values is None:
                    return None
                self.draft.budget.work(len(values) * len(chosen), f"`{segment.name}`")
                longer.extend(((*key, value), more) for value, more in values)
            chosen = longer
        return chosen

    def _values(self, index: tree.Index, env: Env) -> list[tuple[int, Env]] | None:
        mistakes = self.draft.mistakes
        if index.variable is not None and index.variable in self.bound:
            value = env[index.variable]
            return [(value, env)] if isinstance(value, int) else None
        if index.high is None:
            number = evaluate(index.low, env, mistakes)
            return None if number is None else [(number, env)]
        if not self.ranges:
            mistakes.add(
                "E0406",
                index.span,
                "one thing belongs here, not a range",
                hint="quantify with `every i:` or `some i:`, or `for every i` at the end",
            )
            return None
        if index.variable is not None and index.variable in env:
            told_variable_twice(index.variable, index.span, mistakes)
            return None
        values = span_of_range(index.low, index.high, index.span, env, mistakes, self.draft.budget)
        if values is None:
            return None
        name = index.variable
        return [(value, env if name is None else {**env, name: value}) for value in values]

    def _unknown(self, segment: tree.Segment, scope: Scope) -> None:
        where = f" in `{scope.path}`" if scope.path else ""
        hint = did_you_mean(segment.name, scope.names)
        if not hint and scope.path and segment.name in self.draft.scopes[0].names:
            hint = "an assembly sees its own things only; give it a port"
        self.draft.mistakes.add(
            "E0401", segment.span, f"there is no `{segment.name}`{where}", hint=hint
        )

    def _out_of_range(
        self, segment: tree.Segment, entry: FamilyEntry, key: Key, scope: Scope
    ) -> None:
        if segment.name in scope.broken:
            return
        self.draft.mistakes.add(
            "E0402",
            segment.span,
            f"there is no `{scope.full_name(segment.name)}{key_text(key)}`",
            related=((entry.span, f"its members: {member_text(entry, segment.name)}"),),
        )


def member_text(entry: FamilyEntry, name: str) -> str:
    """The members of a family, in short."""
    keys = sorted(entry.members)
    if entry.arity == 1 and len(keys) > 1 and keys[-1][0] - keys[0][0] == len(keys) - 1:
        return f"{name}[{keys[0][0]}..{keys[-1][0]}]"
    shown = [name + key_text(key) for key in keys[:4]]
    return ", ".join(shown) + (", …" if len(keys) > 4 else "")


def bindings(
    references: Iterable[tree.Reference], finder: Finder
) -> Iterator[tuple[Finder, Mapping[str, Value]]]:
    """One finder for every choice of the variables that a statement binds in its references."""
    bound: dict[str, tree.Index] = {}
    for reference in references:
        for segment in reference.segments:
            for index in segment.indices:
                if index.variable is None or index.high is None:
                    continue
                if index.variable in bound or index.variable in finder.env:
                    told_variable_twice(index.variable, index.span, finder.draft.mistakes)
                    return
                bound[index.variable] = index
    yield from _bindings(tuple(bound.values()), finder, {})


def _bindings(
    indices: tuple[tree.Index, ...], finder: Finder, chosen: dict[str, Value]
) -> Iterator[tuple[Finder, Mapping[str, Value]]]:
    if not indices:
        env = {**finder.env, **chosen}
        yield Finder(finder.draft, finder.scope, env, finder.ranges, frozenset(chosen)), chosen
        return
    first = indices[0]
    if first.high is None or first.variable is None:
        return
    draft = finder.draft
    env = {**finder.env, **chosen}
    values = span_of_range(first.low, first.high, first.span, env, draft.mistakes, draft.budget)
    for value in values or ():
        yield from _bindings(indices[1:], finder, {**chosen, first.variable: value})
