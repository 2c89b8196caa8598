"""What proofs rest on, against cores that are derived by hand.

Two 3/2 valves in series are the textbook AND of pneumatic logic. That the lamp shows with a hand
off is kept from happening by the two valves, by the lamp and by the two tubes between them: a valve
that is stuck open, a lamp that is stuck or a blocked tube that keeps air in would show it. What
stands before the first valve, and another lamp with its button, may do anything.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence

import pytest
from msgspec import structs

from verifier import load_text, prove
from verifier.engines.core import Claimed, Item, core_of
from verifier.engines.needed import needed
from verifier.evidence.core import CoreClaim, certify_core, check_spoilt
from verifier.evidence.error import EvidenceError
from verifier.report.families import families
from verifier.report.result import Core, DesignResult
from verifier.report.text import design_text
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep
from verifier.transition.loose import Loose, loosened
from verifier.transition.loosening import Duty, duties

DESIGN = """design dunlin "two hands in series"
use standard
supply tractor
part first : push_button_3_2
part second : push_button_3_2
part other : push_button_3_2
part lamp : visual_indicator
part bell : visual_indicator
line air : tractor, first.1, other.1
line between : first.2, second.1
line shown : second.2, lamp.in
line rung : other.2, bell.in
assume "lid" because "the button is under a lid": never pushed(other)
never "shown with a hand off":
    showing(lamp) and not (pushed(first) and pushed(second))
always "rung": not showing(bell)
possible "shown": showing(lamp)
"""
PORTS = ("first.1", "first.2", "second.1", "second.2", "other.1", "other.2", "bell.in")
SERIES = "shown with a hand off"


def proved(text: str, cores: bool = True) -> DesignResult:
    return prove(load_text(text), Options(cores=cores))


def core(design: DesignResult, name: str) -> Core:
    (found,) = (item.core for item in design.properties if item.name == name)
    assert found is not None
    return found


def verdict(text: str, name: str) -> str:
    return next(item.verdict for item in proved(text, False).properties if item.name == name)


def test_the_core_of_two_valves_in_series() -> None:
    found = core(proved(DESIGN), SERIES)
    assert found.parts == ("first", "second", "lamp")
    assert found.tubes == ("between", "shown")
    assert found.tight_parts == found.tight_tubes == found.assumptions == ()
    assert found.among == 5 + 6
    assert found.least
    assert found.obligations > 0


def test_an_assumption_is_in_the_core_that_needs_it() -> None:
    found = core(proved(DESIGN), "rung")
    assert found.assumptions == ("lid",)
    assert found.parts == ("other", "bell")
    assert found.tubes == ("rung",)
    assert verdict(DESIGN.replace("never pushed(other)", "never pushed(first)"), "rung") != "holds"


@pytest.mark.parametrize(
    ("lines", "found"),
    [
        # The ports of a valve that is stuck open are one line. Without a valve of the core:
        ("air : tractor, first.1, other.1; between : first.2, lamp.in", "violated"),
        ("air : tractor, second.1, other.1; shown : second.2, lamp.in", "violated"),
        # The other button stuck open, then stuck shut; no air to the first.
        ("air : tractor, first.1, bell.in; between : first.2, second.1", "holds"),
        ("air : tractor, first.1; between : first.2, second.1", "holds"),
        ("air : tractor, other.1; between : first.2, second.1; rung : other.2, bell.in", "vacuous"),
    ],
)
def test_parts_that_fail(lines: str, found: str) -> None:
    if "lamp.in" not in lines:
        lines += "; shown : second.2, lamp.in"
    kept = [line for line in DESIGN.splitlines() if not line.startswith(("line", "possible"))]
    kept += [f"line {line}" for line in lines.split("; ")]
    kept += [f"plug {port}" for port in PORTS if port not in lines]
    assert verdict("\n".join(kept), SERIES) == found


def posed() -> tuple[Loose, Claimed, list[Item]]:
    """The claim about the two valves in series, and everything it might rest on."""
    _, study = prove_and_keep(load_text(DESIGN), names=[SERIES])
    (claim,) = (one for one in study.inquiry.claims if one.goals[0].name.startswith("bad"))
    loose = loosened(study.compiled)
    goals = tuple(
        question.goal
        for question in loose.compiled.questions
        if question.goal.name == claim.goals[0].name
    )
    lemmas = tuple(sorted({lemma for one in claim.proofs for lemma in one.lemmas}))
    known: list[Item] = ["lid", *duties(study.circuit)]
    return loose, Claimed(loose.compiled.system, loose.keeps, goals, lemmas), known


def check_of(loose: Loose, claimed: Claimed, items: Sequence[Item]) -> CoreClaim:
    return CoreClaim(
        system=claimed.system,
        keeps=claimed.keeps,
        free=loose.free,
        goals=claimed.goals,
        lemmas=claimed.lemmas,
        duties=[item for item in items if isinstance(item, Duty)],
        assumptions=[item for item in items if isinstance(item, str)],
    )


def test_less_than_the_core_is_refused_and_runs_show_why() -> None:
    loose, claimed, known = posed()
    found = core_of([claimed], [known], 10_000)
    assert found is not None
    items = sorted(found.items, key=str)
    assert len(items) == 5
    runs, _ = needed([claimed], items, 10_000, 10)
    assert set(runs) == set(items)
    certify_core(check_of(loose, structs.replace(claimed, lemmas=found.lemmas[0]), items))
    whole = check_of(loose, claimed, items)
    for item in items:
        less = [one for one in items if one != item]
        check_spoilt(whole, item, claimed.goals, runs[item].moments)
        with pytest.raises(EvidenceError, match="does not suffice"):
            certify_core(check_of(loose, claimed, less))
        with pytest.raises(EvidenceError, match="no run shows"):
            check_spoilt(whole, less[0], claimed.goals, runs[item].moments)
        with pytest.raises(EvidenceError):
            check_spoilt(whole, item, claimed.goals, runs[item].moments[:-1])


def test_a_bad_core_gives_no_verdict(monkeypatch: pytest.MonkeyPatch) -> None:
    def too_small(*args: object) -> object:
        found = core_of(*args)  # type: ignore[arg-type]
        assert found is not None
        return structs.replace(found, items=frozenset(list(found.items)[1:]))

    monkeypatch.setattr("verifier.studies.cores.core_of", too_small)
    with pytest.raises(EvidenceError):
        proved(DESIGN)


def test_the_report_tells_cores_and_what_is_in_none() -> None:
    design = proved("\n".join(line for line in DESIGN.splitlines() if 'rung"' not in line))
    assert design.unneeded is not None
    assert design.unneeded.parts == ()
    text = design_text(design)
    assert "rests on 5 of 11 parts and tubes, and on no assumption of the design" in text
    assert "tubes: between, shown" in text
    assert "They only ask to be tight: bell; tubes air at supply" in text
    assert "parts and tubes" not in design_text(proved(DESIGN, cores=False))


def test_long_lists_are_drawn_together() -> None:
    names = [f"load[{i},{j}] at pick[{i},{j}].4" for i in (1, 2) for j in (1, 2, 3)]
    assert families(names) == ("load[1..2,1..3] at pick[1..2,1..3].4",)
    assert families(["vent[1]", "lamp", "vent[2]", "vent[4]"]) == ("vent[1..2]", "vent[4]", "lamp")
    assert families(["a[1] at b[2]", "a[2] at b[1]"]) == ("a[1] at b[2]", "a[2] at b[1]")


def test_the_same_on_any_hash_seed() -> None:
    program = (
        "from tests.studies.test_cores import DESIGN, proved\n"
        "from verifier.report.json import text_of\n"
        "print(text_of(proved(DESIGN)).decode())\n"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", program],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(told) == 1
    assert '"least": true' in told.pop()
