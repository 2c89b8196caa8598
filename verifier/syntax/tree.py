"""The tree of a source file, as written: names unresolved, families and assemblies not expanded.

`verifier.syntax.parse` builds it, `verifier.syntax.layout` prints it, `verifier.model.elaborate`
gives it meaning. Two trees are the same design text when they are equal with spans left out.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from msgspec import Struct

from verifier.diagnostics.span import Span

# ---- numbers and references ------------------------------------------------------------------


class Integer(Struct, frozen=True):
    value: int
    span: Span


class Variable(Struct, frozen=True):
    """An index variable or an assembly parameter (also a kind passed as a parameter)."""

    name: str
    span: Span


class Arithmetic(Struct, frozen=True):
    operator: Literal["+", "-", "*"]
    left: Sum
    right: Sum
    span: Span


Sum = Integer | Variable | Arithmetic


class Measure(Struct, frozen=True):
    """A quantity with its unit; `written` keeps how the number was spelled (2.5, 5/2)."""

    number: Fraction
    written: str
    unit: str
    span: Span


class Index(Struct, frozen=True):
    """`[low]`, `[low..high]` or, with a variable, `[i in low..high]`."""

    low: Sum
    high: Sum | None
    variable: str | None
    span: Span


class Segment(Struct, frozen=True):
    """One step of a reference; a numbered port has its digits as the name."""

    name: str
    indices: tuple[Index, ...]
    span: Span


class Reference(Struct, frozen=True):
    segments: tuple[Segment, ...]
    span: Span


class Dimension(Struct, frozen=True):
    """Of a family: `i in low..high`, `low..high`, or a single member (`high` None)."""

    variable: str | None
    low: Sum
    high: Sum | None
    span: Span


class Family(Struct, frozen=True):
    name: str
    dimensions: tuple[Dimension, ...]
    span: Span


class Binder(Struct, frozen=True):
    """A quantified variable; without a range its range is that of the arrays that it indexes.

    above: it was joined by `<`, so it exceeds the variable before it.
    """

    name: str
    low: Sum | None
    high: Sum | None
    above: bool
    span: Span


class Comparison(Struct, frozen=True):
    left: Sum
    operator: Literal["<", "<=", "=", "<>"]
    right: Sum
    span: Span


class Binders(Struct, frozen=True):
    variables: tuple[Binder, ...]
    where: tuple[Comparison, ...]
    span: Span


# ---- conditions ------------------------------------------------------------------------------


class If(Struct, frozen=True):
    when: Expression
    then: Expression
    span: Span


class Quantified(Struct, frozen=True):
    every: bool  # else `some`
    binders: Binders
    of: Expression
    span: Span


class And(Struct, frozen=True):
    of: tuple[Expression, ...]
    span: Span


class Or(Struct, frozen=True):
    of: tuple[Expression, ...]
    span: Span


class Negated(Struct, frozen=True):
    of: Expression
    span: Span


class Word(Struct, frozen=True):
    """`high(x)`, `open(vent[1])`, `flow(a, b)` …"""

    name: str
    arguments: tuple[Reference, ...]
    span: Span


class Is(Struct, frozen=True):
    subject: Reference
    value: str
    span: Span


class ByHand(Struct, frozen=True):
    hand: str
    span: Span


class Worked(Struct, frozen=True):
    """The condition that the part's `worked by` clause gives."""

    span: Span


class Rest(Struct, frozen=True):
    span: Span


Expression = If | Quantified | And | Or | Negated | Word | Is | ByHand | Worked | Rest

# ---- statements ------------------------------------------------------------------------------


class Design(Struct, frozen=True):
    name: str
    title: str | None
    span: Span


class Revision(Struct, frozen=True):
    text: str
    span: Span


class Use(Struct, frozen=True):
    name: str
    span: Span


class Include(Struct, frozen=True):
    path: str
    span: Span


class SupplyStatement(Struct, frozen=True):
    family: Family
    may_be_weak: bool
    starts: str | None
    doc: str | None
    span: Span


class Surroundings(Struct, frozen=True):
    """At the top level a family of switches, in a kind (no dimensions) a switch of each part."""

    family: Family
    values: tuple[str, ...]
    doc: str | None
    span: Span


class Argument(Struct, frozen=True):
    name: str
    value: Sum | Measure
    span: Span


class PartStatement(Struct, frozen=True):
    family: Family
    kind: str
    arguments: tuple[Argument, ...]
    worked_by: Expression | None
    roles: tuple[str, ...]
    doc: str | None
    span: Span
    kind_span: Span


class LineStatement(Struct, frozen=True):
    family: Family
    ends: tuple[Reference, ...]
    doc: str | None
    span: Span


class TubeStatement(Struct, frozen=True):
    line: Reference
    end: Reference
    length: Measure | None
    bore: Measure | None
    label: str | None
    span: Span


class LeftOpen(Struct, frozen=True):
    ports: tuple[Reference, ...]
    span: Span


class Plug(Struct, frozen=True):
    ports: tuple[Reference, ...]
    span: Span


class Places(Struct, frozen=True):
    families: tuple[Family, ...]
    doc: str | None
    span: Span


class Chain(Struct, frozen=True):
    medium: Literal["liquid", "vapour"]
    links: tuple[Reference, ...]
    span: Span


class StartAt(Struct, frozen=True):
    subject: Reference
    value: str
    span: Span


class RunsOn(Struct, frozen=True):
    reason: str
    span: Span


class Quantifier(Struct, frozen=True):
    word: Literal["any", "every", "each"]
    binders: Binders
    span: Span


class FaultsOf(Struct, frozen=True):
    """Faults of one thing: `vent stuck`, `tube air at vent.in torn`, `all of supply tractor`.

    label: None for all that it has.   end: of a tube of a line that has several.
    torn_at: the end that the tube comes off.
    """

    what: Literal["part", "tube", "supply", "cause"]
    subject: Reference
    end: Reference | None
    label: str | None
    torn_at: Reference | None
    span: Span


class FaultsAmong(Struct, frozen=True):
    """All faults with a label, all of a group (a kind's, tubes', supplies'), or both together."""

    label: str | None
    group: Literal["kind", "tubes", "supplies"] | None
    kind: str | None
    span: Span


Selection = FaultsOf | FaultsAmong


class TolerateClause(Struct, frozen=True):
    """`tolerating any MOST faults of CHOSEN` (`chosen` empty: of all), or `tolerating CHOSEN`."""

    most: int | None
    chosen: tuple[Selection, ...]
    span: Span


class PropertyStatement(Struct, frozen=True):
    """never, always, possible. `moment` is None where the source names none."""

    form: Literal["never", "always", "possible"]
    moment: Literal["at_rest", "every_moment"] | None
    name: str
    condition: Expression
    quantifier: Quantifier | None
    tolerating: TolerateClause | None
    doc: str | None
    span: Span


class OrderStatement(Struct, frozen=True):
    moment: Literal["at_rest", "every_moment"] | None
    name: str
    condition: Expression
    first: Expression
    quantifier: Quantifier | None
    tolerating: TolerateClause | None
    doc: str | None
    span: Span


class Action(Struct, frozen=True):
    undo: bool
    what: Word | Is
    span: Span


class RecoversStatement(Struct, frozen=True):
    name: str
    actions: tuple[Action, ...]
    condition: Expression
    quantifier: Quantifier | None
    tolerating: TolerateClause | None
    doc: str | None
    span: Span


class AssumeStatement(Struct, frozen=True):
    name: str
    reason: str
    form: Literal["never", "always", "possible"]  # possible is a mistake, told by the elaborator
    condition: Expression
    quantifier: Quantifier | None
    span: Span


class ExcludeStatement(Struct, frozen=True):
    chosen: tuple[Selection, ...]
    reason: str
    source: str
    span: Span


class CommonCause(Struct, frozen=True):
    family: Family
    doc: str | None
    members: tuple[Selection, ...]
    source: str | None
    span: Span


class PerTime(Struct, frozen=True):
    """`3/1000 per h`."""

    number: Fraction
    written: str
    unit: str
    span: Span


class WornOut(Struct, frozen=True):
    """`B10d 20000000 cycles, 5000 cycles per year`."""

    cycles: Measure
    yearly: PerTime
    counted: str
    span: Span


class RateStatement(Struct, frozen=True):
    chosen: tuple[Selection, ...]
    figure: PerTime | Measure | WornOut
    source: str
    span: Span


class AcceptStatement(Struct, frozen=True):
    """A race of these parts or elements is accepted, if hands and surroundings meet `during`."""

    subjects: tuple[Reference, ...]
    during: Expression | None
    reason: str
    span: Span


class AssemblyPort(Struct, frozen=True):
    name: str
    ends: tuple[Reference, ...]
    doc: str | None
    span: Span


class Assembly(Struct, frozen=True):
    name: str
    parameters: tuple[str, ...]
    doc: str | None
    items: tuple[Statement, ...]
    span: Span


# ---- kinds -----------------------------------------------------------------------------------


class Ports(Struct, frozen=True):
    """medium None: air. exhausts are declared by `Exhausts`."""

    names: tuple[str, ...]
    medium: Literal["liquid", "vapour"] | None
    span: Span


class Exhausts(Struct, frozen=True):
    names: tuple[str, ...]
    span: Span


class HandItem(Struct, frozen=True):
    name: str
    held: bool
    starts_on: bool
    doc: str | None
    span: Span


class Leg(Struct, frozen=True):
    start: str
    end: str
    one_way: bool
    restricted: bool
    medium: Literal["liquid", "vapour"] | None
    span: Span


class PassageItem(Struct, frozen=True):
    legs: tuple[Leg, ...]
    when: Expression | None
    span: Span


class Passes(Struct, frozen=True):
    position: str
    legs: tuple[Leg, ...]
    span: Span


class MoveItem(Struct, frozen=True):
    target: str
    when: Expression
    span: Span


class Otherwise(Struct, frozen=True):
    """`otherwise stays` has no target."""

    target: str | None
    span: Span


class ElementItem(Struct, frozen=True):
    name: str
    positions: tuple[str, ...]
    starts: str | None
    items: tuple[Passes | MoveItem | Otherwise, ...]
    span: Span


class Means(Struct, frozen=True):
    name: str
    condition: Expression
    span: Span


class KindRole(Struct, frozen=True):
    name: str
    span: Span


class Effect(Struct, frozen=True):
    """One effect of a fault; see verifier.model.circuit.FaultEffect for what each word does.

    subject is the element or hand, target the position, ports the ports named.
    """

    effect: Literal[
        "sticks",
        "shifts",
        "no_spring",
        "leaks",
        "passes",
        "vents",
        "bursts",
        "blocks",
        "held",
        "dead",
    ]
    subject: str | None
    target: str | None
    ports: tuple[str, ...]
    one_way: bool
    span: Span


class FaultItem(Struct, frozen=True):
    name: str
    doc: str | None
    effects: tuple[Effect, ...]
    passing: bool
    source: str | None
    span: Span


KindItem = (
    Ports
    | Exhausts
    | HandItem
    | Surroundings
    | PassageItem
    | ElementItem
    | Means
    | KindRole
    | FaultItem
)


class Kind(Struct, frozen=True):
    name: str
    doc: str | None
    items: tuple[KindItem, ...]
    span: Span


Statement = (
    Design
    | Revision
    | Use
    | Include
    | SupplyStatement
    | Surroundings
    | PartStatement
    | LineStatement
    | TubeStatement
    | LeftOpen
    | Plug
    | Places
    | Chain
    | StartAt
    | RunsOn
    | PropertyStatement
    | OrderStatement
    | RecoversStatement
    | AssumeStatement
    | AcceptStatement
    | ExcludeStatement
    | CommonCause
    | RateStatement
    | AssemblyPort
    | Assembly
    | Kind
)


class Comment(Struct, frozen=True):
    """A comment with its text after the hash; `own_line` if nothing but space stands before it."""

    text: str
    own_line: bool
    span: Span


class Source(Struct, frozen=True):
    """One parsed file. `text` is what was read; comments are kept apart, in order."""

    path: str
    text: str
    statements: tuple[Statement, ...]
    comments: tuple[Comment, ...]
