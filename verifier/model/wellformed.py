"""What every circuit must satisfy, however it was made: by elaboration, by hand or from JSON."""

from __future__ import annotations

from collections.abc import Iterable, Sequence, Set

from verifier.model.circuit import Circuit, Instance, Where
from verifier.model.condition import AtRest, Condition, High, Path
from verifier.model.simplify import atoms
from verifier.model.speech import Problems, Speech, choices
from verifier.model.strikes import single_strikes

MOST_READERS = 8


def check(circuit: Circuit) -> None:
    """Raise `ValueError` listing everything that is wrong with the circuit."""
    problems = Problems()
    _names(circuit, problems)
    _parts(circuit, problems)
    _volumes(circuit, problems)
    _lines(circuit, problems)
    _elements(circuit, problems)
    _passages(circuit, problems)
    _switches(circuit, problems)
    _networks(circuit, problems)
    _conditions(circuit, problems)
    _properties(circuit, problems)
    _faults(circuit, problems)
    if not problems.found:
        _said_of_faults(circuit, problems)
    if problems.found:
        raise ValueError("; ".join(problems.found))


def _names(circuit: Circuit, problems: Problems) -> None:
    problems.unique((x.name for x in circuit.supplies), "supply")
    problems.unique((x.name for x in circuit.parts), "part")
    problems.unique((x.name for x in circuit.ports), "port")
    problems.unique((x.name for x in circuit.volumes), "volume")
    problems.unique((x.name for x in circuit.lines), "line")
    problems.unique((x.name for x in circuit.tubes), "tube")
    problems.unique((x.name for x in circuit.elements), "element")
    problems.unique((x.name for x in circuit.hands), "hand")
    problems.unique((x.name for x in circuit.switches), "switch")
    problems.unique((x.name for x in circuit.assumptions), "assumption")
    problems.unique((x.name for x in circuit.properties), "property")
    problems.unique((x.name for x in circuit.faults), "fault")
    problems.unique((x.medium for x in circuit.networks), "network of")
    for network in circuit.networks:
        problems.unique(network.places, f"{network.medium} place")


def _owned(
    owners: Sequence[int | None], parts: int, listed: dict[int, int], what: str
) -> list[str]:
    """Each thing with an owner is listed by that owner, and by no other."""
    found = []
    for number, owner in enumerate(owners):
        if owner is not None and not 0 <= owner < parts:
            found.append(f"{what} {number}: there is no part {owner}")
        elif listed.get(number) != owner:
            found.append(f"{what} {number}: its part and the part that lists it differ")
    return found


def _parts(circuit: Circuit, problems: Problems) -> None:
    lists: tuple[tuple[str, Sequence[int | None], list[tuple[int, ...]]], ...] = (
        ("port", [x.part for x in circuit.ports], [p.ports for p in circuit.parts]),
        ("element", [x.part for x in circuit.elements], [p.elements for p in circuit.parts]),
        ("hand", [x.part for x in circuit.hands], [p.hands for p in circuit.parts]),
        ("switch", [x.part for x in circuit.switches], [p.switches for p in circuit.parts]),
    )
    for what, owners, listings in lists:
        listed: dict[int, int] = {}
        for part, numbers in enumerate(listings):
            for number in numbers:
                told = f"{what} {number} of part `{circuit.parts[part].name}`"
                problems.index(number, owners, told)
                problems.need(number not in listed, f"{told} is listed twice")
                listed[number] = part
        problems.found.extend(_owned(owners, len(circuit.parts), listed, what))


def _volumes(circuit: Circuit, problems: Problems) -> None:
    """Each port and each supply belongs to exactly one volume, and both sides agree."""
    where: dict[int, int] = {}
    fed: dict[int, int] = {}
    for number, volume in enumerate(circuit.volumes):
        problems.index(volume.line, circuit.lines, f"line of volume `{volume.name}`")
        for port in volume.ports:
            problems.need(port not in where, f"port {port} is in two volumes")
            where[port] = number
            problems.index(port, circuit.ports, f"port of volume `{volume.name}`")
        for supply in volume.supplies:
            problems.need(supply not in fed, f"supply {supply} is at two volumes")
            fed[supply] = number
            problems.index(supply, circuit.supplies, f"supply of volume `{volume.name}`")
    for number, port_ in enumerate(circuit.ports):
        agreed = where.get(number) == port_.volume
        problems.need(agreed, f"port `{port_.name}` is not in its volume")
        if agreed:
            volume = circuit.volumes[port_.volume]
            piped = volume.line is not None
            # A fault may cut a piped port off from its line, into a volume of its own.
            problems.need(
                port_.state == "piped" or not piped,
                f"port `{port_.name}` is {port_.state}, its volume says otherwise",
            )
            problems.need(
                volume.open_air == (port_.state == "atmosphere"),
                f"port `{port_.name}` is {port_.state}, but its volume's open air differs",
            )
    for number, supply_ in enumerate(circuit.supplies):
        problems.need(
            fed.get(number) == supply_.volume, f"supply `{supply_.name}` is not at its volume"
        )


def _lines(circuit: Circuit, problems: Problems) -> None:
    listed = {(number, tube) for number, line in enumerate(circuit.lines) for tube in line.tubes}
    for number, line in enumerate(circuit.lines):
        if problems.index(line.volume, circuit.volumes, f"volume of line `{line.name}`"):
            problems.need(
                circuit.volumes[line.volume].line == number,
                f"the volume of line `{line.name}` belongs to another line",
            )
        problems.need(bool(line.tubes), f"line `{line.name}` has no tube")
        for tube in line.tubes:
            if problems.index(tube, circuit.tubes, f"tube of line `{line.name}`"):
                problems.need(
                    circuit.tubes[tube].line == number,
                    f"tube `{circuit.tubes[tube].name}` belongs to another line",
                )
    for number, tube_ in enumerate(circuit.tubes):
        if problems.index(tube_.line, circuit.lines, f"line of tube `{tube_.name}`"):
            told = (tube_.line, number) in listed
            problems.need(told, f"tube `{tube_.name}` is not listed by its line")
    for number, volume in enumerate(circuit.volumes):
        if volume.line is not None and 0 <= volume.line < len(circuit.lines):
            problems.need(
                circuit.lines[volume.line].volume == number,
                f"line of volume `{volume.name}` has another volume",
            )


def _elements(circuit: Circuit, problems: Problems) -> None:
    for element in circuit.elements:
        told = f"element `{element.name}`"
        problems.need(bool(element.positions), f"{told} has no position")
        problems.unique(element.positions, f"{told}: position")
        problems.index(element.start, element.positions, f"{told}: start")
        problems.index(element.otherwise, element.positions, f"{told}: otherwise")
        readers: dict[str, int] = {}
        for move in element.moves:
            problems.index(move.target, element.positions, f"{told}: target")
            for atom in atoms(move.when):
                problems.need(
                    not isinstance(atom, Path | AtRest),
                    f"{told}: a move may not speak of paths or of rest",
                )
                if isinstance(atom, High):
                    readers.setdefault(atom.reader, atom.volume)
        problems.need(
            len(readers) <= MOST_READERS, f"{told} reads more than {MOST_READERS} pressures"
        )


def _where(where: tuple[Where, ...], told: str, circuit: Circuit, problems: Problems) -> None:
    for factor in where:
        if problems.index(factor.element, circuit.elements, f"{told}: element"):
            positions = circuit.elements[factor.element].positions
            choices(factor.positions, positions, told, problems)


def _passages(circuit: Circuit, problems: Problems) -> None:
    for number, passage in enumerate(circuit.passages):
        told = f"passage {number}"
        problems.index(passage.part, circuit.parts, told)
        for port, volume in zip(passage.ports, (passage.start, passage.end), strict=True):
            problems.index(volume, circuit.volumes, told)
            if problems.index(port, circuit.ports, told):
                problems.need(
                    circuit.ports[port].volume == volume
                    and circuit.ports[port].part == passage.part,
                    f"{told}: its port `{circuit.ports[port].name}` is elsewhere",
                )
        _where(passage.where, told, circuit, problems)
        if passage.tube:
            problems.need(
                not passage.one_way and all(_lasting(circuit, one) for one in passage.where),
                f"{told}: a tube is open both ways until a fault that stays shuts it",
            )


def _lasting(circuit: Circuit, factor: Where) -> bool:
    """No fault that stays has struck yet."""
    element = circuit.elements[factor.element]
    return element.fault and factor.positions == (0,)


def _switches(circuit: Circuit, problems: Problems) -> None:
    for switch in circuit.switches:
        told = f"switch `{switch.name}`"
        problems.unique(switch.values, f"{told}: value")
        problems.need(bool(switch.values), f"{told} has no value")
        problems.index(switch.start, switch.values, f"{told}: start")
    for supply in circuit.supplies:
        told = f"switch of supply `{supply.name}`"
        if problems.index(supply.switch, circuit.switches, told):
            problems.need(
                circuit.switches[supply.switch].values
                in (("present",), ("present", "absent"), ("present", "absent", "weak")),
                f"{told}: its values are present, absent and perhaps weak",
            )
    for hand in circuit.hands:
        problems.need(hand.held or not hand.starts_on, f"hand `{hand.name}` cannot start on")


def _networks(circuit: Circuit, problems: Problems) -> None:
    for network in circuit.networks:
        for number, way in enumerate(network.ways):
            told = f"{network.medium} way {number}"
            problems.index(way.part, circuit.parts, told)
            problems.index(way.start, network.places, told)
            problems.index(way.end, network.places, told)
            _where(way.where, told, circuit, problems)


def _conditions(circuit: Circuit, problems: Problems) -> None:
    for element in circuit.elements:
        whole = [move.when for move in element.moves]
        Speech(circuit, problems, f"moves of `{element.name}`").check([whole])
    for assumption in circuit.assumptions:
        told = f"assumption `{assumption.name}`"
        speech = Speech(circuit, problems, told)
        speech.check([(assumption.condition,)])
        problems.need(speech.surroundings, f"{told} speaks of more than hands, switches and faults")


def _properties(circuit: Circuit, problems: Problems) -> None:
    for prop in circuit.properties:
        told = f"property `{prop.name}`"
        problems.need(bool(prop.instances), f"{told} has no instance")
        problems.unique((one.label for one in prop.instances), f"{told}: instance")
        speech = Speech(circuit, problems, told)
        speech.check([_all_conditions(one) for one in prop.instances])
        problems.need(not speech.momentary, f"{told} speaks of a momentary hand")
        order, recovers = prop.form == "order", prop.form == "recovers"
        for one in prop.instances:
            if len(one.triggers) != len(one.trigger_words):
                problems.need(False, f"{told}: words for each trigger")
            if (one.first is not None) != order:
                problems.need(False, f"{told}: `first`")
            if bool(one.procedure) != recovers:
                problems.need(False, f"{told}: procedure")
            for point in one.procedure:
                _setpoint(point.hand, point.switch, point.value, told, circuit, problems)


def _all_conditions(instance: Instance) -> tuple[Condition, ...]:
    if instance.first is None:
        return (instance.condition, *instance.triggers)
    return (instance.condition, *instance.triggers, instance.first)


def _setpoint(
    hand: int | None,
    switch: int | None,
    value: int,
    told: str,
    circuit: Circuit,
    problems: Problems,
) -> None:
    problems.need((hand is None) != (switch is None), f"{told}: an action has one subject")
    if hand is not None and problems.index(hand, circuit.hands, told):
        lowest = 0 if circuit.hands[hand].held else 1
        problems.need(lowest <= value <= 1, f"{told}: a hand cannot be set to {value}")
    if switch is not None and problems.index(switch, circuit.switches, told):
        problems.index(value, circuit.switches[switch].values, told)


def _faults(circuit: Circuit, problems: Problems) -> None:
    for fault in circuit.faults:
        told = f"fault `{fault.name}`"
        problems.index(fault.part, circuit.parts, told)
        for effect in fault.effects:
            problems.index(effect.hand, circuit.hands, told)
            for port in effect.ports:
                problems.index(port, circuit.ports, told)
            if problems.index(effect.element, circuit.elements, told):
                positions = circuit.elements[effect.element or 0].positions
                problems.index(effect.position, positions, told)


def _said_of_faults(circuit: Circuit, problems: Problems) -> None:
    """Faults are called by names that they have, and are excluded and rated once at most."""
    tolerant = any(item.tolerating is not None for item in circuit.properties)
    if not (tolerant or circuit.causes or circuit.exclusions or circuit.rates):
        return
    problems.unique((x.name for x in circuit.causes), "common cause")
    single = {one.name for one in single_strikes(circuit)}
    for cause in circuit.causes:
        _known(cause.faults, single, f"common cause `{cause.name}`", problems)
    known = single | {f"cause {one.name}" for one in circuit.causes}
    for sort, lists in (
        ("excluded", [one.faults for one in circuit.exclusions]),
        ("rated", [one.faults for one in circuit.rates]),
    ):
        problems.unique((name for names in lists for name in names), f"{sort} fault")
        for names in lists:
            _known(names, known, f"what is {sort}", problems)
    for item in circuit.properties:
        if item.tolerating is not None and item.tolerating.faults is not None:
            _known(item.tolerating.faults, known, f"property `{item.name}`", problems)


def _known(names: Iterable[str], known: Set[str], told: str, problems: Problems) -> None:
    for name in names:
        problems.need(name in known, f"{told}: there is no fault `{name}`")
