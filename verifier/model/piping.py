"""Lines, tubes and volumes: which ports are joined, which are left open or plugged."""

from __future__ import annotations

from dataclasses import dataclass, field

from verifier.diagnostics.span import Span
from verifier.model.circuit import Line, Quantity, Tube, Volume
from verifier.model.draft import Draft
from verifier.model.mistakes import did_you_mean
from verifier.model.references import Finder, Found, bindings
from verifier.model.things import LineThing, PartThing, PortThing, Scope, SupplyThing
from verifier.model.units import quantity
from verifier.syntax import tree


@dataclass(frozen=True, slots=True)
class End:
    """An end of a line: port `port` (circuit index) or supply `supply`."""

    name: str
    port: int | None
    supply: int | None


@dataclass(eq=False)
class Piping:
    """Where every port stands. Keys are circuit indices; values name the statement that says so."""

    draft: Draft
    ends: list[list[End]] = field(default_factory=list)
    line_of: dict[End, tuple[LineThing, Span]] = field(default_factory=dict)
    opened: dict[int, Span] = field(default_factory=dict)
    plugged: dict[int, Span] = field(default_factory=dict)
    facts: dict[tuple[int, str], tuple[tree.TubeStatement, Quantity | None, Quantity | None]] = (
        field(default_factory=dict)
    )
    broken: bool = False


def connect(draft: Draft) -> Piping:
    """Read every line, `open`, `plug` and `tube`; tell ports left open."""
    piping = Piping(draft)
    for line in draft.lines:
        _line(line, piping)
    for scope, statement in draft.statements():
        if isinstance(statement, tree.LeftOpen | tree.Plug):
            _closed_or_open(statement, scope, piping)
        elif isinstance(statement, tree.TubeStatement):
            _tube(statement, scope, piping)
    if not piping.broken and not any(scope.broken for scope in draft.scopes):
        _left_open(piping)
    return piping


def ends_of(found: Found, draft: Draft, seen: tuple[str, ...] = ()) -> list[End] | None:
    """The ends that a reference stands for (an assembly port stands for several)."""
    thing = found.thing
    if isinstance(thing, SupplyThing):
        return [End(f"supply {thing.name}", None, thing.supply)]
    if isinstance(thing, PortThing):
        if thing.name in seen:
            draft.mistakes.add("E0307", thing.span, f"port `{thing.name}` stands for itself")
            return None
        finder = Finder(draft, thing.scope, thing.scope.env, ranges=True)
        ends: list[End] = []
        for reference in thing.statement.ends:
            more = _all_ends(reference, finder, (*seen, thing.name))
            if more is None:
                return None
            ends.extend(more)
        return ends
    if isinstance(thing, PartThing):
        return _port_end(found, thing, draft)
    draft.mistakes.add(
        "E0404", found.span, f"`{found.name}` is no port: a line joins ports of parts and supplies"
    )
    return None


def _all_ends(
    reference: tree.Reference, finder: Finder, seen: tuple[str, ...] = ()
) -> list[End] | None:
    """All ends that a reference with ranges stands for; None if one of them is none."""
    found = finder.find(reference)
    if found is None:
        return None
    ends: list[End] = []
    clear = True
    for one in found:
        more = ends_of(one, finder.draft, seen)
        clear = clear and more is not None
        ends.extend(more or ())
    return ends if clear else None


def _port_end(found: Found, part: PartThing, draft: Draft) -> list[End] | None:
    names = [port.name for port in part.kind.ports]
    if found.label is None:
        hint = (
            f"did you mean `{part.name}.{names[0]}`?"
            if len(names) == 1
            else (f"its ports: {', '.join(names)}" if names else "")
        )
        draft.mistakes.add("E0404", found.span, f"name the port of `{part.name}`", hint=hint)
        return None
    number = part.kind.port_named(found.label)
    if number is None:
        media = [m for m in ("liquid", "vapour") if found.label in part.kind.medium_ports(m)]
        if media:
            told = f"port `{found.name}` carries {media[0]}, not air"
            draft.mistakes.add("E0405", found.span, told)
        else:
            unknown_member(found, part, names, draft)
        return None
    return [End(found.name, part.first_port + number, None)]


def unknown_member(found: Found, part: PartThing, names: list[str], draft: Draft) -> None:
    hint = did_you_mean(found.label or "", names, f"{part.name}.")
    if not hint and len(names) == 1:
        hint = f"did you mean `{part.name}.{names[0]}`?"
    draft.mistakes.add(
        "E0405",
        found.span,
        f"`{part.name}`, a {part.kind.name}, has no `{found.label}`",
        related=((part.span, f"its ports: {', '.join(p.name for p in part.kind.ports)}"),),
        hint=hint,
    )


def _line(line: LineThing, piping: Piping) -> None:
    draft = piping.draft
    finder = Finder(draft, line.scope, line.env, ranges=True)
    ends: list[End] = []
    piping.ends.append(ends)
    clear = True
    listed = 0
    for reference in line.statement.ends:
        reached = _all_ends(reference, finder)
        clear = clear and reached is not None
        listed += len(reached or ())
        for end in reached or ():
            before = piping.line_of.get(end)
            if before is not None:
                _lined_twice(end, line, before, reference.span, draft)
                continue
            piping.line_of[end] = (line, reference.span)
            ends.append(end)
    piping.broken = piping.broken or not clear
    if clear and listed < 2:
        draft.mistakes.add(
            "E0503",
            line.span,
            f"line `{line.name}` has one end only",
            hint="to close a port say `plug`, to leave it to the atmosphere say `open`",
        )


def _lined_twice(
    end: End, line: LineThing, before: tuple[LineThing, Span], span: Span, draft: Draft
) -> None:
    other, place = before
    again = (
        "twice on this line" if other is line else f"on two lines, `{other.name}` and `{line.name}`"
    )
    draft.mistakes.add(
        "E0502",
        span,
        f"`{end.name.removeprefix('supply ')}` ends {again}",
        related=((place, f"line `{other.name}` already ends here"),),
    )


def _closed_or_open(statement: tree.LeftOpen | tree.Plug, scope: Scope, piping: Piping) -> None:
    draft = piping.draft
    plug = isinstance(statement, tree.Plug)
    finder = Finder(draft, scope, scope.env, ranges=True)
    for reference in statement.ports:
        ends = _all_ends(reference, finder)
        piping.broken = piping.broken or ends is None
        for end in ends or ():
            _state_port(end, plug, reference.span, piping)


def _state_port(end: End, plug: bool, span: Span, piping: Piping) -> None:
    mistakes = piping.draft.mistakes
    verb = "plugged" if plug else "open"
    if end.port is None:
        told = f"`{end.name.removeprefix('supply ')}` is a supply: only ports are open or plugged"
        mistakes.add("E0404", span, told)
        return
    lined = piping.line_of.get(end)
    other = piping.opened.get(end.port) if plug else piping.plugged.get(end.port)
    if lined is not None:
        mistakes.add(
            "E0504",
            span,
            f"port `{end.name}` is said to be {verb}, but a line ends at it",
            related=((lined[1], f"line `{lined[0].name}` ends here"),),
        )
    elif other is not None:
        mistakes.add(
            "E0504",
            span,
            f"port `{end.name}` is both open and plugged",
            related=((other, "the other is said here"),),
        )
    else:
        (piping.plugged if plug else piping.opened)[end.port] = span


def _left_open(piping: Piping) -> None:
    """One diagnostic per part statement and port, naming the members."""
    lined = {end.port for end in piping.line_of if end.port is not None}
    loose: dict[tuple[Span, str], list[str]] = {}
    for part in piping.draft.parts:
        for offset, port in enumerate(part.kind.ports):
            number = part.first_port + offset
            stated = number in lined or number in piping.opened or number in piping.plugged
            if not stated and not port.exhaust:
                loose.setdefault((part.span, port.name), []).append(f"{part.name}.{port.name}")
    for (span, _), names in loose.items():
        listed = ", ".join(f"`{name}`" for name in names[:4]) + (", …" if len(names) > 4 else "")
        verb = "port is" if len(names) == 1 else "ports are"
        piping.draft.mistakes.add(
            "E0501",
            span,
            f"{verb} left open: {listed}",
            hint=f"join it to a line, or say `open {names[0]}` or `plug {names[0]}`",
        )


def _tube(statement: tree.TubeStatement, scope: Scope, piping: Piping) -> None:
    draft = piping.draft
    length = _length(statement.length, draft)
    bore = _length(statement.bore, draft)
    base = Finder(draft, scope, scope.env)
    for finder, _ in bindings((statement.line, statement.end), base):
        line = finder.one(statement.line)
        found = finder.one(statement.end)
        if line is None or found is None:
            continue
        if not isinstance(line.thing, LineThing):
            draft.mistakes.add("E0404", line.span, f"`{line.name}` is no line")
            continue
        ends = ends_of(found, draft)
        if ends is None:
            continue
        mine = piping.ends[line.thing.index]
        if len(ends) != 1 or ends[0] not in mine:
            listed = ", ".join(f"`{end.name}`" for end in mine)
            draft.mistakes.add(
                "E0505",
                statement.end.span,
                f"line `{line.name}` has no tube at `{found.name}`",
                related=((line.thing.span, f"it ends at {listed}"),),
            )
            continue
        at = "" if len(mine) == 2 else ends[0].name
        before = piping.facts.get((line.thing.index, at))
        if before is not None:
            draft.mistakes.add(
                "E0505",
                statement.span,
                f"this tube of line `{line.name}` is described twice",
                related=((before[0].span, "the first time is here"),),
            )
            continue
        piping.facts[(line.thing.index, at)] = (statement, length, bore)


def _length(measure: tree.Measure | None, draft: Draft) -> Quantity | None:
    return None if measure is None else quantity(measure, draft.mistakes, "length")


def tubes_and_lines(piping: Piping) -> tuple[tuple[Tube, ...], tuple[Line, ...]]:
    """A line of two ends has one tube; a longer one a tube from each end to the junction."""
    tubes: list[Tube] = []
    lines: list[Line] = []
    for line, ends in zip(piping.draft.lines, piping.ends, strict=True):
        two = len(ends) == 2
        first = len(tubes)
        pairs = [(ends[0].name, ends[1].name)] if two else [(end.name, "junction") for end in ends]
        for pair in pairs:
            statement, length, bore = piping.facts.get(
                (line.index, "" if two else pair[0]), (None, None, None)
            )
            tubes.append(
                Tube(
                    name=line.name if two else f"{line.name} at {pair[0]}",
                    line=line.index,
                    ends=pair,
                    length=length,
                    bore=bore,
                    label=(statement.label or "") if statement else "",
                    span=statement.span if statement else line.span,
                )
            )
        numbers = tuple(range(first, len(tubes)))
        lines.append(Line(line.name, line.index, numbers, line.span, line.statement.doc or ""))
    return tuple(tubes), tuple(lines)


def volumes(piping: Piping) -> tuple[tuple[Volume, ...], list[int], list[int]]:
    """The volumes, the volume of each port, and the volume of each supply.

    Lines come first, in order; then every port that is on no line; then such supplies.
    """
    draft = piping.draft
    found: list[Volume] = []
    of_port = [-1] * draft.ports
    of_supply = [-1] * len(draft.supplies)
    for line, ends in zip(draft.lines, piping.ends, strict=True):
        ports = tuple(sorted(end.port for end in ends if end.port is not None))
        supplies = tuple(sorted(end.supply for end in ends if end.supply is not None))
        for number in ports:
            of_port[number] = len(found)
        for number in supplies:
            of_supply[number] = len(found)
        found.append(Volume(line.name, ports, False, supplies, line.index))
    for part in draft.parts:
        for offset, port in enumerate(part.kind.ports):
            number = part.first_port + offset
            if of_port[number] < 0:
                of_port[number] = len(found)
                name = f"{part.name}.{port.name}"
                found.append(Volume(name, (number,), number not in piping.plugged, (), None))
    for supply in draft.supplies:
        if of_supply[supply.supply] < 0:
            of_supply[supply.supply] = len(found)
            found.append(Volume(supply.name, (), False, (supply.supply,), None))
    return tuple(found), of_port, of_supply
