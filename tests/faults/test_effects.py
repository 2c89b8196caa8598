"""Every effect of a fault: what the woven circuit can do is what a circuit can do that is built so.

The circuits that are built so follow from rule F3 of grammar/REFERENCE.md; the effects are those of
ISO 13849-2:2012 Annex B (tables B.3 to B.9 and B.13), from memory.
"""

from __future__ import annotations

import pytest

from tests.faults.edited import View, struck, view, views, woven_of
from verifier.model.condition import High
from verifier.model.load import load_text
from verifier.model.simplify import atoms
from verifier.model.strikes import every_strike
from verifier.simulation.explore import Exploration
from verifier.simulation.pressures import pressures

BASE = """
design storm
kind button
  ports 1, 2
  exhausts 3
  hand pushed can be held
  element spool: out, in
    in out passes 2-3
    in in passes 1-2
    to in when pushed by hand
    otherwise to out
  fault stuck: spool stays
  fault sticks: spool stays comes and goes
  fault unbidden: spool may go to out, spool may go to in
  fault one_way: spool may go to in
  fault spring: spool loses its spring
  fault leak: leaks 1-2
  fault leak_back: leaks 2>3
  fault worn: passes 1-2
  fault weeps: vents 2
  fault split: bursts 2
  fault clogged: blocks 3
  fault inlet: blocks 1
  fault gummed: blocks 1-2
  fault half: spool stays, blocks 2-3, blocks 1-2
  fault tied: hand pushed held
  fault broken: hand pushed dead
end
kind foot_valve
  ports pilot
  liquid ports inside, outside
  element poppet: shut, open
    in open passes liquid inside-outside
    to open when high(pilot)
    otherwise to shut
  fault dirt: passes inside-outside
  fault seat: passes outside>inside
  fault clogged: blocks inside-outside
end
kind hole
  ports in
  exhausts out
  passage restricted in>out
end
kind gap
  ports in
  exhausts out
  passage in>out
end
kind choke
  ports in, out
  passage restricted in-out
end
supply tractor
part stop: button
part foot: foot_valve
line air: tractor, stop.1
line lift: stop.2, foot.pilot
place tank, header
liquid tank - foot - header
never "nothing": at rest and not at rest
"""

LIFT = "line lift: stop.2, foot.pilot\n"
AIR = "line air: tractor, stop.1\n"
SPOOL = """    to in when pushed by hand
    otherwise to out
"""
ALWAYS = "    to in when pushed by hand or not pushed by hand\n    otherwise to out\n"
END = "line air: tractor, end.in\npart end: choke\nplug end.out\n"
Edits = tuple[tuple[str, str], ...]

EFFECTS: dict[str, Edits] = {
    "stop stuck": ((SPOOL, "    otherwise stays\n"),),
    "stop unbidden": (
        ("  hand pushed", "  surroundings whim: none, home, away\n  hand pushed"),
        (SPOOL, f"    to out when whim is home\n    to in when whim is away\n{SPOOL}"),
    ),
    "stop one_way": (
        ("  hand pushed", "  surroundings whim: none, away\n  hand pushed"),
        (SPOOL, f"    to in when whim is away\n{SPOOL}"),
    ),
    "stop spring": ((SPOOL, SPOOL.replace("otherwise to out", "otherwise stays")),),
    "stop leak": (("  hand pushed", "  passage restricted 1-2\n  hand pushed"),),
    "stop leak_back": (("  hand pushed", "  passage restricted 2>3\n  hand pushed"),),
    "stop worn": (("  hand pushed", "  passage 1-2\n  hand pushed"),),
    "stop weeps": ((LIFT, "line lift: stop.2, foot.pilot, more.in\npart more: hole\n"),),
    "stop split": ((LIFT, "line lift: stop.2, foot.pilot, more.in\npart more: gap\n"),),
    "stop clogged": ((AIR, f"{AIR}plug stop.3\n"),),
    "stop inlet": ((AIR, f"plug stop.1\n{END}"),),
    "stop gummed": (("    in in passes 1-2\n", ""),),
    "stop half": (
        ("    in in passes 1-2\n", ""),
        ("    in out passes 2-3\n", ""),
        (SPOOL, "    otherwise stays\n"),
    ),
    "stop tied": ((SPOOL, ALWAYS),),
    "stop broken": ((SPOOL, "    otherwise to out\n"),),
    "foot dirt": (("  element poppet", "  passage liquid inside-outside\n  element poppet"),),
    "foot seat": (("  element poppet", "  passage liquid outside>inside\n  element poppet"),),
    "foot clogged": (
        ("in open passes liquid inside-outside", "in open passes liquid outside>inside"),
    ),
    "tube lift blocked": ((LIFT, "plug stop.2, foot.pilot\n"),),
    "tube lift kinked": (
        (LIFT, "line a: stop.2, kink.in\nline b: kink.out, foot.pilot\npart kink: choke\n"),
    ),
    "tube lift torn": ((LIFT, "open stop.2, foot.pilot\n"),),
    "tube lift torn at foot.pilot": (
        (LIFT, "line a: stop.2, rest.in\npart rest: hole\nopen foot.pilot\n"),
    ),
    "tube lift leaking": ((LIFT, "line lift: stop.2, foot.pilot, more.in\npart more: hole\n"),),
    "tube lift burst": ((LIFT, "line lift: stop.2, foot.pilot, more.in\npart more: gap\n"),),
    "tube air blocked": ((AIR, f"plug stop.1\n{END}"),),
    "tube air torn": ((AIR, f"open stop.1\n{END}"),),
    "tube air torn at supply tractor": ((AIR, f"line b: stop.1, rest.in\npart rest: hole\n{END}"),),
    "tube air burst": ((AIR, "line air: tractor, stop.1, more.in\npart more: gap\n"),),
    "supply tractor weak": ((AIR, "line air: tractor, stop.1, more.in\npart more: gap\n"),),
}


def edited(edits: Edits) -> str:
    text = BASE
    for old, new in edits:
        assert old in text
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize("name", EFFECTS)
def test_a_fault_that_has_struck_is_as_if_built_so(name: str) -> None:
    circuit, woven = woven_of(BASE, name)
    built = load_text(edited(EFFECTS[name])).circuit
    now = struck(woven)
    if name == "supply tractor weak":
        # It comes and goes: what it does while it acts is looked at, and what it does after.
        number = woven.elements[0]
        states = Exploration(now).states
        acting = [state for state in states if state.positions[number] == 1]
        assert views(built, circuit) <= views(now, circuit, acting)
        assert views(now, circuit) == views(built, circuit) | views(circuit, circuit)
    else:
        assert views(now, circuit) == views(built, circuit)


@pytest.mark.parametrize("name", EFFECTS)
def test_until_a_fault_strikes_nothing_is_different(name: str) -> None:
    circuit, woven = woven_of(BASE, name)
    (number,) = woven.elements
    exploration = Exploration(woven.circuit)
    assert exploration.complete
    sound = [state for state in exploration.states if state.positions[number] == 0]
    assert views(woven.circuit, circuit, sound) == views(circuit, circuit)


def test_every_effect_is_tried() -> None:
    circuit = load_text(BASE).circuit
    tried = {effect.effect for fault in circuit.faults for effect in fault.effects}
    assert tried == {
        *("sticks", "shifts", "no_spring", "leaks", "passes", "vents", "bursts", "blocks"),
        *("held", "dead"),
    }


HELD = """
assume "air" because "the compressor runs": always tractor is present
start tractor is present
"""
NEVER = 'assume "no air" because "the hose is off": always tractor is absent\n'


def but_for_tractor(seen: set[View]) -> set[View]:
    return {tuple(pair for pair in one if pair[0] != "tractor") for one in seen}


def test_a_supply_is_lost_and_comes_back_although_it_is_assumed_to_be_there() -> None:
    circuit, woven = woven_of(f"{BASE}{HELD}", "supply tractor lost")
    free = load_text(f"{BASE}start tractor is present\n").circuit

    assert but_for_tractor(views(woven.circuit, circuit)) == but_for_tractor(views(free, free))


def test_a_supply_gives_air_although_it_is_assumed_to_give_none() -> None:
    circuit, woven = woven_of(f"{BASE}{NEVER}", "supply tractor restored")
    free = load_text(BASE).circuit

    assert but_for_tractor(views(woven.circuit, circuit)) == but_for_tractor(views(free, free))


def test_what_the_supply_does_by_itself_is_no_fault() -> None:
    def named(text: str) -> list[str]:
        return [s.name for s in every_strike(load_text(text).circuit) if s.kind == "supply"]

    assert named(BASE) == ["supply tractor weak"]
    assert named(BASE.replace("supply tractor", "supply tractor may be weak")) == []
    held = ["supply tractor lost", "supply tractor weak", "supply tractor restored"]
    assert named(f"{BASE}{HELD}") == held


# A line of three ends: its tubes meet at a junction.
JOINED = BASE.replace(LIFT, "line lift: stop.2, foot.pilot, lamp.pilot\npart lamp: foot_valve\n")
AT_FOOT = "tube lift at foot.pilot"
JUNCTION: dict[str, str] = {
    f"{AT_FOOT} blocked": "line lift: stop.2, lamp.pilot\nplug foot.pilot\n",
    f"{AT_FOOT} torn": "line lift: stop.2, lamp.pilot, m.in\npart m: gap\nopen foot.pilot\n",
    f"{AT_FOOT} torn at foot.pilot": (
        "line lift: stop.2, lamp.pilot, m.in\npart m: hole\nopen foot.pilot\n"
    ),
    f"{AT_FOOT} kinked": (
        "line lift: stop.2, lamp.pilot, k.in\npart k: choke\nline b: k.out, foot.pilot\n"
    ),
    "tube lift at stop.2 torn": (
        "open stop.2\nline lift: foot.pilot, lamp.pilot, m.in\npart m: gap\n"
    ),
    "tube lift at stop.2 torn at junction": (
        "line a: stop.2, h.in\npart h: hole\nline lift: foot.pilot, lamp.pilot, m.in\npart m: gap\n"
    ),
    "tube lift at stop.2 torn at stop.2": (
        "open stop.2\nline lift: foot.pilot, lamp.pilot, h.in\npart h: hole\n"
    ),
}


@pytest.mark.parametrize("name", JUNCTION)
def test_a_tube_of_a_line_with_a_junction(name: str) -> None:
    circuit, woven = woven_of(JOINED, name)
    text = JOINED.replace("line lift: stop.2, foot.pilot, lamp.pilot\n", JUNCTION[name])
    built = load_text(text).circuit
    assert views(struck(woven), circuit) == views(built, circuit)


def test_which_end_a_tube_comes_off_matters_only_where_air_goes_on_from_the_other() -> None:
    """At `stop.2` it hangs on the foot valve, where air goes no further."""
    names = {one.name for one in every_strike(load_text(BASE).circuit)}
    assert "tube lift torn at foot.pilot" in names
    assert "tube lift torn at stop.2" not in names
    assert {"tube air torn at stop.1", "tube air torn at supply tractor"} <= names
    circuit, whole = woven_of(BASE, "tube lift torn")
    tube = load_text(BASE.replace(LIFT, "open foot.pilot\nopen stop.2\n")).circuit
    assert views(struck(whole), circuit) == views(tube, circuit)


ROWS = """
common cause ice "it freezes": stop sticks, tube lift blocked
"""


def test_of_a_common_cause_what_comes_and_goes_does_so_and_what_stays_stays() -> None:
    circuit, woven = woven_of(f"{BASE}{ROWS}", "cause ice")
    (number,) = woven.elements
    exploration = Exploration(woven.circuit)
    assert exploration.complete
    by_position = {
        at: views(
            woven.circuit, circuit, [s for s in exploration.states if s.positions[number] == at]
        )
        for at in range(3)
    }
    blocked = load_text(edited(EFFECTS["tube lift blocked"])).circuit
    # Before the strike the valve opened; once it is over only what stays is left.
    assert by_position[0] == views(circuit, circuit)
    assert views(blocked, circuit) <= by_position[2]
    spool = [dict(view)["stop.spool"] for view in by_position[2]]
    assert set(spool) == {"out", "in"}
    for at in (1, 2):
        # Cut off from the valve, the pilot never gains air: it has what it had when it froze.
        steps = [
            (dict(view(woven.circuit, circuit, before)), dict(view(woven.circuit, circuit, after)))
            for before in exploration.states
            if before.positions[number] == at
            for after in (edge[0] for edge in exploration.edges(before))
            if after.positions[number] == at
        ]
        assert steps
        assert all(
            then["foot.pilot"] != (False, True) or now["foot.pilot"] == (False, True)
            for then, now in steps
        )
        if at == 1:
            assert all(then["stop.spool"] == now["stop.spool"] for then, now in steps)


def test_at_most_so_many_strike() -> None:
    names = ("stop tied", "tube lift torn", "foot dirt")
    for most in (1, 2):
        _, woven = woven_of(BASE, *names, most=most)
        counts = {
            sum(state.positions[number] > 0 for number in woven.elements)
            for state in Exploration(woven.circuit).states
        }
        assert counts == set(range(most + 1))


def test_a_port_is_read_on_its_own_side_of_a_tube() -> None:
    """Torn off at the stop, the line at the foot valve has no air, whatever the stop does."""
    texts = BASE + 'always "here": high(stop.2)\nalways "there": high(foot.pilot)\n'
    texts += 'always "line": high(lift)\n'
    _, woven = woven_of(texts, "tube lift torn")
    volumes = {
        item.name: next(atoms(item.instances[0].condition)) for item in woven.circuit.properties[1:]
    }
    here, there, line = (volumes[name] for name in ("here", "there", "line"))
    assert isinstance(here, High)
    assert isinstance(there, High)
    assert isinstance(line, High)
    assert woven.circuit.volumes[there.volume].name == "foot.pilot at lift"
    # The line by its name is its first end.
    assert here.volume == line.volume != there.volume
    assert len({here.reader, there.reader}) == 2


def test_a_blocked_outlet_of_a_supply_cuts_it_off() -> None:
    """What lies behind keeps its air: an empty supply cannot drain it any more."""
    _, woven = woven_of(BASE, "tube air blocked")
    exploration = Exploration(woven.circuit)
    port = next(k for k, one in enumerate(woven.circuit.ports) if one.name == "stop.1")
    volume = woven.circuit.ports[port].volume
    supply = woven.circuit.switches[0].values
    (number,) = woven.elements
    kept = [
        state
        for state in exploration.states
        if state.positions[number] == 1
        and supply[state.settings[0]] == "absent"
        and pressures(woven.circuit, state).can_high[volume]
    ]
    assert kept
    assert all(pressures(woven.circuit, state).trapped[volume] for state in kept)
    sound = [s for s in exploration.states if s.positions[number] == 0]
    assert not any(
        supply[s.settings[0]] == "absent" and pressures(woven.circuit, s).can_high[volume]
        for s in sound
    )
