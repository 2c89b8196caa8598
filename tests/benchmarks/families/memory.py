"""Trapped memory: non-return valves, and lines that are cut off with what they had."""

from __future__ import annotations

from tests.benchmarks.families.member import Family

STOP = "the stop shuts every valve"
FAR = "air at the far end"


def store(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """Each foot valve is kept open by air behind a non-return valve, until the guard line, which
    the stop empties, lets its dump valve go. Flawed: the last dump valve is held by main air."""
    guarded = n - 1 if flawed else n
    main = f", dump[{n}].pilot" if flawed else ""
    text = f"""
design cormorant_{n} "{n} foot valves on kept air{", one dump valve on main air" if flawed else ""}"
use standard

kind dump_valve "its spring opens it to the air, air at its pilot shuts it"
  ports in, pilot
  exhausts out
  element disc: open, shut
    in open passes in-out
    to shut when high(pilot)
    otherwise to open
end

supply tractor "compressed air from the tractor"

part stop : emergency_stop_exhausting role stop
part button[1..{n}] : push_button_3_2 role selector
part choke[1..{n}] : restrictor "so that an open dump valve wins against the button"
part keep[1..{n}] : non_return_valve
part dump[1..{n}] : dump_valve "of the line of each foot valve"
part foot[1..{n}] : foot_valve

line air : tractor, stop.1{main}
line guard : stop.2, button[1..{n}].1, dump[1..{guarded}].pilot
line press[i in 1..{n}] : button[i].2, choke[i].in
line slow[i in 1..{n}] : choke[i].out, keep[i].in
line lift[i in 1..{n}] : keep[i].out, foot[i].pilot, dump[i].in

place tank[1..{n}], coupling[1..{n}]
liquid tank[i in 1..{n}] - foot[i] - coupling[i]

always "{STOP}":
    if pressed(stop) then shut(foot[i])
    for every i in 1..{n}
always "loss of air ends shut":
    if tractor is absent then shut(foot[i])
    for every i in 1..{n}
recovers "the stop empties every line":
    after not pushed(button[i]), pushed(stop), pulled(stop) then shut(foot[i])
    for every i in 1..{n}
never "two compartments joined":
    joined(tank[i], tank[j])
    for any i < j
possible "kept open without a hand":
    flow(tank[i], coupling[i]) and not pushed(button[i])
    for each i in 1..{n}
possible "all open at once":
    every i in 1..{n}: open(foot[i])
""".lstrip()
    return text, {STOP: 3, "the stop empties every line": 5} if flawed else {}


def carry(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """A rotary valve joins two neighbouring lines at a time, so that air can only be carried from
    line to line, trapped in between. A bleed in the middle lets none get past it. Flawed: the
    bleed is plugged."""
    half = (n + 1) // 2
    positions = ", ".join(f"at_{k}" for k in range(1, n + 1))
    passes = "\n".join(f"    in at_{k} passes c{k - 1}-c{k}" for k in range(1, n + 1))
    ports = ", ".join(f"c{k}" for k in range(n + 1))
    cells = "\n".join(
        f"line cell[{k}] : rotary.c{k}, gauge[{k}].in{', bleed.in' if k == half else ''}"
        for k in range(1, n)
    )
    text = f"""
design pelican_{n} "Air carried through {n} lines{", the bleed plugged" if flawed else ""}"
use standard

kind rotary_valve "rotary valve, joins two neighbouring ports at a time"
  ports {ports}
  hand turned_up
  hand turned_down
  element rotor: {positions}
{passes}
    to at_{n} when turned_up by hand
    to at_1 when turned_down by hand
    otherwise stays
end

supply tractor "compressed air from the tractor"

part rotary : rotary_valve
part gauge[1..{n - 1}] : visual_indicator
part bleed : restrictor
part foot : foot_valve

line air : tractor, rotary.c0
{cells}
line far : rotary.c{n}, foot.pilot
{"plug" if flawed else "open"} bleed.out

place tank, coupling
liquid tank - foot - coupling

never at every moment "{FAR}":
    high(far)
never "flow":
    flow(tank, coupling)
possible "air in the first line behind the supply":
    showing(gauge[1]) and tractor is present
""".lstrip()
    return text, {FAR: n, "flow": n + 1, "comes to rest": None} if flawed else {}


STORE = Family(
    "store",
    "lines that keep their air behind non-return valves; flaw: one dump valve on main air",
    ("lines",),
    (2,),
    store,
)
CARRY = Family(
    "carry",
    "trapped air carried from line to line; flaw: the bleed in the middle is plugged",
    ("lines",),
    (4,),
    carry,
)
