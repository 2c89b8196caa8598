"""What the project demands of its own files: sizes, layers, words, no ties to one machine."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import networkx
import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "verifier"

# path -> why it may be longer; empty when every module keeps to the guide
LONG_MODULES: dict[str, str] = {
    "verifier/syntax/tree.py": "one struct per form of the language, no code",
}
LONG_FUNCTIONS: dict[str, str] = {}

# One word per idea: the word on the left is not used for it, the one on the right is.
BANNED = {
    "component": "part",
    "components": "parts",
    "netlist": "circuit",
    "wire": "line",
    "wires": "lines",
    "pin": "port",
    "actuator": "element",
    "counterexample": "run, or story when it is told",
    "counterexamples": "runs, or stories when they are told",
    "scenario": "run",
    "sanity": "check",
    "utils": "a name that says what is inside",
    "obviously": "nothing: leave it out",
    "simply": "nothing: leave it out",
}
# path -> words allowed there, because they are somebody else's terms
ALLOWED_WORDS: dict[str, set[str]] = {}


def tracked(*suffixes: str) -> list[Path]:
    """Files of the project: what git knows, or everything in an unpacked archive."""
    try:
        listing = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True
        ).stdout.decode()
        paths = [ROOT / name for name in listing.split("\0") if name]
    except (OSError, subprocess.CalledProcessError):
        folders = ("verifier", "grammar", "specs", "tests", ".ci")
        paths = [p for folder in folders for p in sorted((ROOT / folder).rglob("*"))]
        paths += sorted(ROOT.glob("*.*"))
    return [p for p in paths if p.is_file() and (not suffixes or p.suffix in suffixes)]


def relative(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


SOURCES = sorted(PACKAGE.rglob("*.py"))
PYTHON = [path for path in tracked(".py") if path.exists()]


def test_there_are_sources() -> None:
    assert len(SOURCES) > 40
    assert len(PYTHON) > len(SOURCES)


def test_modules_stay_small() -> None:
    lengths = {relative(path): len(path.read_text().splitlines()) for path in PYTHON}
    long = {name: count for name, count in lengths.items() if count > 400}
    assert set(long) <= set(LONG_MODULES), long
    assert set(LONG_MODULES) <= set(long), "an exception that is not needed any more"


def test_functions_stay_small() -> None:
    long = {
        f"{relative(path)}:{node.name}": length
        for path in PYTHON
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (length := (node.end_lineno or 0) - node.lineno + 1) > 60
    }
    assert set(long) == set(LONG_FUNCTIONS), long


def test_lines_stay_short() -> None:
    long = [
        f"{relative(path)}:{number}"
        for path in PYTHON
        for number, line in enumerate(path.read_text().splitlines(), 1)
        if len(line) > 100
    ]
    assert not long


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imports(path: Path) -> Iterator[str]:
    """Every module that a file imports, inside functions too; `from a import b` gives a and a.b."""
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{relative(path)} imports relatively"
            yield str(node.module)
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def test_no_import_cycles() -> None:
    names = {module_name(path): path for path in SOURCES}
    graph = networkx.DiGraph()
    for name, path in names.items():
        graph.add_edges_from((name, used) for used in imports(path) if used in names)
    graph.remove_edges_from(networkx.selfloop_edges(graph))
    assert list(networkx.simple_cycles(graph)) == []


@pytest.mark.parametrize(
    ("library", "doors"),
    [
        ("z3", ("verifier/solving/",)),
        ("pysat", ("verifier/solving/",)),
        ("lark", ("verifier/syntax/",)),
        ("click", ("verifier/cli/",)),
        ("dd", ("verifier/risk/",)),
        ("networkx", ("verifier/changes/",)),
        ("graphlay", ("verifier/drawing/layering.py",)),
        ("weasyprint", ("verifier/drawing/pdf.py",)),
    ],
)
def test_libraries_stand_behind_their_doors(library: str, doors: tuple[str, ...]) -> None:
    users = [
        relative(path)
        for path in SOURCES
        if any(name == library or name.startswith(library + ".") for name in imports(path))
    ]
    assert [user for user in users if not user.startswith(doors)] == []
    assert bool(users) == bool(doors)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("transition", "simulation"),
        ("simulation", "transition"),
        ("evidence", "engines"),
        ("model", "transition"),
    ],
)
def test_what_must_stay_apart(one: str, other: str) -> None:
    users = [
        relative(path)
        for path in sorted((PACKAGE / one).rglob("*.py"))
        if any(name.startswith(f"verifier.{other}") for name in imports(path))
    ]
    assert users == []


def words_of(path: Path) -> Iterator[str]:
    """Words of comments, strings and names, names split at capitals and underscores."""
    text = path.read_text()
    for word in re.findall(r"[A-Za-z]+", text.replace("_", " ")):
        yield word.lower()


def test_one_word_per_idea() -> None:
    found = {
        (relative(path), word): BANNED[word]
        for path in SOURCES
        for word in words_of(path)
        if word in BANNED and word not in ALLOWED_WORDS.get(relative(path), set())
    }
    assert not found


def test_nothing_is_tied_to_one_machine() -> None:
    folders = ("work", "farm", "root", "opt", "home/[a-z]", "tmp/[a-z]")
    hosts = (r"pypi\.org", "pythonhosted", r"registry\.npmjs", r"deb\.debian", r"files\.pypi")
    pattern = re.compile("|".join([*(rf"(?<![\w.~])/{f}(?=/|\b)" for f in folders), *hosts]))
    found = [
        f"{relative(path)}: {match.group()}"
        for path in tracked(".py", ".md", ".toml", ".ilk", ".lark", ".json", ".lock", ".txt", "")
        if path != Path(__file__).resolve()
        and (match := pattern.search(path.read_text(errors="replace")))
    ]
    assert not found


def test_no_loose_ends() -> None:
    marks = re.compile(
        "|".join(["TO" + "DO", "FIX" + "ME", "XX" + r"X\b", "NotImplemented" + "Error"])
        + r"|pytest\.(skip|xfail|importorskip)\(|mark\.(skip|xfail)"
    )
    found = [
        f"{relative(path)}: {match.group()}"
        for path in tracked(".py", ".md", ".ilk", ".lark")
        if path != Path(__file__).resolve() and (match := marks.search(path.read_text()))
    ]
    assert not found


def test_public_functions_have_docstrings() -> None:
    """Public means: at module level of the package, no underscore, longer than twenty lines."""
    bare = [
        f"{relative(path)}:{node.name}"
        for path in SOURCES
        for node in ast.parse(path.read_text()).body
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
        and not node.name.startswith("_")
        and not ast.get_docstring(node)
        and (node.end_lineno or 0) - node.lineno > 20
    ]
    assert not bare


def test_every_diagnostic_code_is_documented() -> None:
    from verifier.diagnostics.codes import CODES

    reference = (ROOT / "grammar" / "REFERENCE.md").read_text()
    assert len(CODES) >= 30
    assert [code for code in CODES if code not in reference] == []
    used = {code for path in SOURCES for code in re.findall(r"\"([EW]\d{2,4})\"", path.read_text())}
    assert used <= set(CODES)
