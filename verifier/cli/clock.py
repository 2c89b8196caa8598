"""The day: the only door to the clock that tells it."""

from __future__ import annotations

import datetime


def today() -> datetime.date:
    return datetime.date.today()
