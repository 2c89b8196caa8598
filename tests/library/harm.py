"""Kills approvals and looks at libraries at random moments, and sees what is left.

    python -m tests.library.harm [--kills N] [--seed N]

Half of the commands are killed (-9) at any moment of theirs, the other half while they write: those
are copies of this process that have proved already. After each, no approval is half written, none
is lost, and the certificate of the last one is whole; the cache answers as if nothing had been.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
import warnings
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from tests.library.shelf import LAMP, SHUTPROOF
from verifier.audit.again import check_again
from verifier.cli.files import write_whole
from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew
from verifier.library.approvals import NAME, current, read
from verifier.library.approving import approve
from verifier.library.cache import SqliteCache
from verifier.library.regress import regress
from verifier.model.load import Loaded, load
from verifier.report.certificate import Certificate
from verifier.report.library import LibraryResult
from verifier.report.result import DesignResult
from verifier.studies.bundle import certificate_of
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep

KILLS = 200
OPTIONS = Options(jobs=1)
DESIGNS = 3


class Harm:
    """A folder with a few lamps, each in a folder of its own, and a cache beside it."""

    def __init__(self, place: Path, seed: int) -> None:
        self.random = random.Random(seed)
        self.folder = place / "library"
        self.cache = place / "cache.sqlite"
        self.paths = []
        for number in range(DESIGNS):
            path = self.folder / f"lamp {number}" / "lamp.ilk"
            path.parent.mkdir(parents=True)
            path.write_text(LAMP.replace("design lamp", f"design lamp_{number}"))
            self.paths.append(path)
        self.proved = {path: _proved(path) for path in self.paths}
        for path in self.paths:
            self.approve(path, "first")
        self.seconds = self._timed(lambda: self.approve(self.paths[0], "timed"))
        self.regress_seconds = self._timed(lambda: self.regress())
        self.sound = self.regress().designs
        self.ways: Counter[str] = Counter()

    @staticmethod
    def _timed(work: Callable[[], object]) -> float:
        began = time.perf_counter()
        work()
        return time.perf_counter() - began

    # ---- what is done
    def approve(self, path: Path, reason: str) -> None:
        loaded, result, certificate = self.proved[path]
        signed = ("harm", reason, "2026-01-01")
        approve(path, loaded, result, certificate, None, signed, write_whole)

    def regress(self) -> LibraryResult:
        cache = SqliteCache(self.cache, OPTIONS, Limits())
        return regress(self.folder, OPTIONS, Limits(), Crew(), cache, lambda *_: None)

    # ---- and killed
    def kill(self) -> None:
        """One of four: which is drawn, and so is the moment."""
        way = self.random.choice(("approve", "regress", "approve, writing", "regress, looking"))
        self.ways[way] += 1
        path = self.random.choice(self.paths)
        before = len(read(path.parent))
        if way == "approve":
            told = self._command("approve", path, "--by", "harm", "--reason", "killed")
        elif way == "regress":
            told = self._command("regress", self.folder, "--cache", self.cache)
        elif way == "approve, writing":
            told = self._copy(lambda: self.approve(path, "killed"), self.seconds)
        else:
            # So that there is something to find out and to keep.
            path.write_text(f"{path.read_text()}# {before}\n")
            told = self._copy(self.regress, self.regress_seconds)
        self._check(path, before, told=told and way.startswith("approve"))

    def _command(self, *arguments: object) -> bool:
        """Killed within the time that it takes about. Whether it said that it was done."""
        process = subprocess.Popen(
            [str(SHUTPROOF), *map(str, arguments)],
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            stdin=subprocess.DEVNULL,
        )
        time.sleep(self.random.uniform(0.05, 1.5))
        process.send_signal(signal.SIGKILL)
        said, _ = process.communicate()
        return b"is approved" in said

    def _copy(self, work: Callable[[], object], seconds: float) -> bool:
        """A copy of this process, killed within twice the time that the work takes."""
        source, out = os.pipe()
        with warnings.catch_warnings():
            # Python warns where threads run; the copy touches nothing that those hold.
            warnings.simplefilter("ignore", DeprecationWarning)
            pid = os.fork()
        if pid == 0:
            try:
                work()
                os.write(out, b"done")
            finally:
                os._exit(0)
        os.close(out)
        time.sleep(self.random.uniform(0, 2 * seconds))
        os.kill(pid, signal.SIGKILL)
        os.waitpid(pid, 0)
        with os.fdopen(source, "rb") as stream:
            return stream.read() == b"done"

    # ---- what must be so
    def _check(self, path: Path, before: int, *, told: bool) -> None:
        approvals = read(path.parent)  # raises Tampered for one that is half written
        assert len(approvals) in (before, before + 1), "an approval was lost"
        assert not told or len(approvals) == before + 1, "it said that it was done"
        for one in self.paths:
            last = current(read(one.parent))["lamp.ilk"]
            content = (one.parent / last.certificate).read_bytes()
            assert hashlib.sha256(content).hexdigest() == last.certificate_sha256
        if self.cache.exists():
            rows = sqlite3.connect(self.cache)
            assert rows.execute("pragma integrity_check").fetchone() == ("ok",)
            rows.close()

    def close(self) -> None:
        """Afterwards all goes on as ever, and what the killed ones left is gone."""
        for path in self.paths:
            self.approve(path, "last")
            last = current(read(path.parent))["lamp.ilk"]
            left = {one.name for one in path.parent.iterdir()}
            assert left == {"lamp.ilk", NAME, last.certificate}, left
        found = self.regress().designs
        assert [(one.file, one.status, one.verdict) for one in found] == [
            (one.file, one.status, one.verdict) for one in self.sound
        ]
        assert all(one.status == "approved" for one in found)
        again = self.regress()
        assert again.known == DESIGNS, "the cache is not usable"


def _proved(path: Path) -> tuple[Loaded, DesignResult, Certificate]:
    loaded = load(path, Limits())
    result, study = prove_and_keep(loaded, OPTIONS)
    certificate = certificate_of(loaded, result, study)
    check_again(loaded.circuit, certificate)
    return loaded, result, certificate


def harm(place: Path, kills: int, seed: int) -> Counter[str]:
    """How often which was killed. Raises AssertionError and Tampered."""
    one = Harm(place, seed)
    for _ in range(kills):
        one.kill()
    one.close()
    return one.ways


def main() -> None:
    parser = argparse.ArgumentParser(prog="tests.library.harm", description=__doc__)
    parser.add_argument("--kills", type=int, default=KILLS)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        ways = harm(Path(place), options.kills, options.seed)
    for way, count in sorted(ways.items()):
        print(f"{count:5} killed: {way}")
    print("nothing was lost, nothing was half written, the cache answers")
    sys.exit(0)


if __name__ == "__main__":
    main()
