"""Mutants of a module: its text parsed, and one small thing in it changed.

Left alone are docstrings, annotations, decorators, imports, and what only words messages: text, and
the arguments of what is raised.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Iterator
from pathlib import Path

from msgspec import Struct

ROOT = Path(__file__).resolve().parents[2]

COMPARED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq,
    ast.Lt: ast.LtE,
    ast.LtE: ast.Lt,
    ast.Gt: ast.GtE,
    ast.GtE: ast.Gt,
    ast.In: ast.NotIn,
    ast.NotIn: ast.In,
    ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}
COMPUTED: dict[type[ast.operator], type[ast.operator]] = {
    ast.Add: ast.Sub,
    ast.Sub: ast.Add,
    ast.BitAnd: ast.BitOr,
    ast.BitOr: ast.BitAnd,
}
# What is called, and what is called instead.
CALLED = {
    "both": "either",
    "either": "both",
    "all": "any",
    "any": "all",
    "min": "max",
    "max": "min",
    "conjunction": "disjunction",
    "disjunction": "conjunction",
}
# What is read, and what is read instead.
READ = {
    "fed": "vented",
    "vented": "fed",
    "can_high": "can_low",
    "can_low": "can_high",
    "now": "then",
    "then": "now",
    "held": "momentary",
}
# Calls that mean the same with their arguments the other way round.
EITHER_WAY = ("same", "isinstance", "zip")


class Mutant(Struct, frozen=True):
    """path: of the module, from the root.   place: number of the change among those of the module.
    line, text: where it is.   change: what stood there and what stands there instead."""

    path: str
    place: int
    line: int
    text: str
    change: str


def mutants_of(path: str) -> list[Mutant]:
    """All, in the order of the text."""
    text = (ROOT / path).read_text(encoding="utf-8")
    lines = text.splitlines()
    found = []
    for place, (node, before, after) in enumerate(_changes(ast.parse(text))):
        line = getattr(node, "lineno", 1)
        change = f"{before} -> {after}"
        found.append(Mutant(path, place, line, lines[line - 1].strip(), change))
    return found


def mutated(mutant: Mutant) -> ast.Module:
    """The module with that change."""
    tree = ast.parse((ROOT / mutant.path).read_text(encoding="utf-8"))
    for place, _ in enumerate(_changes(tree)):
        if place == mutant.place:
            # The generator stands still between doing and undoing: the change is in the tree.
            return ast.fix_missing_locations(copy.deepcopy(tree))
    raise ValueError(f"{mutant.path} has no change {mutant.place}")


def _changes(tree: ast.Module) -> Iterator[tuple[ast.AST, str, str]]:
    """Each change, while it is made: the node, and its text before and after."""
    for owner, field, index in _slots(tree, None):
        value = getattr(owner, field)
        node = value if index is None else value[index]
        # A number alone would not tell which one of a line it is.
        around = isinstance(node, ast.Constant) and isinstance(owner, ast.expr)
        before = _told(owner if around else node)
        for other in _instead(node, owner):
            _put(owner, field, index, other)
            yield node, before, _told(owner if around else other)
            _put(owner, field, index, node)


def _put(owner: ast.AST, field: str, index: int | None, node: ast.AST) -> None:
    if index is None:
        setattr(owner, field, node)
    else:
        getattr(owner, field)[index] = node


def _told(node: ast.AST) -> str:
    return " ".join(ast.unparse(ast.fix_missing_locations(copy.deepcopy(node))).split())


def _slots(node: ast.AST, returns: ast.expr | None) -> Iterator[tuple[ast.AST, str, int | None]]:
    """Where nodes hang that may be changed, depth first. `returns` is noted at *return*."""
    if isinstance(node, ast.FunctionDef):
        returns = node.returns
    if isinstance(node, ast.Return):
        node._annotated = returns  # type: ignore[attr-defined]
    for field, value in ast.iter_fields(node):
        if _left_alone(node, field):
            continue
        many = isinstance(value, list)
        for index, child in enumerate(value if many else [value]):
            if isinstance(child, ast.AST) and not _only_words(child):
                yield node, field, index if many else None
                yield from _slots(child, returns)


def _left_alone(node: ast.AST, field: str) -> bool:
    # That two things are as long as each other is checked on top: nothing changes without it.
    if isinstance(node, ast.keyword) and node.arg == "strict":
        return True
    if field in ("annotation", "returns", "decorator_list", "bases", "keywords", "ctx"):
        return not (field == "keywords" and isinstance(node, ast.Call))
    return (isinstance(node, ast.Raise)) or (field == "op" and not isinstance(node, ast.AugAssign))


def _only_words(node: ast.AST) -> bool:
    plain = isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    imported = isinstance(node, ast.Import | ast.ImportFrom)
    checking = isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING"
    return plain or imported or checking or isinstance(node, ast.JoinedStr)


def _instead(node: ast.AST, owner: ast.AST) -> Iterator[ast.AST]:
    """What could stand in the place of a node."""
    match node:
        case ast.Compare(left, [operator, *more], comparators) if type(operator) in COMPARED:
            yield ast.Compare(left, [COMPARED[type(operator)](), *more], comparators)
        case ast.BoolOp(operator, values):
            other = ast.Or() if isinstance(operator, ast.And) else ast.And()
            yield ast.BoolOp(other, values)
            if len(values) > 2:
                yield ast.BoolOp(operator, values[:-1])
        case ast.UnaryOp(ast.Not(), operand):
            yield operand
        case ast.BinOp(left, ast.BitXor(), ast.Constant(1)):
            yield left
        case ast.BinOp(left, operator, right) if type(operator) in COMPUTED:
            yield ast.BinOp(left, COMPUTED[type(operator)](), right)
        case ast.Constant(bool() as value):
            yield ast.Constant(not value)
        case ast.Constant(int() as value):
            yield ast.Constant(value + 1)
        case ast.Call(function, arguments, keywords):
            yield from _called(function, arguments, keywords)
        case ast.Attribute(value, name, context) if name in READ and isinstance(context, ast.Load):
            yield ast.Attribute(value, READ[name], context)
        case ast.Expr(ast.Call() | ast.Yield() | ast.YieldFrom()) | ast.AugAssign() | ast.Raise():
            yield ast.Pass()
        case ast.Continue():
            yield ast.Break()
        case ast.Break():
            yield ast.Continue()
        case ast.Return(value) if value is not None:
            yield from _returned(value, getattr(node, "_annotated", None))
    asked = isinstance(owner, ast.If | ast.While | ast.IfExp) and node is owner.test
    asked = asked or (isinstance(owner, ast.comprehension) and node in owner.ifs)
    if asked and not _turned(node):
        yield ast.UnaryOp(ast.Not(), node)


def _turned(node: ast.AST) -> bool:
    """Whether one of the other changes turns the condition into its negation."""
    if isinstance(node, ast.UnaryOp):
        return isinstance(node.op, ast.Not)
    exact = (ast.Eq, ast.NotEq, ast.In, ast.NotIn, ast.Is, ast.IsNot)
    return isinstance(node, ast.Compare) and isinstance(node.ops[0], exact)


def _called(
    function: ast.expr, arguments: list[ast.expr], keywords: list[ast.keyword]
) -> Iterator[ast.AST]:
    match function:
        case ast.Attribute(value, name, context) if name in CALLED:
            yield ast.Call(ast.Attribute(value, CALLED[name], context), arguments, keywords)
        case ast.Name(name, context) if name in CALLED:
            yield ast.Call(ast.Name(CALLED[name], context), arguments, keywords)
        case ast.Name("negated"):
            yield arguments[0]
        case _ if len(arguments) > 1 and not isinstance(arguments[0], ast.Starred):
            first, second, *more = arguments
            if ast.unparse(function).endswith(EITHER_WAY):
                return
            if not isinstance(second, ast.Starred) and ast.dump(first) != ast.dump(second):
                yield ast.Call(function, [second, first, *more], keywords)


def _returned(value: ast.expr, annotation: ast.expr | None) -> Iterator[ast.AST]:
    told = "" if annotation is None else ast.unparse(annotation)
    if told == "bool" and not isinstance(value, ast.Constant):
        yield ast.Return(ast.UnaryOp(ast.Not(), value))
    elif told == "int" and not isinstance(value, ast.Constant):
        yield ast.Return(ast.BinOp(value, ast.BitXor(), ast.Constant(1)))
    elif told.startswith(("list[", "dict[", "set[")) or told.endswith(", ...]"):
        yield ast.Return(ast.Call(ast.Name(told.split("[")[0], ast.Load()), [], []))
