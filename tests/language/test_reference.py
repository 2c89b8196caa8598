"""The reference is what the program does: every block in it, every table, every rule number."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from lark import Lark, Tree

from tests.language.blocks import Block, ilk_blocks
from verifier.diagnostics.codes import CODES
from verifier.diagnostics.diagnostic import SourceError
from verifier.diagnostics.limits import Limits
from verifier.model.load import load_text
from verifier.model.units import UNITS
from verifier.shipped import grammar_folder
from verifier.studies.modelling import KNOWN
from verifier.studies.prove import prove
from verifier.syntax import tree
from verifier.syntax.parse import parse

PACKAGE = Path(__file__).resolve().parents[2] / "verifier"
REFERENCE = (grammar_folder() / "REFERENCE.md").read_text()
BLOCKS = list(ilk_blocks(REFERENCE))
MARKS = {"", "fragment", "rejected", "warned"}


def name_of(block: Block) -> str:
    return f"line {block.line} {block.mark}".strip()


@pytest.mark.parametrize("block", BLOCKS, ids=name_of)
def test_block(block: Block) -> None:
    assert block.mark in MARKS
    assert bool(block.codes) == (block.mark in ("rejected", "warned"))
    if block.mark == "fragment":
        assert parse(block.text, "fragment.ilk", Limits()).statements
    elif block.mark == "rejected":
        with pytest.raises(SourceError) as refused:
            prove(load_text(block.text))
        assert {one.code for one in refused.value.diagnostics} == set(block.codes)
    else:
        assert {one.code for one in load_text(block.text).warnings} == set(block.codes)


def test_every_block_of_the_language_is_tried() -> None:
    assert len(BLOCKS) == REFERENCE.count("\n```ilk")
    assert {block.mark for block in BLOCKS} == MARKS


def test_every_form_of_the_grammar_stands_in_a_block() -> None:
    """Every rule and every named alternative, save those that lark folds into their child."""
    grammar = (grammar_folder() / "interlock.lark").read_text()
    parser = Lark(grammar, parser="lalr", strict=True, maybe_placeholders=False)
    shown: set[str] = set()
    for block in BLOCKS:
        if block.mark != "rejected":
            for found in parser.parse(block.text).iter_subtrees():
                assert isinstance(found, Tree)
                shown.add(found.data)
    named = set(re.findall(r"-> (\w+)", grammar))
    plain = {
        rule.group(1)
        for rule in re.finditer(r"^(\w+):((?:.|\n(?=[ ]))*)", grammar, re.MULTILINE)
        if "->" not in rule.group(2)
    }
    plain -= {name for name in plain if name.isupper()}
    assert named | plain <= shown, sorted((named | plain) - shown)


def rows(heading: str) -> list[tuple[str, ...]]:
    """The cells of the first table below a heading."""
    section = REFERENCE.split(f"\n## {heading}\n", 1)[1].split("\n## ", 1)[0]
    table = re.search(r"\n(\|.*\|\n)(\|[-|]+\|\n)((?:\|.*\|\n)+)", section)
    assert table is not None
    lines = table.group(3).strip().split("\n")
    return [tuple(cell.strip() for cell in line.strip("|").split(" | ")) for line in lines]


def test_codes_are_those_of_the_registry() -> None:
    found = rows("Diagnostics")
    assert [(code, meaning) for code, meaning, _ in found] == list(CODES.items())
    assert all(remedy for _, _, remedy in found)


def test_catalogue_is_listed_in_full() -> None:
    source = parse((grammar_folder() / "standard.ilk").read_text(), "standard.ilk", Limits())
    kinds = [item for item in source.statements if isinstance(item, tree.Kind)]
    assert rows("The catalogue") == [(f"`{kind.name}`", kind.doc) for kind in kinds]


def test_modelling_assumptions_are_listed_in_full() -> None:
    known = [(one.name, one.says) for one in KNOWN]
    assert rows("Modelling assumptions") == known


def test_units_are_listed_in_full() -> None:
    line = re.search(r"- \*\*Units\*\*: (.*)\.\n", REFERENCE)
    assert line is not None
    assert set(re.findall(r"`(\w+)`", line.group(1))) == set(UNITS)


def test_rules_that_code_cites_are_there() -> None:
    rules = re.findall(r"^\*\*([PMOFQ]\d+)\.\*\*", REFERENCE, re.MULTILINE)
    assert len(rules) == len(set(rules))
    for letter in "PMOFQ":
        numbers = [int(rule[1:]) for rule in rules if rule[0] == letter]
        assert numbers == list(range(1, len(numbers) + 1))
    cited = {
        rule
        for path in PACKAGE.rglob("*.py")
        for rule in re.findall(r"\b([PMOFQ][1-9]\d?)\b", comments_of(path.read_text()))
    }
    assert cited <= set(rules), sorted(cited - set(rules))


def comments_of(text: str) -> str:
    """Docstrings and comments of a module."""
    return "\n".join(re.findall(r'"""(?:.|\n)*?"""|#.*', text))


# What an example does not prove, on purpose.
BROKEN = {"tee": {"either button shows", "no contest"}, "seesaw": {"comes to rest"}}


@pytest.mark.parametrize(
    "block", [block for block in BLOCKS if block.mark in ("", "warned")], ids=name_of
)
def test_examples_are_true(block: Block) -> None:
    """Every property of every example is proved, but for the tee, where supply and exhaust fight,
    and the seesaw, which may go on for ever."""
    result = prove(load_text(block.text))
    verdicts = {item.name: item.verdict for item in result.properties}
    broken = {name for name, verdict in verdicts.items() if verdict in ("violated", "vacuous")}
    assert broken == BROKEN.get(result.design, set())
    # That rest is reached may be more than the prover can tell.
    open_questions = {name for name, verdict in verdicts.items() if verdict == "inconclusive"}
    assert open_questions <= {"comes to rest"}
    assert any(not item.free for item in result.properties)
