"""From text to circuit: what each statement becomes."""

from __future__ import annotations

from verifier.model.circuit import Move, Setpoint, Where
from verifier.model.condition import All, Any, At, AtRest, Hand, High, Not, Path, Setting
from verifier.model.load import load_text

TRAILER = """design heron "Two compartments"
revision "B"
use standard
supply tractor may be weak "compressed air"
surroundings hose[1..2] : free, coupled
part stop : push_button_3_2 role stop "rear corner"
part pick[1..2] : push_pull_3_2
part foot[1..2] : foot_valve role foot
part lock[i in 1..2] : plunger_3_2 worked by hose[i] is coupled or pick[i] is out
part lamp : visual_indicator
line air : tractor, pick[1..2].1, lock[1..2].1, stop.1
line home : stop.2, pick[1..2].10
line lift[i in 1..2] : pick[i].2, foot[i].pilot
line seen : lock[1].2, lamp.in
open lock[2].2
tube air at stop.1 : length 7 m, label "tail"
place tank[1..2], header
liquid tank[i in 1..2] - foot[i] - header
start hose[2] is coupled
start pick[1] is out
assume "one at a time" because "one driver": never pushed(pick[i]) and pushed(pick[j]) for any i < j
never "flow unseen": flow(tank[i], header) and not showing(lamp) for any i
always at every moment "lifted": if high(lift[i]) then not shut(foot[i]) or at rest for every i
possible "out": pick[i] is out for each i
order "first the hose": open(foot[i]) only after hose[i] is coupled for every i
recovers "home": after pushed(stop), not pushed(stop), tractor is present then pick[i] is in
  for every i
"""
CIRCUIT = load_text(TRAILER, "heron.ilk").circuit


def test_header() -> None:
    assert (CIRCUIT.name, CIRCUIT.title, CIRCUIT.revision) == ("heron", "Two compartments", "B")
    assert CIRCUIT.runs_on == ""


def test_supply_is_a_switch_and_starts_absent() -> None:
    (supply,) = CIRCUIT.supplies
    switch = CIRCUIT.switches[supply.switch]
    assert switch.values == ("present", "absent", "weak")
    assert switch.values[switch.start] == "absent"
    assert CIRCUIT.volumes[supply.volume].name == "air"
    assert supply.doc == "compressed air"


def test_surroundings_start_at_their_first_value_unless_said() -> None:
    found = {s.name: s.values[s.start] for s in CIRCUIT.switches}
    assert (found["hose[1]"], found["hose[2]"]) == ("free", "coupled")


def test_volumes_lines_first_then_single_ports() -> None:
    names = [volume.name for volume in CIRCUIT.volumes]
    assert names[:5] == ["air", "home", "lift[1]", "lift[2]", "seen"]
    single = {v.name: v.open_air for v in CIRCUIT.volumes[5:]}
    assert single["pick[1].3"]  # an exhaust that no line takes
    assert single["lock[2].2"]  # said to be open
    assert {p.name for p in CIRCUIT.ports if p.state == "atmosphere"} == set(single)


def test_tubes() -> None:
    by_name = {tube.name: tube for tube in CIRCUIT.tubes}
    assert by_name["seen"].ends == ("lock[1].2", "lamp.in")
    tail = by_name["air at stop.1"]
    assert (tail.ends, tail.label) == (("stop.1", "junction"), "tail")
    assert tail.length is not None
    assert tail.length.unit == "m"
    assert by_name["air at supply tractor"].ends == ("supply tractor", "junction")


def element(name: str) -> int:
    return next(n for n, e in enumerate(CIRCUIT.elements) if e.name == name)


def hand(name: str) -> int:
    return next(n for n, h in enumerate(CIRCUIT.hands) if h.name == name)


def switch(name: str) -> int:
    return next(n for n, s in enumerate(CIRCUIT.switches) if s.name == name)


def test_moves_read_their_ports() -> None:
    pick = CIRCUIT.elements[element("pick[2].spool")]
    assert pick.positions == ("in", "out")
    home = [v.name for v in CIRCUIT.volumes].index("home")
    pilot = [p.name for p in CIRCUIT.ports].index("pick[2].10")
    assert pick.moves == (
        Move(0, High(home, "pick[2].10", pilot), pick.moves[0].span),
        Move(0, Hand(hand("pick[2].pushed")), pick.moves[1].span),
        Move(1, Hand(hand("pick[2].pulled")), pick.moves[2].span),
    )
    assert pick.otherwise is None
    assert CIRCUIT.elements[element("pick[1].spool")].start == 1


def test_worked_by() -> None:
    lock = CIRCUIT.elements[element("lock[1].spool")]
    worked = Any((Setting(switch("hose[1]"), (1,)), At(element("pick[1].spool"), (1,))))
    assert [move.when for move in lock.moves] == [worked]


def test_passages() -> None:
    pick = next(n for n, p in enumerate(CIRCUIT.parts) if p.name == "pick[1]")
    spool = element("pick[1].spool")
    found = {
        (CIRCUIT.ports[p.ports[0]].label, CIRCUIT.ports[p.ports[1]].label): p.where
        for p in CIRCUIT.passages
        if p.part == pick
    }
    assert found == {("2", "3"): (Where(spool, (0,)),), ("1", "2"): (Where(spool, (1,)),)}


def test_network_goes_through_the_foot_valves() -> None:
    (network,) = CIRCUIT.networks
    assert network.medium == "liquid"
    assert {"tank[1]", "header", "foot[1].inside", "foot[1].outside"} <= set(network.places)
    inside = [way for way in network.ways if way.part is not None]
    assert len(inside) == 2
    assert len(network.ways) == 2 + 4


def test_roles_and_docs() -> None:
    stop = CIRCUIT.parts[0]
    assert stop.roles == ("stop",)
    assert stop.doc == "rear corner"
    foot = next(p for p in CIRCUIT.parts if p.name == "foot[1]")
    assert foot.roles == ("foot_valve", "foot")
    assert foot.kind_doc


def test_assumption_speaks_of_hands() -> None:
    (assumption,) = CIRCUIT.assumptions
    both = All((Hand(hand("pick[1].pushed")), Hand(hand("pick[2].pushed"))))
    assert (assumption.name, assumption.condition) == ("one at a time", Not(both))
    assert assumption.reason == "one driver"


def test_never_has_its_conjuncts_as_triggers() -> None:
    one = CIRCUIT.properties[0].instances[1]
    assert CIRCUIT.properties[0].moment == "at_rest"
    assert isinstance(one.condition, All)
    assert one.triggers == one.condition.of
    assert isinstance(one.triggers[0], Path)
    assert one.words == "flow from tank[2] to header and lamp not showing"
    assert one.trigger_words == ("flow from tank[2] to header", "lamp not showing")
    assert one.label == "i = 2"


def test_always_has_its_if_as_trigger() -> None:
    prop = CIRCUIT.properties[1]
    lift = [v.name for v in CIRCUIT.volumes].index("lift[1]")
    assert prop.moment == "every_moment"
    (trigger,) = prop.instances[0].triggers
    assert trigger == High(lift, "line lift[1]")
    assert isinstance(prop.instances[0].condition, Any)
    assert AtRest() in prop.instances[0].condition.of


def test_order_and_its_trigger() -> None:
    prop = CIRCUIT.properties[3]
    assert (prop.form, prop.moment) == ("order", "every_moment")
    one = prop.instances[0]
    assert one.first == Setting(switch("hose[1]"), (1,))
    assert one.triggers == (one.condition,)
    assert (one.words, one.first_words) == ("foot[1] open", "hose[1] is coupled")


def test_procedure() -> None:
    one = CIRCUIT.properties[4].instances[0]
    stop = hand("stop.pushed")
    assert one.procedure == (
        Setpoint(stop, None, 1, "stop pushed"),
        Setpoint(stop, None, 0, "stop not pushed"),
        Setpoint(None, switch("tractor"), 0, "tractor is present"),
    )
    assert one.triggers == ()


def test_faults_come_with_every_part() -> None:
    named = {fault.name for fault in CIRCUIT.faults}
    assert {"foot[1] stuck", "foot[2] stuck"} <= named
    stuck = next(f for f in CIRCUIT.faults if f.name == "foot[2] stuck")
    assert stuck.effects[0].element == element("foot[2].poppet")
    assert stuck.source


ASSEMBLIES = """design gannet "assemblies in assemblies"
use standard
assembly leg(n, valve)
  port air : pick[1..n].1
  port outlet : foot[n].outside
  part pick[1..n] : valve
  part foot[1..n] : foot_valve
  line lift[i in 1..n] : pick[i].2, foot[i].pilot
  place tank
  liquid tank - foot[1]
  liquid foot[i in 1..n - 1] - foot[i + 1]
  never "air": high(lift[i]) and not open(foot[i]) for any i
end
assembly side(n)
  port air : leg[1..2].air
  part leg[1..2] : leg(n = n + 1, valve = push_button_3_2)
  start leg[1].pick[2] is pushed
end
supply tractor
part left : side(n = 1)
line air : tractor, left.air
place hatch
liquid left.leg[2].outlet - hatch
possible "flow": flow(left.leg[2].tank, hatch)
"""


def test_assemblies_nest_and_repeat() -> None:
    circuit = load_text(ASSEMBLIES).circuit
    names = [part.name for part in circuit.parts]
    assert names == [
        f"left.leg[{leg}].{part}[{n}]"
        for leg in (1, 2)
        for part in ("pick", "foot")
        for n in (1, 2)
    ]
    assert circuit.parts[0].assembly == "left.leg[1]"
    air = next(v for v in circuit.volumes if v.name == "air")
    assert [circuit.ports[p].name for p in air.ports] == [
        f"left.leg[{leg}].pick[{n}].1" for leg in (1, 2) for n in (1, 2)
    ]
    assert [p.name for p in circuit.properties] == [
        "flow", "left.leg[1]: air", "left.leg[2]: air",
    ]  # fmt: skip
    words = circuit.properties[1].instances[0].words
    assert words == "left.leg[1].lift[1] has air and left.leg[1].foot[1] not open"
    on = [hand.name for hand in circuit.hands if hand.starts_on]
    assert on == ["left.leg[1].pick[2].pushed"]


def test_same_text_same_circuit() -> None:
    assert load_text(TRAILER, "heron.ilk").circuit == CIRCUIT
