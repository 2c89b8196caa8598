"""The README's recipe for build servers, in a repository of its own: a change that breaks a
property turns red, with the story in the report."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path
from xml.etree import ElementTree

from tests.library.shelf import LAMP, ROOT, SHUTPROOF


def run(command: str, folder: Path) -> int:
    path = f"{SHUTPROOF.parent}{os.pathsep}{os.environ['PATH']}"
    return subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env={**os.environ, "PATH": path, "GIT_CONFIG_GLOBAL": os.devnull},
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        timeout=120,
        check=False,
    ).returncode


def test_a_change_that_breaks_a_property_turns_red(tmp_path: Path) -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    (recipe,) = re.findall(r"^```sh\n(shutproof approve .*?)^```$", text, re.M | re.S)
    approve, regress = recipe.splitlines()
    design = tmp_path / "designs" / "heron.ilk"
    design.parent.mkdir()
    design.write_text(LAMP)
    commit = "git add designs && git -c user.name=Q -c user.email=q@example.invalid commit -q -m"
    assert run(f"git init -q && {approve} && {commit} approved", tmp_path) == 0
    assert run(regress, tmp_path) == 0
    design.write_text(LAMP.replace("tractor is present and ", ""))
    assert run(f"{commit} changed", tmp_path) == 0
    assert run(regress, tmp_path) == 1
    (failure,) = ElementTree.parse(tmp_path / "report.xml").iter("failure")
    assert failure.get("type") == "changed"
    assert "The shortest way there" in (failure.text or "")
