"""Arbitration: who may open, when only one may."""

from __future__ import annotations

from tests.benchmarks.families.member import Family

OPEN = "two valves open"
MEET = "neighbours meet"
LIFTED = "neighbours both lifted"


def rotary(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """A rotary selector feeds one foot valve at a time, with a neutral position between any two,
    which it leaves only while all foot valves are shut. Flawed: the lock does not look at the last
    foot valve."""
    looked_at = n - 1 if flawed else n
    positions = ", ".join(f"neutral_{k}, at_{k}" for k in range(1, n + 1))
    rows = []
    for k in range(1, n + 1):
        vented = ", ".join(f"o{j}-3" for j in range(1, n + 1))
        fed = ", ".join(f"1-o{j}" if j == k else f"o{j}-3" for j in range(1, n + 1))
        rows += [f"    in neutral_{k} passes {vented}", f"    in at_{k} passes {fed}"]
    passes = "\n".join(rows)
    away = " or ".join(f"rotor is at_{k}" for k in range(1, n + 1))
    outs = ", ".join(f"o{k}" for k in range(1, n + 1))
    lines = "\n".join(f"line lift[{k}] : turn.o{k}, foot[{k}].pilot" for k in range(1, n + 1))
    text = f"""
design skimmer_{n} "One of {n} by a locked rotary selector{", the last unlocked" if flawed else ""}"
use standard

kind rotary_selector "one outlet at a time; leaves a neutral position only while it is worked"
  ports 1, {outs}
  exhausts 3
  hand turned_up
  hand turned_down
  element rotor: {positions}
{passes}
    to at_{n} when turned_up by hand and (worked or {away})
    to neutral_1 when turned_down by hand and (worked or {away})
    otherwise stays
end

supply tractor "compressed air from the tractor"

part turn : rotary_selector worked by every i in 1..{looked_at}: shut(foot[i])
part foot[1..{n}] : foot_valve

line air : tractor, turn.1
{lines}

place tank[1..{n}], header
liquid tank[i in 1..{n}] - foot[i] - header

never at every moment "{OPEN}":
      open(foot[i]) and open(foot[j])
    for any i < j
never at every moment "air at two valves":
      high(foot[i].pilot) and high(foot[j].pilot)
    for any i < j
always "loss of air ends shut":
    if tractor is absent then shut(foot[i])
    for every i in 1..{n}
possible "each can flow":
    flow(tank[i], header)
    for each i in 1..{n}
""".lstrip()
    return text, {OPEN: 2 * n + 2} if flawed else {}


def ring(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """Compartments in a ring, where neighbours share a header: each selector is sent home by air
    from the master or from either neighbour. Drawn together, both fall home. Flawed: the first and
    the last do not send each other home: with every second one drawn, no ball of the shuttle valves
    need move; an even ring takes one step more.
    """
    parted = f"open beside[1].a\nopen beside[{n}].b" if flawed else ""
    ends = ["", ""] if flawed else [f", beside[{n}].b", ", beside[1].a"]
    text = f"""
design turnstone_{n} "{n} compartments in a ring of cross-locks{", one missing" if flawed else ""}"
use standard

supply tractor "compressed air from the tractor"

part master : push_pull_5_2_held_by_air role master
part vent : sequence_vent
part pick[1..{n}] : push_pull_3_2 role selector
part beside[1..{n}] : shuttle_valve "air from either neighbour"
part either[1..{n}] : shuttle_valve "the master or a neighbour sends it home"
part foot[1..{n}] : foot_valve

line air : tractor, master.1, master.hold
open master.12
line rise : master.4, vent.in
line back : vent.out, pick[1..{n}].1
line home : master.2, either[1..{n}].a
line lift[1] : pick[1].2, foot[1].pilot, beside[2].a{ends[0]}
line lift[i in 2..{n - 1}] : pick[i].2, foot[i].pilot, beside[i - 1].b, beside[i + 1].a
line lift[{n}] : pick[{n}].2, foot[{n}].pilot, beside[{n - 1}].b{ends[1]}
line near[i in 1..{n}] : beside[i].out, either[i].b
line send[i in 1..{n}] : either[i].out, pick[i].10
{parted}

place tank[1..{n}], header[1..{n}]
liquid tank[i in 1..{n}] - foot[i] - header[i]
liquid tank[i in 1..{n - 1}] - foot[i] - header[i + 1]
liquid tank[{n}] - foot[{n}] - header[1]

always "loss of air ends shut":
    if tractor is absent then shut(foot[i])
    for every i in 1..{n}
recovers "pushing the master in shuts everything":
    after pushed(master) then every i in 1..{n}: shut(foot[i])
never "{MEET}":
    joined(tank[i], tank[j])
    for any i in 1..{n}, j in 1..{n} where j = i + 1
never "the first meets the last":
    joined(tank[1], tank[{n}])
never "{LIFTED}":
      high(lift[i]) and high(lift[j])
    for any i in 1..{n}, j in 1..{n} where j = i + 1
possible "each can discharge":
    flow(tank[i], header[i])
    for each i in 1..{n}
""".lstrip()
    return text, {"the first meets the last": 4 - n % 2} if flawed else {}


ROTARY = Family(
    "rotary",
    "one of N by a rotary selector with a lock; flaw: the lock does not look at the last valve",
    ("valves",),
    (2,),
    rotary,
)
RING = Family(
    "ring",
    "selectors in a ring that send their neighbours home; flaw: two neighbours do not",
    ("compartments",),
    (4,),
    ring,
)
