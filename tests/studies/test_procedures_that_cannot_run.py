"""A *recovers* whose procedure no run can carry out says nothing, and is told so (Q8)."""

from __future__ import annotations

from verifier.diagnostics.limits import Limits
from verifier.model.load import load_text
from verifier.simulation.explore import Exploration
from verifier.studies.options import Options
from verifier.studies.prove import prove

DESIGN = """design dunlin "one valve"
use standard
supply tractor
part knob : push_pull_3_2
part foot : foot_valve
part stop : push_button_3_2
line air : tractor, knob.1, stop.1
line lift : knob.2, foot.pilot
line trip : stop.2, knob.10
place tank, coupling
liquid tank - foot - coupling
recovers "the stop shuts the foot valve": after tractor is present, pushed(stop) then shut(foot)
{assumption}
"""
NOBODY = 'assume "nobody presses" because "the button has a lid": never pushed(stop)'


def verdict_and_truth(assumption: str) -> tuple[str, str]:
    loaded = load_text(DESIGN.format(assumption=assumption), "dunlin.ilk", Limits())
    result = prove(loaded, Options())
    item = loaded.circuit.properties[0]
    truth = Exploration(loaded.circuit).answer(item, item.instances[0]).truth
    return next(p.verdict for p in result.properties if p.name == item.name), truth


def test_a_procedure_that_can_be_carried_out() -> None:
    assert verdict_and_truth("") == ("holds", "holds")


def test_a_procedure_that_an_assumption_forbids() -> None:
    assert verdict_and_truth(NOBODY) == ("vacuous", "vacuous")
