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

    def __init__(
        self, circuit: Circuit, name: str, also: Mapping[int, tuple[int, ...]] | None = None
    ) -> None:
        """name: of its own on the page.   also: as in `lay_out`."""
        self._circuit = circuit
        self._name = name
        self._count = 0
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

    @property
    def wide(self) -> bool:
        """Whether it needs the breadth of a page to be read in print."""
        return self._layout.paper != "A4"

    def _svg(self, marks: Marks, *, live: bool = True) -> Markup:
        """Each sheet is a picture of its own, so that none is torn apart in print."""
        self._count += 1
        prefix = f"{self._name}-{self._count}-"
        # The drawing escapes every name that it writes.
        return Markup("").join(
            Markup(
                to_svg(
                    self._circuit,
                    self._layout,
                    marks,
                    sheet=sheet.number,
                    style=False,
                    live=live,
                    prefix=prefix,
                )
            )
            for sheet in self._layout.sheets
        )
