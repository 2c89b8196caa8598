"""Indices of a circuit that the simulator looks up at every step, made once per circuit."""

from __future__ import annotations

from typing import TypeVar

from verifier.model.circuit import Circuit, Passage, Where
from verifier.model.condition import All, Any, At, Condition, High, Not
from verifier.model.simplify import atoms

Known = TypeVar("Known")

MOST_PLANS = 8
# Results kept at once: so many, and so many entries of tuples that are as long as the circuit.
MOST_KNOWN = 100_000
MOST_ENTRIES = 2_000_000

Reading = tuple[str, int]
"""Who reads which volume: one reading is one Boolean (P5)."""


class Plan:
    """`passages`: (start, end, full bore, one way, where). `sinks`: volumes open to the air.
    `touching`: of each volume the passages that begin or end there, in the order of the circuit.
    `readings`: of each element, the distinct readings in its moves, in order of appearance.
    `tubes`: the whole tubes among the passages (P7). `bounds`: assumptions that speak of faults.
    `known`: results by their own key, emptied when it grows past `most`.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.passages = tuple(
            (p.start, p.end, p.bore == "full", p.one_way, p.where) for p in circuit.passages
        )
        touching: list[list[Passage]] = [[] for _ in circuit.volumes]
        for passage in circuit.passages:
            for volume in {passage.start: None, passage.end: None}:
                touching[volume].append(passage)
        self.touching = tuple(map(tuple, touching))
        self.sinks = tuple(i for i, volume in enumerate(circuit.volumes) if volume.open_air)
        self.supplies = tuple(
            (supply.switch, circuit.switches[supply.switch].values, supply.volume)
            for supply in circuit.supplies
        )
        self.readings = tuple(
            readings_of(All(tuple(move.when for move in element.moves)))
            for element in circuit.elements
        )
        self.tubes = tuple((p.start, p.end, p.where) for p in circuit.passages if p.tube)
        self.bounds = tuple(
            assumption
            for assumption in circuit.assumptions
            if any(isinstance(atom, At) for atom in atoms(assumption.condition))
        )
        self.held = tuple(i for i, hand in enumerate(circuit.hands) if hand.held)
        self.momentary = tuple(i for i, hand in enumerate(circuit.hands) if not hand.held)
        self.known: dict[object, object] = {}
        size = 1 + len(circuit.elements) + len(circuit.volumes)
        self.most = min(MOST_KNOWN, MOST_ENTRIES // size)

    def remember(self, key: object, value: Known) -> Known:
        if len(self.known) >= self.most:
            self.known.clear()
        self.known[key] = value
        return value


_plans: dict[int, Plan] = {}


def plan_of(circuit: Circuit) -> Plan:
    """The plan of this very value; the last few circuits are kept."""
    plan = _plans.get(id(circuit))
    if plan is None:
        if len(_plans) >= MOST_PLANS:
            del _plans[next(iter(_plans))]
        # The plan keeps the circuit alive, so its id is not used again while the plan is kept.
        plan = _plans[id(circuit)] = Plan(circuit)
    return plan


def met(where: tuple[Where, ...], positions: tuple[int, ...]) -> bool:
    """Whether every element named stands in one of the positions named."""
    for w in where:  # noqa: SIM110 - with `all` this takes three times as long
        if positions[w.element] not in w.positions:
            return False
    return True


def readings_of(condition: Condition) -> tuple[Reading, ...]:
    """The distinct readings of a condition, in order of appearance."""
    found: dict[Reading, None] = {}
    stack: list[Condition] = [condition]
    while stack:
        part = stack.pop()
        if isinstance(part, High):
            found[part.reader, part.volume] = None
        elif isinstance(part, Not):
            stack.append(part.of)
        elif isinstance(part, All | Any):
            stack.extend(reversed(part.of))
    return tuple(found)
