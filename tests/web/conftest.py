"""A real Chromium for the tests of pages, and the pages."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

sys.path.insert(0, str(Path(__file__).parent))

from chromium import ARGUMENTS, program
from watched import Watched


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=program(), args=ARGUMENTS)
        yield found
        found.close()


@pytest.fixture
def opened(browser: Browser, tmp_path: Path) -> Iterator[Callable[..., Watched]]:
    """Opens a page from a file and watches it; afterwards nothing may have been wrong with it."""
    watched: list[Watched] = []

    def opens(
        content: bytes, *, clock: bool = False, cost: bool = False, **settings: object
    ) -> Watched:
        path = tmp_path / f"page-{len(watched)}.html"
        path.write_bytes(content)
        watched.append(Watched(browser, path, settings, clock=clock, cost=cost))
        return watched[-1]

    yield opens
    for one in watched:
        one.close()
    for one in watched:
        assert one.troubles == []
        assert one.requests == [one.path.as_uri()]
