"""`shutproof hookup`: the lists in all their forms, and mistakes."""

from __future__ import annotations

import csv
import io
import json
from html.parser import HTMLParser
from pathlib import Path

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.cli.command import HERON, ROOT, shutproof
from verifier import load, load_text
from verifier.pages.hookup import hookup_page
from verifier.report.hookup import hookup_of
from verifier.report.hookup_text import hookup_text, parts_table, tubes_table
from verifier.report.json import schema_path
from verifier.report.spreadsheet import plain_cell, safe, table

DESIGNS = sorted((ROOT / "specs").glob("*/*.ilk"))
HOSTILE = """
design hostile "=1+2<script>alert(1)</script>"
revision "@SUM(A1)"
use standard
supply tractor
part stop: push_button_3_2 "</table><b>-2+3"
part lamp: visual_indicator
line air: tractor, stop.1 "+cmd|' /C calc'!A0"
line out: stop.2, lamp.in
tube out at lamp.in: label "=HYPERLINK(1)", length 5/3 m
possible "on": showing(lamp)
"""


def rows(content: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(content.decode("utf-8-sig"), newline="")))


@pytest.mark.parametrize("path", DESIGNS, ids=lambda path: path.stem)
def test_every_port_and_every_tube_is_there_once(path: Path) -> None:
    circuit = load(path).circuit
    hookup = hookup_of(circuit)
    ports = [f"{part.name}.{port.number}" for part in hookup.parts for port in part.ports]
    assert ports == [port.name for port in circuit.ports]
    assert [tube.name for tube in hookup.tubes] == [tube.name for tube in circuit.tubes]
    for part in hookup.parts:
        for port in part.ports:
            number = ports.index(f"{part.name}.{port.number}")
            assert (port.state == "tube") == (circuit.ports[number].state == "piped")
            assert bool(port.tube) == (port.state == "tube")
            assert port.purpose
    assert len(rows(parts_table(hookup))) == len(ports) + 1
    assert len(rows(tubes_table(hookup))) == len(circuit.tubes) + 1


def test_both_ends_of_a_tube_name_each_other() -> None:
    hookup = hookup_of(load(HERON).circuit)
    ends = {f"{part.name}.{port.number}": port for part in hookup.parts for port in part.ports}
    for name, port in ends.items():
        for other in port.others:
            if not other.startswith("supply "):
                assert name in ends[other].others
    assert ends["stop.2"].others == ("master.12",)
    assert ends["stop.3"].state == "silencer"
    assert ends["master.12"].purpose == "pilot, air here takes it to in"


def test_open_plugged_and_lengths() -> None:
    text = HOSTILE.replace(
        "part lamp: visual_indicator\n",
        "part lamp: visual_indicator\n"
        "part spare: push_pull_3_2_detent\nplug spare.1\nopen spare.2\n",
    )
    hookup = hookup_of(load_text(text).circuit)
    spare = next(part for part in hookup.parts if part.name == "spare")
    assert [port.state for port in spare.ports] == ["plug", "open", "silencer"]
    out = next(tube for tube in hookup.tubes if tube.name == "out")
    assert (out.length, out.label) == ("5/3 m", "=HYPERLINK(1)")
    told = hookup_text(hookup)
    assert "plugged" in told
    assert "left open to the air" in told


class Reader(HTMLParser):
    """Which elements a page has, and whether they are closed."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        if tag not in ("meta", "br", "path", "rect", "input", "link"):
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag in self.open:
            while self.open.pop() != tag:
                pass


def test_names_are_neither_markup_nor_formulas() -> None:
    hookup = hookup_of(load_text(HOSTILE).circuit)
    content = hookup_page(hookup, ("care",)).decode()
    reader = Reader()
    reader.feed(content)
    assert "<script>alert" not in content
    assert reader.seen.count("script") == 1
    assert reader.open == []
    assert "default-src 'none'" in content
    for whole in (parts_table(hookup), tubes_table(hookup)):
        cells = [cell for row in rows(whole) for cell in row]
        assert not [cell for cell in cells if cell[:1] in "=+-@\t\r" and cell]
    assert any(cell == "'=HYPERLINK(1)" for row in rows(tubes_table(hookup)) for cell in row)


@given(st.lists(st.lists(st.text(max_size=8), min_size=1, max_size=3), max_size=4))
def test_cells_come_back(cells: list[list[str]]) -> None:
    clean = [[cell.replace("\0", "") for cell in row] for row in cells]
    clean = [row for row in clean if any(row)]
    read = [[plain_cell(cell) for cell in row] for row in rows(table(clean))]
    kept = [[cell.replace("\r\n", "\n") for cell in row] for row in read]
    assert kept == [[cell.replace("\r\n", "\n") for cell in row] for row in clean]
    assert not [c for row in clean for c in row if safe(c)[:1] in ("=", "+", "-", "@", "\t", "\r")]


def test_the_command_in_all_its_forms(tmp_path: Path) -> None:
    assert "tube trip to master.12" in shutproof("hookup", HERON).stdout
    page = tmp_path / "list.html"
    assert shutproof("hookup", HERON, "--html", "-o", page).returncode == 0
    assert page.read_bytes().startswith(b"<!doctype html>")
    done = shutproof("hookup", HERON, "--csv", "--list", "tubes")
    assert done.stdout.count("\n") == 21
    document = json.loads(shutproof("hookup", HERON, "--json").stdout)
    jsonschema.validate(document, json.loads(schema_path("hookup").read_text()))
    done = shutproof("hookup", HERON, "--part", "mastr")
    assert done.returncode == 2
    assert "did you mean `master`?" in done.stderr
    assert shutproof("hookup", HERON, "--stories").returncode == 2


def test_mistakes_at_one_part(tmp_path: Path) -> None:
    runs = tmp_path / "runs"
    done = shutproof("hookup", HERON, "--mistakes", "--part", "lamp", "--runs", runs, "--stories")
    assert done.returncode == 1, done.stderr
    assert '! left off: breaks "the indicator shows when the vents are open"' in done.stdout
    assert "Of 1 wrong connections: 1 breaks a rule." in done.stdout
    (file,) = sorted((runs / "heron").iterdir())
    again = shutproof("operate", HERON, "--script", file, "--quiet")
    assert again.returncode == 0, again.stdout + again.stderr


def test_the_step_of_a_test_sheet_that_reveals_it(tmp_path: Path) -> None:
    """Of what `commission --json` prints, as much as is read here."""
    look = {
        "at": "lamp",
        "shows": "showing",
        "saw": "",
        "reveals": ["tube back at lamp.in left off"],
    }
    steps = [
        {"number": k, "does": "", "did": [], "looks": [look] if k > 2 else []} for k in range(1, 5)
    ]
    procedure = {
        "design": "heron",
        "steps": steps,
        "unrevealed": [],
        "format": "shutproof procedure",
    }
    sheet = tmp_path / "sheet.json"
    given = ("--mistakes", "--part", "lamp", "--sheet", sheet)
    sheet.write_text(json.dumps({"procedure": procedure}))
    done = shutproof("hookup", HERON, *given)
    assert "step 3 reveals it, at lamp" in " ".join(done.stdout.split())
    sheet.write_text(json.dumps({"procedure": {**procedure, "design": "skua"}}))
    done = shutproof("hookup", HERON, *given)
    assert done.returncode == 2
    assert "it is of `skua`, not of `heron`" in done.stderr
    sheet.write_text("[]")
    assert "not what `commission --json` prints" in shutproof("hookup", HERON, *given).stderr
