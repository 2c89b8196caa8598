"""The grammar itself: free of collisions, every rule built, keywords only where they can stand."""

from __future__ import annotations

import subprocess
import sys

import pytest
from lark import Lark

from tests.syntax.trees import KEYWORDS
from verifier.diagnostics.limits import Limits
from verifier.syntax.build import BUILDERS
from verifier.syntax.parse import parse
from verifier.syntax.recover import OPENERS, TOP
from verifier.syntax.resources import catalogue_path, grammar_text, tables_path
from verifier.syntax.tables import derive, dump, parser, revive
from verifier.syntax.tree import Integer, LineStatement, PartStatement, Statement


def only(text: str) -> Statement:
    (statement,) = parse(text, "design.ilk", Limits()).statements
    return statement


def test_strict_mode_finds_no_collision() -> None:
    """Strict mode refuses shift/reduce conflicts and terminals that match a common text."""
    strict = Lark(
        grammar_text(), parser="lalr", strict=True, keep_all_tokens=True, maybe_placeholders=False
    )
    assert strict.parse("part in : kind role role").children


def test_every_rule_has_its_builder() -> None:
    lark = Lark(grammar_text(), parser="lalr", keep_all_tokens=True, maybe_placeholders=False)
    produced = {
        rule.alias or str(rule.origin.name)
        for rule in lark.rules
        # Rules that lark folds into their only child leave no node, helpers of `*` neither.
        if not rule.origin.name.startswith("__")
        and not (rule.options.expand1 and not rule.alias and len(rule.expansion) == 1)
    }
    assert produced - {"start"} == set(BUILDERS)


def test_keywords_of_the_tests_and_of_recovery_are_those_of_the_grammar() -> None:
    lark = Lark(grammar_text(), parser="lalr")
    words = {t.pattern.value for t in lark.terminals if t.pattern.value[0].isalpha()}
    assert set(KEYWORDS) == words
    assert set(OPENERS) <= words
    assert len(set(TOP)) == len(TOP)


def test_the_kept_tables_are_those_of_the_grammar() -> None:
    """After a change of the grammar: python -m verifier.syntax.tables."""
    assert tables_path().read_text(encoding="utf-8") == dump(derive(grammar_text()))


def test_without_kept_tables_the_same_parser_is_derived() -> None:
    derived, kept = revive(derive(grammar_text())), parser()
    assert derived.machine.states == kept.machine.states
    assert derived.machine.end_state == kept.machine.end_state
    assert derived.written == kept.written


@pytest.mark.parametrize("word", KEYWORDS)
def test_keywords_may_name_things(word: str) -> None:
    part = only(f"part {word}[{word} in 1..{word}] : {word}({word} = 3 {word}) role {word}")
    assert isinstance(part, PartStatement)
    assert (part.family.name, part.kind, part.roles) == (word, word, (word,))
    line = only(f"line {word} : {word}.{word}[{word}], {word}[1].{word}")
    assert isinstance(line, LineStatement)
    assert [s.name for end in line.ends for s in end.segments] == [word] * 4


def test_a_number_before_two_dots_is_no_decimal() -> None:
    part = only("part a[1..3] : k")
    assert isinstance(part, PartStatement)
    (dimension,) = part.family.dimensions
    assert isinstance(dimension.low, Integer)
    assert isinstance(dimension.high, Integer)
    assert (dimension.low.value, dimension.high.value) == (1, 3)


def test_the_catalogue_travels_with_the_grammar() -> None:
    assert catalogue_path().read_text(encoding="utf-8").startswith("#")


def test_only_the_parser_imports_lark() -> None:
    code = (
        "import sys, verifier.syntax.layout, verifier.syntax.mistakes, verifier.diagnostics.render"
    )
    checked = f"{code}; sys.exit('lark' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", checked], check=False).returncode == 0
