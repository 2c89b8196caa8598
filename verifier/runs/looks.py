"""Whether a fact is so at the end of a run, and if it is not, what is so instead and why."""

from __future__ import annotations

from msgspec import Struct

from verifier.diagnostics.span import Span
from verifier.model.circuit import Circuit, Instance, Network, Property
from verifier.model.condition import Path
from verifier.model.mistakes import did_you_mean
from verifier.model.names import element_name, spoken
from verifier.model.run import Run, State
from verifier.runs.facts import Misread
from verifier.runs.names import Names
from verifier.runs.script import Air, Blows, Fact, Flows, Judged, Rests, Stands
from verifier.simulation.air import air_of
from verifier.simulation.cause import air_words, why_it_stands
from verifier.simulation.judging import fights, violation
from verifier.simulation.movement import at_rest, holds_some, must_move
from verifier.simulation.pressures import pressures

CONTEST = "no contest"
UNJUDGED = ("comes to rest", "no race")


class Look(Struct, frozen=True):
    """met: whether the fact is so.   told: what is so.   why: the cause, "" if there is none to
    tell."""

    met: bool
    told: str
    why: str = ""


def look(names: Names, run: Run, fact: Fact, span: Span) -> Look:
    """Raises Misread for names that the circuit does not have."""
    state = run.states[-1]
    match fact:
        case Stands():
            return _stands(names, state, fact, span)
        case Air():
            return _air(names, state, fact, span)
        case Blows():
            return _blows(names, state, fact, span)
        case Flows():
            return _flows(names, state, fact, span)
        case Judged():
            return _judged(names, run, fact, span)
        case Rests(met=met):
            return _rests(names, state, met)


# ---- where things stand
def _stands(names: Names, state: State, fact: Stands, span: Span) -> Look:
    circuit = names.circuit
    if fact.thing in names.switches or fact.thing in names.supplies:
        switch = names.switch(fact.thing, span)
        value = names.value(switch, fact.value, span)
        now = circuit.switches[switch].values[state.settings[switch]]
        return Look((state.settings[switch] == value) == fact.met, f"{fact.thing} is {spoken(now)}")
    held = _held(names, fact)
    if held is not None:
        on = state.hands[held]
        told = f"{fact.thing} is {'' if on else 'not '}{spoken(fact.value)} by hand"
        return Look(on == fact.met, told)
    element = names.element(fact.thing, span)
    position = names.position(element, fact.value, span)
    stands = state.positions[element]
    told = f"{fact.thing} stands {spoken(circuit.elements[element].positions[stands])}"
    return Look((stands == position) == fact.met, told, why_it_stands(circuit, state, element))


def _held(names: Names, fact: Stands) -> int | None:
    """A held hand of the part, where none of its positions is called so."""
    part = names.parts.get(fact.thing)
    if part is None:
        return None
    circuit = names.circuit
    element = names.elements.get(fact.thing)
    if element is not None and fact.value in circuit.elements[element].positions:
        return None
    hands = (k for k in circuit.parts[part].hands if circuit.hands[k].held)
    return next((k for k in hands if circuit.hands[k].label == fact.value), None)


# ---- air
def _air(names: Names, state: State, fact: Air, span: Span) -> Look:
    volume = names.volume(fact.where, span)
    found = air_of(names.circuit, state, volume)
    shown = {"high": "air", "low": "no air", "between": "in-between pressure"}[found.reading]
    told = f"there is {'an ' if found.reading == 'between' else ''}{shown} in {fact.where}"
    return Look(shown == fact.shows, told, f"{found.volume} {air_words(found)}")


def _blows(names: Names, state: State, fact: Blows, span: Span) -> Look:
    circuit = names.circuit
    port = circuit.ports[names.port(fact.port, span)]
    if not circuit.volumes[port.volume].open_air:
        what = "plugged" if port.state == "plugged" else "on a line"
        told = f"no air can be seen to blow out of `{fact.port}`: it is {what}"
        raise Misread("E1007", span, told)
    found = air_of(circuit, state, port.volume)
    blows = pressures(circuit, state).can_high[port.volume]
    told = f"{'air' if blows else 'no air'} blows out of {fact.port}"
    return Look(blows == fact.met, told, f"it {air_words(found)}" if blows else "")


# ---- liquid and vapour
def _flows(names: Names, state: State, fact: Flows, span: Span) -> Look:
    circuit = names.circuit
    path = path_of(circuit, fact, span)
    open_now = holds_some(circuit, state, path)
    word = "flow" if fact.medium == "liquid" else "a vapour path"
    told = f"there is {'' if open_now else 'no '}{word} from {fact.start} to {fact.end}"
    if not open_now:
        told = told.replace("no a ", "no ")
    shut = () if open_now else _shut(circuit, state, path)
    return Look(open_now == fact.met, told, f"shut on the way: {', '.join(shut)}" if shut else "")


def path_of(circuit: Circuit, fact: Flows, span: Span) -> Path:
    """Raises Misread for places that the network does not have."""
    number = next((k for k, n in enumerate(circuit.networks) if n.medium == fact.medium), None)
    if number is None:
        raise Misread("E1006", span, f"this design has no {fact.medium}")
    places = circuit.networks[number].places
    for name in (fact.start, fact.end):
        if name not in places:
            told = f"there is no place `{name}` of {fact.medium}"
            raise Misread("E1006", span, told, hint=did_you_mean(name, places))
    return Path(number, places.index(fact.start), places.index(fact.end), True)


def _shut(circuit: Circuit, state: State, path: Path) -> tuple[str, ...]:
    """Elements that shut a way with fewest of them shut; none if no way leads there at all."""
    network = circuit.networks[path.network]
    best: dict[int, tuple[str, ...]] = {path.start: ()}
    waiting = [path.start]
    while waiting:
        place = waiting.pop(0)
        for there, shut in _onward(circuit, network, state, place):
            told = tuple(dict.fromkeys((*best[place], *shut)))
            if there not in best or len(told) < len(best[there]):
                best[there] = told
                waiting.append(there)
    return best.get(path.end, ())


def _onward(
    circuit: Circuit, network: Network, state: State, place: int
) -> list[tuple[int, tuple[str, ...]]]:
    found = []
    for way in network.ways:
        shut = tuple(
            f"{element_name(circuit, w.element)} "
            f"{spoken(circuit.elements[w.element].positions[state.positions[w.element]])}"
            for w in way.where
            if state.positions[w.element] not in w.positions
        )
        if way.start == place:
            found.append((way.end, shut))
        if way.end == place and not way.one_way:
            found.append((way.start, shut))
    return found


# ---- rest and properties
def _rests(names: Names, state: State, met: bool) -> Look:
    circuit = names.circuit
    rests = at_rest(circuit, state)
    waiting = [
        element_name(circuit, k)
        for k in range(len(circuit.elements))
        if not rests and must_move(circuit, state, k)
    ]
    told = "everything is at rest" if rests else f"still to move: {', '.join(waiting)}"
    return Look(rests == met, told)


def _judged(names: Names, run: Run, fact: Judged, span: Span) -> Look:
    circuit = names.circuit
    known = {item.name: item for item in circuit.properties}
    if fact.property == CONTEST and CONTEST not in known:
        if any(one.fault for one in circuit.elements):
            told = f'"{CONTEST}" speaks of a circuit in which nothing fails'
            raise Misread("E1010", span, told)
        found = fights(circuit, run.states[-1])
        told = f"air and exhaust {'fight' if found else 'do not fight'} somewhere"
        return Look(found == fact.met, told)
    if fact.property not in known:
        if fact.property in UNJUDGED:
            told = f'whether "{fact.property}" holds cannot be told from one run'
            raise Misread("E1010", span, told, hint="`shutproof prove` tells it")
        told = f'there is no property "{fact.property}"'
        raise Misread("E1010", span, told, hint=did_you_mean(fact.property, known))
    item = known[fact.property]
    if (item.form == "possible") != (fact.word == "reached"):
        word = "reached" if item.form == "possible" else "broken"
        told = f'"{item.name}" is {_form(item)}: one run can show that it is {word}'
        raise Misread("E1010", span, told)
    shown = [one for one in _instances(item, fact, span) if violation(circuit, item, one, run)]
    labels = ", ".join(one.label.replace(" = ", "=") for one in shown if one.label)
    where = f" for {labels}" if labels and not fact.instance else ""
    told = f'"{item.name}" is {"" if shown else "not "}{fact.word}{where}'
    return Look(bool(shown) == fact.met, told)


def _form(item: Property) -> str:
    return f"{'an' if item.form[0] in 'aeiou' else 'a'} *{item.form}*"


def _instances(item: Property, fact: Judged, span: Span) -> list[Instance]:
    if not fact.instance:
        return list(item.instances)
    wanted = fact.instance.replace(" ", "")
    found = [one for one in item.instances if one.label.replace(" ", "") == wanted]
    if not found:
        labels = [one.label for one in item.instances if one.label]
        told = f'"{item.name}" has no case `{fact.instance}`'
        hint = did_you_mean(fact.instance, labels)
        hint = hint or (f"for example `{labels[0]}`" if labels else "it has one case only")
        raise Misread("E1010", span, told, hint=hint)
    return found
