"""First pass: everything that has a name, families and assemblies expanded."""

from __future__ import annotations

from verifier.diagnostics.span import Span
from verifier.model.draft import Draft
from verifier.model.kinds import unknown_kind
from verifier.model.mistakes import did_you_mean
from verifier.model.numbers import Env, Key, KindName, Value, evaluate, key_text, members
from verifier.model.template import KindTemplate
from verifier.model.things import (
    AssemblyThing,
    CauseThing,
    FamilyEntry,
    LineThing,
    PartThing,
    PlaceThing,
    PortThing,
    Scope,
    Sort,
    SupplyThing,
    SwitchThing,
    Thing,
)
from verifier.syntax import tree

SUPPLY_VALUES = ("present", "absent")


def declare(scope: Scope, draft: Draft, within: tuple[str, ...] = ()) -> None:
    """Fill the scope and those of the assemblies in it. `within` names the assemblies around."""
    draft.budget.depth(len(within), f"`{scope.path}`")
    draft.scopes.append(scope)
    for statement in scope.statements:
        before = draft.mistakes.count
        if isinstance(statement, tree.PartStatement):
            _parts(statement, scope, draft, within)
        elif isinstance(statement, tree.SupplyStatement):
            _supplies(statement, scope, draft)
        elif isinstance(statement, tree.Surroundings):
            _surroundings(statement, scope, draft)
        elif isinstance(statement, tree.LineStatement):
            _lines(statement, scope, draft)
        elif isinstance(statement, tree.Places):
            _places(statement, scope, draft)
        elif isinstance(statement, tree.AssemblyPort):
            _assembly_port(statement, scope, draft)
        elif isinstance(statement, tree.CommonCause):
            _causes(statement, scope, draft)
        if draft.mistakes.count > before:
            scope.broken.update(_declared(statement))


def _declared(statement: tree.Statement) -> tuple[str, ...]:
    if isinstance(statement, tree.Places):
        return tuple(family.name for family in statement.families)
    if isinstance(statement, tree.AssemblyPort):
        return (statement.name,)
    if isinstance(
        statement,
        tree.PartStatement
        | tree.SupplyStatement
        | tree.Surroundings
        | tree.LineStatement
        | tree.CommonCause,
    ):
        return (statement.family.name,)
    return ()


def _enter(scope: Scope, draft: Draft, name: str, key: Key, sort: Sort, thing: Thing) -> bool:
    """Enter a member under its name; false after telling that the name is taken."""
    entry = scope.names.get(name)
    if entry is None:
        entry = scope.names[name] = FamilyEntry(sort=sort, arity=len(key), span=thing.span)
    first: Span | None = None
    if key in entry.members:
        first = entry.members[key].span
        message = f"the name `{name}{key_text(key)}` is given twice"
    elif entry.sort != sort or entry.arity != len(key):
        first = entry.span
        described = f"a {entry.sort}" if entry.arity == 0 else f"a {entry.sort} with indices"
        message = f"the name `{name}` is already that of {described}"
    if first is not None:
        draft.mistakes.add("E0301", thing.span, message, related=((first, "it is given here"),))
        return False
    entry.members[key] = thing
    return True


def _parts(
    statement: tree.PartStatement, scope: Scope, draft: Draft, within: tuple[str, ...]
) -> None:
    kind = _kind_name(statement, scope, draft)
    if kind is None:
        return
    if kind in draft.assemblies:
        _assemble(draft.assemblies[kind], statement, scope, draft, within)
        return
    _quantities_only(statement, kind, scope, draft)
    template = draft.template(kind)
    for key, env in members(statement.family, scope.env, draft.mistakes, draft.budget):
        name = scope.full_name(statement.family.name + key_text(key))
        draft.budget.member(f"part `{name}`")
        thing = Thing(name=name, span=statement.span)
        if template is not None:
            draft.budget.work(len(template.ports) + len(template.passages), f"part `{name}`")
            thing = _part(name, statement, template, scope, env, draft)
        if _enter(scope, draft, statement.family.name, key, "part", thing):
            _count_in(thing, draft)


def _quantities_only(statement: tree.PartStatement, kind: str, scope: Scope, draft: Draft) -> None:
    """A kind has no parameters: what is given with its part are quantities, kept as data."""
    for argument in statement.arguments:
        value: object = argument.value
        if isinstance(value, tree.Variable):
            value = scope.env.get(value.name)
        if not isinstance(value, tree.Measure):
            draft.mistakes.add(
                "E0306",
                argument.span,
                f"kind `{kind}` takes quantities only, as in `set = 6 bar`",
            )


def _part(
    name: str,
    statement: tree.PartStatement,
    template: KindTemplate,
    scope: Scope,
    env: Env,
    draft: Draft,
) -> PartThing:
    """The part that comes next in all lists of the circuit."""
    return PartThing(
        name=name,
        span=statement.span,
        index=len(draft.parts),
        kind=template,
        statement=statement,
        scope=scope,
        env=env,
        first_port=draft.ports,
        first_element=draft.elements,
        first_hand=draft.hands,
        first_switch=len(draft.switches),
    )


def _count_in(part: Thing, draft: Draft) -> None:
    """Give the part, once its name is entered, its places in the circuit's lists."""
    if not isinstance(part, PartThing):
        return
    draft.parts.append(part)
    draft.ports += len(part.kind.ports)
    draft.elements += len(part.kind.elements)
    draft.hands += len(part.kind.hands)
    for switch in part.kind.switches:
        draft.switches.append(
            SwitchThing(
                name=f"{part.name}.{switch.family.name}",
                span=switch.span,
                index=len(draft.switches),
                values=switch.values,
            )
        )


def _kind_name(statement: tree.PartStatement, scope: Scope, draft: Draft) -> str | None:
    value = scope.env.get(statement.kind)
    if isinstance(value, KindName):
        return value.name
    if value is not None:
        draft.mistakes.add(
            "E0303", statement.kind_span, f"parameter `{statement.kind}` is not a kind"
        )
        return None
    if statement.kind in draft.kinds or statement.kind in draft.assemblies:
        return statement.kind
    known = (*draft.known_kinds, *draft.assemblies)
    unknown_kind(statement.kind, statement.kind_span, known, draft.mistakes)
    return None


def _assemble(
    assembly: tree.Assembly,
    statement: tree.PartStatement,
    scope: Scope,
    draft: Draft,
    within: tuple[str, ...],
) -> None:
    if assembly.name in within:
        around = " in ".join(f"`{name}`" for name in reversed(within))
        draft.mistakes.add(
            "E0307",
            statement.span,
            f"assembly `{assembly.name}` contains itself: it stands in {around}",
            related=((assembly.span, "the assembly is here"),),
        )
        return
    if statement.worked_by is not None:
        draft.mistakes.add(
            "E0514", statement.span, "an assembly is not `worked by`; a part in it can be"
        )
    if statement.roles:
        draft.mistakes.add("E0306", statement.span, "an assembly has no role; its parts have")
    for key, env in members(statement.family, scope.env, draft.mistakes, draft.budget):
        name = scope.full_name(statement.family.name + key_text(key))
        values = _arguments(assembly, statement, env, draft)
        inner = Scope(path=name, env=values or {}, statements=assembly.items)
        thing = AssemblyThing(name=name, span=statement.span, inner=inner)
        draft.budget.member(f"part `{name}`")
        if _enter(scope, draft, statement.family.name, key, "assembly", thing):
            draft.assembled.append(thing)
            if values is not None:
                declare(inner, draft, (*within, assembly.name))


def _arguments(
    assembly: tree.Assembly, statement: tree.PartStatement, env: Env, draft: Draft
) -> dict[str, Value] | None:
    """The values of an assembly's parameters, None after telling what is wrong."""
    values: dict[str, Value] = {}
    clear = True
    for argument in statement.arguments:
        told = ""
        if argument.name not in assembly.parameters:
            told = f"assembly `{assembly.name}` has no parameter `{argument.name}`"
        elif argument.name in values:
            told = f"parameter `{argument.name}` is given twice"
        if told:
            hint = did_you_mean(argument.name, assembly.parameters)
            draft.mistakes.add("E0306", argument.span, told, hint=hint)
            clear = False
            continue
        value = _argument(argument, env, draft)
        clear = clear and value is not None
        if value is not None:
            values[argument.name] = value
    missing = [name for name in assembly.parameters if name not in values]
    if missing and clear:
        named = ", ".join(f"`{name}`" for name in missing)
        draft.mistakes.add(
            "E0306",
            statement.span,
            f"assembly `{assembly.name}` needs a value for {named}",
            related=((assembly.span, "its parameters are named here"),),
        )
        clear = False
    return values if clear else None


def _argument(argument: tree.Argument, env: Env, draft: Draft) -> Value | None:
    value = argument.value
    if isinstance(value, tree.Measure):
        return value
    if isinstance(value, tree.Variable):
        if value.name in env:
            return env[value.name]
        if value.name in draft.kinds or value.name in draft.assemblies:
            return KindName(value.name)
    return evaluate(value, env, draft.mistakes)


def _supplies(statement: tree.SupplyStatement, scope: Scope, draft: Draft) -> None:
    values = (*SUPPLY_VALUES, "weak") if statement.may_be_weak else SUPPLY_VALUES
    if statement.starts is not None and statement.starts not in values:
        draft.mistakes.add(
            "E0511",
            statement.span,
            f"a supply cannot start `{statement.starts}`",
            hint=f"its values: {', '.join(values)}",
        )
    for key, _ in members(statement.family, scope.env, draft.mistakes, draft.budget):
        name = scope.full_name(statement.family.name + key_text(key))
        supply = SupplyThing(
            name=name,
            span=statement.span,
            index=len(draft.switches),
            values=values,
            supply=len(draft.supplies),
        )
        draft.budget.member(f"supply `{name}`")
        if _enter(scope, draft, statement.family.name, key, "supply", supply):
            draft.supplies.append(supply)
            draft.supply_statements.append(statement)
            draft.switches.append(supply)


def _surroundings(statement: tree.Surroundings, scope: Scope, draft: Draft) -> None:
    if len(set(statement.values)) < len(statement.values):
        draft.mistakes.add("E0301", statement.span, "a value is named twice")
    for key, _ in members(statement.family, scope.env, draft.mistakes, draft.budget):
        name = scope.full_name(statement.family.name + key_text(key))
        switch = SwitchThing(
            name=name, span=statement.span, index=len(draft.switches), values=statement.values
        )
        draft.budget.member(f"`{name}`")
        if _enter(scope, draft, statement.family.name, key, "surroundings", switch):
            draft.switches.append(switch)


def _lines(statement: tree.LineStatement, scope: Scope, draft: Draft) -> None:
    for key, env in members(statement.family, scope.env, draft.mistakes, draft.budget):
        name = scope.full_name(statement.family.name + key_text(key))
        line = LineThing(
            name=name,
            span=statement.span,
            index=len(draft.lines),
            statement=statement,
            scope=scope,
            env=env,
        )
        draft.budget.member(f"line `{name}`")
        if _enter(scope, draft, statement.family.name, key, "line", line):
            draft.lines.append(line)


def _places(statement: tree.Places, scope: Scope, draft: Draft) -> None:
    for family in statement.families:
        for key, _ in members(family, scope.env, draft.mistakes, draft.budget):
            place = PlaceThing(name=scope.full_name(family.name + key_text(key)), span=family.span)
            draft.budget.member(f"place `{place.name}`")
            if _enter(scope, draft, family.name, key, "place", place):
                draft.places.append(place)


def _assembly_port(statement: tree.AssemblyPort, scope: Scope, draft: Draft) -> None:
    thing = PortThing(
        name=scope.full_name(statement.name), span=statement.span, statement=statement, scope=scope
    )
    _enter(scope, draft, statement.name, (), "assembly port", thing)


def _causes(statement: tree.CommonCause, scope: Scope, draft: Draft) -> None:
    for key, env in members(statement.family, scope.env, draft.mistakes, draft.budget):
        name = scope.full_name(statement.family.name + key_text(key))
        draft.budget.member(f"common cause `{name}`")
        thing = CauseThing(
            name=name, span=statement.span, statement=statement, scope=scope, env=env
        )
        if _enter(scope, draft, statement.family.name, key, "common cause", thing):
            draft.causes.append(thing)
