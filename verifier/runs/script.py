"""A run as it is written down (`.run`): what is done, what moves, what is expected. Names only; the
circuit comes in `verifier.runs.bind`."""

from __future__ import annotations

from typing import Literal

from msgspec import Struct, structs

from verifier.diagnostics.span import Span

NOWHERE = Span("", 1, 1, 1, 1)


class Does(Struct, frozen=True, tag="does", tag_field="is"):
    """Somebody works a hand control or a supply: `pull master`, `connect tractor`.

    verb: in words, for example "turn on".   briefly: the hand acts too short for anything to move
    because of it in the same moment (M5).
    """

    verb: str
    thing: str
    briefly: bool = False


class Works(Struct, frozen=True, tag="works", tag_field="is"):
    """`work knob twisted`, `release knob twisted`: a hand by its own label, where there is no verb
    for it or several hands are held."""

    thing: str
    label: str
    briefly: bool = False
    on: bool = True


class Sets(Struct, frozen=True, tag="sets", tag_field="is"):
    """`set road to moving`: a switch of the surroundings, supplies too."""

    switch: str
    value: str


class Moves(Struct, frozen=True, tag="moves", tag_field="is"):
    """`move vent[1] to open`: one element goes one position further. position: "" if it is not
    said, since there is only one way."""

    element: str
    position: str


class Leaks(Struct, frozen=True, tag="leaks", tag_field="is"):
    """`leak lift[1]`: what is cut off loses its air."""

    volume: str


class Strikes(Struct, frozen=True, tag="strikes", tag_field="is"):
    """`strike foot[1] stuck`. A fault that comes and goes may strike again."""

    fault: str


class PassesOff(Struct, frozen=True, tag="passes off", tag_field="is"):
    """`pass off foot[1] stuck`: a fault that comes and goes is gone for now."""

    fault: str


class Waits(Struct, frozen=True, tag="waits", tag_field="is"):
    """`wait`: all that must move does, until everything is at rest."""


Event = Does | Works | Sets | Moves | Leaks | Strikes | PassesOff | Waits


# ---- facts that can be seen or measured
class Stands(Struct, frozen=True, tag="stands", tag_field="is"):
    """`foot[1] open`, `tractor not present`, `stop pushed`: a position, a value, a hand held."""

    thing: str
    value: str
    met: bool = True


class Air(Struct, frozen=True, tag="air", tag_field="is"):
    """`air in lift[1]`: a gauge on a line or port shows air, none, or something in between."""

    shows: Literal["air", "no air", "in-between pressure"]
    where: str


class Blows(Struct, frozen=True, tag="blows", tag_field="is"):
    """`air blowing out of stop.3`: heard and felt at an open port."""

    port: str
    met: bool = True


class Flows(Struct, frozen=True, tag="flows", tag_field="is"):
    """`flow from tank[1] to coupling[1]`, or `vapour from … to …`."""

    medium: Literal["liquid", "vapour"]
    start: str
    end: str
    met: bool = True


class Rests(Struct, frozen=True, tag="rests", tag_field="is"):
    """`at rest`: nothing is left that must move."""

    met: bool = True


class Judged(Struct, frozen=True, tag="judged", tag_field="is"):
    """`"NAME" broken`: the run so far breaks a property of the design, or, `reached`, is what a
    *possible* asks for. instance: "" for any, else as verdicts tell it, `i = 1, j = 2`."""

    property: str
    instance: str = ""
    word: Literal["broken", "reached"] = "broken"
    met: bool = True


Fact = Stands | Air | Blows | Flows | Rests | Judged


class Expects(Struct, frozen=True, tag="expects", tag_field="is"):
    fact: Fact


class Begins(Struct, frozen=True, tag="begins", tag_field="is"):
    """`procedure`: here the procedure of a *recovers* begins."""


class Line(Struct, frozen=True):
    """together: in the same moment as the line before."""

    what: Event | Expects | Begins
    together: bool = False
    span: Span = NOWHERE


class Swap(Struct, frozen=True, tag="swap", tag_field="is"):
    one: str
    other: str


class Missing(Struct, frozen=True, tag="missing", tag_field="is"):
    tube: str


class Wrong(Struct, frozen=True):
    """`wrong pick[1].1 and pick[1].2 swapped`, `wrong tube lift[1] left off`: how the trailer is
    connected otherwise than the design says."""

    how: Swap | Missing
    span: Span = NOWHERE


class Script(Struct, frozen=True):
    """A whole run. design: name of the design that it is of, "" for any. design_span: where that is
    said."""

    title: str = ""
    design: str = ""
    wrong: Wrong | None = None
    lines: tuple[Line, ...] = ()
    design_span: Span = NOWHERE


def without_places(script: Script) -> Script:
    """The same wherever it was written."""
    wrong = script.wrong and structs.replace(script.wrong, span=NOWHERE)
    lines = tuple(structs.replace(line, span=NOWHERE) for line in script.lines)
    return structs.replace(script, wrong=wrong, lines=lines, design_span=NOWHERE)
