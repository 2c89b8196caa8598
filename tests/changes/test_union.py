"""Two circuits drawn as one: what is kept, what is new, what is gone."""

from __future__ import annotations

from itertools import pairwise

from verifier.changes.circuits import compared
from verifier.changes.union import Union, union
from verifier.drawing.drawing import lay_out
from verifier.model.circuit import Circuit
from verifier.model.load import load_text

OLD = """
design lamp "A lamp behind a button"
use standard
supply tractor
part button : push_button_3_2
part lamp : visual_indicator
part other : visual_indicator
line air : tractor, button.1
line shown : button.2, lamp.in, other.in
"""


def circuit(text: str) -> Circuit:
    return load_text(text).circuit


def both(old: str, new: str) -> Union:
    return union(compared(circuit(old), circuit(new))[0])


def lines(told: Union, volumes: tuple[int, ...]) -> list[set[str]]:
    """The ports that each of these lines joins, its own and those that it is joined to besides."""
    ports = told.circuit.ports
    drawn = [ports[k] for part in told.circuit.parts for k in part.ports]
    found = []
    for volume in volumes:
        own = {port.name for port in drawn if port.volume == volume}
        also = {ports[k].name for k, more in told.also.items() if volume in more}
        found.append(own | also)
    return found


def test_the_same_twice_is_the_same() -> None:
    told = both(OLD, OLD)
    assert (told.added, told.removed) == ((), ())
    assert (told.added_lines, told.removed_lines) == ((), ())
    assert told.also == {}


def test_a_part_that_is_gone_stays_with_its_piece_of_line() -> None:
    new = OLD.replace("part other : visual_indicator\n", "").replace(", other.in", "")
    told = both(OLD, new)
    assert [told.circuit.parts[k].name for k in told.removed] == ["other"]
    assert lines(told, told.removed_lines) == [{"other.in", "button.2"}]
    assert told.added_lines == ()


def test_a_part_that_is_new_has_a_piece_of_line_of_its_own() -> None:
    old = OLD.replace("part other : visual_indicator\n", "").replace(", other.in", "")
    told = both(old, OLD)
    assert [told.circuit.parts[k].name for k in told.added] == ["other"]
    assert lines(told, told.added_lines) == [{"other.in", "button.2"}]
    assert told.removed_lines == ()


def test_a_port_that_changes_its_line_is_on_both() -> None:
    new = OLD.replace("tractor, button.1", "tractor, button.1, other.in").replace(
        "button.2, lamp.in, other.in", "button.2, lamp.in"
    )
    told = both(OLD, new)
    assert lines(told, told.added_lines) == [{"other.in", "button.1"}]
    assert lines(told, told.removed_lines) == [{"other.in", "button.2"}]
    layout = lay_out(told.circuit, told.also)
    drawn = {trace.volume for sheet in layout.sheets for trace in sheet.traces}
    assert {*told.added_lines, *told.removed_lines} <= drawn


def test_every_symbol_is_drawn_once() -> None:
    new = OLD.replace("part lamp : visual_indicator", "part bulb : visual_indicator").replace(
        "lamp.in", "bulb.in"
    )
    told = both(OLD, new)
    layout = lay_out(told.circuit, told.also)
    symbols = [one for sheet in layout.sheets for one in sheet.symbols]
    names = [told.circuit.parts[one.part].name for one in symbols if one.part is not None]
    assert sorted(names) == sorted(part.name for part in told.circuit.parts)
    boxes = sorted((one.x, one.y) for one in symbols)
    assert all(a != b for a, b in pairwise(boxes))
