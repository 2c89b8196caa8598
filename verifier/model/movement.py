"""Stamping out kinds: elements, passages, hands, own switches and faults of every part."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from verifier.model.circuit import (
    Element,
    Fault,
    FaultEffect,
    HandControl,
    Move,
    Passage,
    Where,
)
from verifier.model.condition import Always, At, Condition, Hand, High, Setting
from verifier.model.draft import Draft
from verifier.model.simplify import FALSE, TRUE, Atom, readers, replace
from verifier.model.template import WORKED, ElementTemplate, LegTemplate
from verifier.model.things import PartThing

MOST_READERS = 8


@dataclass(frozen=True, slots=True)
class Stamp:
    """Turns conditions of a part's template into conditions of the circuit.

    reader: names the reading of a pressure, given the port's name and its volume.
    worked: the condition of the part's `worked by`.
    """

    part: PartThing
    of_port: list[int]
    reader: Callable[[str, int], str]
    worked: Callable[[PartThing], Condition]

    def condition(self, template: Condition) -> Condition:
        return replace(template, self._atom)

    def _atom(self, atom: Atom) -> Condition:
        part = self.part
        if isinstance(atom, High):
            port = part.first_port + atom.volume
            volume = self.of_port[port]
            return High(volume, self.reader(f"{part.name}.{atom.reader}", volume), port)
        if isinstance(atom, At):
            size = len(part.kind.elements[atom.element].positions)
            return at(part.first_element + atom.element, atom.positions, size)
        if isinstance(atom, Hand):
            if atom.hand == WORKED:
                return self.worked(part)
            return Hand(part.first_hand + atom.hand)
        if isinstance(atom, Setting):
            size = len(part.kind.switches[atom.switch].values)
            return setting(part.first_switch + atom.switch, atom.values, size)
        return atom


def at(element: int, positions: tuple[int, ...], size: int) -> Condition:
    chosen = tuple(sorted(set(positions)))
    return FALSE if not chosen else TRUE if len(chosen) == size else At(element, chosen)


def setting(switch: int, values: tuple[int, ...], size: int) -> Condition:
    chosen = tuple(sorted(set(values)))
    return FALSE if not chosen else TRUE if len(chosen) == size else Setting(switch, chosen)


def elements_of(stamp: Stamp, draft: Draft) -> Iterator[Element]:
    """The part's elements, their moves simplified: what can never be asked is gone (M1)."""
    part = stamp.part
    for number, template in enumerate(part.kind.elements):
        moves, otherwise = _moves(stamp, template)
        read = readers(move.when for move in moves)
        if len(read) > MOST_READERS:
            draft.mistakes.add(
                "E0513",
                part.span,
                f"`{part.name}.{template.name}` reads {len(read)} pressures; "
                f"{MOST_READERS} is the most that one element may read",
                related=((template.span, "the element is here"),),
            )
        yield Element(
            name=f"{part.name}.{template.name}",
            part=part.index,
            label=template.name,
            positions=template.positions,
            start=template.start,
            moves=moves,
            otherwise=otherwise,
            span=part.kind.elements[number].span,
        )


def _moves(stamp: Stamp, template: ElementTemplate) -> tuple[tuple[Move, ...], int | None]:
    moves: list[Move] = []
    for move in template.moves:
        when = stamp.condition(move.when)
        if isinstance(when, Always):
            if when.value:
                return tuple(moves), move.target
            continue
        moves.append(Move(move.target, when, move.span))
    return tuple(moves), template.otherwise


def where_of(part: PartThing, leg: LegTemplate) -> tuple[Where, ...] | None:
    """The leg's condition on elements of the circuit, a factor that always holds left out."""
    found = []
    for factor in leg.where:
        if not factor.positions:
            return None
        if len(factor.positions) < len(part.kind.elements[factor.element].positions):
            found.append(Where(part.first_element + factor.element, factor.positions))
    return tuple(found)


def passages_of(part: PartThing, of_port: list[int]) -> Iterator[Passage]:
    """The part's passages for air. of_port: the volume of each port of the circuit."""
    for leg in part.kind.passages:
        where = where_of(part, leg)
        if where is not None:
            ports = (part.first_port + leg.start, part.first_port + leg.end)
            yield Passage(
                part=part.index,
                ports=ports,
                start=of_port[ports[0]],
                end=of_port[ports[1]],
                bore="restricted" if leg.restricted else "full",
                one_way=leg.one_way,
                where=where,
                span=leg.span,
            )


def hands_of(part: PartThing) -> Iterator[HandControl]:
    for item in part.kind.hands:
        yield HandControl(
            name=f"{part.name}.{item.name}",
            part=part.index,
            label=item.name,
            held=item.held,
            starts_on=item.starts_on,
            span=item.span,
        )


def faults_of(part: PartThing) -> Iterator[Fault]:
    """The kind's faults, their effects in the circuit's numbering (F3)."""
    for fault in part.kind.faults:
        effects = []
        for effect in fault.effects:
            air = effect.medium is None
            media = () if effect.medium is None else part.kind.medium_ports(effect.medium)
            effects.append(
                FaultEffect(
                    effect=effect.effect,
                    element=None if effect.element is None else part.first_element + effect.element,
                    position=effect.position,
                    ports=tuple(part.first_port + port for port in effect.ports) if air else (),
                    hand=None if effect.hand is None else part.first_hand + effect.hand,
                    one_way=effect.one_way,
                    medium=effect.medium,
                    places=tuple(f"{part.name}.{media[port]}" for port in effect.ports)
                    if media
                    else (),
                )
            )
        yield Fault(
            name=f"{part.name} {fault.name}",
            part=part.index,
            label=fault.name,
            effects=tuple(effects),
            passing=fault.passing,
            source=fault.source,
            span=fault.span,
            doc=fault.doc,
        )
