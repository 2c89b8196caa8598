"""The compiler and the simulator share the circuit and nothing else."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parent.parent.parent / "verifier"
SHARED = ("verifier.model", "verifier.diagnostics")


@pytest.mark.parametrize("package", ["transition", "simulation"])
def test_imports_come_from_the_package_or_the_model(package: str) -> None:
    paths = sorted((PACKAGE / package).glob("*.py"))
    assert len(paths) > 5
    own = (f"verifier.{package}", *SHARED)
    foreign = [
        (path.name, name)
        for path in paths
        for name in imported(path)
        if name.startswith("verifier") and not name.startswith(own)
    ]
    assert not foreign


def imported(path: Path) -> list[str]:
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path.name} imports relatively"
            found.append(node.module or "")
    return found
