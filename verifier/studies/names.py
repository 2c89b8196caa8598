"""How things are called in stories (`verifier.model.names`)."""

from __future__ import annotations

from verifier.model.names import (
    element_name,
    line_names,
    line_of_end,
    listed,
    spoken,
    switched,
)

__all__ = ["element_name", "line_names", "line_of_end", "listed", "spoken", "switched"]
