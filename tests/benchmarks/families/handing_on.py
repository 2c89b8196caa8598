"""Memory that is handed on: a leave that goes round a ring, and a start-up that is taken back."""

from __future__ import annotations

from tests.benchmarks.families.member import Family

LEAVE = "two stations have leave"
FEET = "two foot valves open"
FIRST = "the last stage is on and the first is off"

AIR_LASTS = """
assume "air lasts" because "the receiver holds air for a whole shift":
    always tractor is present
"""


def token(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """Stations in a ring hand a leave on to the next. While two valves remember it, the permit
    valve of the second keeps it from the second, and must do so before the leave can be handed on.
    Memory outlasts air, so the air must not fail. Flawed: it may.
    """
    beside = [(i, i % n + 1, (i - 2) % n + 1) for i in range(1, n + 1)]
    known = "\n".join(
        f"line known[{i}] : mark[{i}].2, permit[{i}].1, permit[{after}].pilot, mark[{before}].10"
        for i, after, before in beside
    )
    offer = "\n".join(f"line offer[{i}] : give[{i}].2, permit[{after}].a" for i, after, _ in beside)
    text = f"""
design sooty_tern_{n} "A leave that goes round {n} stations{", air may fail" if flawed else ""}"
use standard

kind permit_valve "passes the leave while its pilot has no air, and on to the mark while it has"
  ports 1, 2, a, b, pilot
  exhausts 3, c
  element spool: open, shut
    in open passes 1-2, b-c
    in shut passes 2-3, a-b
    to shut when high(pilot)
    otherwise to open
end

supply tractor starts present "compressed air from the tractor, through a receiver"

part mark[1..{n}] : double_pilot_3_2 "remembers who has leave"
part permit[1..{n}] : permit_valve
part give[1..{n}] : push_button_3_2 "hands the leave on"
part foot[1..{n}] : foot_valve
start mark[1] is at_12

line air : tractor, mark[1..{n}].1
{known}
line leave[i in 1..{n}] : permit[i].2, give[i].1, foot[i].pilot
{offer}
line set[i in 1..{n}] : permit[i].b, mark[i].12

place tank[1..{n}], header
liquid tank[i in 1..{n}] - foot[i] - header
{"" if flawed else AIR_LASTS}
runs on because "with all buttons held the leave goes round"
never at every moment "{LEAVE}":
      high(leave[i]) and high(leave[j])
    for any i < j
never "{FEET}":
    joined(tank[i], tank[j])
    for any i < j
possible "each has its turn":
    flow(tank[i], header)
    for each i in 1..{n}
""".lstrip()
    apart = {FEET: None} if n > 3 else {}  # two that are not neighbours
    return text, {LEAVE: 4, **apart} if flawed else {}


def ladder(n: int, *, flawed: bool) -> tuple[str, dict[str, int | None]]:
    """Stages started in order, each by its button and with the air of those before it, and stopped
    in the opposite order: the stopping air reaches a stage through the home positions of all behind
    it. Flawed: it reaches the first stage at once.
    """
    first = 2 if flawed else 1
    early = ", stage[1].10" if flawed else ""
    down = "\n".join(
        f"line down[{i}] : stage[{i + 1}].b, stage[{i}].10, stage[{i}].a" for i in range(first, n)
    )
    apart = "plug stage[2].b, stage[1].a, stage[1].b" if flawed else "plug stage[1].b"
    text = f"""
design guillemot_{n} "{n} stages in order{", the first stopped at once" if flawed else ""}"
use standard

kind stage_valve "remembers that it is on; off, it passes the stopping air to the one before it"
  ports 1, 2, 10, 12, a, b
  exhausts 3, c
  element spool: off, on
    in off passes 2-3, a-b
    in on passes 1-2, b-c
    to on when high(12) and not high(10)
    to off when high(10) and not high(12)
    otherwise stays
end

supply tractor "compressed air from the tractor"

part stop : push_pull_5_2_detent "in, it lets stages start; out, it stops them"
part stage[1..{n}] : stage_valve
part button[1..{n}] : push_button_3_2 "starts a stage"
part lamp : visual_indicator

line air : tractor, stop.1
line run : stop.2, stage[1].1, button[1].1
line up[i in 1..{n - 1}] : stage[i].2, stage[i + 1].1, button[i + 1].1
line full : stage[{n}].2, lamp.in
line set[i in 1..{n}] : button[i].2, stage[i].12
line back : stop.4, stage[{n}].10, stage[{n}].a{early}
{down}
{apart}

never at every moment "{FIRST}":
    stage[{n}] is on and stage[1] is off
recovers "the stop ends all":
    after tractor is present, pulled(stop) then every i in 1..{n}: stage[i] is off
possible "all on":
    showing(lamp)
""".lstrip()
    return text, {FIRST: n + 3} if flawed else {}


TOKEN = Family(
    "token",
    "a leave handed round a ring of stations; flaw: air may fail while it is handed on",
    ("stations",),
    (3,),
    token,
)
LADDER = Family(
    "ladder",
    "stages on in order, off in the opposite one; flaw: the first is stopped at once",
    ("stages",),
    (3,),
    ladder,
)
