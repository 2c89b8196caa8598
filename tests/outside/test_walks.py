"""Facts of the trade, walked through on the designs of the library (common practice, no source).

Each walk is a .run file that says which fact it shows; it must come out in whatever order things
move."""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from verifier import load
from verifier.runs.play import play
from verifier.runs.read import read_run
from verifier.runs.script import Expects

WALKS = sorted((Path(__file__).parent / "walks").glob("*.run"))
SPECS = Path(__file__).resolve().parents[2] / "specs"
ORDERS = (None, 1, 2, 3, 4)


def test_there_are_walks_on_several_designs() -> None:
    assert len(WALKS) >= 6
    assert {read_run(path.read_text()).design for path in WALKS} == {"heron", "petrel", "gannet"}


@pytest.mark.parametrize("path", WALKS, ids=lambda path: path.stem)
def test_the_walk_comes_out(path: Path) -> None:
    text = path.read_text()
    assert "Common practice" in text.split("run ")[0]
    script = read_run(text, path.name)
    assert sum(isinstance(line.what, Expects) for line in script.lines) >= 4
    circuit = load(SPECS / script.design / f"{script.design}.ilk").circuit
    for order in ORDERS:
        found = play(circuit, script, None if order is None else Random(order))
        assert found.problems == (), f"in the order of seed {order}"
