"""The proofs of a folder: obligations written down anew, and what independent programs say."""

from __future__ import annotations

import posixpath
from collections.abc import Callable, Mapping

import msgspec
from msgspec import Struct

from verifier.audit.outcome import Rejected, Unchecked
from verifier.evidence.claims import Claim
from verifier.report.bundle import CLAIM, CLAUSES, PROOFS, REFUTATION, SCRIPT, inside, proof_files
from verifier.solving.checkers import (
    NotInstalled,
    cvc5_answers,
    drat_complaint,
    version_of,
    z3_answers,
)
from verifier.transition.compiled import Compiled
from verifier.transition.settling import Misfit


class Proof(Struct, frozen=True):
    """A claim, and the texts that were written down for it just now. None of them is the folder's,
    which has the same, but for the refutation."""

    claim: Claim
    script: str
    clauses: str
    refutation: str


def read_proofs(
    compiled: Compiled, files: Mapping[str, bytes], folder: str = ""
) -> dict[str, Proof]:
    """All proofs about one circuit, which lie in `folder`, by number. What is claimed comes from
    there; that the obligations are those of the claim and the circuit does not. Raises Rejected."""
    proofs = {}
    proofs_in = f"{inside(folder, PROOFS)}/"
    found = [path for path in files if path.startswith(proofs_in)]
    for place in sorted({posixpath.dirname(path) for path in found}):
        own = {posixpath.basename(p): files[p] for p in found if posixpath.dirname(p) == place}
        try:
            claim = msgspec.json.decode(own.get(CLAIM, b""), type=Claim)
            written = proof_files(compiled, claim)
            refutation = own[REFUTATION].decode("ascii")
        except (msgspec.DecodeError, UnicodeDecodeError, Misfit, KeyError) as problem:
            raise Rejected(place, f"no claim about this circuit: {problem}") from None
        for name in sorted({*own, *written} - {REFUTATION}):
            if own.get(name) != written.get(name):
                raise Rejected(f"{place}/{name}", "not what follows from the circuit and the claim")
        script, clauses = written[SCRIPT].decode(), written[CLAUSES].decode()
        proofs[place.removeprefix(proofs_in)] = Proof(claim, script, clauses, refutation)
    return proofs


def by_z3(proofs: Mapping[str, Proof]) -> str:
    """Every obligation is unsatisfiable; proofs by the places where they lie."""
    return _all_unsat("z3", "z3-solver", z3_answers, proofs)


def by_cvc5(proofs: Mapping[str, Proof]) -> str:
    return _all_unsat("cvc5", "cvc5", cvc5_answers, proofs)


def _all_unsat(
    name: str, package: str, answers_to: Callable[[str], list[str]], proofs: Mapping[str, Proof]
) -> str:
    """Every obligation is unsatisfiable. Raises Rejected, and Unchecked where the solver gave up or
    is not there."""
    count = 0
    for place, proof in proofs.items():
        asked = proof.script.splitlines().count("(check-sat)")
        try:
            answers = answers_to(proof.script)
        except NotInstalled:
            raise _not_installed(package) from None
        if "unknown" in answers and "sat" not in answers:
            raise Unchecked(f"{name} gave up on {place}/{SCRIPT}")
        if answers != ["unsat"] * asked:
            odd = next((answer for answer in answers if answer != "unsat"), "too few answers")
            raise Rejected(f"{place}/{SCRIPT}", f"{name} says {odd}, not unsat")
        count += asked
    return f"{name} {version_of(package)}: unsat to {count} questions of {len(proofs)} proofs"


def by_drat(proofs: Mapping[str, Proof]) -> str:
    """Every refutation refutes its clauses. Raises Rejected, and Unchecked without a checker."""
    steps = 0
    for place, proof in proofs.items():
        lines = proof.refutation.splitlines()
        try:
            complaint = drat_complaint(proof.clauses, proof.refutation)
        except NotInstalled:
            raise _not_installed("dratify") from None
        # Where unit propagation alone refutes the clauses a checker needs no steps; we do.
        if complaint or lines[-1:] != ["0"]:
            told = complaint or "it does not end with the empty clause"
            raise Rejected(f"{place}/{REFUTATION}", told)
        steps += len(lines)
    return f"dratify {version_of('dratify')}: {len(proofs)} refutations, {steps} steps"


def _not_installed(package: str) -> Unchecked:
    return Unchecked(f"{package} is not installed: pip install 'shutproof[audit]'")
