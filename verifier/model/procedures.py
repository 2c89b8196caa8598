"""The actions of a *recovers* property, as set points of hands and switches."""

from __future__ import annotations

from verifier.model.circuit import Setpoint
from verifier.model.condition import Condition, Hand, Setting
from verifier.model.conditions import Conditions, Voice
from verifier.model.numbers import Env
from verifier.model.things import Scope
from verifier.model.wording import words
from verifier.syntax import tree

_ACTION = Voice("action")


def procedure(
    actions: tuple[tree.Action, ...], scope: Scope, env: Env, conditions: Conditions
) -> tuple[Setpoint, ...]:
    """One set point per action; what is no action is told."""
    found = []
    for action in actions:
        before = conditions.draft.mistakes.count
        meaning = conditions.read(action.what, scope, env, _ACTION)
        if conditions.draft.mistakes.count > before:
            continue
        setpoint = _setpoint(action, meaning, scope, env, conditions)
        if setpoint is not None:
            found.append(setpoint)
    return tuple(found)


def _setpoint(
    action: tree.Action, meaning: Condition, scope: Scope, env: Env, conditions: Conditions
) -> Setpoint | None:
    spoken = words(action.what, env, scope.path, negated=action.undo)
    told = "an action works a hand control, or sets a supply or the surroundings"
    if isinstance(meaning, Hand):
        if not action.undo:
            return Setpoint(meaning.hand, None, 1, spoken)
        if conditions.hands[meaning.hand].held:
            return Setpoint(meaning.hand, None, 0, spoken)
        told = f"`{conditions.hands[meaning.hand].name}` acts for a moment: it cannot be let go"
    elif isinstance(meaning, Setting) and len(meaning.values) == 1:
        if not action.undo:
            return Setpoint(None, meaning.switch, meaning.values[0], spoken)
        told = "say which value it is set to instead of `not`"
    conditions.draft.mistakes.add("E0709", action.span, told)
    return None
