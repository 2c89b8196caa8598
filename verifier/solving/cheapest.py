"""The cheapest way to satisfy clauses, exactly (python-sat's RC2)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from pysat.examples.rc2 import RC2
from pysat.formula import WCNF


def cheapest(clauses: Sequence[Sequence[int]], costs: Mapping[int, int]) -> frozenset[int] | None:
    """Variables that are true in a model of the clauses (numbers, as in DIMACS) in which the sum of
    the costs of true variables is least; None if there is no model."""
    formula = WCNF()
    for clause in clauses:
        formula.append(list(clause))
    for variable, cost in costs.items():
        if cost:
            formula.append([-variable], weight=cost)
    with RC2(formula) as solver:
        model = solver.compute()
    return None if model is None else frozenset(one for one in model if one > 0)
