"""Folders of evidence checked by other people's programs alone, where neither this project nor the
solvers that it searches with can be imported."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from pathlib import Path

import pytest
from folders import Files, claim_of, made, proofs_of, put
from forger import Forger

from verifier.evidence.claims import Unreachable
from verifier.report.bundle import PROOFS, READ_ME

# What no clean place has: our code, what we search with, and what we read designs with.
OURS = (
    "verifier",
    "verifier.engines",
    "verifier.evidence",
    "z3",
    "pysat",
    "pysolvers",
    "msgspec",
    "lark",
)

START = """\
import sys
sys.path.insert(0, {place!r})
for name in {ours!r}:
    try:
        __import__(name)
    except ImportError:
        continue
    sys.exit(f"{{name}} is here")
"""

BY_DRAT = """\
import pathlib
from dratify import check_proof, parse_dimacs
for clauses in sorted(pathlib.Path(".").glob("proofs/*/obligations.cnf")):
    refutation = clauses.with_suffix(".drat").read_text()
    result = check_proof(parse_dimacs(clauses.read_text()), refutation)
    print(clauses.parent.name, result.ok and result.reached_empty)
"""

BY_CVC5 = """\
import pathlib
import cvc5
for script in sorted(pathlib.Path(".").glob("proofs/*/obligations.smt2")):
    terms = cvc5.TermManager()
    solver = cvc5.Solver(terms)
    solver.setOption("incremental", "true")
    symbols = cvc5.SymbolManager(terms)
    parser = cvc5.InputParser(solver, symbols)
    parser.setStringInput(cvc5.InputLanguage.SMT_LIB_2_6, script.read_text(), script.name)
    answers = []
    while not (command := parser.nextCommand()).isNull():
        answers += command.invoke(solver, symbols).split()
    asked = script.read_text().splitlines().count("(check-sat)")
    print(script.parent.name, answers == ["unsat"] * asked)
"""


def clean_place(folder: Path, package: str) -> Path:
    """A folder that has one package, its libraries, and nothing else."""
    spec = importlib.util.find_spec(package)
    assert spec is not None
    assert spec.origin is not None
    home = Path(spec.origin).parent
    folder.mkdir()
    for one in (home, home.with_name(f"{package}.libs")):
        if one.exists():
            (folder / one.name).symlink_to(one)
    return folder


def outside(program: str, package: str, bundle: Path) -> dict[str, str]:
    """What the program prints of each proof. It runs isolated, without site packages, and stops if
    anything of ours can be imported."""
    place = clean_place(bundle.with_name(f"only {package}"), package)
    run = subprocess.run(
        [sys.executable, "-I", "-S", "-c", START.format(place=str(place), ours=OURS) + program],
        cwd=bundle,
        env={},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    return dict(line.split(" ", 1) for line in run.stdout.splitlines())


PROGRAMS = pytest.mark.parametrize(
    ("program", "package"), [(BY_DRAT, "dratify"), (BY_CVC5, "cvc5")], ids=["dratify", "cvc5"]
)


@PROGRAMS
def test_all_proofs_pass(program: str, package: str, each: Files, tmp_path: Path) -> None:
    said = outside(program, package, put(each, tmp_path / "bundle"))
    assert said == dict.fromkeys(proofs_of(each), "True")


@PROGRAMS
def test_a_proof_that_is_none_does_not(program: str, package: str, tmp_path: Path) -> None:
    """Without its lemmas, and with the refutation that it had with them."""
    forger = Forger("mixed")
    number = next(
        n
        for n in proofs_of(forger.files)
        if isinstance(claim := claim_of(forger.files, n), Unreachable) and claim.lemmas
    )
    forger.claim(number, lemmas=())
    said = outside(program, package, put(forger.finished(), tmp_path / "bundle"))
    assert [proof for proof, passed in said.items() if passed != "True"] == [number]


def test_what_the_folder_itself_says_of_it(tmp_path: Path) -> None:
    """The program in its README is one that runs, in an environment without anything of ours."""
    files = made("mixed")
    text = files[READ_ME].decode()
    program = text.split("<<'END'\n", 1)[1].split("END\n", 1)[0]
    bundle = put(files, tmp_path / "bundle")
    place = clean_place(tmp_path / "only dratify", "dratify")
    run = subprocess.run(
        [sys.executable, "-I", "-S", "-c", START.format(place=str(place), ours=OURS) + program],
        cwd=bundle,
        env={},
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    lines = run.stdout.splitlines()
    assert len(lines) == len(proofs_of(files))
    assert all(line.endswith(" refuted") for line in lines), run.stdout


def test_lemmas_are_told_one_a_line_in_the_words_of_the_trade() -> None:
    files = made("mixed")
    for number in proofs_of(files):
        claim, words = claim_of(files, number), files[f"{PROOFS}/{number}/claim.txt"].decode()
        if isinstance(claim, Unreachable):
            told = [line for line in words.splitlines() if line.startswith("always: ")]
            assert len(told) == len(claim.lemmas)
            assert len(set(told)) == len(told)
            targets = [line for line in words.splitlines() if line.startswith("never: ")]
            assert len(targets) == len(claim.targets)
    everything = "".join(files[f"{PROOFS}/{n}/claim.txt"].decode() for n in proofs_of(files))
    assert 'never: "drawn without air" is broken\nassumed: the air stays on\n' in everything
    assert 'never: "discharge with the stop in" is met\n' in everything
    assert 'never: what "what never happens" speaks of: ' in everything
    assert "never: supply and exhaust fight in a line\n" in everything
    assert "always: stop.spool is pressed or " in everything
    assert "in the end still: vent.poppet\n" in everything
