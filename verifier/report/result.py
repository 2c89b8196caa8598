"""Answers as data: what `shutproof prove --json` prints, and what the text report is made from.

Nothing in here depends on time, machine or hash seed: the same input gives the same bytes.
Fields are only ever added within one `version`.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.span import Span

Verdict = Literal["holds", "violated", "inconclusive", "vacuous", "delay dependent"]
Form = Literal[
    "never", "always", "possible", "order", "recovers", "comes to rest", "no contest", "no race"
]

# The worst first: what a property says when its instances differ, and a design when its
# properties do.
SEVERITY: tuple[Verdict, ...] = (
    "violated",
    "vacuous",
    "inconclusive",
    "delay dependent",
    "holds",
)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """The one that the whole must answer; "holds" for none at all."""
    present = set(verdicts)
    return next((verdict for verdict in SEVERITY if verdict in present), "holds")


class Related(Struct, frozen=True):
    span: Span
    message: str


class Mistake(Struct, frozen=True):
    """A diagnostic. `code` is explained in grammar/REFERENCE.md."""

    code: str
    severity: Literal["error", "warning"]
    message: str
    span: Span
    related: tuple[Related, ...] = ()
    hint: str = ""

    @classmethod
    def of(cls, diagnostic: Diagnostic) -> Mistake:
        return cls(
            code=diagnostic.code,
            severity=diagnostic.severity,
            message=diagnostic.message,
            span=diagnostic.span,
            related=tuple(Related(span, words) for span, words in diagnostic.related),
            hint=diagnostic.hint,
        )


class Event(Struct, frozen=True):
    """One thing that happened.

    step: number of the step, from 1; events of one step happen at the same moment.
    words: what happened.   cause: why it could ("" when somebody just did it).
    gained, lost, between: lines that after this step read high, read low, or stand at an in-between
    pressure and did not before; told at the last event of a step.
    span: where the part, supply or line that it is about stands in the design.
    """

    step: int
    by: Literal["operator", "surroundings", "movement", "leak", "fault"]
    words: str
    cause: str = ""
    gained: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    between: tuple[str, ...] = ()
    span: Span | None = None


class Standing(Struct, frozen=True):
    """Where one element, hand or switch stands."""

    name: str
    value: str


class Ending(Struct, frozen=True):
    """The state at the end. Lines are sorted: they read high, low, or may read either way;
    kept: those that hold air although cut off. Elements, hands and switches at their start are left
    out of `moved`.
    """

    moved: tuple[Standing, ...]
    high: tuple[str, ...]
    low: tuple[str, ...]
    between: tuple[str, ...]
    kept: tuple[str, ...]
    at_rest: bool


class Story(Struct, frozen=True):
    """A run from the start, replayed by the simulator: a violation, or the witness of a *possible*.

    steps: number of steps.   shortest: no shorter run ends the same way.
    procedure_from: number of steps before the procedure of a *recovers* begins, else null.
    loop_from: number of steps before a loop that the rest of the events goes round once, else null.
    outcome: what the last state shows, in words.
    """

    events: tuple[Event, ...]
    steps: int
    shortest: bool
    end: Ending
    outcome: str
    procedure_from: int | None = None
    loop_from: int | None = None


class Way(Struct, frozen=True):
    """One of two ways in which a circuit goes on; the steps count on from what both share.

    words: what comes first in it.
    """

    words: str
    events: tuple[Event, ...]
    end: Ending


class Race(Struct, frozen=True):
    """Two runs from the start, replayed by the simulator, that differ in order only: they share all
    events up to one that happens at rest, and perhaps some after it, then the ways part.

    decided_by: order: elements that must move do, in another order; leak: air that is kept in one
    way leaks in the other; reading: an in-between pressure is read in different ways.
    deciding: what comes first in the one way and in the other, and decides between them.
    shared: what both have in common, told once; shared_steps: number of its steps.
    steps: of the shared part and both ways.   shortest: no two ways with fewer steps differ so.
    """

    decided_by: Literal["order", "leak", "reading"]
    deciding: tuple[str, str]
    shared: tuple[Event, ...]
    shared_steps: int
    first: Way
    second: Way
    steps: int
    shortest: bool
    outcome: str


class UsedAssumption(Struct, frozen=True):
    """An assumption of the design without which the proof would not go through as it stands."""

    name: str
    reason: str


class InstanceResult(Struct, frozen=True):
    """One member of a quantified property; `label` is "" or for example "i = 1, j = 2".

    reason: for inconclusive and vacuous, why.   depth: steps up to which no violation exists, when
    inconclusive; null otherwise.   story: of a violation, or the witness of a *possible*.
    race: of a *no race* that is delay dependent; its members are the elements whose end depends.
    witnesses: runs in which that happens of which a member that holds speaks, one for each thing
    that has to be able to happen (Q14); told for the first member, or for all.
    accepted: of a race that the design accepts, its reason.
    """

    label: str
    verdict: Verdict
    words: str
    reason: str = ""
    depth: int | None = None
    story: Story | None = None
    race: Race | None = None
    witnesses: tuple[Story, ...] = ()
    accepted: str = ""


class Proof(Struct, frozen=True):
    """What a fresh solver discharged: an inductive invariant of so many clauses."""

    engine: str
    clauses: int
    obligations: int


class Core(Struct, frozen=True):
    """What a proof rests on (Q13): it stands whatever all else does, of `among` parts and tubes.

    parts, tubes: these have to work.   tight_parts, tight_tubes: of these it is enough that they
    let no air out.   assumptions: names of the design's that are needed.
    obligations: what a fresh solver discharged with no more than these granted.
    least: each of them is needed, whatever the proof: without it, and with all others, some run
    breaks the property. unsure: those for which there is no such run of up to `steps` steps; what
    longer ones do is not known.
    """

    parts: tuple[str, ...]
    tubes: tuple[str, ...]
    tight_parts: tuple[str, ...]
    tight_tubes: tuple[str, ...]
    assumptions: tuple[str, ...]
    among: int
    obligations: int
    least: bool
    unsure: tuple[str, ...] = ()
    steps: int | None = None


class Unneeded(Struct, frozen=True):
    """Parts and tubes on which no proof rests, of those whose core was taken; and those that are
    only asked to be tight."""

    parts: tuple[str, ...]
    tubes: tuple[str, ...]
    tight_parts: tuple[str, ...]
    tight_tubes: tuple[str, ...]


class LeftOut(Struct, frozen=True):
    """Faults that an assumption of the design excludes (F4)."""

    faults: tuple[str, ...]
    reason: str
    source: str


class Tolerated(Struct, frozen=True):
    """Faults that may strike, at most so many in a run (null: all): the property is judged of the
    circuit with these. words: as the design says it.   left_out: what it would tolerate, too, or
    fail to, were it not excluded.
    """

    words: str
    most: int | None
    faults: tuple[str, ...]
    left_out: tuple[LeftOut, ...]


class PropertyResult(Struct, frozen=True):
    """The answer to one property. `free`: it comes with every design, unwritten.

    assumptions: of the design, used by the proof.   modelling: names of modelling assumptions in
    force for this answer, explained in `DesignResult.modelling` and in grammar/REFERENCE.md.
    core: what the proof rests on, when that was asked for; no_core: why it is not told.
    no_witness: why no member that holds has a witness.
    tolerating: the faults that it tolerates, null if it speaks of the sound circuit.
    others: of a *no race* with nothing but races that the design accepts, whether there are others.
    unmet: of the races that it accepts, those of which none was found.
    """

    name: str
    form: Form
    free: bool
    moment: Literal["at_rest", "every_moment"]
    verdict: Verdict
    instances: tuple[InstanceResult, ...]
    span: Span | None = None
    doc: str = ""
    reason: str = ""
    proof: Proof | None = None
    assumptions: tuple[UsedAssumption, ...] = ()
    modelling: tuple[str, ...] = ()
    core: Core | None = None
    no_core: str = ""
    no_witness: str = ""
    tolerating: Tolerated | None = None
    others: Literal["", "none", "open"] = ""
    unmet: tuple[str, ...] = ()


class Modelling(Struct, frozen=True):
    """An assumption about air, metal and people that is built into the rules."""

    name: str
    says: str


class Translations(Struct, frozen=True):
    """Both translations of the circuit were shown to agree: so many definitions, next-state
    functions and conditions were compared.   open: what the solver gave up on; no proof that needs
    it counts.
    """

    compared: int
    open: tuple[str, ...] = ()


class DesignResult(Struct, frozen=True):
    """Every property of one design, in the order of the source, then those that come free.

    notes: what the reader must know about the design as a whole.   unneeded: on what no proof
    rests, when that was asked for.   translations: how the comparison of both went.
    """

    file: str
    design: str
    title: str
    revision: str
    verdict: Verdict
    properties: tuple[PropertyResult, ...]
    modelling: tuple[Modelling, ...]
    warnings: tuple[Mistake, ...] = ()
    notes: tuple[str, ...] = ()
    unneeded: Unneeded | None = None
    translations: Translations | None = None


class Refused(Struct, frozen=True):
    """A file that is no valid design: nothing was proved about it.

    limit: the limit that it ran into, "" if it did not.
    """

    file: str
    mistakes: tuple[Mistake, ...]
    limit: str = ""


class Result(Struct, frozen=True):
    """One call of `shutproof prove`. exit_status: 0 all hold, or are delay dependent and that is to
    be no failure; 1 something violated or vacuous; 2 invalid source; 3 something inconclusive; the
    first of 2, 1, 3, 0 that applies.
    """

    designs: tuple[DesignResult, ...]
    refused: tuple[Refused, ...]
    exit_status: Literal[0, 1, 2, 3]
    cautions: tuple[str, ...]
    format: Literal["shutproof result"] = "shutproof result"
    version: Literal[1] = 1


def only_accepted(item: PropertyResult) -> bool:
    """Whether the design accepts every race that is told."""
    told = [one for one in item.instances if one.verdict == "delay dependent"]
    return bool(told) and all(one.accepted for one in told)


def exit_status(
    designs: Iterable[DesignResult], refused: Iterable[Refused], *, races_fail: bool = False
) -> Literal[0, 1, 2, 3]:
    """Invalid source before a failure, a failure before an open question. Being delay dependent is
    a failure only if `races_fail`, and not in a race that the design accepts; then whether there is
    any other is a question as well."""
    items = [item for design in designs for item in design.properties]
    verdicts = {item.verdict for item in items}
    races = [item for item in items if item.verdict == "delay dependent"]
    if any(True for _ in refused):
        return 2
    if verdicts & {"violated", "vacuous"} or (races_fail and not all(map(only_accepted, races))):
        return 1
    unsure = races_fail and any(item.others == "open" for item in items)
    return 3 if unsure or "inconclusive" in verdicts else 0
