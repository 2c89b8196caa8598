"""The cut sets of a design for its page: groups of sets, each with a story and what it touches."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct

from verifier.model.circuit import Circuit, FaultEffect
from verifier.model.strikes import Effect, Strike, SupplyEffect, TubeEffect, strikes
from verifier.pages.tale import Tale, Teller
from verifier.report.faults import CutGroup, DesignFaults, PropertyFaults
from verifier.report.faults_text import group_words, order_words
from verifier.studies.fault_stories import story_from
from verifier.studies.keeping import Kept, kept

# A page with more stories than these would be slow; each is some thousand letters.
MOST_STORIES = 400


class Touched(Struct, frozen=True):
    """Names of parts, supplies and lines that a set of faults is about."""

    parts: tuple[str, ...]
    supplies: tuple[str, ...]
    lines: tuple[str, ...]


class Chosen(Struct, frozen=True):
    """One set. tale: the id of its story, "" where the page has none."""

    words: str
    label: str
    touched: Touched
    tale: str


class Row(Struct, frozen=True):
    """Sets that differ in numbers only. tale: of the first of them.   about: what the faults are,
    for those whose names do not say it.   untold: so many sets have no story."""

    words: str
    sets: tuple[Chosen, ...]
    tale: Tale | None
    about: tuple[str, ...]
    untold: int


class Level(Struct, frozen=True):
    """What is known of the sets of so many faults."""

    words: str
    rows: tuple[Row, ...]


class Broken(Struct, frozen=True):
    number: int
    item: PropertyFaults
    levels: tuple[Level, ...]
    notes: tuple[str, ...]


class CutSets:
    """Makes what is told of the cut sets of one design. runs: what was kept when they were found;
    stories are made of these runs, up to MOST_STORIES, first one of each group."""

    def __init__(self, circuit: Circuit, design: DesignFaults, runs: Kept) -> None:
        groups = sum(len(item.groups) for item in design.properties)
        self._spare = max(MOST_STORIES - groups, 0)
        self._circuit = circuit
        self._design = design
        self._runs = runs
        self._told = Kept()
        self._strikes = strikes(circuit)
        self._numbers = {one.name: number for number, one in enumerate(self._strikes)}
        self._properties = {item.name: number for number, item in enumerate(circuit.properties)}
        self.teller = Teller(self._told.stories.get, "set")

    def broken(self) -> Iterator[Broken]:
        """The properties in their order."""
        for number, item in enumerate(self._design.properties, 1):
            levels = [
                Level(
                    order_words(order),
                    tuple(
                        self._row(item, group)
                        for group in item.groups
                        if len(group.pattern) == order.order
                    ),
                )
                for order in item.orders
            ]
            notes = [f'Assumed: "{used.name}", because {used.reason}' for used in item.assumptions]
            yield Broken(number, item, tuple(levels), tuple(notes))

    def _row(self, item: PropertyFaults, group: CutGroup) -> Row:
        sets = [item.cut_sets[member] for member in group.members]
        number = self._properties[item.name]
        chosen: list[Chosen] = []
        first: Tale | None = None
        for place, one in enumerate(sets):
            strikes = [self._strike(name) for name in one.faults]
            words = " + ".join(one.faults) or "nothing fails"
            tale = None
            if place == 0 or self._spare:
                self._spare -= place > 0
                tale = self._tale(number, strikes, f'"{item.name}": {words}')
            first = first or tale
            about = touched(self._circuit, strikes)
            chosen.append(Chosen(words, one.label, about, "" if tale is None else tale.id))
        faults = [self._strike(name) for name in sets[0].faults]
        return Row(
            words=group_words(item, group),
            sets=tuple(chosen),
            tale=first,
            about=tuple(dict.fromkeys(one.words for one in faults if one.words != one.label)),
            untold=sum(not one.tale for one in chosen),
        )

    def _strike(self, name: str) -> Strike:
        return self._strikes[self._numbers[name]]

    def _tale(self, number: int, faults: Sequence[Strike], title: str) -> Tale:
        numbers = tuple(sorted(self._numbers[one.name] for one in faults))
        run = self._runs.cut_sets[number, numbers]
        with kept() as told:
            story = story_from(self._circuit, faults, number, run)
        self._told.stories.update(told.stories)
        return self.teller.of_story(story, title, bad=True)


def touched(circuit: Circuit, faults: Sequence[Strike]) -> Touched:
    """What is drawn of these faults: parts, supplies, and the lines whose tubes fail."""
    parts: dict[int, None] = {}
    supplies: dict[int, None] = {}
    lines: dict[int, None] = {}
    for fault in faults:
        if fault.part is not None:
            parts[fault.part] = None
        for effect in fault.effects:
            if isinstance(effect, TubeEffect):
                lines[circuit.tubes[effect.tube].line] = None
            elif isinstance(effect, SupplyEffect):
                supplies[effect.supply] = None
            else:
                parts.update(dict.fromkeys(_parts(circuit, effect)))
    return Touched(
        tuple(circuit.parts[part].name for part in parts),
        tuple(circuit.supplies[supply].name for supply in supplies),
        tuple(circuit.lines[line].name for line in lines),
    )


def _parts(circuit: Circuit, effect: Effect) -> Iterator[int]:
    if isinstance(effect, FaultEffect):
        if effect.element is not None:
            yield circuit.elements[effect.element].part
        if effect.hand is not None:
            yield circuit.hands[effect.hand].part
        yield from (circuit.ports[port].part for port in effect.ports)
