"""Random scripts: every form that can be written down, with names that no word of runs is."""

from __future__ import annotations

from hypothesis import strategies as st

from verifier.runs.script import (
    Air,
    Begins,
    Blows,
    Does,
    Expects,
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
    Swap,
    Waits,
    Works,
    Wrong,
)
from verifier.runs.verbs import SUPPLY, VERBS

plain = st.sampled_from(["vent", "pick", "überlauf", "leg_2", "knob", "x1"])
indexed = st.builds(
    lambda name, numbers: f"{name}[{','.join(map(str, numbers))}]",
    plain,
    st.lists(st.integers(0, 30), min_size=1, max_size=2),
)
segment = plain | indexed
names = st.lists(segment, min_size=1, max_size=3).map(".".join)
ports = st.builds(lambda part, port: f"{part}.{port}", names, st.sampled_from(["1", "12", "in"]))
values = st.sampled_from(["open", "shut", "in", "out", "held_open", "to_open"])
verbs = st.sampled_from(sorted({*VERBS.values(), *SUPPLY, "turn on", "hold open", "release"}))
faults = st.builds(lambda part, label: f"{part} {label}", names, values) | st.builds(
    lambda line, end: f"tube {line} torn at {end}", names, ports
)
places = names
texts = st.text(
    st.characters(codec="utf-8", exclude_categories=("C", "Zl", "Zp")), min_size=1, max_size=12
)
met = st.booleans()

facts = st.one_of(
    st.builds(Stands, names, values, met),
    st.builds(Air, st.sampled_from(["air", "no air", "in-between pressure"]), names | ports),
    st.builds(Blows, ports, met),
    st.builds(Flows, st.sampled_from(["liquid", "vapour"]), places, places, met),
    st.builds(Rests, met),
    st.builds(
        Judged,
        texts,
        st.sampled_from(["", "i = 1", "i = 1, j = 2"]),
        st.sampled_from(["broken", "reached"]),
        met,
    ),
)
events = st.one_of(
    st.builds(Does, verbs, names, met),
    st.builds(Works, names, values, met),
    st.builds(Works, names, values, st.just(False), st.just(False)),
    st.builds(Sets, names, values),
    st.builds(Moves, names, values | st.just("")),
    st.builds(Leaks, names | ports),
    st.builds(Strikes, faults),
    st.builds(PassesOff, faults),
)


@st.composite
def scripts(draw: st.DrawFn) -> Script:
    lines: list[Line] = []
    for _ in range(draw(st.integers(0, 6))):
        sort = draw(st.sampled_from(["events", "events", "wait", "expect", "procedure"]))
        if sort == "events":
            for number in range(draw(st.integers(1, 3))):
                lines.append(Line(draw(events), number > 0))
        elif sort == "wait":
            lines.append(Line(Waits()))
        elif sort == "expect":
            lines.append(Line(Expects(draw(facts))))
        else:
            lines.append(Line(Begins()))
    wrong = draw(st.none() | st.builds(Swap, ports, ports) | st.builds(Missing, names))
    return Script(
        draw(texts | st.just("")),
        draw(plain | st.just("")),
        None if wrong is None else Wrong(wrong),
        tuple(lines),
    )
