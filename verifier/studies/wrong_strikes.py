"""Wrong connections as faults that are there from the beginning."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.model.circuit import Circuit, FaultEffect
from verifier.model.strikes import Effect, Strike, TubeEffect
from verifier.model.wrong_connections import (
    LeftOff,
    Swapped,
    WrongConnection,
    wrong_connections,
    wrong_words,
)

KIND = "wrong connection"


def wrong_strikes(circuit: Circuit) -> tuple[tuple[Strike, ...], tuple[str, ...]]:
    """All that can be told so, and the names of the others."""
    found: list[Strike] = []
    others: list[str] = []
    for wrong in wrong_connections(circuit):
        effects = _effects(circuit, wrong)
        if effects is None:
            others.append(wrong_words(circuit, wrong))
        else:
            found.append(_strike(circuit, wrong, effects))
    return tuple(found), tuple(others)


def _strike(circuit: Circuit, wrong: WrongConnection, effects: tuple[Effect, ...]) -> Strike:
    if isinstance(wrong, LeftOff):
        span, part = circuit.tubes[wrong.tube].span, None
    else:
        port = circuit.ports[wrong.ports[0]]
        span, part = port.span, port.part
    words = wrong_words(circuit, wrong)
    return Strike(words, words, effects, False, "common practice", span, part, KIND, words)


def _effects(circuit: Circuit, wrong: WrongConnection) -> tuple[Effect, ...] | None:
    """A tube that is not there leaves open what a torn one does. A port that has another's tube is
    shut off from its own line and joined to that other line, at some other port of it."""
    if isinstance(wrong, LeftOff):
        return (TubeEffect(wrong.tube, "torn"),)
    found: list[Effect] = []
    for mine, other in (wrong.ports, wrong.ports[::-1]):
        joined = _joined(circuit, mine, other, wrong)
        if joined is None:
            return None
        found += [FaultEffect("blocks", ports=(mine,)), *joined]
    return tuple(found)


def _joined(circuit: Circuit, mine: int, other: int, wrong: Swapped) -> list[FaultEffect] | None:
    port = circuit.ports[other]
    if port.state == "plugged":
        return []
    if port.state == "atmosphere":
        return [FaultEffect("bursts", ports=(mine,))]
    there = next(_others(circuit, port.volume, wrong), None)
    return None if there is None else [FaultEffect("passes", ports=(mine, there))]


def _others(circuit: Circuit, volume: int, wrong: Swapped) -> Iterator[int]:
    for port in circuit.volumes[volume].ports:
        if port not in wrong.ports:
            yield port
