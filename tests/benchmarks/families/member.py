"""One design of a family: its text and what must be found out about it."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

# What prove adds to the properties that a design states.
FREE = ("comes to rest", "no contest")


class Member(Struct, frozen=True):
    """A generated design.

    text: its source, in the language of the project.   flawed: it has the flaw of its family.
    violated: names of the properties that the flaw breaks, each with the length of the shortest
    run into it, in steps (None where that is not claimed); every other property holds. Empty unless
    the member is flawed.
    """

    family: str
    sizes: tuple[int, ...]
    flawed: bool
    text: str
    violated: dict[str, int | None]

    @property
    def name(self) -> str:
        sizes = "x".join(map(str, self.sizes))
        return f"{self.family} {sizes}{' flawed' if self.flawed else ''}"


class Family(Struct, frozen=True):
    """Designs of one pattern in any size.

    what: in a line, what grows and what goes wrong.   sizes: names of its sizes.
    least: the smallest of each.   build: sizes and whether flawed, to the text and `violated`.
    """

    name: str
    what: str
    sizes: tuple[str, ...]
    least: tuple[int, ...]
    build: Callable[..., tuple[str, dict[str, int | None]]]

    def member(self, *sizes: int, flawed: bool = False) -> Member:
        """Raises ValueError for sizes that the family does not have."""
        if len(sizes) != len(self.sizes):
            wanted = " ".join(self.sizes)
            raise ValueError(f"{self.name} takes {len(self.sizes)} sizes ({wanted})")
        for name, least, size in zip(self.sizes, self.least, sizes, strict=True):
            if size < least:
                raise ValueError(f"{self.name}: {name} must be at least {least}")
        text, violated = self.build(*sizes, flawed=flawed)
        return Member(self.name, sizes, flawed, text, violated)
