"""Parts of random circuits: valves of common shapes and valves of no shape at all."""

from __future__ import annotations

from itertools import combinations
from random import Random
from typing import Literal

import msgspec

from verifier.diagnostics.span import Span
from verifier.model.circuit import (
    Circuit,
    Element,
    HandControl,
    Line,
    Move,
    Network,
    Part,
    Passage,
    Port,
    Supply,
    Switch,
    Tube,
    Volume,
    Where,
)
from verifier.model.condition import All, Any, At, Condition, Hand, High, Not, Setting

SPAN = Span("random.ilk", 1, 1, 1, 2)
Leg = tuple[str, str]
# What each position joins, by number of ports; a third entry is the middle.
SHAPES: dict[str, tuple[tuple[str, ...], tuple[tuple[Leg, ...], ...]]] = {
    "valve_3_2": (("1", "2", "3"), ((("2", "3"),), (("1", "2"),))),
    "valve_3_3_closed": (("1", "2", "3"), ((("2", "3"),), (), (("1", "2"),))),
    "valve_5_2": (
        ("1", "2", "3", "4", "5"),
        ((("1", "2"), ("4", "5")), (("1", "4"), ("2", "3"))),
    ),
    "valve_5_3_open": (
        ("1", "2", "3", "4", "5"),
        ((("1", "2"), ("4", "5")), (("2", "3"), ("4", "5")), (("1", "4"), ("2", "3"))),
    ),
    "valve_2_2": (("1", "2"), ((), (("1", "2"),))),
    "valve_3_3_crossing": (
        ("1", "2", "3"),
        ((("2", "3"),), (("1", "2"), ("2", "3")), (("1", "2"),)),
    ),
}
EXHAUSTS = {"3": 0.8, "5": 0.8}


class Workshop:
    """A circuit under construction. The first `lines` volumes are lines; the other volumes are
    ports left open or plugged, made as parts are added. A tidy one is built as a fitter would: one
    outlet to a line, inlets and pilots on lines that bring air, springs and detents."""

    def __init__(self, random: Random, lines: int, tidy: bool) -> None:
        self.random = random
        self.tidy = tidy
        self.names = [f"l{i + 1}" for i in range(lines)]
        self.ends: list[list[int]] = [[] for _ in self.names]
        self.supplies: list[Supply] = []
        self.parts: list[Part] = []
        self.ports: list[Port] = []
        self.lone: list[Volume] = []
        self.elements: list[Element] = []
        self.passages: list[Passage] = []
        self.hands: list[HandControl] = []
        self.switches: list[Switch] = []

    def add_supply(self, weak: bool) -> None:
        values = ("present", "absent", "weak") if weak else ("present", "absent")
        name = f"air{len(self.supplies) + 1}"
        start = 0 if self.random.random() < 0.3 else 1
        self.switches.append(Switch(name, None, name, values, start, SPAN))
        volume = self.random.randrange(len(self.names))
        self.supplies.append(Supply(name, len(self.switches) - 1, volume, SPAN))

    def add_switch(self, name: str, values: tuple[str, ...]) -> None:
        self.switches.append(Switch(name, None, name, values, 0, SPAN))

    def add_port(self, part: str, label: str, exhaust: bool) -> int:
        """A port of the part being made (the next one), on a line, open or plugged."""
        name, index, draw = f"{part}.{label}", len(self.ports), self.random.random()
        open_share = EXHAUSTS.get(label, 0.05) if exhaust else 0.05
        state: Literal["piped", "atmosphere", "plugged"]
        if draw < open_share or draw > 0.97:
            state = "atmosphere" if draw < open_share else "plugged"
            volume = len(self.names) + len(self.lone)
            self.lone.append(Volume(name, (index,), state == "atmosphere", (), None))
        else:
            state, volume = "piped", self._line_for(label)
            self.ends[volume].append(index)
        self.ports.append(Port(name, len(self.parts), label, volume, exhaust, state, SPAN))
        return index

    def _line_for(self, label: str) -> int:
        """Half of the time a line that makes some sense: inlets and pilots on lines that may bring
        air, outlets on lines with few ends. Else any line."""
        random, every = self.random, range(len(self.names))
        outlets = {port.volume for port in self.ports if port.label in ("2", "4")}
        bringing = [i for i in every if i in outlets or any(s.volume == i for s in self.supplies)]
        if random.random() < (0.04 if self.tidy else 0.4):
            return random.randrange(len(self.names))
        if label in ("2", "4"):
            unfed = [i for i in every if i not in bringing]
            fewest = min(len(ends) for ends in self.ends)
            return random.choice(unfed or [i for i in every if len(self.ends[i]) == fewest])
        return random.choice(bringing or list(every))

    def join(
        self,
        ports: tuple[int, int],
        where: tuple[Where, ...],
        odds: tuple[float, float] = (0.1, 0.2),
    ) -> None:
        """A passage; odds of being one-way and of being restricted."""
        start, end = self.ports[ports[0]].volume, self.ports[ports[1]].volume
        share = 0.3 if self.tidy and where else 1.0
        one_way = self.random.random() < odds[0] * share
        restricted = self.random.random() < odds[1] * share
        bore: Literal["full", "restricted"] = "restricted" if restricted else "full"
        if start != end:
            self.passages.append(
                Passage(len(self.parts), ports, start, end, bore, one_way, where, SPAN)
            )

    def add_hand(self, part: str, label: str, held: bool) -> int:
        on = held and self.random.random() < 0.1
        self.hands.append(HandControl(f"{part}.{label}", len(self.parts), label, held, on, SPAN))
        return len(self.hands) - 1

    def add_passage_part(self) -> None:
        """A part without moving elements: a restrictor, a non-return valve or a plain union."""
        part = f"p{len(self.parts) + 1}"
        ports = (self.add_port(part, "1", False), self.add_port(part, "2", False))
        self.join(ports, (), (0.5, 0.6))
        self.finish(part, "fitting", ports, (), ())

    def add_manifold(self) -> None:
        """A block without moving elements: its ports, one of them mostly open to the air, joined by
        bores that are always open."""
        random, part = self.random, f"m{len(self.parts) + 1}"
        count = random.randint(3, 5)
        labels = ("3", "1", "2", "4", "6")[:count]
        ports = tuple(self.add_port(part, label, label in EXHAUSTS) for label in labels)
        pairs = list(combinations(ports, 2))
        for pair in random.sample(pairs, random.randint(count - 1, min(len(pairs), count + 1))):
            self.join(pair if random.random() < 0.5 else pair[::-1], (), (0.4, 0.15))
        self.finish(part, "manifold", ports, (), ())

    def finish(
        self,
        name: str,
        kind: str,
        ports: tuple[int, ...],
        elements: tuple[int, ...],
        hands: tuple[int, ...],
    ) -> None:
        self.parts.append(Part(name, kind, ports, elements, hands, (), (), SPAN))

    def surroundings(self) -> int:
        """The number of ways in which held hands and switches can stand."""
        count = 1
        for switch in self.switches:
            count *= len(switch.values)
        return count << sum(hand.held for hand in self.hands)

    def size(self) -> int:
        """An estimate of the number of canonical states, with half of the lines trapped."""
        size = self.surroundings() << ((len(self.names) + 1) // 2)
        for element in self.elements:
            size *= len(element.positions)
        return size

    def forget_something(self) -> bool:
        """Make the state space smaller: the last held hand becomes momentary."""
        for index in reversed(range(len(self.hands))):
            hand = self.hands[index]
            if hand.held:
                self.hands[index] = msgspec.structs.replace(hand, held=False, starts_on=False)
                return True
        return False

    def settle_elements(self) -> None:
        """Give every element its moves, now that all cams and switches are known."""
        for index, element in enumerate(self.elements):
            self.elements[index] = _with_moves(self, index, element)

    def build(self, networks: tuple[Network, ...]) -> Circuit:
        fed = [
            tuple(i for i, supply in enumerate(self.supplies) if supply.volume == line)
            for line in range(len(self.names))
        ]
        volumes = [
            Volume(name, tuple(self.ends[i]), False, fed[i], i) for i, name in enumerate(self.names)
        ]
        tubes: list[Tube] = []
        lines: list[Line] = []
        for i, name in enumerate(self.names):
            ends = [self.ports[p].name for p in self.ends[i]]
            ends += [f"supply {self.supplies[s].name}" for s in fed[i]]
            pairs = [(ends[0], ends[1])] if len(ends) == 2 else [(end, "junction") for end in ends]
            mine = tuple(range(len(tubes), len(tubes) + len(pairs)))
            tubes += [Tube(f"{name} at {a}", i, (a, b), None, None, "", SPAN) for a, b in pairs]
            lines.append(Line(name, i, mine, SPAN))
        return Circuit(
            "random", "", "", tuple(self.supplies), tuple(self.parts), tuple(self.ports),
            (*volumes, *self.lone), tuple(lines), tuple(tubes), tuple(self.elements),
            tuple(self.passages), tuple(self.hands), tuple(self.switches), networks, (), (), (),
        )  # fmt: skip


def add_part(shop: Workshop, wanted: int) -> None:
    """One part with a moving element: mostly of a known shape, else a shuttle or any passages."""
    draw = shop.random.random()
    if draw < 0.12:
        _add_shuttle(shop)
    elif draw < (0.95 if shop.tidy else 0.7):
        _add_shaped(shop)
    else:
        _add_shapeless(shop, two=wanted - len(shop.elements) >= 2 and shop.random.random() < 0.3)


def _add_shuttle(shop: Workshop) -> None:
    """Two inlets and one outlet; the ball shuts the inlet without air (two-pressure: the other)."""
    part, element = f"s{len(shop.parts) + 1}", len(shop.elements)
    ports = tuple(shop.add_port(part, label, False) for label in ("1", "3", "2"))
    for position, inlet in enumerate(ports[:2]):
        shop.join((inlet, ports[2]), (Where(element, (position,)),), (0.0, 0.0))
    one, other = (High(shop.ports[p].volume, shop.ports[p].name, p) for p in ports[:2])
    flip = shop.random.random() < 0.3
    conditions = (All((one, Not(other))), All((other, Not(one))))
    moves = tuple(Move(1 - t if flip else t, c, SPAN) for t, c in enumerate(conditions))
    shop.elements.append(
        Element(f"{part}.ball", len(shop.parts), "ball", ("left", "right"), 0, moves, None, SPAN)
    )
    shop.finish(part, "shuttle", ports, (element,), ())


def _add_shaped(shop: Workshop) -> None:
    random = shop.random
    kind = random.choice(sorted(SHAPES))
    labels, positions = SHAPES[kind]
    part, element = f"v{len(shop.parts) + 1}", len(shop.elements)
    ports = {label: shop.add_port(part, label, label in EXHAUSTS) for label in labels}
    for label in ("12", "14")[: random.choice((0, 1, 1, 2))]:
        ports[label] = shop.add_port(part, label, False)
    for position, legs in enumerate(positions):
        for start, end in legs:
            shop.join((ports[start], ports[end]), (Where(element, (position,)),))
    hands = _hands(shop, part)
    _add_element(shop, f"{part}.spool", len(positions))
    shop.finish(part, kind, tuple(ports.values()), (element,), hands)


def _add_shapeless(shop: Workshop, two: bool) -> None:
    random, first = shop.random, len(shop.elements)
    part = f"q{len(shop.parts) + 1}"
    ports = tuple(shop.add_port(part, str(i + 1), i == 2) for i in range(random.randint(2, 5)))
    hands = _hands(shop, part)
    for which in range(2 if two else 1):
        _add_element(shop, f"{part}.poppet{which + 1}", random.choice((2, 2, 3)))
    mine = tuple(range(first, len(shop.elements)))
    for _ in range(random.randint(1, 4)):
        start, end = random.sample(ports, 2)
        where = []
        for element in mine:
            count = len(shop.elements[element].positions)
            if random.random() < 0.8:
                some = random.sample(range(count), random.randint(1, count - 1))
                where.append(Where(element, tuple(sorted(some))))
        shop.join((start, end), tuple(where), (0.3, 0.3))
    shop.finish(part, "valve", ports, mine, hands)


def _hands(shop: Workshop, part: str) -> tuple[int, ...]:
    if len(shop.hands) >= 3:
        return ()
    labels = ("pushed", "pulled")[: shop.random.choice((0, 1, 1, 2))]
    return tuple(shop.add_hand(part, label, shop.random.random() < 0.5) for label in labels)


def _add_element(shop: Workshop, name: str, count: int) -> None:
    positions = ("in", "out") if count == 2 else ("in", "middle", "out")
    start = 0 if shop.random.random() < 0.8 else shop.random.randrange(count)
    part = len(shop.parts)
    label = name.rsplit(".", 1)[1]
    shop.elements.append(Element(name, part, label, positions, start, (), None, SPAN))


def _with_moves(shop: Workshop, index: int, element: Element) -> Element:
    random = shop.random
    if element.moves:
        return element
    count = len(element.positions)
    if shop.tidy and random.random() < 0.8:
        moves = tuple(Move(t, _atom(shop, index), SPAN) for t in (count - 1, 0))
        shown = random.choice((1, 1, 2))
        home = random.choice((None, 0, 0, count // 2)) if shown == 1 else None
        return msgspec.structs.replace(element, moves=moves[:shown], otherwise=home)
    moves = tuple(
        Move(random.randrange(count), _demand(shop, index), SPAN)
        for _ in range(random.choice((1, 2, 2, 3)))
    )
    returns = random.randrange(count) if random.random() < 0.6 else None
    return msgspec.structs.replace(element, moves=moves, otherwise=returns)


def _demand(shop: Workshop, index: int) -> Condition:
    random = shop.random
    draw = random.random()
    if draw < 0.6:
        return _atom(shop, index)
    if draw < 0.72:
        return Not(_atom(shop, index))
    atoms = tuple(_atom(shop, index) for _ in range(2))
    if draw < 0.86:
        return All((atoms[0], Not(atoms[1])) if random.random() < 0.4 else atoms)
    return Any(atoms)


def _atom(shop: Workshop, index: int) -> Condition:
    """A pilot mostly; else a hand of the part, a cam, a switch of the surroundings."""
    random, part = shop.random, shop.elements[index].part
    hands = [i for i, hand in enumerate(shop.hands) if hand.part == part]
    draw = random.random()
    if hands and draw < 0.35:
        return Hand(random.choice(hands))
    others = [i for i in range(len(shop.elements)) if i != index]
    if others and draw > 0.9:
        other = random.choice(others)
        return At(other, (random.randrange(len(shop.elements[other].positions)),))
    plain = list(range(len(shop.supplies), len(shop.switches)))
    if plain and draw > 0.8:
        return Setting(random.choice(plain), (0,))
    ports = shop.parts[part].ports
    pilots = [p for p in ports if shop.ports[p].label in ("12", "14")]
    number = random.choice(pilots or list(ports))
    port = shop.ports[number]
    return High(port.volume, port.name, number)
