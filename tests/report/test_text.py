"""The report for people, from answers made by hand."""

from __future__ import annotations

import pytest
from msgspec import structs

from verifier.report.result import (
    DesignResult,
    Ending,
    Event,
    InstanceResult,
    Modelling,
    PropertyResult,
    Race,
    Result,
    Standing,
    Story,
    UsedAssumption,
    Way,
    exit_status,
    worst,
)
from verifier.report.text import WIDTH, closing_text, design_text

STORY = Story(
    events=(
        Event(1, "surroundings", "The supply tractor gives air", gained=("air",)),
        Event(2, "operator", "The operator: master is pulled"),
        Event(
            2,
            "movement",
            "master goes from in to out",
            "it is pulled by hand",
            gained=("rise", "lift[1]"),
            lost=("home",),
        ),
        Event(3, "leak", "The air kept in trip leaks away", between=("back",)),
    ),
    steps=3,
    shortest=True,
    end=Ending(
        moved=(Standing("master", "out"),),
        high=("air", "rise"),
        low=("home",),
        between=("back",),
        kept=("rise",),
        at_rest=True,
    ),
    outcome="This must never be: foot[1] open (foot[1] stands open).",
)


def property_result(**changes: object) -> PropertyResult:
    values: dict[str, object] = {
        "name": "nothing flows",
        "form": "never",
        "free": False,
        "moment": "at_rest",
        "verdict": "holds",
        "instances": (InstanceResult("", "holds", "foot[1] open"),),
        "modelling": ("healthy parts",),
    }
    return PropertyResult(**{**values, **changes})  # type: ignore[arg-type]


def design_result(*properties: PropertyResult) -> DesignResult:
    return DesignResult(
        file="gull.ilk",
        design="gull",
        title="A trailer [of one compartment]",
        revision="A",
        verdict=worst(item.verdict for item in properties),
        properties=properties,
        modelling=(Modelling("healthy parts", "no part fails"),),
    )


VIOLATED = property_result(
    verdict="violated",
    instances=(
        InstanceResult("i = 1", "violated", "foot[1] open", story=STORY),
        InstanceResult("i = 2", "holds", "foot[2] open"),
    ),
)


def test_a_story_reads_in_order() -> None:
    text = design_text(design_result(VIOLATED))
    told = [line.strip() for line in text.splitlines()]
    expected = [
        'violated     never "nothing flows", at rest, 2 cases',
        "for i = 1:",
        "The shortest way there, from the start (what shares a number happens at",
        "1  The supply tractor gives air.",
        "air now in: air",
        "2a  The operator: master is pulled.",
        "2b  master goes from in to out: it is pulled by hand.",
        "air now in: rise, lift[1]",
        "no more air in: home",
        "3  The air kept in trip leaks away.",
        "in-between pressure in: back",
        "In the end, at rest:",
        "moved: master out",
        "This must never be: foot[1] open (foot[1] stands open).",
    ]
    places = [told.index(line) for line in expected]
    assert places == sorted(places)


def test_assumptions_are_told() -> None:
    used = property_result(assumptions=(UsedAssumption("door shut", "the driver drives off"),))
    text = design_text(design_result(used))
    assert 'assumed: "door shut", because the driver drives off' in text
    assert "healthy parts: no part fails" in text


def test_lines_are_narrow_and_clean() -> None:
    long = property_result(name="a property with a very long name, " * 6, reason="because " * 40)
    text = design_text(design_result(VIOLATED, long))
    for line in text.splitlines():
        assert len(line) <= WIDTH
        assert line == line.rstrip()
    assert "\x1b" not in text


def test_cautions_close_the_report_only_when_something_was_proved() -> None:
    design = design_result(property_result())
    assert "licensed" in closing_text(Result((design,), (), 0, ("to people licensed for it.",)))
    assert closing_text(Result((), (), 2, ("to people licensed for it.",))) == ""


@pytest.mark.parametrize(
    ("verdicts", "status"),
    [
        (["holds", "holds"], 0),
        (["holds", "violated"], 1),
        (["vacuous", "inconclusive"], 1),
        (["holds", "inconclusive"], 3),
        (["inconclusive", "violated"], 1),
        (["holds", "delay dependent"], 0),
        (["delay dependent", "inconclusive"], 3),
    ],
)
def test_exit_status_takes_the_worst(verdicts: list[str], status: int) -> None:
    properties = [property_result(verdict=verdict) for verdict in verdicts]
    assert exit_status([design_result(*properties)], []) == status


@pytest.mark.parametrize(
    ("verdicts", "status"),
    [(["delay dependent"], 1), (["delay dependent", "inconclusive"], 1), (["holds"], 0)],
)
def test_races_can_be_made_to_fail(verdicts: list[str], status: int) -> None:
    properties = [property_result(verdict=verdict) for verdict in verdicts]
    assert exit_status([design_result(*properties)], [], races_fail=True) == status


RACE = Race(
    decided_by="order",
    deciding=("master", "pick[1]"),
    shared=STORY.events[:2],
    shared_steps=2,
    first=Way("master first", (Event(3, "movement", "master goes from in to out"),), STORY.end),
    second=Way("pick[1] first", (), STORY.end),
    steps=3,
    shortest=True,
    outcome="Master first: lamp ends hidden. Pick[1] first: lamp ends showing.",
)


def test_both_ways_of_a_race_stand_side_by_side() -> None:
    told = InstanceResult("lamp", "delay dependent", "where lamp stops", race=RACE)
    other = InstanceResult("foot", "delay dependent", "where foot stops")
    text = design_text(
        design_result(property_result(verdict="delay dependent", instances=(told, other)))
    )
    lines = text.splitlines()
    begin = next(k for k, line in enumerate(lines) if "Master first:" in line)
    assert lines[begin] == "      Master first:                       | Pick[1] first:"
    assert lines[begin + 1].startswith("      3  master goes from in to out.")
    assert "Two ways go on:" in lines[begin - 1]
    assert "      Master first: lamp ends hidden. Pick[1] first: lamp ends showing." in lines
    assert "Also delay dependent for foot (--all tells how)." in text
    assert all(len(line) <= WIDTH for line in lines)
    assert text.count("The supply tractor gives air") == 1
    assert "What decides is the order: master first, or pick[1] first." in text


def test_what_both_ways_of_a_race_have_in_common_is_told_once() -> None:
    opens = Event(4, "movement", "vent goes from shut to open", "its port in has air (line rise)")
    later = Event(5, "movement", "vent goes from shut to open", "its port in has air (line rise)")
    end = Ending((Standing("vent", "open"),), ("air",), (), (), (), True)
    other = Ending((Standing("vent", "open"), Standing("lamp", "showing")), (), (), (), (), True)
    race = structs.replace(
        RACE,
        shared=(Event(1, "operator", "master is pulled"), Event(2, "movement", "gate opens")),
        first=Way("master first", (opens,), end),
        second=Way("pick[1] first", (later,), other),
    )
    told = InstanceResult("lamp", "delay dependent", "where lamp stops", race=race)
    text = design_text(design_result(property_result(verdict="delay dependent", instances=(told,))))
    both = [" ".join(column.split()) for column in _columns(text)]
    assert ["its port in has air" in one for one in both] == [True, False]
    assert ["as on the other way." in one for one in both] == [False, True]
    assert "From step 1 on hands and surroundings stand still. Here two ways go on:" in text
    left, right = (one.split("In the end, only here:")[1] for one in both)
    assert "with air: air" in left
    assert "moved: lamp showing" in right
    assert "      Either way in the end, at rest:\n        moved: vent open\n" in text


def _columns(text: str) -> tuple[str, str]:
    rows = [line.partition(" | ") for line in text.splitlines() if " | " in line]
    return "\n".join(row[0] for row in rows), "\n".join(row[2] for row in rows)
