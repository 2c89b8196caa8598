"""The JSON documents: schemas are current, documents validate, the circuit comes back whole."""

from __future__ import annotations

import json
from pathlib import Path
from typing import get_args

import jsonschema
import pytest

from verifier.model.load import load
from verifier.report.json import (
    Document,
    circuit_from,
    circuit_text,
    make_schema,
    schema_path,
    schema_text,
)

ROOT = Path(__file__).resolve().parents[2]
DESIGNS = sorted((ROOT / "specs").glob("*/*.ilk"))


@pytest.mark.parametrize("document", get_args(Document))
def test_shipped_schema_is_current(document: Document) -> None:
    """When this fails, write them again: python -m verifier.report.json"""
    assert schema_path(document).read_bytes() == schema_text(document)


@pytest.mark.parametrize("document", get_args(Document))
def test_schema_is_one(document: Document) -> None:
    jsonschema.Draft202012Validator.check_schema(make_schema(document))


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_circuit_validates_and_comes_back(path: Path) -> None:
    circuit = load(path).circuit
    text = circuit_text(circuit)
    schema = json.loads(schema_path("circuit").read_text())
    jsonschema.validate(json.loads(text), schema, jsonschema.Draft202012Validator)
    assert circuit_from(text) == circuit


def test_schema_refuses_what_is_no_circuit() -> None:
    schema = json.loads(schema_path("circuit").read_text())
    document = json.loads(circuit_text(load(DESIGNS[0]).circuit))
    del document["circuit"]["passages"]
    with pytest.raises(jsonschema.ValidationError, match="passages"):
        jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
