"""What a kind declares: its ports, elements, hands and surroundings, each name once."""

from __future__ import annotations

from dataclasses import dataclass, field

from verifier.diagnostics.span import Span
from verifier.model.mistakes import Mistakes, did_you_mean
from verifier.model.template import MEDIA, Medium
from verifier.syntax import tree

RESERVED = ("high", "low", "flow", "joined", "vapour", "vapour_joined", "worked")


@dataclass
class KindNames:
    """The names of one kind, numbered. A port of air and one of a medium may share a name."""

    kind: tree.Kind
    mistakes: Mistakes
    air: dict[str, bool] = field(default_factory=dict)  # name -> is an exhaust
    media: dict[Medium, dict[str, Span]] = field(
        default_factory=lambda: {medium: {} for medium in MEDIA}
    )
    elements: dict[str, tree.ElementItem] = field(default_factory=dict)
    hands: dict[str, tree.HandItem] = field(default_factory=dict)
    switches: dict[str, tree.Surroundings] = field(default_factory=dict)
    means: dict[str, tree.Means] = field(default_factory=dict)
    roles: list[str] = field(default_factory=list)
    faults: dict[str, tree.FaultItem] = field(default_factory=dict)

    def __post_init__(self) -> None:
        taken: dict[str, Span] = {}
        for item in self.kind.items:
            if isinstance(item, tree.Ports):
                self._ports(item)
            elif isinstance(item, tree.ElementItem):
                self._once(taken, item.name, item.span)
                self.elements.setdefault(item.name, item)
                self._names_once(item.positions, item.span, "position")
            elif isinstance(item, tree.HandItem):
                self._once(taken, item.name, item.span)
                self.hands.setdefault(item.name, item)
                if item.starts_on and not item.held:
                    told = f"hand `{item.name}` cannot start on: it acts for a moment only"
                    self.mistakes.add("E0608", item.span, told, hint="say `can be held`")
            elif isinstance(item, tree.Surroundings):
                self._once(taken, item.family.name, item.span)
                self.switches.setdefault(item.family.name, item)
                self._names_once(item.values, item.span, "value")
            elif isinstance(item, tree.Means):
                self._once(taken, item.name, item.span)
                self.means.setdefault(item.name, item)
            elif isinstance(item, tree.KindRole):
                self.roles.append(item.name)
            elif isinstance(item, tree.FaultItem):
                if item.name in self.faults:
                    self._twice(item.name, item.span, self.faults[item.name].span)
                self.faults.setdefault(item.name, item)
        self._exhausts()
        self._words_are_clear()

    def _ports(self, item: tree.Ports) -> None:
        for name in item.names:
            if item.medium is None:
                if name in self.air:
                    self._twice(name, item.span, None)
                self.air.setdefault(name, False)
            else:
                ports = self.media[item.medium]
                if name in ports:
                    self._twice(name, item.span, ports[name])
                ports.setdefault(name, item.span)

    def _exhausts(self) -> None:
        """`exhausts 3` marks a port named in `ports`, or adds it."""
        for item in self.kind.items:
            if isinstance(item, tree.Exhausts):
                for name in item.names:
                    if self.air.get(name):
                        self._twice(name, item.span, None)
                    self.air[name] = True

    def _once(self, taken: dict[str, Span], name: str, span: Span) -> None:
        if name in taken:
            self._twice(name, span, taken[name])
        if name in RESERVED:
            self.mistakes.add(
                "E0610", span, f"`{name}` is a word of the language; take another name"
            )
        taken.setdefault(name, span)

    def _names_once(self, names: tuple[str, ...], span: Span, what: str) -> None:
        seen: set[str] = set()
        for name in names:
            if name in seen:
                self.mistakes.add("E0301", span, f"{what} `{name}` is named twice")
            seen.add(name)

    def _twice(self, name: str, span: Span, first: Span | None) -> None:
        related = ((first, f"`{name}` is already declared here"),) if first else ()
        self.mistakes.add(
            "E0301", span, f"`{name}` is declared twice in kind `{self.kind.name}`", related=related
        )

    def _words_are_clear(self) -> None:
        """A `means` word that is also a position would give `WORD(part)` two meanings."""
        for word in self.means.values():
            for element in self.elements.values():
                if word.name in element.positions:
                    self.mistakes.add(
                        "E0301",
                        word.span,
                        f"`{word.name}` is already a position of `{element.name}`",
                        related=((element.span, f"`{word.name}` is a position here"),),
                    )

    # ---- numbering

    def air_port(self, name: str, span: Span) -> int | None:
        if name in self.air:
            return list(self.air).index(name)
        self.unknown_port(name, span)
        return None

    def unknown_port(self, name: str, span: Span) -> None:
        known = [*self.air, *self.media["liquid"], *self.media["vapour"]]
        self.mistakes.add(
            "E0601",
            span,
            f"kind `{self.kind.name}` has no port `{name}`",
            hint=did_you_mean(name, known),
        )

    def hand(self, name: str, span: Span) -> int | None:
        if name in self.hands:
            return list(self.hands).index(name)
        self.mistakes.add(
            "E0603",
            span,
            f"kind `{self.kind.name}` has no hand control `{name}`",
            hint=did_you_mean(name, self.hands),
        )
        return None

    def element(self, name: str, span: Span) -> int | None:
        if name in self.elements:
            return list(self.elements).index(name)
        self.mistakes.add(
            "E0602",
            span,
            f"kind `{self.kind.name}` has no element `{name}`",
            hint=did_you_mean(name, self.elements),
        )
        return None

    def position(self, element: tree.ElementItem, name: str, span: Span) -> int | None:
        if name in element.positions:
            return element.positions.index(name)
        self.mistakes.add(
            "E0602",
            span,
            f"`{element.name}` has no position `{name}`",
            related=((element.span, f"its positions: {', '.join(element.positions)}"),),
            hint=did_you_mean(name, element.positions),
        )
        return None
