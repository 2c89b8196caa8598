"""A run as text, in the one layout that reading it gives back."""

from __future__ import annotations

from verifier.runs.script import (
    Air,
    Begins,
    Blows,
    Does,
    Event,
    Expects,
    Fact,
    Flows,
    Judged,
    Leaks,
    Line,
    Missing,
    Moves,
    PassesOff,
    Rests,
    Script,
    Sets,
    Stands,
    Strikes,
    Works,
    Wrong,
)
from verifier.runs.verbs import RELEASE


def script_text(script: Script) -> str:
    """Ends in a newline; reading it gives the script back, wherever its lines stood."""
    head = [f"run {quoted(script.title)}"] if script.title else []
    head += [f"design {script.design}"] if script.design else []
    head += [wrong_text(script.wrong)] if script.wrong else []
    body = [line_text(line) for line in script.lines]
    return "\n".join([*head, *([""] if head and body else []), *body]) + "\n"


def quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def wrong_text(wrong: Wrong) -> str:
    if isinstance(wrong.how, Missing):
        return f"wrong tube {wrong.how.tube} left off"
    return f"wrong {wrong.how.one} and {wrong.how.other} swapped"


def line_text(line: Line) -> str:
    if isinstance(line.what, Expects):
        return f"expect {fact_text(line.what.fact)}"
    if isinstance(line.what, Begins):
        return "procedure"
    return f"{'and ' if line.together else ''}{event_text(line.what)}"


def event_text(event: Event) -> str:
    match event:
        case Does(verb=verb, thing=thing, briefly=briefly):
            return f"{verb} {thing}{' briefly' if briefly else ''}"
        case Works(thing=thing, label=label, briefly=briefly, on=on):
            verb = "work" if on else RELEASE[0]
            return f"{verb} {thing} {label}{' briefly' if briefly else ''}"
        case Sets(switch=switch, value=value):
            return f"set {switch} to {value}"
        case Moves(element=element, position=position):
            return f"move {element}{f' to {position}' if position else ''}"
        case Leaks(volume=volume):
            return f"leak {volume}"
        case Strikes(fault=fault):
            return f"strike {fault}"
        case PassesOff(fault=fault):
            return f"pass off {fault}"
    return "wait"


def fact_text(fact: Fact) -> str:
    match fact:
        case Stands(thing=thing, value=value, met=met):
            return f"{thing} {'' if met else 'not '}{value}"
        case Air(shows=shows, where=where):
            return f"{shows} in {where}"
        case Blows(port=port, met=met):
            return f"{'' if met else 'no '}air blowing out of {port}"
        case Flows(medium=medium, start=start, end=end, met=met):
            word = "flow" if medium == "liquid" else "vapour"
            return f"{'' if met else 'no '}{word} from {start} to {end}"
        case Rests(met=met):
            return f"{'' if met else 'not '}at rest"
        case Judged(property=name, instance=instance, word=word, met=met):
            where = f" for {instance}" if instance else ""
            return f"{quoted(name)} {'' if met else 'not '}{word}{where}"
