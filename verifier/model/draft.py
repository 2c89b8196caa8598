"""The circuit in the making: what the passes of elaboration share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from verifier.model.kinds import read_kind
from verifier.model.mistakes import Budget, Mistakes
from verifier.model.template import KindTemplate
from verifier.model.things import (
    AssemblyThing,
    CauseThing,
    LineThing,
    PartThing,
    PlaceThing,
    Scope,
    SupplyThing,
    SwitchThing,
)
from verifier.syntax import tree


@dataclass(eq=False)
class Draft:
    """Lists run in the order of the circuit's tuples. `own_kinds` are those of the user's files,
    `known_kinds` the names of all."""

    kinds: dict[str, tree.Kind]
    own_kinds: tuple[str, ...]
    known_kinds: tuple[str, ...]
    assemblies: dict[str, tree.Assembly]
    mistakes: Mistakes
    budget: Budget
    parts: list[PartThing] = field(default_factory=list)
    supplies: list[SupplyThing] = field(default_factory=list)
    supply_statements: list[tree.SupplyStatement] = field(default_factory=list)
    switches: list[SwitchThing] = field(default_factory=list)
    lines: list[LineThing] = field(default_factory=list)
    places: list[PlaceThing] = field(default_factory=list)
    causes: list[CauseThing] = field(default_factory=list)
    assembled: list[AssemblyThing] = field(default_factory=list)
    scopes: list[Scope] = field(default_factory=list)
    ports: int = 0
    elements: int = 0
    hands: int = 0
    _templates: dict[str, KindTemplate | None] = field(default_factory=dict)

    def template(self, name: str) -> KindTemplate | None:
        """The kind of that name, read once; None if it has mistakes. The name must be known."""
        if name not in self._templates:
            self._templates[name] = read_kind(self.kinds[name], self.mistakes)
        return self._templates[name]

    def statements(self) -> Iterator[tuple[Scope, tree.Statement]]:
        """Every statement with its scope: the design's own, then each assembled instance's."""
        for scope in self.scopes:
            for statement in scope.statements:
                yield scope, statement
