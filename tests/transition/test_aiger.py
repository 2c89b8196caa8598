"""AIGER files read back by a reader of the format and compared with the system, step by step; what
yosys-abc (from the package pyosys) says about them is in tests/benchmarks/test_references.py."""

from __future__ import annotations

from itertools import product
from pathlib import Path
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.cli.command import HERON, shutproof
from tests.engines.systems import Truth, goals_of, random_system
from tests.transition.aiger_reader import Model, read
from verifier import load
from verifier.studies.aiger import Form, aiger_file, bad_states
from verifier.transition.aiger import ascii_file, binary_file, numbered, together
from verifier.transition.compile import compile_circuit
from verifier.transition.system import Goal, System

writers = pytest.mark.parametrize("write", [ascii_file, binary_file])


def shortest(model: Model) -> int | None:
    """Steps to the first moment at which a bad state shows and the constraints have held."""
    border, seen, depth = {model.start()}, {model.start()}, 0
    rows = list(product((False, True), repeat=len(model.inputs)))
    while border:
        after = set()
        for state in border:
            for row in rows:
                moment = model.look(state, row)
                if moment.allowed:
                    if any(moment.bads):
                        return depth
                    after.add(moment.after)
        border = after - seen
        seen |= after
        depth += 1
    return None


@writers
@pytest.mark.parametrize("reduced", [False, True])
@given(random=st.randoms(use_true_random=False))
@settings(max_examples=50)
def test_the_file_reaches_what_the_system_reaches(
    write: object, reduced: bool, random: Random
) -> None:
    assert callable(write)
    system, literals = random_system(random, latches=4, choices=3)
    goals = goals_of(literals)[:2]
    truth = Truth(system)
    lengths = [truth.shortest(goal.bad) for goal in goals]
    for goal, length in zip(goals, lengths, strict=True):
        assert shortest(read(write(numbered(system, [goal], reduced=reduced)))) == length
    either = min((one for one in lengths if one is not None), default=None)
    assert shortest(read(write(numbered(system, goals)))) == either
    assert shortest(read(write(numbered(system, [together(system, goals)])))) == either


def same_steps(system: System, goals: list[Goal], model: Model, random: Random) -> None:
    """Random valuations: the file's bits are those of the graph."""
    graph, latches, choices = system.graph, system.latches, system.choices
    roots = [*(one.next for one in latches), *(one.bad for one in goals)]
    for _ in range(30):
        state = [random.random() < 0.5 for _ in latches]
        row = [random.random() < 0.5 for _ in choices]
        values = {one.node: bit for one, bit in zip(latches, state, strict=True)}
        values.update({one.node: bit for one, bit in zip(choices, row, strict=True)})
        moment = model.look(state, row)
        found = graph.evaluate([*roots, system.step_allowed, system.state_allowed], values)
        assert moment.after == tuple(found[: len(latches)])
        assert moment.bads == tuple(found[len(latches) : len(roots)])
        assert moment.allowed == (found[-1] and found[-2])


@pytest.mark.parametrize("binary", [True, False])
@pytest.mark.parametrize(
    "design", ["specs/heron/heron.ilk", "specs/tern/tern.ilk", "specs/fulmar/fulmar.ilk"]
)
def test_a_design_comes_back_whole(design: str, binary: bool) -> None:
    loaded = load(Path(HERON).parents[2] / design)
    model = read(aiger_file(loaded, Form(binary=binary)))
    compiled = compile_circuit(loaded.circuit)
    system, goals = compiled.system, bad_states(compiled)
    assert model.start() == tuple(one.start for one in system.latches)
    same_steps(system, goals, model, Random(design))
    for letter, names in (
        ("i", [one.name for one in system.choices]),
        ("l", [one.name for one in system.latches]),
        ("b", [one.name for one in goals]),
    ):
        assert [model.symbols[f"{letter}{k}"] for k in range(len(names))] == names
    assert model.comments[0] == "c"
    left_out = [item.name for item in loaded.circuit.properties if item.form == "recovers"]
    assert left_out
    assert all(any(f'"{name}"' in line for line in model.comments) for name in left_out)


def test_text_and_binary_say_the_same() -> None:
    loaded = load(HERON)
    one, other = (read(aiger_file(loaded, Form(binary=binary))) for binary in (True, False))
    assert one == other


def test_the_command(tmp_path: Path) -> None:
    file = tmp_path / "heron.aig"
    done = shutproof("export", HERON, "--as", "aiger", "--output", file)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert file.read_bytes() == aiger_file(load(HERON), Form())
    text = shutproof("export", HERON, "--as", "aiger-text", "--combined").stdout
    assert text.startswith("aag ")
    model = read(text.encode())
    assert len(model.bads) == 1
    assert "tractor is present" in model.symbols.values()
    assert "vent[1] is open" in text or "vent[1].poppet is open" in text
