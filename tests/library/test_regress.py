"""Each status of a design in a library, and what build servers are told."""

from __future__ import annotations

import json
import re
import sqlite3
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import jsonschema
import pytest

from tests.library.shelf import LAMP, shutproof


def looked(folder: Path, *arguments: object) -> dict[str, Any]:
    done = shutproof("regress", folder, "--json", *arguments)
    document: dict[str, Any] = json.loads(done.stdout)
    schema = json.loads(shutproof("schema", "library").stdout)
    jsonschema.validate(document, schema, jsonschema.Draft202012Validator)
    assert document["exit_status"] == done.returncode, done.stderr
    return document


def statuses(document: dict[str, Any]) -> dict[str, tuple[str, str | None]]:
    return {one["file"]: (one["status"], one["verdict"]) for one in document["designs"]}


HERON = {"heron/heron.ilk": ("approved", "holds")}
LAMPS = {"lamps/lamp.ilk": ("approved", "holds")}


def test_what_was_approved_stands(library: Path) -> None:
    document = looked(library)
    assert statuses(document) == {**HERON, **LAMPS}
    assert document["exit_status"] == 0
    assert document["designs"][1]["by"] == "Q. Test"


def test_layout_comments_and_descriptions_are_no_change(library: Path) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    text = LAMP.replace("line air :", "# to the button\nline   air:").replace("A lamp", "The lamp")
    lamp.write_text(text)
    assert statuses(looked(library)) == {**HERON, **LAMPS}


@pytest.mark.parametrize(
    ("old", "new", "verdict"),
    [
        ("line shown :", "line seen :", "holds"),
        ("tractor is present and ", "", "violated"),
    ],
)
def test_a_changed_design_is_proved_anew(library: Path, old: str, new: str, verdict: str) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    lamp.write_text(LAMP.replace(old, new))
    document = looked(library)
    assert statuses(document) == {**HERON, "lamps/lamp.ilk": ("changed", verdict)}
    assert document["exit_status"] == 1


def test_an_unapproved_design_and_one_that_is_gone(library: Path) -> None:
    (library / "lamps" / "lamp.ilk").rename(library / "lamps" / "other.ilk")
    (library / "lamps" / "kinds.ilk").write_text("kind plain\n  ports 1, 2\nend\n")
    document = looked(library)
    assert statuses(document) == {
        **HERON,
        "lamps/lamp.ilk": ("missing", None),
        "lamps/other.ilk": ("unapproved", "holds"),
    }
    assert document["exit_status"] == 1


def test_a_design_that_is_none(library: Path) -> None:
    (library / "lamps" / "lamp.ilk").write_text("design lamp\npart x : nothing_known\n")
    (library / "bytes.ilk").write_bytes(b"\xff\xfe\x00")
    told = statuses(looked(library))
    assert told["lamps/lamp.ilk"] == ("invalid", None)
    assert told["bytes.ilk"] == ("invalid", None)
    assert told["heron/heron.ilk"] == ("approved", "holds")


@pytest.mark.parametrize("what", ["gone", "a byte", "a lemma", "no json"])
def test_a_certificate_that_does_not_stand(library: Path, what: str) -> None:
    (certificate,) = (library / "heron").glob("*.certificate.json")
    content = certificate.read_text()
    if what == "gone":
        certificate.unlink()
    elif what == "a byte":
        certificate.write_text(content.replace('"holds"', '"holdz"', 1))
    else:
        # Whoever can write the approval anew can name another certificate: it must stand itself.
        forged = "{" if what == "no json" else _without_lemmas(content)
        certificate.write_text(forged)
        _reseal(library / "heron", forged)
    told = looked(library)
    assert statuses(told) == {"heron/heron.ilk": ("not certified", "holds"), **LAMPS}
    assert told["exit_status"] == 1


def _without_lemmas(content: str) -> str:
    """Claims that all states are safe, which is not so."""
    document = json.loads(content)
    for strand in document["strands"]:
        for claim in strand["proofs"].values():
            if "lemmas" in claim:
                claim["lemmas"] = []
    forged = json.dumps(document)
    assert forged != json.dumps(json.loads(content))
    return forged


def _reseal(folder: Path, certificate: str) -> None:
    import hashlib

    import msgspec

    from verifier.library.approvals import NAME, read, sealed, text_of

    (approval,) = read(folder)
    sha256 = hashlib.sha256(certificate.encode()).hexdigest()
    forged = sealed(msgspec.structs.replace(approval, certificate_sha256=sha256))
    (folder / NAME).write_text(text_of((forged,)))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('by = "Q. Test"', 'by = "R. Test"'),
        ('verdict = "holds"', 'verdict = "violated"'),
        ('"seen" = "holds"', '"seen" = "inconclusive"'),
        ("version = 1", "version = 2"),
        ("[[approval]]", "[[approval]"),
        ('date = "2026-02-03"', 'date  = "2026-02-03"'),
    ],
)
def test_an_approval_that_was_written_to(library: Path, old: str, new: str) -> None:
    path = library / "lamps" / "approval.toml"
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))
    document = looked(library)
    assert statuses(document)["lamps/lamp.ilk"] == ("tampered", None)
    assert statuses(document)["heron/heron.ilk"] == ("approved", "holds")
    assert document["exit_status"] == 1


def test_a_property_with_the_name_of_a_free_one(tmp_path: Path) -> None:
    """It does not stand for the free one: a certificate without the proof of that is refused."""
    folder = tmp_path / "library"
    folder.mkdir()
    lamp = folder / "lamp.ilk"
    lamp.write_text(LAMP.replace('"seen"', '"comes to rest"'))
    done = shutproof("approve", lamp, "--by", "Q. Test", "--reason", "names")
    assert done.returncode == 0, done.stderr
    assert statuses(looked(folder)) == {"lamp.ilk": ("approved", "holds")}
    (certificate,) = folder.glob("*.certificate.json")
    document = json.loads(certificate.read_text())
    seen, *_ = (one for one in document["properties"] if one["name"] == "comes to rest")
    document["properties"] = [
        seen if one["name"] == "comes to rest" else one for one in document["properties"]
    ]
    certificate.write_text(json.dumps(document))
    _reseal(folder, certificate.read_text())
    assert statuses(looked(folder)) == {"lamp.ilk": ("not certified", "holds")}


def test_an_approval_cut_out_of_the_chain(library: Path) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    for reason in ("again", "and again"):
        done = shutproof("approve", lamp, "--by", "Q. Test", "--reason", reason)
        assert done.returncode == 0
    path = lamp.parent / "approval.toml"
    first, one, _two, three = path.read_text().split("\n[[approval]]")
    assert statuses(looked(library))["lamps/lamp.ilk"] == ("approved", "holds")
    path.write_text("\n[[approval]]".join((first, one, three)))
    assert statuses(looked(library))["lamps/lamp.ilk"] == ("tampered", None)


def test_the_cache_knows_only_what_has_not_changed(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache.sqlite"
    assert looked(library, "--cache", cache)["known"] == 0
    assert looked(library, "--cache", cache)["known"] == 2
    lamp = library / "lamps" / "lamp.ilk"
    lamp.write_text(LAMP.replace("tractor is present and ", ""))
    document = looked(library, "--cache", cache)
    assert document["known"] == 1
    assert statuses(document)["lamps/lamp.ilk"] == ("changed", "violated")
    assert looked(library, "--cache", cache)["known"] == 2
    (certificate,) = (library / "heron").glob("*.certificate.json")
    certificate.write_text(certificate.read_text() + " ")
    document = looked(library, "--cache", cache)
    assert statuses(document)["heron/heron.ilk"] == ("not certified", "holds")


def test_a_spoilt_cache_knows_nothing(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache.sqlite"
    looked(library, "--cache", cache)
    rows = sqlite3.connect(cache)
    rows.execute(
        "update answers set content = cast(replace(content, 'approved', 'APPROVED') as blob)"
    )
    rows.commit()
    rows.close()
    assert looked(library, "--cache", cache)["known"] == 0
    cache.write_bytes(b"no database at all" * 1000)
    assert looked(library, "--cache", cache)["known"] == 0
    assert looked(library, "--cache", cache)["known"] == 2


def test_what_happens_to_one_costs_no_other(library: Path) -> None:
    """A worker that may have no memory to speak of fails; the others answer."""
    done = shutproof("regress", library, "--memory", "1", "--json")
    told = statuses(json.loads(done.stdout))
    assert told["heron/heron.ilk"][0] == "failed"
    assert done.returncode in (1, 3)
    assert set(told) == {"heron/heron.ilk", "lamps/lamp.ilk"}


NAMES = ["a lamp", "lamp\nbelow", "\u202egnitfil", 'quote" & <tag>', "bell\x07", "l\u00e4mp"]


@pytest.mark.parametrize("name", NAMES)
def test_names_of_files(name: str, tmp_path: Path) -> None:
    folder = tmp_path / "library"
    folder.mkdir()
    lamp = folder / f"{name}.ilk"
    lamp.write_text(LAMP)
    done = shutproof("approve", lamp, "--by", name, "--reason", name)
    assert done.returncode == 0, done.stderr
    report = tmp_path / "report.xml"
    document = looked(folder, "--junit", report)
    assert statuses(document) == {f"{name}.ilk": ("approved", "holds")}
    (case,) = ElementTree.parse(report).iter("testcase")
    shown = re.sub("[\x00-\x08]", lambda one: f"\\u{{{ord(one[0]):x}}}", f"{name}.ilk")
    assert case.get("name") == shown


def test_junit_tells_the_story(library: Path, tmp_path: Path) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    lamp.write_text(LAMP.replace("tractor is present and ", ""))
    report = tmp_path / "report.xml"
    assert shutproof("regress", library, "--junit", report).returncode == 1
    suite = ElementTree.parse(report).getroot().find("testsuite")
    assert suite is not None
    assert (suite.get("tests"), suite.get("failures"), suite.get("errors")) == ("2", "1", "0")
    (failure,) = suite.iter("failure")
    assert failure.get("type") == "changed"
    assert "button is pushed" in (failure.text or "")


def test_the_text_is_whole_in_a_file(library: Path, tmp_path: Path) -> None:
    there = tmp_path / "told.txt"
    assert shutproof("regress", library, "-o", there).returncode == 0
    text = there.read_text()
    assert text.startswith("heron/heron.ilk: approved, holds (by Q. Test, 2026-02-03)\n")
    assert "2 approved: as it was approved, and its certificate stands" in text
    assert "Caution" in text


def test_pages_of_a_library(library: Path, tmp_path: Path) -> None:
    """An index, and a page for each design; nobody else's file is written over."""
    pages = tmp_path / "pages"
    lamp = library / "lamps" / "lamp.ilk"
    lamp.write_text(LAMP.replace("tractor is present and ", ""))
    for _ in range(2):
        assert shutproof("regress", library, "--html", pages).returncode == 1
    found = sorted(path.relative_to(pages).as_posix() for path in pages.rglob("*.*"))
    assert found == ["designs/heron/heron.ilk.html", "designs/lamps/lamp.ilk.html", "index.html"]
    index = (pages / "index.html").read_text()
    assert all(f'href="{path}"' in index for path in found[:2])
    lit = (pages / found[1]).read_text()
    assert "This must always be and is not" in lit
    assert 'data-part="lamp"' in lit
    other = tmp_path / "other"
    other.mkdir()
    (other / "index.html").write_text("mine")
    done = shutproof("regress", library, "--html", other)
    assert done.returncode == 2
    assert "was not written by shutproof" in done.stderr
    assert (other / "index.html").read_text() == "mine"
