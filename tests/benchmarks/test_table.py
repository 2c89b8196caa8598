"""The table is made of what was measured: losses, limits and wrong verdicts show."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks import table
from tests.benchmarks.child import Limit
from tests.benchmarks.contestants import Contestant, Figure, Outcome
from tests.benchmarks.families import FAMILIES
from tests.benchmarks.families.member import Member
from tests.benchmarks.growth import exponent, growth
from tests.benchmarks.plan import QUICK, STANDARD, Course, Row, measure
from tests.benchmarks.targets import lines, targets
from tests.log import Log

MARKDOWN = table.Shown(60, markdown=True)


def figure(outcome: Outcome, seconds: float = 1.0, length: int | None = None) -> Figure:
    return Figure(outcome, seconds, 0.0, 0.1, seconds + 0.2, seconds + 0.3, 50.0, length)


def row(ours: Figure, pdr: Figure, horn: Figure, *, flawed: bool = False, n: int = 8) -> Row:
    member = FAMILIES["bank"].member(n, 3, flawed=flawed)
    return Row(member, ours, {"pdr": pdr, "horn": horn}, figure(ours.outcome, 5.0))


def test_the_best_reference_is_the_fastest_that_answered() -> None:
    one = row(figure("holds", 2.0), figure("holds", 3.0), figure("out of time", 0.0))
    assert one.best is not None
    assert one.best[0] == "pdr"
    assert one.ratio == pytest.approx(1.5)
    assert one.disagreements() == []


def test_without_an_answer_there_is_no_ratio() -> None:
    assert row(figure("holds"), figure("failed"), figure("skipped")).ratio is None
    assert row(figure("out of time"), figure("holds"), figure("holds")).ratio is None


def test_wrong_verdicts_are_disagreements() -> None:
    one = row(figure("holds"), figure("violated"), figure("holds"))
    assert one.disagreements() == ["pdr"]
    found = (figure("violated", 1.0, 3), figure("violated", 1.0, 9), figure("violated"))
    assert row(*found, flawed=True).disagreements() == ["ours"]  # nothing shows before step 9
    shown = table.report([one], ["pdr", "horn"], None, table.Shown(10))
    assert "DISAGREEMENTS" in shown
    assert "bank 8x3: pdr" in shown


def test_losses_are_printed() -> None:
    one = row(figure("holds", 4.0), figure("holds", 1.0), figure("out of time"))
    text = table.report([one], ["pdr", "horn"], figure("holds", 0.5), MARKDOWN)
    header, rule, line = text.splitlines()[:3]
    assert header.count("|") == rule.count("|") == line.count("|")
    cells = [cell.strip() for cell in line.split("|")]
    assert "0.25" in cells
    assert ">60" in cells
    assert "DISAGREEMENTS" not in text
    assert "in the middle: ours 0.200, pdr 0.200." in text


def test_ratios_of_what_was_ended_are_lower_bounds() -> None:
    one = row(figure("holds", 4.0), figure("holds", 1.0), figure("out of time"))
    text = table.report([one], ["pdr", "horn"], None, table.Shown(60, ratios=True))
    cells = text.splitlines()[1].split()
    assert {"0.25", ">15.00"} <= set(cells)
    lost = row(figure("out of time"), figure("holds", 1.0), figure("skipped"))
    cells = table.report([lost], ["pdr", "horn"], None, table.Shown(60, ratios=True)).split()
    assert {">60", "1.000", "skipped"} <= set(cells)


def test_a_log_keeps_rows_and_who_gave_up(tmp_path: Path) -> None:
    """A contestant that ended at its limit is not asked again after an interruption either."""
    asked: list[str] = []

    def ask(member: Member, *_: object) -> Figure:
        asked.append(member.name)
        return figure("out of time")

    def rows(sizes: list[tuple[int, ...]]) -> list[Row]:
        log = Log(tmp_path / "log", "source")
        slow = Contestant("slow", "never ends", True, False, ask)
        course = Course(Limit(60.0), (slow,), whole=False, log=log)
        return measure({"rotary": sizes}, course, lambda name: None)

    first = rows([(2,)])
    assert asked == ["rotary 2"]
    again = rows([(2,), (3,)])
    assert asked == ["rotary 2"]
    assert (again[0], again[2]) == (first[0], first[1])
    assert again[1].references["slow"].outcome == "skipped"
    assert again[1].ours.decided


def test_targets_say_reached_missed_or_open() -> None:
    fast = row(figure("holds", 1.0), figure("holds", 6.0), figure("out of time"))
    slow = row(figure("holds", 1.0), figure("holds", 0.5), figure("holds"), n=9)
    found = [one.reached for one in targets([fast], figure("holds", 0.5))]
    assert found == [True, None, True, None, None, None, None, True]
    states = [one.split()[0] for one in lines(targets([fast, slow], figure("holds", 2.0)))]
    assert states == ["missed", "open", "missed", "open", "open", "open", "open", "missed"]


def test_a_figure_that_a_limit_ended_reaches_no_target() -> None:
    late = Figure("out of time", whole=60.0, wall=60.0)
    assert [one.reached for one in targets([], late)][-1] is False


def test_exponents() -> None:
    assert exponent([(n, 3.0 * n**2) for n in (10, 20, 50)]) == pytest.approx(2.0)
    assert exponent([(10, 1.0)]) is None
    assert growth([row(figure("holds"), figure("holds"), figure("holds"))]) == {
        ("bank", False): (None, None)
    }


def test_families_that_are_measured() -> None:
    assert set(STANDARD) == set(FAMILIES)
    assert set(QUICK) <= set(FAMILIES)
    for name, every in STANDARD.items():
        assert all(FAMILIES[name].member(*sizes).text for sizes in every[:1])


def test_the_command_measures_and_checks(capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["--family", "rotary", "--sizes", "2", "--references", "pdr", "bdd", "--seconds", "60"]
    assert table.main(asked) == 0
    said = capsys.readouterr()
    assert said.err.split("\n")[:2] == ["rotary 2", "rotary 2 flawed"]
    for line in said.out.splitlines()[1:3]:
        assert line.startswith("rotary 2")
        assert "failed" not in line
        assert ">" not in line


def test_mistaken_arguments_are_told(capsys: pytest.CaptureFixture[str]) -> None:
    for asked in (["--family", "nothing"], ["--sizes", "3"], ["--references", "nobody"]):
        with pytest.raises(SystemExit):
            table.main(asked)
    assert "there is no family nothing" in capsys.readouterr().err
