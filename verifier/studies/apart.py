"""Do two designs behave differently at rest, under the same hands and surroundings?

Both run side by side, and whatever is done to the one is done to the other, while both are at rest.
If they never come to rest with anything seen to differ, they behave the same. If they do, what one
shows is asked of the other: can it show that too, after the same changes? Only if not, the
difference is one of the designs, and not of the order in which things moved.
"""

from __future__ import annotations

import functools
from collections.abc import Sequence
from typing import Literal

from msgspec import Struct, structs

from verifier.changes.abreast import Abreast, abreast
from verifier.changes.counterparts import Counterparts
from verifier.changes.observed import observed, unseen
from verifier.changes.side import Side
from verifier.evidence.error import Contradiction, DeadEnd
from verifier.evidence.replay import believe_run
from verifier.evidence.totality import total
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit, Property
from verifier.model.condition import All, At, Condition, Not, Path
from verifier.model.run import Run, State
from verifier.model.simplify import atoms
from verifier.report.result import Story
from verifier.simulation.events import changes_of
from verifier.simulation.movement import at_rest, holds_some
from verifier.studies.idle import without_idle_events
from verifier.studies.inquiry import Found, Inquiry, Open, Proven
from verifier.studies.story import tell
from verifier.transition.compile import compile_circuit
from verifier.transition.decode import run_of
from verifier.transition.sequences import Change, prescribed, unhurried

AT_REST = "Here it is at rest."

Answer = Literal["same", "differs", "open"]
Pairs = Sequence[tuple[int, int]]
"""Elements of the pair that both designs have."""


class Sight(Struct, frozen=True):
    """One thing that can be seen of both. steps: of the shortest run of the pair that tells it."""

    name: str
    answer: Answer
    steps: int | None = None
    reason: str = ""


class Apart(Struct, frozen=True):
    """A sequence after which the designs differ, told of each.

    shown: what is seen to differ.   only_new: the old design never shows what the new one does
    after this sequence; only_old: the other way round. Each None if that is open.
    """

    shown: tuple[str, ...]
    old: Story
    new: Story
    only_new: bool | None
    only_old: bool | None


class Behaviour(Struct, frozen=True):
    """answer: "same" was proved of all that can be seen. left: hands, switches and values that one
    design only has, which stand still.   unseen: what cannot be compared.   reason: why nothing
    was."""

    answer: Answer
    sights: tuple[Sight, ...]
    apart: Apart | None
    left: tuple[str, ...]
    unseen: tuple[str, ...]
    reason: str = ""


def behaviour(between: Counterparts, inquiry: Inquiry) -> Behaviour:
    """Raises EvidenceError when a claim does not stand."""
    pair = abreast(between)
    seen = observed(pair, between)
    circuit = _with(pair.circuit, seen)
    compiled = compile_circuit(circuit)
    agree(compiled)
    try:
        total(compiled.system)
    except (Contradiction, DeadEnd) as fault:
        reason = f"the assumptions of both designs cannot stand together: {fault}"
        return Behaviour("open", (), None, pair.left, unseen(between), reason)
    together = [
        (a + pair.old.add.elements, b + pair.new.add.elements)
        for a, b in between.elements.items()
        if between.old.elements[a].positions == between.new.elements[b].positions
    ]
    system = unhurried(compiled, together)
    decode = functools.partial(run_of, compiled)
    goals = [question.goal for question in compiled.questions if question.role == "bad"]
    answers = inquiry.settle(system, goals, decode)
    sights: list[Sight] = []
    found: dict[int, Found] = {}
    for k, (item, answer) in enumerate(zip(seen, answers, strict=True)):
        if isinstance(answer, Proven):
            sights.append(Sight(item.name, "same"))
        elif isinstance(answer, Open):
            sights.append(Sight(item.name, "open", reason=answer.reason))
        else:
            sights.append(Sight(item.name, "differs", len(answer.run.steps)))
            found[k] = answer
    told = None
    if found:
        first = min(found, key=lambda k: (len(found[k].run.steps), k))
        simple = inquiry.simplified(system, goals[first], found[first], decode)
        told = _apart(pair, circuit, seen, seen[first], simple.run, together, inquiry)
    return Behaviour(_answer(sights, told), tuple(sights), told, pair.left, unseen(between))


def _answer(sights: Sequence[Sight], told: Apart | None) -> Answer:
    if told is not None:
        return "differs" if told.only_new or told.only_old else "open"
    return "open" if any(sight.answer == "open" for sight in sights) else "same"


def _with(circuit: Circuit, properties: tuple[Property, ...]) -> Circuit:
    return structs.replace(circuit, properties=properties)


def _apart(
    pair: Abreast,
    circuit: Circuit,
    seen: Sequence[Property],
    which: Property,
    run: Run,
    together: Pairs,
    inquiry: Inquiry,
) -> Apart:
    """Replays both runs, tells them, and asks of each design whether it can do as the other."""

    def differs(one: Run) -> bool:
        last = one.states[-1]
        return (
            _calm(circuit, one, together)
            and at_rest(circuit, last)
            and holds_some(circuit, last, which.instances[0].condition)
        )

    believe_run(circuit, run, differs, which.name)
    run = without_idle_events(circuit, run, differs)
    last = run.states[-1]
    shown = [one for one in seen if holds_some(circuit, last, one.instances[0].condition)]
    old, new = (_replayed(side, run) for side in (pair.old, pair.new))
    sights = [one.instances[0].condition for one in seen]
    return Apart(
        tuple(one.name for one in shown),
        tell(pair.old.circuit, old, AT_REST, shortest=False),
        tell(pair.new.circuit, new, AT_REST, shortest=False),
        _never(pair.old, old, pair.new, circuit, last, sights, inquiry),
        _never(pair.new, new, pair.old, circuit, last, sights, inquiry),
    )


def _replayed(side: Side, run: Run) -> Run:
    """The run of one design, at rest in the end."""
    own = side.run(run)

    def rests(one: Run) -> bool:
        return at_rest(side.circuit, one.states[-1])

    believe_run(side.circuit, own, rests, f"{side.name}side by side")
    return own


def _calm(circuit: Circuit, run: Run, together: Pairs) -> bool:
    """Whether hands and surroundings are changed at rest only, and elements that stand alike go
    together in such a step."""
    states = run.states
    for step in _eventful(circuit, run):
        before, after = states[step].positions, states[step + 1].positions
        if not at_rest(circuit, states[step]) or any(
            before[a] == before[b] and after[a] != after[b] for a, b in together
        ):
            return False
    return True


def _eventful(circuit: Circuit, run: Run) -> list[int]:
    """The steps in which operator or surroundings do something."""
    kinds = ("hand", "switch", "act")
    return sorted({one.step for one in changes_of(circuit, run) if one.kind in kinds})


def _never(
    asked: Side,
    run: Run,
    other: Side,
    circuit: Circuit,
    last: State,
    sights: Sequence[Condition],
    inquiry: Inquiry,
) -> bool | None:
    """Whether the design asked never comes to rest, after the changes of its run, with all that is
    seen as it is in the other one at last. None if that is open."""
    compiled = compile_circuit(asked.circuit)
    wanted = _as_shown(asked, other, circuit, last, sights)
    system, goal = prescribed(compiled, _changes(asked.circuit, run), wanted, "the same at rest")
    (answer,) = inquiry.settle(system, [goal], functools.partial(run_of, compiled))
    if isinstance(answer, Found):

        def shows(one: Run) -> bool:
            end = one.states[-1]
            return at_rest(asked.circuit, end) and holds_some(asked.circuit, end, wanted)

        believe_run(asked.circuit, answer.run, shows, goal.name)
        return False
    return True if isinstance(answer, Proven) else None


def _changes(circuit: Circuit, run: Run) -> list[Change]:
    """What operator and surroundings do in the run, one entry for each step in which they do."""
    done = (run.steps[k] for k in _eventful(circuit, run))
    return [Change(step.state.hands, step.state.settings, step.acting) for step in done]


def _as_shown(
    asked: Side, other: Side, circuit: Circuit, last: State, sights: Sequence[Condition]
) -> Condition:
    """All that is seen stands in the design asked as the last state of the pair has it in the
    other."""
    parts: list[Condition] = []
    for sight in sights:
        spoken = list(dict.fromkeys(atoms(sight)))
        mine = [atom for atom in spoken if _of(atom, asked)]
        theirs = [atom for atom in spoken if _of(atom, other)]
        for own, its in zip(mine, theirs, strict=True):
            condition = _told_by(asked, own)
            parts.append(condition if holds_some(circuit, last, its) else Not(condition))
    return All(tuple(parts))


def _of(atom: Condition, side: Side) -> bool:
    if isinstance(atom, At):
        return 0 <= atom.element - side.add.elements < len(side.circuit.elements)
    if isinstance(atom, Path):
        return 0 <= atom.network - side.add.networks < len(side.circuit.networks)
    return False


def _told_by(side: Side, atom: Condition) -> Condition:
    """An atom of the pair, in the numbers of one circuit."""
    if isinstance(atom, At):
        return At(atom.element - side.add.elements, atom.positions)
    if isinstance(atom, Path):
        return Path(atom.network - side.add.networks, atom.start, atom.end, atom.directed)
    raise ValueError(f"nothing is seen by {type(atom).__name__}")
