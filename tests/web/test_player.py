"""Going through a story, by mouse, by keyboard, and as it plays by itself."""

from __future__ import annotations

from collections.abc import Callable

from pages import raced, vent_left_out
from playwright.sync_api import Locator, expect
from watched import Watched

Opens = Callable[..., Watched]
STORY = "#property-2 [data-player]"


def place(player: Locator) -> str:
    return player.locator("[data-place]").inner_text()


def test_begins_where_the_story_ends(opened: Opens) -> None:
    player = opened(vent_left_out()).page.locator(STORY)
    assert place(player) == "Step 4 of 4"
    assert "foot[1] open" in player.locator("[data-said]").inner_text()
    assert "tank[1] with coupling[1]" in player.locator("[data-said]").inner_text()


def test_by_mouse(opened: Opens) -> None:
    player = opened(vent_left_out()).page.locator(STORY)
    player.get_by_role("button", name="First step").click()
    assert place(player) == "Step 0 of 4"
    assert "no line" in player.locator("[data-said]").inner_text()
    player.get_by_role("button", name="Step on").click()
    assert place(player) == "Step 1 of 4"
    assert "air, rise" in player.locator("[data-said]").inner_text()
    current = player.locator(".events li.current")
    assert current.count() == 4
    assert "master is pulled" in current.first.inner_text()
    player.get_by_role("button", name="Last step").click()
    player.get_by_role("button", name="Step back").click()
    assert place(player) == "Step 3 of 4"
    told = player.locator("[data-happens]").inner_text()
    assert told.startswith("vent[3] goes from shut to open: its port in has air")
    player.get_by_role("button", name="Show step 2").click()
    assert place(player) == "Step 2 of 4"


def test_by_the_chart(opened: Opens) -> None:
    player = opened(vent_left_out()).page.locator(STORY)
    player.locator("[data-chart] td svg").first.click(position={"x": 1.5 * 36, "y": 10})
    assert place(player) == "Step 1 of 4"
    assert player.locator("[data-chart] .cursor").first.get_attribute("x") == "36"


def test_by_keyboard(opened: Opens) -> None:
    page = opened(vent_left_out()).page
    player = page.locator(STORY)
    player.get_by_role("button", name="Play").focus()
    for key, step in (("Home", 0), ("ArrowRight", 1), ("ArrowRight", 2), ("ArrowLeft", 1)):
        page.keyboard.press(key)
        assert place(player) == f"Step {step} of 4"
    page.keyboard.press("End")
    page.keyboard.press("ArrowRight")
    assert place(player) == "Step 4 of 4"
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    slider = player.get_by_role("slider")
    expect(slider).to_be_focused()
    page.keyboard.press("ArrowLeft")
    assert place(player) == "Step 3 of 4"
    assert slider.get_attribute("aria-valuetext") == "Step 3 of 4"


def test_plays_by_itself(opened: Opens) -> None:
    page = opened(vent_left_out(), clock=True).page
    player = page.locator(STORY)
    player.get_by_role("button", name="Play").click()
    assert place(player) == "Step 0 of 4"
    page.clock.run_for(3000)
    assert place(player) == "Step 2 of 4"
    player.get_by_role("button", name="Pause").click()
    page.clock.run_for(9000)
    assert place(player) == "Step 2 of 4"
    player.get_by_role("button", name="Play").click()
    page.clock.run_for(9000)
    assert place(player) == "Step 4 of 4"
    expect(player.get_by_role("button", name="Play")).to_have_attribute("aria-pressed", "false")


def test_one_player_leaves_the_others_alone(opened: Opens) -> None:
    page = opened(vent_left_out()).page
    page.locator(STORY).get_by_role("button", name="First step").click()
    other = page.locator("#property-4 [data-player] [data-place]").first
    assert other.text_content() == "Step 4 of 4"


def test_a_race_has_two_tracks(opened: Opens) -> None:
    tracks = opened(raced()).page.locator(".race .track")
    assert tracks.count() == 2
    first, second = tracks.nth(0), tracks.nth(1)
    assert first.locator("h4").inner_text() != second.locator("h4").inner_text()
    first.get_by_role("button", name="First step").click()
    assert place(first).startswith("Step 0 of")
    assert not place(second).startswith("Step 0 of")
