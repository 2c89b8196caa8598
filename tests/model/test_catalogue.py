"""Reading only some kinds of the catalogue gives the same kinds as reading all."""

from __future__ import annotations

from verifier.diagnostics.limits import Limits
from verifier.model.catalogue import SHOWN, standard_catalogue
from verifier.model.kinds import read_kind
from verifier.model.mistakes import Mistakes
from verifier.syntax import tree
from verifier.syntax.parse import parse

CATALOGUE = standard_catalogue(Limits())
WHOLE = {
    item.name: item
    for item in parse(CATALOGUE.text, SHOWN, Limits()).statements
    if isinstance(item, tree.Kind)
}


def test_every_kind_is_found() -> None:
    assert list(CATALOGUE.blocks) == list(WHOLE)
    assert {name: CATALOGUE.place(name).line for name in WHOLE} == {
        name: kind.span.line for name, kind in WHOLE.items()
    }


def test_excerpts_have_the_same_kinds_in_the_same_places() -> None:
    names = list(WHOLE)
    for some in (names[::2], names[1::2]):
        statements = parse(CATALOGUE.excerpt(some), SHOWN, Limits()).statements
        assert statements == tuple(WHOLE[name] for name in some)


def test_no_kind_has_a_mistake() -> None:
    mistakes = Mistakes()
    assert [name for name, kind in WHOLE.items() if read_kind(kind, mistakes) is None] == []
    assert mistakes.sorted() == ()
