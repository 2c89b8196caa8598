"""What a change touches of that on which proofs rest (Q13).

A property whose old proof rests on nothing that changed would hold by it still; one that rests on
what changed was proved anew for another reason than before, or breaks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from verifier.changes.counterparts import Counterparts
from verifier.changes.difference import Difference, What
from verifier.report.comparison import CoreTold
from verifier.report.result import Core, DesignResult, PropertyResult
from verifier.studies.cores import with_cores
from verifier.studies.study import Study

# What makes a part behave otherwise; where its ports lead is a matter of tubes.
_BEHAVES: tuple[What, ...] = ("part removed", "part swapped", "kind altered", "start")

End = tuple[str, object]


def core_changes(
    between: Counterparts,
    differences: Sequence[Difference],
    names: Mapping[str, str],
    before: tuple[Study, Sequence[PropertyResult]],
    after: tuple[Study, Sequence[PropertyResult]],
) -> Iterator[CoreTold]:
    """Of each property that held before and is still asked. names: of properties, the old one of
    each that is there now. Raises EvidenceError when a core does not stand."""
    changing = _Changing(between, differences)
    olds = {(item.free, item.name): item.core for item in _cored(*before)}
    for item in _cored(*after):
        old = olds.get((item.free, item.name if item.free else names.get(item.name, "")))
        if old is None:
            continue
        now = None if item.core is None else _members(item.core)
        then = changing.told(old)
        yield CoreTold(
            item.name,
            changing.touched(old),
            () if now is None else tuple(name for name in now if name not in then),
            () if now is None else tuple(name for name in then if name not in now),
            len(then),
        )


def _cored(study: Study, properties: Sequence[PropertyResult]) -> Sequence[PropertyResult]:
    bare = DesignResult("", study.circuit.name, "", "", "holds", tuple(properties), ())
    return with_cores(study, bare).properties


def _members(core: Core) -> list[str]:
    """Parts, then tubes as such, those that only have to be tight with the others."""
    parts = dict.fromkeys((*core.parts, *core.tight_parts))
    tubes = dict.fromkeys(f"tube {name}" for name in (*core.tubes, *core.tight_tubes))
    return [*parts, *tubes]


class _Changing:
    """Members of old cores in the new design's words, and which of them are not what they were."""

    def __init__(self, between: Counterparts, differences: Sequence[Difference]) -> None:
        old, new = between.old, between.new
        self._parts = {old.parts[a].name: new.parts[b].name for a, b in between.parts.items()}
        self._changed = {name for one in differences if one.what in _BEHAVES for name in one.parts}
        there = {self._ends_now(between, k): tube.name for k, tube in enumerate(new.tubes)}
        self._tubes = {
            tube.name: there.get(self._ends_then(between, k)) for k, tube in enumerate(old.tubes)
        }

    def told(self, core: Core) -> list[str]:
        """The core's members, by their names of now where they have one."""
        return [self._name(member) for member in _members(core)]

    def touched(self, core: Core) -> tuple[str, ...]:
        return tuple(self._name(one) for one in _members(core) if self._is_touched(one))

    def _name(self, member: str) -> str:
        name = member.removeprefix("tube ")
        if name == member:
            return self._parts.get(name, name)
        return f"tube {self._tubes.get(name) or name}"

    def _is_touched(self, member: str) -> bool:
        name = member.removeprefix("tube ")
        if name == member:
            return name not in self._parts or self._parts[name] in self._changed
        return self._tubes.get(name) is None

    @staticmethod
    def _ends_then(between: Counterparts, tube: int) -> frozenset[End]:
        """Both ends of an old tube in the new design: a port, a supply, a junction of a line."""
        old = between.old
        ports = {port.name: k for k, port in enumerate(old.ports)}
        line = old.lines[old.tubes[tube].line]
        found: set[End] = set()
        for end in old.tubes[tube].ends:
            if end in ports:
                found.add(("port", between.ports.get(ports[end], f"gone: {end}")))
            elif end == "junction":
                found.add(("junction", between.volumes.get(line.volume, "gone")))
            else:
                found.add(("supply", end))
        return frozenset(found)

    @staticmethod
    def _ends_now(between: Counterparts, tube: int) -> frozenset[End]:
        new = between.new
        ports = {port.name: k for k, port in enumerate(new.ports)}
        line = new.lines[new.tubes[tube].line]
        return frozenset(
            ("port", ports[end])
            if end in ports
            else ("junction", line.volume)
            if end == "junction"
            else ("supply", end)
            for end in new.tubes[tube].ends
        )
