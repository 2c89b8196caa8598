"""What a design says of faults, followed to the names of those that it means."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from verifier.diagnostics.suggest import suggest
from verifier.model.circuit import Circuit
from verifier.model.draft import Draft
from verifier.model.kinds import unknown_kind
from verifier.model.numbers import Env, KindName
from verifier.model.piping import ends_of
from verifier.model.references import Finder, Found, bindings
from verifier.model.strikes import JUNCTION, SUPPLY_FAULTS, TUBE_FAULTS, Strike
from verifier.model.things import (
    AssemblyThing,
    CauseThing,
    LineThing,
    PartThing,
    Scope,
    SupplyThing,
)
from verifier.syntax import tree

Chosen = list[str]
GROUPS = {"tubes": "tube", "supplies": "supply"}


class Choosing:
    """single: the faults of parts, tubes and supplies."""

    def __init__(self, draft: Draft, circuit: Circuit, single: Sequence[Strike]) -> None:
        self.draft = draft
        self.circuit = circuit
        self.single = {one.name: one for one in single}
        self._labels: dict[str, list[str]] = {}
        for one in single:
            self._labels.setdefault(_owner(one), []).append(one.label)

    def all_of(self, selections: Iterable[tree.Selection], scope: Scope, env: Env) -> Chosen:
        """Names of all that are meant, each once, in order; what has a mistake is told."""
        return list(dict.fromkeys(n for one in selections for n in self.of(one, scope, env)))

    def of(self, selection: tree.Selection, scope: Scope, env: Env) -> Chosen:
        if isinstance(selection, tree.FaultsAmong):
            return self._among(selection, env)
        return [name for one in self._things(selection, scope, env) for name in one]

    # ---- all of a sort

    def _among(self, selection: tree.FaultsAmong, env: Env) -> Chosen:
        found = list(self.single.values())
        if selection.group == "kind":
            kind = self._kind(selection, env)
            if kind is None:
                return []
            found = [one for one in found if one.part is not None and one.kind == kind]
        elif selection.group is not None:
            found = [one for one in found if one.kind == GROUPS[selection.group]]
        labels = dict.fromkeys(one.label for one in found)
        if selection.label is not None:
            found = [one for one in found if one.label == selection.label]
        if not found:
            self._none_such(selection, labels)
        return [one.name for one in found]

    def _kind(self, selection: tree.FaultsAmong, env: Env) -> str | None:
        name = selection.kind or ""
        given = env.get(name)
        name = given.name if isinstance(given, KindName) else name
        if name in self.draft.known_kinds:
            return name
        unknown_kind(name, selection.span, self.draft.known_kinds, self.draft.mistakes)
        return None

    def _none_such(self, selection: tree.FaultsAmong, labels: dict[str, None]) -> None:
        whose = {
            "kind": f"a part of kind `{selection.kind}`",
            "tubes": "a tube",
            "supplies": "a supply",
            None: "anything in this design",
        }[selection.group]
        if selection.label is None:
            message = f"there is no fault of {whose}"
        else:
            message = f"`{selection.label}` is no fault of {whose}"
        self.draft.mistakes.add(
            "E0901", selection.span, message, hint=near(selection.label or "", labels)
        )

    # ---- those of one thing

    def _things(self, selection: tree.FaultsOf, scope: Scope, env: Env) -> Iterator[Chosen]:
        spoken = (selection.subject, selection.end, _plain(selection.torn_at))
        references = [one for one in spoken if one is not None]
        if any(_binds(one) for one in references):
            base = Finder(self.draft, scope, env)
            for finder, _ in bindings(references, base):
                yield from self._found(selection, finder)
        else:
            yield from self._found(selection, Finder(self.draft, scope, env, ranges=True))

    def _found(self, selection: tree.FaultsOf, finder: Finder) -> Iterator[Chosen]:
        for found in finder.find(selection.subject) or ():
            thing = found.thing
            if selection.what == "tube":
                yield self._of_tubes(selection, found, finder)
            elif selection.what == "supply" and isinstance(thing, SupplyThing):
                yield self._labelled(selection, f"supply {thing.name}", SUPPLY_FAULTS)
            elif selection.what == "cause" and isinstance(thing, CauseThing):
                yield [f"cause {thing.name}"]
            elif selection.what == "part" and found.label is None and isinstance(thing, PartThing):
                labels = [one.name for one in thing.kind.faults]
                yield self._labelled(selection, thing.name, labels)
            elif isinstance(thing, AssemblyThing) and selection.what == "part":
                yield self._inside(selection, thing)
            else:
                self._wrong_sort(selection, found)

    def _labelled(self, selection: tree.FaultsOf, owner: str, labels: Iterable[str]) -> Chosen:
        if selection.label is None:
            return [f"{owner} {one}" for one in self._labels.get(owner, [])]
        name = f"{owner} {selection.label}"
        if name in self.single:
            return [name]
        if selection.label in labels and selection.what == "supply":
            hint = "its own switch does that already, at any time"
        else:
            hint = near(selection.label, labels)
        message = f"`{selection.label}` is no fault of `{owner}`"
        self.draft.mistakes.add("E0901", selection.span, message, hint=hint)
        return []

    def _inside(self, selection: tree.FaultsOf, thing: AssemblyThing) -> Chosen:
        """All of what is in an assembly: of its parts and its tubes."""
        if selection.label is not None:
            self.draft.mistakes.add(
                "E0404",
                selection.span,
                f"`{thing.name}` is an assembly: its parts have faults",
                hint=f"name a part of it, or say `all of {thing.name}`",
            )
            return []
        lines = {line.name for line in self.circuit.lines if line.name.startswith(f"{thing.name}.")}
        tubes = {k for line in self.circuit.lines if line.name in lines for k in line.tubes}
        owners = {f"tube {self.circuit.tubes[k].name}" for k in tubes}
        return [
            one.name
            for one in self.single.values()
            if one.name.startswith(f"{thing.name}.") or _owner(one) in owners
        ]

    def _of_tubes(self, selection: tree.FaultsOf, found: Found, finder: Finder) -> Chosen:
        thing = found.thing
        if not isinstance(thing, LineThing):
            self._wrong_sort(selection, found)
            return []
        tubes = [self.circuit.tubes[k] for k in self.circuit.lines[thing.index].tubes]
        if selection.end is not None:
            end = self._end(selection.end, finder)
            if end is None:
                return []
            tubes = [tube for tube in tubes if end in tube.ends]
            if not tubes:
                message = f"line `{thing.name}` has no tube at `{end}`"
                self.draft.mistakes.add("E0505", selection.end.span, message)
        names: Chosen = []
        for tube in tubes:
            owner = f"tube {tube.name}"
            if selection.torn_at is None or selection.label != "torn":
                names += self._labelled(selection, owner, TUBE_FAULTS)
            else:
                names += self._torn(selection, selection.torn_at, owner, finder)
        return names

    def _torn(
        self, selection: tree.FaultsOf, at: tree.Reference, owner: str, finder: Finder
    ) -> Chosen:
        end = self._end(at, finder)
        if end is None:
            return []
        name = f"{owner} torn at {end}"
        if name in self.single:
            return [name]
        self.draft.mistakes.add(
            "E0901",
            selection.span,
            f"`torn at {end}` is no fault of `{owner}`",
            hint=f"where it makes no difference which end comes off, say `{owner} torn`",
        )
        return []

    def _end(self, reference: tree.Reference, finder: Finder) -> str | None:
        """The name of an end of a tube."""
        if _plain(reference) is None:
            return JUNCTION
        found = finder.one(reference)
        ends = None if found is None else ends_of(found, self.draft)
        if not ends:
            return None
        if len(ends) > 1:
            self.draft.mistakes.add("E0406", reference.span, "one end belongs here")
            return None
        return ends[0].name

    def _wrong_sort(self, selection: tree.FaultsOf, found: Found) -> None:
        hints = {
            LineThing: f"a line fails by its tubes: say `tube {found.name}`",
            SupplyThing: f"say `supply {found.name}`",
            CauseThing: f"say `cause {found.name}`",
            PartThing: f"name the part alone: `{found.thing.name}`",
        }
        wanted = {
            "part": "a part",
            "tube": "a line",
            "supply": "a supply",
            "cause": "a common cause",
        }
        self.draft.mistakes.add(
            "E0404",
            found.span,
            f"`{found.name}` is no {wanted[selection.what].removeprefix('a ')}",
            hint=hints.get(type(found.thing), "parts, tubes, supplies and causes have faults"),
        )


def near(word: str, labels: Iterable[str]) -> str:
    """The label that was surely meant, or else all that there are."""
    known = list(dict.fromkeys(labels))
    guess = suggest(word, known) if word else None
    if guess is not None:
        return f"did you mean `{guess}`?"
    more = ", …" if len(known) > 12 else ""
    return f"there are: {', '.join(known[:12])}{more}" if known else ""


def _plain(reference: tree.Reference | None) -> tree.Reference | None:
    """None for the word that stands for the junction of a line's tubes."""
    if reference is None:
        return None
    first = reference.segments[0]
    alone = len(reference.segments) == 1 and not first.indices
    return None if alone and first.name == JUNCTION else reference


def _binds(reference: tree.Reference) -> bool:
    return any(
        index.variable is not None and index.high is not None
        for segment in reference.segments
        for index in segment.indices
    )


def _owner(strike: Strike) -> str:
    """What the fault is of: its name up to the label."""
    return strike.name[: strike.name.rindex(f" {strike.label}")]
