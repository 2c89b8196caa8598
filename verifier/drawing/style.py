"""The style sheet of drawings: light and dark by variables; states never by colour alone."""

INKS = {"ink": "#111", "ground": "#fff", "faint": "#666", "mark": "#b00020"}
DARK = {"ink": "#eee", "ground": "#15181c", "faint": "#aaa", "mark": "#ff8a80"}
PRINT = {"ink": "#000", "ground": "#fff", "faint": "#444", "mark": "#b00020"}
FONT = 'font-family:"Liberation Sans",Arial,Helvetica,"DejaVu Sans",sans-serif'

RULES = """
.circuit .ground{fill:var(--ground);stroke:none}
.circuit path,.circuit .frame{fill:none;stroke:var(--ink);stroke-width:.35;stroke-linejoin:round}
.circuit path.square{fill:var(--ground);stroke-width:.45}
.circuit path.hollow{fill:var(--ground)}
.circuit path.head{fill:var(--ink);stroke-width:.1}
.circuit path.stop{stroke-width:.6}
.circuit path.thin{stroke-width:.25}
.circuit path.inner{stroke-dasharray:1 .7}
.circuit path.liquid{stroke-width:1.5}
.circuit path.vapour{stroke-width:1.5}
.circuit path.core{stroke:var(--ground);stroke-width:.85}
.circuit path.work{stroke-width:.5}
.circuit path.pilot{stroke-width:.35;stroke-dasharray:2 1}
.circuit .dot{fill:var(--ink)}
.circuit .frame{stroke:var(--faint);stroke-width:.3;stroke-dasharray:4 1 .8 1}
.circuit text{fill:var(--ink);unicode-bidi:plaintext}
.circuit text.line,.circuit text.port,.circuit text.worked{fill:var(--faint)}
.circuit text.name{font-weight:bold}
.circuit text.frame{fill:var(--faint);stroke:none;font-weight:bold}
.circuit .off,.circuit .badge,.circuit .halo,.circuit .sign{display:none}
.circuit .on-ahead,.circuit .on-back{display:none}
.circuit .ahead .on-ahead,.circuit .back .on-back{display:inline}
.circuit path.stream{fill:var(--ink);stroke:var(--ground);stroke-width:.3}
.circuit path.inside{display:none}
.circuit [data-pressure=high] path.work,.circuit [data-pressure=high] path.pilot{stroke-width:1.1}
.circuit [data-pressure=low] path.work{stroke-width:.35}
.circuit [data-pressure^=trapped] path.work,.circuit [data-pressure^=trapped] path.pilot{
stroke-width:1.5}
.circuit [data-pressure^=trapped] path.inside{display:inline;stroke:var(--ground);stroke-width:.8}
.circuit [data-pressure=trapped_high] path.inside{stroke-width:.5;stroke-dasharray:1.6 .6}
.circuit [data-pressure=contested] path.work,.circuit [data-pressure=contested] path.pilot{
stroke:var(--mark);stroke-width:1.7;stroke-dasharray:.7 .5}
.circuit .badge circle{fill:var(--ground);stroke:var(--ink);stroke-width:.35}
.circuit .badge text{font-weight:bold}
.circuit [data-pressure^=trapped]>.badge.trapped{display:inline}
.circuit [data-pressure=contested]>.badge.contested{display:inline}
.circuit .moved>.halo,.circuit .emphasised>.halo,.circuit .added>.halo,.circuit .removed>.halo{
display:inline}
.circuit .halo rect{fill:none;stroke:var(--mark);stroke-width:.5}
.circuit .moved>.halo rect{stroke-width:.9}
.circuit .emphasised>.halo rect{stroke-width:1.2;stroke-dasharray:3 1}
.circuit .added>.halo rect{stroke-width:1}
.circuit .removed>.halo rect{stroke-width:.5;stroke-dasharray:1 1}
.circuit .added>.halo .sign.added,.circuit .removed>.halo .sign.removed{
display:inline;fill:var(--mark);font-weight:bold}
.circuit .line.added path{stroke-width:1}
.circuit .line.removed path{stroke-dasharray:.6 1.2}
"""


def _set(inks: dict[str, str]) -> str:
    return "".join(f"--{name}:{value};" for name, value in inks.items())


STYLE = f"""
.circuit{{{_set(INKS)}color:var(--ink);{FONT}}}
@media (prefers-color-scheme:dark){{.circuit{{{_set(DARK)}}}}}
@media print{{.circuit{{{_set(PRINT)}}}}}{RULES}"""


def plain_style() -> str:
    """For paper, and for programs that know no variables."""
    style = f".circuit{{{FONT}}}{RULES}"
    for name, value in PRINT.items():
        style = style.replace(f"var(--{name})", value)
    return style
