"""Going through a story, by mouse, by keyboard, and as it plays by itself."""

from __future__ import annotations

from collections.abc import Callable

from pages import changed, raced, rested, vent_left_out
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


def drawn(player: Locator, what: str) -> Locator:
    return player.locator(f"svg.circuit:not(.legend) {what}")


def test_the_drawing_goes_along(opened: Opens) -> None:
    """Air, positions, what moved and what runs are those of the moment, and come back."""
    player = opened(vent_left_out()).page.locator(STORY)
    air = drawn(player, "[data-line='lift[1]']").first
    foot = drawn(player, ".symbol[data-part='foot[1]']")
    poppet = foot.locator(".moving").first
    assert air.get_attribute("data-pressure") == "high"
    assert "moved" in (foot.get_attribute("class") or "")
    assert foot.locator(".stream.ahead, .stream.back").count() == 1
    opened_at = poppet.get_attribute("transform")
    player.get_by_role("button", name="Step back").click()
    assert "moved" not in (foot.get_attribute("class") or "")
    assert poppet.get_attribute("transform") != opened_at
    assert foot.locator(".stream.ahead, .stream.back").count() == 0
    player.get_by_role("button", name="First step").click()
    assert air.get_attribute("data-pressure") == "low"
    player.get_by_role("button", name="Last step").click()
    assert air.get_attribute("data-pressure") == "high"
    assert poppet.get_attribute("transform") == opened_at
    shown = player.locator("[data-sheet-of]").inner_html()
    player.get_by_role("button", name="First step").click()
    player.get_by_role("slider").fill("4")
    assert player.locator("[data-sheet-of]").inner_html() == shown


def test_procedures_are_drawn_when_they_are_opened(opened: Opens) -> None:
    page = opened(vent_left_out()).page
    details = page.locator("#property-4 details").first
    assert details.locator("svg.circuit:not(.legend)").count() == 0
    details.locator("summary").click()
    assert drawn(details, "[data-line='lift[3]']").first.get_attribute("data-pressure") == "high"


def test_a_chosen_set_shows_its_parts_and_its_story(opened: Opens) -> None:
    page = opened(rested()).page
    stage = page.locator("[data-choosing]")
    page.locator("[data-choose]").filter(has_text="foot[2] spring_broken").first.click()
    assert stage.locator("[data-chosen]").inner_text() == "foot[2] spring_broken"
    marked = drawn(stage, ".symbol.emphasised")
    assert [one.get_attribute("data-part") for one in marked.all()] == ["foot[2]"]
    assert stage.locator(".events .by-fault").inner_text().count("foot[2]") == 1
    last = place(stage)
    stage.get_by_role("button", name="Step back").click()
    assert place(stage) != last
    page.locator("[data-choose]").filter(has_text="tube pass[2] blocked").first.click()
    assert place(stage).split(" of ")[0].removeprefix("Step ") == place(stage).split(" of ")[1]
    assert marked.count() == 0
    lines = drawn(stage, ".line.emphasised").all()
    assert {one.get_attribute("data-line") for one in lines} == {"pass[2]"}


def test_a_proof_core_is_shaded(opened: Opens) -> None:
    page = opened(rested()).page
    page.locator("[data-shade]").select_option("0")
    core = page.locator("#circuit .symbol.core").all()
    names = [one.get_attribute("data-part") for one in core]
    assert {"vent[1]", "vent[2]", "vent[3]"} <= set(names)
    assert "lamp" not in names
    assert page.locator("[data-shaded]").inner_text().startswith(f"{len(names)} parts and ")
    page.locator("[data-shade]").select_option("")
    assert page.locator("#circuit .symbol.core").count() == 0


def test_a_change_is_marked_by_sign_and_look(opened: Opens) -> None:
    page = opened(changed()).page
    for look, sign in (("added", "+"), ("removed", "\N{MINUS SIGN}")):
        lines = page.locator(f"#circuit .line.{look}").all()
        assert {one.get_attribute("data-line") for one in lines} == {"lift[1]", "lift[2]"}
        signs = page.locator(f"#circuit .badge.change.{look}").all_text_contents()
        assert signs == [sign, sign]
    tracks = page.locator("#apart .track")
    shown = [drawn(tracks.nth(k), "[data-line='lift[1]']").first for k in (0, 1)]
    assert [one.get_attribute("data-pressure") for one in shown] == ["high", "high"]
    tracks.nth(0).get_by_role("button", name="First step").click()
    assert [one.get_attribute("data-pressure") for one in shown] == ["low", "high"]


def test_a_drawing_is_made_larger(opened: Opens) -> None:
    page = opened(vent_left_out(), viewport={"width": 800, "height": 900}).page
    svg = page.locator("#circuit [data-live] svg")
    before = svg.bounding_box()
    page.locator("#circuit").get_by_role("button", name="Larger").click()
    after = svg.bounding_box()
    assert before is not None
    assert after is not None
    assert after["width"] > before["width"]
    page.locator("#circuit").get_by_role("button", name="Whole").click()
    whole = svg.bounding_box()
    assert whole is not None
    assert whole["width"] < 800


def test_runs_that_were_written_down(opened: Opens) -> None:
    """Expectations stand after the step at which they were looked at; a wrong connection has a
    drawing of its own."""
    page = opened(rested()).page
    run, wrong = page.locator("#runs [data-player]").all()
    told = run.locator(".events li").all_inner_texts()
    looked = [k for k, words in enumerate(told) if "as expected" in words]
    assert [told[k].splitlines()[-1] for k in looked] == [
        "as expected: lamp showing.",
        "NOT as expected: lamp showing: lamp stands hidden: its port in has no air (line back "
        "exhausts through vent[3] out to exhaust).",
        "as expected: vent[1] shut.",
    ]
    assert "lamp goes from hidden to showing" in told[looked[0] - 1]
    assert "2 of 3 expectations met" in run.inner_text()
    wrong.get_by_role("button", name="First step").click()
    wrong.get_by_role("button", name="Step on").click()
    assert place(wrong) == "Step 1 of 6"
    line = "[data-line='lift[1]']"
    ours, theirs = (one.locator(line).first.inner_html() for one in (run, wrong))
    assert ours != theirs
