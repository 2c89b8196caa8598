"""Approvals: what is refused, what is written, and that nothing is ever half written."""

from __future__ import annotations

import os
import subprocess
import tomllib
from pathlib import Path

import pytest

from tests.library.shelf import LAMP, SHUTPROOF, shutproof
from verifier.library.approvals import Approval, current, read, sealed, text_of


def test_what_does_not_hold_is_not_approved(tmp_path: Path) -> None:
    lamp = tmp_path / "lamp.ilk"
    lamp.write_text(LAMP.replace("tractor is present and ", ""))
    done = shutproof("approve", lamp, "--by", "Q", "--reason", "none")
    assert done.returncode == 1
    assert "not all of it holds: the button shows" in done.stderr
    assert os.listdir(tmp_path) == ["lamp.ilk"]


def test_what_is_no_design_is_not_approved(tmp_path: Path) -> None:
    bad = tmp_path / "bad.ilk"
    bad.write_text("design bad\npart x : nothing_known\n")
    done = shutproof("approve", bad, "--by", "Q", "--reason", "none")
    assert done.returncode == 2
    assert "nothing_known" in done.stderr
    assert os.listdir(tmp_path) == ["bad.ilk"]


def test_the_file_says_who_approved_what(library: Path) -> None:
    folder = library / "lamps"
    (written,) = tomllib.loads((folder / "approval.toml").read_text())["approval"]
    assert (written["by"], written["reason"]) == ("Q. Test", "for the test")
    assert (written["date"], written["replaces"]) == ("2026-02-03", "")
    assert written["verdicts"]["the button shows"] == "holds"
    assert set(written["made_with"]) == {"shutproof", "z3-solver", "python-sat"}
    assert (folder / written["certificate"]).is_file()


def test_a_new_approval_names_the_one_it_replaces(library: Path) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    lamp.write_text(LAMP.replace("line shown", "line seen"))
    done = shutproof("approve", lamp, "--by", "Q", "--reason", "renamed", "--faults", "1")
    assert done.returncode == 0, done.stderr
    first, last = read(lamp.parent)
    assert last.replaces == first.digest
    assert current((first, last)) == {"lamp.ilk": last}
    assert last.cut_sets["the button shows"][0] == 0
    assert last.cut_sets["the button shows"][1] > 0
    assert [one.name for one in lamp.parent.glob("*.certificate.json")] == [last.certificate]


STRINGS = ["", 'a "quoted" \\ text', "tab\tand\nnewline", "\x7f\x01", "שלום", "\u202e", "= [x]"]


@pytest.mark.parametrize("text", STRINGS)
def test_any_text_comes_back(text: str, tmp_path: Path) -> None:
    """Against Python's own reader of TOML."""
    one = sealed(
        Approval(
            design="x.ilk",
            title=text,
            revision=text,
            circuit="0",
            language=1,
            by=text,
            reason=text,
            date="2026-01-01",
            replaces="",
            certificate="c",
            certificate_sha256="0",
            verdict="holds",
            verdicts={text: "holds"},
            made_with={},
            cut_sets={text: (0, 1)},
        )
    )
    (tmp_path / "approval.toml").write_text(text_of((one,)), encoding="utf-8")
    assert read(tmp_path) == (one,)


def test_where_nothing_can_be_written(library: Path) -> None:
    folder = library / "lamps"
    (folder / "approval.toml").unlink()
    (folder / "approval.toml").mkdir()
    done = shutproof("approve", folder / "lamp.ilk", "--by", "Q", "--reason", "none")
    assert done.returncode == 2
    assert "lamps: Is a directory" in done.stderr


def test_two_at_once_lose_nothing(library: Path) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    processes = [
        subprocess.Popen(
            [SHUTPROOF, "approve", lamp, "--by", f"Q{k}", "--reason", "both"],
            stdout=subprocess.DEVNULL,
        )
        for k in range(2)
    ]
    assert [process.wait(120) for process in processes] == [0, 0]
    assert {one.by for one in read(lamp.parent)} == {"Q. Test", "Q0", "Q1"}
