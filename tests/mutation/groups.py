"""Which modules are mutated, and the tests that should notice: few, quick, the likeliest first."""

from __future__ import annotations

from msgspec import Struct

from tests.mutation.mutants import ROOT


class Group(Struct, frozen=True):
    """modules: paths below the folder, without their suffix.   tests: as pytest takes them; those
    named after a module come before."""

    name: str
    folder: str
    modules: tuple[str, ...]
    tests: tuple[str, ...]

    def paths(self) -> list[str]:
        return [f"{self.folder}/{module}.py" for module in self.modules]

    def tests_of(self, path: str) -> tuple[str, ...]:
        module = path.removeprefix(f"{self.folder}/").removesuffix(".py")
        own = self.folder.replace("verifier", "tests", 1) + f"/test_{module}.py"
        first = (own,) if (ROOT / own).exists() else ()
        return (*first, *(one for one in self.tests if one != own))


AGREEMENT = "tests/agreement/test_compiled.py::test_they_agree_on_circuits_by_number"
ORDERS = "tests/agreement/test_orders.py"
RACES = "tests/agreement/test_races.py::test_on_circuits_by_number"

GROUPS = (
    Group(
        "compiler",
        "verifier/transition",
        (
            "compile",
            "conditions",
            "decode",
            "driven",
            "elimination",
            "encoding",
            "graph",
            "movement",
            "paths",
            "pressure",
            "properties",
            "readings",
            "recovery",
            "selection",
        ),
        ("tests/transition/test_compile.py", AGREEMENT, "tests/transition/test_graph.py"),
    ),
    Group(
        "obligations",
        "verifier/transition",
        ("obligations", "turning", "settling", "dimacs"),
        (
            "tests/transition/test_obligations.py",
            "tests/evidence/test_settling.py",
            "tests/engines/test_settle.py",
        ),
    ),
    Group(
        "races",
        "verifier/transition",
        ("racing", "twofold"),
        (ORDERS, "tests/outside/test_races.py", RACES),
    ),
    Group(
        "pressure",
        "verifier/simulation",
        ("air", "pressures", "movement", "judging", "steps", "checking", "procedure", "replay"),
        ("tests/simulation", AGREEMENT),
    ),
    Group(
        "evidence",
        "verifier/evidence",
        (
            "certificate",
            "invariant",
            "parting",
            "replay",
            "script",
            "settling",
            "totality",
        ),
        ("tests/evidence",),
    ),
)
