"""What a study proved, as claims whose obligations anybody can write down."""

from __future__ import annotations

from verifier.evidence.claims import Claim, Free, Rests, Role, Steps, Target, Twofold, Unreachable
from verifier.studies.study import Study
from verifier.transition.properties import goal_name
from verifier.transition.system import System
from verifier.transition.twofold import OTHERS, WHOLE

OF_STEPS: tuple[Role, ...] = (
    "readings",
    "leaks",
    "plain order",
    "firm order",
    "persistent order",
    "loose",
)


def claims_of(study: Study) -> tuple[Claim, ...]:
    """Each once: that the design can always move, that it comes to rest, and all other proofs in
    the order in which evidence accepted them."""
    found: dict[Claim, None] = {Free(): None}
    if study.rests is not None:
        settled, assumptions = study.rests
        found[Rests(settled.order, settled.lemmas, assumptions)] = None
    own, procedures = _own_targets(study), _procedure_targets(study)
    for claim in study.inquiry.claims:
        names = [goal.name for goal in claim.goals]
        lemmas = tuple(sorted({lemma for proved in claim.proofs for lemma in proved.lemmas}))
        race = _about_races(study, claim.system)
        if race is not None:
            about, words = race
            targets = tuple(words[name] for name in names)
            found[Unreachable(targets, lemmas, claim.assumptions, race=about)] = None
        elif claim.system is study.compiled.system:
            targets = tuple(own[name] for name in names)
            found[Unreachable(targets, lemmas, claim.assumptions)] = None
        else:
            targets = tuple(procedures[name] for name in names)
            first = targets[0]
            procedure = (first.property, first.instance)
            found[Unreachable(targets, lemmas, claim.assumptions, procedure)] = None
    return tuple(found)


def _about_races(study: Study, system: System) -> tuple[Steps | Twofold, dict[str, Target]] | None:
    """If the system is one of those that *no race* asks about: which, and its targets by the names
    of their goals."""
    for one, steps in study.racing:
        if one is system:
            if steps is None:
                return Twofold(), {
                    WHOLE: Target("apart"),
                    OTHERS: Target("apart but accepted"),
                }
            case, loose = steps
            return Steps(case, loose), {f"no race: {role}": Target(role) for role in OF_STEPS}
    return None


def _own_targets(study: Study) -> dict[str, Target]:
    """The targets in the circuit's own system, by the names of their goals."""
    named = {
        one.goal.name: Target(one.role, one.property, one.instance, one.index)
        for one in study.compiled.questions
    }
    named[study.compiled.contest.name] = Target("contest")
    return named


def _procedure_targets(study: Study) -> dict[str, Target]:
    """Those in the systems of *recovers* properties."""
    named: dict[str, Target] = {}
    for p, item in enumerate(study.circuit.properties):
        if item.form == "recovers":
            for i, instance in enumerate(item.instances):
                name = goal_name(item, instance)
                named[f"bad:{name}"] = Target("bad", p, i)
                named[f"over:{name}"] = Target("over", p, i)
    return named
