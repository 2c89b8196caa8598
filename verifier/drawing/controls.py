"""What moves an element, as a symbol shows it: pilots, hands, springs, detents and the rest."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.model.condition import All, Always, Any, At, Condition, Hand, High, Not, Setting

Sort = Literal["pilot", "hand", "spring", "detent", "worked", "switch"]


class Control(Struct, frozen=True, gc=False):
    """of: the port, the hand or the switch.   look: its type.   words: what works it."""

    sort: Sort
    of: int = -1
    look: str = ""
    words: str = ""


# Controls in a row act together only; rows at one side act each for itself.
Row = tuple[Control, ...]


class Controls(Struct, frozen=True):
    """left: rows that push the element to a later position; right: to an earlier one."""

    left: tuple[Row, ...]
    right: tuple[Row, ...]


def hand_look(circuit: Circuit, part: int, names: tuple[str, ...]) -> str:
    """The type of a hand control, from the words of its kind and of its hands."""
    told = circuit.parts[part]
    words = f"{told.kind} {told.kind_doc}".lower().replace("-", "_")
    labels = {circuit.switches[switch].label for switch in told.switches}
    if "emergency" in words:
        return "mushroom"
    if "key" in labels or "key" in words.split("_")[0]:
        return "key"
    if "pedal" in words or "treadle" in words:
        return "pedal"
    if "lever" in words or any(name.startswith("turned") for name in names):
        return "lever"
    if any(name.startswith("coupled") for name in names):
        return "coupling"
    pushed = any(name.startswith(("push", "press")) for name in names)
    pulled = any(name.startswith("pull") for name in names)
    if pushed and pulled:
        return "push_pull"
    return "push" if pushed else "pull" if pulled else "general"


def _alternatives(condition: Condition) -> list[list[Condition]]:
    if isinstance(condition, Any):
        return [atoms for inner in condition.of for atoms in _alternatives(inner)]
    if isinstance(condition, All):
        return [list(condition.of)]
    return [[condition]]


def speaks_of(circuit: Circuit, condition: Condition) -> list[str]:
    """Names of what a condition asks for, in its order, each once."""
    names: list[str] = []

    def look(inner: Condition) -> None:
        if isinstance(inner, All | Any):
            for one in inner.of:
                look(one)
        elif isinstance(inner, Not):
            look(inner.of)
        elif isinstance(inner, At):
            names.append(circuit.parts[circuit.elements[inner.element].part].name)
        elif isinstance(inner, Hand):
            names.append(circuit.parts[circuit.hands[inner.hand].part].name)
        elif isinstance(inner, Setting):
            names.append(circuit.switches[inner.switch].name)
        elif isinstance(inner, High):
            names.append(circuit.volumes[inner.volume].name)

    look(condition)
    return list(dict.fromkeys(names))


class _Sides:
    def __init__(self, circuit: Circuit, element: int) -> None:
        self.circuit = circuit
        self.element = circuit.elements[element]
        self.part = self.element.part
        self.rows: tuple[list[Row], list[Row]] = ([], [])
        self.hands: list[tuple[int, int]] = []  # side, hand

    def side(self, target: int) -> int:
        """0 at the left: it pushes to later positions; 1 at the right."""
        last = len(self.element.positions) - 1
        if 2 * target == last:  # towards the middle it is pushed from where it rests
            rest = self.element.start if self.element.otherwise is None else self.element.otherwise
            return 0 if rest <= target else 1
        return 0 if 2 * target > last else 1

    def put(self, side: int, row: Row) -> None:
        if row and row not in self.rows[side]:
            self.rows[side].append(row)

    def own(self, condition: Condition) -> Control | None:
        """The control that an atom stands for, if it belongs to this very part."""
        if isinstance(condition, High) and condition.port is not None:
            port = self.circuit.ports[condition.port]
            return Control("pilot", condition.port) if port.part == self.part else None
        if isinstance(condition, Setting):
            switch = self.circuit.switches[condition.switch]
            if switch.part == self.part:
                return Control("switch", condition.switch, switch.label)
        if isinstance(condition, Hand) and self.circuit.hands[condition.hand].part == self.part:
            return Control("hand", condition.hand)
        return None

    def take(self, target: int, atoms: list[Condition]) -> None:
        side = self.side(target)
        row: list[Control] = []
        foreign: list[str] = []
        turned: list[Control] = []
        for atom in atoms:
            positive = not isinstance(atom, Not)
            control = self.own(atom.of if isinstance(atom, Not) else atom)
            if control is None:
                foreign += speaks_of(self.circuit, atom)
            elif not positive:
                turned.append(control)
            elif control.sort == "hand":
                self.hands.append((side, control.of))
            elif control.sort == "switch" and control.look == "key" and len(atoms) > 1:
                continue  # the hand that turns it is drawn as a key
            elif control not in row:
                row.append(control)
        if foreign:
            row.append(Control("worked", words=", ".join(dict.fromkeys(foreign))))
        self.put(side, tuple(row))
        if turned and not row and not any(control.sort == "hand" for control in turned):
            # Without that air a spring pushes there: the air holds against it.
            self.put(side, (Control("spring"),))
            for control in turned:
                self.put(1 - side, (control,))

    def put_hands(self) -> None:
        """One control for all hands of the element, with a detent where nothing returns it."""
        if not self.hands:
            return
        names = tuple(self.circuit.hands[hand].label for _, hand in self.hands)
        look = hand_look(self.circuit, self.part, names)
        side = min(side for side, _ in self.hands)
        control = Control("hand", self.hands[0][1], look)
        stays = self.element.otherwise is None
        row = (Control("detent"), control) if stays else (control,)
        self.rows[side].insert(0, row)


def controls_of(circuit: Circuit, element: int) -> Controls:
    """The controls of an element, from its moves and from where it goes otherwise (M1)."""
    sides = _Sides(circuit, element)
    told = circuit.elements[element]
    for move in told.moves:
        if isinstance(move.when, Always):
            continue
        for atoms in _alternatives(move.when):
            sides.take(move.target, atoms)
    sides.put_hands()
    if told.otherwise is not None:
        middle = 2 * told.otherwise == len(told.positions) - 1
        for side in (0, 1) if middle else (sides.side(told.otherwise),):
            sides.put(side, (Control("spring"),))
    return Controls(tuple(sides.rows[0]), tuple(sides.rows[1]))
