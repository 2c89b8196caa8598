"""What counts of a circuit: a digest that layout, comments and descriptions do not change."""

from __future__ import annotations

import hashlib

import msgspec
from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit

# Descriptions, and words that are made of the names that count anyway. Reasons count: an
# assumption for another reason is another assumption.
_WORDS = frozenset({"doc", "kind_doc", "title", "revision"})


def normal_digest(circuit: Circuit) -> str:
    """SHA-256 in hex of all that the circuit is and promises. Names and the order of statements
    count, places in the source do not."""
    plain = _Plain().of(circuit)
    return hashlib.sha256(msgspec.json.encode(plain, order="sorted")).hexdigest()


class _Plain:
    """Values without what does not count. What a circuit has in many places is made plain once."""

    def __init__(self) -> None:
        self._known: dict[int, object] = {}
        self._fields: dict[type[Struct], tuple[object, tuple[str, ...]]] = {}

    def of(self, value: object) -> object:
        if isinstance(value, Struct):
            known = self._known.get(id(value))
            if known is None:
                known = self._known[id(value)] = self._struct(value)
            return known
        if isinstance(value, tuple):
            return [one if type(one) in _AS_THEY_ARE else self.of(one) for one in value]
        return value

    def _struct(self, value: Struct) -> dict[str, object]:
        kind = type(value)
        if kind not in self._fields:
            names = tuple(name for name in kind.__struct_fields__ if name not in _WORDS)
            self._fields[kind] = (kind.__struct_config__.tag, names)
        tag, names = self._fields[kind]
        plain: dict[str, object] = {"is": tag} if tag else {}
        for name in names:
            inner = getattr(value, name)
            if type(inner) in _AS_THEY_ARE:
                plain[name] = inner
            elif type(inner) is not Span:
                plain[name] = self.of(inner)
        return plain


_AS_THEY_ARE = frozenset({str, int, bool, type(None)})
