"""What was proved of a design before a change, by names that a change leaves alone."""

from __future__ import annotations

from collections.abc import Mapping

from verifier.evidence.claims import Free
from verifier.evidence.named import Named
from verifier.report.certificate import Certificate, Strand

Earlier = Mapping[str, tuple[Named, ...]]
"""Clauses of all proofs about one circuit, by the folder of its strand: "" of the design's own."""


def earlier_of(certificate: Certificate) -> Earlier:
    """The clauses of a certificate, which nobody believes: where a place in its names is not there,
    the clause is left out."""
    return {strand.folder: tuple(_clauses(strand)) for strand in certificate.strands}


def _clauses(strand: Strand) -> dict[Named, None]:
    names = strand.names
    found: dict[Named, None] = {}
    for claim in strand.proofs.values():
        for lemma in () if isinstance(claim, Free) else claim.lemmas:
            if all(0 <= place < len(names) for place, _ in lemma):
                found[tuple((names[place], sign) for place, sign in lemma)] = None
    return found
