"""`shutproof prove --evidence` and `shutproof audit` as they are called."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner
from folders import MIXED, OUTSIDE, ROOT, made, manifest_of, put

from verifier.cli.main import commands, main
from verifier.evidence.error import EvidenceError
from verifier.evidence.translations import Comparison, Uncompared, agree
from verifier.report.bundle import MANIFEST
from verifier.solving import checkers
from verifier.transition.compiled import Compiled

COMPARTMENT = ROOT / "tests" / "designs" / "holds" / "one_compartment.ilk"
RING = OUTSIDE / "ring.ilk"


def call(*arguments: object) -> tuple[int, str, str]:
    """Exit status, standard output, standard error."""
    result = CliRunner().invoke(commands, [str(one) for one in arguments])
    return result.exit_code, result.stdout, result.stderr


@pytest.fixture
def evidence(tmp_path: Path) -> Path:
    """A folder with the folders of two designs, written by `prove`."""
    status, _, told = call("prove", COMPARTMENT, RING, "--evidence", tmp_path / "evidence")
    assert status == 1
    assert told.count("digest ") == 2
    return tmp_path / "evidence"


def test_written_and_accepted(evidence: Path) -> None:
    status, said, _ = call("audit", evidence)
    assert status == 0
    assert said.count("  Accepted.\n") == 2
    assert "holds: 9 properties, 9 cases" in said
    assert "violated: 3 properties, 3 cases" in said


def test_one_folder_and_its_digest(evidence: Path) -> None:
    folder = evidence / "ring"
    digest = manifest_of({MANIFEST: (folder / MANIFEST).read_bytes()}).digest
    assert call("audit", folder, "--digest", digest)[0] == 0
    status, said, _ = call("audit", folder, "--digest", digest[::-1])
    assert status == 1
    assert "Rejected, at files." in said


def test_a_changed_byte_rejects_that_folder_only(evidence: Path) -> None:
    path = evidence / "ring" / "report.txt"
    path.write_bytes(path.read_bytes().replace(b"violated", b"holds   ", 1))
    status, said, _ = call("audit", evidence)
    assert status == 1
    assert "rejected    report.txt: not the file that the manifest lists" in said
    assert "Rejected, at files." in said
    assert "  Accepted.\n" in said


def test_no_folder_of_evidence(tmp_path: Path) -> None:
    assert call("audit", tmp_path)[0] == 2
    assert call("audit", tmp_path / "nowhere")[0] == 2
    (tmp_path / "half").mkdir()
    status, _, told = call("audit", tmp_path)
    assert status == 2
    assert "not whole" in told


@pytest.mark.parametrize("package", ["cvc5", "dratify"])
def test_a_program_that_is_not_there_is_no_silent_pass(
    package: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = put(made("latch"), tmp_path)
    monkeypatch.setitem(sys.modules, package, None)
    status, said, _ = call("audit", folder)
    step = {"cvc5": "cvc5", "dratify": "drat"}[package]
    assert status == 3
    assert f"unchecked   {package} is not installed: pip install 'shutproof[audit]'" in said
    assert f"Not all of it could be checked: {step}." in said
    assert "Accepted" not in said
    status, said, _ = call("audit", folder, "--without", step)
    assert status == 0
    assert f"Accepted, without {step}." in said


def test_a_solver_that_gives_up_is_no_silent_pass(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("verifier.audit.proofs.z3_answers", lambda _: ["unknown"])
    status, said, _ = call("audit", put(made("compartment"), tmp_path))
    assert status == 3
    assert "z3 gave up on proofs/" in said


def test_an_answer_too_few_is_a_rejection(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked = checkers.z3_answers
    monkeypatch.setattr("verifier.audit.proofs.z3_answers", lambda script: asked(script)[:-1])
    status, said, _ = call("audit", put(made("compartment"), tmp_path))
    assert status == 1
    assert "z3 says too few answers, not unsat" in said


def test_somebody_must_check_the_proofs(tmp_path: Path) -> None:
    folder = put(made("latch"), tmp_path)
    out = ("--without", "z3", "--without", "cvc5", "--without", "drat")
    status, _, told = call("audit", folder, *out)
    assert status == 2
    assert "one program at least must check the proofs" in told


def test_a_limit_is_no_rejection(tmp_path: Path) -> None:
    status, said, _ = call("audit", put(made("mixed"), tmp_path), "--max-bytes", "10")
    assert status == 3
    assert "Not all of it could be checked: source, translations, obligations" in said


def test_what_is_inconclusive_says_so(tmp_path: Path) -> None:
    source = tmp_path / "mixed.ilk"
    source.write_text(MIXED)
    arguments = ("--engine", "bounded", "--depth", "1", "--conflicts", "50")
    status, _, _ = call("prove", source, *arguments, "--evidence", tmp_path / "evidence")
    assert status in (1, 3)
    status, said, _ = call("audit", tmp_path / "evidence")
    assert status == 0, said
    report = (tmp_path / "evidence" / "mixed" / "report.txt").read_text()
    assert "inconclusive" in report


def test_what_was_asked_for_alone(tmp_path: Path) -> None:
    arguments = ("--property", "the stop shuts", "--evidence", tmp_path)
    assert call("prove", COMPARTMENT, *arguments)[0] == 0
    status, said, _ = call("audit", tmp_path)
    assert status == 0
    assert "holds: 1 properties, 1 cases; nothing is said of loss of air ends shut" in said
    assert "comes to rest, no race" in said


def test_written_again_but_never_over_what_is_not_ours(evidence: Path) -> None:
    before = {path: path.read_bytes() for path in evidence.rglob("*") if path.is_file()}
    assert call("prove", COMPARTMENT, RING, "--evidence", evidence)[0] == 1
    assert {path: path.read_bytes() for path in evidence.rglob("*") if path.is_file()} == before
    (evidence / "ring" / "mine.txt").write_text("notes\n")
    status, _, told = call("prove", RING, "--evidence", evidence)
    assert status == 2
    assert "left alone" in told
    assert (evidence / "ring" / "mine.txt").read_text() == "notes\n"


def test_the_same_bytes_whatever_the_hash_seed(tmp_path: Path) -> None:
    digests = set()
    for seed in ("1", "2"):
        arguments = ["prove", str(RING), "--evidence", str(tmp_path / seed)]
        run = subprocess.run(
            [sys.executable, "-c", "from verifier.cli import main; main()", *arguments],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=ROOT,
            capture_output=True,
            text=True,
            timeout=120,
            check=False,
        )
        assert run.returncode == 1, run.stderr
        digests.add(run.stderr.rsplit("digest ", 1)[1])
    assert len(digests) == 1


def test_an_audit_imports_no_search() -> None:
    """Nothing that it can reach is an engine (lint-imports shows that too, by the text)."""
    program = (
        "import sys, verifier.audit.audit, verifier.cli.audit\n"
        "print(sorted(name for name in sys.modules if name.startswith('verifier.engines')))"
    )
    run = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert run.stdout == "[]\n"


def test_translations_that_differ_are_a_bug_of_ours(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def differ(_: object) -> None:
        raise EvidenceError("the two translations of the circuit differ: foot.disc")

    monkeypatch.setattr("verifier.audit.audit.agree", differ)
    monkeypatch.setattr(sys, "argv", ["shutproof", "audit", str(put(made("latch"), tmp_path))])
    with pytest.raises(SystemExit) as ending:
        main()
    assert ending.value.code == 70
    said = capsys.readouterr()
    assert "Evidence failed: the two translations of the circuit differ" in said.err
    assert "Accepted" not in said.out


def test_translations_that_could_not_be_compared(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def unsure(compiled: Compiled) -> Comparison:
        comparison = agree(compiled)
        comparison.open.append(Uncompared("when foot.disc must move"))
        return comparison

    monkeypatch.setattr("verifier.audit.audit.agree", unsure)
    status, said, _ = call("audit", put(made("mixed"), tmp_path))
    assert status == 3
    assert "unchecked   it is open whether both agree on when foot.disc must move" in said
    assert "Not all of it could be checked: translations." in said
