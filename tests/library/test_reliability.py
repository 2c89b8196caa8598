"""What may happen to a library: somebody pulls the plug, takes room or permission away, sets the
clock back, or looks at the same time."""

from __future__ import annotations

import ast
import datetime
import os
import subprocess
import sys
from pathlib import Path

import pytest
from click.testing import CliRunner

from tests.library.harm import harm
from tests.library.shelf import LAMP, ROOT, SHUTPROOF, shutproof
from verifier.cli import clock
from verifier.cli.approve import command as approve
from verifier.library.approvals import read
from verifier.library.cache import SqliteCache
from verifier.shipped import source_digest
from verifier.studies.options import Options


def test_killed_at_random_moments(tmp_path: Path) -> None:
    """`python -m tests.library.harm` does this 200 times."""
    assert sum(harm(tmp_path, 10, seed=7).values()) == 10


def test_a_full_disk(library: Path, tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    module = [sys.executable, "-m", "tests.library.full_disk", str(library), str(disk)]
    done = subprocess.run(
        ["unshare", "--map-root-user", "--mount", *module],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert done.returncode == 0, done.stderr


def without_privileges(*arguments: object) -> subprocess.CompletedProcess[str]:
    """By somebody whom permissions bind, even as root."""
    bound = "-dac_override,-dac_read_search"
    drop = ["setpriv", f"--bounding-set={bound}", f"--inh-caps={bound}"] if not os.geteuid() else []
    return subprocess.run(
        [*drop, str(SHUTPROOF), *map(str, arguments)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_a_folder_in_which_nobody_may_write(library: Path, tmp_path: Path) -> None:
    folder = library / "lamps"
    before = {one.name: one.read_bytes() for one in folder.iterdir()}
    folder.chmod(0o555)
    try:
        refused = without_privileges(
            "approve", folder / "lamp.ilk", "--by", "Q", "--reason", "none"
        )
        assert refused.returncode == 2, refused
        assert "lamps" in refused.stderr
        assert "Permission denied" in refused.stderr
        looked = without_privileges("regress", folder, "--junit", tmp_path / "report.xml")
        assert looked.returncode == 0, looked.stderr
        cache = without_privileges("regress", folder, "--cache", folder / "cache.sqlite")
        assert cache.returncode == 2
        assert "cache.sqlite: unable to open database file" in cache.stderr
    finally:
        folder.chmod(0o755)
    assert {one.name: one.read_bytes() for one in folder.iterdir()} == before


def test_a_cache_that_cannot_be_written_is_not_thrown_away(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "kept" / "cache.sqlite"
    cache.parent.mkdir()
    assert shutproof("regress", library, "--cache", cache).returncode == 0
    content = cache.read_bytes()
    cache.chmod(0o444)
    cache.parent.chmod(0o555)
    try:
        done = without_privileges("regress", library, "--cache", cache)
    finally:
        cache.parent.chmod(0o755)
    assert done.returncode in (0, 2)
    assert done.returncode == 0 or "cache.sqlite" in done.stderr
    assert cache.read_bytes() == content


def test_a_design_that_nobody_may_read(library: Path) -> None:
    lamp = library / "lamps" / "lamp.ilk"
    lamp.chmod(0)
    try:
        done = without_privileges("regress", library)
    finally:
        lamp.chmod(0o644)
    assert done.returncode == 1
    assert "lamps/lamp.ilk: invalid" in done.stdout


def test_a_clock_that_was_set_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The chain of approvals does not go by days; a day that cannot be right is not written down
    unless somebody says it."""
    lamp = tmp_path / "lamp.ilk"
    lamp.write_text(LAMP)
    asked = [str(lamp), "--by", "Q", "--reason", "clocks"]
    days = [datetime.date(2026, 3, 2), datetime.date(2026, 3, 2), datetime.date(1970, 1, 1)]
    told = []
    for day in days:
        monkeypatch.setattr(clock, "today", lambda day=day: day)
        told.append(CliRunner().invoke(approve, asked))
    assert [one.exit_code for one in told] == [0, 0, 1], [one.output for one in told]
    assert "the clock says 1970-01-01" in told[2].output
    assert "--date gives the day" in told[2].output
    assert CliRunner().invoke(approve, [*asked, "--date", "1970-01-01"]).exit_code == 0
    assert [one.date for one in read(tmp_path)] == ["2026-03-02", "2026-03-02", "1970-01-01"]


CLOCKS = {"today", "now", "utcnow", "time", "time_ns", "localtime", "gmtime", "strftime", "ctime"}
MODULES = {"time", "datetime", "date"}


def test_nobody_else_asks_what_day_it_is() -> None:
    """So nothing else can depend on it: durations are measured by clocks that never go back."""
    asking = [
        path.name
        for path in sorted((ROOT / "verifier").rglob("*.py"))
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr in CLOCKS
        and ast.unparse(node.func.value).split(".")[-1] in MODULES
    ]
    assert asking == ["clock.py"]


def test_two_looks_at_once(library: Path, tmp_path: Path) -> None:
    cache = tmp_path / "cache.sqlite"
    both = [
        subprocess.Popen(
            [SHUTPROOF, "regress", library, "--cache", cache, "--json"],
            stdout=subprocess.PIPE,
            stdin=subprocess.DEVNULL,
        )
        for _ in range(2)
    ]
    said = [one.communicate(timeout=120)[0] for one in both]
    assert [one.returncode for one in both] == [0, 0]
    told = [text.split(b'"known"')[0] for text in said]
    assert told[0] == told[1]
    assert (
        b'"known": 2' in shutproof("regress", library, "--cache", cache, "--json").stdout.encode()
    )


def test_the_cache_is_bound_to_our_own_source(
    library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from verifier.diagnostics.limits import Limits
    from verifier.engines.crew import Crew
    from verifier.library.regress import regress

    def known() -> int:
        cache = SqliteCache(tmp_path / "cache.sqlite", Options(jobs=1), Limits())
        told = regress(library / "lamps", Options(jobs=1), Limits(), Crew(), cache, lambda *_: None)
        return told.known

    assert [known(), known()] == [0, 1]
    monkeypatch.setattr("verifier.library.cache.source_digest", lambda: "another program")
    assert known() == 0
    assert len(source_digest()) == 64
