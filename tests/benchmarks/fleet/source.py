"""A generated trailer as a design, and the verdict that its properties must get.

The circuits are those of the family `bank` and of the approved designs heron and fulmar, with parts
of one in the place of parts of another.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from tests.benchmarks.families.bank import ABREAST, BOTH, CHAIN, MEET
from tests.benchmarks.fleet.plans import Plan

TORN = "a torn tube does not undo the stop"

STOPS = "each stop shuts every valve"
RELEASE = "releasing the stops opens nothing"
MASTER = "pushing the master in shuts everything"
HOME = "pushing the master in brings every selector home"
LOSS = "loss of air ends shut"
BACK = "air that comes back opens nothing"
DRY = "discharge with a vent shut"
EARLY = "air on the foot valves before every vent is open"
UNASKED = "a valve open that was not selected"
SHOWN = "the indicator shows with a vent shut"
FIRE = "a fire shuts every valve"
EACH = "each compartment can discharge"

# What each defect breaks, of the properties that a trailer has.
BREAKS = {
    "points abreast": (MEET, BOTH),
    "air from before the vents": (EARLY,),  # at rest the same air has opened every vent
    "a vent left out of the series": (EARLY,),
    "a master that stays out": (BACK,),
    "a stop that is not joined": (STOPS, RELEASE, TORN),
    "a selector without its home line": (HOME,),
}
# Never left out: without these some defects would show nowhere.
KEPT = (STOPS, HOME, BACK, EARLY, MEET, EACH, TORN)


class Expected(Struct, frozen=True):
    """violated: the properties that are; all others hold. Empty: the design holds."""

    file: str
    compartments: int
    manifolds: int
    defect: str
    violated: tuple[str, ...]


def expected(plan: Plan, *, faults: bool) -> Expected:
    named = [name for name, _ in properties(plan, faults=faults)]
    broken = set(BREAKS.get(plan.defect or "", ()))
    if plan.stop_sort == "pressurising":
        broken.add(TORN)  # a stop that has to send air needs its tubes
    return Expected(
        f"{plan.name}/{plan.name}.ilk",
        plan.compartments,
        plan.manifolds,
        plan.defect or "",
        tuple(name for name in named if name in broken),
    )


def text_of(plan: Plan, *, faults: bool) -> str:
    """faults: with a property that tolerates any single torn tube."""
    told = "\n".join(words for _, words in properties(plan, faults=faults))
    return f"{circuit(plan)}\n{told}"


# ---- the circuit
def circuit(plan: Plan) -> str:
    n, m = plan.compartments, plan.manifolds
    how = f"{n} compartments on {m} manifolds" if plan.style == "points" else f"{n} own pipes"
    parts = [
        f'design {plan.name} "{how}{f", {plan.defect}" if plan.defect else ""}"',
        "use standard",
        "",
        'supply tractor "compressed air from the tractor"',
        *_points(plan),
        *_common(plan),
        *(_bank_lines(plan) if plan.style == "points" else _pipe_lines(plan)),
        *_liquid(plan),
    ]
    return "\n".join(parts) + "\n"


def _points(plan: Plan) -> Iterator[str]:
    if plan.style != "points":
        return
    bare = plan.defect == "a selector without its home line"
    leg = ABREAST if plan.defect == "points abreast" else CHAIN
    if bare:
        leg = leg.replace("port home : point[1..n].home", "port home : point[1..n - 1].home")
        leg += "\n  open point[n].home"
    knob = plan.selector
    yield f"""
assembly point "selector and manifold valve of one compartment on one manifold"
  port feed : {knob}.1
  port next : {knob}.2
  port home : {knob}.12
  port lift : {knob}.4, man.to_open
  part {knob} : push_pull_5_2 role selector
  part man  : outlet_valve
  open man.hold_shut
end

assembly leg(n) "one manifold"
{leg}
end
"""


def _common(plan: Plan) -> Iterator[str]:
    n, vent, foot, stop = plan.compartments, plan.vent, plan.foot, plan.stop
    kept = plan.defect != "a master that stays out"
    yield f"part {stop}[1..{plan.stops}] : emergency_stop_{plan.stop_sort} role stop"
    yield f"part master : push_pull_5_2{'_held_by_air' if kept else ''} role master"
    yield f"part {vent}[1..{n}] : sequence_vent"
    yield f"part {foot}[1..{n}] : foot_valve"
    if plan.lamp:
        yield "part lamp : visual_indicator role indicator"
    if plan.filter:
        yield "part dryer : filter"
        yield "line main : tractor, dryer.in"
    yield from _stopping(plan, f", master.1{', master.hold' if kept else ''}")


def _stopping(plan: Plan, master: str) -> Iterator[str]:
    """How the stops act on the master."""
    stop, count = plan.stop, plan.stops
    source = "dryer.out" if plan.filter else "tractor"
    loose = plan.defect == "a stop that is not joined"
    if plan.stop_sort == "pressurising":
        yield f"line air : {source}, {stop}[1..{count}].1{master}"
        if count == 2:
            yield 'part either : shuttle_valve "either stop trips"'
            yield f"line call[1] : {stop}[1].2, either.a"
            yield (
                f"plug {stop}[2].2, either.b" if loose else f"line call[2] : {stop}[2].2, either.b"
            )
            yield "line trip : either.out, master.12"
        elif loose:
            yield f"plug {stop}[1].2, master.12"
        else:
            yield f"line trip : {stop}[1].2, master.12"
        return
    fuse = ", fuse.in" if plan.fuse else ""
    if plan.fuse:
        yield "part fuse : fusible_plug"
    yield "part choke : restrictor"
    yield "open master.12"
    yield f"line air : {source}, choke.in, master.1"
    # The last stop is passed by where it is not joined: its outlet ends nowhere.
    last = count - 1 if loose else count
    if last == 0:
        yield f"line guard : choke.out{fuse}, {stop}[1].1, master.hold"
    else:
        yield f"line guard : choke.out{fuse}, {stop}[1].1"
        for k in range(1, last):
            yield f"line between[{k}] : {stop}[{k}].2, {stop}[{k + 1}].1"
        beside = f", {stop}[{count}].1" if loose else ""
        yield f"line trip : {stop}[{last}].2, master.hold{beside}"
    if loose:
        yield f"plug {stop}[{count}].2"


def _vents(plan: Plan) -> tuple[str, str, list[str]]:
    """What the rising air reaches first, where it comes out, and the lines between."""
    n, vent = plan.compartments, plan.vent
    first, last, lines = f"{vent}[1].in", f"{vent}[{n}].out", []
    chained = n
    if plan.defect == "a vent left out of the series":
        chained, first = n - 1, f"{first}, {vent}[{n}].in"
        last = f"{vent}[{n - 1}].out"
        lines.append(f"plug {vent}[{n}].out")
    if chained > 1:
        lines.append(f"line pass[i in 1..{chained - 1}] : {vent}[i].out, {vent}[i + 1].in")
    return first, last, lines


def _bank_lines(plan: Plan) -> Iterator[str]:
    n, m = plan.compartments, plan.manifolds
    first, last, lines = _vents(plan)
    lamp = ", lamp.in" if plan.lamp else ""
    feet = f", {plan.foot}[1..{n}].pilot"
    early = plan.defect == "air from before the vents"
    yield f"part leg[1..{m}] : leg(n = {n})"
    yield f"line rise : master.4, {first}{feet if early else ''}"
    yield from lines
    yield f"line back : {last}{lamp}{'' if early else feet}, leg[1..{m}].feed"
    yield f"line home : master.2, leg[1..{m}].home"


def _pipe_lines(plan: Plan) -> Iterator[str]:
    n, knob, foot = plan.compartments, plan.selector, plan.foot
    first, last, lines = _vents(plan)
    lamp = ", lamp.in" if plan.lamp else ""
    early = plan.defect == "air from before the vents"
    bare = plan.defect == "a selector without its home line"
    feed = f", {knob}[1..{n}].1"
    yield f"part {knob}[1..{n}] : push_pull_3_2 role selector"
    yield f"part cock[1..{n}] : hand_outlet_valve"
    yield f"line rise : master.4, {first}{feed if early else ''}"
    yield from lines
    if early and not plan.lamp:
        yield f"plug {last}"
    else:
        yield f"line back : {last}{lamp}{'' if early else feed}"
    yield f"line home : master.2, {knob}[1..{n - 1 if bare else n}].10"
    if bare:
        yield f"open {knob}[{n}].10"
    yield f"line lift[i in 1..{n}] : {knob}[i].2, {foot}[i].pilot"


def _liquid(plan: Plan) -> Iterator[str]:
    n, m, foot, vent = plan.compartments, plan.manifolds, plan.foot, plan.vent
    if plan.style == "points":
        yield f"place tank[1..{n}], header[1..{m}], sky"
        man = f"leg[k in 1..{m}].point[i].man"
        yield f"liquid tank[i in 1..{n}] - {foot}[i] - {man} - header[k]"
    else:
        yield f"place tank[1..{n}], header[1..{n}], sky"
        yield f"liquid tank[i in 1..{n}] - {foot}[i] - cock[i] - header[i]"
    yield f"vapour tank[i in 1..{n}] - {vent}[i] - sky"


# ---- what it must do
def properties(plan: Plan, *, faults: bool) -> list[tuple[str, str]]:
    """Names, and the properties as they are stated."""
    told = [*_stop_properties(plan), *_discharge_properties(plan)]
    if faults:
        told.append((TORN, _torn(plan)))
    left = [name for k, (name, _) in enumerate(told) if k in plan.left_out and name not in KEPT]
    return [(name, words) for name, words in told if name not in left]


def _shut(plan: Plan, *, vents: bool) -> str:
    """Of compartment i."""
    vent = f" and shut({plan.vent}[i])" if vents else ""
    points = f" and (every k in 1..{plan.manifolds}: shut(leg[k].point[i].man))"
    return f"shut({plan.foot}[i]){vent}{points if plan.style == 'points' else ''}"


def _stop_properties(plan: Plan) -> Iterator[tuple[str, str]]:
    n, stop, count = plan.compartments, plan.stop, plan.stops
    all_shut = f"every i in 1..{n}: {_shut(plan, vents=False)}"
    pulled = ", ".join(f"pulled({stop}[{s}])" for s in range(1, count + 1))
    yield (
        STOPS,
        f'always "{STOPS}":\n    if pressed({stop}[s]) then {_shut(plan, vents=True)}\n'
        f"    for every s in 1..{count}, i in 1..{n}",
    )
    yield (
        RELEASE,
        f'recovers "{RELEASE}":\n    after pushed({stop}[s]), {pulled} then {all_shut}\n'
        f"    for every s in 1..{count}",
    )
    yield MASTER, f'recovers "{MASTER}":\n    after pushed(master) then {all_shut}'
    home = (
        f"every k in 1..{plan.manifolds}, i in 1..{n}: leg[k].point[i].{plan.selector} is in"
        if plan.style == "points"
        else f"every i in 1..{n}: {plan.selector}[i] is in"
    )
    yield HOME, f'recovers "{HOME}":\n    after tractor is present, pushed(master) then {home}'
    yield (
        LOSS,
        f'always "{LOSS}":\n    if tractor is absent then {_shut(plan, vents=True)}\n'
        f"    for every i in 1..{n}",
    )
    yield (
        BACK,
        f'recovers "{BACK}":\n    after tractor is absent, tractor is present then {all_shut}',
    )
    if plan.fuse:
        yield (
            FIRE,
            f'always "{FIRE}":\n    if melted(fuse) then {_shut(plan, vents=True)}\n'
            f"    for every i in 1..{n}",
        )


def _discharge_properties(plan: Plan) -> Iterator[tuple[str, str]]:
    n, m, foot, vent, knob = (
        plan.compartments,
        plan.manifolds,
        plan.foot,
        plan.vent,
        plan.selector,
    )
    points = plan.style == "points"
    end, each = (
        ("header[k]", f"k in 1..{m}, i in 1..{n}") if points else ("header[i]", f"i in 1..{n}")
    )
    yield (
        DRY,
        f'never "{DRY}":\n    flow(tank[i], {end}) and not open({vent}[j])\n'
        f"    for any {each}, j in 1..{n}",
    )
    yield (
        EARLY,
        f'never at every moment "{EARLY}":\n    high({foot}[i].pilot) and not open({vent}[j])\n'
        f"    for any i in 1..{n}, j in 1..{n}",
    )
    at = "" if points else " at every moment"
    yield MEET, f'never{at} "{MEET}":\n    joined(tank[i], tank[j])\n    for any i < j'
    if points:
        lift = "leg[k].point[{}].man.to_open"
        yield (
            BOTH,
            f'never at every moment "{BOTH}":\n'
            f"    high({lift.format('i')}) and high({lift.format('j')})\n"
            f"    for any k in 1..{m}, i in 1..{n}, j in 1..{n} where i < j",
        )
    opened = f"leg[k].point[i].man) and not leg[k].point[i].{knob} is out"
    picked = opened if points else f"{foot}[i]) and not {knob}[i] is out"
    yield UNASKED, f'never "{UNASKED}":\n    open({picked}\n    for any {each}'
    if plan.lamp:
        yield (
            SHOWN,
            f'never "{SHOWN}":\n    showing(lamp) and not open({vent}[j])\n    for any j in 1..{n}',
        )
    yield EACH, f'possible "{EACH}":\n    flow(tank[i], {end})\n    for each {each}'


def _torn(plan: Plan) -> str:
    """One compartment says enough: the stop acts before the bank parts."""
    return (
        f'always "{TORN}":\n    if pressed({plan.stop}[s]) then shut({plan.foot}[i])\n'
        f"    for every s in 1..{plan.stops}, i in 1..1\n"
        "    tolerating any 1 fault of every torn of tubes"
    )
