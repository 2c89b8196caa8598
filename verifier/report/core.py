"""What proofs rest on, told in few words (Q13)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from verifier.report.families import families
from verifier.report.result import Core, DesignResult, PropertyResult
from verifier.report.story import Wrap

MARGIN = " " * 6


def core_lines(item: PropertyResult, wrap: Wrap) -> Iterator[str]:
    """Nothing when it was not asked for."""
    if item.core is not None:
        yield from wrap(_rests_on(item.core), MARGIN, "  ")
        yield from _list(item.core, wrap)
        if not item.core.least:
            yield from wrap(_unsure(item.core), MARGIN, "  ")
    elif item.no_core:
        yield from wrap(f"{item.no_core}.", MARGIN, "  ")


def unneeded_lines(design: DesignResult, wrap: Wrap) -> Iterator[str]:
    """On what no proof of the design rests. Nothing when it was not asked for."""
    idle = design.unneeded
    if idle is None:
        return
    told = _things(idle.parts, idle.tubes)
    if told:
        yield from wrap(f"None of these proofs rests on {told}.", "", "  ")
    else:
        yield from wrap("On each part and tube some proof rests.", "", "  ")
    tight = _things(idle.tight_parts, idle.tight_tubes)
    if tight:
        yield from wrap(f"They only ask to be tight: {tight}.", "", "  ")
    yield ""


def _rests_on(core: Core) -> str:
    count = len(core.parts) + len(core.tubes)
    tight = len(core.tight_parts) + len(core.tight_tubes)
    also = f", on {tight} more being tight" if tight else ""
    names = [f'"{name}"' for name in core.assumptions]
    assumed = f"on {_and(names)}" if names else "on no assumption of the design"
    return f"rests on {count} of {core.among} parts and tubes{also}, and {assumed}"


def _list(core: Core, wrap: Wrap) -> Iterator[str]:
    for words, names in (
        ("parts", core.parts),
        ("tubes", core.tubes),
        ("parts that need only be tight", core.tight_parts),
        ("tubes that need only be tight", core.tight_tubes),
    ):
        if names:
            yield from wrap(f"{words}: {', '.join(families(names))}", MARGIN + "  ", "  ")


def _unsure(core: Core) -> str:
    return (
        f"least as far as runs of up to {core.steps} steps tell: not known to be needed are "
        f"{', '.join(families(core.unsure))}"
    )


def _things(parts: Sequence[str], tubes: Sequence[str]) -> str:
    told = [", ".join(families(parts))] if parts else []
    if tubes:
        told.append(f"tubes {', '.join(families(tubes))}")
    return "; ".join(told)


def _and(names: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(names[:-1]), *names[-1:]) if part)
