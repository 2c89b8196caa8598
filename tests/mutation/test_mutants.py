"""The mutants are what they are said to be, and the table of those that live is up to date."""

from __future__ import annotations

import ast

import pytest

from tests.mutation.groups import GROUPS, Group
from tests.mutation.mutants import ROOT, Mutant, mutants_of, mutated
from tests.mutation.survivors import Survivor, reasons


@pytest.mark.parametrize("group", GROUPS, ids=lambda group: group.name)
def test_groups_name_what_there_is(group: Group) -> None:
    for path in group.paths():
        assert mutants_of(path)
        for test in group.tests_of(path):
            assert (ROOT / test.partition("::")[0]).exists()


def test_every_entry_of_the_table_is_a_mutant_of_today() -> None:
    known = {
        Survivor.of(mutant)
        for group in GROUPS
        for path in group.paths()
        for mutant in mutants_of(path)
    }
    assert not set(reasons()) - known
    assert all(len(reason) > 20 for reason in reasons().values())


def test_a_mutant_differs_in_one_place() -> None:
    path = "verifier/transition/driven.py"
    plain = ast.unparse(ast.parse((ROOT / path).read_text(encoding="utf-8")))
    mutants = mutants_of(path)
    texts = [ast.unparse(mutated(mutant)) for mutant in mutants]
    assert len(set(texts)) > 0.95 * len(texts)
    for mutant, text in zip(mutants, texts, strict=True):
        assert text != plain
        changed = [
            (a, b) for a, b in zip(text.splitlines(), plain.splitlines(), strict=True) if a != b
        ]
        assert len(changed) == 1, mutant


def test_the_kinds_of_changes() -> None:
    changes = {one.change for one in mutants_of("verifier/transition/driven.py")}
    assert "cases > MOST_CASES -> cases >= MOST_CASES" in changes
    assert "volume in found -> volume not in found" in changes
    assert "found.add(volume) -> pass" in changes
    assert "return False" not in " ".join(changes)
    assert isinstance(mutants_of("verifier/transition/graph.py")[0], Mutant)
