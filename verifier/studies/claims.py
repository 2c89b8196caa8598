"""What a study proved, as claims whose obligations anybody can write down."""

from __future__ import annotations

from verifier.evidence.claims import Claim, Free, Rests, Target, Unreachable
from verifier.studies.study import Study
from verifier.transition.properties import goal_name


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
        if claim.system is study.compiled.system:
            targets = tuple(own[name] for name in names)
            found[Unreachable(targets, lemmas, claim.assumptions)] = None
        else:
            targets = tuple(procedures[name] for name in names)
            first = targets[0]
            procedure = (first.property, first.instance)
            found[Unreachable(targets, lemmas, claim.assumptions, procedure)] = None
    return tuple(found)


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
