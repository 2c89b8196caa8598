"""What a reviewer is told of a change, as data: `shutproof compare --json` prints it."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.changes.difference import Difference
from verifier.changes.reach import Reach
from verifier.report.result import Form, Refused, Story, Verdict

Weight = Literal["same", "reworded", "weaker", "stronger", "other", "added", "dropped"]
Trend = Literal["same", "better", "worse", "undecided", "new", "gone"]
Outcome = Literal["plumbing only", "no loss", "worse", "undecided"]


class Version(Struct, frozen=True):
    """One of the two designs."""

    file: str
    design: str
    title: str
    revision: str


class StatementTold(Struct, frozen=True):
    """A property or assumption of either design, and how it stands to what it was.

    before: its name in the old design, "" if it had none.   weight: same: nothing of it changed,
    or only its name; reworded: it was proved to say the same; weaker, stronger: it was proved to
    promise (or, an assumption, to exclude) less or more; other: neither was proved, for the reason
    in `why` if there is one.
    loss: less is promised, or more taken for granted, or that could not be ruled out.
    """

    what: Literal["property", "assumption"]
    name: str
    before: str
    weight: Weight
    loss: bool
    why: str = ""


class VerdictTold(Struct, frozen=True):
    """A property before and after; None where the design does not have it. form: in the new design,
    or in the old one if it is gone.   reason: of an inconclusive or vacuous new verdict.
    story: how it is broken now, if it was not before.
    """

    name: str
    form: Form
    before: Verdict | None
    after: Verdict | None
    trend: Trend
    reason: str = ""
    story: Story | None = None


class SightTold(Struct, frozen=True):
    """Whether one thing that can be seen of both designs is the same at rest, whatever is done to
    both. steps: of the shortest run of both, side by side, in which it differs."""

    name: str
    answer: Literal["same", "differs", "open"]
    steps: int | None = None
    reason: str = ""


class ApartTold(Struct, frozen=True):
    """One sequence of events, told of each design, after which both rest and differ in `shown`.

    only_new: whatever the order of moves, the old design never comes to rest as the new one does
    here after these events; only_old: the other way round. null: open.
    """

    shown: tuple[str, ...]
    old: Story
    new: Story
    only_new: bool | None
    only_old: bool | None


class BehaviourTold(Struct, frozen=True):
    """answer: same: proved of everything that can be seen of both, at rest, under all sequences of
    events that come at rest.   reason: why it is open.   left: what stands still in this, as only
    one design has it.   unseen: elements that cannot be compared.
    """

    answer: Literal["same", "differs", "open"]
    sights: tuple[SightTold, ...]
    apart: ApartTold | None
    reason: str = ""
    left: tuple[str, ...] = ()
    unseen: tuple[str, ...] = ()


class CutSetsTold(Struct, frozen=True):
    """Which sets of faults break a property of both designs, by names of the new one.

    tolerated_before, tolerated: so many faults, whichever, are proved not to break it; -1: not even
    none.   gained, lost: sets that are enough now and were not, and the other way round; of faults
    that only one design has as well.   complete: all sets up to the order asked for are known, of
    both.
    """

    name: str
    tolerated_before: int
    tolerated: int
    gained: tuple[tuple[str, ...], ...]
    lost: tuple[tuple[str, ...], ...]
    complete: bool


class RacesTold(Struct, frozen=True):
    """Elements of which it depends on the order of movements, on a reading or on a leak where they
    stop, by names of the new design.

    gained, lost: now and not before, and the other way round.   unaccepted: now, in a race that the
    design does not accept, and before not at all, or in one that it accepted.   known_before,
    known_after: it is proved that there are no others.
    """

    gained: tuple[str, ...]
    lost: tuple[str, ...]
    unaccepted: tuple[str, ...]
    known_before: bool
    known_after: bool


class CoreTold(Struct, frozen=True):
    """What became of that on which the proof of a property rests: parts, and tubes as `tube NAME`.

    touched: of what the old proof rests on, that which is not what it was.   gained, lost: what the
    new proof rests on and the old one does not, and the other way round; empty if there is none.
    before: on so many things the old one rests.
    """

    name: str
    touched: tuple[str, ...]
    gained: tuple[str, ...]
    lost: tuple[str, ...]
    before: int


class Comparison(Struct, frozen=True):
    """One call of `shutproof compare`. Everything is told in terms of the new design.

    outcome: plumbing only: nothing that is promised or taken for granted, no verdict and nothing
    seen at rest is different.   no loss: no verdict and no promise is worse.   retest: what to try
    again on the trailer.   races: null if either is open.   cores: where they were asked for.
    exit_status: 0 no loss, 1 something is worse, 2 invalid source,
    3 undecided.
    """

    old: Version | None
    new: Version | None
    outcome: Outcome | None
    differences: tuple[Difference, ...]
    statements: tuple[StatementTold, ...]
    verdicts: tuple[VerdictTold, ...]
    behaviour: BehaviourTold | None
    retest: Reach | None
    refused: tuple[Refused, ...]
    exit_status: Literal[0, 1, 2, 3]
    cautions: tuple[str, ...]
    cut_sets: tuple[CutSetsTold, ...] = ()
    races: RacesTold | None = None
    cores: tuple[CoreTold, ...] = ()
    format: Literal["shutproof comparison"] = "shutproof comparison"
    version: Literal[1] = 1
