"""The report and the circuit for machines: one canonical JSON text each, and their schemas."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

import msgspec

from verifier.model.circuit import Circuit
from verifier.report.commission import ProcedureResult
from verifier.report.comparison import Comparison
from verifier.report.diagnosis import DiagnosisResult
from verifier.report.faults import FaultsResult
from verifier.report.hookup import HookupDocument
from verifier.report.library import LibraryResult
from verifier.report.lines import Line
from verifier.report.manifest import Manifest
from verifier.report.result import Result

Document = Literal[
    "circuit",
    "result",
    "lines",
    "evidence",
    "comparison",
    "library",
    "faults",
    "diagnosis",
    "procedure",
    "hookup",
]


class CircuitDocument(msgspec.Struct, frozen=True):
    """What `export --as circuit` prints. Rules: grammar/REFERENCE.md."""

    circuit: Circuit
    format: Literal["shutproof circuit"] = "shutproof circuit"
    version: Literal[1] = 1


_TYPES: dict[Document, Any] = {
    "circuit": CircuitDocument,
    "result": Result,
    "lines": Line,
    "evidence": Manifest,
    "comparison": Comparison,
    "faults": FaultsResult,
    "library": LibraryResult,
    "diagnosis": DiagnosisResult,
    "procedure": ProcedureResult,
    "hookup": HookupDocument,
}


def text_of(value: msgspec.Struct) -> bytes:
    """JSON in UTF-8, indented by two, fields in the order of the struct, one newline at the end."""
    return msgspec.json.format(msgspec.json.encode(value), indent=2) + b"\n"


def circuit_text(circuit: Circuit) -> bytes:
    return text_of(CircuitDocument(circuit))


def circuit_from(text: bytes) -> Circuit:
    """Back from `circuit_text`; raises msgspec.ValidationError for anything else."""
    return msgspec.json.decode(text, type=CircuitDocument).circuit


def make_schema(document: Document) -> dict[str, Any]:
    """JSON Schema (2020-12) of a document, from the types themselves."""
    schema = msgspec.json.schema(_TYPES[document])
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"shutproof {document}, version 1",
        **schema,
    }


def schema_path(document: Document) -> Path:
    """Where the schema ships; a test keeps it equal to `make_schema`."""
    return Path(__file__).resolve().parent / "schemas" / f"{document}.schema.json"


def schema_text(document: Document) -> bytes:
    encoded = msgspec.json.encode(make_schema(document), order="sorted")
    return msgspec.json.format(encoded, indent=2) + b"\n"


if __name__ == "__main__":
    for one in _TYPES:
        schema_path(one).write_bytes(schema_text(one))
