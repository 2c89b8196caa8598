"""What README.md shows is what happens."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from verifier import load_text, prove

ROOT = Path(__file__).resolve().parent.parent
TEXT = (ROOT / "README.md").read_text()
PROGRAMS = Path(sys.executable).parent


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", TEXT, re.MULTILINE | re.DOTALL)


def run(command: str) -> subprocess.CompletedProcess[str]:
    """In a shell, with the programs of this environment first on the path."""
    path = f"{PROGRAMS}{os.pathsep}{os.environ['PATH']}"
    return subprocess.run(
        ["bash", "-c", command],
        cwd=ROOT,
        env={**os.environ, "PATH": path},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )


def first_command() -> list[str]:
    """The parts of the first command that come after setting up."""
    return [part.strip() for part in blocks("sh")[0].split("&&") if "shutproof prove" in part]


def test_opens_with_two_commands() -> None:
    setting_up, testing = blocks("sh")[:2]
    assert setting_up.startswith("python3 -m venv .venv")
    assert "pytest" in testing
    assert TEXT.index("```sh") < TEXT.index("\n## ")


def test_first_command_proves_two_and_breaks_a_third() -> None:
    proved, broken = (run(part) for part in first_command())
    assert proved.returncode == 0, proved.stdout + proved.stderr
    assert proved.stdout.count(" properties, ") == 2
    assert "violated" not in proved.stdout
    assert broken.returncode == 1
    assert "violated" in broken.stdout


def test_story_is_current() -> None:
    (story,) = blocks("text")
    assert run(first_command()[1]).stdout == story


def test_design_is_the_library_s() -> None:
    """Paragraph by paragraph: some of its properties are left out."""
    (shown,) = blocks("ilk")
    whole = (ROOT / "specs" / "heron" / "heron.ilk").read_text()
    paragraphs = shown.strip().split("\n\n")
    assert len(paragraphs) > 5
    places = [whole.index(paragraph) for paragraph in paragraphs]
    assert places == sorted(places)


@pytest.mark.parametrize(("name", "verdict"), [("fulmar", "holds"), ("skua", "violated")])
def test_a_torn_tube_and_the_two_stops(name: str, verdict: str) -> None:
    (said,) = blocks("ilk fragment")
    whole = (ROOT / "specs" / name / f"{name}.ilk").read_text()
    asked = "a torn tube does not undo the stop"
    (found,) = prove(load_text(f"{whole}\n{said}"), names=(asked,)).properties
    assert (found.name, found.verdict) == (asked, verdict)


def test_python_example_runs() -> None:
    (program,) = blocks("python")
    done = run(f"{shlex.quote(sys.executable)} -c {shlex.quote(program)}")
    assert (done.returncode, done.stdout) == (0, "holds []\n"), done.stderr


@pytest.mark.parametrize("command", re.findall(r"`shutproof (\w+)", TEXT))
def test_commands_exist(command: str) -> None:
    assert run(f"shutproof {command} --help").returncode == 0


@pytest.mark.parametrize("target", re.findall(r"\]\(([^)#]+)\)", TEXT))
def test_links_lead_somewhere(target: str) -> None:
    assert (ROOT / target).exists()


def test_the_sheet_and_the_diagnosis_are_as_told(tmp_path: Path) -> None:
    (made,) = (one for one in blocks("sh") if one.startswith("shutproof commission"))
    page = tmp_path / "test.html"
    done = run(made.replace("heron-test.html", shlex.quote(str(page))))
    assert done.returncode == 0, done.stderr
    assert "Test of heron" in page.read_text()
    (asked,) = (one for one in blocks("sh") if one.startswith("shutproof diagnose"))
    done = run(asked)
    assert done.returncode == 0, done.stderr
    told = done.stdout
    assert told.index("stop is pushed") < told.index("has failed") < told.index("Next, ")


def test_the_change_under_review_is_worse() -> None:
    (command,) = (one for one in blocks("sh") if one.startswith("shutproof compare"))
    done = run(command)
    assert done.returncode == 1
    assert '! "the drawn selector opens its foot valve" is violated, and held' in done.stdout


def test_a_mistake_is_shown_with_its_story() -> None:
    (commands,) = (one for one in blocks("sh") if one.startswith("shutproof hookup"))
    listing, mistakes = commands.strip().split("\n")
    assert run(listing.replace(" -o connections.html", "")).stdout.startswith("<!doctype html>")
    done = run(mistakes)
    assert done.returncode == 1
    assert 'breaks "the indicator shows when the vents are open"' in done.stdout
    assert "A way there, from the start" in done.stdout


def test_a_circuit_is_worked_by_hand() -> None:
    (session,) = (one for one in blocks("sh") if one.startswith("shutproof operate"))
    done = run(session)
    assert done.returncode == 0, done.stderr
    assert 'This breaks always "the stop shuts every valve" for i=2' in done.stdout
    assert "foot[2] stands open: the fault acts: foot[2] stuck" in done.stdout


def test_the_run_is_a_test(tmp_path: Path) -> None:
    (script,) = blocks("run")
    (tmp_path / "stop.run").write_text(script)
    (command,) = re.findall(r"`(shutproof operate [^`]*--script[^`]*)`", TEXT)[:1]
    done = run(command.replace("stop.run", shlex.quote(str(tmp_path / "stop.run"))))
    assert done.returncode == 0, done.stdout + done.stderr
    assert "4 of 4 expectations met, in 20 orders" in done.stdout
