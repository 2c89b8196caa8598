"""What a certificate says, and that its script means the same to anybody."""

from __future__ import annotations

import pytest

from tests.engines.systems import counter, equals, system_of
from verifier.engines.directed import Directed
from verifier.engines.engine import Budget
from verifier.evidence.certificate import certify, certify_all
from verifier.evidence.error import EvidenceError
from verifier.transition.graph import TRUE, Graph
from verifier.transition.system import Goal, Proved, System

BUDGET = Budget(conflicts=100_000, depth=60)


def lamps(assumed: tuple[str, ...]) -> tuple[System, Goal]:
    """Two lamps that are switched at will. `apart`: never both. `idle`: the third is left alone."""
    graph = Graph()
    one, two, three = (graph.input(f"lamp {i}") for i in range(3))
    nexts = [graph.input(f"next {i}") for i in range(3)]
    rules = {
        "apart": (graph.both(nexts[0], nexts[1]) ^ 1, graph.both(one, two) ^ 1),
        "idle": (nexts[2] ^ 1, three ^ 1),
    }
    system = system_of(
        graph,
        [(one, False, nexts[0]), (two, False, nexts[1]), (three, False, nexts[2])],
        nexts,
        [(name, rules[name][0]) for name in assumed],
        state_allowed=graph.all(rules[name][1] for name in assumed),
        state_assumptions=[(name, rules[name][1]) for name in assumed],
    )
    return system, Goal("both", graph.both(one, two))


def test_it_names_the_assumptions_it_needs_and_no_others() -> None:
    system, goal = lamps(("idle", "apart"))
    certificate = certify(system, goal, Proved("both", (), "by hand"))
    assert certificate.assumptions == ("apart",)
    assert certificate.goals == ("both",)


def test_without_the_assumption_there_is_no_proof() -> None:
    system, goal = lamps(("idle",))
    with pytest.raises(EvidenceError, match="both: after a step"):
        certify(system, goal, Proved("both", (), "by hand"))


def test_a_proof_that_needs_no_assumption_names_none() -> None:
    system, _ = lamps(("idle", "apart"))
    assert certify(system, Goal("never", 0), Proved("never", (), "by hand")).assumptions == ()


def test_parts_of_a_step_that_are_narrower_than_the_step_are_refused() -> None:
    """Else a proof could use what no step has to satisfy."""
    graph = Graph()
    lamp, wish = graph.input("lamp"), graph.input("wish")
    honest = system_of(graph, [(lamp, False, wish)], [wish], [("off", wish ^ 1)])
    narrow = System(**{name: getattr(honest, name) for name in honest.__struct_fields__})
    assert certify(narrow, Goal("on", lamp), Proved("on", (), "")).assumptions == ("off",)
    values = {name: getattr(honest, name) for name in honest.__struct_fields__}
    values["step_allowed"] = TRUE
    with pytest.raises(EvidenceError, match="parts of a step"):
        certify(System(**values), Goal("on", lamp), Proved("on", (), ""))


def test_what_is_demanded_of_states_for_no_assumption_helps_once_it_is_shown() -> None:
    """The second lamp is always dark, and the first follows it."""
    graph = Graph()
    one, two, wish = graph.input("one"), graph.input("two"), graph.input("wish")
    rows = [(one, False, two), (two, False, wish)]
    goal, proved = Goal("one", one), Proved("one", (), "by hand")
    kept = system_of(graph, rows, [wish], encoding=wish ^ 1, state_allowed=two ^ 1)
    certificate = certify(kept, goal, proved)
    assert certificate.assumptions == ()
    with pytest.raises(EvidenceError, match="does not stand: one: after a step"):
        certify(system_of(graph, rows, [wish], encoding=wish ^ 1), goal, proved)
    with pytest.raises(EvidenceError, match="does not stand: assumption : after a step"):
        certify(system_of(graph, rows, [wish], state_allowed=two ^ 1), goal, proved)


def test_an_assumption_about_states_only_is_refused() -> None:
    graph = Graph()
    lamp, wish = graph.input("lamp"), graph.input("wish")
    system = system_of(graph, [(lamp, False, wish)], [wish], state_assumptions=[("off", lamp ^ 1)])
    with pytest.raises(EvidenceError, match="speak of states only"):
        certify(system, Goal("on", lamp), Proved("on", (), "by hand"))


def test_obligations_grow_with_goals() -> None:
    system = counter(3, top=4)
    digits = [2 * latch.node for latch in system.latches]
    goals = [Goal(str(n), equals(system.graph, digits, n)) for n in (5, 6, 7)]
    proofs = [Directed().search(system, goal, BUDGET) for goal in goals]
    known = [proof for proof in proofs if isinstance(proof, Proved)]
    assert len(known) == 3
    certificate = certify_all(system, goals, known)
    assert certificate.obligations >= 2 * len(goals)
    assert certificate.clauses == len({lemma for proof in known for lemma in proof.lemmas})
