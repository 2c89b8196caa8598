"""The connection lists as text and as tables for spreadsheets."""

from __future__ import annotations

from collections.abc import Iterator

from verifier.report.families import families
from verifier.report.hookup import Hookup, PartConnections, PortConnection, TubeConnection
from verifier.report.misconnections import Misconnections
from verifier.report.misconnections_text import consequence
from verifier.report.spreadsheet import table
from verifier.report.text import wrapped

BOX = "[ ]"
TO_AIR = {
    "silencer": "to the air, with a silencer",
    "open": "left open to the air, kept clean",
    "plug": "plugged",
}


def hookup_text(hookup: Hookup, mistakes: Misconnections | None = None) -> str:
    """By part, then by tube, with boxes to tick; with what comes of mistakes at each port, where
    that is known. Ends in a newline."""
    lines = [*_title(hookup), "", "Part by part:", ""]
    for part in hookup.parts:
        lines += _part_lines(part, mistakes)
        lines.append("")
    lines += ["Tube by tube:", ""]
    for tube in hookup.tubes:
        lines += _tube_lines(tube)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _title(hookup: Hookup) -> list[str]:
    title = f"{hookup.design}: {hookup.title}" if hookup.title else hookup.design
    revision = f", revision {hookup.revision}" if hookup.revision else ""
    return wrapped(f"Connections of {title}{revision}", "", "  ")


def _part_lines(part: PartConnections, mistakes: Misconnections | None) -> Iterator[str]:
    about = "; ".join(one for one in (part.where, part.about) if one)
    yield from wrapped(f"{BOX} {part.name}{f': {about}' if about else ''}", "", "      ")
    width = max(len(port.number) for port in part.ports)
    for port in part.ports:
        first, *rest = wrapped(port.purpose, " " * (width + 10))
        yield f"    {BOX} {port.number:<{width}}  {first.lstrip()}"
        yield from rest
        yield from wrapped(connection_words(port), " " * (width + 10), "  ")
        for told in mistakes_at(mistakes, f"{part.name}.{port.number}"):
            yield from wrapped(f"! {told}", " " * (width + 10), "  ")


def connection_words(port: PortConnection) -> str:
    """`tube trip "7" to master.12`, `plugged`."""
    if port.state != "tube":
        return TO_AIR[port.state]
    label = f' "{port.label}"' if port.label else ""
    by = f", by the junction of {port.line}" if port.junction else ""
    return f"tube {port.tube}{label} to {', '.join(families(port.others))}{by}"


def mistakes_at(mistakes: Misconnections | None, port: str) -> Iterator[str]:
    """What comes of each wrong connection at a port, worst first."""
    for one in () if mistakes is None else mistakes.told:
        for member in one.members:
            if port not in member.ports:
                continue
            other = next((name for name in member.ports if name != port), "")
            label = other.rpartition(".")[2]
            how = f"swapped with {label}" if member.sort == "swapped" else "left off"
            reveals = f"; {member.reveals}" if member.reveals else ""
            yield f"{how}: {consequence(one.judgement)}{reveals}"


def _tube_lines(tube: TubeConnection) -> list[str]:
    label = f' "{tube.label}"' if tube.label else ""
    facts = [f"{tube.length} long" if tube.length else "", f"bore {tube.bore}" if tube.bore else ""]
    told = "".join(f", {one}" for one in facts if one)
    about = f" ({tube.about})" if tube.about else ""
    words = f"{BOX} {tube.name}{label}: from {tube.ends[0]} to {tube.ends[1]}{told}{about}"
    return wrapped(words, "", "      ")


PART_HEADINGS = (
    "part",
    "where",
    "kind",
    "port",
    "purpose",
    "connection",
    "tube",
    "label",
    "line",
    "leads to",
    "mistakes",
    "done",
)
TUBE_HEADINGS = ("tube", "label", "line", "from", "to", "length", "bore", "about", "done")


def parts_table(hookup: Hookup, mistakes: Misconnections | None = None) -> bytes:
    """One row a port."""
    rows: list[tuple[str, ...]] = [PART_HEADINGS]
    for part in hookup.parts:
        for port in part.ports:
            connection = "tube" if port.state == "tube" else TO_AIR[port.state]
            rows.append(
                (
                    part.name,
                    part.where,
                    part.kind,
                    port.number,
                    port.purpose,
                    connection,
                    port.tube,
                    port.label,
                    port.line,
                    ", ".join(port.others),
                    "; ".join(mistakes_at(mistakes, f"{part.name}.{port.number}")),
                    "",
                )
            )
    return table(rows)


def tubes_table(hookup: Hookup) -> bytes:
    """One row a tube."""
    rows: list[tuple[str, ...]] = [TUBE_HEADINGS]
    for tube in hookup.tubes:
        facts = (tube.name, tube.label, tube.line, *tube.ends, tube.length, tube.bore, tube.about)
        rows.append((*facts, ""))
    return table(rows)
