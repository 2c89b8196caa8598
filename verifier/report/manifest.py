"""The manifest of a folder of evidence: which files it has, and what carries which verdict."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.report.result import Verdict


class File(Struct, frozen=True):
    """A file of the folder; the path has slashes. size: in bytes."""

    path: str
    size: int
    sha256: str


class Shown(Struct, frozen=True):
    """The state after so many steps of a sequence."""

    sequence: str
    steps: int


class Carried(Struct, frozen=True):
    """One case of a property, and the proofs and sequences that carry its verdict, by number."""

    label: str
    verdict: Verdict
    proofs: tuple[str, ...] = ()
    sequences: tuple[Shown, ...] = ()


class Carrying(Struct, frozen=True):
    """A property and its cases, in the order of the result.

    folder: where circuit, proofs and sequences lie of a property that tolerates faults; "" if it
    speaks of the sound circuit.
    """

    name: str
    verdict: Verdict
    cases: tuple[Carried, ...]
    folder: str = ""


class Manifest(Struct, frozen=True):
    """A folder of evidence. `source` is the design's own file below `source/`.

    language: version of the language that it is written in. made_with: versions of the programs
    that made the folder; an audit trusts none of them. digest: of this very text with an empty
    digest, so that it stands for all files.
    """

    design: str
    title: str
    revision: str
    source: str
    verdict: Verdict
    properties: tuple[Carrying, ...]
    files: tuple[File, ...]
    made_with: dict[str, str]
    language: int
    digest: str = ""
    format: Literal["shutproof evidence"] = "shutproof evidence"
    version: Literal[1] = 1
