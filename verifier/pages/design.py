"""The page of one design: title block, verdicts, what they rest on, stories, and the circuit."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import version

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.normal import normal_digest
from verifier.pages.ledger import ledger
from verifier.pages.render import data, page
from verifier.pages.tale import Moment, Tale, Teller, moments
from verifier.pages.verdicts import SIGNS, Section, Sections
from verifier.report.faults import DesignFaults
from verifier.report.result import SEVERITY, DesignResult
from verifier.shipped import LANGUAGE
from verifier.studies.keeping import Kept

MAKERS = ("shutproof", "z3-solver", "python-sat")


class Playing(Struct, frozen=True):
    """What the script of a page knows: names in the order of the letters of its moments."""

    lines: tuple[str, ...]
    elements: tuple[str, ...]
    positions: tuple[tuple[str, ...], ...]
    tales: dict[str, list[Moment]]


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
) -> bytes:
    """The page in UTF-8. kept: what was told while the result was made.   date: as it is to stand
    in the title block, "" for none: the page itself never looks at a clock."""
    circuit = loaded.circuit
    teller = Teller(kept.stories.get)
    making = Sections(kept, teller)
    sections = [making.of(number, item) for number, item in enumerate(result.properties, 1)]
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
        playing=data(playing(circuit, teller.tales)),
    )


def versions() -> list[tuple[str, str]]:
    """Of what made the page, and of the language."""
    return [*((name, version(name)) for name in MAKERS), ("language", str(LANGUAGE))]


def playing(circuit: Circuit, tales: Sequence[Tale]) -> Playing:
    """Everything that the player shows."""
    return Playing(
        lines=tuple(line.name for line in circuit.lines),
        elements=tuple(element.name for element in circuit.elements),
        positions=tuple(element.positions for element in circuit.elements),
        tales={tale.id: moments(circuit, tale) for tale in tales},
    )


def _counts(sections: Sequence[Section]) -> list[Count]:
    found = []
    for verdict in SEVERITY:
        count = sum(section.item.verdict == verdict for section in sections)
        if count:
            found.append(Count(SIGNS[verdict], verdict, count))
    return found
