"""The drawing of a circuit on a page, in any moment of a run."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from verifier.drawing.drawing import lay_out
from verifier.drawing.marks import Marks
from verifier.drawing.style import STYLE
from verifier.drawing.svg import to_svg
from verifier.model.circuit import Circuit
from verifier.pages.frames import Frame, frame_of
from verifier.pages.playing import marks_of
from verifier.simulation.steps import start


class Drawn:
    """A circuit, laid out once. The style sheet stands once on a page, not in each drawing."""

    style = Markup(STYLE)

    def __init__(self, circuit: Circuit, also: Mapping[int, tuple[int, ...]] | None = None) -> None:
        """also: as in `lay_out`."""
        self._circuit = circuit
        self._layout = lay_out(circuit, also)

    def live(self) -> Markup:
        """At the start, with everything in it that another moment shows."""
        return self._svg(marks_of(self._circuit, frame_of(self._circuit, start(self._circuit))))

    def at(self, frame: Frame) -> Markup:
        """In a moment of a run of this circuit, or of one that has more after what it has."""
        return self._svg(marks_of(self._circuit, frame), live=False)

    def plain(self) -> Markup:
        """As it stands at the start, without pressures."""
        return self._svg(Marks(), live=False)

    def marked(self, marks: Marks) -> Markup:
        """With marks of any sort, and nothing else."""
        return self._svg(marks, live=False)

    def _svg(self, marks: Marks, *, live: bool = True) -> Markup:
        # The drawing escapes every name that it writes. A page has it several times: so no ids.
        svg = to_svg(self._circuit, self._layout, marks, style=False, live=live, prefix=None)
        return Markup(svg)
