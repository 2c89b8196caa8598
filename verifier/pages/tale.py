"""Stories for a page: their events, their sequence chart, and their moments for the player."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from msgspec import Struct

from verifier.model.circuit import Circuit, Network
from verifier.pages.chart import Chart, chart_of
from verifier.pages.frames import Frame, frames_of
from verifier.report.families import families
from verifier.report.result import Ending, Event, Story
from verifier.report.story import heading, labels_of
from verifier.simulation.movement import at_rest, demanded
from verifier.simulation.pressures import pressures
from verifier.studies.keeping import Told
from verifier.studies.names import element_name, line_names, line_of_end, spoken

Said = tuple[tuple[str, str], ...]


class Point(Struct, frozen=True):
    """One event. mark: what is said before it, "" for nothing.   air: words and names of lines."""

    label: str
    step: int
    by: str
    words: str
    cause: str
    air: tuple[tuple[str, str], ...]
    mark: str


class Tale(Struct, frozen=True):
    """frames: the start and the moment after each step.   said: of each, what stands how.
    bad: its end is what must not be.   circuit: that it is a run of, which may have faults woven
    in after what the design has.   after: so many steps were told elsewhere and are not told here.
    """

    id: str
    title: str
    heading: str
    points: tuple[Point, ...]
    chart: Chart
    outcome: str
    end: Ending
    frames: tuple[Frame, ...]
    said: tuple[Said, ...]
    bad: bool
    circuit: Circuit
    after: int = 0


class Teller:
    """Makes tales of one page, each with a name of its own: `name` and a number."""

    def __init__(self, stories: Callable[[Story], Told | None], name: str = "tale") -> None:
        self._stories = stories
        self._name = name
        self.tales: list[Tale] = []

    def of_story(
        self, story: Story, title: str, *, procedure: bool = False, bad: bool = False
    ) -> Tale:
        """The tale of a story whose run was kept. procedure: it reads as an operating procedure.
        bad: its end is what must not be.   Raises KeyError if the run was not kept."""
        told = self._stories(story)
        if told is None:
            raise KeyError(f"the run of a story was not kept: {title}")
        marks = {}
        if story.procedure_from is not None:
            marks[story.procedure_from] = "Now the procedure begins:"
        if story.loop_from is not None:
            marks[story.loop_from] = (
                "From here on it goes round, hands and surroundings standing still:"
            )
        return self.of_events(
            told,
            story.events,
            title,
            heading=heading(story, procedure)
            if story.events
            else "As everything stands at the start, before anything happens.",
            end=story.end,
            outcome=story.outcome,
            marks=marks,
            bad=bad,
        )

    def of_events(
        self,
        told: Told,
        events: Sequence[Event],
        title: str,
        *,
        heading: str,
        end: Ending,
        outcome: str,
        marks: dict[int, str],
        bad: bool,
        after: int = 0,
    ) -> Tale:
        """The tale of these events of a kept run."""
        circuit, run = told.circuit, told.run
        frames = frames_of(circuit, run)
        tale = Tale(
            id=f"{self._name}-{len(self.tales) + 1}",
            title=title,
            heading=heading,
            points=tuple(_points(events, marks)),
            chart=chart_of(
                circuit, frames, bad=bad, again=told.loop_from, begins=run.procedure_from
            ),
            outcome=outcome,
            end=end,
            frames=frames,
            said=tuple(said(circuit, frame, frames[0]) for frame in frames),
            bad=bad,
            circuit=circuit,
            after=after,
        )
        self.tales.append(tale)
        return tale


def _points(events: Sequence[Event], marks: dict[int, str]) -> Iterable[Point]:
    seen: set[int] = set()
    for label, event in zip(labels_of(tuple(events)), events, strict=True):
        first = event.step not in seen
        seen.add(event.step)
        air = (
            ("air now in", event.gained),
            ("no more air in", event.lost),
            ("in-between pressure in", event.between),
        )
        yield Point(
            label=label,
            step=event.step,
            by=event.by,
            words=event.words,
            cause=event.cause,
            air=tuple((words, ", ".join(names)) for words, names in air if names),
            mark=marks.get(event.step - 1, "") if first else "",
        )


def said(circuit: Circuit, frame: Frame, start: Frame) -> Said:
    """What a moment shows, in words: the same that the drawing tells."""
    air = {
        word: [v for v, one in enumerate(frame.air) if one == word]
        for word in ("high", "trapped high", "contested")
    }
    told = (
        ("Not as at the start", ", ".join(families(_moved(circuit, frame, start))) or "nothing"),
        ("Air in", ", ".join(families(_lines(circuit, frame, air["high"]))) or "no line"),
        (
            "Cut off with air inside",
            ", ".join(families(_lines(circuit, frame, air["trapped high"]))),
        ),
        (
            "In between, read either way",
            ", ".join(families(_lines(circuit, frame, air["contested"]))),
        ),
        *(
            (f"{network.medium.capitalize()} can run", "; ".join(_joined(network, groups)))
            for network, groups in zip(circuit.networks, frame.joined, strict=True)
        ),
        ("Still to move", ", ".join(families(restless(circuit, frame)))),
    )
    return tuple((words, names) for words, names in told if names)


def _joined(network: Network, groups: Iterable[tuple[int, ...]]) -> Iterable[str]:
    return (" with ".join(network.places[end] for end in group) for group in groups)


def _lines(circuit: Circuit, frame: Frame, volumes: Sequence[int]) -> tuple[str, ...]:
    """Lines, and ends of torn tubes that read otherwise than their line."""
    lines = {line.volume for line in circuit.lines}
    apart = [v for v in volumes if v in lines or frame.air[v] != _of_line(circuit, frame, v)]
    return line_names(circuit, apart)


def _of_line(circuit: Circuit, frame: Frame, volume: int) -> str:
    line = line_of_end(circuit, volume)
    return "" if line is None else frame.air[line]


def _moved(circuit: Circuit, frame: Frame, start: Frame) -> Iterable[str]:
    for number, switch in enumerate(circuit.switches):
        if frame.state.settings[number] != start.state.settings[number]:
            yield f"{switch.name} {spoken(switch.values[frame.state.settings[number]])}"
    for number, hand in enumerate(circuit.hands):
        if frame.state.hands[number] != start.state.hands[number]:
            held = "held" if frame.state.hands[number] else "no longer"
            yield f"{circuit.parts[hand.part].name} {held} {spoken(hand.label)}"
    for number, element in enumerate(circuit.elements):
        position = frame.state.positions[number]
        if position != start.state.positions[number]:
            name = element.doc if element.fault else element_name(circuit, number)
            yield f"{name} {spoken(element.positions[position])}"


def restless(circuit: Circuit, frame: Frame) -> list[str]:
    """Elements that must move, while hands and surroundings stand still."""
    if at_rest(circuit, frame.state):
        return []
    air = pressures(circuit, frame.state)
    return [
        element_name(circuit, number)
        for number, position in enumerate(frame.state.positions)
        if position not in demanded(circuit, frame.state, air, number, ())
    ]
