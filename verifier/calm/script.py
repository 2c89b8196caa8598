"""What was done and seen, in order."""

from __future__ import annotations

from msgspec import Struct

from verifier.calm.signs import Sign


class Put(Struct, frozen=True, tag="put"):
    """A hand or a switch is put so, and kept so until all is at rest. thing: hands of the circuit
    count after its elements, switches after hands."""

    thing: int
    value: int
    words: str


class Seen(Struct, frozen=True, tag="seen"):
    """At rest, a sign shows one of these values."""

    sign: Sign
    values: tuple[int, ...]
    words: str


Happening = Put | Seen
