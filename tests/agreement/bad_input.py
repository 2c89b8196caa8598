"""Any bytes at all through the front door: a verdict or a refusal, never a traceback, never a hang.

    python -m tests.agreement.bad_input --seed 1 --bytes 2000 --mutants 2000

Random byte files and mutated designs of the library go through `shutproof prove` in this process.
A run is bad if the command ends with a status other than 0, 1, 2 or 3, writes a traceback, or takes
longer than `--seconds`. Exit status 1 if any was bad; each is kept in a folder that is named.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from random import Random
from types import FrameType
from unittest import mock

from verifier.cli.main import main as command
from verifier.shipped import specs_folder

EXPECTED = (0, 1, 2, 3)


class TooLong(BaseException):
    """Not an Exception, so that nothing on the way takes it for a bug of its own."""


def _too_long(_signal: int, _frame: FrameType | None) -> None:
    raise TooLong


def random_bytes(random: Random) -> bytes:
    """Noise, printable noise, or noise within a design's own words."""
    size = random.randrange(600)
    sort = random.randrange(3)
    if sort == 0:
        return random.randbytes(size)
    if sort == 1:
        return bytes(random.choices(range(9, 127), k=size))
    words = random.choice(_designs()).split()
    return " ".join(random.choices(words, k=size // 5)).encode("utf-8")


def mutant(random: Random) -> bytes:
    """A design of the library with one to four small changes."""
    lines = random.choice(_designs()).split("\n")
    words = " ".join(lines).split()
    for _ in range(random.randint(1, 4)):
        at = random.randrange(len(lines))
        change = random.randrange(6)
        if change == 0:
            del lines[at]
        elif change == 1:
            lines.insert(at, random.choice(lines))
        elif change == 2:
            lines[at] = lines[at][: random.randint(0, len(lines[at]))]
        elif change == 3:
            parts = lines[at].split(" ")
            parts[random.randrange(len(parts))] = random.choice(words)
            lines[at] = " ".join(parts)
        elif change == 4:
            digit = str(random.randrange(10))
            lines[at] = "".join(digit if c.isdigit() else c for c in lines[at])
        else:
            place = random.randint(0, len(lines[at]))
            lines[at] = lines[at][:place] + random.choice('()[],:.->"#\t\0é') + lines[at][place:]
        lines = lines or [""]
    return "\n".join(lines).encode("utf-8")


@cache
def _designs() -> tuple[str, ...]:
    return tuple(p.read_text(encoding="utf-8") for p in sorted(specs_folder().glob("*/*.ilk")))


class _Stream(io.TextIOWrapper):
    """A text stream that keeps what is written, with a `buffer` as the real ones have."""

    buffer: io.BytesIO


def _stream() -> _Stream:
    return _Stream(io.BytesIO(), encoding="utf-8")


def outcome(file: Path, seconds: int) -> str:
    """What `shutproof prove` makes of the file: a status, or what is wrong with the run."""
    told, status = _stream(), None
    arguments = ["shutproof", "prove", "--conflicts", "20000", "--depth", "20", str(file)]
    signal.signal(signal.SIGALRM, _too_long)
    signal.alarm(seconds)
    try:
        with (
            mock.patch.object(sys, "argv", arguments),
            contextlib.redirect_stdout(_stream()),
            contextlib.redirect_stderr(told),
        ):
            command()
    except SystemExit as ending:
        status = ending.code
    except TooLong:
        return f"more than {seconds} s"
    finally:
        signal.alarm(0)
    told.flush()
    if status not in EXPECTED or b"Traceback" in told.buffer.getvalue():
        return f"bad status {status}"
    return f"status {status}"


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="tests.agreement.bad_input", description=__doc__)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--bytes", type=int, default=2000, help="how many random byte files")
    parser.add_argument("--mutants", type=int, default=2000, help="how many mutated designs")
    parser.add_argument("--seconds", type=int, default=120, help="longest time of one run")
    options = parser.parse_args(arguments)
    made = [("bytes", random_bytes)] * options.bytes + [("mutant", mutant)] * options.mutants
    said: Counter[str] = Counter()
    bad = 0
    begun = time.monotonic()
    folder = Path(tempfile.mkdtemp(prefix="bad_input_"))
    for number, (sort, make) in enumerate(made):
        file = folder / f"{sort}{number}.ilk"
        file.write_bytes(make(Random(f"{options.seed} {number}")))
        found = outcome(file, options.seconds)
        said[f"{sort}: {found}"] += 1
        if found.startswith("status"):
            file.unlink()
        else:
            bad += 1
            print(f"{file}: {found}", flush=True)
    for what, count in sorted(said.items()):
        print(f"{count:9}  {what}")
    print(f"{len(made)} files, {bad} bad, {time.monotonic() - begun:.0f} s")
    if not bad:
        folder.rmdir()
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
