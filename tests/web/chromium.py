"""Where Chromium is."""

from __future__ import annotations

import os
import shutil

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome")
ARGUMENTS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]
MISSING = (
    "The tests of pages need Chromium, and it is not installed. On Debian or Ubuntu:\n"
    "    apt-get install -y chromium\n"
    "Elsewhere set SHUTPROOF_CHROMIUM to the path of any Chromium."
)


def program() -> str:
    """Its path; the test fails with what to do if there is none."""
    told = os.environ.get("SHUTPROOF_CHROMIUM")
    found = told or next((path for name in NAMES if (path := shutil.which(name))), None)
    if found is None:
        pytest.fail(MISSING, pytrace=False)
    return found
