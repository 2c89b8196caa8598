"""Conditions in plain English, for stories: "flow from tank[1] to coupling and not at rest"."""

from __future__ import annotations

from verifier.model.numbers import Env, KindName
from verifier.model.sharing import Shared
from verifier.syntax import tree

_TWO_PLACES = {
    "flow": ("flow from {0} to {1}", "no flow from {0} to {1}"),
    "joined": ("{0} joined to {1}", "{0} not joined to {1}"),
    "vapour": ("a vapour path from {0} to {1}", "no vapour path from {0} to {1}"),
    "vapour_joined": ("vapour of {0} joined to {1}", "vapour of {0} not joined to {1}"),
}
_PRESSURE = {
    "high": ("{0} has air", "{0} has no air"),
    "low": ("{0} has no air", "{0} has air"),
}


def words(expression: tree.Expression, env: Env, path: str = "", *, negated: bool = False) -> str:
    """The condition (or its opposite) in words; names get the scope's `path` before them.

    Index variables without a value in `env` (those of an inner `every`) keep their names.
    """
    if negated:
        return Spoken(path).words(tree.Negated(expression, expression.span), env)
    return Spoken(path).words(expression, env)


class Spoken:
    """Words of one statement's conditions: a part of them that speaks of the same values is put
    into words once."""

    def __init__(self, path: str = "") -> None:
        self._path = path
        shared: Shared[tree.Expression, str] = Shared(self.words)
        self.part = shared.of
        # The word between the parts of a conjunction or disjunction, and which are in brackets.
        self._joints: dict[int, tuple[str, list[int]]] = {}

    def words(self, expression: tree.Expression, env: Env) -> str:
        """As the function `words`."""
        if isinstance(expression, tree.Negated):
            return self._opposite(expression.of, env)
        if isinstance(expression, tree.And | tree.Or):
            return self.joined(expression, [self.part(one, env) for one in expression.of])
        if isinstance(expression, tree.If):
            return f"if {self.part(expression.when, env)} then {self.part(expression.then, env)}"
        if isinstance(expression, tree.Quantified):
            among = "every" if expression.every else "some"
            names = {variable.name for variable in expression.binders.variables}
            inner = {name: value for name, value in env.items() if name not in names}
            shown = _binders(expression.binders, inner)
            return f"for {among} {shown}: {self.words(expression.of, inner)}"
        return _plain_words(expression, env, self._path, False)

    def joined(self, expression: tree.And | tree.Or, texts: list[str]) -> str:
        """The words of a conjunction or disjunction, of those of its parts."""
        known = self._joints.get(id(expression))
        if known is None:
            loose: tuple[type, ...] = (tree.If, tree.Quantified)
            if isinstance(expression, tree.And):
                loose = (*loose, tree.Or)
            word = " and " if isinstance(expression, tree.And) else " or "
            inside = [n for n, one in enumerate(expression.of) if isinstance(one, loose)]
            known = self._joints[id(expression)] = (word, inside)
        word, inside = known
        for number in inside:
            texts = [*texts[:number], f"({texts[number]})", *texts[number + 1 :]]
        return word.join(texts)

    def _opposite(self, expression: tree.Expression, env: Env) -> str:
        if isinstance(expression, tree.Negated):
            return self.words(expression.of, env)
        if isinstance(expression, tree.If | tree.And | tree.Or | tree.Quantified):
            return f"not ({self.words(expression, env)})"
        return _plain_words(expression, env, self._path, True)


def _plain_words(
    expression: tree.Word | tree.Is | tree.Rest | tree.ByHand | tree.Worked,
    env: Env,
    path: str,
    negated: bool,
) -> str:
    if isinstance(expression, tree.Word):
        named = [reference_text(argument, env, path) for argument in expression.arguments]
        return _word(expression.name, named, negated)
    if isinstance(expression, tree.Is):
        subject = reference_text(expression.subject, env, path)
        return f"{subject} is {'not ' if negated else ''}{plain(expression.value)}"
    if isinstance(expression, tree.Rest):
        return "not at rest" if negated else "at rest"
    if isinstance(expression, tree.ByHand):
        return f"{'not ' if negated else ''}{plain(expression.hand)} by hand"
    return "not worked" if negated else "worked"


def _word(name: str, arguments: list[str], negated: bool) -> str:
    patterns = _TWO_PLACES if len(arguments) == 2 else _PRESSURE
    if name in patterns:
        return patterns[name][negated].format(*arguments)
    return f"{', '.join(arguments)} {'not ' if negated else ''}{plain(name)}"


def _binders(binders: tree.Binders, env: Env) -> str:
    text = ""
    for variable in binders.variables:
        if text:
            text += " < " if variable.above else ", "
        text += variable.name
        if variable.low is not None and variable.high is not None:
            text += f" in {sum_text(variable.low, env)}..{sum_text(variable.high, env)}"
    for number, comparison in enumerate(binders.where):
        left, right = sum_text(comparison.left, env), sum_text(comparison.right, env)
        text += f" {'and' if number else 'where'} {left} {comparison.operator} {right}"
    return text


def plain(name: str) -> str:
    return name.replace("_", " ")


def reference_text(reference: tree.Reference, env: Env, path: str = "") -> str:
    """The reference with its indices worked out as far as `env` goes."""
    text = ".".join(_segment(segment, env) for segment in reference.segments)
    return f"{path}.{text}" if path else text


def _segment(segment: tree.Segment, env: Env) -> str:
    if not segment.indices:
        return segment.name
    shown = []
    for index in segment.indices:
        low = sum_text(index.low, env)
        text = low if index.high is None else f"{low}..{sum_text(index.high, env)}"
        if index.variable is not None and index.variable in env:
            text = str(env[index.variable])
        shown.append(text)
    return f"{segment.name}[{','.join(shown)}]"


def sum_text(number: tree.Sum, env: Env) -> str:
    value = _value(number, env)
    if value is not None:
        return str(value)
    if isinstance(number, tree.Integer):
        return str(number.value)
    if isinstance(number, tree.Variable):
        known = env.get(number.name)
        return known.name if isinstance(known, KindName) else number.name
    left, right = sum_text(number.left, env), sum_text(number.right, env)
    return f"{left} {number.operator} {right}"


def _value(number: tree.Sum, env: Env) -> int | None:
    if isinstance(number, tree.Integer):
        return number.value
    if isinstance(number, tree.Variable):
        value = env.get(number.name)
        return value if isinstance(value, int) else None
    left, right = _value(number.left, env), _value(number.right, env)
    if left is None or right is None:
        return None
    if number.operator == "+":
        return left + right
    return left - right if number.operator == "-" else left * right
