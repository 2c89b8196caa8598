"""Folding constants changes no condition's meaning."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from verifier.model.condition import All, Always, Any, At, Condition, Hand, High, Not
from verifier.model.simplify import all_of, any_of, atoms, negate, readers, replace

ATOMS: tuple[Condition, ...] = (Hand(0), Hand(1), High(0, "line a"), At(0, (1,)))

leaves = st.sampled_from([*ATOMS, Always(True), Always(False)])
conditions = st.recursive(
    leaves,
    lambda inner: st.one_of(
        inner.map(Not),
        st.lists(inner, max_size=3).map(lambda parts: All(tuple(parts))),
        st.lists(inner, max_size=3).map(lambda parts: Any(tuple(parts))),
    ),
    max_leaves=12,
)


def value(condition: Condition, truth: dict[Condition, bool]) -> bool:
    if isinstance(condition, Always):
        return condition.value
    if isinstance(condition, Not):
        return not value(condition.of, truth)
    if isinstance(condition, All):
        return all(value(one, truth) for one in condition.of)
    if isinstance(condition, Any):
        return any(value(one, truth) for one in condition.of)
    return truth[condition]


TRUTHS = [dict(zip(ATOMS, bits, strict=True)) for bits in product((False, True), repeat=4)]


@given(conditions)
def test_same_meaning(condition: Condition) -> None:
    simple = replace(condition, lambda atom: atom)
    assert all(value(simple, truth) == value(condition, truth) for truth in TRUTHS)


@given(conditions)
def test_no_constant_is_left_inside(condition: Condition) -> None:
    simple = replace(condition, lambda atom: atom)
    pending = [simple] if not isinstance(simple, Always) else []
    while pending:
        one = pending.pop()
        assert not isinstance(one, Always)
        if isinstance(one, All | Any):
            assert len(one.of) >= 2
            pending.extend(one.of)
        elif isinstance(one, Not):
            assert not isinstance(one.of, Not)
            pending.append(one.of)


@given(conditions, conditions)
def test_connectives(left: Condition, right: Condition) -> None:
    for truth in TRUTHS:
        one, other = value(left, truth), value(right, truth)
        assert value(all_of((left, right)), truth) == (one and other)
        assert value(any_of((left, right)), truth) == (one or other)
        assert value(negate(left), truth) == (not one)


def test_atoms_and_readers_in_order() -> None:
    condition = All((High(3, "b"), Not(High(1, "a")), Any((High(3, "b"), Hand(0)))))
    assert list(atoms(condition)) == [High(3, "b"), High(1, "a"), High(3, "b"), Hand(0)]
    assert readers([condition]) == ("b", "a")
