"""One mutant, and whether the tests notice it: each in a process of its own, forked.

What no mutant touches (pytest, solvers) is imported once, before. The child puts the changed
module where the import of its name finds it and runs the tests until the first that fails.
"""

from __future__ import annotations

import ast
import importlib
import os
import resource
import signal
import sys
import time
from collections.abc import Sequence
from importlib.abc import MetaPathFinder
from importlib.machinery import ModuleSpec, SourceFileLoader
from importlib.util import spec_from_file_location
from types import CodeType, ModuleType
from typing import Literal

from tests.mutation.mutants import ROOT, Mutant, mutated

Fate = Literal["killed", "out of time", "survived"]

LIBRARIES = ("hypothesis", "jsonschema", "lark", "msgspec", "networkx", "pysat.solvers", "z3")
OPTIONS = ("-q", "-x", "-pno:cacheprovider", "-pno:xdist", "-Wignore:Module already imported")
MOST_MEMORY = 4 << 30


class _Loader(SourceFileLoader):
    def __init__(self, name: str, path: str, tree: ast.Module) -> None:
        super().__init__(name, path)
        self._tree = tree

    def get_code(self, fullname: str) -> CodeType:
        code: CodeType = compile(self._tree, self.path, "exec")
        return code


class _Finder(MetaPathFinder):
    """Finds the changed module by its name."""

    def __init__(self, mutant: Mutant) -> None:
        self._name = mutant.path.removesuffix(".py").replace("/", ".")
        self._path = str(ROOT / mutant.path)
        self._tree = mutated(mutant)

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None
    ) -> ModuleSpec | None:
        if fullname != self._name:
            return None
        return spec_from_file_location(
            fullname, self._path, loader=_Loader(fullname, self._path, self._tree)
        )


def prepare() -> None:
    """Imports what mutants share. Raises RuntimeError if a module of ours is there already."""
    for name in LIBRARIES:
        importlib.import_module(name)
    known = [name for name in sys.modules if name.split(".")[0] == "verifier"]
    if known:
        raise RuntimeError(f"{known[0]} would be the same for all mutants")


def fate_of(mutant: Mutant | None, tests: Sequence[str], limit: float) -> tuple[Fate, float]:
    """What comes of it, and the processor's seconds that it took. None: the module as it is."""
    before = os.times()
    child = os.fork()
    if child == 0:
        _run(mutant, tests, limit)
    _, status = os.waitpid(child, 0)
    after = os.times()
    spent = after.children_user - before.children_user
    if os.WIFSIGNALED(status) and os.WTERMSIG(status) in (signal.SIGXCPU, signal.SIGALRM):
        return "out of time", spent
    return ("survived" if status == 0 else "killed"), spent


def _run(mutant: Mutant | None, tests: Sequence[str], limit: float) -> None:
    """In the child, which ends here."""
    import pytest

    os.setsid()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    seconds = int(limit) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 5))
    resource.setrlimit(resource.RLIMIT_AS, (MOST_MEMORY, MOST_MEMORY))
    signal.alarm(20 * seconds)
    code = 1
    try:
        if mutant is not None:
            sys.meta_path.insert(0, _Finder(mutant))
        code = int(pytest.main([*OPTIONS, *tests]))
    finally:
        os._exit(min(code, 100))


def measured(tests: Sequence[str]) -> float:
    """Seconds that the tests take of the modules as they are. Raises RuntimeError if one fails."""
    began = time.monotonic()
    fate, spent = fate_of(None, tests, 3_000)
    if fate != "survived":
        raise RuntimeError(f"without any mutant: {fate} after {time.monotonic() - began:.0f} s")
    return spent
