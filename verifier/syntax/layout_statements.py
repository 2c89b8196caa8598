"""The layout of single statements: of designs and assemblies, and the items of kinds."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.syntax.document import HARD, SOFT, Doc, Group, Nest, commas, joined
from verifier.syntax.layout_conditions import (
    action,
    condition,
    family,
    mark,
    measure,
    quantifier,
    quoted,
    reference,
    references,
    value_of,
)
from verifier.syntax.layout_faults import fault_statement, tolerating
from verifier.syntax.tree import (
    AcceptStatement,
    Assembly,
    AssemblyPort,
    AssumeStatement,
    Chain,
    Design,
    Effect,
    ElementItem,
    Exhausts,
    FaultItem,
    HandItem,
    Include,
    Kind,
    KindItem,
    KindRole,
    LeftOpen,
    Leg,
    LineStatement,
    Means,
    MoveItem,
    OrderStatement,
    Otherwise,
    PartStatement,
    PassageItem,
    Passes,
    Places,
    Plug,
    Ports,
    PropertyStatement,
    Quantifier,
    RecoversStatement,
    Revision,
    RunsOn,
    StartAt,
    Statement,
    SupplyStatement,
    Surroundings,
    TolerateClause,
    TubeStatement,
    Use,
)

ElementPart = Passes | MoveItem | Otherwise
CONTINUED = 4


def doc_string(text: str | None) -> list[Doc]:
    return [] if text is None else [SOFT, quoted(text)]


def declared(item: Statement | KindItem | ElementPart) -> tuple[Doc, Doc] | None:
    """Before and after the colon, for statements whose colons are set below each other."""
    if isinstance(item, PartStatement):
        return ["part ", family(item.family)], _part(item)
    if isinstance(item, LineStatement):
        return ["line ", family(item.family)], [references(item.ends), *doc_string(item.doc)]
    if isinstance(item, AssemblyPort):
        return f"port {item.name}", [references(item.ends), *doc_string(item.doc)]
    if isinstance(item, Surroundings):
        values = [commas(item.values), *doc_string(item.doc)]
        return ["surroundings ", family(item.family)], values
    if isinstance(item, TubeStatement):
        head = ["tube ", reference(item.line), " at ", reference(item.end)]
        return head, commas(_facts(item))
    return None


def _part(item: PartStatement) -> Doc:
    out: list[Doc] = [mark(item.kind_span), item.kind]
    if item.arguments:
        pairs: list[Doc] = [
            [mark(each.span), f"{each.name} = {value_of(each.value)}"] for each in item.arguments
        ]
        out += ["(", commas(pairs), ")"]
    if item.worked_by is not None:
        out += [SOFT, "worked by ", condition(item.worked_by)]
    for role in item.roles:
        out += [SOFT, f"role {role}"]
    return out + doc_string(item.doc)


def _facts(item: TubeStatement) -> list[Doc]:
    facts: list[Doc] = []
    if item.length is not None:
        facts.append([mark(item.length.span), f"length {measure(item.length)}"])
    if item.bore is not None:
        facts.append([mark(item.bore.span), f"bore {measure(item.bore)}"])
    if item.label is not None:
        facts.append(f"label {quoted(item.label)}")
    return facts


def statement(item: Statement | KindItem | ElementPart) -> Doc:
    """One statement; of kinds, assemblies and elements the first line only."""
    pair = declared(item)
    if pair is not None:
        return Nest(CONTINUED, [pair[0], " : ", pair[1]])
    if isinstance(item, PropertyStatement | OrderStatement | RecoversStatement | AssumeStatement):
        return _demand(item)
    found = _heading(item) or _simple(item) or _kind_item(item)
    assert found is not None
    return found


def _heading(item: Statement | KindItem | ElementPart) -> Doc | None:
    """Statements that open a design or a block."""
    if isinstance(item, Design):
        return Nest(CONTINUED, [f"design {item.name}", *doc_string(item.title)])
    if isinstance(item, Kind):
        return Nest(CONTINUED, [f"kind {item.name}", *doc_string(item.doc)])
    if isinstance(item, Assembly):
        names = f"({', '.join(item.parameters)})" if item.parameters else ""
        return Nest(CONTINUED, [f"assembly {item.name}{names}", *doc_string(item.doc)])
    if isinstance(item, ElementItem):
        out: list[Doc] = [f"element {item.name}: ", commas(item.positions)]
        if item.starts is not None:
            out += [SOFT, f"starts {item.starts}"]
        return Nest(CONTINUED, out)
    return None


def _simple(item: Statement | KindItem | ElementPart) -> Doc | None:
    out: list[Doc]
    if isinstance(item, Revision):
        out = [f"revision {quoted(item.text)}"]
    elif isinstance(item, Use):
        out = [f"use {item.name}"]
    elif isinstance(item, Include):
        out = [f"include {quoted(item.path)}"]
    elif isinstance(item, SupplyStatement):
        out = ["supply ", family(item.family)]
        if item.may_be_weak:
            out += [SOFT, "may be weak"]
        if item.starts is not None:
            out += [SOFT, f"starts {item.starts}"]
        out += doc_string(item.doc)
    elif isinstance(item, LeftOpen):
        out = ["open ", references(item.ports)]
    elif isinstance(item, Plug):
        out = ["plug ", references(item.ports)]
    elif isinstance(item, Places):
        out = ["place ", commas(family(each) for each in item.families), *doc_string(item.doc)]
    elif isinstance(item, Chain):
        links = joined((reference(link) for link in item.links), [" -", SOFT])
        out = [f"{item.medium} ", links]
    elif isinstance(item, StartAt):
        out = ["start ", reference(item.subject), f" is {item.value}"]
    elif isinstance(item, AcceptStatement):
        out = ["accept race of ", references(item.subjects)]
        if item.during is not None:
            out += [SOFT, "while ", condition(item.during)]
        out += [SOFT, f"because {quoted(item.reason)}"]
    elif isinstance(item, RunsOn):
        out = [f"runs on because {quoted(item.reason)}"]
    else:
        said = fault_statement(item)
        if said is None:
            return None
        out = said
    return Nest(CONTINUED, out)


def _demand(
    item: PropertyStatement | OrderStatement | RecoversStatement | AssumeStatement,
) -> Doc:
    """A property or assumption: its name, below it the condition, below that the quantifier."""
    name = quoted(item.name)
    doc: str | None = None
    allowed: TolerateClause | None = None
    if isinstance(item, AssumeStatement):
        head: Doc = [f"assume {name}", SOFT, f"because {quoted(item.reason)}:"]
        body: Doc = [f"{item.form} ", condition(item.condition)]
    else:
        doc, allowed = item.doc, item.tolerating
        if isinstance(item, PropertyStatement):
            head = f"{item.form} {_moment(item.moment)}{name}:"
            body = condition(item.condition)
        elif isinstance(item, OrderStatement):
            head = f"order {_moment(item.moment)}{name}:"
            first = ["only after ", condition(item.first)]
            body = Group([condition(item.condition), SOFT, first])
        else:
            head = f"recovers {name}:"
            actions = commas(action(each) for each in item.actions)
            then = ["then ", condition(item.condition)]
            body = Group(["after ", Nest(CONTINUED, [actions]), SOFT, then])
    return Nest(CONTINUED, [head, HARD, body, *_closing(item.quantifier, allowed, doc)])


def _closing(item: Quantifier | None, allowed: TolerateClause | None, doc: str | None) -> list[Doc]:
    out: list[Doc] = [] if item is None else [HARD, quantifier(item)]
    out += [] if allowed is None else [HARD, tolerating(allowed)]
    return [*out, *doc_string(doc)]


def _moment(moment: str | None) -> str:
    return {"at_rest": "at rest ", "every_moment": "at every moment ", None: ""}[moment]


def _kind_item(item: Statement | KindItem | ElementPart) -> Doc | None:
    out: list[Doc]
    if isinstance(item, Ports):
        out = [f"{item.medium} " if item.medium else "", "ports ", commas(item.names)]
    elif isinstance(item, Exhausts):
        out = ["exhausts ", commas(item.names)]
    elif isinstance(item, HandItem):
        out = [f"hand {item.name}"]
        out += [" can be held"] if item.held else []
        out += [" starts on"] if item.starts_on else []
        out += doc_string(item.doc)
    elif isinstance(item, PassageItem):
        out = ["passage ", _legs(item.legs)]
        if item.when is not None:
            out += [SOFT, "when ", condition(item.when)]
    elif isinstance(item, Passes):
        out = [f"in {item.position} passes ", _legs(item.legs)]
    elif isinstance(item, MoveItem):
        out = [f"to {item.target} when ", condition(item.when)]
    elif isinstance(item, Otherwise):
        out = ["otherwise stays" if item.target is None else f"otherwise to {item.target}"]
    elif isinstance(item, Means):
        out = [f"means {item.name}: ", condition(item.condition)]
    elif isinstance(item, KindRole):
        out = [f"role {item.name}"]
    elif isinstance(item, FaultItem):
        return _fault(item)
    else:
        return None
    return Nest(CONTINUED, out)


def _legs(legs: Sequence[Leg]) -> Doc:
    return commas([mark(leg.span), _leg(leg)] for leg in legs)


def _leg(leg: Leg) -> str:
    words = ["restricted"] if leg.restricted else []
    words += [leg.medium] if leg.medium else []
    return " ".join([*words, f"{leg.start}{'>' if leg.one_way else '-'}{leg.end}"])


def _fault(item: FaultItem) -> Doc:
    out: list[Doc] = [f"fault {item.name}", *doc_string(item.doc), ":", HARD]
    out.append(commas([mark(effect.span), _effect(effect)] for effect in item.effects))
    if item.passing:
        out += [SOFT, "comes and goes"]
    if item.source is not None:
        out += [HARD, f"source {quoted(item.source)}"]
    return Nest(2, out)


def _effect(effect: Effect) -> str:
    subject = effect.subject or ""
    if effect.effect == "sticks":
        return f"{subject} stays"
    if effect.effect == "shifts":
        return f"{subject} may go to {effect.target}"
    if effect.effect == "no_spring":
        return f"{subject} loses its spring"
    if effect.effect in ("held", "dead"):
        return f"hand {subject} {effect.effect}"
    return f"{effect.effect} {('>' if effect.one_way else '-').join(effect.ports)}"
