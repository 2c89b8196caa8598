"""Random trees of every statement form, with spans that point nowhere."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import msgspec
from hypothesis import strategies as st

from verifier.diagnostics.span import Span
from verifier.syntax import tree as t

NOWHERE = Span("", 0, 0, 0, 0)
KEYWORDS = (
    *("design", "revision", "use", "include", "supply", "surroundings", "part", "line", "tube"),
    *("open", "plug", "place", "liquid", "vapour", "never", "always", "possible", "order", "port"),
    *("recovers", "assume", "runs", "start", "kind", "assembly", "ports", "exhausts", "hand", "in"),
    *(
        "passage",
        "element",
        "means",
        "role",
        "fault",
        "to",
        "otherwise",
        "end",
        "if",
        "then",
        "and",
    ),
    *("or", "not", "every", "some", "any", "each", "for", "where", "at", "rest", "moment", "is"),
    *("by", "worked", "stays", "may", "be", "weak", "go", "comes", "goes", "can", "held", "on"),
    *("starts", "because", "after", "only", "restricted", "passes", "leaks", "vents", "bursts"),
    *("blocks", "dead", "loses", "its", "spring", "length", "bore", "label", "when", "source"),
    *("tolerating", "of", "faults", "exclude", "common", "cause", "rate", "per", "B10d", "tubes"),
    *("supplies", "all", "accept", "race", "while"),
)
PLAIN = ("stop", "master", "vent", "pick", "x", "i", "j", "k2", "Größe", "_under", "naïve_1")
FIRST_IN_CONDITION = ("if", "every", "some", "not", "at", "worked")
FIRST_IN_EFFECT = ("leaks", "passes", "vents", "bursts", "blocks", "hand")
FIRST_IN_LEG = ("restricted", "liquid", "vapour", "ports")
FIRST_OF_FAULTS = ("any", "tube", "supply", "cause", "all", "every", "kind", "tubes", "supplies")

names = st.sampled_from(PLAIN + KEYWORDS)


def names_but(excluded: tuple[str, ...]) -> st.SearchStrategy[str]:
    return st.sampled_from(tuple(n for n in PLAIN + KEYWORDS if n not in excluded))


texts = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn")), max_size=12
) | st.sampled_from(['say "no"', "back\\slash", "# no remark", "", "טריז", "弁"])
docs = st.none() | texts


def node(kind: type[Any], *parts: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.builds(lambda *values: kind(*values, NOWHERE), *parts)


def lists(of: st.SearchStrategy[Any], low: int = 0, high: int = 3) -> st.SearchStrategy[Any]:
    return st.lists(of, min_size=low, max_size=high).map(tuple)


# ---- numbers and references ------------------------------------------------------------------

integers = node(t.Integer, st.integers(0, 999_999_999) | st.integers(0, 9))
sums = st.recursive(
    integers | node(t.Variable, names),
    lambda inner: node(t.Arithmetic, st.sampled_from("+-*"), inner, inner),
    max_leaves=4,
)
_digits = st.integers(0, 9999).map(str)
_written = st.one_of(
    _digits,
    st.builds("{}.{}".format, _digits, st.sampled_from(("5", "05", "250"))),
    st.builds("{}/{}".format, _digits, st.integers(1, 99)),
)
measures = st.builds(
    lambda written, unit: t.Measure(Fraction(written), written, unit, NOWHERE),
    _written,
    names_but(("per",)),
)
indices = st.one_of(
    node(t.Index, sums, st.none(), st.none()),
    node(t.Index, sums, sums, st.none()),
    node(t.Index, sums, sums, names),
)
_indices = st.just(()) | lists(indices, 1, 2)
segments = node(t.Segment, names | st.sampled_from(("1", "12", "007")), _indices).map(
    lambda s: msgspec.structs.replace(s, indices=()) if s.name[0].isdigit() else s
)


def references_from(first: st.SearchStrategy[str]) -> st.SearchStrategy[t.Reference]:
    head = node(t.Segment, first, _indices)
    return st.builds(lambda h, rest: t.Reference((h, *rest), NOWHERE), head, lists(segments, 0, 2))


references = references_from(names)
dimensions = st.one_of(
    node(t.Dimension, st.none(), sums, st.none()),
    node(t.Dimension, st.none(), sums, sums),
    node(t.Dimension, names, sums, sums),
)
families = node(t.Family, names, st.just(()) | lists(dimensions, 1, 2))


@st.composite
def binders(draw: st.DrawFn) -> t.Binders:
    variables = []
    for index in range(draw(st.integers(1, 3))):
        low, high = draw(st.just((None, None)) | st.tuples(sums, sums))
        above = index > 0 and draw(st.booleans())
        variables.append(t.Binder(draw(names), low, high, above, NOWHERE))
    operators = st.sampled_from(("<", "<=", "=", "<>"))
    where = draw(lists(node(t.Comparison, sums, operators, sums), 0, 2))
    return t.Binders(tuple(variables), where, NOWHERE)


quantifiers = st.none() | node(t.Quantifier, st.sampled_from(("any", "every", "each")), binders())

# ---- conditions ------------------------------------------------------------------------------

_first = names_but(FIRST_IN_CONDITION)
words = node(t.Word, _first, lists(references, 1, 3))
positions = node(t.Is, references_from(_first), names)
conditions = st.recursive(
    st.one_of(words, positions, node(t.ByHand, _first), node(t.Worked), node(t.Rest)),
    lambda inner: st.one_of(
        node(t.If, inner, inner),
        node(t.Quantified, st.booleans(), binders(), inner),
        node(t.And, lists(inner, 2, 3)),
        node(t.Or, lists(inner, 2, 3)),
        node(t.Negated, inner),
    ),
    max_leaves=6,
)

# ---- faults ----------------------------------------------------------------------------------


@st.composite
def faults_of(draw: st.DrawFn) -> t.FaultsOf:
    what: Any = draw(st.sampled_from(("part", "tube", "supply", "cause")))
    whole = what != "cause" and draw(st.booleans())
    first = names_but(("tube", "supply")) if whole else names_but(FIRST_OF_FAULTS)
    subject = draw(references_from(first) if what == "part" else references)
    end = draw(st.none() | references) if what == "tube" else None
    # A word that begins a statement begins one where a label could stand.
    label = None if what == "cause" or whole else draw(st.sampled_from(PLAIN))
    torn_at = draw(st.none() | references) if what == "tube" and label is not None else None
    return t.FaultsOf(what, subject, end, label, torn_at, NOWHERE)


faults_among = st.one_of(
    node(t.FaultsAmong, names, st.none(), st.none()),
    node(t.FaultsAmong, st.none() | names, st.just("kind"), names),
    node(t.FaultsAmong, st.none() | names, st.sampled_from(("tubes", "supplies")), st.none()),
)
selections = lists(faults_of() | faults_among, 1, 3)
tolerating = st.none() | st.one_of(
    node(t.TolerateClause, st.integers(0, 99), lists(faults_of() | faults_among, 0, 2)),
    node(t.TolerateClause, st.none(), selections),
)
_per_time = st.builds(
    lambda written, unit: t.PerTime(Fraction(written), written, unit, NOWHERE), _written, names
)
_figures = st.one_of(
    measures,
    _per_time,
    node(t.WornOut, measures, _per_time, names),
)
fault_statements = st.one_of(
    node(t.ExcludeStatement, selections, texts, texts),
    node(t.CommonCause, families, docs, selections, docs),
    node(t.RateStatement, selections, _figures, texts),
)

# ---- statements ------------------------------------------------------------------------------

forms = st.sampled_from(("never", "always", "possible"))
moments = st.sampled_from((None, "at_rest", "every_moment"))
media = st.sampled_from((None, "liquid", "vapour"))
surroundings = node(t.Surroundings, families, lists(names, 2, 3), docs)
arguments = lists(node(t.Argument, names, sums | measures), 0, 2)


@st.composite
def parts(draw: st.DrawFn) -> t.PartStatement:
    return t.PartStatement(
        draw(families),
        draw(names),
        draw(arguments),
        draw(st.none() | conditions),
        draw(lists(names, 0, 2)),
        draw(docs),
        NOWHERE,
        NOWHERE,
    )


@st.composite
def tubes(draw: st.DrawFn) -> t.TubeStatement:
    length, bore = draw(st.none() | measures), draw(st.none() | measures)
    label = draw(texts if length is None and bore is None else docs)
    return t.TubeStatement(draw(references), draw(references), length, bore, label, NOWHERE)


# `liquid ports` begins an item of a kind.
_links = st.builds(
    lambda first, rest: (first, *rest),
    references_from(names_but(("ports",))),
    lists(references, 1, 3),
)
chains = node(t.Chain, st.sampled_from(("liquid", "vapour")), _links)
properties = node(
    t.PropertyStatement, forms, moments, texts, conditions, quantifiers, tolerating, docs
)
orders = node(
    t.OrderStatement, moments, texts, conditions, conditions, quantifiers, tolerating, docs
)
actions = node(t.Action, st.booleans(), words | positions)
recoveries = node(
    t.RecoversStatement,
    texts,
    lists(actions, 1, 3),
    conditions,
    quantifiers,
    tolerating,
    docs,
)
accepted_races = node(t.AcceptStatement, lists(references, 1, 3), st.none() | conditions, texts)
assumptions = node(t.AssumeStatement, texts, texts, forms, conditions, quantifiers)
shared = st.one_of(
    surroundings,
    parts(),
    node(t.LineStatement, families, lists(references, 1, 5), docs),
    tubes(),
    node(t.LeftOpen, lists(references, 1, 3)),
    node(t.Plug, lists(references, 1, 3)),
    node(t.Places, lists(families, 1, 3), docs),
    chains,
    properties,
    orders,
    recoveries,
    assumptions,
    accepted_races,
    fault_statements,
    node(t.StartAt, references, names),
)
assembly_ports = node(t.AssemblyPort, names, lists(references, 1, 3), docs)
assemblies = node(t.Assembly, names, lists(names, 0, 2), docs, lists(shared | assembly_ports, 0, 3))

# ---- kinds -----------------------------------------------------------------------------------

port_names = names | st.sampled_from(("1", "2", "12"))
_leg_starts = names_but(FIRST_IN_LEG) | st.sampled_from(("1", "2"))
legs = node(t.Leg, _leg_starts, port_names, st.booleans(), st.booleans(), media)
elements = node(
    t.ElementItem,
    names,
    lists(names, 2, 3),
    st.none() | names,
    lists(
        st.one_of(
            node(t.Passes, names, lists(legs, 1, 3)),
            node(t.MoveItem, names, conditions),
            node(t.Otherwise, st.none() | names),
        )
    ),
)
_subjects = names_but(FIRST_IN_EFFECT)


@st.composite
def effects(draw: st.DrawFn) -> t.Effect:
    word: Any = draw(st.sampled_from(EFFECTS))
    if word in ("sticks", "no_spring"):
        return t.Effect(word, draw(_subjects), None, (), False, NOWHERE)
    if word in ("held", "dead"):
        return t.Effect(word, draw(names), None, (), False, NOWHERE)
    if word == "shifts":
        return t.Effect(word, draw(_subjects), draw(names), (), False, NOWHERE)
    count = {"leaks": 2, "passes": 2, "vents": 1, "bursts": 1}.get(word) or draw(st.integers(1, 2))
    ports = draw(lists(port_names, count, count))
    return t.Effect(word, None, None, ports, count == 2 and draw(st.booleans()), NOWHERE)


EFFECTS = (
    *("sticks", "shifts", "no_spring", "leaks", "passes", "vents", "bursts", "blocks"),
    *("held", "dead"),
)
faults = node(t.FaultItem, names, docs, lists(effects(), 1, 3), st.booleans(), docs)
kind_items = st.one_of(
    node(t.Ports, lists(port_names, 1, 4), media),
    node(t.Exhausts, lists(port_names, 1, 2)),
    node(t.HandItem, names, st.booleans(), st.booleans(), docs),
    node(t.Surroundings, node(t.Family, names, st.just(())), lists(names, 2, 3), docs),
    node(t.PassageItem, lists(legs, 1, 3), st.none() | conditions),
    elements,
    node(t.Means, names, conditions),
    node(t.KindRole, names),
    faults,
)
kinds = node(t.Kind, names, docs, lists(kind_items, 0, 4))

statements = st.one_of(
    shared,
    node(t.Design, names, docs),
    node(t.Revision, texts),
    node(t.Use, names),
    node(t.Include, texts),
    node(t.SupplyStatement, families, st.booleans(), st.none() | names, docs),
    node(t.RunsOn, texts),
    assemblies,
    kinds,
)
sources = lists(statements, 0, 4).map(lambda found: t.Source("random.ilk", "", found, ()))


def bare(value: Any) -> Any:
    """The tree without its spans."""
    if isinstance(value, msgspec.Struct):
        fields = [f for f in value.__struct_fields__ if f not in ("span", "kind_span")]
        return (type(value).__name__, *(bare(getattr(value, field)) for field in fields))
    if isinstance(value, tuple):
        return tuple(bare(part) for part in value)
    return value
