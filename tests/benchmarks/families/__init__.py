"""Families of designs that grow, each with a member that holds and one with a flaw.

`python -m tests.benchmarks.families bank 12 4 > x.ilk` prints one. The trailers are invented.
"""

from __future__ import annotations

from tests.benchmarks.families.arbitration import RING, ROTARY
from tests.benchmarks.families.bank import BANK, WITHIN
from tests.benchmarks.families.handing_on import LADDER, TOKEN
from tests.benchmarks.families.member import Family
from tests.benchmarks.families.memory import CARRY, STORE
from tests.benchmarks.families.sequence import CASCADE, DEEP, SERIES

FAMILIES: dict[str, Family] = {
    family.name: family
    for family in (BANK, WITHIN, SERIES, DEEP, CASCADE, STORE, CARRY, ROTARY, RING, TOKEN, LADDER)
}
