"""What instances share is what each would say by itself; many mistakes alike are grouped."""

from __future__ import annotations

import pytest

from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits
from verifier.model.circuit import Instance
from verifier.model.load import load_text
from verifier.model.mistakes import MOST_ALIKE

BANK = """
design bank
use standard
assembly leg(n)
  port feed : pick[1..n].1
  port home : pick[1..n].10
  part pick[1..n] : push_pull_3_2
  part man[1..n]  : foot_valve
  line lift[i in 1..n] : pick[i].2, man[i].pilot
end
supply tractor
part leg[1..2] : leg(n = 3)
part foot[1..3] : push_pull_3_2
line air : tractor, leg[1..2].feed, leg[1..2].home, foot[1..3].1, foot[1..3].10
plug foot[1..3].2
place tank[1..3], header[1..2]
liquid tank[i in 1..3] - leg[k in 1..2].man[i] - header[k]
"""
RANGES = {"k": range(1, 3), "i": range(1, 4), "j": range(1, 4)}
CONDITIONS = {
    "flow(tank[{i}], header[{k}]) and not foot[{j}] is out": "never",
    "high(leg[{k}].lift[{i}]) and (some m in {i}..3: high(leg[{k}].lift[m]))"
    " and (foot[{j}] is in or not foot[{j}] is in)": "never",
    "if open(leg[{k}].man[{i}]) and foot[{j}] is in then leg[{k}].pick[{i}] is out": "always",
    "not (joined(tank[{i}], tank[{j}]) or open(leg[{k}].man[{i}]))": "never",
    "every m in 1..{i}, n in 1..{k} where m < {i} + n:"
    " shut(leg[n].man[m]) or foot[{j}] is out or open(leg[{k}].man[{i}])": "possible",
}


def instances(statement: str) -> tuple[Instance, ...]:
    (prop,) = load_text(f"{BANK}\n{statement}\n").circuit.properties
    return prop.instances


@pytest.mark.parametrize("pattern", CONDITIONS)
def test_an_instance_says_what_it_would_say_alone(pattern: str) -> None:
    """Quantified, and written out with numbers."""
    form = CONDITIONS[pattern]
    named = pattern.format(i="i", j="j", k="k")
    for_all = "for each" if form == "possible" else "for every"
    binders = ", ".join(f"{name} in {r[0]}..{r[-1]}" for name, r in RANGES.items())
    shared = instances(f'{form} "p": {named} {for_all} {binders}')
    assert len(shared) == 18
    for one in shared:
        values = dict(part.split(" = ") for part in one.label.split(", "))
        (alone,) = instances(f'{form} "p": {pattern.format(**values)}')
        assert one.condition == alone.condition
        assert one.triggers == alone.triggers
        assert (one.words, one.trigger_words) == (alone.words, alone.trigger_words)


def test_the_same_statement_in_two_scopes() -> None:
    """What is read for one assembly is not taken for what the other says."""
    text = BANK.replace("end\n", '  never "p": open(man[i]) and pick[j] is out for any i, j\nend\n')
    one, other = load_text(text).circuit.properties
    pairs = list(zip(one.instances, other.instances, strict=True))
    assert len(pairs) == 9
    for a, b in pairs:
        assert a.condition != b.condition
        assert a.words.replace("leg[1]", "leg[2]") == b.words


def test_many_alike_mistakes_are_told_as_few() -> None:
    text = BANK.replace("part foot[1..3]", "part foot[1..2]").replace("foot[1..3]", "foot[1..40]")
    with pytest.raises(SourceError) as caught:
        load_text(text)
    by_place: dict[tuple[int, int], list[str]] = {}
    for one in caught.value.diagnostics:
        by_place.setdefault((one.span.line, one.span.column), []).append(one.message)
    assert len(by_place) == 3
    for messages in by_place.values():
        assert messages[:2] == ["there is no `foot[3]`", "there is no `foot[4]`"]
        assert messages[2:] == [f"there is no `foot[5]`; and {38 - MOST_ALIKE} more like it"]


def test_a_few_alike_mistakes_are_all_told() -> None:
    text = BANK.replace("part foot[1..3]", "part foot[1..2]").replace("foot[1..3]", "foot[1..5]")
    with pytest.raises(SourceError) as caught:
        load_text(text)
    assert not any("more like it" in one.message for one in caught.value.diagnostics)
    assert len(caught.value.diagnostics) == 3 * 3


def test_a_part_that_many_instances_take_in_is_counted_for_each() -> None:
    """A conjunction that is read once is copied into every instance: that is work, too."""
    many = 'always "p": shut(leg[k].man[i]) and (every m in 1..3, n in 1..3 where m <= n: {}) '
    inner = "foot[m] is in and foot[n] is in and shut(leg[1].man[m])"
    statement = many.format(inner) + "for every k, i"
    load_text(BANK + statement, limits=Limits(max_members=60))
    with pytest.raises(LimitError, match="--max-members"):
        load_text(
            BANK
            + statement.replace("every k", "every p in 1..300, k").replace(
                "shut(leg[k]", "foot[p - p + 1] is in and shut(leg[k]"
            ),
            limits=Limits(max_members=400),
        )
