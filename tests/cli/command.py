"""Running the installed command the way a user does."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
HERON = ROOT / "specs" / "heron" / "heron.ilk"
BANK_FROM_MASTER = ROOT / "tests" / "designs" / "violated" / "heron_bank_from_master.ilk"
SHUTPROOF = Path(sys.executable).with_name("shutproof")


def shutproof(
    *arguments: object, folder: Path = ROOT, **environment: str
) -> subprocess.CompletedProcess[str]:
    """Runs the command to its end; output as text."""
    return subprocess.run(
        [str(SHUTPROOF), *map(str, arguments)],
        cwd=folder,
        env={**os.environ, **environment},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def broken(patch: str, *arguments: object) -> subprocess.CompletedProcess[str]:
    """The command in a fresh interpreter in which `patch` has spoilt something."""
    program = f"{patch}\nimport sys\nfrom verifier.cli.main import main\nmain()\n"
    return subprocess.run(
        [sys.executable, "-c", program, *map(str, arguments)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
