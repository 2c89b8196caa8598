"""What a change makes of races, and of that on which proofs rest."""

from __future__ import annotations

import pytest

from verifier import load_text
from verifier.report.compared import comparison_markdown, comparison_text
from verifier.report.comparison import Comparison
from verifier.studies.compare import compare
from verifier.studies.options import Options

# Two shuttle valves behind the same two hands; the order in which air comes and goes decides.
SHUTTLES = """\
design shuttles
use standard
supply tractor
part left: push_pull_3_2_spring
part right: push_pull_3_2_spring
part either[1..2]: shuttle_valve
part lamp[1..2]: visual_indicator
line air: tractor, left.1, right.1
line one: left.2, either[1..2].a
line two: right.2, either[1..2].b
line out[i in 1..2]: either[i].out, lamp[i].in
possible "seen": showing(lamp[i]) for each i
"""
ACCEPTED = SHUTTLES + 'accept race of either[1..2] because "either shows the same"\n'
# The same with a lamp at each hand, and no shuttle valve.
PLAIN = """\
design shuttles
use standard
supply tractor
part left: push_pull_3_2_spring
part right: push_pull_3_2_spring
part lamp[1..2]: visual_indicator
line air: tractor, left.1, right.1
line one: left.2, lamp[1].in
line two: right.2, lamp[2].in
possible "seen": showing(lamp[i]) for each i
"""
# Two valves in series: the lamp shows with both hands on only. The other lamp is nobody's business.
SERIES = """\
design dunlin "two hands in series"
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
never "shown with a hand off":
    showing(lamp) and not (pushed(first) and pushed(second))
possible "rung": showing(bell)
"""


def compared(old: str, new: str, *, cores: bool = False) -> Comparison:
    return compare(load_text(old, "old.ilk"), load_text(new, "new.ilk"), Options(cores=cores))


def test_a_race_that_is_new_is_worse() -> None:
    told = compared(PLAIN, SHUTTLES)
    assert told.races is not None
    assert told.races.gained == told.races.unaccepted == ("either[1]", "either[2]")
    assert told.races.known_before
    assert (told.outcome, told.exit_status) == ("worse", 1)
    assert "! where these stop, and did not before: either[1..2]" in comparison_text(told)
    back = compared(SHUTTLES, PLAIN)
    assert back.races is not None
    assert back.races.lost == ("either[1] (of the old design)", "either[2] (of the old design)")
    assert not back.races.gained
    assert "no longer where these stop" in comparison_markdown(back)


def test_a_race_that_is_not_accepted_any_more_is_worse() -> None:
    """Its verdict is "delay dependent" before and after, so that it could pass unseen."""
    told = compared(ACCEPTED, SHUTTLES)
    assert told.races is not None
    assert (told.races.gained, told.races.lost) == ((), ())
    assert told.races.unaccepted == ("either[1]", "either[2]")
    assert told.outcome == ("worse" if told.races.known_before else "undecided")
    same = compared(ACCEPTED, ACCEPTED)
    assert same.exit_status == 0
    assert "Where it comes to depend" not in comparison_text(same)


@pytest.mark.parametrize(
    ("new", "touched"),
    [
        (SERIES.replace("part other : push_button_3_2", "part other : lever_3_2"), ()),
        (SERIES.replace("part first : push_button_3_2", "part first : lever_3_2"), ("first",)),
        (
            SERIES.replace("line between : first.2, second.1", "line between : first.2, x.in")
            + "part x : filter\nline more : x.out, second.1\n",
            ("tube between",),
        ),
    ],
)
def test_what_proofs_rest_on(new: str, touched: tuple[str, ...]) -> None:
    """What the series rests on is derived by hand in the tests of cores: both valves, the lamp and
    the tubes between them."""
    if "part first : lever_3_2" in new:
        new = new.replace("pushed(first)", "on(first)")
    told = compared(SERIES, new, cores=True)
    (core,) = (one for one in told.cores if one.name == "shown with a hand off")
    assert core.touched == touched
    assert core.before >= 5
    text = comparison_text(told)
    if touched:
        assert f"1 of the {core.before} things that it rested on changed: {touched[0]}" in " ".join(
            text.split()
        )
    else:
        assert "rests on nothing that changed" in text or "rest on nothing that changed" in text


def test_cores_are_told_only_when_they_are_asked_for() -> None:
    told = compared(SERIES, SERIES)
    assert told.cores == ()
    assert "rested on" not in comparison_text(told)
