"""What is seen of a circuit at rest, as literals and by the simulator."""

from __future__ import annotations

from verifier.calm.signs import Sign, names_of, signs_of
from verifier.model.circuit import Circuit
from verifier.model.run import State
from verifier.simulation.movement import holds_some
from verifier.simulation.pressures import pressures
from verifier.transition.beside import Shown
from verifier.transition.compiled import Compiled

__all__ = ["Sign", "names_of", "shown_by", "signs_of", "value_of"]


def shown_by(compiled: Compiled, sign: Sign) -> Shown:
    """The same as literals."""
    if sign.element is not None:
        latches = compiled.system.latches
        bits = (2 * latches[i].node for i in compiled.element_codes[sign.element])
        return Shown(sign.name, tuple(bits))
    if sign.volume is not None:
        return Shown(sign.name, (compiled.high[sign.volume],))
    return Shown(sign.name, tuple(compiled.meaning.some(path) for path in sign.paths))


def value_of(circuit: Circuit, state: State, sign: Sign) -> tuple[int, ...]:
    """What it shows in a state, by the simulator."""
    if sign.element is not None:
        return (state.positions[sign.element],)
    if sign.volume is not None:
        return (pressures(circuit, state).can_high[sign.volume],)
    return tuple(holds_some(circuit, state, path) for path in sign.paths)
