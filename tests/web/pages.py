"""The pages that are looked at, each made once in a process."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.benchmarks.families.bank import circuit
from verifier.model.load import Loaded, load, load_text
from verifier.pages.change import change_page
from verifier.pages.design import design_page
from verifier.pages.runs import CarriedOut
from verifier.pages.shelf import shelf_pages
from verifier.report.library import Examined, LibraryResult
from verifier.runs.read import read_run
from verifier.studies.carrying_out import carried_out
from verifier.studies.compare import compare
from verifier.studies.faults import FaultOptions, faults
from verifier.studies.keeping import kept
from verifier.studies.modelling import CAUTIONS
from verifier.studies.options import Options
from verifier.studies.prove import prove

ROOT = Path(__file__).resolve().parents[2]
VIOLATED = ROOT / "tests" / "designs" / "violated"

ASKED = (
    "pushing the master in shuts everything",
    "discharge with a vent shut",
    "the indicator shows when the vents are open",
    "all three can discharge at once",
)

RUN = """run "the stop shuts what runs"
connect tractor
pull master
wait
expect lamp showing
push stop
wait
expect lamp showing
expect vent[1] shut
"""

WRONG_RUN = """wrong pick[1].1 and pick[1].2 swapped
connect tractor
pull master
wait
strike foot[2] stuck
expect foot[2] shut
"""

LAMP = """
design lamp "A lamp behind a button"
revision "A"
use standard
supply tractor
part button : push_button_3_2
part lamp : visual_indicator role indicator
line air : tractor, button.1
line shown : button.2, lamp.in
"""


def proved(loaded: Loaded, *names: str, options: Options | None = None) -> bytes:
    with kept() as runs:
        result = prove(loaded, options or Options(), names)
    return design_page(loaded, result, runs, CAUTIONS, date="2025-03-31")


@cache
def vent_left_out() -> bytes:
    """A violation, a vacuous property, a procedure and what holds."""
    return proved(load(VIOLATED / "heron_vent_left_out.ilk"), *ASKED)


@cache
def raced() -> bytes:
    """A race, and nothing else."""
    return proved(load(VIOLATED / "petrel_selectors_abreast.ilk"), "no race")


@cache
def large() -> bytes:
    """20 compartments on 4 manifolds; it takes 22 steps to fill the returning line."""
    text = circuit("shearwater_20_4", "20 compartments on 4 manifolds", 20, 4, True)
    return proved(
        load_text(f'{text}never "the indicator shows": showing(lamp)'), "the indicator shows"
    )


@cache
def rested() -> bytes:
    """Cores and cut sets of a design that holds, and two runs, one of them wrongly connected."""
    loaded = load(ROOT / "specs" / "heron" / "heron.ilk")
    names = ("discharge with a vent shut",)
    with kept() as runs:
        result = prove(loaded, Options(cores=True), names)
        sets = faults(loaded, FaultOptions(order=1), names)
    written = [went(loaded, RUN), went(loaded, WRONG_RUN)]
    return design_page(loaded, result, runs, CAUTIONS, faults=sets, runs=written)


def went(loaded: Loaded, text: str) -> CarriedOut:
    script = read_run(text, "walk.run")
    return CarriedOut(Path("walk.run"), script, carried_out(loaded.circuit, script))


@cache
def changed() -> bytes:
    """A change after which something is worse."""
    old = load(ROOT / "specs" / "heron" / "heron.ilk")
    new = load(VIOLATED / "heron_lines_crossed.ilk")
    with kept() as runs:
        told = compare(old, new)
    return change_page(old, new, told, runs, date="2025-03-31")


def examined(count: int) -> LibraryResult:
    """A library of so many designs, as it may be found in the morning."""
    designs = []
    for number in range(count):
        file = f"fleet/{number:04}/tern_{number:04}.ilk"
        if number % 10:
            designs.append(Examined(file, "approved", "holds", "", "N. N.", "2025-03-31"))
        else:
            reason = f"the circuit {number:016x} was approved, and this is another one"
            designs.append(Examined(file, "changed", "holds", reason, "O. O.", "2025-03-30"))
    return LibraryResult("fleet", tuple(designs), 0, 1, CAUTIONS)


@cache
def library(count: int = 20) -> bytes:
    """The index of a library of so many designs."""
    *_, (name, content) = shelf_pages(examined(count), lambda file: None)
    assert name == "index.html"
    return content


@cache
def shelved() -> bytes:
    """The page of a design of a library that does not stand."""
    loaded = load(VIOLATED / "heron_vent_left_out.ilk")
    result = prove(loaded, names=ASKED)
    wrong = tuple(item for item in result.properties if item.verdict != "holds")
    one = Examined("heron.ilk", "unapproved", result.verdict, properties=wrong)
    told = LibraryResult("fleet", (one,), 0, 1, CAUTIONS)
    return next(shelf_pages(told, lambda file: loaded.circuit))[1]


def lamp(statements: str) -> bytes:
    return proved(load_text(LAMP + statements))
