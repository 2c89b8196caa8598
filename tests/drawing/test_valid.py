"""Drawings are valid SVG 2 (W3C): elements with attributes that they have there, content models,
path data by its grammar, lengths, ids and links. From the recommendation's element and attribute
indexes (sections 9.3.9 for path data, appendices K and L), from memory."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections import Counter

import pytest

from tests.benchmarks.families.bank import circuit as bank
from tests.drawing.designs import LIBRARY, library
from verifier.drawing import lay_out, to_svg
from verifier.model.load import load_text

SVG = "{http://www.w3.org/2000/svg}"
SHAPES = {"rect", "path", "circle"}
CONTAINERS = {"svg", "g", "a"}
DRAWN = frozenset({*SHAPES, *CONTAINERS, "text", "title", "desc", "style"})
SAID = frozenset({"title", "desc"})
# Elements that may stand in each; None: text only.
CONTENT: dict[str, frozenset[str] | None] = {
    **dict.fromkeys(CONTAINERS, DRAWN),
    **dict.fromkeys(SHAPES, SAID),
    "text": None,
    "title": None,
    "desc": None,
    "style": None,
}
EVERYWHERE = {"id", "class", "role", "tabindex", "transform", "font-size", "text-anchor"}
OWN = {
    "svg": {"viewBox", "width", "height", "x", "y", "preserveAspectRatio"},
    "g": set[str](),
    "a": {"href"},
    "rect": {"x", "y", "width", "height", "rx", "ry"},
    "circle": {"cx", "cy", "r"},
    "path": {"d"},
    "text": {"x", "y"},
    "title": set[str](),
    "desc": set[str](),
    "style": {"type", "media"},
}
NUMBER = r"[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?"
LENGTH = re.compile(rf"{NUMBER}(?:mm|px|%)?")
TRANSFORM = re.compile(rf"(?:(?:translate|scale|rotate)\({NUMBER}(?:[ ,]+{NUMBER})*\)\s*)+")
ARGUMENTS = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "s": 4, "q": 4, "t": 2, "a": 7, "z": 0}
LENGTHS = ("x", "y", "width", "height", "rx", "ry", "cx", "cy", "r", "font-size")


def mistakes(text: str) -> list[str]:
    root = ET.fromstring(text)
    assert root.tag == f"{SVG}svg"
    ids = Counter(node.attrib["id"] for node in root.iter() if "id" in node.attrib)
    found = [f"id {name} twice" for name, count in ids.items() if count > 1]
    for node in root.iter():
        found += of_element(node, set(ids))
    return found


def of_element(node: ET.Element, ids: set[str]) -> list[str]:
    name = node.tag.removeprefix(SVG)
    if name not in CONTENT:
        return [f"{name} is no element of SVG that is used here"]
    allowed = CONTENT[name]
    found = [
        f"{child.tag} in {name}"
        for child in node
        if allowed is None or child.tag.removeprefix(SVG) not in allowed
    ]
    if name in CONTAINERS and any((one or "").strip() for one in (node.text, *tails(node))):
        found.append(f"bare text in {name}")
    for attribute, value in node.attrib.items():
        own = attribute in OWN[name] or attribute in EVERYWHERE
        if not own and not re.fullmatch(r"(data|aria)-[a-z][a-z-]*", attribute):
            found.append(f"{attribute} at {name}")
        if attribute in LENGTHS and not LENGTH.fullmatch(value):
            found.append(f"{attribute}={value}")
        if attribute in ("width", "height", "r", "rx") and value.startswith("-"):
            found.append(f"negative {attribute}")
        if attribute == "transform" and not TRANSFORM.fullmatch(value):
            found.append(f"transform={value}")
        if attribute == "d":
            found += of_path(value)
        if attribute == "href" and value.removeprefix("#") not in ids:
            found.append(f"link to {value}")
        if attribute == "text-anchor" and value not in ("start", "middle", "end"):
            found.append(f"text-anchor={value}")
    return found


def tails(node: ET.Element) -> list[str | None]:
    return [child.tail for child in node]


def of_path(data: str) -> list[str]:
    """SVG 2, 9.3.9: moveto first, each command with a multiple of its arguments, flags 0 or 1."""
    tokens = re.findall(rf"[A-Za-z]|{NUMBER}|[^\s,]", data)
    if not tokens or tokens[0] not in "Mm":
        return [f"path does not begin with a moveto: {data}"]
    found, at = [], 0
    while at < len(tokens):
        command = tokens[at].lower()
        if command not in ARGUMENTS:
            return [*found, f"{tokens[at]} in a path: {data}"]
        end = at + 1
        while end < len(tokens) and re.fullmatch(NUMBER, tokens[end]):
            end += 1
        count, wanted = end - at - 1, ARGUMENTS[command]
        if (count != 0) if wanted == 0 else (count == 0 or count % wanted):
            found.append(f"{tokens[at]} with {count} numbers: {data}")
        if command == "a":
            flags = (tokens[at + 1 + k] for k in range(count) if k % 7 in (3, 4))
            found += [f"flag {flag}" for flag in flags if flag not in ("0", "1")]
        at = end
    return found


@pytest.mark.parametrize("live", [True, False], ids=["live", "still"])
@pytest.mark.parametrize("name", LIBRARY)
def test_library(name: str, live: bool) -> None:
    circuit, layout = library(name)
    assert mistakes(to_svg(circuit, layout, live=live)) == []


def test_several_sheets() -> None:
    circuit = load_text(bank("twenty", "20 compartments on 4 manifolds", 20, 4, True)).circuit
    layout = lay_out(circuit)
    assert len(layout.sheets) > 1
    assert mistakes(to_svg(circuit, layout)) == []


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ('<path d="L1 2"/>', "path does not begin with a moveto: L1 2"),
        ('<path d="M1 2 3"/>', "M with 3 numbers: M1 2 3"),
        ('<path d="M0 0A1 1 0 2 0 3 3"/>', "flag 2"),
        ('<rect x="1" y="2" width="-3" height="4"/>', "negative width"),
        ('<circle cx="1" cy="2" r="3" length="4"/>', "length at circle"),
        ("<g>words</g>", "bare text in g"),
        ('<a href="#nowhere"/>', "link to #nowhere"),
        ('<g id="a"/><g id="a"/>', "id a twice"),
        ("<blink/>", "blink is no element of SVG that is used here"),
    ],
)
def test_mistakes_are_noticed(body: str, said: str) -> None:
    found = mistakes(f'<svg xmlns="http://www.w3.org/2000/svg">{body}</svg>')
    assert said in found
