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
    plain = _plain(circuit)
    return hashlib.sha256(msgspec.json.encode(plain, order="sorted")).hexdigest()


def _plain(value: object) -> object:
    if isinstance(value, Struct):
        tag = type(value).__struct_config__.tag
        fields = {
            name: _plain(getattr(value, name))
            for name in value.__struct_fields__
            if name not in _WORDS and not isinstance(getattr(value, name), Span)
        }
        return {"is": tag, **fields} if tag else fields
    if isinstance(value, tuple):
        return [_plain(one) for one in value]
    return value
