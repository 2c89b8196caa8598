"""Output files: whole or not there, and nothing else left behind."""

from __future__ import annotations

import os
from pathlib import Path

import click
import pytest
from command import HERON, shutproof

from verifier.cli import files
from verifier.cli.files import FileTrouble, write_whole


def test_written_file_equals_standard_output(tmp_path: Path) -> None:
    target = tmp_path / "heron.json"
    done = shutproof("export", HERON, "--as", "circuit", "-o", target)
    assert (done.returncode, done.stdout) == (0, "")
    assert target.read_text() == shutproof("export", HERON, "--as", "circuit").stdout
    assert os.listdir(tmp_path) == ["heron.json"]


def test_a_failed_write_leaves_the_old_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    target = tmp_path / "old.json"
    target.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)
    with pytest.raises(FileTrouble, match="No space left"):
        write_whole(target, b"new")
    assert target.read_text() == "old"
    assert os.listdir(tmp_path) == ["old.json"]


def test_permissions_stay_as_they_were(tmp_path: Path) -> None:
    target = tmp_path / "private.json"
    target.write_text("old")
    target.chmod(0o640)
    write_whole(target, b"new")
    assert target.read_bytes() == b"new"
    assert target.stat().st_mode & 0o777 == 0o640


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    done = shutproof("schema", "result", "-o", tmp_path / "none" / "result.json")
    assert done.returncode == 2
    assert "cannot be written" in done.stderr


def test_trouble_with_files_is_wrong_usage() -> None:
    assert issubclass(FileTrouble, click.ClickException)
    assert FileTrouble.exit_code == 2


def test_format_in_place(tmp_path: Path) -> None:
    path = tmp_path / "heron.ilk"
    canonical = shutproof("format", HERON).stdout
    path.write_text(canonical.replace("  ", " \t "))
    assert shutproof("format", "--check", path).returncode == 1
    assert shutproof("format", "--write", path).returncode == 0
    assert path.read_text() == canonical
    assert shutproof("format", "--check", path).returncode == 0
