"""Everybody who is measured gives the same verdicts on small members, and limits hold."""

from __future__ import annotations

import sys
from pathlib import Path
from random import Random

import pytest

from tests.benchmarks.child import Limit, run
from tests.benchmarks.contestants import OURS, REFERENCES, Contestant, Files, heard, program
from tests.benchmarks.families import FAMILIES
from tests.benchmarks.families.member import Member
from tests.benchmarks.question import circuit_of, pose
from tests.engines.systems import Truth, goals_of, random_system
from verifier.transition.aiger import binary_file, numbered

LIMIT = Limit(seconds=60, mebibytes=4096)
SMALL = [
    FAMILIES[name].member(*sizes, flawed=flawed)
    for name, sizes in (("carry", (4,)), ("rotary", (2,)), ("token", (3,)))
    for flawed in (False, True)
]


def files_of(member: Member, folder: Path) -> Files:
    files = Files(folder / "member.ilk", folder / "member.aig")
    files.design.write_text(member.text)
    posed = pose(circuit_of(files.design), member)
    model = numbered(posed.compiled.system, [posed.goal], reduced=True)
    files.model.write_bytes(binary_file(model))
    return files


@pytest.mark.parametrize("one", [OURS, *REFERENCES], ids=lambda one: str(one.name))
@pytest.mark.parametrize("member", SMALL, ids=lambda member: str(member.name))
def test_the_same_verdict(one: Contestant, member: Member, tmp_path: Path) -> None:
    if not (one.finds if member.flawed else one.proves):
        return
    figure = one.ask(member, files_of(member, tmp_path), LIMIT)
    assert (figure.outcome, figure.why) == ("violated" if member.flawed else "holds", "")
    assert 0 < figure.search < figure.whole
    shortest = min((n for n in member.violated.values() if n is not None), default=0)
    if one.name in ("ours", "bmc3", "explicit", "bdd"):
        assert figure.length == (shortest if member.flawed else None)
    elif figure.length is not None:
        assert figure.length >= shortest


@pytest.mark.parametrize("command", ["pdr", "pdr -s", "bmc3 -F 30"])
def test_yosys_abc_reads_what_we_write(command: str, tmp_path: Path) -> None:
    """Random systems, with constraints and latches that start as true: it finds what exhaustive
    search finds."""
    path = program()
    assert path is not None, "the package pyosys belongs to the extra `bench`"
    random, found = Random(7), []
    for number in range(25):
        system, literals = random_system(random, latches=4, choices=3)
        goal = goals_of(literals)[0]
        length = Truth(system).shortest(goal.bad)
        file = tmp_path / f"{number}.aig"
        file.write_bytes(binary_file(numbered(system, [goal])))
        said = run([path, "-q", f"read_aiger {file}; fold; strash; {command}"], LIMIT).output
        outcome, depth = heard(said)
        if length is not None:
            assert outcome == "violated", said
            assert depth is not None
            assert depth == length if command.startswith("bmc3") else depth >= length
        elif not command.startswith("bmc3"):
            assert outcome == "holds", said
        found.append(outcome)
    assert {"violated"} < set(found)


def test_limits_end_a_process_and_what_it_started() -> None:
    program = "while True: pass"
    busy = run([sys.executable, "-c", program], Limit(seconds=1))
    assert busy.how == "out of time"
    assert 0.9 < busy.cpu < 4
    hungry = run([sys.executable, "-c", "x = bytearray(2**31)"], Limit(seconds=20, mebibytes=1024))
    assert hungry.how == "out of memory"
    quick = run([sys.executable, "-c", "print(1 + 1)"], LIMIT)
    assert (quick.how, quick.status, quick.output) == ("done", 0, "2\n")
    assert 5 < quick.peak < 500
