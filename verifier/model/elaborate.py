"""From trees to a circuit: names resolved, families and assemblies expanded, mistakes told."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from verifier.diagnostics.diagnostic import Diagnostic
from verifier.diagnostics.limits import Limits
from verifier.model.acceptances import acceptances
from verifier.model.circuit import (
    Circuit,
    Element,
    HandControl,
    Part,
    Port,
    Quantity,
    Supply,
    Switch,
)
from verifier.model.conditions import Conditions
from verifier.model.declare import declare
from verifier.model.draft import Draft
from verifier.model.gather import Gathered
from verifier.model.mistakes import Budget, Enough, Mistakes
from verifier.model.movement import elements_of, faults_of, hands_of, passages_of
from verifier.model.networks import networks
from verifier.model.piping import Piping, connect, tubes_and_lines, volumes
from verifier.model.properties import properties_and_assumptions
from verifier.model.starts import Starts, starts
from verifier.model.things import PartThing, Scope
from verifier.model.tolerances import with_faults
from verifier.model.trade import trade_checks
from verifier.model.units import quantity
from verifier.model.usage import usage_checks
from verifier.model.wellformed import check
from verifier.syntax import tree


class Elaborated(Struct, frozen=True):
    circuit: Circuit
    warnings: tuple[Diagnostic, ...]


def elaborate(gathered: Gathered, limits: Limits) -> Elaborated:
    """The circuit of a design. Raises `SourceError` with all mistakes, `LimitError`."""
    mistakes = Mistakes()
    draft = Draft(
        kinds=gathered.kinds,
        own_kinds=gathered.own_kinds,
        known_kinds=gathered.known_kinds,
        assemblies=gathered.assemblies,
        mistakes=mistakes,
        budget=Budget(limits),
    )
    try:
        circuit = _circuit(gathered, draft)
    except Enough:
        mistakes.stop_if_errors(gathered.texts)
        raise
    check(circuit)
    return Elaborated(circuit, mistakes.warnings())


def _circuit(gathered: Gathered, draft: Draft) -> Circuit:
    """The passes, one after the other; those that need no others' success all tell mistakes."""
    for name in draft.own_kinds:
        draft.template(name)
    declare(Scope(path="", env={}, statements=gathered.statements), draft)
    piping = connect(draft)
    begun = starts(draft)
    found_volumes, of_port, of_supply = volumes(piping)
    net = networks(draft)
    hands = tuple(hand for part in draft.parts for hand in hands_of(part))
    conditions = Conditions(draft, found_volumes, of_port, net, hands)
    elements = _elements(draft, conditions, begun)
    properties, assumptions = properties_and_assumptions(conditions)
    accepted = acceptances(conditions)
    _worked_checks(draft, conditions)
    runs_on = _runs_on(draft)
    parts = _parts(draft)
    draft.mistakes.stop_if_errors(gathered.texts)
    usage_checks(draft, bool(properties))
    tubes, lines = tubes_and_lines(piping)
    circuit = Circuit(
        name=gathered.design.name,
        title=gathered.design.title or "",
        revision=gathered.revision,
        supplies=_supplies(draft, of_supply),
        parts=parts,
        ports=_ports(draft, piping, of_port),
        volumes=found_volumes,
        lines=lines,
        tubes=tubes,
        elements=elements,
        passages=tuple(p for part in draft.parts for p in passages_of(part, of_port)),
        hands=_hands(hands, begun),
        switches=_switches(draft, begun),
        networks=net.networks,
        assumptions=assumptions,
        properties=properties,
        faults=tuple(fault for part in draft.parts for fault in faults_of(part)),
        accepted=accepted,
        runs_on=runs_on,
    )
    circuit = with_faults(circuit, draft)
    draft.mistakes.stop_if_errors(gathered.texts)
    trade_checks(circuit, draft, piping)
    return circuit


def _elements(draft: Draft, conditions: Conditions, begun: Starts) -> tuple[Element, ...]:
    found: list[Element] = []
    for part in draft.parts:
        for element in elements_of(conditions.moving_stamp(part), draft):
            start = begun.elements.get(len(found), element.start)
            found.append(replace(element, start=start))
    return tuple(found)


def _worked_checks(draft: Draft, conditions: Conditions) -> None:
    """A kind that speaks of `worked` needs a `worked by`; no other has a use for one."""
    for part in draft.parts:
        given = part.statement.worked_by
        if part.kind.uses_worked and given is None:
            draft.mistakes.add(
                "E0514",
                part.span,
                f"a {part.kind.name} is worked by something: say what works `{part.name}`",
                hint="`worked by CONDITION`, for example `worked by open(vent)`",
            )
        elif given is not None and not part.kind.uses_worked:
            draft.mistakes.add(
                "E0514",
                part.span,
                f"nothing in a {part.kind.name} is worked: its moves do not say `when worked`",
                related=((part.kind.span, "the kind is here"),),
            )
        conditions.worked(part)


def _runs_on(draft: Draft) -> str:
    reasons = [s for _, s in draft.statements() if isinstance(s, tree.RunsOn)]
    for again in reasons[1:]:
        draft.mistakes.add(
            "E0510",
            again.span,
            "`runs on` is said twice",
            related=((reasons[0].span, "the first is here"),),
        )
    return reasons[0].reason if reasons else ""


def _quantities(part: PartThing, draft: Draft) -> tuple[tuple[str, Quantity], ...]:
    found: dict[str, Quantity] = {}
    for argument in part.statement.arguments:
        value = argument.value
        if isinstance(value, tree.Variable):
            given = part.env.get(value.name)
            value = given if isinstance(given, tree.Measure) else value
        if not isinstance(value, tree.Measure):
            continue
        if argument.name in found:
            told = f"`{argument.name}` is given twice"
            draft.mistakes.add("E0306", argument.span, told)
        known = quantity(value, draft.mistakes)
        if known is not None:
            found[argument.name] = known
    return tuple(found.items())


def _parts(draft: Draft) -> tuple[Part, ...]:
    return tuple(
        Part(
            name=part.name,
            kind=part.kind.name,
            ports=tuple(range(part.first_port, part.first_port + len(part.kind.ports))),
            elements=tuple(range(part.first_element, part.first_element + len(part.kind.elements))),
            hands=tuple(range(part.first_hand, part.first_hand + len(part.kind.hands))),
            switches=tuple(range(part.first_switch, part.first_switch + len(part.kind.switches))),
            roles=tuple(dict.fromkeys((*part.kind.roles, *part.statement.roles))),
            span=part.span,
            assembly=part.scope.path,
            doc=part.statement.doc or "",
            kind_doc=part.kind.doc,
            quantities=_quantities(part, draft),
        )
        for part in draft.parts
    )


def _ports(draft: Draft, piping: Piping, of_port: list[int]) -> tuple[Port, ...]:
    lined = {end.port for end in piping.line_of}
    found = []
    for part in draft.parts:
        for offset, port in enumerate(part.kind.ports):
            number = part.first_port + offset
            plugged = number in piping.plugged
            found.append(
                Port(
                    name=f"{part.name}.{port.name}",
                    part=part.index,
                    label=port.name,
                    volume=of_port[number],
                    exhaust=port.exhaust,
                    state="piped" if number in lined else "plugged" if plugged else "atmosphere",
                    span=part.span,
                )
            )
    return tuple(found)


def _supplies(draft: Draft, of_supply: list[int]) -> tuple[Supply, ...]:
    pairs = zip(draft.supplies, draft.supply_statements, strict=True)
    return tuple(
        Supply(thing.name, thing.index, of_supply[thing.supply], thing.span, statement.doc or "")
        for thing, statement in pairs
    )


def _hands(hands: tuple[HandControl, ...], begun: Starts) -> tuple[HandControl, ...]:
    return tuple(
        replace(hand, starts_on=hand.starts_on or begun.hands.get(number, False))
        for number, hand in enumerate(hands)
    )


def _switches(draft: Draft, begun: Starts) -> tuple[Switch, ...]:
    owner = {
        part.first_switch + offset: (part.index, switch.family.name)
        for part in draft.parts
        for offset, switch in enumerate(part.kind.switches)
    }
    found = []
    for number, thing in enumerate(draft.switches):
        part, label = owner.get(number, (None, thing.name))
        start = begun.switches.get(number, 0)
        found.append(Switch(thing.name, part, label, thing.values, start, thing.span))
    return tuple(found)
