"""A circuit with faults woven in: another circuit, in which each may strike once (rules F).

A fault becomes an element of its own that may leave its first position at any moment, because it
reads a volume that is fed and vented at once (P5), and never comes back to it. What it does becomes
passages that are open, or shut, when it has struck, and moves that come before the others. So
compilers, simulator and evidence need to know nothing of faults but these elements, and that both
ends of a whole tube keep one pressure (P7).
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, structs

from verifier.model.acting import acting as effective
from verifier.model.circuit import Assumption, Circuit, Element, Move
from verifier.model.condition import All, Always, At, Condition, High, Not
from verifier.model.simplify import FALSE, TRUE, all_of, any_of
from verifier.model.strikes import Strike
from verifier.model.woven_air import WovenAir
from verifier.model.woven_moves import woven_elements
from verifier.model.woven_paths import woven_networks
from verifier.model.woven_properties import woven_properties

SOUND, STRUCK, PASSED = "sound", "struck", "passed off"
MOST = "at most so many faults"


class Woven(Struct, frozen=True):
    """elements: of the circuit, the element of each strike, in their order."""

    circuit: Circuit
    strikes: tuple[Strike, ...]
    elements: tuple[int, ...]


def weave(circuit: Circuit, strikes: Sequence[Strike], most: int | None = None) -> Woven:
    """The circuit in which any of the strikes may happen, at most so many of them in a run (all, if
    None). Its properties speak of a port's own side where a strike can cut that off."""
    if not strikes:
        return Woven(circuit, (), ())
    first = len(circuit.elements)
    acting = range(first, first + len(strikes))
    effects = [
        (effect, effective(element, strike.passing, number in strike.lasting))
        for element, strike in zip(acting, strikes, strict=True)
        for number, effect in enumerate(strike.effects)
    ]
    air = WovenAir(circuit)
    unbidden = air.either_way(strikes[0].span)
    for effect, while_it_acts in effects:
        air.note(effect, while_it_acts)
    air.weave()
    owners = [strike.part if strike.part is not None else air.nobody for strike in strikes]
    faults = tuple(
        _fault(strike, owner, acting[k], unbidden)
        for k, (strike, owner) in enumerate(zip(strikes, owners, strict=True))
    )
    bound = [] if most is None else [_bound(most, acting, strikes)]
    parts = list(air.parts)
    for element, owner in zip(acting, owners, strict=True):
        mine = (*parts[owner].elements, element)
        parts[owner] = structs.replace(parts[owner], elements=mine)
    woven = structs.replace(
        circuit,
        parts=tuple(parts),
        ports=tuple(air.ports),
        volumes=tuple(air.volumes),
        supplies=tuple(air.supplies),
        switches=tuple(air.switches),
        passages=tuple(air.passages),
        elements=(*woven_elements(circuit, effects, air, unbidden), *faults),
        networks=woven_networks(circuit, effects),
        properties=woven_properties(circuit, effects, air, unbidden),
        assumptions=(*circuit.assumptions, *bound),
        causes=(),
        exclusions=(),
        rates=(),
    )
    return Woven(woven, tuple(strikes), tuple(acting))


def _fault(strike: Strike, part: int, own: int, unbidden: int) -> Element:
    """It may strike when it reads air where air and no air can be read; that it reads none never
    sends it back. What comes and goes does so by the same reading."""
    strikes = High(unbidden, f"fault {strike.name}")
    moves = [Move(1, strikes, strike.span)]
    if strike.passing:
        moves.append(Move(2, At(own, (1, 2)), strike.span))
    return Element(
        name=f"fault {strike.name}",
        part=part,
        label=f"fault {strike.label}",
        positions=(SOUND, STRUCK, PASSED) if strike.passing else (SOUND, STRUCK),
        start=0,
        moves=tuple(moves),
        otherwise=None,
        span=strike.span,
        fault=True,
        doc=told(strike),
    )


def told(strike: Strike) -> str:
    """`tube lift is torn off`, `foot[1] stuck (does not move)`, `cause frost`."""
    subject = strike.name.rsplit(" torn at ", 1)[0] if strike.kind == "tube" else strike.name
    if strike.words.startswith("it "):
        return f"{subject.removesuffix(f' {strike.label}')} {strike.words.removeprefix('it ')}"
    return strike.name if strike.words == strike.label else f"{strike.name} ({strike.words})"


def struck(own: int, passing: bool) -> Condition:
    """It has struck, though it may have passed off."""
    return At(own, (1, 2) if passing else (1,))


def _bound(most: int, elements: Sequence[int], strikes: Sequence[Strike]) -> Assumption:
    told = [struck(e, s.passing) for e, s in zip(elements, strikes, strict=True)]
    reason = f"the question is what {most} of them can do"
    return Assumption(f"{MOST}: {most}", reason, at_most(most, told), strikes[0].span)


def at_most(most: int, of: Sequence[Condition]) -> Condition:
    """At most so many are true; grows with n log(n)^most."""
    known: dict[tuple[int, int, int], Condition] = {}

    def within(first: int, last: int, count: int) -> Condition:
        key = (first, last, min(count, last - first))
        if key not in known:
            known[key] = split(*key)
        return known[key]

    def split(first: int, last: int, count: int) -> Condition:
        if count >= last - first:
            return TRUE
        if count == 0:
            return all_of(Not(one) for one in of[first:last])
        middle = (first + last) // 2
        return any_of(
            _and(within(first, middle, left), within(middle, last, count - left))
            for left in range(count + 1)
        )

    return within(0, len(of), most)


def _and(a: Condition, b: Condition) -> Condition:
    """Conjunction whose parts stay shared."""
    if isinstance(a, Always):
        return b if a.value else FALSE
    if isinstance(b, Always):
        return a if b.value else FALSE
    return All((a, b))
