"""What a design declares, while it is being elaborated: named things, families and scopes."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from verifier.diagnostics.span import Span
from verifier.model.condition import Condition
from verifier.model.numbers import Env, Key
from verifier.model.template import KindTemplate
from verifier.syntax import tree

Sort = Literal[
    "part",
    "supply",
    "surroundings",
    "line",
    "place",
    "assembly",
    "assembly port",
    "common cause",
]


@dataclass(eq=False, slots=True, kw_only=True)
class Thing:
    """Anything with a name. `used` is set when anything refers to it."""

    name: str
    span: Span
    used: bool = False


@dataclass(eq=False, slots=True, kw_only=True)
class PartThing(Thing):
    """`first_*`: where its ports, elements, hands and own switches start in the circuit."""

    index: int
    kind: KindTemplate
    statement: tree.PartStatement
    scope: Scope
    env: Env
    first_port: int
    first_element: int
    first_hand: int
    first_switch: int
    worked: Condition | None = None
    working: bool = False


@dataclass(eq=False, slots=True, kw_only=True)
class SwitchThing(Thing):
    index: int
    values: tuple[str, ...]


@dataclass(eq=False, slots=True, kw_only=True)
class SupplyThing(SwitchThing):
    supply: int


@dataclass(eq=False, slots=True, kw_only=True)
class LineThing(Thing):
    index: int
    statement: tree.LineStatement
    scope: Scope
    env: Env


@dataclass(eq=False, slots=True, kw_only=True)
class PlaceThing(Thing):
    pass


@dataclass(eq=False, slots=True, kw_only=True)
class AssemblyThing(Thing):
    inner: Scope


@dataclass(eq=False, slots=True, kw_only=True)
class PortThing(Thing):
    """A port of an assembly: it stands for the inner ends that it lists."""

    statement: tree.AssemblyPort
    scope: Scope


@dataclass(eq=False, slots=True, kw_only=True)
class CauseThing(Thing):
    """A common cause of faults."""

    statement: tree.CommonCause
    scope: Scope
    env: Env


@dataclass(eq=False, slots=True, kw_only=True)
class FamilyEntry:
    """All members that share a name; a thing that is no family has the one key ()."""

    sort: Sort
    arity: int
    span: Span
    members: dict[Key, Thing] = field(default_factory=dict)


@dataclass(eq=False, slots=True, kw_only=True)
class Scope:
    """The names of the design, or of one instance of an assembly. `path` is "" or `leg[1]`.

    `broken` are names whose declaration has a mistake: references to them are not judged.
    """

    path: str
    env: Env
    statements: tuple[tree.Statement, ...]
    names: dict[str, FamilyEntry] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)

    def full_name(self, name: str) -> str:
        return f"{self.path}.{name}" if self.path else name
