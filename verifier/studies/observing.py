"""What somebody says that he did and saw, as happenings of a trailer."""

from __future__ import annotations

import re
from collections.abc import Callable

from verifier.calm.script import Happening, Put, Seen
from verifier.calm.signs import Sign, place_of, signs_of
from verifier.calm.trailer import Trailer
from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.span import Span
from verifier.model.names import spoken
from verifier.model.strikes import JUNCTION
from verifier.runs.facts import Misread
from verifier.runs.looks import path_of
from verifier.runs.names import Names
from verifier.runs.read import read_fact, read_line
from verifier.runs.script import (
    Air,
    Blows,
    Does,
    Expects,
    Fact,
    Flows,
    Line,
    Script,
    Sets,
    Stands,
    Waits,
    Works,
)
from verifier.runs.verbs import verb_of

DID, SAW = "--did", "--saw"
_BACK = re.compile(
    r"^(?P<thing>\S+) (?:(?:goes|drops|falls|comes|jumps) back (?P<back>\S+)"
    r"|(?:stays|remains|is) (?P<stays>.+)"
    r"|(?:will not|does not|cannot|won't|doesn't) (?:stay|be (?:drawn|pulled|put)) (?P<gone>\S+)"
    r"|(?P<shows>shows)|(?:does not|doesn't) (?P<hidden>show))$"
)
_HOLE = re.compile(r"^(?P<no>no )?air blowing (?:out )?at (?P<spot>\S+)$")
_ANYWHERE = "no air blowing out anywhere"
_PLUG = re.compile(r"^plug (?:tube )?(?P<tube>\S.*)$")


class Said:
    """happenings: in order, after the usual ones.   things: those worked, or said to stand
    somewhere.   plugs: names of faults, tubes that were plugged before anything else."""

    def __init__(self, trailer: Trailer) -> None:
        self.trailer = trailer
        self.names = Names(trailer.design)
        self.happenings: list[Happening] = []
        self.parts: set[int] = set()
        self.switches: set[int] = set()
        self.plugs: list[str] = []

    def did(self, text: str) -> None:
        """Raises SourceError for what cannot be done."""
        plug = _PLUG.match(text.strip())
        if plug:
            self._plug(plug["tube"], text)
            return
        self._line(read_line(text, DID), text, DID)

    def saw(self, text: str) -> None:
        """Raises SourceError for what cannot be seen."""
        plain = " ".join(text.split())
        hole = _HOLE.match(plain)
        if plain == _ANYWHERE:
            for sign in self._anywhere():
                self.happenings.append(Seen(sign, (0,), plain))
        elif hole and hole["spot"] not in self.names.ports:
            self._hole(hole["spot"], int(not hole["no"]), text)
        else:
            told = self._in_other_words(plain)
            self._catch(lambda: self._fact(read_fact(told, SAW), plain), told, SAW)

    def run(self, script: Script, text: str, file: str) -> None:
        """The lines of a run. Raises SourceError for those that nobody can do or see."""
        for line in script.lines:
            self._line(line, text, file)

    # ---- what was done
    def _line(self, line: Line, text: str, file: str) -> None:
        words = _at(line.span, text)

        def take() -> None:
            match line.what:
                case Expects(fact=fact):
                    self._fact(fact, words.removeprefix("expect ").strip())
                case Does(verb=verb, thing=thing) if thing in self.names.supplies:
                    switch, value = self.names.supply_value(verb, thing, line.span)
                    self._switch(switch, value, words)
                case Does(verb=verb, thing=thing):
                    on = tuple(self._on())
                    hand, put = self.names.hand(verb, thing, on, line.span)
                    self._hand(hand, put, words)
                case Works(thing=thing, label=label, on=put):
                    self._hand(self.names.labelled(thing, label, line.span), put, words)
                case Sets(switch=name, value=value):
                    switch = self.names.switch(name, line.span)
                    self._switch(switch, self.names.value(switch, value, line.span), words)
                case Waits():
                    pass
                case _:
                    told = "this is nothing that somebody does or sees"
                    hint = "diagnosis wants what was done and seen; what moved in between it finds"
                    raise Misread("E1002", line.span, told, hint=hint)

        self._catch(take, text, file)

    def _on(self) -> list[bool]:
        first = self.trailer.own
        on = [hand.starts_on for hand in self.trailer.design.hands]
        for one in self.happenings:
            if isinstance(one, Put) and first <= one.thing < first + len(on):
                on[one.thing - first] = bool(one.value)
        return on

    def _hand(self, hand: int, put: bool, words: str) -> None:
        thing = self.trailer.own + hand
        self.parts.add(self.trailer.design.hands[hand].part)
        self.happenings.append(Put(thing, int(put), words))
        if put and not self.trailer.held[hand]:
            self.happenings.append(Put(thing, 0, ""))

    def _switch(self, switch: int, value: int, words: str) -> None:
        self.switches.add(switch)
        thing = self.trailer.own + len(self.trailer.design.hands) + switch
        self.happenings.append(Put(thing, value, words))

    def _plug(self, tube: str, text: str) -> None:
        design = self.trailer.design
        names = {one.name: f"tube {one.name} blocked" for one in design.tubes}
        for line in design.lines:
            if len(line.tubes) == 1:
                names.setdefault(line.name, f"tube {design.tubes[line.tubes[0]].name} blocked")
        for one in design.tubes:
            (end, *_) = [end for end in one.ends if end != JUNCTION]
            names.setdefault(end, f"tube {one.name} blocked")
        if tube not in names:
            raise _mistake("E1006", text, DID, f"there is no tube `{tube}`")
        if self.happenings:
            told = "a tube is plugged before anything is done, while there is no air"
            raise _mistake("E1004", text, DID, told)
        if names[tube] not in self.trailer.fault:
            raise _mistake("E1006", text, DID, f"`{tube}` is a tube that cannot be plugged")
        self.plugs.append(names[tube])

    # ---- what was seen
    def _fact(self, fact: Fact, words: str) -> None:
        design, names = self.trailer.design, self.names
        nowhere = Span(SAW, 1, 1, 1, 2)
        match fact:
            case Stands(thing=thing, value=value, met=met):
                self._stands(thing, value, met, words)
            case Air(shows=shows, where=where):
                sign = Sign(f"gauge on {where}", gauge=names.volume(where, nowhere))
                values = {"air": (1,), "no air": (0,), "in-between pressure": (0, 1)}[shows]
                self.happenings.append(Seen(sign, values, words))
            case Blows(port=port, met=met):
                number = names.port(port, nowhere)
                if design.ports[number].state != "atmosphere":
                    told = f"no air can be seen to blow out of `{port}`"
                    raise Misread("E1007", nowhere, told, hint=f"say `air blowing out at {port}`")
                # Where a fault can close the port, this is the side that is open.
                outside = design.ports[number].volume
                sign = Sign(f"air blowing out of {port}", volume=outside)
                self.happenings.append(Seen(sign, (int(met),), words))
            case Flows(medium=medium, start=start, end=end, met=met):
                path = path_of(design, fact, nowhere)
                sign = Sign(f"{medium} from {start} to {end}", paths=(path,))
                self.happenings.append(Seen(sign, (int(met),), words))
            case _:
                told = "this cannot be seen"
                hint = (
                    "say where something stands, where air or product comes out, what a gauge reads"
                )
                raise Misread("E1002", nowhere, told, hint=hint)

    def _stands(self, thing: str, value: str, met: bool, words: str) -> None:
        nowhere = Span(SAW, 1, 1, 1, 2)
        design, names = self.trailer.design, self.names
        if thing in names.switches or thing in names.supplies:
            switch = names.switch(thing, nowhere)
            place = names.value(switch, value, nowhere)
            self.switches.add(switch)
            number = self.trailer.own + len(design.hands) + switch
            sign, count = Sign(thing, element=number), len(design.switches[switch].values)
        else:
            number = names.element(thing, nowhere)
            place = names.position(number, value, nowhere)
            self.parts.add(design.elements[number].part)
            sign, count = place_of(design, number), len(design.elements[number].positions)
        values = (place,) if met else tuple(k for k in range(count) if k != place)
        self.happenings.append(Seen(sign, values, words))

    def _hole(self, spot: str, value: int, text: str) -> None:
        if spot not in self.trailer.spots.values():
            told = f"no fault that is considered lets air out at `{spot}`"
            raise _mistake("E1006", text, SAW, told)
        self.happenings.append(Seen(Sign(f"air at {spot}", spot=spot), (value,), text))

    def _anywhere(self) -> list[Sign]:
        return [one for one in signs_of(self.trailer.circuit) if one.volume is not None]

    def _in_other_words(self, text: str) -> str:
        """`master goes back in`, `pick[1] will not stay out`, `lamp shows` as facts."""
        met = _BACK.match(text)
        if met is None:
            return text
        thing = met["thing"]
        if met["back"]:
            return f"{thing} {met['back']}"
        if met["stays"]:
            return f"{thing} {met['stays']}"
        if met["gone"]:
            return f"{thing} not {met['gone']}"
        return f"{thing} {'not ' if met['hidden'] else ''}showing"

    def _catch(self, take: Callable[[], None], text: str, file: str) -> None:
        try:
            take()
        except Misread as mistake:
            found = mistake.diagnostic
            span = found.span if file not in (DID, SAW) else Span(file, 1, 1, 1, len(text) + 1)
            again = Diagnostic(span, found.code, found.message, found.related, found.hint)
            raise SourceError((again,), {file: text}) from None


def _at(span: Span, text: str) -> str:
    """The words of one line."""
    lines = text.split("\n")
    number = span.line
    line = lines[number - 1] if 0 < number <= len(lines) else text
    return line.split("#")[0].strip()


def _mistake(code: str, text: str, file: str, told: str) -> SourceError:
    found = Diagnostic(Span(file, 1, 1, 1, max(2, len(text) + 1)), code, told)
    return SourceError((found,), {file: text})


def put_words(trailer: Trailer, put: Put) -> str:
    """How one says that it is done."""
    design = trailer.design
    thing = put.thing - trailer.own
    if thing < len(design.hands):
        hand = design.hands[thing]
        name = design.parts[hand.part].name
        verb = verb_of(hand.label) or f"work {spoken(hand.label)}"
        held = trailer.held[thing]
        if put.value:
            return f"{verb} {name}{' and keep it so' if held else ''}"
        return f"let go of {name}" if held else ""
    switch = design.switches[thing - len(design.hands)]
    for supply in design.supplies:
        if supply.switch == thing - len(design.hands):
            value = switch.values[put.value]
            return {
                "present": f"connect {supply.name}",
                "absent": f"disconnect {supply.name}",
                "weak": f"weaken {supply.name}",
            }[value]
    return f"set {switch.name} to {spoken(switch.values[put.value])}"
