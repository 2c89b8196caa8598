"""A small helping of tests.agreement.bad_input, with its own seed."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def test_a_helping_of_bad_input() -> None:
    helping = ["--seed", "11", "--bytes", "60", "--mutants", "60"]
    done = subprocess.run(
        [sys.executable, "-m", "tests.agreement.bad_input", *helping],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    assert "120 files, 0 bad" in done.stdout
