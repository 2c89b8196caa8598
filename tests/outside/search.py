"""Cut sets of a design by the study, each order proved complete."""

from __future__ import annotations

from verifier.engines.engine import Budget
from verifier.model.circuit import Circuit
from verifier.model.strikes import strikes
from verifier.studies.fault_questions import questions, woven_of
from verifier.studies.fault_search import Search
from verifier.studies.watching import Nobody


def cut_sets(circuit: Circuit, number: int, order: int) -> set[frozenset[str]]:
    """Of a property by its number."""
    known = strikes(circuit)
    asked = list(questions(woven_of(circuit, known, [number]), [number]))
    search = Search(circuit, known, asked, order, Budget(), Nobody())
    try:
        search.run()
    finally:
        search.close()
    standing = search.standings[number]
    assert standing.complete_to == order, standing.orders
    return {frozenset(known[fault].name for fault in faults) for faults in standing.shown}
