"""Proofs, designs and sequences that are forged well: every digest is right, and everything follows
from what was changed. What is not true has to give them away, at the step that should see it."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from folders import audited, claim_of, proofs_of, rejection, sealed
from forger import AIR, FLAW, Forger, judged, named, proof_of, rests_of

from verifier.audit.outcome import Outcome
from verifier.evidence.claims import Free, Rests, Target, Unreachable
from verifier.evidence.sequences import Recorded
from verifier.report.bundle import CIRCUIT, CLAUSES, PROOFS, REFUTATION, SCRIPT
from verifier.report.json import circuit_text, text_of
from verifier.report.manifest import Shown


def test_a_claim_without_its_lemmas_is_seen_by_all_three(tmp_path: Path) -> None:
    """The obligations are those of the claim; they can be met."""
    forger = Forger("mixed")
    number = next(
        n
        for n in proofs_of(forger.files)
        if isinstance(claim := claim_of(forger.files, n), Unreachable) and claim.lemmas
    )
    forger.claim(number, lemmas=())
    files = forger.finished()
    for prover in ("z3", "cvc5", "drat"):
        others = {"z3", "cvc5", "drat"} - {prover}
        step, words = rejection(audited(files, tmp_path / prover, without=others))
        assert step == prover
        assert f"{PROOFS}/{number}/" in words
        assert prover == "drat" or "says sat, not unsat" in words


def test_a_claim_without_its_assumption(tmp_path: Path) -> None:
    forger = Forger("mixed")
    forger.claim(proof_of(forger, AIR), assumptions=())
    assert rejection(audited(forger.finished(), tmp_path, without=["cvc5", "drat"]))[0] == "z3"


def test_a_claim_about_something_else(tmp_path: Path) -> None:
    """All obligations are met, but they are not those of the property."""
    forger = Forger("mixed")
    number = proof_of(forger, AIR)
    forger.claim(number, targets=(Target("contest"),))
    files = forger.finished()
    step, words = rejection(audited(files, tmp_path, without=["cvc5", "drat"]))
    assert step in ("z3", "verdicts")
    if step == "verdicts":
        assert "nothing carries" in words


def test_a_claim_with_a_target_left_out(tmp_path: Path) -> None:
    forger = Forger("mixed")
    number = proof_of(forger, AIR)
    forger.claim(number, targets=())
    step, words = rejection(audited(forger.finished(), tmp_path, without=["cvc5", "drat"]))
    assert (step, "nothing carries" in words) == ("verdicts", True)


def test_no_proof_that_the_design_can_always_move(tmp_path: Path) -> None:
    forger = Forger("compartment")
    number = next(n for n in proofs_of(forger.files) if claim_of(forger.files, n) == Free())
    files = forger.finished()
    files = {k: v for k, v in files.items() if not k.startswith(f"{PROOFS}/{number}/")}
    step, words = judged(sealed(files), tmp_path)
    assert (step, "no proof that the design can always move" in words) == ("verdicts", True)


def test_an_argument_for_rest_that_leaves_out_a_thing(tmp_path: Path) -> None:
    forger = Forger("compartment")
    number = rests_of(forger)
    claim = claim_of(forger.files, number)
    assert isinstance(claim, Rests)
    short = msgspec.structs.replace(claim, order=claim.order[1:])
    forger.files[f"{PROOFS}/{number}/claim.json"] = text_of(short)
    step, words = judged(forger.finished(), tmp_path)
    assert step == "obligations"
    assert "no claim about this circuit" in words


@pytest.mark.parametrize(
    ("file", "content"),
    [
        (SCRIPT, b"(set-logic QF_UF)\n(assert false)\n(check-sat)\n"),
        (SCRIPT, b"(set-logic QF_UF)\n"),
        (CLAUSES, b"p cnf 1 2\n1 0\n-1 0\n"),
        (CLAUSES, b""),
        ("claim.txt", b"never reached: anything bad\n"),
    ],
)
def test_obligations_are_those_of_the_circuit(file: str, content: bytes, tmp_path: Path) -> None:
    """Trivial goals, clauses that clash anyway, and an invariant told in other words."""
    forger = Forger("mixed")
    number = proof_of(forger, AIR)
    forger.files[f"{PROOFS}/{number}/{file}"] = content
    step, words = judged(forger.finished(), tmp_path)
    assert step == "obligations"
    assert words == f"{PROOFS}/{number}/{file}: not what follows from the circuit and the claim"


@pytest.mark.parametrize("file", [SCRIPT, CLAUSES])
def test_one_line_less(file: str, tmp_path: Path) -> None:
    """Of the scripts and clauses of all proofs, the line in the middle."""
    for number in proofs_of(Forger("compartment").files):
        forger = Forger("compartment")
        path = f"{PROOFS}/{number}/{file}"
        lines = forger.files[path].splitlines(keepends=True)
        del lines[len(lines) // 2]
        forger.files[path] = b"".join(lines)
        step, words = judged(forger.finished(), tmp_path / number)
        assert (step, words.startswith(path)) == ("obligations", True)


@pytest.mark.parametrize(
    "refutation",
    [b"", b"0\n", b"c nothing\n", b"1 0\n", b"d -1 0\n", b"-1 0\n1 0\n0\n", b"a\x000\n"],
)
def test_refutations_that_refute_nothing(refutation: bytes, tmp_path: Path) -> None:
    forger = Forger("mixed")
    number = proof_of(forger, AIR)
    path = f"{PROOFS}/{number}/{REFUTATION}"
    assert len(forger.files[path]) > 10
    forger.files[path] = refutation
    step, words = rejection(audited(forger.finished(), tmp_path, without=["z3", "cvc5"]))
    assert (step, words.startswith(path)) == ("drat", True)


def test_a_refutation_without_its_end_and_of_other_clauses(tmp_path: Path) -> None:
    forger = Forger("mixed")
    number = proof_of(forger, AIR)
    path = f"{PROOFS}/{number}/{REFUTATION}"
    whole = forger.files[path]
    forger.files[path] = whole.removesuffix(b"0\n")
    assert forger.files[path] != whole
    outcomes = audited(forger.finished(), tmp_path / "end", without=["z3", "cvc5"])
    assert rejection(outcomes)[0] == "drat"
    other = f"{PROOFS}/{rests_of(forger)}/{REFUTATION}"
    forger.files[path] = forger.files[other]
    outcomes = audited(forger.finished(), tmp_path / "other", without=["z3", "cvc5"])
    assert rejection(outcomes)[0] == "drat"


def test_a_proof_that_no_folder_should_have(tmp_path: Path) -> None:
    forger = Forger("compartment")
    for file in ("claim.json", "claim.txt", SCRIPT, CLAUSES, REFUTATION):
        forger.files[f"{PROOFS}/001/more/{file}"] = b"{}"
    assert judged(forger.finished(), tmp_path)[0] == "obligations"


# The design


def test_another_circuit_than_the_source_means(tmp_path: Path) -> None:
    forger = Forger("mixed")
    circuit = msgspec.structs.replace(forger.circuit, assumptions=())
    forger.files[CIRCUIT] = circuit_text(circuit)
    step, words = judged(forger.finished(), tmp_path)
    assert (step, words) == ("source", f"{CIRCUIT}: not the circuit that the design means")


def test_another_source_under_the_same_circuit(tmp_path: Path) -> None:
    forger = Forger("mixed")
    path = f"source/{forger.manifest.source}"
    forger.files[path] = forger.files[path].replace(b"plug vent.out", b"open vent.out")
    assert judged(forger.finished(), tmp_path)[0] == "source"


def test_another_catalogue(tmp_path: Path) -> None:
    forger = Forger("mixed")
    path = "catalogue/standard.ilk"
    forger.files[path] = forger.files[path].replace(b"momentary", b"held", 1) + b"\n"
    assert judged(forger.finished(), tmp_path)[0] == "source"


def test_a_source_that_nobody_reads(tmp_path: Path) -> None:
    forger = Forger("compartment")
    forger.files["source/other.ilk"] = b"design other\n"
    step, words = judged(forger.finished(), tmp_path)
    assert (step, words) == ("verdicts", "source/other.ilk: no verdict rests on it")


def test_a_source_elsewhere(tmp_path: Path) -> None:
    forger = Forger("compartment")
    forger.manifest = msgspec.structs.replace(forger.manifest, source="../outside.ilk")
    (tmp_path / "outside.ilk").write_bytes(b"design outside\n")
    assert judged(forger.finished(), tmp_path / "folder")[0] == "source"


def test_a_language_that_is_not_ours(tmp_path: Path) -> None:
    forger = Forger("compartment")
    forger.manifest = msgspec.structs.replace(forger.manifest, language=99)
    outcomes: list[Outcome] = audited(forger.finished(), tmp_path)
    assert [one.status for one in outcomes][:3] == ["accepted", "unchecked", "not reached"]


# Sequences


def test_a_sequence_without_a_step(tmp_path: Path) -> None:
    """Wherever the step is taken out, the run is none, or does not show what it must."""
    (shown,) = named(Forger("mixed"), FLAW)
    record = Forger("mixed").recorded(shown.sequence)
    for number in range(len(record.steps)):
        forger = Forger("mixed")
        steps = (*record.steps[:number], *record.steps[number + 1 :])
        forger.record(shown.sequence, msgspec.structs.replace(record, steps=steps))
        forger.carry(FLAW, sequences=(Shown(shown.sequence, len(steps)),))
        step, _ = judged(forger.finished(), tmp_path / str(number))
        assert step in ("sequences", "verdicts")


def test_a_sequence_that_shows_nothing(tmp_path: Path) -> None:
    forger = Forger("mixed")
    (shown,) = named(forger, FLAW)
    forger.record(shown.sequence, Recorded(()))
    forger.carry(FLAW, sequences=(Shown(shown.sequence, 0),))
    assert judged(forger.finished(), tmp_path)[0] == "verdicts"


@pytest.mark.parametrize("loop_from", [None, 0, 10_000, -1])
def test_a_loop_from_elsewhere(loop_from: int | None, tmp_path: Path) -> None:
    forger = Forger("ring")
    (shown,) = named(forger, "comes to rest")
    record = forger.recorded(shown.sequence)
    assert record.loop_from
    forger.record(shown.sequence, msgspec.structs.replace(record, loop_from=loop_from))
    step, _ = judged(forger.finished(), tmp_path)
    assert step in ("sequences", "verdicts")


def test_two_runs_that_do_not_part(tmp_path: Path) -> None:
    forger = Forger("signals")
    first, _ = named(forger, "no race")
    forger.carry("no race", sequences=(first, first))
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "nothing carries the verdict 'delay dependent'" in words) == ("verdicts", True)


def test_what_is_proved_beside_a_race(tmp_path: Path) -> None:
    """What is said of everything else needs its proof."""
    forger = Forger("signals")
    reason = forger.item("no race").reason
    if reason:
        forger.carry("no race", proofs=())
    else:
        forger.tell("no race", reason="Proved: everything else ends the same way in any order.")
    step, words = judged(forger.finished(), tmp_path)
    assert (step, "everything else is not proved" in words) == ("verdicts", True)
