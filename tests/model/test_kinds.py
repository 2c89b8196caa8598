"""Reading kinds: conditions of passages, media, merged legs, names of pilots."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from verifier.diagnostics.limits import Limits
from verifier.model.circuit import Where
from verifier.model.condition import At
from verifier.model.kinds import read_kind
from verifier.model.load import load_text
from verifier.model.mistakes import Mistakes
from verifier.model.template import KindTemplate
from verifier.syntax import tree
from verifier.syntax.parse import parse


def kind(text: str) -> tuple[KindTemplate | None, list[str]]:
    (item,) = parse(f"kind sample\n{text}\nend\n", "sample.ilk", Limits()).statements
    assert isinstance(item, tree.Kind)
    mistakes = Mistakes()
    return read_kind(item, mistakes), [d.code for d in mistakes.sorted()]


def sound(text: str) -> KindTemplate:
    template, codes = kind(text)
    assert codes == []
    assert template is not None
    return template


atom = st.sampled_from(["a is x", "a is y", "a is z", "b is x", "b is y"])
whens = st.recursive(
    atom,
    lambda inner: st.one_of(
        inner.map(lambda one: f"not ({one})"),
        st.tuples(inner, inner).map(lambda two: f"({two[0]} and {two[1]})"),
        st.tuples(inner, inner).map(lambda two: f"({two[0]} or {two[1]})"),
        st.tuples(inner, inner).map(lambda two: f"(if {two[0]} then {two[1]})"),
    ),
    max_leaves=6,
)
OPEN = "  element a : x, y, z\n    otherwise stays\n  element b : x, y\n    otherwise stays\n"


def truth(when: str, a: str, b: str) -> bool:
    """The condition by Python's own logic."""
    text = when
    for name, at in (("a", a), ("b", b)):
        for place in ("x", "y", "z"):
            text = text.replace(f"{name} is {place}", str(at == place))
    while "(if " in text:
        begin = text.rindex("(if ")
        depth, end = 0, begin
        for end in range(begin, len(text)):
            depth += {"(": 1, ")": -1}.get(text[end], 0)
            if depth == 0:
                break
        inner = text[begin + 4 : end]
        depth, cut = 0, 0
        for cut in range(len(inner)):
            depth += {"(": 1, ")": -1}.get(inner[cut], 0)
            if depth == 0 and inner.startswith(" then ", cut):
                break
        text = f"{text[:begin]}(not ({inner[:cut]}) or ({inner[cut + 6 :]})){text[end + 1 :]}"
    return bool(eval(text, {}))


@given(whens)
def test_when_of_a_passage(when: str) -> None:
    """The passages together are open exactly where the condition is true."""
    template = sound(f"  ports 1, 2\n{OPEN}  passage 1-2 when {when}")
    for a, b in product(range(3), range(2)):
        at = (a, b)
        is_open = any(
            all(at[w.element] in w.positions for w in leg.where) for leg in template.passages
        )
        assert is_open == truth(when, "xyz"[a], "xy"[b])


def test_legs_of_several_positions_are_one() -> None:
    template = sound(
        "  ports 1, 2\n  element spool : x, y, z\n"
        "    in x passes 1-2\n    in y passes restricted 1-2\n"
        "    in z passes 2-1\n    otherwise stays"
    )
    assert [(leg.restricted, leg.where) for leg in template.passages] == [
        (False, (Where(0, (0, 2)),)),
        (True, (Where(0, (1,)),)),
    ]


def test_media_are_told_by_the_ports() -> None:
    template = sound(
        "  ports pilot, both\n  liquid ports inside, both\n  vapour ports inside, outside\n"
        "  element gate : shut, open\n    in open passes inside - both, inside > outside\n"
        "    otherwise to shut\n  passage pilot - both"
    )
    assert [(leg.start, leg.end) for leg in template.liquid_ways] == [(0, 1)]
    assert [(leg.start, leg.end, leg.one_way) for leg in template.vapour_ways] == [(0, 1, True)]
    assert [(leg.start, leg.end) for leg in template.passages] == [(0, 1)]


@pytest.mark.parametrize(
    ("pilot", "position", "right"),
    [
        ("12", "home", True),
        ("14", "drawn", True),
        ("12", "drawn", False),
        ("14", "home", False),
        ("12", "middle", False),
        ("10", "middle", True),
        ("10", "home", False),
    ],
)
def test_pilots_are_named_for_the_path_they_make(pilot: str, position: str, right: bool) -> None:
    """ISO 11727: 12 joins 1 to 2, 14 joins 1 to 4, 10 closes 1 (here a 5/3, mid closed)."""
    _, codes = kind(
        f"  ports 1, 2, 4, {pilot}\n  exhausts 3, 5\n  hand pulled\n"
        "  element spool : home, middle, drawn\n"
        "    in home passes 1-2, 4-5\n    in drawn passes 1-4, 2-3\n"
        f"    to {position} when high({pilot}) or pulled by hand\n    otherwise stays"
    )
    assert codes == ([] if right else ["E0512"])


def test_absence_of_air_names_no_pilot() -> None:
    """`low(14)` is a spring's side: the name tells what air does."""
    sound(
        "  ports 1, 2, 4, 14\n  exhausts 3, 5\n  element spool : home, drawn\n"
        "    in home passes 1-2, 4-5\n    in drawn passes 1-4, 2-3\n"
        "    to home when low(14)\n    otherwise to drawn"
    )


def test_impossible_moves_are_left_out() -> None:
    """A move that can never be asked goes; one that is always asked ends the list (M1)."""
    text = """design heron "folding"
use standard
kind gate "told by what works it"
  ports in
  element gate : shut, half, open
    to open when worked and high(in)
    to half when worked or high(in)
    to shut when high(in)
    otherwise stays
end
surroundings road : standing, moving
supply tractor
part never : gate worked by road is standing and not road is standing
part ever : gate worked by road is standing or not road is standing
line air : tractor, never.in, ever.in
never "x": open(never) and half(ever)
"""
    circuit = load_text(text).circuit
    never, ever = circuit.elements
    assert ([m.target for m in ever.moves], ever.otherwise) == ([2], 1)
    assert ([m.target for m in never.moves], never.otherwise) == ([1, 0], None)
    positions = [a for p in circuit.properties for a in p.instances[0].triggers]
    assert positions == [At(0, (2,)), At(1, (1,))]
