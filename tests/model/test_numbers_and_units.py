"""Units as exact rationals, index arithmetic, families."""

from __future__ import annotations

from fractions import Fraction

import pytest

from verifier.diagnostics.diagnostic import SourceError
from verifier.model.load import load_text
from verifier.model.units import UNITS, in_base_unit

BASE = """design heron "one lamp"
use standard
supply tractor
part lamp[1..9] : visual_indicator
line air : tractor, lamp[1..8].in
"""


def test_units_are_those_of_the_si_brochure() -> None:
    """SI Brochure (9th ed.), tables 4, 7 and 8: min, h, L; bar is 100 kPa; prefixes m, c, k, M."""
    size = {unit: factor for unit, (_, factor) in UNITS.items()}
    assert size["bar"] == 100 * size["kPa"] == 1000 * size["mbar"] == Fraction(1, 10) * size["MPa"]
    assert (size["h"], size["min"], size["ms"]) == (3600, 60, Fraction(1, 1000))
    assert size["m3"] == 1000 * size["L"] == 1_000_000 * size["mL"]
    assert (size["cm"], size["mm"]) == (Fraction(1, 100), Fraction(1, 1000))


def test_lengths_are_exact() -> None:
    text = BASE + "line rest : lamp[9].in, valve.2\npart valve : push_button_3_2\nplug valve.1\n"
    tubes = load_text(text + "tube rest at valve.2 : length 5/3 m, bore 2.7 mm\n").circuit.tubes
    (tube,) = [tube for tube in tubes if tube.name == "rest"]
    assert tube.length is not None
    assert tube.bore is not None
    assert in_base_unit(tube.length) == Fraction(5, 3)
    assert in_base_unit(tube.bore) == Fraction(27, 10_000)


def test_quantities_of_parts_are_kept() -> None:
    text = """design heron "a regulator"
use standard
assembly station(pressure)
  port air : keeper.1
  part keeper : regulator(set = pressure)
  plug keeper.2
end
supply tractor
part one : station(pressure = 13/2 bar)
line air : tractor, one.air
"""
    (part,) = load_text(text).circuit.parts
    ((name, quantity),) = part.quantities
    assert (name, quantity.value, quantity.unit) == ("set", Fraction(13, 2), "bar")


def test_index_arithmetic_and_single_members() -> None:
    text = """design heron "a chain of vents"
use standard
supply tractor
part vent[1..3] : sequence_vent
part lamp : visual_indicator
line pass[0] : tractor, vent[1].in
line pass[i in 1..2] : vent[i].out, vent[i + 1].in
line pass[2 * 2 - 1] : vent[3].out, lamp.in
"""
    circuit = load_text(text).circuit
    assert [line.name for line in circuit.lines] == ["pass[0]", "pass[1]", "pass[2]", "pass[3]"]
    names = [[circuit.ports[p].name for p in v.ports] for v in circuit.volumes[:4]]
    assert names == [
        ["vent[1].in"],
        ["vent[1].out", "vent[2].in"],
        ["vent[2].out", "vent[3].in"],
        ["vent[3].out", "lamp.in"],
    ]


def test_dimensions_that_depend_on_each_other() -> None:
    text = """design heron "a triangle"
use standard
supply tractor
part lamp[i in 1..3, j in i..3] : visual_indicator
line air[1..1] : tractor, lamp[1,1..3].in, lamp[2,2..3].in, lamp[3,3].in
never "two at once": high(lamp[i,j].in) and tractor is absent for any i, j
"""
    circuit = load_text(text).circuit
    expected = ["lamp[1,1]", "lamp[1,2]", "lamp[1,3]", "lamp[2,2]", "lamp[2,3]", "lamp[3,3]"]
    assert [part.name for part in circuit.parts] == expected
    labels = [one.label for one in circuit.properties[0].instances]
    assert labels == [
        "i = 1, j = 1", "i = 1, j = 2", "i = 1, j = 3", "i = 2, j = 2", "i = 2, j = 3",
        "i = 3, j = 3",
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("quantifier", "labels"),
    [
        ("for any i < j", ["i = 1, j = 2", "i = 1, j = 3", "i = 2, j = 3"]),
        ("for any i, j where i + j = 4 and i <> j", ["i = 1, j = 3", "i = 3, j = 1"]),
        ("for each i in 2..3, j in 1..i - 1", ["i = 2, j = 1", "i = 3, j = 1", "i = 3, j = 2"]),
        ("for every i, j where i <= j and j < 2", ["i = 1, j = 1"]),
    ],
)
def test_quantifiers(quantifier: str, labels: list[str]) -> None:
    text = f"""design heron "lamps"
use standard
supply tractor
part lamp[1..3] : visual_indicator
line air : tractor, lamp[1..3].in
never "both": high(lamp[i].in) and low(lamp[j].in) {quantifier}
"""
    instances = load_text(text).circuit.properties[0].instances
    assert [one.label for one in instances] == labels


def test_every_and_some_expand() -> None:
    """`every` is true of the words for all values, `some` of at least one."""
    text = BASE + "plug lamp[9].in\n"
    loaded = load_text(
        text
        + 'never "a": every i in 1..2: showing(lamp[i])\n'
        + 'never "b": some i in 1..2: showing(lamp[i])\n'
        + 'never "c": showing(lamp[1]) and showing(lamp[2])\n'
        + 'never "d": showing(lamp[1]) or showing(lamp[2])\n'
    )
    a, b, c, d = (p.instances[0].condition for p in loaded.circuit.properties)
    assert (a, b) == (c, d)
    assert a != b


def test_ranges_differ_by_assembly() -> None:
    """The range of `j` is that of the family inside the very assembly that `i` names."""
    text = """design heron "two banks of different size"
use standard
assembly bank(n)
  port air : lamp[1..n].in
  part lamp[1..n] : visual_indicator
end
supply tractor
part bank[i in 1..2] : bank(n = i)
line air : tractor, bank[1..2].air
never "lit": showing(bank[i].lamp[j]) and tractor is absent for any i, j
"""
    instances = load_text(text).circuit.properties[0].instances
    assert [one.label for one in instances] == ["i = 1, j = 1", "i = 2, j = 1", "i = 2, j = 2"]


def test_all_mistakes_at_once() -> None:
    text = (
        BASE + 'line rest : lump[1].in, lamp[12].in\nnever "x": high(ear)\nstart lamp[1] is hot\n'
    )
    with pytest.raises(SourceError) as caught:
        load_text(text)
    assert [d.code for d in caught.value.diagnostics] == ["E0401", "E0402", "E0401", "E0511"]
    assert caught.value.diagnostics[0].hint == "did you mean `lamp`?"
