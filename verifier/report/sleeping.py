"""What becomes of faults before they are needed, as data: who could see them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec import Struct

Wrapped = Callable[[str, str, str], list[str]]


class SeenFault(Struct, frozen=True):
    """A fault that shows. by: what can show something else than it would if nothing had failed,
    in a replayed run of so many steps."""

    name: str
    by: tuple[str, ...]
    steps: int


class Sleepers(Struct, frozen=True):
    """watched: all that is looked at.   unsteady: of it, what is no sign, since it need not always
    show the same, though nothing has failed.   seen: faults that show.   asleep: those that are
    proved to show nothing, whatever hands do and surroundings are.   open: why it is not known of
    the others.   obligations: discharged by a fresh solver for the proofs.
    """

    watched: tuple[str, ...]
    unsteady: tuple[str, ...]
    seen: tuple[SeenFault, ...]
    asleep: tuple[str, ...]
    open: str = ""
    obligations: int = 0


class SleepingSet(Struct, frozen=True):
    """A cut set of a property, some of whose faults sleep, so that the others find it half done."""

    property: str
    asleep: tuple[str, ...]
    others: tuple[str, ...]


def sleeper_lines(
    sleepers: Sleepers, sets: tuple[SleepingSet, ...], wrapped: Wrapped
) -> Iterator[str]:
    """For people, below the properties."""
    total = len(sleepers.seen) + len(sleepers.asleep)
    yield from wrapped(f"looked at: {', '.join(sleepers.watched) or 'nothing'}", "  ", "  ")
    if sleepers.unsteady:
        what = ", ".join(sleepers.unsteady)
        yield from wrapped(f"no sign, as it need not always show the same: {what}", "  ", "  ")
    if sleepers.open:
        yield from wrapped(f"not all is known: {sleepers.open}", "  ", "  ")
    for one in sleepers.seen:
        yield from wrapped(f"{one.name}: shows by {', '.join(one.by)}", "    ", "  ")
    if sleepers.asleep:
        count = len(sleepers.asleep)
        yield from wrapped(
            f"sleeping, {count} of {total}, which is proved: nothing that is looked at ever shows"
            " them, as long as nothing else fails:",
            "  ",
            "  ",
        )
        for name in sleepers.asleep:
            yield from wrapped(name, "    ", "  ")
    for told in sets:
        asleep, others = " + ".join(told.asleep), " + ".join(told.others)
        rest = f", then {others}" if others else ""
        yield from wrapped(f'"{told.property}" falls to {asleep} (asleep){rest}', "  ", "  ")
