"""Conditions written in a design, over the elaborated circuit (Q1).

A property speaks of volumes (reader `line NAME`), an assumption of hands and surroundings only,
and `worked by` of the positions, hands, switches and pressures that act on a part.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from verifier.diagnostics.span import Span
from verifier.model.circuit import HandControl, Volume
from verifier.model.condition import All, Any, AtRest, Condition, Hand, High, Path, Setting
from verifier.model.draft import Draft
from verifier.model.meanings import place_of, settings_of, word_on_part
from verifier.model.mistakes import did_you_mean
from verifier.model.movement import Stamp, setting
from verifier.model.networks import Networks
from verifier.model.numbers import Env
from verifier.model.piping import ends_of
from verifier.model.quantifiers import assignments
from verifier.model.references import Finder, Found
from verifier.model.sharing import Shared
from verifier.model.simplify import FALSE, TRUE, Atom, all_of, any_of, atoms, negate
from verifier.model.template import Medium
from verifier.model.things import LineThing, PartThing, Scope, SupplyThing, SwitchThing
from verifier.syntax import tree

PATHS: dict[str, tuple[Medium, bool]] = {
    "flow": ("liquid", True),
    "joined": ("liquid", False),
    "vapour": ("vapour", True),
    "vapour_joined": ("vapour", False),
}


@dataclass(frozen=True, slots=True)
class Voice:
    """Who speaks: that decides what may be spoken of. `part` is the part that is worked."""

    speaks: Literal["property", "assumption", "acceptance", "worked", "action"]
    part: str = ""


NOWHERE = -1


class Sentence:
    """The conditions of one statement. `of` reads one with these values of its variables; what many
    instances have in common is read once."""

    def __init__(self, conditions: Conditions, scope: Scope, voice: Voice) -> None:
        self.scope = scope
        self.voice = voice
        reading: Shared[tree.Expression, Condition]
        reading = Shared(lambda one, env: conditions.read_in(self, one, env))
        self.of = reading.of
        self._conditions = conditions
        self._nodes: dict[Medium, Shared[tree.Reference, int]] = {}

    def node(self, reference: tree.Reference, env: Env, medium: Medium) -> int:
        """As `Conditions.node`."""
        nodes = self._nodes.get(medium)
        if nodes is None:
            conditions, draft = self._conditions, self._conditions.draft
            nodes = self._nodes[medium] = Shared(
                lambda one, env: conditions.node(one, medium, Finder(draft, self.scope, env))
            )
        return nodes.of(reference, env)


@dataclass(eq=False)
class Conditions:
    """Reads conditions once volumes, networks and the numbering of parts are known."""

    draft: Draft
    volumes: tuple[Volume, ...]
    of_port: list[int]
    networks: Networks
    hands: tuple[HandControl, ...]

    def sentence(self, scope: Scope, voice: Voice) -> Sentence:
        """Reads the conditions of one statement, for all its instances."""
        return Sentence(self, scope, voice)

    def read(self, expression: tree.Expression, scope: Scope, env: Env, voice: Voice) -> Condition:
        """The condition; a mistake is told and read as false."""
        return self.sentence(scope, voice).of(expression, env)

    def read_in(self, sentence: Sentence, expression: tree.Expression, env: Env) -> Condition:
        """As `read`; what the expression is made of is read by the sentence."""
        inner, scope, voice = sentence.of, sentence.scope, sentence.voice
        if isinstance(expression, tree.If):
            return any_of((negate(inner(expression.when, env)), inner(expression.then, env)))
        if isinstance(expression, tree.And | tree.Or):
            return self.joined(
                [inner(one, env) for one in expression.of], isinstance(expression, tree.And)
            )
        if isinstance(expression, tree.Negated):
            return negate(inner(expression.of, env))
        if isinstance(expression, tree.Quantified):
            chosen = assignments(expression.binders, (expression.of,), scope, env, self.draft)
            parts = [inner(expression.of, one) for one in chosen or ()]
            return self.joined(parts, expression.every)
        self.draft.budget.work(1, "conditions")
        finder = Finder(self.draft, scope, env)
        if isinstance(expression, tree.Word) and expression.name in PATHS:
            found = self._path(expression, env, sentence)
        elif isinstance(expression, tree.Word):
            found = self._word(expression, finder, voice)
        elif isinstance(expression, tree.Is):
            found = self._is(expression, finder)
        elif isinstance(expression, tree.Rest):
            found = AtRest()
        else:
            told = "by hand" if isinstance(expression, tree.ByHand) else "worked"
            self.draft.mistakes.add(
                "E0711",
                expression.span,
                f"`{told}` belongs into a kind",
                hint="in a design name the part, for example `pressed(stop)`",
            )
            return FALSE
        return self._allowed(found, expression.span, voice)

    def joined(self, parts: list[Condition], every: bool) -> Condition:
        """All of the parts, or any of them."""
        whole = all_of(parts) if every else any_of(parts)
        if isinstance(whole, All | Any) and len(whole.of) > len(parts):
            # Parts that were made once may be put into many wholes.
            self.draft.budget.work(len(whole.of), "conditions")
        return whole

    # ---- words

    def _word(self, word: tree.Word, finder: Finder, voice: Voice) -> Condition:
        if self._miscounted(word, 1):
            return FALSE
        found = finder.one(word.arguments[0])
        if found is None:
            return FALSE
        if word.name in ("high", "low"):
            high = self._high(found, voice)
            return high if word.name == "high" else negate(high)
        if isinstance(found.thing, PartThing):
            return word_on_part(
                word, found, found.thing, self.stamp(found.thing, voice), self.draft
            )
        hint = ""
        if isinstance(found.thing, SwitchThing):
            hint = f"write `{found.name} is {word.name}`"
        elif isinstance(found.thing, LineThing):
            hint = did_you_mean(word.name, ("high", "low"))
        self.draft.mistakes.add(
            "E0701", word.span, f"the word `{word.name}` says nothing of `{found.name}`", hint=hint
        )
        return FALSE

    def _high(self, found: Found, voice: Voice) -> Condition:
        if isinstance(found.thing, LineThing):
            return self._reading(found.thing.index, voice)
        if isinstance(found.thing, SupplyThing):
            self.draft.mistakes.add(
                "E0404",
                found.span,
                f"`{found.name}` is a supply, not a line or a port",
                hint=f"write `{found.name} is present`",
            )
            return FALSE
        ends = ends_of(found, self.draft)
        if ends is None:
            return FALSE
        numbers = {self.of_port[end.port] for end in ends if end.port is not None}
        if len(numbers) != 1:
            told = f"the ends that `{found.name}` stands for are not on one line"
            self.draft.mistakes.add("E0404", found.span, told)
            return FALSE
        return self._reading(numbers.pop(), voice, ends[0].port if len(ends) == 1 else None)

    def _reading(self, volume: int, voice: Voice, port: int | None = None) -> Condition:
        return High(volume, self.reader_of(volume, voice), port)

    def reader_of(self, volume: int, voice: Voice) -> str:
        """One reading per volume and condition; a worked part reads each volume once."""
        of = self.volumes[volume]
        if voice.speaks == "worked":
            return f"{voice.part} worked by {of.name}"
        return f"port {of.name}" if of.line is None else f"line {of.name}"

    def _miscounted(self, word: tree.Word, wanted: int) -> bool:
        if len(word.arguments) != wanted:
            self.draft.mistakes.add(
                "E0712",
                word.span,
                f"`{word.name}` speaks of {wanted} thing{'s' if wanted > 1 else ''}, "
                f"not of {len(word.arguments)}",
            )
        return len(word.arguments) != wanted

    def _path(self, word: tree.Word, env: Env, sentence: Sentence) -> Condition:
        if self._miscounted(word, 2):
            return FALSE
        medium, directed = PATHS[word.name]
        start = sentence.node(word.arguments[0], env, medium)
        end = NOWHERE if start == NOWHERE else sentence.node(word.arguments[1], env, medium)
        if end == NOWHERE:
            return FALSE
        return TRUE if start == end else Path(self.networks.index[medium], start, end, directed)

    def node(self, reference: tree.Reference, medium: Medium, finder: Finder) -> int:
        """The number of a place or port in the network of the medium; NOWHERE after a mistake."""
        found = finder.one(reference)
        place = None if found is None else place_of(found, medium, self.draft)
        if found is None or place is None:
            return NOWHERE
        network = self.networks.drafts[medium]
        if place not in network.places and not network.broken:
            self.draft.mistakes.add(
                "E0713",
                found.span,
                f"`{found.name}` stands in no chain of {medium}",
                hint=f"say where it is: `{medium} {found.name} - …`",
            )
        return network.places.get(place, NOWHERE)

    # ---- X is VALUE

    def _is(self, expression: tree.Is, finder: Finder) -> Condition:
        found = finder.one(expression.subject)
        if found is None:
            return FALSE
        thing = found.thing
        if isinstance(thing, SwitchThing):
            if expression.value in thing.values:
                value = thing.values.index(expression.value)
                return setting(thing.index, (value,), len(thing.values))
            self._unknown_value(expression, found, thing.values, thing.span)
            return FALSE
        if isinstance(thing, PartThing):
            choices = settings_of(thing, found.label)
            matching = [c for name, c in choices if name == expression.value]
            if len(matching) == 1:
                return matching[0]
            if len(matching) > 1:
                told = f"`{expression.value}` may be said of several elements of `{thing.name}`"
                hint = f"name the element: `{thing.name}.{thing.kind.elements[0].name} is …`"
                self.draft.mistakes.add("E0702", expression.span, told, hint=hint)
                return FALSE
            if choices:
                names = tuple(name for name, _ in choices)
                self._unknown_value(expression, found, names, thing.kind.span)
                return FALSE
        self.draft.mistakes.add("E0404", found.span, f"`{found.name}` has no position and no value")
        return FALSE

    def _unknown_value(
        self, expression: tree.Is, found: Found, values: tuple[str, ...], span: Span
    ) -> None:
        related = ((span, f"it can be: {', '.join(dict.fromkeys(values))}"),) if values else ()
        self.draft.mistakes.add(
            "E0703",
            expression.span,
            f"`{found.name}` is never `{expression.value}`",
            related=related,
            hint=did_you_mean(expression.value, values, f"{found.name} is "),
        )

    # ---- what may be spoken of

    def _allowed(self, condition: Condition, span: Span, voice: Voice) -> Condition:
        for atom in atoms(condition):
            code, told = self._objection(atom, voice)
            if code:
                self.draft.mistakes.add(code, span, told)
                return FALSE
        return condition

    def _objection(self, atom: Atom, voice: Voice) -> tuple[str, str]:
        if voice.speaks == "property":
            if isinstance(atom, Hand) and not self.hands[atom.hand].held:
                name = self.hands[atom.hand].name
                return "E0704", (
                    f"`{name}` acts for a moment only: a property cannot see it; "
                    "speak of what it moved"
                )
        elif voice.speaks == "acceptance":
            held = isinstance(atom, Hand) and self.hands[atom.hand].held
            if not held and not isinstance(atom, Setting):
                return "E0714", (
                    "what stands still after an event are held hands and surroundings: "
                    "a race is accepted for these only"
                )
        elif voice.speaks == "assumption":
            if not isinstance(atom, Hand | Setting):
                return "E0705", (
                    "an assumption may speak of hands and surroundings only, "
                    "not of positions, pressure or paths"
                )
        elif isinstance(atom, Path | AtRest):
            return "E0711", "a part is worked by positions, hands, surroundings and pressures only"
        return "", ""

    # ---- worked by

    def stamp(self, part: PartThing, voice: Voice) -> Stamp:
        def reader(_: str, volume: int) -> str:
            return self.reader_of(volume, voice)

        return Stamp(part, self.of_port, reader, self.worked)

    def moving_stamp(self, part: PartThing) -> Stamp:
        """For the part's own moves: each port is a reader of its own (P5)."""
        port_reader: Callable[[str, int], str] = lambda port, _: port  # noqa: E731
        return Stamp(part, self.of_port, port_reader, self.worked)

    def worked(self, part: PartThing) -> Condition:
        """The condition of the part's `worked by`, read once."""
        if part.worked is not None:
            return part.worked
        expression = part.statement.worked_by
        if expression is None:
            return FALSE
        if part.working:
            self.draft.mistakes.add(
                "E0515", part.span, f"what works `{part.name}` is in the end `{part.name}` itself"
            )
            return FALSE
        part.working = True
        part.worked = self.read(expression, part.scope, part.env, Voice("worked", part.name))
        part.working = False
        return part.worked
