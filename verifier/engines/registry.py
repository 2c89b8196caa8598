"""Every engine, by the name that `--engine` takes."""

from __future__ import annotations

from verifier.engines.bounded import Bounded
from verifier.engines.directed import Directed
from verifier.engines.engine import Engine
from verifier.engines.horn import Horn
from verifier.engines.pairs import Pairs
from verifier.engines.portfolio import Portfolio

DEFAULT = "portfolio"
ENGINES: dict[str, Engine] = {
    engine.name: engine for engine in (Portfolio(), Directed(), Bounded(), Horn(), Pairs())
}
