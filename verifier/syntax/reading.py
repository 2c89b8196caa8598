"""One pass of the parser over a text, with recovery after every mistake."""

from __future__ import annotations

from typing import Any

from lark import Token, Tree
from lark.exceptions import UnexpectedCharacters, UnexpectedToken
from lark.lexer import LexerThread
from lark.parsers.lalr_parser_state import ParserState

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.limits import Limits, exceeded
from verifier.diagnostics.span import Span
from verifier.syntax.failure import Failure
from verifier.syntax.lexeme import Lexeme
from verifier.syntax.mistakes import explain, too_many
from verifier.syntax.recover import BLOCKS, OPENERS, Beginning, Lines
from verifier.syntax.tables import parser
from verifier.syntax.text import MOST_SHOWN

# Symbols that one level of nesting may keep waiting on the parser's stack, and those of a
# statement without nesting.
_SYMBOLS_PER_LEVEL, _SYMBOLS_FLAT = 8, 40


class Reading:
    """One pass of the parser over a text."""

    def __init__(self, text: str, path: str, limits: Limits) -> None:
        self.text = text
        self.path = path
        self.limits = limits
        self.problems: list[Diagnostic] = []
        self.parser = parser()
        self.lines = Lines(text)
        self.lexer = LexerThread.from_text(self.parser.lexer, text)
        self.state: ParserState[int] = ParserState(self.parser.machine, self.lexer)
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
        state = self.state
        words, text, size = self.parser.words, self.text, len(self.text)
        stack = state.state_stack
        for token in self.lexer.lex(state):  # type: ignore[no-untyped-call]
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
        block, statement = self._open()
        if token is not None and token.type == "$END":
            found: Lexeme | None = None
        elif token is not None:
            found = lexeme(token, self.path)
        else:
            line, column = self.lines.place(at)
            span = Span(self.path, line, column, line, column + 1)
            found = Lexeme("CHAR", self.text[at], span)
        opener = statement or block
        before = [lexeme(t, self.path) for t in self._since(opener)]
        return Failure(
            path=self.path,
            lines=self.lines,
            lexeme=found,
            accepts=self.parser.accepts(self.state.state_stack.copy()),
            before=before,
            statement=lexeme(statement, self.path) if statement else None,
            block=lexeme(block, self.path) if block else None,
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
        for value in self.state.value_stack:
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
        values = self.state.value_stack
        depth = max(
            index
            for index, value in enumerate(values)
            if isinstance(value, Token) and value.type in _BLOCK_TERMINALS
        )
        return depth + 2, self.lines.column(failure.block.span)

    def _go_back(self, terminal: str, least: int = 1) -> bool:
        """Drop open states, but keep `least`, until one is left that accepts the terminal."""
        machine = self.state
        for depth in range(len(machine.state_stack), least - 1, -1):
            if self.parser.takes(machine.state_stack[:depth], terminal):
                del machine.state_stack[depth:]
                del machine.value_stack[depth - 1 :]
                return True
        return False

    def _finish(self) -> Tree[Token] | None:
        """The tree of all statements without mistakes."""
        if not self._go_back("$END"):
            return None
        stop = Token("$END", "", 0, 1, 1)
        tree: Tree[Token] = self.state.feed_token(stop, True)
        return tree

    def _seek(self, beginning: Beginning) -> None:
        state: Any = self.lexer.state
        counter = state.line_ctr
        counter.char_pos = beginning.start
        counter.line = beginning.line
        counter.line_start_pos = beginning.start - beginning.indentation
        counter.column = beginning.indentation + 1


_BLOCK_TERMINALS = frozenset(word.upper() for word in BLOCKS)
_OPENER_TERMINALS = frozenset(word.upper() for word in OPENERS)
# Keywords that the grammar wraps in a rule of their own.
_KEYWORD_RULES = frozenset(("never", "always", "possible", "liquid", "vapour"))


def _in_word(character: str) -> bool:
    return character == "_" or character.isalnum()


def lexeme(token: Token, path: str) -> Lexeme:
    line, column = token.line or 1, token.column or 1
    span = Span(path, line, column, token.end_line or line, token.end_column or column)
    return Lexeme(token.type, str(token), span)
