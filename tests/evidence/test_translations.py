"""Both translations of every design agree, and a mistake in either of them is found."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from msgspec import structs

import verifier.evidence.translations as translations
import verifier.second.translation as second
import verifier.transition.compile as first
from verifier.diagnostics.limits import Limits
from verifier.evidence.error import EvidenceError
from verifier.evidence.translations import Comparison, agree
from verifier.model.circuit import Circuit
from verifier.model.condition import Not
from verifier.model.load import Loaded, load
from verifier.report.text import design_text
from verifier.second.air import Air
from verifier.second.conditions import Judge
from verifier.second.variables import Facts
from verifier.studies.prove import prove
from verifier.transition.compiled import Compiled
from verifier.transition.conditions import Meaning
from verifier.transition.recovery import Recovery, recovery

ROOT = Path(__file__).resolve().parents[2]
LIBRARY = sorted(
    path.relative_to(ROOT).as_posix()
    for folder in ("specs/*", "tests/designs/holds", "tests/designs/violated")
    for path in ROOT.glob(f"{folder}/*.ilk")
)
HERON = "specs/heron/heron.ilk"

# One of everything that a mistake can be about: a detent, a spring, a pilot against a hand, a
# non-return valve behind which air is kept, a restrictor, an order and a procedure.
DESIGN = """\
design dunlin
use standard
supply tractor may be weak
surroundings road: standing, moving
part stop: push_button_3_2
part master: push_pull_5_2
part check: non_return_valve
part choke: restrictor
part bleed: restrictor
part foot: foot_valve
part lamp[1..2]: visual_indicator
assume "stopped with care" because "the driver does one thing at a time":
  never pushed(stop) and road is moving
line air: tractor, stop.1, master.1
line trip: stop.2, master.12
line rise: master.4, check.in, lamp[1].in, bleed.in
line kept: check.out, foot.pilot, choke.in
line slow: choke.out, lamp[2].in
plug master.2
open bleed.out
place tank, header
liquid tank - foot - header
never "the valve open without air": flow(tank, header) and hidden(lamp[2]) and hidden(lamp[1])
always "the master in lets the line fall": if master is in then low(master.4)
never at every moment "kept without supply": high(foot.pilot) and tractor is absent
possible "open": open(foot)
order "the master first": open(foot) only after master is out
recovers "in again": after not pushed(stop), tractor is present, pushed(master) then hidden(lamp[1])
"""


@pytest.fixture(scope="module")
def loaded(tmp_path_factory: pytest.TempPathFactory) -> Loaded:
    path = tmp_path_factory.mktemp("design") / "dunlin.ilk"
    path.write_text(DESIGN)
    return load(path, Limits())


def compared(compiled: Compiled, alter: Callable[[Recovery], Recovery] = lambda r: r) -> Comparison:
    """All that both say, procedures too."""
    comparison = agree(compiled)
    for number, item in enumerate(compiled.circuit.properties):
        for i in range(len(item.instances) if item.form == "recovers" else 0):
            comparison.recovery(alter(recovery(compiled, number, i)), number, i)
    return comparison


@pytest.mark.parametrize("design", LIBRARY)
def test_both_translations_of_the_library_agree(design: str) -> None:
    circuit = load(ROOT / design, Limits()).circuit
    comparison = compared(first.compile_circuit(circuit))
    assert not comparison.open
    assert comparison.compared > 5 * len(circuit.volumes) + 3 * len(circuit.elements)


def without_a_passage(circuit: Circuit) -> Circuit:
    return structs.replace(circuit, passages=circuit.passages[1:])


def turned_passages(circuit: Circuit) -> Circuit:
    return structs.replace(
        circuit,
        passages=tuple(
            structs.replace(one, start=one.end, end=one.start) if one.one_way else one
            for one in circuit.passages
        ),
    )


def wide_restrictions(circuit: Circuit) -> Circuit:
    passages = tuple(structs.replace(one, bore="full") for one in circuit.passages)
    return structs.replace(circuit, passages=passages)


def moves_the_other_way_round(circuit: Circuit) -> Circuit:
    return structs.replace(
        circuit,
        elements=tuple(
            structs.replace(one, moves=tuple(reversed(one.moves))) for one in circuit.elements
        ),
    )


def without_springs(circuit: Circuit) -> Circuit:
    elements = tuple(structs.replace(one, otherwise=None) for one in circuit.elements)
    return structs.replace(circuit, elements=elements)


def closed_exhausts(circuit: Circuit) -> Circuit:
    volumes = tuple(structs.replace(one, open_air=False) for one in circuit.volumes)
    return structs.replace(circuit, volumes=volumes)


def other_start(circuit: Circuit) -> Circuit:
    element, *others = circuit.elements
    changed = structs.replace(element, start=len(element.positions) - 1 - element.start)
    return structs.replace(circuit, elements=(changed, *others))


def assumed_the_opposite(circuit: Circuit) -> Circuit:
    (one,) = circuit.assumptions
    changed = structs.replace(one, condition=Not(one.condition))
    return structs.replace(circuit, assumptions=(changed,))


def another(kind: str, **changes: Any) -> Callable[[Circuit], Circuit]:
    """The properties of one form otherwise than they are."""

    def changed(circuit: Circuit) -> Circuit:
        properties = (
            structs.replace(item, **changes) if item.form == kind else item
            for item in circuit.properties
        )
        return structs.replace(circuit, properties=tuple(properties))

    return changed


def other_procedure(circuit: Circuit) -> Circuit:
    """The switch of the procedure is put to another value."""
    *others, item = circuit.properties
    (instance,) = item.instances
    procedure = tuple(
        one if one.switch is None else structs.replace(one, value=1 - int(one.value))
        for one in instance.procedure
    )
    changed = structs.replace(item, instances=(structs.replace(instance, procedure=procedure),))
    return structs.replace(circuit, properties=(*others, changed))


MISREADINGS: dict[str, Callable[[Circuit], Circuit]] = {
    "a passage is dropped": without_a_passage,
    "one-way passages are turned": turned_passages,
    "restrictions pass everything": wide_restrictions,
    "the last move wins": moves_the_other_way_round,
    "springs are forgotten": without_springs,
    "exhausts are shut": closed_exhausts,
    "an element starts elsewhere": other_start,
    "an assumption is turned round": assumed_the_opposite,
    "never is read as always": another("never", form="always"),
    "always is judged at every moment": another("always", moment="every_moment"),
    "possible is judged at every moment": another("possible", moment="every_moment"),
    "order is judged at rest": another("order", moment="at_rest"),
    "triggers are forgotten": another("always", instances=()),
    "a procedure puts something else": other_procedure,
}


@pytest.mark.parametrize("what", MISREADINGS)
def test_a_circuit_that_the_first_translation_misreads_is_noticed(
    loaded: Loaded, what: str
) -> None:
    circuit = loaded.circuit
    assert not compared(first.compile_circuit(circuit)).open
    compiled = first.compile_circuit(MISREADINGS[what](circuit))
    with pytest.raises(EvidenceError, match="the two translations of the circuit differ"):
        compared(structs.replace(compiled, circuit=circuit), misread(what, circuit))


def misread(what: str, circuit: Circuit) -> Callable[[Recovery], Recovery]:
    """Of procedures, the misread one in the place of the right one."""
    if what != "a procedure puts something else":
        return lambda posed: posed
    number = len(circuit.properties) - 1
    return lambda posed: recovery(first.compile_circuit(other_procedure(circuit)), number, 0)


# Where things start is told by the circuit alone.
@pytest.mark.parametrize("what", [one for one in MISREADINGS if "starts" not in one])
def test_a_circuit_that_the_second_translation_misreads_is_noticed(
    loaded: Loaded, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    circuit = loaded.circuit
    compiled = first.compile_circuit(circuit)
    misread = MISREADINGS[what](circuit)

    def wrong(right: Circuit, possible: set[str], untrapped: set[int]) -> second.Translation:
        return second.translate(misread, possible, untrapped)

    monkeypatch.setattr(translations, "translate", wrong)
    # What the comparison asks the second translation about procedures comes from this circuit.
    compiled = structs.replace(compiled, circuit=misread) if "procedure" in what else compiled
    with pytest.raises(EvidenceError, match="the two translations of the circuit differ"):
        compared(compiled, lambda posed: recovery(first.compile_circuit(circuit), 5, 0))


def never_leaks(graph: Any, encoding: Any, air: Any, volume: int) -> int:
    comes_out_empty = graph.both(air.low[volume], 2 * encoding.empty[volume])
    return int(graph.both(air.high[volume], comes_out_empty ^ 1))


def keeps_nothing(facts: Facts, air: Air, volume: int, beyond: Any, untrapped: Any) -> int:
    return -1


def swapped(self: Any, condition: Any) -> Any:
    """By every reading instead of by some."""
    return -self._some(second_sketch(self, condition))


def second_sketch(judge: Any, condition: Any) -> Any:
    from verifier.second.conditions import settle, sketch

    return settle(judge.formulas, sketch(condition, judge.truth, False), {})


def every_for_some(self: Any, moment: int, condition: Any, sense: bool = True) -> int:
    literal = self._told(condition, not sense, {})
    return int(self.graph.both(moment, literal ^ 1))


MISTAKES: dict[str, tuple[Any, str, Any]] = {
    "air that is cut off never leaks": (first, "_kept_next", never_leaks),
    "no volume keeps air": (second, "kept_after", keeps_nothing),
    "the second judges by every reading": (Judge, "some", swapped),
    "the first judges by every reading": (Meaning, "some_at", every_for_some),
}


@pytest.mark.parametrize("what", MISTAKES)
def test_a_rule_that_is_forgotten_is_noticed(
    loaded: Loaded, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(*MISTAKES[what])
    with pytest.raises(EvidenceError, match="In this state they do"):
        compared(first.compile_circuit(loaded.circuit))


def hands_go_on(posed: Recovery) -> Recovery:
    """A procedure in which hands and switches are free."""
    base = posed.compiled.system.latches
    latches = (*base, *posed.system.latches[len(base) :])
    return structs.replace(posed, system=structs.replace(posed.system, latches=latches))


def ends_at_once(posed: Recovery) -> Recovery:
    over = structs.replace(posed.over, bad=posed.compiled.at_rest)
    return structs.replace(posed, over=over)


def cannot_fail(posed: Recovery) -> Recovery:
    return structs.replace(posed, goal=structs.replace(posed.goal, bad=0))


def begun_at_the_start(posed: Recovery) -> Recovery:
    *others, last = posed.system.latches
    latches = (*others, structs.replace(last, start=True))
    return structs.replace(posed, system=structs.replace(posed.system, latches=latches))


def free_of_assumptions(posed: Recovery) -> Recovery:
    return structs.replace(posed, system=structs.replace(posed.system, step_allowed=1))


@pytest.mark.parametrize(
    "alter",
    [hands_go_on, ends_at_once, cannot_fail, begun_at_the_start, free_of_assumptions],
)
def test_a_procedure_that_is_another_one_is_noticed(
    loaded: Loaded, alter: Callable[[Recovery], Recovery]
) -> None:
    with pytest.raises(EvidenceError, match="the two translations of the circuit differ"):
        compared(first.compile_circuit(loaded.circuit), alter)


def test_a_question_that_is_not_asked_is_noticed(loaded: Loaded) -> None:
    compiled = first.compile_circuit(loaded.circuit)
    fewer = structs.replace(compiled, questions=compiled.questions[1:])
    with pytest.raises(EvidenceError, match="what is asked of “the valve open without air”"):
        agree(fewer)


def test_what_could_not_be_compared_is_not_believed(
    loaded: Loaded, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = prove(loaded)
    assert before.translations is not None
    assert before.translations.compared > 100
    assert "Both translations of the circuit into formulas agree." in design_text(before)
    by_runs = [item.verdict for item in before.properties if rests_on_a_run(item)]
    monkeypatch.setattr(translations, "MOST_CONFLICTS", 0)
    monkeypatch.setattr("verifier.evidence.sweep._WINDOWS", ())
    after = prove(loaded)
    assert after.translations is not None
    assert after.translations.open
    assert [item.verdict for item in after.properties if rests_on_a_run(item)] == by_runs
    assert {i.verdict for i in after.properties if not rests_on_a_run(i)} <= {"inconclusive"}
    assert "It is open whether both translations" in design_text(after)


def rests_on_a_run(item: Any) -> bool:
    return any(one.story or one.race for one in item.instances)
