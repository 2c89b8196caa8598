"""Run in a mount namespace of its own (see test_reliability): a library on a disk without room.

python -m tests.library.full_disk LIBRARY DISK
"""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

from tests.library.shelf import shutproof
from verifier.library.approvals import read

SIZE = "512k"


def main(library: Path, disk: Path) -> None:
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={SIZE}", "none", disk], check=True)
    there = disk / "library"
    shutil.copytree(library, there)
    lamp = there / "lamps" / "lamp.ilk"
    before = read(lamp.parent)
    names = sorted(one.name for one in lamp.parent.iterdir())
    cache = disk / "cache.sqlite"
    assert shutproof("regress", there, "--cache", cache).returncode == 0
    _fill(disk / "filling")

    refused = shutproof("approve", lamp, "--by", "Q", "--reason", "no room")
    assert refused.returncode == 2, refused
    assert "No space left on device" in refused.stderr, refused.stderr
    assert "Traceback" not in refused.stderr
    assert read(lamp.parent) == before
    assert sorted(one.name for one in lamp.parent.iterdir()) == names

    told = shutproof("regress", there, "--junit", disk / "report.xml")
    assert told.returncode == 2, told
    assert "report.xml cannot be written: No space left on device" in told.stderr
    assert not (disk / "report.xml").exists()

    plain = shutproof("regress", there)
    assert plain.returncode == 0, plain
    cached = shutproof("regress", there, "--cache", cache)
    # Either it can be read, or somebody is told what is wrong with it; it is not thrown away.
    assert cached.returncode == 0 or "cache.sqlite" in cached.stderr, cached
    assert cache.stat().st_size > 0

    (disk / "filling").unlink()
    assert shutproof("regress", there, "--cache", cache).returncode == 0
    assert shutproof("approve", lamp, "--by", "Q", "--reason", "room").returncode == 0
    assert len(read(lamp.parent)) == len(before) + 1


def _fill(path: Path) -> None:
    """To the last byte."""
    try:
        with path.open("wb", buffering=0) as stream:
            while True:
                stream.write(b"\0" * 4096)
    except OSError:
        pass


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]))
