"""The pages that are looked at, each made once in a process."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from verifier.model.load import Loaded, load, load_text
from verifier.pages.design import design_page
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


def lamp(statements: str) -> bytes:
    return proved(load_text(LAMP + statements))
