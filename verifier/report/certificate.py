"""What an approved design keeps of its evidence: enough to check every verdict again without a
search, in one file that no layout changes."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.evidence.claims import Claim
from verifier.evidence.sequences import Recorded
from verifier.report.manifest import Carrying
from verifier.report.result import Verdict


class Strand(Struct, frozen=True):
    """Proofs and sequences about one circuit, by the numbers that verdicts name. folder: "" of the
    design's own circuit, else that of one with faults, as in a folder of evidence.   names: of the
    latches that lemmas speak of; lemmas here have places in it for indices."""

    folder: str
    names: tuple[str, ...]
    proofs: dict[str, Claim]
    sequences: dict[str, Recorded]


class Certificate(Struct, frozen=True):
    """circuit: the digest of the circuit (model/normal.py).   accepted: of the elements of a *no
    race* whose race the design accepts, the reason, by the name of the case.   others: whether
    there are races that it does not accept, as in the result."""

    circuit: str
    language: int
    verdict: Verdict
    properties: tuple[Carrying, ...]
    strands: tuple[Strand, ...]
    accepted: dict[str, str]
    others: Literal["", "none", "open"]
    made_with: dict[str, str]
    format: Literal["shutproof certificate"] = "shutproof certificate"
    version: Literal[2] = 2
