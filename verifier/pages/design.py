"""The page of one design: title block, verdicts, what they rest on, stories, and the circuit."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import version

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.normal import normal_digest
from verifier.pages.cutsets import CutSets
from verifier.pages.drawn import Drawn
from verifier.pages.ledger import ledger
from verifier.pages.playing import Drawing, Shade, playing
from verifier.pages.render import data, page
from verifier.pages.runs import CarriedOut, told_runs
from verifier.pages.tale import Teller
from verifier.pages.verdicts import SIGNS, Section, Sections
from verifier.report.core import unneeded_lines
from verifier.report.families import families
from verifier.report.faults import DesignFaults
from verifier.report.hookup import hookup_of
from verifier.report.result import SEVERITY, DesignResult
from verifier.shipped import LANGUAGE
from verifier.studies.keeping import Kept

MAKERS = ("shutproof", "z3-solver", "python-sat")


class Count(Struct, frozen=True):
    sign: str
    verdict: str
    count: int


def design_page(
    loaded: Loaded,
    result: DesignResult,
    kept: Kept,
    cautions: Sequence[str],
    *,
    date: str = "",
    faults: DesignFaults | None = None,
    runs: Sequence[CarriedOut] = (),
) -> bytes:
    """The page in UTF-8. kept: what was told while the results were made.   date: as it is to stand
    in the title block, "" for none: the page itself never looks at a clock.   faults: which sets of
    faults break it, where that was asked.   runs: to be shown as well."""
    circuit = loaded.circuit
    drawn = Drawn(circuit, "main")
    teller = Teller(kept.stories.get)
    making = Sections(kept, teller)
    sections = [making.of(number, item) for number, item in enumerate(result.properties, 1)]
    sets = None if faults is None else CutSets(circuit, faults, kept)
    broken = [] if sets is None else list(sets.broken())
    chosen = () if sets is None else sets.teller.tales
    shades = _shades(circuit, sections)
    told = told_runs(circuit, runs)
    drawings = [Drawing("main", circuit, [*teller.tales, *chosen]), *(one.drawing for one in told)]
    return page(
        "design.html",
        title=f"{circuit.name}: {result.verdict}",
        circuit=circuit,
        design=result,
        sign=SIGNS[result.verdict],
        counts=_counts(sections),
        digest=normal_digest(circuit),
        date=date,
        versions=versions(),
        sections=sections,
        ledger=ledger(circuit, result, faults),
        cautions=cautions,
        drawn=drawn,
        shades=shades,
        unneeded=[] if result.unneeded is None else list(unneeded_lines(result, _flat)),
        hookup=hookup_of(circuit),
        families=families,
        faults=faults,
        broken=broken,
        excluded=() if faults is None else faults.excluded,
        runs=told,
        playing=data(playing(drawings, shades, chosen)),
    )


def versions() -> list[tuple[str, str]]:
    """Of what made the page, and of the language."""
    return [*((name, version(name)) for name in MAKERS), ("language", str(LANGUAGE))]


def _shades(circuit: Circuit, sections: Sequence[Section]) -> list[Shade]:
    """Of each proof whose core was asked for, as the drawing shows it."""
    lines = {tube.name: circuit.lines[tube.line].name for tube in circuit.tubes}
    found = []
    for section in sections:
        core = section.core
        if core is not None:
            on = dict.fromkeys(lines[tube] for tube in core.tubes)
            tight = dict.fromkeys(lines[tube] for tube in core.tight_tubes)
            only = tuple(line for line in tight if line not in on)
            name = f"{section.number} {section.name}"
            found.append(Shade(name, core.parts, tuple(on), core.tight_parts, only))
    return found


def _flat(text: str, indent: str, hanging: str = "") -> list[str]:
    """For the lines of a text report, which a page breaks by itself."""
    return [text]


def _counts(sections: Sequence[Section]) -> list[Count]:
    found = []
    for verdict in SEVERITY:
        count = sum(section.item.verdict == verdict for section in sections)
        if count:
            found.append(Count(SIGNS[verdict], verdict, count))
    return found
