"""The index of a library: searched without waiting, and its links lead to its pages."""

from __future__ import annotations

import re
from collections.abc import Callable
from html import unescape
from urllib.parse import unquote

from pages import examined, library
from watched import Watched

from verifier.pages.shelf import page_of, shelf_pages
from verifier.report.library import Examined, LibraryResult

Opens = Callable[..., Watched]


def test_a_thousand_designs_are_searched_at_once(opened: Opens) -> None:
    page = opened(library(1000)).page
    rows = page.locator("[data-row]:visible")
    assert rows.count() == 1000
    page.get_by_label("Search").fill("TERN_0420 changed")
    assert rows.count() == 1
    assert page.locator("[data-found]").inner_text() == "1 of 1000 designs"
    page.get_by_label("Search").fill("")
    page.get_by_label("Status").select_option("!")
    assert rows.count() == 100
    seconds = page.evaluate(
        """() => {
            const field = document.querySelector("[data-words]");
            const began = performance.now();
            for (const words of ["t", "te", "tern", "nothing", ""]) {
                field.value = words;
                field.dispatchEvent(new Event("input"));
                document.body.offsetHeight;
            }
            return (performance.now() - began) / 5000;
        }"""
    )
    assert seconds < 0.5


def test_links_lead_to_pages() -> None:
    strange = 'a b/ü#1 & "2".ilk'
    designs = (*examined(3).designs, Examined(strange, "missing"))
    told = LibraryResult("fleet", designs, 0, 1, ())
    pages = dict(shelf_pages(told, lambda file: None))
    index = pages.pop("index.html").decode()
    links = [unquote(unescape(one)) for one in re.findall(r'<a href="(designs/[^"]+)"', index)]
    assert links == list(pages) == [page_of(one.file) for one in designs]
    back = re.findall(r'<a href="([^"#]+)"', pages[page_of(strange)].decode())
    assert back == ["../../index.html"]
