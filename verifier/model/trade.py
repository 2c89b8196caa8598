"""Warnings of the trade: circuits that can be built, but that a fitter would question."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product
from math import prod

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit, Element, Part, Passage, Port, Way
from verifier.model.condition import All, Always, Any, At, Condition, Not, Setting
from verifier.model.draft import Draft
from verifier.model.piping import Piping

FOOT_ROLES = ("foot", "foot_valve")
MOST_COMBINATIONS = 100  # of positions of one part; foot valves have two or three


def trade_checks(circuit: Circuit, draft: Draft, piping: Piping) -> None:
    _tees(circuit, draft)
    _plugged_exhausts(circuit, draft, piping)
    _dead_lines(circuit, draft)
    _foot_valves(circuit, draft)
    _positions(circuit, draft)


def _warn(
    draft: Draft, code: str, found: Iterable[tuple[Span, str]], told: str, hint: str = ""
) -> None:
    """One warning per statement; `{}` in the text stands for the things that it concerns."""
    grouped: dict[Span, list[str]] = {}
    for span, name in found:
        grouped.setdefault(span, []).append(name)
    for span, names in grouped.items():
        listed = ", ".join(f"`{name}`" for name in names[:4]) + (", …" if len(names) > 4 else "")
        draft.mistakes.add(code, span, told.format(listed), hint=hint)


# ---- two outlets on one line


def _tees(circuit: Circuit, draft: Draft) -> None:
    """One outlet exhausts the line while the other feeds it: a shuttle valve belongs there."""
    touching: dict[int, list[Passage]] = {}
    for passage in circuit.passages:
        for port in passage.ports:
            touching.setdefault(port, []).append(passage)
    for line in circuit.lines:
        ports = circuit.volumes[line.volume].ports
        both = [p for p in ports if _feeds_and_exhausts(p, touching.get(p, []), circuit)]
        outlets = [p for p in ports if p in both or _feeds(p, touching.get(p, []), circuit)]
        if both and len(outlets) > 1:
            names = " and ".join(f"`{circuit.ports[p].name}`" for p in outlets[:3])
            draft.mistakes.add(
                "W0501",
                line.span,
                f"line `{line.name}` joins outlets by a tee: {names}; "
                "one exhausts what the other feeds",
                related=tuple(
                    (circuit.ports[p].span, f"`{circuit.ports[p].name}` is here")
                    for p in outlets[:3]
                ),
                hint="a shuttle valve keeps them apart",
            )


def _others(port: int, passages: list[Passage], circuit: Circuit, *, into: bool) -> list[Passage]:
    """Passages by which air comes in to the port (from a port that is no exhaust), or goes out
    from it through an exhaust that is not plugged."""
    found = []
    for passage in passages:
        start, end = passage.ports
        other: Port = circuit.ports[end if start == port else start]
        direction = not passage.one_way or (end == port if into else start == port)
        wanted = not other.exhaust if into else other.exhaust and other.state != "plugged"
        if direction and wanted:
            found.append(passage)
    return found


def _feeds_and_exhausts(port: int, passages: list[Passage], circuit: Circuit) -> bool:
    fed = _others(port, passages, circuit, into=True)
    exhausted = _others(port, passages, circuit, into=False)
    return (
        not circuit.ports[port].exhaust
        and bool(fed)
        and bool(exhausted)
        and any(one.where != other.where for one in fed for other in exhausted)
    )


def _feeds(port: int, passages: list[Passage], circuit: Circuit) -> bool:
    """A numbered outlet of a valve (ISO 11727: 2 or 4)."""
    if circuit.ports[port].label not in ("2", "4"):
        return False
    return any(passage.where for passage in _others(port, passages, circuit, into=True))


# ---- exhausts and lines


def _plugged_exhausts(circuit: Circuit, draft: Draft, piping: Piping) -> None:
    found = []
    for number, port in enumerate(circuit.ports):
        if port.exhaust and number in piping.plugged:
            found.append((piping.plugged[number], port.name))
    _warn(
        draft,
        "W0502",
        found,
        "exhaust port {} is plugged: what it should let go stays under pressure",
    )


def _dead_lines(circuit: Circuit, draft: Draft) -> None:
    """Over all passages, whatever the positions: no way from any supply, or none to any exhaust."""
    onward: dict[int, list[int]] = {}
    back: dict[int, list[int]] = {}
    for passage in circuit.passages:
        pairs = [(passage.start, passage.end)]
        if not passage.one_way:
            pairs.append((passage.end, passage.start))
        for start, end in pairs:
            onward.setdefault(start, []).append(end)
            back.setdefault(end, []).append(start)
    supplied = [n for n, volume in enumerate(circuit.volumes) if volume.supplies]
    sinks = supplied + [n for n, volume in enumerate(circuit.volumes) if volume.open_air]
    fed = _reached(supplied, onward)
    vented = _reached(sinks, back)
    never_fed = [line for line in circuit.lines if line.volume not in fed]
    never_vented = [
        line for line in circuit.lines if line.volume in fed and line.volume not in vented
    ]
    _warn(
        draft,
        "W0504",
        ((line.span, line.name) for line in never_fed),
        "nothing can ever feed line {}",
    )
    _warn(
        draft,
        "W0503",
        ((line.span, line.name) for line in never_vented),
        "line {} can be fed but never vented: once under pressure it stays so",
        "give the air a way out, past the non-return valve if there is one",
    )


def _reached(begin: list[int], steps: dict[int, list[int]]) -> set[int]:
    found = set(begin)
    waiting = list(begin)
    while waiting:
        for other in steps.get(waiting.pop(), ()):
            if other not in found:
                found.add(other)
                waiting.append(other)
    return found


# ---- foot valves


def _foot_valves(circuit: Circuit, draft: Draft) -> None:
    ways: dict[int | None, list[Way]] = {}
    for network in circuit.networks:
        if network.medium == "liquid":
            for way in network.ways:
                ways.setdefault(way.part, []).append(way)
    found = [
        (part.span, part.name)
        for number, part in enumerate(circuit.parts)
        if any(role in FOOT_ROLES for role in part.roles)
        and _needs_air_to_close(part, ways.get(number, []), circuit)
    ]
    _warn(
        draft,
        "W0505",
        found,
        "foot valve {} does not close by itself when its air is gone",
        "a foot valve is closed by a spring: `otherwise to` the shut position",
    )


def _needs_air_to_close(part: Part, ways: list[Way], circuit: Circuit) -> bool:
    """All air low and no hand acting: from some positions it comes to pass liquid for good.

    ways: those of liquid through the part.
    """
    elements = {e: circuit.elements[e] for e in part.elements}
    sizes = [range(len(element.positions)) for element in elements.values()]
    if not ways or prod(len(size) for size in sizes) > MOST_COMBINATIONS:
        return False
    then: dict[tuple[int, ...], tuple[int, ...]] = {}
    for places in product(*sizes):
        at = dict(zip(elements, places, strict=True))
        then[places] = tuple(
            _target(element, at[e], at, circuit) for e, element in elements.items()
        )
    for begin in then:
        places = begin
        for _ in range(len(then)):
            places = then[places]
        at = dict(zip(elements, places, strict=True))
        if any(all(at[w.element] in w.positions for w in way.where) for way in ways):
            return True
    return False


def _target(element: Element, own: int, at: dict[int, int], circuit: Circuit) -> int:
    for move in element.moves:
        if _without_air(move.when, at, circuit):
            return move.target
    return own if element.otherwise is None else element.otherwise


def _without_air(condition: Condition, at: dict[int, int], circuit: Circuit) -> bool:
    """The condition with no air and no hand, everything outside the part as at the start."""
    if isinstance(condition, Always):
        return condition.value
    if isinstance(condition, Not):
        return not _without_air(condition.of, at, circuit)
    if isinstance(condition, All):
        return all(_without_air(one, at, circuit) for one in condition.of)
    if isinstance(condition, Any):
        return any(_without_air(one, at, circuit) for one in condition.of)
    if isinstance(condition, At):
        start = circuit.elements[condition.element].start
        return at.get(condition.element, start) in condition.positions
    if isinstance(condition, Setting):
        return circuit.switches[condition.switch].start in condition.values
    return False


# ---- positions


def _positions(circuit: Circuit, draft: Draft) -> None:
    """A position lies between the start and what some move or fault asks for, or it is never taken
    (M3)."""
    told: set[tuple[str, str, str]] = set()
    shifted: dict[int, set[int]] = {}
    for fault in circuit.faults:
        for effect in fault.effects:
            if effect.element is not None and effect.position is not None:
                shifted.setdefault(effect.element, set()).add(effect.position)
    for number, element in enumerate(circuit.elements):
        targets = {element.start, *(move.target for move in element.moves)}
        targets |= shifted.get(number, set())
        if element.otherwise is not None:
            targets.add(element.otherwise)
        for place, name in enumerate(element.positions):
            part = circuit.parts[element.part]
            key = (part.kind, element.label, name)
            if min(targets) <= place <= max(targets) or key in told:
                continue
            told.add(key)
            draft.mistakes.add(
                "W0507",
                part.span,
                f"nothing ever moves `{element.name}` to `{name}`",
                related=((element.span, "the element is here"),),
            )
