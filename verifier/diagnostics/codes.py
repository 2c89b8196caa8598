"""Every code of a diagnostic with its short meaning; grammar/REFERENCE.md explains each at length.

One table per stage. A code keeps its meaning for ever: retired ones are not given out again.
"""

from __future__ import annotations

from verifier.diagnostics.codes_model import MODEL_CODES
from verifier.diagnostics.codes_runs import RUN_CODES

SYNTAX = {
    "E0101": "the file is not UTF-8 text",
    "E0102": "a character that cannot be seen, or a NUL byte",
    "E0103": "quotes that are not closed on their line",
    "E0104": "a backslash without meaning in a quoted text",
    "E0105": "a sign that the language does not use",
    "E0106": "no statement begins with this word",
    "E0107": "a colon is missing",
    "E0108": "an assembly or kind without its end",
    "E0109": "an end without an assembly or kind that is open",
    "E0110": "a statement that is not finished",
    "E0111": "a comma is missing",
    "E0112": "a bracket that is not closed, or closes nothing",
    "E0113": "a number written wrongly",
    "E0114": "a name is missing",
    "E0115": "a text in quotes is missing",
    "E0116": "a statement that cannot stand here",
    "E0117": "a word or sign that cannot stand here",
    "E0118": "a number with too many digits",
    "E0119": "a number divided by zero",
    "E0120": "a quantity without its unit",
    "E0121": "a fact about a tube given twice",
    "E0122": "a word is missing",
    "E0123": "too many mistakes; the rest of the file was not read",
}

# Found by a study, once the circuit is compiled.
STUDY = {
    "E0801": "assumptions that contradict each other or the start",
    "E0802": "assumptions that leave a state without a next one",
}

CODES: dict[str, str] = {**SYNTAX, **MODEL_CODES, **STUDY, **RUN_CODES}
