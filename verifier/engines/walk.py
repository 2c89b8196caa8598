"""Runs worked out on the graph itself: what a search found is walked before it is claimed."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.engines.evaluator import Evaluator
from verifier.transition.system import Goal, Reached, System

State = tuple[bool, ...]
Choices = tuple[bool, ...]


class EngineError(Exception):
    """A search contradicts the system that it searched: a defect of ours, never of the design."""


def start_of(system: System) -> State:
    return tuple(latch.start for latch in system.latches)


def after(system: System, state: State, choices: Choices) -> tuple[State, bool]:
    """The state after a step, and whether the step is allowed."""
    values = inputs(system, state, choices)
    roots = [latch.next for latch in system.latches]
    *latches, allowed = system.graph.evaluate([*roots, system.step_allowed], values)
    return tuple(latches), allowed


def inputs(system: System, state: State, choices: Choices) -> dict[int, bool]:
    """Truth by input node of the graph."""
    values = {latch.node: bit for latch, bit in zip(system.latches, state, strict=True)}
    values.update({c.node: bit for c, bit in zip(system.choices, choices, strict=True)})
    return values


def holds(system: System, literal: int, state: State) -> bool:
    """Truth in a state of a literal over the latches."""
    values = {latch.node: bit for latch, bit in zip(system.latches, state, strict=True)}
    return system.graph.evaluate([literal], values)[0]


def walk(system: System, choices: Sequence[Choices]) -> list[State] | None:
    """The states of a run from the start, or None if some step is not allowed."""
    states = [start_of(system)]
    evaluator = Evaluator(system.graph)
    evaluator.follow([*(latch.next for latch in system.latches), system.step_allowed])
    for row in choices:
        evaluator.put(inputs(system, states[-1], row))
        if not evaluator.true(system.step_allowed):
            return None
        states.append(tuple(evaluator.true(latch.next) for latch in system.latches))
    return states


def reached(
    system: System, goal: Goal, choices: Sequence[Choices], shortest: bool, engine: str
) -> Reached:
    """The run as a finding, walked first. Raises EngineError if it does not run into `bad`."""
    states = walk(system, choices)
    if states is None or not holds(system, goal.bad, states[-1]):
        raise EngineError(f"{engine} found a run into {goal.name!r} that does not run")
    return Reached(goal.name, tuple(states), tuple(choices), shortest, engine)
