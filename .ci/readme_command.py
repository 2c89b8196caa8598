"""Prints the N-th of the commands with which README.md opens."""

from __future__ import annotations

import re
import sys
from pathlib import Path

README = Path(__file__).resolve().parent.parent / "README.md"


def commands() -> list[str]:
    """The fenced shell blocks of the README, in order."""
    return re.findall(r"^```sh\n(.*?)^```$", README.read_text(), re.MULTILINE | re.DOTALL)


if __name__ == "__main__":
    print(commands()[int(sys.argv[1]) - 1], end="")
