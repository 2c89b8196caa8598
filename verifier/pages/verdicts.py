"""The properties of a design for its page: what is asked, what came of it, and what shows it."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from verifier.model.run import Run
from verifier.pages.tale import Tale, Teller
from verifier.report.core import core_lines
from verifier.report.race import DECIDES, parting_words
from verifier.report.result import Core, InstanceResult, PropertyResult, Race, Verdict
from verifier.report.text import also_told, members_told, scope_of
from verifier.report.tolerance import fault_lines
from verifier.studies.keeping import Kept, Told

# Beside the word, so that nobody has to tell colours apart.
SIGNS: dict[Verdict, str] = {
    "holds": "✓",
    "violated": "✗",
    "vacuous": "∅",
    "inconclusive": "?",
    "delay dependent": "⇄",
}


class Track(Struct, frozen=True):
    """One of two ways that a race goes. only: what is so in its end and not in the other's."""

    words: str
    tale: Tale
    only: tuple[tuple[str, str], ...]


class Parted(Struct, frozen=True):
    """A race: the tale of the first way stands for what both share."""

    deciding: str
    heading: str
    parting: str
    shared: Tale
    tracks: tuple[Track, Track]
    outcome: str
    accepted: str


class Member(Struct, frozen=True):
    """A case that is told. tales: of a violation, or of how that happens of which it speaks."""

    label: str
    verdict: Verdict
    reason: str
    tales: tuple[Tale, ...]
    race: Parted | None


class Section(Struct, frozen=True):
    """One property. number: from 1.   evidence: what its verdict stands on.   notes: tolerated
    faults, core, accepted races in words.   also: cases that are only named."""

    number: int
    item: PropertyResult
    name: str
    scope: str
    sign: str
    evidence: str
    notes: tuple[str, ...]
    members: tuple[Member, ...]
    also: tuple[str, ...]
    core: Core | None


class Sections:
    """Makes the sections of one page."""

    def __init__(self, kept: Kept, teller: Teller) -> None:
        self._kept = kept
        self._teller = teller

    def of(self, number: int, item: PropertyResult) -> Section:
        told, others = members_told(item)
        shown = [self._member(item, one) for one in told]
        for one in item.instances:
            if one.witnesses and one not in told:
                shown.append(self._member(item, one))
        return Section(
            number=number,
            item=item,
            name=item.name,
            scope="asked of every design" if item.free else f"{item.form}{scope_of(item)}",
            sign=SIGNS[item.verdict],
            evidence=_evidence(item),
            notes=tuple(_notes(item)),
            members=tuple(shown),
            also=tuple(also_told(item, others)),
            core=item.core,
        )

    def _member(self, item: PropertyResult, one: InstanceResult) -> Member:
        procedure = item.form == "possible"
        name = f'"{item.name}"' if not item.free else item.name
        title = f"{name}, {one.label}" if one.label else name
        tales = [
            self._teller.of_story(story, title, procedure=procedure, bad=not procedure)
            for story in (one.story,)
            if story is not None
        ]
        tales += [
            self._teller.of_story(story, f"{title}: it happens{f' ({k})' if k > 1 else ''}")
            for k, story in enumerate(one.witnesses, 1)
        ]
        race = None if one.race is None else self._race(one, one.race, title)
        return Member(one.label, one.verdict, one.reason, tuple(tales), race)

    def _race(self, one: InstanceResult, race: Race, title: str) -> Parted:
        circuit, parting = self._kept.races[race]
        shared = Run(parting.first.start, parting.first.steps[: parting.shared])

        def tale(run: Run, words: str, number: int) -> Tale:
            way = (race.first, race.second)[number]
            return self._teller.of_events(
                Told(circuit, run),
                way.events,
                f"{title}: {words}",
                heading="",
                end=way.end,
                outcome="",
                marks={},
                bad=False,
                after=race.shared_steps,
            )

        common = self._teller.of_events(
            Told(circuit, shared),
            race.shared,
            f"{title}: up to where the ways part",
            heading="",
            end=race.first.end,
            outcome="",
            marks={},
            bad=False,
        )
        runs = (parting.first, parting.second)
        words = [f"{way.words[:1].upper()}{way.words[1:]}" for way in (race.first, race.second)]
        tracks = [tale(run, said, k) for k, (run, said) in enumerate(zip(runs, words, strict=True))]
        first, second = (
            Track(words[k], tracks[k], _only(tracks[k], tracks[1 - k])) for k in (0, 1)
        )
        begins = "The shortest way to a parting" if race.shortest else "A way to a parting"
        return Parted(
            deciding=f"{DECIDES[race.decided_by]}: {race.first.words}, or {race.second.words}.",
            heading=f"{begins}, from the start:",
            parting=parting_words(race),
            shared=common,
            tracks=(first, second),
            outcome=race.outcome,
            accepted=one.accepted,
        )


def _only(one: Tale, other: Tale) -> tuple[tuple[str, str], ...]:
    known = dict(other.said[-1])
    found = []
    for words, names in one.said[-1]:
        theirs = known.get(words, "").split(", ")
        mine = [name for name in names.split(", ") if name not in theirs]
        if mine and words not in ("Still to move",):
            found.append((words, ", ".join(mine)))
    return tuple(found)


def _evidence(item: PropertyResult) -> str:
    """What the verdict stands on, in one line."""
    stories = [one.story for one in item.instances if one.story is not None]
    if item.proof is not None and item.verdict in ("holds", "vacuous", "delay dependent"):
        clauses = item.proof.clauses
        lemmas = f"{clauses} {'lemma' if clauses == 1 else 'lemmas'}"
        return f"proof of {lemmas}; a fresh solver discharged {item.proof.obligations} obligations"
    if stories:
        steps = min(story.steps for story in stories)
        told = f"{steps} {'step' if steps == 1 else 'steps'}"
        shortest = "shortest story" if any(story.shortest for story in stories) else "story"
        return f"{shortest}, {told}, replayed by the simulator"
    if any(one.race for one in item.instances):
        return "two stories from the same event, replayed by the simulator"
    depths = [one.depth for one in item.instances if one.depth is not None]
    if item.verdict == "inconclusive" and depths:
        return f"no violation within {min(depths)} steps"
    return ""


def _notes(item: PropertyResult) -> Iterator[str]:
    def flat(text: str, indent: str, hanging: str = "") -> list[str]:
        return [text]

    yield from fault_lines(item, flat)
    for used in item.assumptions:
        yield f'Assumed: "{used.name}", because {used.reason}'
    yield from core_lines(item, flat)
    if item.no_witness:
        yield f"No witness: {item.no_witness}."
    for words in item.unmet:
        lacking = "there is" if item.verdict == "holds" else "there was found"
        yield f"Warning: it accepts a {words}, and {lacking} no such race."
    if item.others == "none":
        yield "Proved: there is no race but those that are accepted."
    elif item.others == "open":
        yield "It is open whether there are other races than those that are accepted."
