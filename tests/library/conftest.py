"""A small folder of designs, two of them approved."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.library.shelf import LAMP, ROOT, shutproof


@pytest.fixture(scope="session")
def approved_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("library")
    (folder / "lamps").mkdir()
    (folder / "lamps" / "lamp.ilk").write_text(LAMP)
    (folder / "heron").mkdir()
    shutil.copy(ROOT / "specs" / "heron" / "heron.ilk", folder / "heron")
    for name in ("lamps/lamp.ilk", "heron/heron.ilk"):
        done = shutproof(
            "approve",
            folder / name,
            "--by",
            "Q. Test",
            "--reason",
            "for the test",
            "--date",
            "2026-02-03",
        )
        assert done.returncode == 0, done.stderr
    return folder


@pytest.fixture
def library(approved_once: Path, tmp_path: Path) -> Path:
    """A copy that a test may spoil."""
    folder = tmp_path / "library"
    shutil.copytree(approved_once, folder)
    return folder
