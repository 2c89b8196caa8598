"""`shutproof report`: the page as a file, its exit statuses, and what it refuses."""

from __future__ import annotations

from pathlib import Path

from command import ROOT, shutproof

DESIGN = """
design lamp "A lamp behind a button"
use standard
supply tractor
part button : push_button_3_2
part lamp : visual_indicator
line air : tractor, button.1
line shown : button.2, lamp.in
never "dark": showing(lamp)
possible "lights up": showing(lamp)
"""


def written(tmp_path: Path) -> Path:
    path = tmp_path / "lamp.ilk"
    path.write_text(DESIGN)
    return path


def test_the_page_of_a_violated_design(tmp_path: Path) -> None:
    page = tmp_path / "lamp.html"
    done = shutproof("report", written(tmp_path), "-o", page, "--date", "2025-03-31")
    assert (done.returncode, done.stdout) == (1, "")
    content = page.read_text()
    assert content.startswith("<!doctype html>")
    assert "2025-03-31" in content
    assert "This must never be: lamp showing" in content


def test_one_property_alone_and_to_standard_output(tmp_path: Path) -> None:
    done = shutproof("report", written(tmp_path), "--property", "lights up")
    assert done.returncode == 0
    assert "lights up" in done.stdout
    assert "dark</bdi>" not in done.stdout


def test_what_is_refused(tmp_path: Path) -> None:
    design, page = written(tmp_path), tmp_path / "page.html"
    bad = ROOT / "tests" / "designs" / "rejected" / "E0501_port_left_open.ilk"
    for arguments, words in (
        ((design, "--date", "31.3.2025"), "31.3.2025 is no date like 2025-03-31"),
        ((design, "--property", "darkness"), 'there is no property "darkness"'),
        ((bad,), "E0501"),
        ((tmp_path / "none.ilk",), "none.ilk"),
    ):
        done = shutproof("report", *arguments, "-o", page)
        assert done.returncode == 2
        assert words in done.stderr
        assert not page.exists()


def test_cut_sets_and_their_stories(tmp_path: Path) -> None:
    page = tmp_path / "lamp.html"
    done = shutproof("report", written(tmp_path), "--property", "dark", "--faults", "1", "-o", page)
    assert done.returncode == 1
    assert "Faults that are enough to break it" in page.read_text()
    done = shutproof("report", written(tmp_path), "--property", "no race", "--faults", "1")
    assert done.returncode == 2
    assert "--faults asks about properties that the design states" in done.stderr


def test_the_page_of_a_change(tmp_path: Path) -> None:
    old, page = written(tmp_path), tmp_path / "change.html"
    new = tmp_path / "other.ilk"
    new.write_text(
        DESIGN.replace("line air", "part other : visual_indicator\nline air").replace(
            "lamp.in", "lamp.in, other.in"
        )
    )
    done = shutproof("report", "--compare", old, new, "-o", page)
    assert done.returncode == 0
    content = page.read_text()
    assert "+ part other" in content
    assert content.count("<template data-live=") == 2


def test_a_page_is_of_one_thing(tmp_path: Path) -> None:
    design = written(tmp_path)
    for arguments, words in (
        ((), "a page is of one FILE, or of --compare OLD NEW"),
        ((design, "--compare", design, design), "a page is of one FILE"),
        (("--compare", design, design, "--cores"), "are about one FILE"),
    ):
        done = shutproof("report", *arguments)
        assert done.returncode == 2
        assert words in done.stderr


RUN = """run "somebody presses"
design lamp
connect tractor
push button
wait
expect lamp showing
"""


def test_a_run_beside_the_verdicts(tmp_path: Path) -> None:
    design, run, page = written(tmp_path), tmp_path / "press.run", tmp_path / "page.html"
    asked = ("report", design, "--property", "lights up", "--run", run, "-o", page)
    run.write_text(RUN)
    assert shutproof(*asked).returncode == 0
    content = page.read_text()
    assert "somebody presses" in content
    assert "as expected: lamp showing" in content
    run.write_text(RUN.replace("showing", "hidden"))
    assert shutproof(*asked).returncode == 1
    assert "NOT as expected: lamp hidden" in page.read_text()


def test_what_is_no_run_makes_no_page(tmp_path: Path) -> None:
    design, run, page = written(tmp_path), tmp_path / "press.run", tmp_path / "page.html"
    for text, words in (
        (RUN.replace("push button", "push buton"), "did you mean `button`?"),
        (RUN.replace("design lamp", "design lantern"), "this run is of `lantern`"),
    ):
        run.write_text(text)
        done = shutproof("report", design, "--run", run, "-o", page)
        assert done.returncode == 2
        assert words in done.stderr
        assert not page.exists()
