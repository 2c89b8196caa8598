"""What a proof claims, as data without graphs: enough to write its obligations down again.

Latches are told by their index in the system that the circuit compiles to, goals by the property
that they come from, so that a claim says the same to everybody who compiles the circuit.
"""

from __future__ import annotations

from typing import Literal

from msgspec import Struct

from verifier.model.circuit import Circuit
from verifier.transition.compiled import Compiled
from verifier.transition.obligations import Sheet, comes_to_rest, free_to_move, invariant
from verifier.transition.racing import Case, racing_of
from verifier.transition.recovery import Recovery, recovery
from verifier.transition.settling import Misfit
from verifier.transition.system import Goal, Lemma, System
from verifier.transition.turning import Settled, Still
from verifier.transition.twofold import twofold

Role = Literal[
    "bad",
    "witness",
    "trigger",
    "over",
    "contest",
    "rest",
    "readings",
    "leaks",
    "plain order",
    "firm order",
    "persistent order",
    "loose",
    "apart",
    "apart but accepted",
]


class Target(Struct, frozen=True, order=True):
    """A state that a claim excludes; `property` and `instance` are the circuit's indices.

    bad: it breaks the instance.   witness: it is what a *possible* asks for.
    trigger: it meets trigger number `index`.   over: at rest, a *recovers* has been carried out.
    contest: supply and exhaust fight.   rest: rest is never reached; they belong to no property.
    readings, leaks, plain order, firm order, persistent order, loose: a way in which the order of
    movements might matter (racing.py).   apart: two orders end with element number `index` in
    different positions, or, without an index, with any.   apart but accepted: with any, other than
    in a race that the design accepts.
    """

    role: Role
    property: int = -1
    instance: int = -1
    index: int = 0


class Steps(Struct, frozen=True, tag="steps", tag_field="about"):
    """The system of one step of movements, with these elements loose (racing.py)."""

    case: Case
    loose: tuple[int, ...] = ()


class Twofold(Struct, frozen=True, tag="twofold", tag_field="about"):
    """The system of all that two orders of movements can lead to (twofold.py)."""


class Unreachable(Struct, frozen=True, tag="unreachable", tag_field="claim"):
    """The lemmas, with what the assumptions say of states, prove that no target is ever reached.

    procedure: the claim is about the runs that follow the procedure of that property and instance.
    race: it is about a system that *no race* asks about.
    assumptions: the design's that are used, by name; no other helps.
    """

    targets: tuple[Target, ...]
    lemmas: tuple[Lemma, ...]
    assumptions: tuple[str, ...]
    procedure: tuple[int, int] | None = None
    race: Steps | Twofold | None = None


class Rests(Struct, frozen=True, tag="comes to rest", tag_field="claim"):
    """Things come to be still in this order, in all states that satisfy the lemmas."""

    order: tuple[Still, ...]
    lemmas: tuple[Lemma, ...]
    assumptions: tuple[str, ...]


class Free(Struct, frozen=True, tag="free to move", tag_field="claim"):
    """The assumptions of the design allow its start and leave no state without a next one (O3)."""


Claim = Unreachable | Rests | Free


def resolved(
    compiled: Compiled, claim: Unreachable, known_as: Recovery | None = None
) -> tuple[System, tuple[Goal, ...]]:
    """The system that the claim is about, and its goals. known_as: that of its procedure, from
    those who have it. Raises Misfit if they are not there."""
    if claim.race is not None:
        system, known = _of_races(compiled, claim.race)
    elif claim.procedure is None:
        known = {
            Target(one.role, one.property, one.instance, one.index): one.goal
            for one in compiled.questions
        }
        known[Target("contest")] = compiled.contest
        system = compiled.system
    else:
        property, instance = claim.procedure
        properties = compiled.circuit.properties
        if not 0 <= property < len(properties) or properties[property].form != "recovers":
            raise Misfit(f"property {property} has no procedure")
        if not 0 <= instance < len(properties[property].instances):
            raise Misfit(f"property {property} has no instance {instance}")
        found = known_as or recovery(compiled, property, instance)
        known = {
            Target("bad", property, instance): found.goal,
            Target("over", property, instance): found.over,
        }
        system = found.system
    strange = [target for target in claim.targets if target not in known]
    if strange:
        raise Misfit(f"the circuit asks no such question: {strange[0]}")
    return system, tuple(known[target] for target in claim.targets)


def _of_races(compiled: Compiled, race: Steps | Twofold) -> tuple[System, dict[Target, Goal]]:
    if isinstance(race, Twofold):
        ways = twofold(compiled, firm=False)
        return ways.system, {
            Target("apart"): ways.whole,
            Target("apart but accepted"): ways.others,
        }
    elements = compiled.circuit.elements
    for index in race.loose:
        if not 0 <= index < len(elements) or len(elements[index].positions) != 2:
            raise Misfit(f"element {index} cannot be loose")
    racing = racing_of(compiled, race.case, race.loose)
    orders: dict[Case, Role] = {
        "plain": "plain order",
        "firm": "firm order",
        "persistent": "persistent order",
    }
    known = {
        Target("readings"): racing.readings,
        Target("leaks"): racing.leaks,
        Target(orders[race.case]): racing.order,
    }
    if racing.loose is not None:
        known[Target("loose")] = racing.loose
    return racing.system, known


def posed(compiled: Compiled, claim: Claim) -> Sheet:
    """The obligations. Raises Misfit if the claim speaks of things that are not there."""
    if isinstance(claim, Free):
        return free_to_move(compiled.system)
    if isinstance(claim, Rests):
        return comes_to_rest(compiled, Settled(claim.order, claim.lemmas), claim.assumptions)
    system, goals = resolved(compiled, claim)
    return invariant(system, goals, claim.lemmas, claim.assumptions)


def in_words(compiled: Compiled, claim: Claim) -> str:
    """The claim for people, one lemma a line. Raises Misfit as `posed` does."""
    if isinstance(claim, Free):
        return "always: some step is allowed, and it leads to a state that is allowed\n"
    lines: list[str] = []
    system = compiled.system
    if isinstance(claim, Unreachable):
        system, goals = resolved(compiled, claim)
        pairs = zip(claim.targets, goals, strict=True)
        lines += (f"never: {_target_words(compiled.circuit, *pair)}" for pair in pairs)
    lines += (f"assumed: {name}" for name in claim.assumptions)
    words = bit_words(compiled, system)
    for lemma in claim.lemmas:
        if not all(0 <= index < len(words) for index, _ in lemma):
            raise Misfit("a lemma speaks of a latch that does not exist")
        lines.append(f"always: {' or '.join(words[i][positive] for i, positive in lemma)}")
    if isinstance(claim, Rests):
        for still in claim.order:
            circuit = compiled.circuit
            things = circuit.elements if still.thing.kind == "element" else circuit.volumes
            if not 0 <= still.thing.index < len(things):
                raise Misfit(f"{still.thing} does not exist")
            what = "" if still.thing.kind == "element" else " keeps its air or has none"
            lines.append(f"in the end still: {things[still.thing.index].name}{what}")
    return "\n".join(lines) + "\n"


def _target_words(circuit: Circuit, target: Target, goal: Goal) -> str:
    """What it would mean that the target is reached."""
    if target.role == "contest":
        return "supply and exhaust fight in a line"
    if target.property < 0:
        return goal.name
    item = circuit.properties[target.property]
    instance = item.instances[target.instance]
    label = f" ({instance.label})" if instance.label else ""
    name = f'"{item.name}"{label}'
    if target.role == "trigger":
        return f"what {name} speaks of: {instance.trigger_words[target.index]}"
    told = {"witness": "is met", "over": "is carried out to its end"}
    return f"{name} {told.get(target.role, 'is broken')}"


def bit_words(compiled: Compiled, system: System) -> list[tuple[str, str]]:
    """What a latch says of the circuit when it is false, and when it is true.

    A bit of a longer code says less than its name: of three positions the second bit, when true,
    only excludes the middle one (encoding.py).
    """
    words = [(f"not ({latch.name})", latch.name) for latch in system.latches]
    circuit = compiled.circuit
    for element, code in zip(circuit.elements, compiled.element_codes, strict=True):
        for k, index in enumerate(code, 1):
            names = element.positions
            others = (*names[: k - 1], *names[k:])
            words[index] = (
                f"{element.name} is {'/'.join(names[:k])}",
                f"{element.name} is {'/'.join(others)}",
            )
    for switch, code in zip(circuit.switches, compiled.switch_codes, strict=True):
        for k, index in enumerate(code):
            names = switch.values
            others = (*names[:k], *names[k + 1 :])
            words[index] = (
                f"{switch.name} is {'/'.join(others)}",
                f"{switch.name} is {'/'.join(names[: k + 1])}",
            )
    for hand, index in compiled.hand_latches.items():
        name = circuit.hands[hand].name
        words[index] = (f"{name} is off", f"{name} is on")
    for volume, index in compiled.memory_latches.items():
        name = circuit.volumes[volume].name
        words[index] = (f"{name} kept no air", f"{name} kept air")
    return words
