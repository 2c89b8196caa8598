"""Circuit diagrams after ISO 1219: `lay_out` places everything, `to_svg` writes it."""

from verifier.drawing.drawing import lay_out
from verifier.drawing.layout import Layout
from verifier.drawing.marks import Flowing, Marks
from verifier.drawing.svg import to_svg
from verifier.drawing.words import describe

__all__ = ["Flowing", "Layout", "Marks", "describe", "lay_out", "to_svg"]
