"""One command, one table: all cut sets of designs, beside other ways to find them out.

    python -m tests.benchmarks.faults [--quick] [--seconds N]

Seconds are of CPU, of the whole process. `faults` is the command with its certificate and replays,
on all that a design states. `singly` asks our own engine about one set of faults after the other,
in the circuit with that set alone, for a drawn sample; told is the cost of one times the number of
sets. `pdr` is yosys-abc on our AIGER file, asked of each property (of states) whether there are
other single faults than those that we found, which it is told. `explicit` visits all states of the
circuit with one set of faults, for a part of the same sample, told likewise. Growth is the exponent
of the power law between two sizes of one family and order, over the number of faults.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from itertools import combinations
from math import comb
from pathlib import Path
from typing import Any

from msgspec import Struct

from tests.benchmarks.child import Limit, run
from tests.benchmarks.contestants import heard, program
from tests.benchmarks.families import FAMILIES
from tests.benchmarks.growth import exponent
from tests.benchmarks.library import path_of
from verifier.engines.engine import Budget
from verifier.engines.many import reach_each
from verifier.model.load import load
from verifier.model.strikes import strikes
from verifier.model.weaving import weave
from verifier.simulation.explore import Exploration
from verifier.studies.fault_questions import questions, why_not, woven_of
from verifier.transition.aiger import binary_file, numbered
from verifier.transition.bounds import Bounds, bounded
from verifier.transition.graph import Graph
from verifier.transition.system import Goal

QUICK = ((("vents", 0), 1), (("heron", 0), 1))
STANDARD = (*QUICK, (("heron", 0), 2), (("bank", 2, 2), 1), (("bank", 3, 2), 1))
SAMPLE = 25
FEW = 5
PDR_SECONDS = 15.0  # for each property
MOST_STATES = 2_000
VENTS = """design vents "Two vents in series"
use standard
supply tractor
part vent[1..2] : sequence_vent
part lamp : visual_indicator
line rise : tractor, vent[1].in
line pass : vent[1].out, vent[2].in
line back : vent[2].out, lamp.in
never "the indicator shows with a vent shut": showing(lamp) and not open(vent[j]) for any j in 1..2
always "loss of air shuts the vents": if tractor is absent then shut(vent[i]) for every i in 1..2
"""


class Row(Struct, frozen=True):
    """seconds: None where the limit ended it."""

    design: str
    order: int
    faults: int
    sets: int
    seconds: float | None
    peak: float
    complete: bool
    singly: str
    pdr: str
    explicit: str


def measured(path: Path, name: str, order: int, limit: Limit) -> Row:
    """One line of the table."""
    program_text = "from verifier.cli import main; main()"
    command = [sys.executable, "-c", program_text, "faults", str(path), "--json"]
    ended = run([*command, "--order", str(order)], limit)
    if ended.how != "done" or ended.status not in (0, 1, 3):
        return Row(name, order, 0, 0, None, ended.peak, False, "", "", ended.how)
    (design,) = json.loads(ended.output)["designs"]
    asked = [one for one in design["properties"] if not one["why_not"]]
    return Row(
        name,
        order,
        len(design["considered"]),
        sum(len(one["cut_sets"]) for one in asked),
        ended.cpu,
        ended.peak,
        all(one["complete_to"] == order for one in asked),
        singly(path, order),
        pdr(path, design, Limit(min(limit.seconds, PDR_SECONDS))) if order == 1 else "-",
        explicit(path) if order == 1 else "-",
    )


def singly(path: Path, order: int) -> str:
    circuit = load(path).circuit
    every = strikes(circuit)
    asked = [k for k, item in enumerate(circuit.properties) if not why_not(item)]
    count = sum(comb(len(every), k) for k in range(order + 1))
    drawn = random.Random(0)
    known = list(combinations(range(len(every)), order)) if order < 3 else []
    sample = [known[drawn.randrange(len(known))] for _ in range(SAMPLE)]
    began = time.process_time()
    for faults in sample:
        woven = woven_of(circuit, [every[k] for k in faults], asked)
        for question in questions(woven, asked):
            reach_each(question.system, [one.goal for one in question.claims], Budget())
    return f"{(time.process_time() - began) / SAMPLE * count:.1f}"


def pdr(path: Path, design: dict[str, Any], limit: Limit) -> str:
    """All properties of states together; those that no run decides count as the limit."""
    program_path = program()
    if program_path is None:
        return "not installed"
    spent, open_ones = 0.0, 0
    for model in _models(path, design):
        with tempfile.NamedTemporaryFile(suffix=".aig") as file:
            file.write(model)
            file.flush()
            ended = run([program_path, "-q", f"read_aiger {file.name}; fold; strash; pdr"], limit)
        spent += ended.cpu
        open_ones += ended.how != "done" or heard(ended.output)[0] != "holds"
    return f"{spent:.1f}" + (f" ({open_ones} open)" if open_ones else "")


def _models(path: Path, design: dict[str, Any]) -> Iterator[bytes]:
    circuit = load(path).circuit
    every = strikes(circuit)
    number = {one.name: k for k, one in enumerate(every)}
    told = {one["name"]: one["cut_sets"] for one in design["properties"]}
    asked = [
        k
        for k, item in enumerate(circuit.properties)
        if not why_not(item) and item.form != "recovers"
    ]
    for question in questions(woven_of(circuit, every, asked), asked):
        for k in asked:
            cuts = told[circuit.properties[k].name]
            apart = tuple(tuple(number[name] for name in one["faults"]) for one in cuts)
            system = bounded(question.system, question.faults.struck, Bounds(1, apart))
            graph: Graph = system.graph
            bad = graph.any(one.goal.bad for one in question.claims if one.property == k)
            yield binary_file(numbered(system, [Goal("other", bad)], reduced=True))


def explicit(path: Path) -> str:
    circuit = load(path).circuit
    every = strikes(circuit)
    began = time.process_time()
    sample = random.Random(0).sample(every, FEW)
    for one in sample:
        if not Exploration(weave(circuit, [one]).circuit, MOST_STATES).complete:
            return f"over {MOST_STATES:,} states"
    return f"{(time.process_time() - began) / FEW * len(every):.1f}"


def shown(rows: Sequence[Row]) -> Iterator[str]:
    head = ("design", "order", "faults", "sets", "all", "faults s", "sets/s", "MiB")
    table = [(*head, "singly s", "pdr s", "explicit s")]
    for row in rows:
        seconds = "time" if row.seconds is None else f"{row.seconds:.1f}"
        rate = "" if not row.seconds else f"{row.sets / row.seconds:.0f}"
        known = "yes" if row.complete else "no"
        own = (row.design, row.order, row.faults, row.sets, known, seconds, rate, f"{row.peak:.0f}")
        table.append((*map(str, own), row.singly, row.pdr, row.explicit))
    widths = [max(len(line[k]) for line in table) for k in range(len(table[0]))]
    for line in table:
        yield "  ".join(cell.rjust(width) for cell, width in zip(line, widths, strict=True))
    for key in dict.fromkeys((row.design.split()[0], row.order) for row in rows):
        mine = [row for row in rows if (row.design.split()[0], row.order) == key and row.seconds]
        power = exponent([(row.faults, row.seconds or 0.0) for row in mine])
        if power is not None:
            yield f"growth of {key[0]} at order {key[1]}: faults to the power {power:.1f}"


def main() -> None:
    parser = argparse.ArgumentParser(prog="tests.benchmarks.faults", description=__doc__)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--seconds", type=float, default=300.0)
    options = parser.parse_args()
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        for (family, *sizes), order in QUICK if options.quick else STANDARD:
            name = " ".join([family, "x".join(map(str, sizes)) if sizes != [0] else ""]).strip()
            path = Path(folder) / f"{family}.ilk"
            if family == "vents":
                path.write_text(VENTS)
            elif sizes == [0]:
                path = path_of(family)
            else:
                path.write_text(FAMILIES[family].member(*sizes).text)
            rows.append(measured(path, name, order, Limit(options.seconds)))
            print(*shown(rows[-1:]), sep="\n", file=sys.stderr, flush=True)
    print(*shown(rows), sep="\n")


if __name__ == "__main__":
    main()
