"""The circuit that a run happens in: the design's, wrongly connected if the run says so, with the
faults woven in that strike in the run."""

from __future__ import annotations

from collections.abc import Sequence

from verifier.diagnostics.diagnostic import SourceError
from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit
from verifier.model.mistakes import did_you_mean
from verifier.model.strikes import Strike, every_strike
from verifier.model.weaving import weave
from verifier.model.wrong_connections import (
    LeftOff,
    Swapped,
    WrongConnection,
    wrong_connections,
    wrongly_connected,
)
from verifier.runs.facts import Misread
from verifier.runs.script import Missing, PassesOff, Script, Strikes, Wrong

MOST_LISTED = 6


def stage(circuit: Circuit, script: Script) -> Circuit:
    """Raises SourceError (without texts) if the run is of another design, or speaks of a wrong
    connection or of faults that there are not."""
    mistakes = []
    if script.design and script.design != circuit.name:
        told = f"this run is of `{script.design}`, not of `{circuit.name}`"
        mistakes.append(Misread("E1005", script.design_span, told))
    if script.wrong is not None:
        try:
            circuit = wrongly_connected(circuit, wrong_of(circuit, script.wrong))
        except Misread as mistake:
            mistakes.append(mistake)
    found: dict[str, Strike] = {}
    told_of = [line for line in script.lines if isinstance(line.what, Strikes | PassesOff)]
    known = every_strike(circuit) if told_of else ()
    for line in told_of:
        assert isinstance(line.what, Strikes | PassesOff)
        try:
            found.setdefault(line.what.fault, struck(known, line.what.fault, line.span))
        except Misread as mistake:
            mistakes.append(mistake)
    if mistakes:
        raise SourceError(tuple(one.diagnostic for one in mistakes), {})
    # In the order of the circuit, so that it does not matter what strikes first.
    return weave(circuit, [one for one in known if one.name in found]).circuit


def wrong_of(circuit: Circuit, wrong: Wrong) -> WrongConnection:
    """Raises Misread."""
    if isinstance(wrong.how, Missing):
        tubes = {tube.name: k for k, tube in enumerate(circuit.tubes)}
        if wrong.how.tube not in tubes:
            told = f"there is no tube `{wrong.how.tube}`"
            hint = did_you_mean(wrong.how.tube, tubes) or _tubes_of(circuit, wrong.how.tube)
            raise Misread("E1008", wrong.span, told, hint=hint)
        return LeftOff(tubes[wrong.how.tube])
    ports = {port.name: k for k, port in enumerate(circuit.ports)}
    numbers = []
    for name in (wrong.how.one, wrong.how.other):
        if name not in ports:
            told = f"there is no port `{name}`"
            raise Misread("E1008", wrong.span, told, hint=did_you_mean(name, ports))
        numbers.append(ports[name])
    found = Swapped((min(numbers), max(numbers)))
    if found in wrong_connections(circuit):
        return found
    if circuit.ports[numbers[0]].part != circuit.ports[numbers[1]].part:
        told = "these are ports of different parts"
    else:
        told = "swapping these makes no difference: what is at both of them is the same"
    raise Misread("E1008", wrong.span, told)


def _tubes_of(circuit: Circuit, line: str) -> str:
    mine = [tube.name for tube in circuit.tubes if circuit.lines[tube.line].name == line]
    return f"its tubes are {', '.join(mine[:MOST_LISTED])}" if mine else ""


def struck(known: Sequence[Strike], name: str, span: Span) -> Strike:
    """Raises Misread."""
    for one in known:
        if one.name == name:
            return one
    names = [one.name for one in known]
    hint = did_you_mean(name, names)
    if not hint:
        words = name.split()
        alike = [one for one in names if set(words[: max(1, len(words) - 1)]) <= set(one.split())]
        hint = f"there are {', '.join(alike[:MOST_LISTED])}" if alike else ""
    raise Misread("E1009", span, f"there is no fault `{name}`", hint=hint)
