"""`approval.toml`: who approved which circuit of a folder's designs, when, and what carries it.

Every approval of a design names the one that it replaces by that one's digest, so that none can be
changed or left out without breaking the chain. The file is replaced as a whole or not at all.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec
from msgspec import Struct

from verifier.report.result import Verdict

NAME = "approval.toml"
FORMAT = "shutproof approvals"
VERSION = 1


class Approval(Struct, frozen=True, omit_defaults=True):
    """design: file name in the folder.   circuit: digest of the circuit (model/normal.py).
    date: as given or taken, ISO 8601.   replaces: digest of the approval of this design before this
    one, "" of the first.   certificate: file name in the folder; certificate_sha256: of its bytes.
    verdicts: by property.   cut_sets: by property, how many there are of each order from 0 on, when
    they were asked for; all are known up to the last order told.   digest: of all this but itself.
    """

    design: str
    title: str
    revision: str
    circuit: str
    language: int
    by: str
    reason: str
    date: str
    replaces: str
    certificate: str
    certificate_sha256: str
    verdict: Verdict
    verdicts: dict[str, Verdict]
    made_with: dict[str, str]
    cut_sets: dict[str, tuple[int, ...]] = {}
    digest: str = ""


class Tampered(Exception):
    """The file is not as it was written; says what is wrong."""


def sealed(approval: Approval) -> Approval:
    """With its digest: SHA-256 in hex, which the next approval names."""
    bare = msgspec.structs.replace(approval, digest="")
    content = msgspec.json.encode(bare, order="sorted")
    return msgspec.structs.replace(bare, digest=hashlib.sha256(content).hexdigest())


def read(folder: Path) -> tuple[Approval, ...]:
    """All approvals of the folder, oldest first; none if the file is not there. Raises Tampered."""
    path = folder / NAME
    try:
        text = path.read_text(encoding="utf-8")
    except FileNotFoundError:
        return ()
    except UnicodeDecodeError:
        raise Tampered("it is not UTF-8") from None
    try:
        document = tomllib.loads(text)
        if (document.get("format"), document.get("version")) != (FORMAT, VERSION):
            raise Tampered(f"it is not {FORMAT}, version {VERSION}")
        found = msgspec.convert(document.get("approval", []), tuple[Approval, ...])
    except (tomllib.TOMLDecodeError, msgspec.ValidationError, RecursionError) as problem:
        raise Tampered(str(problem)) from None
    last: dict[str, str] = {}
    for one in found:
        if one.replaces != last.get(one.design, ""):
            raise Tampered(f"an approval of {one.design} does not follow from the one before it")
        if sealed(one) != one:
            raise Tampered(f"an approval of {one.design} is not as it was written")
        last[one.design] = one.digest
    if text_of(found) != text:
        raise Tampered("it is not written the one way that approvals are written")
    return found


def current(approvals: tuple[Approval, ...]) -> dict[str, Approval]:
    """The last approval of each design."""
    return {one.design: one for one in approvals}


def text_of(approvals: tuple[Approval, ...]) -> str:
    """The one way in which they are written."""
    lines = [
        "# Written by `shutproof approve`; `shutproof regress` notices any other change.",
        f"format = {_string(FORMAT)}",
        f"version = {VERSION}",
    ]
    for one in approvals:
        lines += ["", "[[approval]]", *_entries(msgspec.to_builtins(one))]
    return "\n".join(lines) + "\n"


def _entries(fields: dict[str, Any]) -> Iterator[str]:
    """Plain values first: in TOML what follows a table belongs to it."""
    for name, value in fields.items():
        if not isinstance(value, dict):
            yield f"{name} = {_value(value)}"
    for name, value in fields.items():
        if isinstance(value, dict):
            yield f"[approval.{name}]"
            for key, inner in value.items():
                yield f"{_string(key)} = {_value(inner)}"


def _value(value: Any) -> str:
    if isinstance(value, str):
        return _string(value)
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    return str(value)


def _string(text: str) -> str:
    """JSON's strings are TOML's, but for DEL, which TOML wants escaped."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
