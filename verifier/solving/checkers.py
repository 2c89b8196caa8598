"""The programs that an audit asks, none of which the search asked: fresh z3, cvc5, a DRAT checker.

cvc5 and dratify come with the extra `audit`.
"""

from __future__ import annotations

from importlib import import_module
from importlib.metadata import PackageNotFoundError, version
from typing import Any


class NotInstalled(Exception):
    """A program that is not there; the message is its name."""


def version_of(package: str) -> str:
    """Its version. Raises NotInstalled."""
    try:
        return version(package)
    except PackageNotFoundError:
        raise NotInstalled(package) from None


def z3_answers(script: str) -> list[str]:
    """The lines that z3 prints for an SMT-LIB script; complaints of its own are lines, too."""
    from verifier.solving.z3_door import z3

    context = z3.Context()
    try:
        return str(z3.Z3_eval_smtlib2_string(context.ref(), script)).splitlines()
    except z3.Z3Exception as complaint:
        return [f"z3: {complaint}"]


def cvc5_answers(script: str) -> list[str]:
    """The same for cvc5. Raises NotInstalled."""
    cvc5 = _imported("cvc5")
    terms = cvc5.TermManager()
    solver = cvc5.Solver(terms)
    solver.setOption("incremental", "true")
    symbols = cvc5.SymbolManager(terms)
    parser = cvc5.InputParser(solver, symbols)
    printed = []
    try:
        parser.setStringInput(cvc5.InputLanguage.SMT_LIB_2_6, script, "obligations")
        while not (command := parser.nextCommand()).isNull():
            printed.append(str(command.invoke(solver, symbols)))
    except RuntimeError as complaint:
        printed.append(f"cvc5: {complaint}\n")
    return "".join(printed).splitlines()


def drat_complaint(clauses: str, proof: str) -> str:
    """Why the proof does not refute the clauses; "" if it does. Raises NotInstalled.

    Only steps by unit propagation count: for those, unlike for others, it does not matter which
    clauses were deleted before.
    """
    dratify = _imported("dratify")
    try:
        formula = dratify.parse_dimacs(clauses, strict=True)
        result = dratify.check_proof(formula, proof, check_rat=False, engine="python")
    except ValueError as complaint:
        return str(complaint)
    return "" if result.ok and result.reached_empty else str(result.reason)


def _imported(package: str) -> Any:
    try:
        return import_module(package)
    except ImportError:
        raise NotInstalled(package) from None
