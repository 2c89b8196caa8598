"""The one question that everybody is asked about a member of a family.

Of a member that holds: can any *never*, *always* or *no contest* be broken? Of one with a
flaw: can a property be broken that the flaw breaks? *recovers*, *possible* and *comes to rest* are
not part of it; only the whole command decides them.
"""

from __future__ import annotations

from pathlib import Path

from msgspec import Struct

from tests.benchmarks.families.member import Member
from verifier.diagnostics.limits import Limits
from verifier.model.circuit import Circuit, Instance, Property
from verifier.model.load import load
from verifier.model.run import State
from verifier.simulation.judging import fights, shows
from verifier.studies.aiger import bad_states
from verifier.transition.aiger import together
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.system import Goal

# Large members have more cases than a design that somebody wrote.
ROOMY = Limits(max_members=10_000_000, max_bytes=10_000_000)


class Posed(Struct, frozen=True):
    """goal: its bad states are those of any case asked about.   cases: the same for the simulator;
    `contest`: whether *no contest* is asked too.
    """

    circuit: Circuit
    compiled: Compiled
    goal: Goal
    cases: tuple[tuple[Property, Instance], ...]
    contest: bool

    def broken(self, state: State) -> bool:
        """Whether the simulator finds that a state breaks something (M6, Q3)."""
        if self.contest and fights(self.circuit, state):
            return True
        return any(shows(self.circuit, item, case, state) for item, case in self.cases)


def circuit_of(path: Path) -> Circuit:
    """Raises SourceError if the text is no design."""
    return load(path, ROOMY).circuit


def pose(circuit: Circuit, member: Member) -> Posed:
    """Raises ValueError when the member has nothing to ask, or an *order*, which explicit search
    would have to follow along its runs."""
    if any(item.form == "order" for item in circuit.properties):
        raise ValueError(f"{member.name} has an order")
    compiled = compile_circuit(circuit)
    asked = [
        number
        for number, item in enumerate(circuit.properties)
        if item.form in ("never", "always") and (not member.flawed or item.name in member.violated)
    ]
    goals = [one.goal for k in asked for one in compiled.asked_by(k, "bad")]
    if not member.flawed:
        goals = bad_states(compiled)
    if not goals:
        raise ValueError(f"{member.name} asks nothing")
    properties = [circuit.properties[number] for number in asked]
    cases = tuple((item, case) for item in properties for case in item.instances)
    return Posed(circuit, compiled, together(compiled.system, goals), cases, not member.flawed)
