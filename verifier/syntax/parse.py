"""The only module that knows lark: from text to `Source`, with every syntax mistake at once.

The grammar is LALR and a test proves it free of collisions in lark's strict mode; the parser that
runs here is built from the same text without repeating that proof. After a mistake the parser drops
the statement and goes on at the next line that begins one (`verifier.syntax.recover`).
"""

from __future__ import annotations

from functools import cache
from typing import Any

from lark import Lark, Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedToken
from lark.parsers.lalr_analysis import Shift
from lark.parsers.lalr_interactive_parser import InteractiveParser
from lark.parsers.lalr_parser_state import ParseConf

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits, exceeded
from verifier.diagnostics.span import Span
from verifier.syntax.build import BUILDERS
from verifier.syntax.failure import Failure
from verifier.syntax.lexeme import Context, Lexeme
from verifier.syntax.mistakes import explain, too_many
from verifier.syntax.recover import BLOCKS, OPENERS, Beginning, Lines
from verifier.syntax.resources import grammar_text
from verifier.syntax.text import MOST_SHOWN, check_text, comments_of
from verifier.syntax.tree import Assembly, ElementItem, Kind, Source

# Symbols that one level of nesting may keep waiting on the parser's stack, and those of a
# statement without nesting.
_SYMBOLS_PER_LEVEL, _SYMBOLS_FLAT = 8, 40
_NESTING = frozenset(
    ("negated", "implies", "every", "some", "atom", "factor", "plus", "minus", "times")
)


class _Parser:
    """The grammar's tables, and the written form of every terminal that has one."""

    def __init__(self) -> None:
        self.lark = Lark(
            grammar_text(), parser="lalr", keep_all_tokens=True, maybe_placeholders=False
        )
        self.written = {
            terminal.name: terminal.pattern.value
            for terminal in self.lark.terminals
            if terminal.pattern.type == "str"
        }
        self.terminal = {text: name for name, text in self.written.items()}
        self.words = frozenset(n for n, text in self.written.items() if text[0].isalpha())


@cache
def _parser() -> _Parser:
    return _Parser()


def parse(text: str, path: str, limits: Limits) -> Source:
    """Parse one file.

    Raises SourceError with all syntax mistakes of the file, sorted by place, or LimitError when the
    file is larger or nested deeper than `limits` allow. Nothing else is raised for any text.
    """
    check_text(text, path, limits)
    reading = _Reading(text, path, limits)
    tree = reading.read()
    context = Context(path, reading.problems)
    statements = _build(tree, context, limits) if tree is not None else ()
    if context.problems:
        raise SourceError(tuple(sorted(context.problems)), {path: text})
    _count(statements, path, limits)
    return Source(path, text, statements, comments_of(text, path))


class _Reading:
    """One pass of the parser over a text."""

    def __init__(self, text: str, path: str, limits: Limits) -> None:
        self.text = text
        self.path = path
        self.limits = limits
        self.problems: list[Diagnostic] = []
        self.parser = _parser()
        self.lines = Lines(text)
        self.machine: InteractiveParser = self.parser.lark.parse_interactive(text)
        self.tokens: list[Token] = []
        self.deepest = _SYMBOLS_FLAT + _SYMBOLS_PER_LEVEL * limits.max_nesting

    def read(self) -> Tree[Token] | None:
        """The tree, without the statements that have mistakes; None if it cannot be closed."""
        resumed_at = -1
        while True:
            try:
                return self._run()
            except UnexpectedToken as mistake:
                token: Token | None = mistake.token
                at = len(self.text) if token is None or token.type == "$END" else token.start_pos
            except UnexpectedCharacters as mistake:
                token, at = None, mistake.pos_in_stream
            assert at is not None
            failure = self._failure(token, at)
            # Where parsing was just taken up again, the statement may belong to what was dropped.
            if at != resumed_at:
                self.problems.append(explain(failure))
            if len(self.problems) >= MOST_SHOWN:
                self.problems.append(too_many(failure))
                return None
            beginning = self._resume(failure, resumed_at)
            if beginning is None:
                return self._finish()
            resumed_at = beginning.start

    def _run(self) -> Tree[Token]:
        """Feed tokens until the end of the text or a mistake."""
        state = self.machine.parser_state
        thread = self.machine.lexer_thread
        words, text, size = self.parser.words, self.text, len(self.text)
        stack = state.state_stack
        for token in thread.lex(state):  # type: ignore[no-untyped-call]
            end = token.end_pos
            assert end is not None
            if token.type in words and end < size and _in_word(text[end]):
                self._refuse_glued(token)
            state.feed_token(token)
            self.tokens.append(token)
            if len(stack) > self.deepest:
                raise self._too_deep(token.line)
        last = self.tokens[-1] if self.tokens else None
        stop = Token.new_borrow_pos("$END", "", last) if last else Token("$END", "", 0, 1, 1)
        tree: Tree[Token] = state.feed_token(stop, True)
        return tree

    def _refuse_glued(self, token: Token) -> None:
        """A keyword must end where its word ends: `partstop` is not `part stop`."""
        start, end = token.start_pos, token.end_pos
        assert start is not None
        assert end is not None
        while end < len(self.text) and _in_word(self.text[end]):
            end += 1
        word = Token("NAME", self.text[start:end], start, token.line, token.column)
        word.end_line, word.end_pos = token.line, end
        word.end_column = (token.column or 1) + end - start
        raise UnexpectedToken(word, set())  # type: ignore[no-untyped-call]

    def _too_deep(self, line: int | None) -> Exception:
        return exceeded(self.limits, "max_nesting", f"{self.path}:{line}", "levels of nesting")

    # ---- after a mistake ---------------------------------------------------------------------

    def _failure(self, token: Token | None, at: int) -> Failure:
        """What is known about the place where the parser stopped."""
        terminals = self.machine.accepts()  # type: ignore[no-untyped-call]
        accepts = frozenset(self.parser.written.get(name, name) for name in terminals)
        block, statement = self._open()
        if token is not None and token.type == "$END":
            lexeme = None
        elif token is not None:
            lexeme = _lexeme(token, self.path)
        else:
            line, column = self.lines.place(at)
            span = Span(self.path, line, column, line, column + 1)
            lexeme = Lexeme("CHAR", self.text[at], span)
        opener = statement or block
        before = [_lexeme(t, self.path) for t in self._since(opener)]
        return Failure(
            path=self.path,
            lines=self.lines,
            lexeme=lexeme,
            accepts=accepts,
            before=before,
            statement=_lexeme(statement, self.path) if statement else None,
            block=_lexeme(block, self.path) if block else None,
        )

    def _since(self, opener: Token | None) -> list[Token]:
        """The tokens from an opening keyword on; the last token alone without one."""
        if opener is None:
            return self.tokens[-1:]
        for index in range(len(self.tokens) - 1, -1, -1):
            if self.tokens[index] is opener:
                return self.tokens[index:]
        return self.tokens[-1:]

    def _open(self) -> tuple[Token | None, Token | None]:
        """The keywords of the block and of the statement within it that are not yet complete."""
        block: Token | None = None
        statement: Token | None = None
        for value in self.machine.parser_state.value_stack:
            if isinstance(value, Tree) and value.data in _KEYWORD_RULES:
                value = value.children[0]
            if not isinstance(value, Token):
                continue
            if value.type in _BLOCK_TERMINALS:
                block, statement = value, None
            elif value.type in _OPENER_TERMINALS and (
                statement is None or statement.type == "ELEMENT"
            ):
                statement = value
        return block, statement

    def _resume(self, failure: Failure, before: int) -> Beginning | None:
        """Go back to an open state that takes the next line which begins a statement.

        That line lies beyond the offset `before`, so every resumption makes progress.
        """
        floor, column = self._floor(failure)
        refused: set[tuple[str, int]] = set()
        for beginning in self.lines.beginnings(failure.resume_line(), failure.indentation()):
            # A line indented deeper than the open block belongs to it, whatever is wrong with it.
            least = floor if beginning.indentation >= column else 1
            if beginning.start <= before or (beginning.word, least) in refused:
                continue
            if self._go_back(self.parser.terminal[beginning.word], least):
                self._seek(beginning)
                return beginning
            refused.add((beginning.word, least))
        return None

    def _floor(self, failure: Failure) -> tuple[int, int]:
        """How many states the open block needs, and the column of its heading; 1, 1 without."""
        if failure.block is None:
            return 1, 1
        values = self.machine.parser_state.value_stack
        depth = max(
            index
            for index, value in enumerate(values)
            if isinstance(value, Token) and value.type in _BLOCK_TERMINALS
        )
        return depth + 2, self.lines.column(failure.block.span)

    def _go_back(self, terminal: str, least: int = 1) -> bool:
        """Drop open states, but keep `least`, until one is left that accepts the terminal."""
        machine = self.machine.parser_state
        for depth in range(len(machine.state_stack), least - 1, -1):
            if _takes(machine.parse_conf, machine.state_stack[:depth], terminal):
                del machine.state_stack[depth:]
                del machine.value_stack[depth - 1 :]
                return True
        return False

    def _finish(self) -> Tree[Token] | None:
        """The tree of all statements without mistakes."""
        if not self._go_back("$END"):
            return None
        stop = Token("$END", "", 0, 1, 1)
        tree: Tree[Token] = self.machine.parser_state.feed_token(stop, True)
        return tree

    def _seek(self, beginning: Beginning) -> None:
        state: Any = self.machine.lexer_thread.state
        counter = state.line_ctr
        counter.char_pos = beginning.start
        counter.line = beginning.line
        counter.line_start_pos = beginning.start - beginning.indentation
        counter.column = beginning.indentation + 1


_BLOCK_TERMINALS = frozenset(word.upper() for word in BLOCKS)
_OPENER_TERMINALS = frozenset(word.upper() for word in OPENERS)
# Keywords that the grammar wraps in a rule of their own.
_KEYWORD_RULES = frozenset(("never", "always", "possible", "liquid", "vapour"))


def _takes(tables: ParseConf[int], stack: list[int], terminal: str) -> bool:
    """Whether the parser, with these open states, would accept the terminal.

    The table alone does not tell: its lookaheads are those of merged states.
    """
    states = tables.states
    while stack[-1] != tables.end_state:
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


def _in_word(character: str) -> bool:
    return character == "_" or character.isalnum()


def _lexeme(token: Token, path: str) -> Lexeme:
    line, column = token.line or 1, token.column or 1
    span = Span(path, line, column, token.end_line or line, token.end_column or column)
    return Lexeme(token.type, str(token), span)


def _build(tree: Tree[Token], context: Context, limits: Limits) -> tuple[Any, ...]:
    """Run the builder of every rule, innermost first, without recursion."""
    path = context.path
    frames: list[tuple[str, Any, list[Any], list[int]]] = [
        (tree.data, iter(tree.children), [], [0])
    ]
    while True:
        rule, children, built, depth = frames[-1]
        for child in children:
            if isinstance(child, Tree):
                frames.append((child.data, iter(child.children), [], [0]))
                break
            built.append(_lexeme(child, path))
        else:
            frames.pop()
            if not frames:
                return tuple(built)
            value = BUILDERS[rule](context, built)
            levels = depth[0] + (rule in _NESTING)
            if levels > limits.max_nesting:
                where = f"{path}:{value.span.line}"
                raise exceeded(limits, "max_nesting", where, "levels of nesting")
            frames[-1][2].append(value)
            frames[-1][3][0] = max(frames[-1][3][0], levels)


def _count(statements: tuple[Any, ...], path: str, limits: Limits) -> None:
    count = 0
    for statement in statements:
        count += 1
        if isinstance(statement, Assembly | Kind):
            count += len(statement.items)
            count += sum(len(i.items) for i in statement.items if isinstance(i, ElementItem))
    if count > limits.max_statements:
        raise exceeded(limits, "max_statements", path, "statements")
