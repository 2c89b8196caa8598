"""Proves the air interlocks of tank trailers from their piping.

    from verifier import load, prove
    result = prove(load(Path("heron.ilk")))

`load` and `prove` raise SourceError for mistakes of a design and LimitError for one that is too
large; `prove` raises EvidenceError, and gives no verdict, when a claim does not stand.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from verifier.diagnostics.diagnostic import Diagnostic, LimitError, SourceError
    from verifier.diagnostics.limits import Limits
    from verifier.evidence.error import EvidenceError
    from verifier.model.circuit import Circuit
    from verifier.model.load import Loaded, load, load_text
    from verifier.report.json import circuit_text, text_of
    from verifier.report.result import DesignResult, PropertyResult
    from verifier.report.text import design_text
    from verifier.studies.options import Options
    from verifier.studies.prove import prove

# Names and the modules that have them, imported when first used: the command line must start fast.
_HOMES = {
    "Circuit": "verifier.model.circuit",
    "DesignResult": "verifier.report.result",
    "Diagnostic": "verifier.diagnostics.diagnostic",
    "EvidenceError": "verifier.evidence.error",
    "LimitError": "verifier.diagnostics.diagnostic",
    "Limits": "verifier.diagnostics.limits",
    "Loaded": "verifier.model.load",
    "Options": "verifier.studies.options",
    "PropertyResult": "verifier.report.result",
    "SourceError": "verifier.diagnostics.diagnostic",
    "circuit_text": "verifier.report.json",
    "design_text": "verifier.report.text",
    "load": "verifier.model.load",
    "load_text": "verifier.model.load",
    "prove": "verifier.studies.prove",
    "text_of": "verifier.report.json",
}

__all__ = [
    "Circuit",
    "DesignResult",
    "Diagnostic",
    "EvidenceError",
    "LimitError",
    "Limits",
    "Loaded",
    "Options",
    "PropertyResult",
    "SourceError",
    "circuit_text",
    "design_text",
    "load",
    "load_text",
    "prove",
    "text_of",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
