"""Properties and assumptions: quantifiers expanded, conditions read, triggers told apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from verifier.diagnostics.span import Span
from verifier.model.circuit import Assumption, Instance, Property
from verifier.model.condition import Condition
from verifier.model.conditions import Conditions, Voice
from verifier.model.numbers import Env
from verifier.model.procedures import procedure
from verifier.model.quantifiers import Content, assignments, labels
from verifier.model.simplify import TRUE, all_of, negate
from verifier.model.things import Scope
from verifier.model.wording import Spoken
from verifier.syntax import tree

_PROPERTY = Voice("property")
_ASSUMPTION = Voice("assumption")

AnyProperty = tree.PropertyStatement | tree.OrderStatement | tree.RecoversStatement


@dataclass(eq=False)
class Said:
    """Properties and assumptions so far, with where each name was given."""

    properties: list[Property] = field(default_factory=list)
    assumptions: list[Assumption] = field(default_factory=list)
    names: dict[tuple[str, str], Span] = field(default_factory=dict)


def properties_and_assumptions(
    conditions: Conditions,
) -> tuple[tuple[Property, ...], tuple[Assumption, ...]]:
    said = Said()
    for scope, statement in conditions.draft.statements():
        if isinstance(statement, AnyProperty):
            _property(statement, scope, conditions, said)
        elif isinstance(statement, tree.AssumeStatement):
            _assumption(statement, scope, conditions, said)
    return tuple(said.properties), tuple(said.assumptions)


def _name(
    what: str, name: str, scope: Scope, span: Span, conditions: Conditions, said: Said
) -> str:
    """The full name; tells one that is given twice."""
    full = f"{scope.path}: {name}" if scope.path else name
    first = said.names.setdefault((what, full), span)
    if first is not span:
        conditions.draft.mistakes.add(
            "E0301",
            span,
            f"the {what} “{full}” is named twice",
            related=((first, "the name is given here"),),
        )
    return full


def _instances(
    quantifier: tree.Quantifier | None,
    contents: tuple[Content, ...],
    scope: Scope,
    conditions: Conditions,
) -> Iterator[tuple[str, Env]]:
    if quantifier is None:
        yield "", scope.env
        return
    binders = quantifier.binders
    chosen = assignments(binders, contents, scope, scope.env, conditions.draft) or []
    yield from zip(labels(binders, chosen), chosen, strict=True)


def _property(statement: AnyProperty, scope: Scope, conditions: Conditions, said: Said) -> None:
    name = _name("property", statement.name, scope, statement.span, conditions, said)
    contents: tuple[Content, ...] = (statement.condition,)
    if isinstance(statement, tree.OrderStatement):
        contents = (statement.condition, statement.first)
    elif isinstance(statement, tree.RecoversStatement):
        contents = (*(action.what for action in statement.actions), statement.condition)
    instances: list[Instance] = []
    sentence = _Sentence(scope, conditions)
    before = conditions.draft.mistakes.count
    counted = f"property “{name}”"
    for text, env in _instances(statement.quantifier, contents, scope, conditions):
        conditions.draft.budget.member(counted)
        if conditions.draft.mistakes.count > before:
            break
        if isinstance(statement, tree.OrderStatement):
            instances.append(_order(statement, text, env, sentence))
        elif isinstance(statement, tree.RecoversStatement):
            instances.append(_recovers(statement, text, env, sentence))
        else:
            instances.append(_plain(statement, text, env, sentence))
    form = (
        statement.form
        if isinstance(statement, tree.PropertyStatement)
        else "order"
        if isinstance(statement, tree.OrderStatement)
        else "recovers"
    )
    moment = None if isinstance(statement, tree.RecoversStatement) else statement.moment
    default = "every_moment" if form == "order" else "at_rest"
    if instances:
        said.properties.append(
            Property(
                name=name,
                form=form,
                moment=moment or default,  # type: ignore[arg-type]
                instances=tuple(instances),
                span=statement.span,
                doc=statement.doc or "",
            )
        )


class _Sentence:
    """A property statement, whose instances share much of what they say.

    read, words: of a condition with these values of the variables.
    """

    def __init__(self, scope: Scope, conditions: Conditions) -> None:
        self.scope = scope
        self.conditions = conditions
        self.spoken = Spoken(scope.path)
        self.read = conditions.sentence(scope, _PROPERTY).of
        self.words = self.spoken.part


def _plain(statement: tree.PropertyStatement, text: str, env: Env, sentence: _Sentence) -> Instance:
    """never: each of two or more conjuncts must be able to come true; always: its `if` must."""
    condition, read, words = statement.condition, sentence.read, sentence.words
    if statement.form == "never" and isinstance(condition, tree.And):
        parts = [read(one, env) for one in condition.of]
        said = [words(one, env) for one in condition.of]
        whole = sentence.conditions.joined(parts, True)
        spoken = sentence.spoken.joined(condition, said)
    else:
        whole, spoken = read(condition, env), words(condition, env)
        parts, said = [], []
        if statement.form == "always" and isinstance(condition, tree.If):
            parts, said = [read(condition.when, env)], [words(condition.when, env)]
    if TRUE in parts:
        said = [one for one, part in zip(said, parts, strict=True) if part != TRUE]
        parts = [part for part in parts if part != TRUE]
    return Instance(text, whole, spoken, tuple(parts), tuple(said))


def _order(statement: tree.OrderStatement, text: str, env: Env, sentence: _Sentence) -> Instance:
    condition = sentence.read(statement.condition, env)
    spoken = sentence.words(statement.condition, env)
    return Instance(
        label=text,
        condition=condition,
        words=spoken,
        triggers=(condition,),
        trigger_words=(spoken,),
        first=sentence.read(statement.first, env),
        first_words=sentence.words(statement.first, env),
    )


def _recovers(
    statement: tree.RecoversStatement, text: str, env: Env, sentence: _Sentence
) -> Instance:
    return Instance(
        label=text,
        condition=sentence.read(statement.condition, env),
        words=sentence.words(statement.condition, env),
        procedure=procedure(statement.actions, sentence.scope, env, sentence.conditions),
    )


def _assumption(
    statement: tree.AssumeStatement, scope: Scope, conditions: Conditions, said: Said
) -> None:
    name = _name("assumption", statement.name, scope, statement.span, conditions, said)
    if statement.form == "possible":
        conditions.draft.mistakes.add(
            "E0710", statement.span, "an assumption says `always` or `never`, not `possible`"
        )
        return
    parts: list[Condition] = []
    contents = (statement.condition,)
    sentence = conditions.sentence(scope, _ASSUMPTION)
    before = conditions.draft.mistakes.count
    for _, env in _instances(statement.quantifier, contents, scope, conditions):
        if conditions.draft.mistakes.count > before:
            break
        read = sentence.of(statement.condition, env)
        parts.append(negate(read) if statement.form == "never" else read)
    said.assumptions.append(Assumption(name, statement.reason, all_of(parts), statement.span))
