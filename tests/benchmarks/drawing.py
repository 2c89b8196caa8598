"""Drawings measured: `python -m tests.benchmarks.drawing` prints a table of banks of selectors.

Beside ours stands what the layout library makes of the same symbols by itself, ports in their
places, every line as edges from where its air comes from; and what elkjs makes of that (layered,
orthogonal). Both draw on one sheet as large as it may be, several edges for each line. Seconds are
of the processor. elkjs ran once: its figures are in elk.json; `--elk FOLDER` runs it again, where
FOLDER has it installed (`npm install elkjs`).
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import subprocess
import time
from collections import defaultdict
from itertools import pairwise
from pathlib import Path
from typing import Any

from tests.benchmarks.families import FAMILIES
from verifier.drawing import lay_out, to_svg
from verifier.drawing.checks import faults_of, measures_of
from verifier.drawing.figures import figure_of
from verifier.drawing.page import to_page
from verifier.drawing.simple import supply_figure
from verifier.drawing.told import tell
from verifier.model.circuit import Circuit
from verifier.model.load import load_text

SIZES = ((3, 1), (8, 3), (20, 4), (100, 4))
HERE = Path(__file__).resolve().parent
RECORDED = HERE / "elk.json"
CELL = 64.0
PATIENCE = 45  # s for the library by itself

Edge = tuple[int, int, int, int, int]  # line, symbol and mouth it comes from, symbol and mouth
Polyline = tuple[int, list[tuple[float, float]]]  # line, points


def figures(circuit: Circuit) -> list[Any]:
    told = tell(circuit)
    found = [supply_figure(supply, supply.name) for supply in circuit.supplies]
    return found + [figure_of(told, k, part.name) for k, part in enumerate(circuit.parts)]


def edges(symbols: list[Any]) -> list[Edge]:
    ends: dict[int, list[tuple[bool, int, int]]] = defaultdict(list)
    for k, figure in enumerate(symbols):
        for m, mouth in enumerate(figure.mouths):
            ends[mouth.volume].append((not mouth.gives, k, m))
    found = []
    for volume, mouths in sorted(ends.items()):
        (_, k, m), *rest = sorted(mouths)
        found += [(volume, k, m, other, at) for _, other, at in rest]
    return found


def crossings_and_bends(lines: list[Polyline]) -> tuple[int, int]:
    """Crossings between edges of different lines, and corners of all edges."""
    pieces = [(n, a, b) for n, points in lines for a, b in pairwise(points)]
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for k, (_, a, b) in enumerate(pieces):
        for cx in range(int(min(a[0], b[0]) // CELL), int(max(a[0], b[0]) // CELL) + 1):
            for cy in range(int(min(a[1], b[1]) // CELL), int(max(a[1], b[1]) // CELL) + 1):
                cells[cx, cy].append(k)
    pairs = {(i, j) for inside in cells.values() for i in inside for j in inside if i < j}
    crossed = sum(
        pieces[i][0] != pieces[j][0] and crossing(pieces[i][1:], pieces[j][1:]) for i, j in pairs
    )
    return crossed, sum(len(points) - 2 for _, points in lines)


def crossing(one: Any, other: Any) -> bool:
    """Whether an upright and a level piece cross inside both."""
    (a, b), (c, d) = one, other
    if (a[0] == b[0]) == (c[0] == d[0]):
        return False
    (upright, level) = ((a, b), (c, d)) if a[0] == b[0] else ((c, d), (a, b))
    x, y = upright[0][0], level[0][1]
    x0, x1 = sorted((level[0][0], level[1][0]))
    y0, y1 = sorted((upright[0][1], upright[1][1]))
    return bool(x0 < x < x1 and y0 < y < y1)


def hint(figure: Any, mouth: Any) -> dict[str, Any]:
    """The place of a port, as the library is told it: the side, and how far from its middle.

    It draws from the top to the bottom only, so everything is upside down.
    """
    side = "bottom" if mouth.ways == ("up",) else "top"
    return {"offset": {"side": side, "t": 2 * mouth.x / figure.width - 1}}


def by_library(symbols: list[Any]) -> tuple[float, int, int]:
    """CPU seconds, crossings and bends of the library's own drawing."""
    import graphlay

    graph = {
        "nodes": [
            {"key": str(k), "size": {"width": f.width, "height": f.height}, "shape": "box"}
            for k, f in enumerate(symbols)
        ],
        "edges": [
            {
                "source": k,
                "target": o,
                "weight": 1.0,
                "source_port": hint(symbols[k], symbols[k].mouths[m]),
                "target_port": hint(symbols[o], symbols[o].mouths[p]),
            }
            for _, k, m, o, p in edges(symbols)
        ],
    }
    start = time.process_time()
    drawing = graphlay.layout(graph, options={"direction": "topbottom"})
    seconds = time.process_time() - start
    lines = [
        (edge[0], [(point["x"], point["y"]) for point in drawn["points"]])
        for edge, drawn in zip(edges(symbols), drawing.edges, strict=True)
    ]
    return (seconds, *crossings_and_bends(lines))


def within_patience(symbols: list[Any]) -> str:
    """What the library makes of it, told as in the table, in a process that can be stopped."""
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        try:
            seconds, crossed, bends = pool.apply_async(by_library, (symbols,)).get(PATIENCE)
        except multiprocessing.TimeoutError:
            return f"over {PATIENCE} s"
    return f"{crossed} / {bends} ({seconds:.2f})"


def for_elk(symbols: list[Any]) -> dict[str, Any]:
    children = []
    for k, figure in enumerate(symbols):
        ports = []
        for m, mouth in enumerate(figure.mouths):
            up = "up" in mouth.ways and len(mouth.ways) == 1
            ports.append(
                {
                    "id": f"{k}.{m}",
                    "x": mouth.x,
                    "y": 0 if up else figure.height,
                    "layoutOptions": {"elk.port.side": "NORTH" if up else "SOUTH"},
                }
            )
        children.append(
            {
                "id": str(k),
                "width": figure.width,
                "height": figure.height,
                "ports": ports,
                "layoutOptions": {"elk.portConstraints": "FIXED_POS"},
            }
        )
    return {
        "id": "root",
        "layoutOptions": {
            "elk.algorithm": "layered",
            "elk.direction": "UP",
            "elk.edgeRouting": "ORTHOGONAL",
        },
        "children": children,
        "edges": [
            {"id": f"e{n}", "sources": [f"{k}.{m}"], "targets": [f"{o}.{p}"]}
            for n, (_, k, m, o, p) in enumerate(edges(symbols))
        ],
    }


def by_elk(symbols: list[Any], folder: Path) -> dict[str, Any]:
    done = subprocess.run(
        ["node", str(HERE / "elk.mjs"), str(folder.resolve())],
        input=json.dumps(for_elk(symbols)),
        capture_output=True,
        text=True,
        check=True,
    )
    told = json.loads(done.stdout)
    lines: list[Polyline] = []
    for edge, drawn in zip(edges(symbols), told["graph"]["edges"], strict=True):
        for section in drawn["sections"]:
            points = [section["startPoint"], *section.get("bendPoints", []), section["endPoint"]]
            lines.append((edge[0], [(point["x"], point["y"]) for point in points]))
    crossed, bends = crossings_and_bends(lines)
    return {
        "version": told["version"],
        "seconds": round(told["seconds"], 2),
        "crossings": crossed,
        "bends": bends,
    }


def row(n: int, m: int, elk: dict[str, Any]) -> str:
    circuit = load_text(FAMILIES["bank"].member(n, m).text).circuit
    start = time.process_time()
    layout = lay_out(circuit)
    laid = time.process_time()
    svg = to_svg(circuit, layout, live=False)
    written = time.process_time()
    page = to_page(circuit, layout)
    ours = measures_of(layout)
    assert faults_of(circuit, layout) == ()
    cells = [
        f"{n}x{m}",
        str(len(circuit.parts)),
        str(len(layout.sheets)),
        f"{laid - start:.2f}",
        f"{written - laid:.2f}",
        f"{len(svg) / 1000:.0f}",
        f"{len(page) / 1000:.0f}",
        f"{ours.crossings} / {ours.bends}",
        within_patience(figures(circuit)),
        f"{elk['crossings']} / {elk['bends']} ({elk['seconds']:.2f})",
    ]
    return "| " + " | ".join(cells) + " |"


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n", 1)[0])
    parser.add_argument("--elk", type=Path, help="a folder in which elkjs is installed")
    options = parser.parse_args()
    if options.elk is not None:
        found = {}
        for n, m in SIZES:
            circuit = load_text(FAMILIES["bank"].member(n, m).text).circuit
            found[f"{n}x{m}"] = by_elk(figures(circuit), options.elk)
        RECORDED.write_text(json.dumps(found, indent=2) + "\n")
    recorded = json.loads(RECORDED.read_text())
    print(
        "| bank | parts | sheets | layout s | SVG s | SVG kB | page kB | crossings / bends"
        " | library by itself (s) | elkjs (s) |\n" + "|---" * 10 + "|"
    )
    for n, m in SIZES:
        print(row(n, m, recorded[f"{n}x{m}"]), flush=True)


if __name__ == "__main__":
    main()
