"""Codes of the mistakes of runs that are written down, with their short meanings."""

from __future__ import annotations

RUN_CODES = {
    "E1001": "a line of a run that says nothing known",
    "E1002": "a line of a run that is not finished, or goes on too long",
    "E1003": "`and` where nothing stands before it that it can go with",
    "E1004": "a heading of a run that stands twice, or after its first line",
    "E1005": "a run of another design",
    "E1006": "a name that the design does not have, in a run",
    "E1007": "a thing that cannot be worked, or stand, as the run says",
    "E1008": "a wrong connection that cannot be made",
    "E1009": "a fault that there is not",
    "E1010": "a property, or a case of one, that there is not, in a run",
    "E1011": "a step that cannot happen",
    "E1012": "an expectation that is not met",
    "E1013": "a run that does not come to rest where it waits for that",
}
