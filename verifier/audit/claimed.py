"""All claims about one circuit, checked with as little work as there may be.

Claims about one system under the same assumptions are taken together: if each is inductive, so are
all their lemmas at once, and then none of their targets is ever reached. Obligations go as clauses
to CaDiCaL, which no engine asks: on what certificates hold it takes a third of z3's time.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import cast

from msgspec import Struct

from verifier.audit.outcome import Rejected, Unchecked
from verifier.evidence.claims import Claim, Free, Rests, Unreachable, resolved
from verifier.evidence.error import EvidenceError
from verifier.evidence.named import numbered
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.report.certificate import Strand
from verifier.solving.checkers import z3_answers
from verifier.solving.refutation import impossible
from verifier.transition import smt2
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.dimacs import clauses_of
from verifier.transition.obligations import Sheet, comes_to_rest, free_to_move, invariant
from verifier.transition.recovery import Recovery, recovery
from verifier.transition.settling import Misfit
from verifier.transition.turning import Settled

Refuted = Callable[[Sheet], None]
"""Raises Rejected if an obligation can be met."""


def by_cadical(sheet: Sheet) -> None:
    """All obligations at once."""
    if not impossible(clauses_of(sheet)[1]):
        raise Rejected("an obligation", "it can be met")


def by_both(sheet: Sheet) -> None:
    """By CaDiCaL, and one by one by z3."""
    by_cadical(sheet)
    said = z3_answers(smt2.script(sheet))
    if "unknown" in said and "sat" not in said:
        raise Unchecked("z3 gave up on an obligation")
    if said != ["unsat"] * len(sheet.obligations):
        raise Rejected("an obligation", "z3 says that it can be met")


def check_claims(circuit: Circuit, strand: Strand, refuted: Refuted) -> None:
    """Both translations agree on all that obligations are written from, and no obligation of a
    proof can be met. Raises Rejected and Unchecked."""
    if Free() not in strand.proofs.values():
        raise Rejected("certificate", "no proof that the design can always move")
    waiting = _together(strand.proofs)
    compiled = compile_circuit(circuit)
    try:
        comparison = agree(compiled)
        for p, item in enumerate(circuit.properties):
            if item.form == "recovers" and item.tolerating is None:
                for i in range(len(item.instances)):
                    # Made once, for the comparison and for what is claimed of it, and not kept.
                    found = recovery(compiled, p, i)
                    comparison.recovery(found, p, i)
                    about = [one for one in waiting if getattr(one, "procedure", None) == (p, i)]
                    for claim in about:
                        numbers = waiting.pop(claim)
                        _check(numbers, _Posed(compiled, strand.names, claim, found), refuted)
    except EvidenceError as difference:
        raise Rejected("translations", str(difference)) from None
    if comparison.open:
        raise Unchecked(f"it is open whether both agree on {comparison.open[0].what}")
    for claim, numbers in waiting.items():
        _check(numbers, _Posed(compiled, strand.names, claim), refuted)


class _Posed(Struct, frozen=True):
    """A claim whose lemmas speak of places in `names`; procedure: the system that it is about."""

    compiled: Compiled
    names: tuple[str, ...]
    claim: Claim
    procedure: Recovery | None = None

    def sheet(self) -> Sheet:
        """Its obligations. Raises Misfit."""
        compiled, claim = self.compiled, self.claim
        if isinstance(claim, Free):
            return free_to_move(compiled.system)
        if isinstance(claim, Rests):
            lemmas = numbered(compiled.system, self.names, claim.lemmas)
            return comes_to_rest(compiled, Settled(claim.order, lemmas), claim.assumptions)
        system, goals = resolved(compiled, claim, self.procedure)
        lemmas = numbered(system, self.names, claim.lemmas)
        return invariant(system, goals, lemmas, claim.assumptions)


def _check(numbers: list[str], one: _Posed, refuted: Refuted) -> None:
    where = f"proof {', '.join(numbers)}"
    try:
        refuted(one.sheet())
    except Misfit as problem:
        raise Rejected(where, f"no claim about this circuit: {problem}") from None
    except Rejected as rejection:
        raise Rejected(where, str(rejection)) from None


def _together(proofs: Mapping[str, Claim]) -> dict[Claim, list[str]]:
    """Claims that say what all of these say, each with the numbers of those that it stands for."""
    alike: dict[object, list[str]] = {}
    for number, claim in proofs.items():
        key: object = claim
        if isinstance(claim, Unreachable):
            key = (claim.procedure, claim.race, tuple(sorted(claim.assumptions)))
        alike.setdefault(key, []).append(number)
    found: dict[Claim, list[str]] = {}
    for numbers in alike.values():
        first = proofs[numbers[0]]
        if isinstance(first, Unreachable):
            every = [cast(Unreachable, proofs[number]) for number in numbers]
            targets = {target for one in every for target in one.targets}
            lemmas = {lemma for one in every for lemma in one.lemmas}
            first = Unreachable(
                tuple(sorted(targets)),
                tuple(sorted(lemmas)),
                first.assumptions,
                first.procedure,
                first.race,
            )
        found[first] = numbers
    return found
