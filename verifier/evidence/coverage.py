"""Which evidence a verdict needs, and what evidence gives (rules Q2 to Q9)."""

from __future__ import annotations

from collections.abc import Collection, Iterable

from msgspec import Struct

from verifier.evidence.claims import Claim, Free, Rests, Steps, Target, Unreachable
from verifier.model.circuit import Circuit
from verifier.model.condition import Always
from verifier.model.run import Run
from verifier.simulation.judging import fights, procedure_over, triggered, violation
from verifier.simulation.rest import can_stay

WITHOUT_REST = Target("rest")
FIGHT = Target("contest")
READINGS, LEAKS, APART = Target("readings"), Target("leaks"), Target("apart")
OTHERS = Target("apart but accepted")
PLAIN, FIRM = Target("plain order"), Target("firm order")
PERSISTENT, LOOSE = Target("persistent order"), Target("loose")


class Need(Struct, frozen=True):
    """Evidence that suffices: targets that proofs must exclude, and that runs must show."""

    excluded: tuple[Target, ...] = ()
    shown: tuple[Target, ...] = ()


def needs(circuit: Circuit, property: int, instance: int, verdict: str) -> tuple[Need, ...]:
    """What suffices for this verdict on an instance, one of these; nothing does if there is none.

    *inconclusive* says that something is not known, for which no evidence is needed.
    """
    if verdict == "inconclusive":
        return (Need(),)
    item = circuit.properties[property]
    if item.form == "possible":
        witness = Target("witness", property, instance)
        return {"holds": (Need((), (witness,)),), "violated": (Need((witness,)),)}.get(verdict, ())
    bad = Target("bad", property, instance)
    if verdict == "violated":
        return (Need((), (bad,)),)
    if item.form == "recovers":
        speaks = [_over(circuit, Target("over", property, instance))]
    else:
        count = len(item.instances[instance].triggers)
        speaks = [Target("trigger", property, instance, k) for k in range(count)]
    if verdict == "vacuous":
        return tuple(Need((bad, one)) for one in speaks)
    return (Need((bad,), tuple(speaks)),) if verdict == "holds" else ()


def needs_of_free(target: Target, verdict: str) -> tuple[Need, ...]:
    """The same for a property that every design has: that the target is never reached (Q9)."""
    known = {"holds": Need((target,)), "violated": Need((), (target,)), "inconclusive": Need()}
    return (known[verdict],) if verdict in known else ()


def needs_of_races(verdict: str) -> tuple[Need, ...]:
    """The same for *no race*, but for an element whose end is delay dependent: that takes two runs,
    as `objection_to` judges them (Q11)."""
    by_steps = Need((READINGS, LEAKS, PLAIN, WITHOUT_REST)), Need((READINGS, LEAKS, PERSISTENT))
    known = {"holds": (*by_steps, Need((APART,))), "inconclusive": (Need(),)}
    return known.get(verdict, ())


def but_for(claims: Iterable[Claim]) -> tuple[tuple[int, ...], bool] | None:
    """The elements that at most end in different positions, as far as the order of movements
    decides, and whether no reading decides either; None if nothing of the kind is shown."""
    found: tuple[tuple[int, ...], bool] | None = None
    rests = any(isinstance(claim, Rests) for claim in claims)
    for claim in claims:
        if isinstance(claim, Unreachable) and isinstance(claim.race, Steps) and rests:
            shown, loose = set(claim.targets), claim.race.loose
            unread = READINGS in shown
            step = FIRM in shown or (PLAIN in shown and unread)
            if step and LEAKS in shown and (LOOSE in shown or not loose):
                found = loose, unread
    return found


def no_others(circuit: Circuit, claims: Collection[Claim]) -> bool:
    """Whether the claims exclude all races but those that the design accepts: all pairs of ways do
    so, or every element that may end differently is accepted to do so after any event."""
    if {APART, OTHERS} & {target for claim in claims for target in excluded_by(circuit, claim)}:
        return True
    known = but_for(claims)
    return known is not None and known[1] and set(known[0]) <= always_accepted(circuit)


def always_accepted(circuit: Circuit) -> frozenset[int]:
    """The elements that are accepted to end differently after any event."""
    always = (one.elements for one in circuit.accepted if one.condition == Always(True))
    return frozenset(element for some in always for element in some)


def excluded_by(circuit: Circuit, claim: Claim) -> tuple[Target, ...]:
    """What a claim that stands excludes."""
    if isinstance(claim, Free):
        return ()
    if isinstance(claim, Rests):
        return (WITHOUT_REST,)
    if isinstance(claim.race, Steps) and claim.race.loose:
        return tuple(one for one in claim.targets if one in (READINGS, LEAKS))
    return tuple(_over(circuit, target) for target in claim.targets)


def _over(circuit: Circuit, target: Target) -> Target:
    """That a procedure is carried out is the same for all instances of a property that name it."""
    if target.role != "over":
        return target
    instances = circuit.properties[target.property].instances
    procedure = instances[target.instance].procedure
    first = next(i for i, one in enumerate(instances) if one.procedure == procedure)
    return Target("over", target.property, first)


def shows(circuit: Circuit, target: Target, run: Run, loop_from: int | None = None) -> bool:
    """Whether the end of an allowed run is in the target, as the simulator judges it."""
    if target == FIGHT:
        return fights(circuit, run.states[-1])
    if target == WITHOUT_REST:
        return loop_from is not None and goes_round(circuit, run, loop_from)
    item = circuit.properties[target.property]
    instance = item.instances[target.instance]
    if target.role == "over":
        return procedure_over(circuit, instance, run)
    if target.role == "trigger":
        return triggered(circuit, item, instance.triggers[target.index], run.states[-1])
    return violation(circuit, item, instance, run)


def goes_round(circuit: Circuit, run: Run, loop_from: int) -> bool:
    """Whether the run ends in state number `loop_from` again, and the circuit can stay among the
    states from there on for ever without rest."""
    if not 0 <= loop_from < len(run.steps) or run.states[loop_from] != run.states[-1]:
        return False
    return can_stay(circuit, run.states[loop_from:])


def up_to(run: Run, steps: int) -> Run:
    """The first steps of a run, which are a run themselves; a procedure counts in the whole one."""
    return run if steps == len(run.steps) else Run(run.start, run.steps[:steps])


def met(need: Need, excluded: Iterable[Target], shown: Iterable[Target]) -> bool:
    """Whether that much evidence is enough."""
    return set(need.excluded) <= set(excluded) and set(need.shown) <= set(shown)
