"""`shutproof faults --mission`: figures in text and JSON, and what is said where there are none."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import jsonschema
import pytest
from command import shutproof

YEAR = 8760

DESIGN = """
design pair "Two valves, which keep the air back"
use standard
supply tractor starts present
part first : outlet
part second : outlet
part lamp : visual_indicator
line air : tractor, first.1
line passed : first.2, second.1
line shown : second.2, lamp.in

kind outlet "a shut-off valve"
  ports 1, 2
  element disc: shut, open
    in open passes 1-2
    otherwise stays
  fault opens "it opens by itself":
    disc may go to open
  fault weeps "it leaks inside":
    leaks 1-2
end

exclude faults tubes, supplies, all of lamp because "only valves count" source "a guess"
never "the lamp has air": high(lamp.in)
possible "the tractor has none": tractor is absent
"""
RATES = """
rate every opens: 2000 FIT source "a guess"
rate every weeps: B10d 20000000 cycles, 876000 cycles per year source "ISO 13849-1, from memory"
"""


@pytest.fixture
def pair(tmp_path: Path) -> Path:
    path = tmp_path / "pair.ilk"
    path.write_text(DESIGN + RATES)
    return path


def result(*arguments: object) -> dict[str, Any]:
    done = shutproof("faults", "--json", *arguments)
    document: dict[str, Any] = json.loads(done.stdout)
    schema = json.loads(shutproof("schema", "faults").stdout)
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    return document


def test_figures(pair: Path) -> None:
    """Constant rates: 1 - exp(-rate * time); MTTFd of B10d by ISO 13849-1 (public copies)."""
    document = result(pair, "--order", 2, "--mission", "20 years", "--interval", "1 year")
    first, second = document["designs"][0]["properties"]
    assert second["numbers"] is None
    numbers = first["numbers"]
    assert (numbers["mission"], numbers["interval"]) == (20 * YEAR, YEAR)
    opens = -math.expm1(-2000e-9 * YEAR)
    mttfd = 20_000_000 / (0.1 * 876_000)
    weeps = -math.expm1(-1 / mttfd)
    sets = {frozenset(one["faults"]) for one in first["cut_sets"]}
    assert frozenset({"first opens", "second opens"}) in sets
    either = 1 - (1 - opens) * (1 - weeps)
    pairs = [frozenset({f"first {a}", f"second {b}"}) for a in LABELS for b in LABELS]
    assert sets == set(pairs)
    assert numbers["chance"]["exact"] == pytest.approx(either**2, rel=1e-12)
    assert numbers["chance"]["error"] < 1e-100
    assert numbers["chance"]["exact"] <= numbers["chance"]["bound"] <= numbers["chance"]["rare"]
    shares = {one["fault"]: one["probability"] for one in numbers["importances"]}
    assert shares["first opens"] == pytest.approx(opens)
    assert shares["second weeps"] == pytest.approx(weeps)
    assert numbers["structure"]["single"] == "none is enough"
    assert numbers["structure"]["considered"] == 4
    assert numbers["channel"] is None


LABELS = ("opens", "weeps")


def test_text(pair: Path) -> None:
    done = shutproof("faults", pair, "--order", 2, "--mission", "20 years", "--interval", "1 year")
    told = " ".join(done.stdout.split())
    assert "Proved: no single fault of 4 considered defeats the function" in told
    assert "over 20 years, inspected every year:" in told
    assert "(exact; min-cut bound" in told
    assert "larger sets add at most" in told
    assert "criticality" in told
    assert told.count("caution: Indicative") == 1
    assert "T10d" not in told
    longer = shutproof("faults", pair, "--order", 2, "--mission", "30 years").stdout
    assert "parts that wear out (T10d)" in " ".join(longer.split())
    assert "numbers" not in shutproof("faults", pair).stdout


def test_a_missing_rate(tmp_path: Path) -> None:
    path = tmp_path / "pair.ilk"
    path.write_text(DESIGN + RATES.splitlines()[1] + "\n")
    done = shutproof("faults", path, "--order", 2, "--mission", "1 year")
    told = " ".join(done.stdout.split())
    assert "no numbers, as no rate is given for: `first weeps`, `second weeps`" in told
    assert "Proved: no single fault" in told
    assert "probability" not in told


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--mission", "20 yaers"], "unknown unit `yaers`"),
        (["--mission", "20"], "`20` has no unit"),
        (["--mission", "long"], "`long` is no duration"),
        (["--mission", "-1 year"], "`-1 year` is no duration"),
        (["--mission", "0 h"], "more than 0"),
        (["--interval", "1 year"], "--interval needs a --mission"),
        (["--interval", "2 years", "--mission", "1 year"], "longer than the --mission"),
    ],
)
def test_wrong_durations(pair: Path, arguments: list[str], words: str) -> None:
    done = shutproof("faults", pair, *arguments)
    assert done.returncode == 2
    assert words in done.stderr
    assert done.stdout == ""


def test_what_sleeps_is_found_by_no_inspection(pair: Path) -> None:
    """A leak is not heard, so it gathers over the mission; a valve that opens shows by the lamp
    only once the other has."""
    document = result(
        pair, "--order", 2, "--mission", "20 years", "--interval", "1 year", "--sleeping"
    )
    design = document["designs"][0]
    assert set(design["sleepers"]["asleep"]) == {
        f"{valve} {label}" for valve in ("first", "second") for label in LABELS
    }
    assert len(design["sleeping_sets"]) == 4
    numbers = design["properties"][0]["numbers"]
    shares = {one["fault"]: one["probability"] for one in numbers["importances"]}
    assert shares["first opens"] == pytest.approx(-math.expm1(-2000e-9 * 20 * YEAR))
    told = " ".join(shutproof("faults", pair, "--order", 2, "--sleeping").stdout.split())
    assert "sleeping, 4 of 4, which is proved" in told
    assert '"the lamp has air" falls to first opens + second opens (asleep)' in told
