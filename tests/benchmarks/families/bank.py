"""Selector banks: N compartments on M manifolds, in the style of specs/shearwater."""

from __future__ import annotations

from tests.benchmarks.families.member import Family

# A chain of points, so that one manifold never has two compartments; fed side by side, it may.
CHAIN = """
  port feed : point[1].feed
  port home : point[1..n].home
  part point[1..n] : point
  line next[i in 1..n - 1] : point[i].next, point[i + 1].feed
  line load[i in 1..n]     : point[i].lift
  plug point[n].next
""".strip("\n")
ABREAST = """
  port feed : point[1..n].feed
  port home : point[1..n].home
  part point[1..n] : point
  line load[i in 1..n] : point[i].lift
  plug point[1..n].next
""".strip("\n")
MEET = "two compartments meet"
BOTH = "two compartments have opening air on one manifold"


def circuit(name: str, title: str, n: int, m: int, abreast: bool) -> str:
    """The trailer without its properties."""
    return f"""
design {name} "{title}"
use standard

supply tractor "compressed air from the tractor, through the dryer"

assembly point "selector and manifold valve of one compartment on one manifold"
  port feed : pick.1 "air that came through the home positions before it"
  port next : pick.2 "on through the home position"
  port home : pick.12
  port lift : pick.4, man.to_open
  part pick : push_pull_5_2 role selector
  part man  : outlet_valve
  open man.hold_shut
end

assembly leg(n) "one manifold"
{ABREAST if abreast else CHAIN}
end

part stop[1..2] : emergency_stop_pressurising role stop "at both rear corners"
part either     : shuttle_valve "either stop trips"
part master     : push_pull_5_2_held_by_air role master "in the cabinet"
part vent[1..{n}] : sequence_vent "on top of each compartment"
part lamp       : visual_indicator role indicator "shows that the vents are open"
part foot[1..{n}] : foot_valve "in the bottom of each compartment"
part leg[1..{m}] : leg(n = {n}) "one for each manifold"

line air     : tractor, stop[1..2].1, master.1, master.hold
line call[1] : stop[1].2, either.a
line call[2] : stop[2].2, either.b
line trip    : either.out, master.12
line rise    : master.4, vent[1].in "up the front of the tank"
line pass[i in 1..{n - 1}] : vent[i].out, vent[i + 1].in
line back    : vent[{n}].out, lamp.in, foot[1..{n}].pilot, leg[1..{m}].feed "the returning air"
line home    : master.2, leg[1..{m}].home

place tank[1..{n}], header[1..{m}], sky
liquid tank[i in 1..{n}] - foot[i] - leg[k in 1..{m}].point[i].man - header[k]
vapour tank[i in 1..{n}] - vent[i] - sky
""".lstrip()


def bank(n: int, m: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """Every property is stated for each compartment, or pair of them, as an instance of its own."""
    every = f"every k in 1..{m}: shut(leg[k].point[i].man)"
    properties = f"""
always "each stop shuts every valve":
    if pressed(stop[s]) then shut(foot[i]) and shut(vent[i]) and ({every})
    for every s in 1..2, i in 1..{n}
recovers "releasing the stops opens nothing":
    after pushed(stop[s]), pulled(stop[1]), pulled(stop[2])
    then every i in 1..{n}: shut(foot[i]) and ({every})
    for every s in 1..2
recovers "pushing the master in shuts everything":
    after pushed(master) then every i in 1..{n}: shut(foot[i]) and ({every})
always "loss of air ends shut":
    if tractor is absent then shut(foot[i]) and shut(vent[i]) and ({every})
    for every i in 1..{n}
recovers "air that comes back opens nothing":
    after tractor is absent, tractor is present
    then every i in 1..{n}: shut(foot[i]) and ({every})
never "discharge with a vent shut":
      flow(tank[i], header[k]) and not open(vent[j])
    for any k in 1..{m}, i in 1..{n}, j in 1..{n}
never at every moment "air on the foot valves before every vent is open":
      high(foot[i].pilot) and not open(vent[j])
    for any i in 1..{n}, j in 1..{n}
never "{MEET}":
    joined(tank[i], tank[j])
    for any i < j
never at every moment "{BOTH}":
      high(leg[k].point[i].man.to_open) and high(leg[k].point[j].man.to_open)
    for any k in 1..{m}, i in 1..{n}, j in 1..{n} where i < j
never "a manifold valve open that was not selected":
      open(leg[k].point[i].man) and not leg[k].point[i].pick is out
    for any k in 1..{m}, i in 1..{n}
never "the indicator shows with a vent shut":
      showing(lamp) and not open(vent[j])
    for any j in 1..{n}
possible "each compartment can discharge through each manifold":
    flow(tank[i], header[k])
    for each k in 1..{m}, i in 1..{n}
possible "one compartment on every manifold at once":
    every k in 1..{min(n, m)}: flow(tank[k], header[k])
"""
    title = f"{n} compartments on {m} manifolds{', points abreast' if flawed else ''}"
    violated = {MEET: n + 2, BOTH: n + 1} if flawed else {}
    return circuit(f"shearwater_{n}_{m}", title, n, m, flawed) + properties, violated


def within(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """One manifold, and each property one instance that speaks of all compartments inside, so that
    their number and their size are linear. A chain cannot skip a point: so what holds for
    neighbours (i, i + 1) is enough to keep all compartments apart.
    """
    shut = f"every i in 1..{n}: shut(foot[i]) and shut(vent[i]) and shut(leg[1].point[i].man)"
    down = f"every i in 1..{n}: shut(foot[i]) and shut(leg[1].point[i].man)"
    closed = f"(some j in 1..{n}: not open(vent[j]))"
    properties = f"""
always "each stop shuts every valve":
    if pressed(stop[s]) then ({shut})
    for every s in 1..2
recovers "pushing the master in shuts everything":
    after pushed(master) then {down}
always "loss of air ends shut":
    if tractor is absent then ({shut})
recovers "air that comes back opens nothing":
    after tractor is absent, tractor is present then {down}
never "discharge with a vent shut":
    (some i in 1..{n}: flow(tank[i], header[1])) and {closed}
never at every moment "air on the foot valves before every vent is open":
    (some i in 1..{n}: high(foot[i].pilot)) and {closed}
never "{MEET}":
    some i in 1..{n - 1}: joined(tank[i], tank[i + 1])
never at every moment "{BOTH}":
    some i in 1..{n - 1}:
      high(leg[1].point[i].man.to_open) and high(leg[1].point[i + 1].man.to_open)
never "a manifold valve open that was not selected":
    some i in 1..{n}: open(leg[1].point[i].man) and not leg[1].point[i].pick is out
never "the indicator shows with a vent shut":
    showing(lamp) and {closed}
possible "the last compartment can discharge":
    flow(tank[{n}], header[1])
"""
    title = f"{n} compartments on one manifold{', points abreast' if flawed else ''}"
    violated = {MEET: n + 2, BOTH: n + 1} if flawed else {}
    return circuit(f"albatross_{n}", title, n, 1, flawed) + properties, violated


BANK = Family(
    "bank",
    "selector banks, every property an instance for each compartment or pair; flaw: points abreast",
    ("compartments", "manifolds"),
    (2, 1),
    bank,
)
WITHIN = Family(
    "bank-within",
    "one manifold, quantifiers inside the properties; flaw: points abreast",
    ("compartments",),
    (2,),
    within,
)
