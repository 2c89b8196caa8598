"""The report on faults for people: plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.report.fault_numbers import caution_lines, number_lines
from verifier.report.faults import CutGroup, DesignFaults, FaultsResult, Order, PropertyFaults
from verifier.report.sleeping import sleeper_lines
from verifier.report.story import story_lines
from verifier.report.text import wrapped

NOTHING = "nothing fails"
ONCE = (
    "The circuit with its faults was translated into formulas once; --both-translations compares "
    "with a second translation, which takes long."
)


def faults_text(design: DesignFaults, *, expand: bool = False) -> str:
    """One design. expand: every member of a group is listed. Ends in a newline."""
    return "\n".join(line.rstrip() for line in _lines(design, expand)) + "\n"


def faults_closing(result: FaultsResult) -> str:
    """The cautions. Empty when nothing was asked."""
    if not result.designs:
        return ""
    lines = [""]
    for caution in result.cautions:
        lines += wrapped(caution, "")
    return "\n".join(lines) + "\n"


def _lines(design: DesignFaults, expand: bool) -> Iterator[str]:
    title = f"{design.design}: {design.title}" if design.title else design.design
    revision = f", revision {design.revision}" if design.revision else ""
    yield from wrapped(title + revision, "", "  ")
    yield f"  {design.file}"
    yield f"  {_count(len(design.considered), 'fault')} considered, sets of up to {design.order}"
    for item in design.properties:
        yield ""
        yield from _property(item, expand)
    if design.sleepers is not None:
        yield ""
        yield from sleeper_lines(design.sleepers, design.sleeping_sets, wrapped)
    yield ""
    if design.translations is None:
        yield from wrapped(ONCE, "")
    else:
        count = len(design.translations.open)
        yield from wrapped(
            "Both translations of the circuit with its faults into formulas agree."
            if not count
            else f"It is open whether both translations agree on {_count(count, 'thing')}.",
            "",
        )
    for left_out in design.excluded:
        source = f" ({left_out.source})" if left_out.source else ""
        names = ", ".join(left_out.faults)
        yield from wrapped(f"excluded: {names}, because {left_out.reason}{source}", "", "  ")
    for one in design.modelling:
        yield from wrapped(f"assumed: {one.name}: {one.says}", "", "  ")
    numbers = (item.numbers for item in design.properties if item.numbers is not None)
    yield from caution_lines(numbers, wrapped)
    if design.interrupted:
        yield from wrapped("Interrupted. What is told was proved or replayed before.", "")


def _property(item: PropertyFaults, expand: bool) -> Iterator[str]:
    yield from wrapped(f'{item.form} "{item.name}"', "  ", "  ")
    if item.why_not:
        yield from wrapped(item.why_not, " " * 6)
        return
    if item.statement:
        yield from wrapped(item.statement, " " * 6)
    for order in item.orders:
        yield from wrapped(order_words(order), " " * 6, "  ")
        for group in item.groups:
            if len(group.pattern) == order.order and order.order:
                yield from _group(item, group, expand)
    if not item.orders:
        yield from wrapped("Nothing is known yet.", " " * 6)
    if item.numbers is not None:
        yield from number_lines(item.numbers, wrapped)
    for used in item.assumptions:
        yield from wrapped(f'assumed: "{used.name}", because {used.reason}', " " * 6, "  ")


def order_words(order: Order) -> str:
    """What is known of the sets of one size."""
    what = _size(order.order)
    if not order.complete:
        found = f"{order.found} found; " if order.found else ""
        return f"{what}: {found}whether these are all is not known: {order.reason}."
    if order.order == 0:
        return "with nothing failing: broken." if order.found else "with nothing failing: it holds."
    if not order.found:
        return f"{what}: none, which is proved."
    return f"{what}: {order.found}, and it is proved that there are no others:"


def _size(order: int) -> str:
    return {0: "nothing failing", 1: "single faults", 2: "pairs"}.get(order, f"sets of {order}")


def group_words(item: PropertyFaults, group: CutGroup) -> str:
    """The sets of a group in one sentence, without their stories."""
    words = " + ".join(group.pattern)
    if not group.letters or len(group.members) == 1:
        return " + ".join(item.cut_sets[group.members[0]].faults)
    which = ", ".join(group.letters)
    count = len(group.members)
    if group.every:
        return f"any {which}: {words} ({count})"
    listed = "; ".join(", ".join(map(str, values)) for values in group.values)
    return f"{which} = {listed}: {words} ({count})"


def _group(item: PropertyFaults, group: CutGroup, expand: bool) -> Iterator[str]:
    yield from wrapped(group_words(item, group), " " * 8, "  ")
    for member in group.members:
        one = item.cut_sets[member]
        if expand and len(group.members) > 1:
            yield from wrapped(" + ".join(one.faults), " " * 10, "  ")
        if one.story is not None:
            told_of = " + ".join(one.faults) or NOTHING
            yield from wrapped(f"The story of {told_of}:", " " * 8)
            yield from story_lines(one.story, wrapped, procedure=False)


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
