"""Engines that are wrong on purpose, asked through the command: status 70 and no verdict at all."""

from __future__ import annotations

import pytest
from command import BANK_FROM_MASTER, HERON, broken

ONE_BY_ONE = """
import verifier.engines.registry as registry
from verifier.transition.system import Proved, Reached


class Liar:
    name = "liar"

    def search(self, system, goal, budget):
        start = tuple(latch.start for latch in system.latches)
        return {claim}


registry.ENGINES["liar"] = Liar()
"""
FORGETS_THE_PROPERTY = "Proved(goal.name, (), 'liar')"
PROVES_ANOTHER = "Proved('another', (), 'liar')"
NOT_INDUCTIVE = "Proved(goal.name, tuple(((i, bit),) for i, bit in enumerate(start)), 'liar')"
CONTRADICTS_ITSELF = "Proved(goal.name, (((0, True),), ((0, False),)), 'liar')"
ENDS_ELSEWHERE = "Reached(goal.name, (start,), (), True, 'liar')"
DOES_NOT_RUN = (
    "Reached(goal.name, (start, tuple(not bit for bit in start)),"
    " (tuple(False for _ in system.choices),), True, 'liar')"
)
RUNS_INTO_ANOTHER = "Reached('another', (start,), (), True, 'liar')"


@pytest.mark.parametrize(
    ("claim", "words"),
    [
        (FORGETS_THE_PROPERTY, "does not stand"),
        (PROVES_ANOTHER, "not those of the goals"),
        (NOT_INDUCTIVE, "does not stand"),
        (CONTRADICTS_ITSELF, "does not stand"),
        (ENDS_ELSEWHERE, "does not show what it should"),
        (DOES_NOT_RUN, "does not replay"),
        (RUNS_INTO_ANOTHER, "not those of the goals"),
    ],
)
def test_a_named_engine(claim: str, words: str) -> None:
    """The design is violated, so that the first claim is not right by chance."""
    form = ("--json",) if claim == FORGETS_THE_PROPERTY else ()
    arguments = ("prove", "--engine", "liar", *form, BANK_FROM_MASTER)
    no_verdict(ONE_BY_ONE.replace("{claim}", claim), words, *arguments)


def test_what_is_true_needs_a_proof_all_the_same() -> None:
    """Every property of this design holds; what is offered for it does not show that."""
    patch = ONE_BY_ONE.replace("{claim}", NOT_INDUCTIVE)
    no_verdict(patch, "does not stand", "prove", "--engine", "liar", HERON)


# The default asks many goals at once: honest answers, spoilt on their way.
TOGETHER = """
import verifier.studies.inquiry as inquiry
from msgspec.structs import replace
from verifier.transition.system import Proved, Reached

honest = inquiry.settle_goals


def spoilt(system, goals, *others):
    found = list(honest(system, goals, *others))
    proved = [one for one in found if isinstance(one, Proved)]
    reached = [k for k, one in enumerate(found) if isinstance(one, Reached) and one.choices]
    {spoil}
    return tuple(found)


inquiry.settle_goals = spoilt
"""
DROPS_A_PROPERTY = "found = found[:-1]"
PROVES_OTHERS = "found = [replace(one, goal='another') for one in found]"
HIDES_A_VIOLATION = (
    "found = [Proved(one.goal, proved[0].lemmas if proved else (), 'liar')"
    " if k in reached else one for k, one in enumerate(found)]"
)
DROPS_CLAUSES = (
    "found = [replace(one, lemmas=()) if isinstance(one, Proved) else one for one in found]"
)
CUTS_RUNS_SHORT = (
    "found = [replace(one, states=one.states[:-1], choices=one.choices[:-1], shortest=False)"
    " if k in reached else one for k, one in enumerate(found)]"
)
SKIPS_A_STEP = (
    "found = [replace(one, states=(one.states[0], *one.states[2:]), choices=one.choices[1:],"
    " shortest=False) if k in reached and one.choices[1:] else one"
    " for k, one in enumerate(found)]"
)


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (DROPS_A_PROPERTY, "not those of the goals"),
        (PROVES_OTHERS, "not those of the goals"),
        (HIDES_A_VIOLATION, "does not stand"),
        (DROPS_CLAUSES, "does not stand"),
        (CUTS_RUNS_SHORT, "does not show what it should"),
        (SKIPS_A_STEP, "does not replay"),
    ],
)
def test_the_default(spoil: str, words: str) -> None:
    no_verdict(TOGETHER.replace("{spoil}", spoil), words, "prove", BANK_FROM_MASTER)


def no_verdict(patch: str, words: str, *arguments: object) -> None:
    done = broken(patch, *arguments)
    assert (done.returncode, done.stdout) == (70, "")
    assert words in done.stderr
    assert "No verdict is given" in done.stderr
    assert "Traceback" not in done.stderr
