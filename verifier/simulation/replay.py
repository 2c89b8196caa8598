"""Replaying a run: nothing is believed that the rules do not allow step by step."""

from __future__ import annotations

from verifier.model.circuit import Circuit
from verifier.model.run import Run, State, Step
from verifier.simulation.checking import check_state, check_step
from verifier.simulation.steps import start

Checked = dict[tuple[int, int], tuple[State, Step]]
"""Steps with the states that they are taken in, by their identities: states are large, and runs
that have steps in common mostly have the very same ones. What is kept here keeps its identity."""


class ReplayError(Exception):
    """The run is not one of the circuit. `step` counts from 1; 0 is the start."""

    def __init__(self, step: int, rule: str, words: str) -> None:
        super().__init__(f"step {step}: {words} ({rule})")
        self.step = step
        self.rule = rule
        self.words = words


def replay(circuit: Circuit, run: Run, checked: Checked | None = None) -> None:
    """Raises ReplayError at the first state or step that the rules do not allow.

    checked: steps of this circuit that were found to be allowed; it is added to, so that what
    several runs have in common is checked once.
    """
    if run.start != start(circuit):
        raise ReplayError(0, "O4", "the run does not begin at the start of the design")
    for breach in check_state(circuit, run.start):
        raise ReplayError(0, breach.rule, breach.words)
    before = run.start
    for number, step in enumerate(run.steps, 1):
        if checked is None or (id(before), id(step)) not in checked:
            for breach in check_step(circuit, before, step):
                raise ReplayError(number, breach.rule, breach.words)
            if checked is not None:
                checked[id(before), id(step)] = before, step
        before = step.state
