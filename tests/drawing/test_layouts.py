"""Properties of every drawing, checked by code on the finished layout."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from tests.agreement.circuits import circuit_of
from tests.benchmarks.families import FAMILIES
from tests.drawing.designs import CATALOGUE, LIBRARY, SEEDED, drawn, library, member
from verifier.drawing import Layout
from verifier.drawing.checks import faults_of, measures_of
from verifier.drawing.figure import SMALL
from verifier.drawing.layout import Segment
from verifier.drawing.paper import LEGIBLE
from verifier.model.load import load

# Crossings and bends of the library: a change must not make them more.
AT_MOST = {
    "fulmar": (3, 34),
    "gannet": (15, 72),
    "heron": (3, 31),
    "petrel": (24, 126),
    "shearwater": (49, 188),
    "skua": (7, 36),
    "tern": (13, 67),
}


@pytest.mark.parametrize("name", LIBRARY)
def test_library(name: str) -> None:
    circuit, layout = library(name)
    assert faults_of(circuit, layout) == ()
    measures = measures_of(layout)
    crossings, bends = AT_MOST[name]
    assert measures.crossings <= crossings
    assert measures.bends <= bends
    assert measures.unnamed == 0


@pytest.mark.parametrize("name", SEEDED)
def test_designs_with_seeded_mistakes(name: str) -> None:
    circuit, layout = drawn(load(SEEDED[name]).circuit)
    assert faults_of(circuit, layout) == ()


@pytest.mark.parametrize("name", FAMILIES)
def test_smallest_of_each_family(name: str) -> None:
    circuit, layout = drawn(member(name, *FAMILIES[name].least))
    assert faults_of(circuit, layout) == ()


@pytest.mark.parametrize(("name", "sizes", "sheets"), [("bank", (20, 4), 3), ("deep", (32, 32), 5)])
def test_what_is_too_large_goes_on_linked_sheets(
    name: str, sizes: tuple[int, ...], sheets: int
) -> None:
    circuit, layout = drawn(member(name, *sizes))
    assert len(layout.sheets) == sheets
    assert faults_of(circuit, layout) == ()
    first = layout.sheets[0]
    linked = [trace for trace in first.traces if trace.links]
    assert linked
    said = [link.text.text for trace in linked for link in trace.links]
    assert len(set(said)) == len(said), "full names, so that no two are the same"
    bare = tuple(replace(trace, links=()) for trace in first.traces)
    spoilt = replace(layout, sheets=(replace(first, traces=bare), *layout.sheets[1:]))
    kinds = {flaw.kind for flaw in faults_of(circuit, spoilt)}
    assert kinds == {"line goes on without a link"}


def test_eight_compartments_on_three_manifolds_fit_one_sheet() -> None:
    _, layout = library("shearwater")
    assert (layout.paper, len(layout.sheets)) == ("A3", 1)
    assert SMALL * layout.scale >= LEGIBLE


def test_many_positions_do_not_make_a_symbol_endless() -> None:
    circuit, layout = drawn(member("rotary", 6))
    assert faults_of(circuit, layout) == ()


def test_every_kind_of_the_catalogue() -> None:
    circuit, layout = drawn(load(CATALOGUE).circuit)
    assert faults_of(circuit, layout) == ()


@pytest.mark.parametrize("seeds", [range(0, 60), range(200, 260)], ids=str)
def test_circuits_at_random(seeds: range) -> None:
    """Valves of any shape, joined anyhow: what no designer draws is drawn right, too."""
    for seed in seeds:
        circuit, layout = drawn(circuit_of(seed))
        assert faults_of(circuit, layout) == (), seed


def kinds(layout: Layout, name: str = "heron") -> set[str]:
    return {flaw.kind for flaw in faults_of(library(name)[0], layout)}


def changed(layout: Layout, **parts: object) -> Layout:
    return replace(layout, sheets=(replace(layout.sheets[0], **parts),))


class TestFaultsAreNoticed:
    """A layout that is spoilt on purpose is not accepted."""

    def test_symbol_on_another(self) -> None:
        layout = library("heron")[1]
        first, second, *rest = layout.sheets[0].symbols
        moved = replace(second, x=first.x + 1, y=first.y + 1)
        found = kinds(changed(layout, symbols=(first, moved, *rest)))
        assert {"symbols overlap", "port not met"} <= found

    def test_line_through_a_symbol(self) -> None:
        layout = library("heron")[1]
        box = layout.sheets[0].symbols[-1].solid[0]
        trace, *rest = layout.sheets[0].traces
        y = int(box.y + 3)
        through = Segment(int(box.x) - 2, y, int(box.x + box.width) + 2, y, False)
        spoilt = replace(trace, segments=(*trace.segments, through))
        assert "line through a symbol" in kinds(changed(layout, traces=(spoilt, *rest)))

    def test_line_with_a_piece_missing(self) -> None:
        layout = library("heron")[1]
        trace, *rest = layout.sheets[0].traces
        spoilt = replace(trace, segments=trace.segments[1:])
        assert kinds(changed(layout, traces=(spoilt, *rest))) & {"port not met", "line in pieces"}

    def test_line_not_drawn(self) -> None:
        layout = library("heron")[1]
        assert "line not drawn" in kinds(changed(layout, traces=layout.sheets[0].traces[1:]))

    def test_slanted(self) -> None:
        layout = library("heron")[1]
        trace, *rest = layout.sheets[0].traces
        s = trace.segments[0]
        slanted = Segment(s.x1, s.y1, s.x2 + 3, s.y2 + 3, s.pilot)
        spoilt = replace(trace, segments=(slanted, *trace.segments[1:]))
        assert "slanted line" in kinds(changed(layout, traces=(spoilt, *rest)))

    def test_lines_that_touch(self) -> None:
        layout = library("heron")[1]
        one, other, *rest = layout.sheets[0].traces
        spoilt = replace(other, segments=(*other.segments, one.segments[0]))
        assert "lines touch" in kinds(changed(layout, traces=(one, spoilt, *rest)))

    def test_dot_left_out(self) -> None:
        layout = library("heron")[1]
        traces = tuple(replace(trace, dots=()) for trace in layout.sheets[0].traces)
        assert kinds(changed(layout, traces=traces)) == {"join without a dot"}

    def test_part_left_out(self) -> None:
        layout = library("heron")[1]
        assert "parts not drawn once each" in kinds(
            changed(layout, symbols=layout.sheets[0].symbols[:-1])
        )

    def test_letters_too_small(self) -> None:
        layout = library("heron")[1]
        assert kinds(replace(layout, scale=0.5)) == {"label too small"}

    def test_labels_on_each_other_and_on_lines(self) -> None:
        layout = library("heron")[1]
        one, other, *rest = layout.sheets[0].traces
        assert one.label is not None
        spoilt = (replace(other, label=one.label), one, *rest)
        assert "labels overlap" in kinds(changed(layout, traces=spoilt))
        s = next(s for s in one.segments if s.y1 == s.y2)
        over = replace(one.label, x=float(s.x1), y=float(s.y1) + 1)
        spoilt = (replace(one, label=over), other, *rest)
        assert "line through a label" in kinds(changed(layout, traces=spoilt))
