"""A page in the browser, everything that it does noticed."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser

READY = "document.documentElement.dataset.ready === 'yes'"


def _axe() -> str:
    """axe-core as it comes with its package; looked up, not imported."""
    found = importlib.util.find_spec("axe_playwright_python")
    assert found is not None
    assert found.origin is not None
    (script,) = Path(found.origin).parent.rglob("axe*.js")
    return script.read_text(encoding="utf-8")


class Watched:
    """troubles: what the console, the page and its policy complained of.   requests: addresses."""

    def __init__(
        self,
        browser: Browser,
        path: Path,
        settings: dict[str, Any],
        *,
        clock: bool = False,
        cost: bool = False,
    ) -> None:
        self.path = path
        self.troubles: list[str] = []
        self.requests: list[str] = []
        self._context = browser.new_context(**settings)
        self.page = self._context.new_page()
        if clock:
            self.page.clock.install()
        self.page.on("console", lambda message: self.troubles.append(message.text))
        self.page.on("pageerror", lambda error: self.troubles.append(str(error)))
        self.page.on("request", lambda request: self.requests.append(request.url))
        if cost:
            self._session = self._context.new_cdp_session(self.page)
            self._session.send("Performance.enable", {"timeDomain": "threadTicks"})
        self.page.goto(path.as_uri())
        if settings.get("java_script_enabled", True):
            self.page.wait_for_function(READY)

    def close(self) -> None:
        self._context.close()

    def cost(self) -> float:
        """Seconds that the page's own thread has worked, if `cost` was asked for."""
        found = self._session.send("Performance.getMetrics")["metrics"]
        return float(next(one["value"] for one in found if one["name"] == "TaskDuration"))

    def unreachable(self, *rules: str) -> list[str]:
        """What axe-core finds wrong by these rules (by all, for none), each with the places."""
        self.page.evaluate("document.querySelectorAll('details').forEach(one => one.open = true)")
        self.page.evaluate(_axe())
        options = {"resultTypes": ["violations"], **({"runOnly": list(rules)} if rules else {})}
        found = self.page.evaluate("options => axe.run(document, options)", options)
        return [
            f"{one['id']}: {one['help']}: {[node['html'][:200] for node in one['nodes'][:3]]}"
            for one in found["violations"]
        ]
