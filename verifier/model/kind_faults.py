"""The fault list of a kind: what each fault does, in the kind's own numbering (F3)."""

from __future__ import annotations

from verifier.model.kind_names import KindNames
from verifier.model.template import MEDIA, EffectTemplate, FaultTemplate, Medium
from verifier.syntax import tree


def read_faults(names: KindNames) -> tuple[FaultTemplate, ...]:
    """The faults of the kind; effects with a mistake are told and left out."""
    found = []
    for item in names.faults.values():
        effects = [_effect(effect, names) for effect in item.effects]
        found.append(
            FaultTemplate(
                name=item.name,
                doc=item.doc or "",
                effects=tuple(effect for effect in effects if effect is not None),
                passing=item.passing,
                source=item.source or "",
                span=item.span,
            )
        )
    return tuple(found)


def _effect(effect: tree.Effect, names: KindNames) -> EffectTemplate | None:
    element = position = hand = None
    medium: Medium | None = None
    ports: tuple[int, ...] = ()
    if effect.effect in ("held", "dead"):
        hand = names.hand(effect.subject or "", effect.span)
        if hand is None:
            return None
    elif effect.subject is not None:
        element = names.element(effect.subject, effect.span)
        if element is None:
            return None
        if effect.target is not None:
            item = names.elements[effect.subject]
            position = names.position(item, effect.target, effect.span)
            if position is None:
                return None
    else:
        found = _ports(effect, names)
        if found is None:
            return None
        medium, ports = found
    return EffectTemplate(effect.effect, element, position, ports, hand, effect.one_way, medium)


def _ports(effect: tree.Effect, names: KindNames) -> tuple[Medium | None, tuple[int, ...]] | None:
    """The ports of an effect belong to air if they can, else to one medium."""
    media: tuple[Medium | None, ...] = (None, *MEDIA)
    for medium in media:
        known = list(names.air) if medium is None else list(names.media[medium])
        if all(port in known for port in effect.ports):
            return medium, tuple(known.index(port) for port in effect.ports)
    unknown = [
        port
        for port in effect.ports
        if port not in names.air and not any(port in names.media[m] for m in MEDIA)
    ]
    for port in unknown:
        names.unknown_port(port, effect.span)
    if not unknown:
        names.mistakes.add("E0609", effect.span, "these ports do not carry the same medium")
    return None
