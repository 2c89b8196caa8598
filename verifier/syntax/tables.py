"""The parser's tables, kept as JSON beside the grammar, since deriving them takes lark a while.

`python -m verifier.syntax.tables` writes them anew after a change of the grammar. Tables of another
grammar text than the present one are not used: then lark derives them on the spot.
"""

from __future__ import annotations

import hashlib
import json
import re
from functools import cache
from typing import Any

from lark import Lark, Tree
from lark.common import LexerConf
from lark.grammar import NonTerminal, Rule, RuleOptions, Terminal
from lark.lexer import ContextualLexer, PatternRE, PatternStr, TerminalDef
from lark.parse_tree_builder import ParseTreeBuilder
from lark.parsers.lalr_analysis import IntParseTable, Reduce, Shift
from lark.parsers.lalr_parser_state import ParseConf

from verifier.syntax.resources import grammar_text, tables_path

START = "start"


class Parser:
    """What reading a text needs; holds no state from one text to the next.

    written: how every terminal that is a fixed text is written; terminal: the converse.
    words: the terminals that are words rather than signs.
    """

    def __init__(self, machine: ParseConf[int], lexer: ContextualLexer) -> None:
        self.machine = machine
        self.lexer = lexer
        self.written = {
            terminal.name: terminal.pattern.value
            for terminal in lexer.root_lexer.terminals_by_name.values()
            if terminal.pattern.type == "str"
        }
        self.terminal = {text: name for name, text in self.written.items()}
        self.words = frozenset(n for n, text in self.written.items() if text[0].isalpha())

    def takes(self, stack: list[int], terminal: str) -> bool:
        """Whether the parser, with these open states (consumed here), accepts the terminal.

        A state's row alone does not tell: its lookaheads are those of merged states.
        """
        states = self.machine.states
        while stack[-1] != self.machine.end_state:
            found = states[stack[-1]].get(terminal)
            if found is None:
                return False
            action, rule = found
            if action is Shift:
                return True
            if rule.expansion:
                del stack[-len(rule.expansion) :]
            stack.append(states[stack[-1]][rule.origin.name][1])
        return True

    def accepts(self, stack: list[int]) -> frozenset[str]:
        """The terminals that can come next, as written, or NAME, INT, DECIMAL, STRING, $END."""
        row = self.machine.states[stack[-1]]
        found = [name for name in row if name.isupper() and self.takes(stack.copy(), name)]
        return frozenset(self.written.get(name, name) for name in found)


@cache
def parser() -> Parser:
    """The parser of the shipped grammar, from the kept tables if they are those of its text."""
    text = grammar_text()
    path = tables_path()
    kept = json.loads(path.read_text(encoding="utf-8")) if path.is_file() else {}
    return revive(kept) if kept.get("grammar") == fingerprint(text) else revive(derive(text))


def fingerprint(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


def derive(text: str) -> dict[str, Any]:
    """The tables of a grammar as plain data, numbered alike on every run."""
    lark = Lark(text, parser="lalr", keep_all_tokens=True, maybe_placeholders=False)
    table = lark.parser.parser._parse_table  # lark has no public name for it
    rules = sorted(lark.rules, key=_rule_key)
    rule_number = {_rule_key(rule): number for number, rule in enumerate(rules)}
    order = _state_order(table)
    number = {state: place for place, state in enumerate(order)}
    lookaheads: dict[tuple[str, ...], int] = {}
    states = []
    for state in order:
        shifts: dict[str, int] = {}
        reductions: dict[int, list[str]] = {}
        for symbol, (action, target) in sorted(table.states[state].items()):
            if action is Shift:
                shifts[symbol] = number[target]
            else:
                reductions.setdefault(rule_number[_rule_key(target)], []).append(symbol)
        reduces = [
            [rule, lookaheads.setdefault(tuple(symbols), len(lookaheads))]
            for rule, symbols in sorted(reductions.items())
        ]
        states.append([shifts, reduces])
    return {
        "grammar": fingerprint(text),
        "terminals": [
            [t.name, t.pattern.type, t.pattern.value, sorted(t.pattern.flags), t.priority]
            for t in sorted(lark.terminals, key=lambda t: t.name)
        ],
        "ignore": sorted(lark.ignore_tokens),
        "rules": [[*_rule_key(r), r.alias, r.options.expand1, r.order] for r in rules],
        "lookaheads": [list(symbols) for symbols in lookaheads],
        "states": states,
        "end": number[table.end_states[START]],
    }


def _rule_key(rule: Rule) -> tuple[str, tuple[str, ...]]:
    return rule.origin.name, tuple(symbol.name for symbol in rule.expansion)


def _state_order(table: IntParseTable) -> list[int]:
    """States as they are met from the start, symbols in alphabetical order."""
    order = [table.start_states[START]]
    met = set(order)
    for state in order:
        for _, (action, target) in sorted(table.states[state].items()):
            if action is Shift and target not in met:
                met.add(target)
                order.append(target)
    return order


def revive(kept: dict[str, Any]) -> Parser:
    """The parser that the tables describe."""
    terminals = [
        TerminalDef(name, (PatternStr if sort == "str" else PatternRE)(value, flags), priority)
        for name, sort, value, flags, priority in kept["terminals"]
    ]
    named = {terminal.name for terminal in terminals}
    rules = [
        Rule(
            NonTerminal(origin),
            [Terminal(name) if name in named else NonTerminal(name) for name in expansion],
            order,
            alias,
            RuleOptions(keep_all_tokens=True, expand1=expand1),
        )
        for origin, expansion, alias, expand1, order in kept["rules"]
    ]
    states: dict[int, dict[str, Any]] = {}
    for number, (shifts, reduces) in enumerate(kept["states"]):
        row: dict[str, Any] = {symbol: (Shift, target) for symbol, target in shifts.items()}
        for rule, lookahead in reduces:
            action = (Reduce, rules[rule])
            row.update((symbol, action) for symbol in kept["lookaheads"][lookahead])
        states[number] = row
    ends = {START: kept["end"]}
    table = IntParseTable(states, {START: 0}, ends)  # type: ignore[no-untyped-call]
    builder = ParseTreeBuilder(rules, Tree)  # type: ignore[no-untyped-call]
    callbacks = builder.create_callback()  # type: ignore[no-untyped-call]
    lexing = LexerConf(terminals, re, kept["ignore"], skip_validation=True)
    lexer = ContextualLexer(lexing, {state: list(row) for state, row in states.items()})
    return Parser(ParseConf(table, callbacks, START), lexer)


def dump(kept: dict[str, Any]) -> str:
    """The tables as JSON, one entry a line."""
    parts = []
    for key, value in kept.items():
        if isinstance(value, list):
            lines = ",\n".join(json.dumps(entry, separators=(",", ":")) for entry in value)
            parts.append(f'"{key}":[\n{lines}\n]')
        else:
            parts.append(f'"{key}":{json.dumps(value)}')
    return "{\n" + ",\n".join(parts) + "\n}\n"


if __name__ == "__main__":
    tables_path().write_text(dump(derive(grammar_text())), encoding="utf-8")
