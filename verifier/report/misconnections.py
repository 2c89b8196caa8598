"""What comes of connections that are made wrongly, as data."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from msgspec import Struct

from verifier.report.result import Form, Proof, Story, Verdict

Outcome = Literal["broken", "undecided", "harmless"]


class Judgement(Struct, frozen=True):
    """Of one wrong connection. broken: a stated property that held without it does not hold; that
    one is named, with its verdict, and, if a sequence shows it, with the story and the same as the
    text of a .run file. harmless: all that held still hold; proof: of those proved.
    undecided: neither; reason: why.   decided: how many properties were looked at.
    """

    outcome: Outcome
    property: str = ""
    form: Form = "never"
    label: str = ""
    verdict: Verdict = "holds"
    steps: int = 0
    story: Story | None = None
    run: str = ""
    reason: str = ""
    proof: Proof | None = None
    decided: int = 0


class Member(Struct, frozen=True):
    """One wrong connection. ports: the two that are swapped, or those at the ends of a tube that is
    left off.   reveals: which step of a test sheet shows it, "" if none was given."""

    words: str
    sort: Literal["swapped", "left off"]
    ports: tuple[str, ...]
    reveals: str = ""


class WrongConnectionTold(Struct, frozen=True):
    """One that was judged, and others that are the same but for which of several like parts they
    are at: for them it holds by symmetry.

    words: the one that was judged.   told: all of the members in few words.
    """

    words: str
    told: tuple[str, ...]
    members: tuple[Member, ...]
    judgement: Judgement


class Misconnections(Struct, frozen=True):
    """Worst first. asked: how many there are of each sort; judged: how many were judged by
    themselves, without those that are alike.   held: the properties that held before.
    interrupted: somebody stopped it; what is told holds all the same.   parts: those that it was
    asked about; all of the design, if there are none."""

    swaps: int
    left_off: int
    judged: int
    known: int
    held: tuple[str, ...]
    not_held: tuple[str, ...]
    told: tuple[WrongConnectionTold, ...]
    interrupted: bool = False
    parts: tuple[str, ...] = ()


def rank(judgement: Judgement) -> tuple[int, int]:
    """Worse comes first: a rule (*never*, *always*, *order*) that breaks, in fewer steps before in
    more; what does not recover; what cannot be used any more; a rule that speaks of nothing any
    more; what is not known; what does no harm."""
    if judgement.outcome == "harmless":
        return (5, 0)
    if judgement.outcome == "undecided":
        return (4, 0)
    if judgement.verdict != "violated":
        return (3, 0)
    order = {"recovers": 1, "possible": 2}
    return (order.get(judgement.form, 0), judgement.steps)


def harm(judgement: Judgement) -> str:
    """In a few words."""
    if judgement.outcome != "broken":
        return judgement.outcome
    words = {1: "does not recover", 2: "does not work", 3: "makes a rule empty"}
    return words.get(rank(judgement)[0], "breaks a rule")


def exit_status(told: Misconnections) -> Literal[0, 1, 3]:
    """1 if one breaks something, 3 if something is not known, else 0."""
    outcomes = {one.judgement.outcome for one in told.told}
    if "broken" in outcomes:
        return 1
    return 3 if "undecided" in outcomes or told.interrupted else 0


def counted(told: Iterable[WrongConnectionTold]) -> dict[str, int]:
    """How many wrong connections do what, worst first."""
    counts: dict[str, int] = {}
    for one in told:
        word = harm(one.judgement)
        counts[word] = counts.get(word, 0) + len(one.members)
    return counts
