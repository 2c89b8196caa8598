"""Codes of the mistakes that elaboration tells, with their short meanings."""

from __future__ import annotations

FILES = {
    "E0201": "a file that cannot be read",
    "E0202": "an include that is not inside the project folder, or not of a design",
    "E0203": "includes that go round in a circle",
    "E0204": "an unknown catalogue",
    "E0205": "a file without a design",
    "E0206": "a design or revision that stands twice, or in an included file",
}

NAMES_AND_NUMBERS = {
    "E0301": "a name given twice",
    "E0302": "a range without members",
    "E0303": "a parameter of the wrong sort",
    "E0304": "an unknown index variable or parameter",
    "E0305": "a number too large",
    "E0306": "arguments that do not fit the kind or assembly",
    "E0307": "an assembly, or a port of one, that contains itself",
    "E0308": "an unknown kind or assembly",
    "E0309": "a variable that already stands for a number",
}

REFERENCES = {
    "E0401": "an unknown name",
    "E0402": "an index out of range",
    "E0403": "the wrong number of indices",
    "E0404": "a thing of another sort than belongs here",
    "E0405": "a part without such a port, element or member",
    "E0406": "a range where one thing belongs",
}

CIRCUIT = {
    "E0501": "a port left open",
    "E0502": "a port with two lines",
    "E0503": "a line with one end",
    "E0504": "a port that is lined, open or plugged at the same time",
    "E0505": "a tube that its line does not have, or described twice",
    "E0506": "an unknown unit",
    "E0507": "a unit of the wrong dimension",
    "E0508": "a length or bore that is not more than zero",
    "E0509": "a chain through a part that has no such way",
    "E0510": "a start, or a reason to run on, that is said twice",
    "E0511": "a start that does not exist",
    "E0512": "a pilot named for a path that it does not make (ISO 11727)",
    "E0513": "an element that reads too many pressures",
    "E0514": "a part that is not said to be worked, or has no use for it",
    "E0515": "parts that work each other in a circle",
    "E0516": "a link of a chain, or an end of a path, that is no place of that medium",
}

KINDS = {
    "E0601": "an unknown port of a kind",
    "E0602": "an unknown element, position or value of a kind",
    "E0603": "an unknown hand control of a kind",
    "E0604": "a passage whose `when` is not about positions of elements",
    "E0605": "an element that does not say what it does when nothing moves it",
    "E0606": "a move or a second `otherwise` after `otherwise`",
    "E0607": "a word that has no meaning inside a kind",
    "E0608": "a hand control that starts on but cannot be held",
    "E0609": "a passage between different media",
    "E0610": "a word of the language taken as a name in a kind",
    "E0611": "a passage that cannot be: to itself, or restricted for liquid or vapour",
}

PROPERTIES = {
    "E0701": "a word that says nothing of its part",
    "E0702": "a word that may mean several things",
    "E0703": "a value or position that does not exist",
    "E0704": "a property that speaks of a momentary hand control",
    "E0705": "an assumption about more than hands and surroundings",
    "E0706": "a variable whose range is not clear",
    "E0707": "a variable that the condition does not speak of",
    "E0708": "variables without any values",
    "E0709": "an action of a procedure that is none",
    "E0710": "an assumption that says `possible`",
    "E0711": "a word that does not belong into this condition",
    "E0712": "a word with the wrong number of subjects",
    "E0713": "a place that stands in no chain of the medium",
    "E0714": "an accepted race that cannot be",
}

FAULTS = {
    "E0901": "faults that there are none of",
    "E0902": "a fault that is excluded and tolerated by name",
    "E0903": "a fault that is excluded twice",
    "E0904": "a rate in a unit that it is not told in",
    "E0905": "a fault with two rates",
    "E0906": "a tolerance of no fault",
    "E0907": "a common cause of fewer than two faults, or of another cause",
    "E0908": "a rate of nothing",
    "E0909": "a `possible` that tolerates faults",
}

WARNINGS = {
    "W0501": "two outlets joined by a tee",
    "W0502": "an exhaust port plugged",
    "W0503": "a line that can never be vented",
    "W0504": "a line that nothing can ever feed",
    "W0505": "a foot valve that needs air to close",
    "W0506": "a part, place, supply or surroundings never used",
    "W0507": "a position that nothing moves an element to",
    "W0508": "a design without properties",
    "W0509": "a word that the trade has given up (ISO 5598)",
}

MODEL_CODES: dict[str, str] = {
    **FILES,
    **NAMES_AND_NUMBERS,
    **REFERENCES,
    **CIRCUIT,
    **KINDS,
    **PROPERTIES,
    **FAULTS,
    **WARNINGS,
}
