"""Sample cases: truth values of variables, drawn so that rare situations turn up among them.

The design of the draw decides only how fast equal formulas are told from different ones, never
what is believed. In real circuits the interesting states are those in which like things stand
alike (all vents open, all selectors in), with an exception or two.
"""

from __future__ import annotations

from random import Random

PART = 256
# How often a variable differs from those like it, as a power of a half, in each part of the cases.
_STRAYING = (1, 2, 4, 6, 8, 10)
WIDTH = PART * (len(_STRAYING) + 2)
FULL = (1 << WIDTH) - 1


def sample(name: str, like: str) -> int:
    """The truth of a variable in the sample cases; the same on every run and machine."""
    common, own = Random(like), Random(name)
    word = _rare(own, 3)
    word = word << PART | ((1 << PART) - 1) ^ _rare(own, 3)
    for power in _STRAYING:
        word = word << PART | common.getrandbits(PART) ^ _rare(own, power)
    return word


def _rare(random: Random, power: int) -> int:
    """Bits each of which is true with probability 1 / 2**power."""
    word = random.getrandbits(PART)
    for _ in range(power - 1):
        word &= random.getrandbits(PART)
    return word
