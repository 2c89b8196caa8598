"""Networks of liquid and of vapour: places, ports of parts, and the ways between them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import pairwise

from verifier.model.circuit import Network, Way
from verifier.model.draft import Draft
from verifier.model.mistakes import did_you_mean
from verifier.model.movement import where_of
from verifier.model.references import Finder, Found, bindings
from verifier.model.template import MEDIA, Medium
from verifier.model.things import PartThing, PlaceThing, PortThing, Scope
from verifier.syntax import tree


@dataclass(eq=False)
class MediumDraft:
    """The network of one medium in the making. `parts`: those that stand in a chain."""

    places: dict[str, int] = field(default_factory=dict)
    ways: dict[Way, None] = field(default_factory=dict)
    parts: dict[int, None] = field(default_factory=dict)
    broken: bool = False

    def node(self, name: str) -> int:
        return self.places.setdefault(name, len(self.places))


@dataclass(frozen=True)
class Networks:
    """All networks that have places. `index` gives a medium's place in `circuit.networks`."""

    networks: tuple[Network, ...]
    index: dict[Medium, int]
    drafts: dict[Medium, MediumDraft]


def networks(draft: Draft) -> Networks:
    """Read every chain, and the ways inside the parts that stand in one."""
    drafts = {medium: MediumDraft() for medium in MEDIA}
    for scope, statement in draft.statements():
        if isinstance(statement, tree.Chain):
            _chain(statement, scope, draft, drafts[statement.medium])
    present = [medium for medium in MEDIA if drafts[medium].places]
    return Networks(
        tuple(
            Network(medium, tuple(drafts[medium].places), tuple(drafts[medium].ways))
            for medium in present
        ),
        {medium: number for number, medium in enumerate(present)},
        drafts,
    )


def _chain(statement: tree.Chain, scope: Scope, draft: Draft, medium: MediumDraft) -> None:
    base = Finder(draft, scope, scope.env, ranges=True)
    loose = [link for link in statement.links if _has_loose_range(link)]
    if len(loose) > 1:
        draft.mistakes.add(
            "E0406",
            loose[1].span,
            "two ranges in one chain: which of them belong together?",
            hint="name the index, `tank[i in 1..3] - foot[i]`",
        )
        medium.broken = True
        return
    before = draft.mistakes.count
    for finder, _ in bindings(statement.links, base):
        links = [_link(link, finder, statement.medium, draft) for link in statement.links]
        known = [link for link in links if link]
        if len(known) < len(links):
            medium.broken = True
            continue
        for choice in _choices(known):
            _join(choice, statement.medium, medium, draft)
    medium.broken = medium.broken or draft.mistakes.count > before


def _has_loose_range(reference: tree.Reference) -> bool:
    return any(
        index.high is not None and index.variable is None
        for segment in reference.segments
        for index in segment.indices
    )


def _choices(links: list[list[Found]]) -> Iterable[list[Found]]:
    """One chain for each member of the single range that a chain may have."""
    widest = max(len(link) for link in links)
    for number in range(widest):
        yield [link[number] if len(link) > 1 else link[0] for link in links]


def _link(link: tree.Reference, finder: Finder, medium: Medium, draft: Draft) -> list[Found] | None:
    found = finder.find(link)
    if found is None:
        return None
    result = []
    for one in found:
        inner = through_ports(one, draft, ())
        if inner is None or not _is_node(inner, medium, draft):
            return None
        result.append(inner)
    return result


def through_ports(found: Found, draft: Draft, seen: tuple[str, ...]) -> Found | None:
    """An assembly port in a chain stands for the one place or port that it lists."""
    thing = found.thing
    if not isinstance(thing, PortThing):
        return found
    finder = Finder(draft, thing.scope, thing.scope.env, ranges=True)
    inner = [one for end in thing.statement.ends for one in finder.find(end) or []]
    if len(inner) != 1 or thing.name in seen:
        draft.mistakes.add(
            "E0516",
            found.span,
            f"`{found.name}` stands for {len(inner)} ends; a chain needs one",
            related=((thing.span, "the port is here"),),
        )
        return None
    one = inner[0]
    moved = Found(one.thing, one.label, found.span)
    return through_ports(moved, draft, (*seen, thing.name))


def _is_node(found: Found, medium: Medium, draft: Draft) -> bool:
    thing = found.thing
    if isinstance(thing, PlaceThing):
        return True
    if not isinstance(thing, PartThing):
        told = f"`{found.name}` is neither a place nor a part: no {medium} passes there"
        draft.mistakes.add("E0516", found.span, told)
        return False
    ports = thing.kind.medium_ports(medium)
    if found.label is None and ports:
        return True
    if found.label in ports:
        return True
    if found.label is None:
        told = f"`{thing.name}`, a {thing.kind.name}, has no ports for {medium}"
        hint = ""
    else:
        told = f"`{found.name}` is no port for {medium}"
        hint = did_you_mean(found.label, ports, f"{thing.name}.")
    draft.mistakes.add("E0516", found.span, told, hint=hint)
    return False


def _join(chain: list[Found], name: Medium, medium: MediumDraft, draft: Draft) -> None:
    """Enter the ways of one chain: in its parts as their kinds say, between them always open."""
    nodes: list[tuple[int, int]] = []
    for place, found in enumerate(chain):
        ends = _entry_and_exit(found, place, len(chain), name, medium, draft)
        if ends is None:
            return
        nodes.append(ends)
    for (_, left), (right, _) in pairwise(nodes):
        if left != right:
            medium.ways.setdefault(Way(None, left, right, False, ()))


def _entry_and_exit(
    found: Found, place: int, length: int, name: Medium, medium: MediumDraft, draft: Draft
) -> tuple[int, int] | None:
    thing = found.thing
    if not isinstance(thing, PartThing):
        node = medium.node(thing.name)
        return node, node
    _enter_part(thing, name, medium)
    ports = thing.kind.medium_ports(name)
    if found.label is not None:
        node = medium.node(f"{thing.name}.{found.label}")
        return node, node
    within = 0 < place < length - 1
    if len(ports) > 2 or (within and len(ports) < 2):
        listed = ", ".join(f"`{thing.name}.{port}`" for port in ports)
        hint = f"end one chain at a port and begin another: {listed}" if len(ports) > 2 else ""
        draft.mistakes.add(
            "E0509",
            found.span,
            f"`{thing.name}` has {len(ports)} ports for {name}: a chain through it is not clear",
            hint=hint,
        )
        return None
    joined = any({leg.start, leg.end} == {0, 1} for leg in thing.kind.medium_ways(name))
    if within and not joined:
        draft.mistakes.add(
            "E0509",
            found.span,
            f"`{thing.name}`, a {thing.kind.name}, never passes {name} "
            f"from `{ports[0]}` to `{ports[1]}`",
            related=((thing.kind.span, "the kind is here"),),
        )
        return None
    return medium.node(f"{thing.name}.{ports[0]}"), medium.node(f"{thing.name}.{ports[-1]}")


def _enter_part(part: PartThing, name: Medium, medium: MediumDraft) -> None:
    if part.index in medium.parts:
        return
    medium.parts[part.index] = None
    nodes = [medium.node(f"{part.name}.{port}") for port in part.kind.medium_ports(name)]
    for leg in part.kind.medium_ways(name):
        where = where_of(part, leg)
        if where is not None:
            way = Way(part.index, nodes[leg.start], nodes[leg.end], leg.one_way, where)
            medium.ways.setdefault(way)
