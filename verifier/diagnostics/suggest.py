"""`Did you mean …?`, said only when one candidate stands out."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import SequenceMatcher

CLOSE = 0.72
MARGIN = 0.04
LONGEST = 80  # comparing longer words costs more than the hint is worth


def suggest(word: str, candidates: Iterable[str]) -> str | None:
    """The candidate that `word` was surely meant to be, or None when none or several are close."""
    if len(word) > LONGEST:
        return None
    best: list[tuple[float, str]] = []
    known = sorted(set(candidates))
    exchanged = [candidate for candidate in known if _exchanged(word.lower(), candidate.lower())]
    if len(exchanged) == 1:
        return exchanged[0]
    for candidate in known:
        if candidate == word or len(candidate) > LONGEST:
            continue
        matcher = SequenceMatcher(None, word.lower(), candidate.lower(), autojunk=False)
        if matcher.real_quick_ratio() >= CLOSE and matcher.quick_ratio() >= CLOSE:
            best.append((matcher.ratio(), candidate))
    best.sort(reverse=True)
    if not best or best[0][0] < CLOSE:
        return None
    if len(best) > 1 and best[0][0] - best[1][0] < MARGIN:
        return None
    return best[0][1]


def _exchanged(word: str, candidate: str) -> bool:
    """Whether two neighbouring letters stand the other way round, and nothing else differs."""
    if len(word) != len(candidate):
        return False
    apart = [k for k, (a, b) in enumerate(zip(word, candidate, strict=True)) if a != b]
    first, last = (apart[0], apart[-1]) if apart else (0, 0)
    turned = word[first : last + 1] == candidate[first : last + 1][::-1]
    return last - first == 1 and turned


def did_you_mean(word: str, candidates: Iterable[str]) -> str:
    """A hint, or the empty text."""
    found = suggest(word, candidates)
    return f"did you mean `{found}`?" if found else ""
