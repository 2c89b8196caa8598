"""All that differs between two circuits, whoever wrote them down and how."""

from __future__ import annotations

from verifier.changes.around import of_paths, of_surroundings
from verifier.changes.counterparts import Counterparts
from verifier.changes.difference import Difference
from verifier.changes.matching import Matching, match
from verifier.changes.parts import of_kinds, of_parts
from verifier.changes.routes import of_lines, of_routes
from verifier.model.circuit import Circuit


def compared(old: Circuit, new: Circuit) -> tuple[Counterparts, list[Difference]]:
    """Looks at the elaborated circuits, so layout, comments and the order of statements make no
    difference. Properties and assumptions are looked at in `statements`."""
    matching = match(old, new)
    between = Counterparts(old, new, matching)
    return between, differences(between, matching)


def differences(between: Counterparts, matching: Matching) -> list[Difference]:
    """In the order: parts, kinds, tubes, lines, supplies and surroundings, paths."""
    doubts = {doubt.old: doubt.others for doubt in matching.doubts}
    return [
        *of_parts(between, doubts),
        *of_kinds(between),
        *of_routes(between),
        *of_lines(between),
        *of_surroundings(between),
        *of_paths(between),
    ]
