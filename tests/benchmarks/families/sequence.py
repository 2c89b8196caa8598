"""Deep sequencing: vents in series, relays behind them, and groups in cascade."""

from __future__ import annotations

from tests.benchmarks.families.member import Family

DISCHARGE = "discharge with a vent shut"
PUSHED = "a group valve pushed both ways"


def vents(name: str, title: str, n: int, relays: int, flawed: bool) -> str:
    """A master, n vents in series, a row of relays that hand the returning air on, and two foot
    valves with selectors. Flawed: the last vent was left out of the series."""
    last = n - 1 if flawed else n
    left_out = f"\nplug vent[{n}].in, vent[{n}].out" if flawed else ""
    parts = f"\npart relay[1..{relays}] : single_pilot_3_2" if relays else ""
    between = f"\nline ready[i in 1..{relays - 1}] : relay[i].2, relay[i + 1].12" if relays else ""
    if relays < 2:
        between = ""
    back = f"line back : vent[{last}].out, lamp.in, " + (
        f"relay[1].12\nline bank : relay[{relays}].2, pick[1..2].1" if relays else "pick[1..2].1"
    )
    ports = f", relay[1..{relays}].1" if relays else ""
    passes = f"\nline pass[i in 1..{last - 1}] : vent[i].out, vent[i + 1].in" if last > 1 else ""
    return f"""
design {name} "{title}"
use standard

supply tractor "compressed air from the tractor"

part stop : emergency_stop_pressurising role stop "at the rear corner"
part master : push_pull_5_2_held_by_air role master "in the cabinet"
part vent[1..{n}] : sequence_vent "on top of each compartment"{parts}
part lamp : visual_indicator role indicator "shows that the vents are open"
part pick[1..2] : push_pull_3_2 role selector
part foot[1..2] : foot_valve

line air : tractor, stop.1, master.1, master.hold{ports}
line trip : stop.2, master.12
line rise : master.4, vent[1].in{passes}
{back}{between}
line home : master.2, pick[1..2].10
line lift[i in 1..2] : pick[i].2, foot[i].pilot{left_out}

place tank[1..{max(n, 2)}], coupling[1..2], sky
liquid tank[i in 1..2] - foot[i] - coupling[i]
vapour tank[i in 1..{n}] - vent[i] - sky

always "the stop shuts every valve":
    if pressed(stop) then shut(foot[i])
    for every i in 1..2
recovers "pushing the master in shuts everything":
    after pushed(master) then shut(foot[i])
    for every i in 1..2
always "loss of air ends shut":
    if tractor is absent then shut(foot[i])
    for every i in 1..2
never "{DISCHARGE}":
      flow(tank[i], coupling[i]) and not open(vent[j])
    for any i in 1..2, j in 1..{n}
never "a foot valve open that was not selected":
      open(foot[i]) and not pick[i] is out
    for any i in 1..2
possible "each compartment can discharge":
    flow(tank[i], coupling[i])
    for each i in 1..2
""".lstrip()


def series(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    title = f"{n} vents in series{', the last left out' if flawed else ''}"
    text = vents(f"frigatebird_{n}", title, n, 0, flawed)
    return text, {DISCHARGE: n + 1} if flawed else {}


def deep(n: int, relays: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    title = f"{n} vents in series, then {relays} relays{', the last left out' if flawed else ''}"
    text = vents(f"tropicbird_{n}_{relays}", title, n, relays, flawed)
    return text, {DISCHARGE: n + relays + 1} if flawed else {}


def cascade(groups: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """Groups of compartments emptied one after the other by the textbook's cascade method: group
    valve k hands the air on to the groups behind it when group k says that it is dry; the last
    group's button starts the round again. What sends signals gets its air from the line of its own
    group, so that a signal cannot last into another group. Flawed: the last dryness sensor but one
    has its air from the supply: its valve goes over while the others still wait for their turn."""
    g = groups
    title = f"{g} groups emptied in turn{', a sensor on main air' if flawed else ''}"
    own = g - 2 if flawed else g - 1
    extra = f", dry[{g - 1}].in" if flawed else ""
    sensors = f"\nline group[i in 1..{own}] : valve[i].2, foot[i].pilot, dry[i].in" if own else ""
    if flawed:
        sensors += f"\nline group[{g - 1}] : valve[{g - 1}].2, foot[{g - 1}].pilot"
    on = f"\nline on[i in 1..{g - 2}] : valve[i].4, valve[i + 1].1" if g > 2 else ""
    text = f"""
design booby_{g} "{title}"
use standard

kind dryness_sensor "passes air only while its pipe is dry"
  ports in, out
  exhausts exhaust
  surroundings pipe: wet, dry
  element float: up, down
    in down passes in-out
    in up passes out-exhaust
    to down when pipe is dry
    otherwise to up
end

supply tractor "compressed air from the tractor"

part valve[1..{g - 1}] : double_pilot_5_2 "group valves"
part foot[1..{g}] : foot_valve
part dry[1..{g - 1}] : dryness_sensor
part again : push_button_3_2 "starts the round again"

line air : tractor, valve[1].1{extra}{on}{sensors}
line group[{g}] : valve[{g - 1}].4, foot[{g}].pilot, again.1
line done[i in 1..{g - 1}] : dry[i].out, valve[i].14
line back : again.2, valve[1..{g - 1}].12

place tank[1..{g}], header
liquid tank[i in 1..{g}] - foot[i] - header

runs on because "with the button held and all pipes dry the round repeats"
never at every moment "{PUSHED}":
      high(valve[i].14) and high(valve[i].12)
    for any i in 1..{g - 1}
never at every moment "two groups have air":
      high(group[i]) and high(group[j])
    for any i < j
never "two groups flow":
    joined(tank[i], tank[j])
    for any i < j
possible "each group can flow":
    flow(tank[i], header)
    for each i in 1..{g}
""".lstrip()
    return text, {PUSHED: max(g, 3)} if flawed else {}


SERIES = Family(
    "series", "vents in series; flaw: the last is left out of the series", ("vents",), (2,), series
)
DEEP = Family(
    "deep",
    "vents in series, then relays in a row; flaw: the last vent is left out",
    ("vents", "relays"),
    (2, 1),
    deep,
)
CASCADE = Family(
    "cascade",
    "groups in cascade; flaw: the last sensor but one on the supply, not on its group",
    ("groups",),
    (2,),
    cascade,
)
