"""SVG, pages and words of drawings; the pictures beside the designs."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.benchmarks.families import FAMILIES
from tests.drawing.designs import LIBRARY, ROOT, drawn, library, member
from verifier.cli.draw import command
from verifier.drawing import Flowing, Layout, Marks, describe, lay_out, to_svg
from verifier.drawing.marks import streams
from verifier.drawing.page import to_page
from verifier.model.circuit import Circuit
from verifier.model.load import load_text

NAMESPACE = "{http://www.w3.org/2000/svg}"
KNOWN = {"svg", "title", "desc", "style", "rect", "g", "a", "path", "circle", "text"}


@pytest.mark.parametrize("name", LIBRARY)
def test_picture_beside_the_design_is_current(name: str) -> None:
    """Written by `shutproof draw specs/NAME/NAME.ilk -o specs/NAME/NAME.svg`."""
    circuit, layout = library(name)
    beside = (ROOT / "specs" / name / f"{name}.svg").read_text()
    assert beside == to_svg(circuit, layout, live=False)


@pytest.mark.parametrize("live", [True, False])
def test_well_formed(live: bool) -> None:
    circuit, layout = library("shearwater")
    root = ET.fromstring(to_svg(circuit, layout, live=live))
    assert {node.tag.removeprefix(NAMESPACE) for node in root.iter()} <= KNOWN
    first = root[0]
    assert first.tag == f"{NAMESPACE}title"
    assert first.text == circuit.title
    desc = root.find(f"{NAMESPACE}desc")
    assert desc is not None
    assert desc.text == describe(circuit)
    for path in root.iter(f"{NAMESPACE}path"):
        assert re.fullmatch(r"(?:[MLHVAQahvlZ]|[-\d. ])+", path.attrib["d"])


def test_every_part_line_and_element_can_be_found() -> None:
    circuit, layout = library("tern")
    root = ET.fromstring(to_svg(circuit, layout))

    def all_of(attribute: str) -> set[str]:
        return {node.attrib[attribute] for node in root.iter() if attribute in node.attrib}

    assert all_of("data-part") == {part.name for part in circuit.parts}
    assert all_of("data-line") == {line.name for line in circuit.lines}
    assert all_of("data-element") == {element.name for element in circuit.elements}
    assert all_of("data-supply") == {supply.name for supply in circuit.supplies}


def test_same_on_every_run() -> None:
    program = (
        "import hashlib; from tests.drawing.designs import library;"
        "from verifier.drawing import to_svg;"
        "print(hashlib.sha256(to_svg(*library('petrel')).encode()).hexdigest())"
    )
    found = {
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(found) == 1


HOSTILE = '</script><img src=x onerror="1">&"\''


def hostile() -> tuple[Circuit, Layout]:
    text = """
design x "</script><b onclick=1>&"
use standard
supply s "</script>&<i>"
part lamp : visual_indicator "</title><script>1</script>"
line air : s, lamp.in "&lt;</svg>"
""".strip()
    assert HOSTILE not in text
    circuit = load_text(text).circuit
    return circuit, lay_out(circuit)


def test_markup_in_texts_is_only_text() -> None:
    circuit, layout = hostile()
    svg = to_svg(circuit, layout)
    root = ET.fromstring(svg)
    assert {node.tag.removeprefix(NAMESPACE) for node in root.iter()} <= KNOWN
    page = to_page(circuit, layout)
    for forbidden in ("<script", "</script", "<b ", "<i>", "http://" + "x"):
        assert forbidden not in svg + page


def test_page_asks_for_nothing_and_allows_nothing() -> None:
    circuit, layout = library("heron")
    page = to_page(circuit, layout)
    assert "default-src 'none'" in page
    assert "unsafe" not in page
    addresses = set(re.findall(r"https?://[^\"' ]+", page))
    assert addresses <= {"http://www.w3.org/2000/svg"}
    assert not re.search(r"\sstyle=|\son\w+=|<script|<link|url\(", page)


def test_gallery_shows_the_whole_library() -> None:
    text = (ROOT / "README.md").read_text()
    for name in LIBRARY:
        assert text.count(f'src="specs/{name}/{name}.svg"') == 1


def test_links_lead_to_sheets() -> None:
    circuit, layout = drawn(member("bank", 12, 4))
    assert len(layout.sheets) > 1
    root = ET.fromstring(to_svg(circuit, layout, prefix="a-"))
    ids = [node.attrib["id"] for node in root.iter() if "id" in node.attrib]
    assert len(ids) == len(set(ids)) == len(layout.sheets)
    targets = {node.attrib["href"] for node in root.iter(f"{NAMESPACE}a")}
    assert targets == {f"#{one}" for one in ids}
    bare = ET.fromstring(to_svg(circuit, layout, prefix=None))
    assert not [node for node in bare.iter() if "id" in node.attrib or "href" in node.attrib]
    one = ET.fromstring(to_svg(circuit, layout, sheet=2))
    assert [n.attrib["id"] for n in one.iter() if "id" in n.attrib] == ["sheet-2"]


class TestMarks:
    def shown(self, marks: Marks) -> ET.Element:
        circuit, layout = library("heron")
        return ET.fromstring(to_svg(circuit, layout, marks))

    def number(self, name: str) -> int:
        circuit = library("heron")[0]
        return next(k for k, part in enumerate(circuit.parts) if part.name == name)

    def test_positions_step_the_squares(self) -> None:
        circuit = library("heron")[0]
        positions = tuple(1 for _ in circuit.elements)
        root = self.shown(Marks(positions=positions))
        for node in root.iter(f"{NAMESPACE}g"):
            if node.attrib.get("class") == "moving":
                steps = node.attrib["data-steps"].split()
                assert node.attrib["transform"] == f"translate({steps[1]} 0)"

    def test_pressures_are_on_every_piece_of_the_line(self) -> None:
        circuit = library("heron")[0]
        pressures = tuple("trapped_high" for _ in circuit.volumes)
        root = self.shown(Marks(pressures=pressures))  # type: ignore[arg-type]
        lines = [node for node in root.iter() if "data-volume" in node.attrib]
        assert lines
        assert all(node.attrib["data-pressure"] == "trapped_high" for node in lines)

    def test_emphasised_added_and_removed(self) -> None:
        marks = Marks(
            emphasised=(self.number("stop"),),
            added=(self.number("lamp"),),
            removed=(self.number("master"),),
        )
        root = self.shown(marks)
        classes = {
            node.attrib["data-part"]: node.attrib["class"]
            for node in root.iter()
            if "data-part" in node.attrib
        }
        assert classes["stop"] == "symbol emphasised"
        assert classes["lamp"] == "symbol added"
        assert classes["master"] == "symbol removed"
        assert classes["foot[1]"] == "symbol"

    def test_flow_shows_on_each_part_that_it_goes_through(self) -> None:
        circuit = library("heron")[0]
        liquid = next(k for k, n in enumerate(circuit.networks) if n.medium == "liquid")
        places = circuit.networks[liquid].places
        flow = Flowing(liquid, places.index("tank[2]"), places.index("coupling[2]"))
        opened = tuple(len(element.positions) - 1 for element in circuit.elements)
        found = streams(circuit, Marks(positions=opened, flows=(flow,)))
        parts = {circuit.networks[n].ways[w].part for n, w in found}
        names = {circuit.parts[part].name for part in parts if part is not None}
        assert names == {"foot[2]", "cock[2]"}
        assert set(found.values()) == {True}


def test_words_tell_the_same() -> None:
    circuit = library("heron")[0]
    said = describe(circuit)
    for part in circuit.parts:
        assert part.name in said
    assert "Line home joins master.2, pick[1].10, pick[2].10, pick[3].10." in said
    marks = Marks(pressures=("contested",) * len(circuit.volumes))
    assert "Line home is fed and vented at once" in describe(circuit, marks)


class TestCommand:
    def run(self, *arguments: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [sys.executable, "-c", "from verifier.cli import main; main()", "draw", *arguments],
            cwd=ROOT,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            capture_output=True,
            text=True,
            check=False,
        )

    def test_prints_svg(self) -> None:
        circuit, layout = library("skua")
        done = self.run("specs/skua/skua.ilk")
        assert done.returncode == 0
        assert done.stdout == to_svg(circuit, layout, live=False)

    def test_writes_a_page(self, tmp_path: Path) -> None:
        done = self.run("specs/skua/skua.ilk", "-o", str(tmp_path / "x.html"))
        assert (done.returncode, done.stdout) == (0, "")
        assert (tmp_path / "x.html").read_text().startswith("<!DOCTYPE html>")

    def test_pdf_has_a_page_for_each_sheet(self, tmp_path: Path) -> None:
        source = tmp_path / "bank.ilk"
        source.write_text(FAMILIES["bank"].member(12, 4).text)
        done = self.run(str(source), "-o", str(tmp_path / "x.pdf"))
        assert done.returncode == 0, done.stderr
        reader = PdfReader(tmp_path / "x.pdf")
        assert len(reader.pages) == 2
        for number, page in enumerate(reader.pages, 1):
            width, height = (float(length) / 72 * 25.4 for length in page.mediabox[2:])
            assert (round(width), round(height)) == (420, 297)
            assert f"sheet {number} of 2" in page.extract_text()

    def test_without_the_extra_pdf_says_what_is_missing(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
    ) -> None:
        monkeypatch.setitem(sys.modules, "weasyprint", None)
        with pytest.raises(SystemExit) as ended:
            command(["specs/skua/skua.ilk", "-o", str(tmp_path / "x.pdf")])
        assert ended.value.code == 2

    def test_refuses_other_forms(self, tmp_path: Path) -> None:
        done = self.run("specs/skua/skua.ilk", "-o", str(tmp_path / "x.png"))
        assert done.returncode == 2
        assert "must end in .svg, .html or .pdf" in done.stderr
        assert not (tmp_path / "x.png").exists()
