"""The designs that the project answers for, and the files beside them that a command writes.

`python tests/designs/library.py` writes specs/README.md and the story beside every violated
variant anew; `test_designs.py` demands that they are current. A file opens with its defect:

    # The selector bank is fed from the master instead of from the returning air.
    # violates: "discharge with a vent shut"
"""

from __future__ import annotations

import re
import sys
from contextlib import chdir
from functools import cache
from pathlib import Path

from verifier.diagnostics.limits import Limits
from verifier.model.load import load
from verifier.report.result import DesignResult
from verifier.report.text import design_text
from verifier.studies.prove import prove
from verifier.syntax.parse import parse
from verifier.syntax.tree import (
    Design,
    OrderStatement,
    PropertyStatement,
    RecoversStatement,
    Source,
)

ROOT = Path(__file__).resolve().parents[2]
SPECS = ROOT / "specs"
HERE = Path(__file__).resolve().parent

_TOLD = re.compile(r'^# (violates|voids|leaves open|leaves to delays): "(.+)"$', re.MULTILINE)

# What the short numbers in the READMEs stand for. The clauses were read in public copies unless
# the line says that they come from memory.
_RULES = (
    ("P1", "A stop shuts every valve, whatever came before, and nothing in the stop line opens one",
     "49 CFR 178.345-11(b); MIL-T-62032H 3.5.15"),
    ("P2", "Loss of air ends with everything shut", "49 CFR 178.345-11(b)(1)(ii)"),
    ("P3", "No flow with a vent shut; strictly, the vent opens first and shuts last",
     "49 CFR 178.346-3; MIL-T-62032H 3.5.13; 40 CFR 60.502 (from memory)"),
    ("P4", "No two compartments joined", "49 CFR 180.407(h)(1)"),
    ("P5", "More than one closure in series, independent of each other",
     "49 CFR 178.345-11(c)"),
    ("P6", "Relief is never cut off", "49 CFR 178.345-10(b)(5)"),
    ("P7", "A full compartment takes no more", "EN 13922"),
    ("P8", "Coupled, or the cabinet open: the brake holds; brake off: everything shut",
     "AS 2809.1 2.4.2; MIL-T-62032H 3.5.14"),
    ("P9", "Fire does what a stop does", "49 CFR 178.345-11(b)(1)(iii)"),
    ("P10", "Indicators tell the truth", "ADR 6.8.2.2.2 (from memory)"),
    ("P11", "Air that comes back opens nothing without a hand",
     "ISO 4414, ISO 12100 (from memory)"),
    ("P12", "No product left in the pipework on the road", "NTSB H-98-27"),
    ("P13", "The trailer can do its work, so that the rest is not proved of a dead one",
     "good practice"),
)  # fmt: skip

_INDEX_TOP = """\
# The fleet

Designs of trailers for an island's heating oil and kerosene. Trailers, island and fleet are
invented; the interlocks are of the usual kinds. Every property of every design below is proved for
all time; `shutproof prove specs/*/*.ilk` does it again. Where the order of movements decides what a
trailer ends in, on fulmar, gannet, petrel and tern, the README says how, and why it may. Variants
with believable defects, and the shortest way to break each, are in `tests/designs/violated/`.

This page is written by `python tests/designs/library.py`.

| Design | What it is | Properties |
|---|---|---|
"""

_INDEX_RULES = """
## What the properties serve

The READMEs name these rules by their numbers. The texts themselves are binding, not this summary.

| | Rule | From |
|---|---|---|
"""

_INDEX_END = """
## What is left out

- *Times.* The model has none. Where a rule gives a limit (30 s for P1, margin over flow for P7),
  the properties say that valves end shut, not how soon. Properties *at rest* speak of the moment
  when nothing is left that must move; only those *at every moment* speak of valves on their way.
- *Faults.* Everything here is proved of healthy parts and lines. P2 is stated for the loss of the
  supply; a single line torn off, and two closures that fail together (P5), are matters for a study
  of faults.
- *What no air works.* Relief valves (P6) are not drawn, since nothing of the interlock is in series
  with them; that the pipework is drained on the road (P12) is a duty of people.
- Each README tells which of the other rules a trailer serves.

## Cautions

A proof holds for the circuit as drawn, for the rules by which parts and air are modelled, and for
the assumptions printed with the verdict. It is no approval of a vehicle. Local codes come first,
and the work is for people who are trained and licensed for it.
"""


def approved() -> list[Path]:
    """The designs of the library."""
    return sorted(SPECS.glob("*/*.ilk"))


def sound() -> list[Path]:
    """More designs of which every property holds."""
    return sorted((HERE / "holds").glob("*.ilk"))


def violated() -> list[Path]:
    """Variants with a defect."""
    return sorted((HERE / "violated").glob("*.ilk"))


def source(path: Path) -> Source:
    return parse(path.read_text(encoding="utf-8"), path.name, Limits())


def property_names(path: Path) -> list[str]:
    """As the source gives them, in its order."""
    kinds = (PropertyStatement, OrderStatement, RecoversStatement)
    return [each.name for each in source(path).statements if isinstance(each, kinds)]


def declared(path: Path) -> dict[str, set[str]]:
    """What a variant's file says of itself: the properties that it violates, those that it voids
    (they speak of what can never happen any more), those that it leaves open or to delays."""
    told: dict[str, set[str]] = {
        "violates": set(),
        "voids": set(),
        "leaves open": set(),
        "leaves to delays": set(),
    }
    for what, name in _TOLD.findall(path.read_text(encoding="utf-8")):
        told[what].add(name)
    return told


def index() -> str:
    """The text of specs/README.md."""
    rows = []
    for path in approved():
        design = next(each for each in source(path).statements if isinstance(each, Design))
        folder = path.parent.name
        rows.append(f"| [{folder}]({folder}/) | {design.title} | {len(property_names(path))} |\n")
    rules = [f"| {number} | {rule} | {origin} |\n" for number, rule, origin in _RULES]
    return "".join([_INDEX_TOP, *rows, _INDEX_RULES, *rules, _INDEX_END])


@cache
def verdicts(path: Path) -> DesignResult:
    """What `shutproof prove` answers for a design."""
    with chdir(ROOT):
        return prove(load(path.relative_to(ROOT)))


def story(path: Path) -> str:
    """The text of the report on a variant."""
    return design_text(verdicts(path))


def story_file(path: Path) -> Path:
    return path.with_suffix(".story")


def main(names: list[str]) -> None:
    """Write the index, and the stories of all variants or of those named."""
    (SPECS / "README.md").write_text(index(), encoding="utf-8")
    for path in violated():
        if not names or path.stem in names:
            story_file(path).write_text(story(path), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
