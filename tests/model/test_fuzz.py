"""Mutated designs: an answer or a refusal, never anything else."""

from __future__ import annotations

from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits
from verifier.model.load import load_text
from verifier.model.wellformed import check

ROOT = Path(__file__).parents[2]
TEXTS = [
    path.read_text(encoding="utf-8")
    for folder in ("specs", "tests/designs")
    for path in sorted((ROOT / folder).rglob("*.ilk"))
]
LIMITS = Limits(max_members=3_000)


def answered(text: str) -> None:
    try:
        check(load_text(text, limits=LIMITS).circuit)
    except LimitError as refusal:
        told = [str(refusal)]
    except SourceError as refusal:
        told = [one.message for one in refusal.diagnostics]
    else:
        return
    assert all(told)
    assert told


@st.composite
def mutated(draw: st.DrawFn) -> str:
    """A design with lines dropped, doubled and exchanged, and words exchanged for each other."""
    text = draw(st.sampled_from(TEXTS))
    lines = text.split("\n")
    words = text.split()
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        what = draw(st.sampled_from(["drop", "double", "swap", "word", "cut", "number"]))
        if what == "drop":
            lines[at] = ""
        elif what == "double":
            lines.insert(at, lines[at])
        elif what == "swap":
            other = draw(st.integers(0, len(lines) - 1))
            lines[at], lines[other] = lines[other], lines[at]
        elif what == "cut":
            lines[at] = lines[at][: draw(st.integers(0, len(lines[at])))]
        elif what == "number":
            digits = str(draw(st.integers(0, 9)))
            lines[at] = "".join(digits if c.isdigit() else c for c in lines[at])
        else:
            parts = lines[at].split(" ")
            parts[draw(st.integers(0, len(parts) - 1))] = draw(st.sampled_from(words or [""]))
            lines[at] = " ".join(parts)
    return "\n".join(lines)


@given(mutated())
def test_mutated_designs(text: str) -> None:
    answered(text)


def test_every_line_left_out_once() -> None:
    """Each statement missing in turn: the rest is answered."""
    lines = next(text for text in TEXTS if "design heron" in text and "use standard" in text)
    split = lines.split("\n")
    for number in range(len(split)):
        answered("\n".join([*split[:number], "", *split[number + 1 :]]))
