"""Limits on what is read, so that no input can use up memory, stack or patience."""

from __future__ import annotations

from msgspec import Struct

from verifier.diagnostics.diagnostic import LimitError

# Conditions are walked by recursion, a few frames a level, well inside Python's stack.
DEEPEST_NESTING = 100


class Limits(Struct, frozen=True, kw_only=True):
    """Largest sizes accepted; every one has an option of the command line that raises it.

    max_bytes: of one source file. max_line_length: characters. max_statements: of one file, items
    of kinds and assemblies counted. max_nesting: of conditions and index sums (at most
    DEEPEST_NESTING). max_files: read for one design. max_members: of all families and property
    instances of a design after expansion. max_depth: of assemblies within assemblies.
    """

    max_bytes: int = 300_000
    max_line_length: int = 5_000
    max_statements: int = 20_000
    max_nesting: int = 50
    max_files: int = 200
    max_members: int = 100_000
    max_depth: int = 20

    def __post_init__(self) -> None:
        """Raise ValueError for a limit below 1 or a nesting beyond what can be walked."""
        for name in self.__struct_fields__:
            if getattr(self, name) < 1:
                raise ValueError(f"{option(name)} must be at least 1")
        if self.max_nesting > DEEPEST_NESTING:
            raise ValueError(f"{option('max_nesting')} can be at most {DEEPEST_NESTING}")


def option(name: str) -> str:
    """The command-line option that sets the limit `name`."""
    return "--" + name.replace("_", "-")


def exceeded(limits: Limits, name: str, where: str, what: str) -> LimitError:
    """The error for limit `name`: `where` is a file and line, `what` a noun (`bytes`)."""
    allowed = getattr(limits, name)
    return LimitError(f"{where}: more than {allowed:,} {what}; {option(name)} raises the limit")
