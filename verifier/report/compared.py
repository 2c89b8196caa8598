"""A comparison for people: plain text of 80 columns, or Markdown for a review thread."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from msgspec import structs

from verifier.report.comparison import (
    ApartTold,
    BehaviourTold,
    Comparison,
    CoreTold,
    CutSetsTold,
    Outcome,
    RacesTold,
    StatementTold,
    Trend,
    VerdictTold,
    Version,
)
from verifier.report.families import families
from verifier.report.result import Event
from verifier.report.story import ending_lines, event_lines, story_lines
from verifier.report.text import MOST_NAMED, wrapped

OUTCOMES: dict[Outcome, str] = {
    "plumbing only": "Plumbing only: every promise and every verdict is as it was, and so is all "
    "that can be seen at rest.",
    "no loss": "No loss: no promise and no verdict is worse than it was.",
    "worse": "Something is worse than it was: see what is marked with an exclamation mark.",
    "undecided": "Undecided: see what is marked with a question mark.",
}
_MARKS: dict[Trend, str] = {"worse": "!", "gone": "!", "undecided": "?"}
_WEIGHTS = {
    "reworded": "says the same in other words",
    "weaker": "promises less than it did",
    "stronger": "promises more than it did",
    "other": "may promise less than it did",
    "added": "is new",
    "dropped": "is no longer promised",
}
_TAKEN = {
    "reworded": "says the same in other words",
    "weaker": "takes less for granted than it did",
    "stronger": "takes more for granted than it did",
    "other": "may take more for granted than it did",
    "added": "is taken for granted now",
    "dropped": "is no longer taken for granted",
}

Part = tuple[str, list[str]]
"""A heading, and entries: the mark and a space, then the words."""


def comparison_text(told: Comparison) -> str:
    """Plain text, ends in a newline."""
    lines = [
        *wrapped(f"Old: {_version(told.old)}", "", "  "),
        *wrapped(f"New: {_version(told.new)}", "", "  "),
    ]
    for heading, entries in parts_of(told):
        lines += ["", *wrapped(heading, "")]
        for entry in entries:
            lines += wrapped(entry, "  ", "    ")
        if heading.startswith("What behaves differently") and told.behaviour is not None:
            lines += _sequence(told.behaviour.apart)
    lines.append("")
    for item in told.verdicts:
        if item.story is not None:
            lines += wrapped(f'How "{item.name}" is broken now:', "")
            lines += [*story_lines(item.story, wrapped, procedure=False), ""]
    if told.outcome is not None:
        lines += [*wrapped(OUTCOMES[told.outcome], ""), ""]
    for caution in told.cautions:
        lines += wrapped(caution, "")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def comparison_markdown(told: Comparison) -> str:
    """Markdown for a review thread: what is worse is in bold. Ends in a newline."""
    lines = [f"**{told.outcome}**: {_version(told.old)} → {_version(told.new)}"]
    for heading, entries in parts_of(told):
        lines += ["", f"### {heading.rstrip(':')}", ""]
        lines += [_item(entry) for entry in entries]
        if heading.startswith("What behaves differently") and told.behaviour is not None:
            lines += _fenced(_sequence(told.behaviour.apart))
    for item in told.verdicts:
        if item.story is not None:
            lines += ["", f"How “{_plain(item.name)}” is broken now:"]
            lines += _fenced(list(story_lines(item.story, wrapped, procedure=False)))
    lines.append("")
    lines += told.cautions
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _item(entry: str) -> str:
    mark, words = entry[:1], _plain(entry[2:])
    return f"- **{mark} {words}**" if mark.strip() else f"- {words}"


def _plain(words: str) -> str:
    """Names cannot become markup: only the backquotes around them are meant."""
    return "".join(f"\\{one}" if one in "\\*_[]<>#|~" else one for one in words)


def _fenced(lines: list[str]) -> list[str]:
    fence = "````"
    return ["", fence, *(line.rstrip() for line in lines), fence] if lines else []


def _version(version: Version | None) -> str:
    if version is None:
        return "refused"
    revision = f", revision {version.revision}" if version.revision else ""
    title = f": {version.title}" if version.title else ""
    return f"{version.design}{title}{revision} ({version.file})"


# ---- the parts of the report
def parts_of(told: Comparison) -> Iterator[Part]:
    """What a reviewer is told, under headings; without the sequences."""
    words = families(one.words for one in told.differences)
    yield "What changed:", [f"  {one}" for one in words] or ["  nothing that can be told"]
    yield "What is promised, and what is taken for granted:", list(_statements(told.statements))
    yield "What it does to safety:", list(_verdicts(told.verdicts))
    if told.races is not None and (told.races.gained or told.races.lost or told.races.unaccepted):
        yield "Where it comes to depend on what moves first:", list(_races(told.races))
    if told.cores:
        yield "What the proofs of before rested on:", list(_cores(told.cores))
    if told.cut_sets:
        yield "Which faults are enough to break it:", list(_cut_sets(told.cut_sets))
    if told.behaviour is not None:
        yield "What behaves differently at rest:", list(_behaviour(told.behaviour))
    if told.retest is not None:
        yield "What to try again on the trailer:", list(_retest(told))


def _statements(statements: Sequence[StatementTold]) -> Iterator[str]:
    changed = 0
    for one in statements:
        renamed = bool(one.before) and one.before != one.name
        if one.weight == "same" and not renamed:
            continue
        changed += 1
        said = (_WEIGHTS if one.what == "property" else _TAKEN).get(one.weight, "")
        was = f' (it was called "{one.before}")' if renamed else ""
        why = f": {one.why}" if one.why else ""
        mark = "!" if one.loss else " "
        yield f'{mark} {one.what} "{one.name}"{was} {said}{why}'.rstrip()
    count = sum(one.weight == "same" for one in statements)
    if not changed:
        yield f"  all {count} properties and assumptions stay as they were"


def _verdicts(verdicts: Sequence[VerdictTold]) -> Iterator[str]:
    for one in verdicts:
        mark = _MARKS.get(one.trend, " ")
        reason = f": {one.reason}" if one.reason and one.trend in ("worse", "undecided") else ""
        if one.trend == "new":
            yield f'{mark} "{one.name}" {_is(one.after)}, and is new'
        elif one.trend == "gone":
            yield f'{mark} "{one.name}" {_was(one.before)}, and is not asked any more'
        elif one.trend != "same":
            yield f'{mark} "{one.name}" {_is(one.after)}, and {_was(one.before)}{reason}'
    same = [one for one in verdicts if one.trend == "same"]
    for verdict in dict.fromkeys(one.after for one in same):
        names = [one.name for one in same if one.after == verdict]
        if len(names) == 1:
            yield f'  "{names[0]}" {_is(verdict)} as before'
        else:
            yield f"  {len(names)} properties are {_plural(verdict)} as before"


def _races(races: RacesTold) -> Iterator[str]:
    """Names are those of elements."""
    mark = "!" if races.known_before else "?"
    accepted = [name for name in races.gained if name not in races.unaccepted]
    unsure = "" if races.known_before else " (of the old design that is not known)"
    if races.unaccepted:
        yield f"{mark} where these stop, and did not before{unsure}: {_some(races.unaccepted)}"
    if accepted:
        yield f"  where these stop, which the design accepts: {_some(accepted)}"
    if races.lost:
        sure = "no longer" if races.known_after else "as far as was found, no longer"
        yield f"  {sure} where these stop: {_some(races.lost)}"


def _cores(cores: Sequence[CoreTold]) -> Iterator[str]:
    """Those that rest on what changed one by one, the others by their number."""
    apart = 0
    for one in cores:
        told = [f"changed: {_some(one.touched)}"] if one.touched else []
        told += [f"rests now on {_some(one.gained)} as well"] if one.gained else []
        told += [f"rests no longer on {_some(one.lost)}"] if one.lost else []
        if one.touched:
            count = f"{len(one.touched)} of the {one.before} things that it rested on"
            yield f'  "{one.name}": {count} {"; ".join(told)}'
        elif told:
            yield f'  "{one.name}": rested on nothing that changed; {"; ".join(told)}'
        else:
            apart += 1
    if apart:
        yield f"  {apart} {'proof rests' if apart == 1 else 'proofs rest'} on nothing that changed"


def _cut_sets(cut_sets: Sequence[CutSetsTold]) -> Iterator[str]:
    unchanged = 0
    for one in cut_sets:
        worse = one.complete and one.tolerated < one.tolerated_before
        mark = "!" if worse else " " if one.complete else "?"
        if one.complete and not (one.gained or one.lost):
            unchanged += 1
            continue
        told = [] if one.complete else ["not all sets are known"]
        if worse:
            told.append(
                f"tolerated {_faults(one.tolerated_before)}, and {_faults(one.tolerated)} now"
            )
        told += [f"enough now: {_sets(one.gained)}"] if one.gained else []
        told += [f"no longer enough: {_sets(one.lost)}"] if one.lost else []
        yield f'{mark} "{one.name}": {"; ".join(told)}'
    if unchanged:
        yield f"  of {unchanged} properties the same sets are enough as before"


def _faults(count: int) -> str:
    if count < 0:
        return "not even that nothing fails"
    return "no fault" if count == 0 else "any single fault" if count == 1 else f"any {count} faults"


def _sets(sets: Sequence[tuple[str, ...]]) -> str:
    names = families(" + ".join(one) for one in sets)
    more = f", and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(names[:MOST_NAMED]) + more


def _is(verdict: object) -> str:
    return "holds" if verdict == "holds" else f"is {verdict}"


def _was(verdict: object) -> str:
    return "held" if verdict == "holds" else f"was {verdict}" if verdict else "was not asked"


def _plural(verdict: object) -> str:
    return "proved" if verdict == "holds" else str(verdict)


def _behaviour(told: BehaviourTold) -> Iterator[str]:
    count = len(told.sights)
    if told.answer == "same":
        yield f"  nothing: of {count} things that can be seen of both, none ever differs at rest"
    elif told.answer == "open":
        yield f"? open: {told.reason}"
    differing = [one.name for one in told.sights if one.answer == "differs"]
    if differing:
        names = families(differing)
        more = f", and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
        yield f"  can differ: {'; '.join(names[:MOST_NAMED])}{more}"
        yield f"  {count - len(differing)} of {count} things that can be seen of both never differ"
    if told.apart is not None:
        yield from _only(told.apart)
    for left in told.left:
        yield f"  for this, {left}, as only one of both designs has it"
    if told.unseen:
        yield f"  not compared, as their positions have other names: {', '.join(told.unseen)}"


def _only(apart: ApartTold) -> Iterator[str]:
    for only, one, other in ((apart.only_new, "new", "old"), (apart.only_old, "old", "new")):
        if only:
            shows = f"what the {one} design shows below"
            yield f"  {shows}, the {other} one never does after these events"
        elif only is False:
            rests = f"come to rest as the {one} one does below"
            yield f"  the {other} design can also {rests}, if things move in another order"


def _sequence(apart: ApartTold | None) -> list[str]:
    """Told side by side: what both do, then what only one does."""
    if apart is None:
        return []
    old, new = apart.old, apart.new
    both = {_told(event) for event in new.events}
    shared = tuple(event for event in old.events if _told(event) in both)
    mine = {_told(event) for event in shared}
    lines = ["", *wrapped("In both, from the start:", "    ")]
    lines += event_lines(shared, wrapped, "    ")
    for which, story in (("old", old), ("new", new)):
        own = tuple(event for event in story.events if _told(event) not in mine)
        lines += wrapped(f"In the {which} design only:", "    ")
        lines += event_lines(own, wrapped, "    ") if own else ["      nothing more happens"]
        lines += ending_lines(story.end, wrapped, "    ")
    lines += wrapped(f"So at rest they differ in {'; '.join(families(apart.shown))}.", "    ")
    return lines


def _told(event: Event) -> Event:
    """What it says, wherever that stands."""
    return structs.replace(event, span=None)


def _retest(told: Comparison) -> Iterator[str]:
    reach = told.retest
    if reach is None or not (reach.parts or reach.tubes or reach.properties):
        yield "  nothing: no change can reach a part, a tube or a property"
        return
    for names, count, what in (
        (reach.parts, reach.all_parts, "parts"),
        (reach.tubes, reach.all_tubes, "tubes"),
    ):
        if len(names) == count:
            yield f"  all {count} {what}"
        elif names:
            yield f"  {len(names)} of {count} {what}: {_some(names)}"
    if reach.properties:
        yield f"  {len(reach.properties)} properties: {_quoted(reach.properties)}"


def _some(names: Iterable[str]) -> str:
    return ", ".join(families(names))


def _quoted(names: Sequence[str]) -> str:
    told = "; ".join(f'"{name}"' for name in names[:MOST_NAMED])
    return f"{told}; and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else told
