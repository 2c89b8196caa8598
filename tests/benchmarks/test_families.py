"""Every small member of every family has the verdicts that its generator promises.

The lengths of the shortest runs are counted by hand in the generators (so many vents, one after the
other …), not taken from the program.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.benchmarks.families import FAMILIES
from tests.benchmarks.families.member import Member
from verifier import load, prove

SMALL = {
    "bank": [(2, 1), (3, 2)],
    "bank-within": [(2,), (4,)],
    "series": [(2,), (5,)],
    "deep": [(2, 1), (4, 3)],
    "cascade": [(2,), (3,), (5,)],
    "store": [(2,), (3,)],
    "carry": [(4,), (6,)],
    "rotary": [(2,), (4,)],
    "ring": [(4,), (5,)],
    "token": [(3,), (4,)],
    "ladder": [(3,), (5,)],
}
MEMBERS = [
    FAMILIES[name].member(*sizes, flawed=flawed)
    for name, every in SMALL.items()
    for sizes in every
    for flawed in (False, True)
]


def test_every_family_is_here() -> None:
    assert set(SMALL) == set(FAMILIES)


@pytest.mark.parametrize("member", MEMBERS, ids=[member.name for member in MEMBERS])
def test_verdicts(member: Member, tmp_path: Path) -> None:
    file = tmp_path / "member.ilk"
    file.write_text(member.text)
    result = prove(load(file))
    assert bool(member.violated) == member.flawed
    assert set(member.violated) <= {item.name for item in result.properties}
    assert result.warnings == ()
    for item in result.properties:
        if item.name == "no race":
            # Where delays decide, the simulator replayed two runs; it is not what families grow.
            assert item.verdict in ("holds", "delay dependent")
            continue
        expected = "violated" if item.name in member.violated else "holds"
        assert (item.name, item.verdict) == (item.name, expected)
        length = member.violated.get(item.name)
        if length is not None:
            told = [one.story for one in item.instances if one.story is not None]
            assert [(story.steps, story.shortest) for story in told] == [(length, True)]


def test_sizes_are_checked() -> None:
    with pytest.raises(ValueError, match="takes 2 sizes"):
        FAMILIES["bank"].member(3)
    with pytest.raises(ValueError, match="vents must be at least 2"):
        FAMILIES["series"].member(1)
