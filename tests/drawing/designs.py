"""Designs to draw: the library, the ones with seeded mistakes, and small and large members of the
families of tests/benchmarks."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from tests.benchmarks.families import FAMILIES
from verifier.drawing import Layout, lay_out
from verifier.model.circuit import Circuit
from verifier.model.load import load, load_text

ROOT = Path(__file__).resolve().parents[2]
LIBRARY = {path.stem: path for path in sorted((ROOT / "specs").glob("*/*.ilk"))}
SEEDED = {
    path.stem: path
    for folder in ("violated", "holds")
    for path in sorted((ROOT / "tests" / "designs" / folder).glob("*.ilk"))
}
# Every kind of the catalogue once, on one line.
CATALOGUE = ROOT / "tests" / "drawing" / "every_kind.ilk"


@cache
def library(name: str) -> tuple[Circuit, Layout]:
    return drawn(load(LIBRARY[name]).circuit)


def drawn(circuit: Circuit) -> tuple[Circuit, Layout]:
    return circuit, lay_out(circuit)


def member(family: str, *sizes: int) -> Circuit:
    return load_text(FAMILIES[family].member(*sizes).text).circuit
