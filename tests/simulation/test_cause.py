"""What a fitter is told about the movements of circuits worked out on paper."""

from __future__ import annotations

import msgspec
import pytest

from tests.simulation.bench import Bench, high, keeping
from verifier.model.circuit import Circuit
from verifier.model.condition import All, Any, At, Hand, Not, Path, Setting
from verifier.model.run import State, Step
from verifier.simulation.air import air_of, air_path
from verifier.simulation.cause import air_words, cause, cause_of
from verifier.simulation.checking import check_step
from verifier.simulation.steps import start


def told(
    circuit: Circuit, before: State, position: int, acting: tuple[int, ...] = (), element: int = 0
) -> str:
    """The cause of the element's going to `position` in a step that is allowed."""
    positions = list(before.positions)
    positions[element] = position
    step = Step(acting, msgspec.structs.replace(before, positions=tuple(positions)))
    assert check_step(circuit, before, step) == ()
    return cause(circuit, before, step, element)


def vent(bench: Bench, position: int = 0) -> tuple[int, int]:
    """A vent that opens with air on its pilot 14; the pilot line comes from a master with positions
    in (exhausts the line) and out (feeds it)."""
    air, rise, sky = bench.supply("air"), bench.line("rise"), bench.atmosphere("master.5")
    poppet = bench.element(
        "poppet",
        ("shut", "open"),
        (1, high(rise, "valve.14")),
        otherwise=0,
        begins=1 - position,
    )
    master = bench.element("master", ("in", "out"), begins=position)
    bench.passage(air, rise, (master, (1,)))
    bench.passage(rise, sky, (master, (0,)))
    return poppet, master


def test_a_pilot_gains_air() -> None:
    bench = Bench()
    vent(bench, 1)
    circuit = bench.circuit()
    assert told(circuit, start(circuit), 1) == (
        "its pilot 14 has air (line rise is fed by air through valve p0 to p1)"
    )


def test_a_spring_returns_what_its_pilot_lost() -> None:
    bench = Bench()
    vent(bench)
    circuit = bench.circuit()
    assert told(circuit, start(circuit), 0) == (
        "its spring brings it back, since its pilot 14 has no air "
        "(line rise exhausts through valve p2 to p3)"
    )


def test_a_hand_a_cam_and_a_switch() -> None:
    bench = Bench()
    pulled, held = bench.hand("pulled"), bench.hand("kept_down", held=True)
    door = bench.switch("door", "open", "shut")
    bench.element("a", ("in", "out"), (1, Hand(pulled)))
    bench.element("b", ("in", "out"), (1, At(0, (0,))))
    bench.element("c", ("in", "out"), (1, Setting(door, (0,))))
    bench.element("d", ("in", "out"), (1, Hand(held)), otherwise=0, begins=1)
    circuit = bench.circuit()
    begin = start(circuit)
    assert told(circuit, begin, 1, (pulled,)) == "it is pulled by hand"
    assert told(circuit, begin, 1, element=1) == "valve.a stands in"
    assert told(circuit, begin, 1, element=2) == "door is open"
    assert told(circuit, begin, 0, element=3) == (
        "its spring brings it back, since it is not kept down by hand"
    )


def test_only_what_is_needed_is_told() -> None:
    bench = Bench()
    air, line = bench.supply("air"), bench.line("lone")
    door = bench.switch("door", "open", "shut")
    several = Any((high(line, "valve.12"), All((Setting(door, (0,)), Not(high(line, "valve.10"))))))
    bench.element("a", ("in", "out"), (1, several))
    bench.element("b", ("in", "out"), (1, Not(All((high(air, "valve.1"), high(line, "valve.2"))))))
    circuit = bench.circuit()
    assert told(circuit, start(circuit), 1) == (
        "door is open and its pilot 10 has no air (line lone is cut off without air in it)"
    )
    assert told(circuit, start(circuit), 1, element=1) == (
        "its port 2 has no air (line lone is cut off without air in it)"
    )


def test_an_in_between_pressure_is_told_with_both_ways() -> None:
    bench = Bench()
    air, tee, sky = bench.supply("air"), bench.line("tee"), bench.atmosphere("stop.3")
    bench.passage(air, tee)
    bench.passage(tee, sky)
    bench.element("a", ("in", "out"), (1, high(tee, "valve.pilot")), otherwise=0)
    circuit = bench.circuit()
    assert told(circuit, start(circuit), 1) == (
        "its pilot reads as air an in-between pressure (line tee is fed by air through valve p0 to "
        "p1 and exhausts through valve p2 to p3)"
    )


def test_a_liquid_path_and_a_reading_of_another_part() -> None:
    bench = Bench()
    air = bench.supply("air")
    bench.places = ("tank", "coupling")
    bench.element("a", ("in", "out"), (1, All((Not(Path(0, 0, 1, True)), high(air, "door")))))
    circuit = bench.circuit()
    assert told(circuit, start(circuit), 1) == (
        "there is no open way for liquid from tank to coupling and line air has air "
        "(it is fed by air)"
    )


def test_there_is_no_cause_without_a_movement() -> None:
    bench = Bench()
    bench.element("a", ("in", "out"))
    circuit = bench.circuit()
    with pytest.raises(ValueError, match="did not move"):
        cause_of(circuit, start(circuit), Step((), start(circuit)), 0)


def test_ways_of_air_respect_bore_and_direction() -> None:
    """P3: the far line is fed through the pinhole, and the non-return valve does not empty it."""
    bench = Bench()
    air, near, far = bench.supply("air"), bench.line("near"), bench.line("far")
    bench.passage(air, near, pinhole=True)
    bench.passage(near, far, one_way=True)
    circuit = bench.circuit()
    begin = start(circuit)
    path = air_path(circuit, begin, far, source=True)
    assert path is not None
    assert [(hop.start, hop.end, hop.restricted) for hop in path.hops] == [
        ("p0", "p1", True),
        ("p2", "p3", False),
    ]
    assert air_path(circuit, begin, far, source=False) is None
    assert air_words(air_of(circuit, begin, far)) == (
        "is fed by air through valve p0 to p1, restricted, valve p2 to p3"
    )


def test_words_for_cut_off_draining_and_weak() -> None:
    bench = Bench()
    air, line, lone, other = (
        bench.supply("air", "absent"),
        bench.line("lift"),
        bench.line("lone"),
        bench.line("other"),
    )
    bench.passage(air, line)
    bench.passage(lone, other)
    circuit = bench.circuit()
    begin = start(circuit)
    assert air_words(air_of(circuit, begin, line)) == (
        "drains through valve p1 to p0 into air, which gives no air"
    )
    weak = msgspec.structs.replace(begin, settings=(2,))
    assert air_words(air_of(circuit, weak, line)) == (
        "is fed by air, which is weak, through valve p0 to p1"
    )
    kept = keeping(circuit, lone)
    assert air_words(air_of(circuit, kept, other)) == (
        "is cut off together with others that differ from it"
    )
    both = keeping(circuit, lone, other)
    assert air_words(air_of(circuit, both, lone)) == "is cut off with air in it"
