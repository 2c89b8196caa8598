"""The same input gives the same bytes, whatever the hash seed."""

from __future__ import annotations

import pytest
from command import BANK_FROM_MASTER, HERON, shutproof

SEEDS = ("0", "1", "4242")


@pytest.mark.parametrize(
    "arguments",
    [
        ["prove", "--json", HERON],
        ["prove", BANK_FROM_MASTER],
        ["export", HERON, "--as", "circuit"],
        ["export", HERON, "--as", "smt2"],
        ["check", "--strict", BANK_FROM_MASTER],
    ],
    ids=lambda arguments: " ".join(map(str, arguments[:2])),
)
def test_any_hash_seed(arguments: list[object]) -> None:
    outputs = {
        (done.returncode, done.stdout, done.stderr)
        for done in (shutproof(*arguments, PYTHONHASHSEED=seed) for seed in SEEDS)
    }
    assert len(outputs) == 1
