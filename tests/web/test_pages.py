"""What every page must be: quiet, accessible, printable, complete without scripts, harmless."""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from pages import LAMP, changed, lamp, large, library, proved, raced, rested, shelved, vent_left_out
from pypdf import PdfReader
from watched import Watched

from verifier.model.load import load_text

Opens = Callable[..., Watched]
PAGES = {
    "violated": vent_left_out,
    "raced": raced,
    "faults and cores": rested,
    "change": changed,
    "library": library,
    "design of a library": shelved,
}
every_page = pytest.mark.parametrize("make", PAGES.values(), ids=PAGES)
PLANTED = "</script><script>window.planted = 1</script><img src=x onerror='planted = 1'>{{ 7 * 7 }}"
HEBREW = "מיכלית שלושה תאים"


@every_page
def test_nothing_is_in_the_way_of_anybody(make: Callable[[], bytes], opened: Opens) -> None:
    assert opened(make()).unreachable() == []


@pytest.mark.parametrize("make", [vent_left_out, library], ids=["violated", "library"])
def test_the_dark_can_be_read(make: Callable[[], bytes], opened: Opens) -> None:
    assert opened(make(), color_scheme="dark").unreachable("color-contrast") == []


@every_page
def test_nothing_stands_out_of_a_small_screen(make: Callable[[], bytes], opened: Opens) -> None:
    page = opened(make(), viewport={"width": 400, "height": 800}).page
    assert page.evaluate("document.documentElement.scrollWidth") == 400


TOLD = "h1, h2, h3, table, .events p, .outcome, .chart, .entries, .cautions"


@every_page
def test_complete_without_scripts(make: Callable[[], bytes], opened: Opens) -> None:
    """Everything that is told is there; what cannot work is not."""
    bare = opened(make(), java_script_enabled=False).page
    full = opened(make()).page
    before, after = (one.locator(TOLD).all_text_contents() for one in (bare, full))
    assert before == after
    assert bare.locator("button:visible, input:visible, select:visible").count() == 0


def printed(watched: Watched, paper: str) -> list[str]:
    content = watched.page.pdf(format=paper, prefer_css_page_size=False)
    return [page.extract_text() for page in PdfReader(io.BytesIO(content)).pages]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_prints_the_same_with_and_without_scripts(paper: str, opened: Opens) -> None:
    with_scripts = printed(opened(vent_left_out()), paper)
    without = printed(opened(vent_left_out(), java_script_enabled=False), paper)
    assert with_scripts == without
    count = len(with_scripts)
    for number, text in enumerate(with_scripts, 1):
        assert f"{number} / {count}" in text


def test_the_policy_lets_nothing_in(opened: Opens) -> None:
    watched = opened(vent_left_out())
    policy = watched.page.locator("meta[http-equiv]").get_attribute("content") or ""
    assert policy.startswith("default-src 'none'; style-src 'sha256-")
    assert "unsafe" not in policy
    watched.page.evaluate(
        """() => {
            const script = document.createElement("script");
            script.textContent = "window.planted = 1";
            document.body.append(script);
            document.body.setAttribute("style", "color: red");
            document.body.append(Object.assign(new Image(), {src: "https://example.invalid/x"}));
        }"""
    )
    assert watched.page.evaluate("window.planted") is None
    assert all("Content Security Policy" in one for one in watched.troubles)
    assert len(watched.troubles) == 3
    watched.troubles.clear()
    watched.requests.remove("https://example.invalid/x")


def test_markup_in_names_is_harmless(opened: Opens) -> None:
    told = PLANTED.replace('"', "'")
    text = (
        LAMP.replace("A lamp behind a button", told).replace('revision "A"', f'revision "{told}"')
        + f'assume "{told}" because "{told}": always tractor is present\n'
        + "start tractor is present\n"
        + f'never "{told}": showing(lamp) "{told}"\n'
        + f'always "lit {told}": if showing(lamp) then high(air)\n'
    )
    watched = opened(proved(load_text(text, f"{told}.ilk")))
    page = watched.page
    assert page.evaluate("window.planted") is None
    assert page.locator("img").count() == 0
    assert page.locator("script").count() == 2
    assert page.locator("h1").inner_text() == told
    assert page.locator("#property-1 h3 bdi").inner_text() == told
    assert watched.unreachable() == []


def test_names_that_run_from_right_to_left_stay_by_themselves(opened: Opens) -> None:
    text = LAMP.replace("A lamp behind a button", HEBREW)
    page = opened(proved(load_text(f'{text}never "{HEBREW}": showing(lamp) "P3"'))).page
    assert page.locator("h1 bdi").evaluate("one => getComputedStyle(one).direction") == "rtl"
    assert page.locator("h1").evaluate("one => getComputedStyle(one).direction") == "ltr"
    number, name = "#property-1 h3 .number", "#property-1 h3 bdi"
    left = [page.locator(one).bounding_box() for one in (number, name)]
    assert left[0] is not None
    assert left[1] is not None
    assert left[0]["x"] < left[1]["x"]


def test_long_names_wrap(opened: Opens) -> None:
    long = "a_" * 60 + "b"
    text = LAMP.replace("lamp :", f"{long} :").replace("lamp.in", f"{long}.in")
    name = "without an end " * 12 + "x" * 150
    content = proved(load_text(f'{text}never "{name.strip()}": showing({long})'))
    page = opened(content, viewport={"width": 400, "height": 800}).page
    assert page.evaluate("document.documentElement.scrollWidth") == 400


def test_the_same_input_gives_the_same_page() -> None:
    made = [lamp('never "dark": showing(lamp)') for _ in range(2)]
    assert made[0] == made[1]


def test_pages_know_no_place_and_no_time() -> None:
    content = vent_left_out().decode()
    assert not re.search(r"https?://(?!www\.w3\.org/)", content)
    assert str(Path.home()) not in content


def test_a_large_design_is_ready_within_a_second(opened: Opens) -> None:
    """20 compartments on 4 manifolds, and a story of 22 steps: what the page costs until its first
    button has been worked, in time of its own thread, so that others who work do not count."""
    watched = opened(large(), cost=True)
    player = watched.page.locator("#properties [data-player]")
    player.get_by_role("button", name="First step").click()
    assert player.locator("[data-place]").inner_text() == "Step 0 of 22"
    assert watched.cost() < 1.0
