"""The command, and a small design."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SHUTPROOF = Path(sys.executable).with_name("shutproof")

LAMP = """design lamp "A lamp behind a button"
use standard
supply tractor
part button : push_button_3_2
part lamp : visual_indicator
line air : tractor, button.1
line shown : button.2, lamp.in
always "the button shows": if tractor is present and pushed(button) then showing(lamp)
possible "seen": showing(lamp)
"""


def shutproof(*arguments: object, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [str(SHUTPROOF), *map(str, arguments)],
        env={**os.environ, **environment},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
