"""The wheel alone, installed in an empty environment, proves a design from another folder."""

from __future__ import annotations

import shutil
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest
from command import HERON, ROOT


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    source = folder / "source"
    names = ("verifier", "grammar", "specs")
    for name in names:
        shutil.copytree(ROOT / name, source / name, ignore=shutil.ignore_patterns("__pycache__"))
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(ROOT / name, source / name)
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "-w", folder, source],
        check=True,
    )
    (built,) = folder.glob("*.whl")
    return built


def test_wheel_carries_what_it_needs(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    for needed in (
        "verifier/_grammar/interlock.lark",
        "verifier/_grammar/standard.ilk",
        "verifier/_grammar/REFERENCE.md",
        "verifier/_specs/heron/heron.ilk",
        "verifier/report/schemas/result.schema.json",
        "verifier/pages/templates/design.html",
        "verifier/pages/assets/page.css",
        "verifier/pages/assets/page.js",
        "verifier/py.typed",
    ):
        assert needed in names
    assert [name for name in names if name.startswith("tests")] == []


def test_wheel_proves_a_design_elsewhere(wheel: Path, tmp_path: Path) -> None:
    venv.create(tmp_path / "venv", with_pip=True)
    programs = tmp_path / "venv" / ("Scripts" if sys.platform == "win32" else "bin")
    subprocess.run([programs / "pip", "install", "--quiet", wheel], check=True)
    yard = tmp_path / "yard"
    yard.mkdir()
    shutil.copy(HERON, yard / "mine.ilk")
    done = subprocess.run(
        [programs / "shutproof", "prove", "mine.ilk"],
        cwd=yard,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.startswith("heron")
    listed = subprocess.run(
        [programs / "shutproof", "designs"], capture_output=True, text=True, check=True
    ).stdout.splitlines()
    assert len(listed) == 7
    assert all(Path(line).is_file() and ROOT not in Path(line).parents for line in listed)
