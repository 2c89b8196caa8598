"""Lets the tests of this folder import what they share; folders of evidence that they read."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from folders import DESIGNS, Files, made


@pytest.fixture(scope="session", params=sorted(DESIGNS))
def each(request: pytest.FixtureRequest) -> Files:
    """The folder of each design, one after the other."""
    return made(request.param)
