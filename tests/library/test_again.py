"""Certificates checked again: what stands, what is forged, and what a change leaves of one."""

from __future__ import annotations

from functools import cache

import msgspec
import pytest

from tests.library.shelf import ROOT
from verifier.audit.again import check_again
from verifier.audit.claimed import by_both
from verifier.audit.outcome import Rejected
from verifier.evidence.claims import Claim, Free, Rests, Unreachable
from verifier.model.load import Loaded, load_text
from verifier.report.certificate import Certificate
from verifier.studies.bundle import certificate_of
from verifier.studies.earlier import Earlier, earlier_of
from verifier.studies.prove import prove_and_keep
from verifier.transition.system import Lemma

HERON = (ROOT / "specs" / "heron" / "heron.ilk").read_text()


@cache
def heron() -> tuple[Loaded, Certificate]:
    loaded = load_text(HERON, "heron.ilk")
    return loaded, certificate_of(loaded, *prove_and_keep(loaded))


def with_proofs(certificate: Certificate, proofs: dict[str, Claim]) -> Certificate:
    (strand,) = certificate.strands
    return msgspec.structs.replace(
        certificate, strands=(msgspec.structs.replace(strand, proofs=proofs),)
    )


def test_it_stands_by_either_solver() -> None:
    loaded, certificate = heron()
    by_one = check_again(loaded.circuit, certificate)
    assert by_one.verdict == "holds"
    assert check_again(loaded.circuit, certificate, by_both) == by_one


def test_numbers_of_latches_do_not_matter() -> None:
    """As if a compiler had numbered them anew."""
    loaded, certificate = heron()
    (strand,) = certificate.strands
    count = len(strand.names)
    turned = msgspec.structs.replace(
        strand,
        names=tuple(reversed(strand.names)),
        proofs={
            number: claim
            if isinstance(claim, Free)
            else msgspec.structs.replace(
                claim,
                lemmas=tuple(
                    tuple((count - 1 - place, sign) for place, sign in lemma)
                    for lemma in claim.lemmas
                ),
            )
            for number, claim in strand.proofs.items()
        },
    )
    turned_round = msgspec.structs.replace(certificate, strands=(turned,))
    assert check_again(loaded.circuit, turned_round) == check_again(loaded.circuit, certificate)


@pytest.mark.parametrize("forgery", ["a clause too few", "a clause turned", "the empty clause"])
def test_no_clause_can_be_forged(forgery: str) -> None:
    """Of every proof that has clauses; others about the same system do not make up for it."""
    loaded, certificate = heron()
    (strand,) = certificate.strands
    refused = 0
    clausal = [(n, c) for n, c in strand.proofs.items() if not isinstance(c, Free) and c.lemmas]
    for number, claim in clausal[:: 3 if forgery == "a clause too few" else 9]:
        assert not isinstance(claim, Free)
        first, *rest = claim.lemmas
        lemmas: tuple[Lemma, ...]
        if forgery == "a clause too few":
            lemmas = tuple(rest)
        elif forgery == "a clause turned":
            lemmas = (tuple((place, not sign) for place, sign in first), *rest)
        else:
            lemmas = ((), *claim.lemmas)
        forged = {**strand.proofs, number: msgspec.structs.replace(claim, lemmas=lemmas)}
        with pytest.raises(Rejected, match="it can be met"):
            check_again(loaded.circuit, with_proofs(certificate, forged))
        refused += 1
    assert refused > 1


def test_what_is_claimed_has_to_be_there() -> None:
    loaded, certificate = heron()
    (strand,) = certificate.strands
    rest_number = next(n for n, c in strand.proofs.items() if isinstance(c, Rests))
    lasting = Unreachable((), (), ("air lasts",))
    claims: list[tuple[dict[str, Claim], str]] = [
        ({n: c for n, c in strand.proofs.items() if not isinstance(c, Free)}, "can always move"),
        ({**strand.proofs, rest_number: Rests((), (), ())}, "nothing is said of element 0"),
        (
            {**strand.proofs, "999": Unreachable((), (((len(strand.names), True),),), ())},
            "a name that is not there",
        ),
        (
            {**strand.proofs, "999": Unreachable((), (), (), (99, 0))},
            "property 99 has no procedure",
        ),
        (
            {**strand.proofs, "999": lasting},
            "no assumption 'air lasts'",
        ),
    ]
    for proofs, words in claims:
        with pytest.raises(Rejected, match=words):
            check_again(loaded.circuit, with_proofs(certificate, proofs))


def test_a_name_that_the_design_does_not_have() -> None:
    loaded, certificate = heron()
    (strand,) = certificate.strands
    other = msgspec.structs.replace(strand, names=tuple(f"{name}?" for name in strand.names))
    with pytest.raises(Rejected, match="there is no "):
        check_again(loaded.circuit, msgspec.structs.replace(certificate, strands=(other,)))


CHANGED = HERON.replace("tractor", "lorry")
assert CHANGED != HERON


def engines(text: str, earlier: Earlier | None) -> tuple[dict[str, str], set[str]]:
    """The verdicts by property, and all engines that proved something."""
    result, _ = prove_and_keep(load_text(text, "heron.ilk"), earlier=earlier)
    named = (item.proof.engine for item in result.properties if item.proof is not None)
    verdicts = {item.name: str(item.verdict) for item in result.properties}
    return verdicts, {one for names in named for one in names.split(", ")}


def test_a_changed_design_begins_with_what_was_proved() -> None:
    _, certificate = heron()
    fresh, searched = engines(CHANGED, None)
    again, known = engines(CHANGED, earlier_of(certificate))
    assert again == fresh
    assert "earlier proof" in known - searched


def test_earlier_clauses_are_not_believed() -> None:
    """Every clause turned round, and every latch said never to change: verdicts stay."""
    _, certificate = heron()
    earlier = earlier_of(certificate)
    names = {name for clause in earlier[""] for name, _ in clause}
    lies = [tuple((name, not sign) for name, sign in clause) for clause in earlier[""]]
    lies += [((name, sign),) for name in sorted(names) for sign in (False, True)]
    lies += [(("no such latch", True),), ()]
    fresh, _ = engines(HERON, None)
    assert engines(HERON, {"": tuple(lies)})[0] == fresh
