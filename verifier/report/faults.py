"""Which faults are enough to break a design, as data: what `shutproof faults --json` prints.

Nothing in here depends on time, machine or hash seed: the same input gives the same bytes.
Fields are only ever added within one `version`.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.report.result import (
    Form,
    Mistake,
    Modelling,
    Proof,
    Refused,
    Story,
    Translations,
    UsedAssumption,
)
from verifier.report.sleeping import Sleepers, SleepingSet
from verifier.risk.numbers import Numbers


class Considered(Struct, frozen=True):
    """A fault that may strike. passing: while it lasts it comes and goes."""

    name: str
    words: str
    passing: bool
    source: str


class Excluded(Struct, frozen=True):
    """Faults that the design says do not happen, which nothing here speaks of (F4)."""

    faults: tuple[str, ...]
    reason: str
    source: str


class CutSet(Struct, frozen=True):
    """Faults that are enough to break a property, none of which can be spared: no part of the set
    is enough. Empty: the property is broken although nothing fails.

    label: of the instance that the replayed run breaks, "" if there is but one.   steps: of that
    run, which need not be a shortest one.   story: of a shortest run, where that was asked for.
    """

    faults: tuple[str, ...]
    label: str
    steps: int
    story: Story | None = None


class CutGroup(Struct, frozen=True):
    """Cut sets that differ in numbers of parts only.

    pattern: the faults with letters for numbers.   values: of the letters, in the order of members.
    every: these are all that there are among the faults considered.   members: numbers of the sets.
    """

    pattern: tuple[str, ...]
    letters: tuple[str, ...]
    values: tuple[tuple[int, ...], ...]
    every: bool
    members: tuple[int, ...]


class Order(Struct, frozen=True):
    """What is known of sets of so many faults.

    found: cut sets.   complete: there are no others, which `proof` shows; it speaks of the lower
    orders, too.   reason: why it is not known.
    """

    order: int
    found: int
    complete: bool
    proof: Proof | None = None
    reason: str = ""


class PropertyFaults(Struct, frozen=True):
    """The cut sets of one property, by rising order.

    why_not: why faults are not asked about; "" if they are.   complete_to: the highest order to
    which all are known; -1: not even whether it is broken when nothing fails.
    tolerated: so many faults, whichever, are proved not to break it; -1: that is not so of none.
    statement: what follows for single faults, in words; "" if nothing is proved.
    assumptions: of the design, used by the proofs.   numbers: where a mission was told.
    """

    name: str
    form: Form
    moment: Literal["at_rest", "every_moment"]
    span: Span | None = None
    doc: str = ""
    why_not: str = ""
    cut_sets: tuple[CutSet, ...] = ()
    groups: tuple[CutGroup, ...] = ()
    orders: tuple[Order, ...] = ()
    complete_to: int = -1
    tolerated: int = -1
    statement: str = ""
    assumptions: tuple[UsedAssumption, ...] = ()
    numbers: Numbers | None = None


class DesignFaults(Struct, frozen=True):
    """All of one design. order: what was asked for.   considered: the faults that may strike.
    excluded: those that might, and are assumed not to.   sleepers: who could see faults, where that
    was asked for; sleeping_sets: cut sets in which some sleep.
    interrupted: somebody stopped it; what is told holds all the same.
    translations: how the comparison of both translations of the circuit with all its faults went,
    when that was asked for.
    """

    file: str
    design: str
    title: str
    revision: str
    order: int
    considered: tuple[Considered, ...]
    properties: tuple[PropertyFaults, ...]
    modelling: tuple[Modelling, ...]
    excluded: tuple[Excluded, ...] = ()
    sleepers: Sleepers | None = None
    sleeping_sets: tuple[SleepingSet, ...] = ()
    warnings: tuple[Mistake, ...] = ()
    interrupted: bool = False
    translations: Translations | None = None


class FaultsResult(Struct, frozen=True):
    """One call of `shutproof faults`. exit_status: 0 nothing within the order asked for breaks a
    property, which is proved; 1 something does; 2 invalid source; 3 it is not all known; the first
    of 2, 1, 3, 0 that applies.
    """

    designs: tuple[DesignFaults, ...]
    refused: tuple[Refused, ...]
    exit_status: Literal[0, 1, 2, 3]
    cautions: tuple[str, ...]
    format: Literal["shutproof faults"] = "shutproof faults"
    version: Literal[1] = 1


def exit_status(designs: Iterable[DesignFaults], refused: Iterable[Refused]) -> Literal[0, 1, 2, 3]:
    """Invalid source before a cut set, a cut set before an open question."""
    if any(True for _ in refused):
        return 2
    told = [(design, item) for design in designs for item in design.properties if not item.why_not]
    if any(item.cut_sets for _, item in told):
        return 1
    return 3 if any(item.complete_to < design.order for design, item in told) else 0
