"""Many trailers at once, side by side in the bits of large numbers.

Each lane is one trailer with its own faults. A lane holds a *box*: of each thing the set of places
where it may stand; and it has one bit for each way in which all of them can stand together. So what
is true of a lane's states is a number, and one operation on numbers is done for all lanes at once.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

MOST_WAYS = 1 << 10
_SET = re.compile(b"[^\x00]")

Box = tuple[int, ...]
"""Of each thing a bit for each place; 0: it is not kept, as it follows from the others."""


class Lane(Struct, frozen=True):
    """faults: names of those that act throughout.   free: things (numbers) that somebody may have
    put anywhere at any time, without saying so."""

    faults: tuple[str, ...]
    free: tuple[int, ...] = ()


class _Kind(Struct, frozen=True):
    """Lanes with equal boxes, next to each other."""

    box: Box
    count: int
    offset: int
    width: int
    ways: int


class Layout:
    """lanes: which of the trailers (by number) has which box.

    noted: what others have found out of it, by their own numbers.
    every: all ways of all lanes.   place(t, p): those in which thing t stands at p.
    """

    def __init__(self, boxes: Mapping[int, Box]) -> None:
        by_box: dict[Box, list[int]] = {}
        for lane, box in boxes.items():
            by_box.setdefault(box, []).append(lane)
        self._kinds: list[_Kind] = []
        self._at: dict[int, tuple[int, int]] = {}
        self._members = list(by_box.values())
        offset = 0
        for box, lanes in by_box.items():
            ways = ways_of(box)
            width = (ways + 7) // 8 * 8
            self._kinds.append(_Kind(box, len(lanes), offset, width, ways))
            for k, lane in enumerate(lanes):
                self._at[lane] = (offset + k * width, ways)
            offset += width * len(lanes)
        self.size = offset // 8
        self._ones = [_repeated((1 << kind.ways) - 1, kind) for kind in self._kinds]
        self.every = _any(self._ones)
        self._places: dict[tuple[int, int], int] = {}
        self.noted: dict[int, int] = {}
        self._having: dict[tuple[int, int], int] = {}
        self._keeping: dict[int, int] = {}

    def has(self, number: int) -> bool:
        return number in self._at

    def lane(self, number: int) -> int:
        """All ways of one lane."""
        offset, ways = self._at[number]
        return ((1 << ways) - 1) << offset

    def place(self, thing: int, position: int) -> int:
        key = thing, position
        if key not in self._places:
            found = 0
            for kind, ones in zip(self._kinds, self._ones, strict=True):
                mask = kind.box[thing]
                if mask == 1 << position:
                    found |= ones
                elif mask >> position & 1:
                    found |= _repeated(_pattern(kind.box, thing, position), kind)
            self._places[key] = found
        return self._places[key]

    def having(self, thing: int, position: int) -> int:
        """Lanes in whose box the thing may stand there."""
        key = thing, position
        if key not in self._having:
            self._having[key] = _any(
                ones
                for kind, ones in zip(self._kinds, self._ones, strict=True)
                if kind.box[thing] >> position & 1
            )
        return self._having[key]

    def kept(self, thing: int) -> int:
        """Lanes that keep where the thing stands."""
        if thing not in self._keeping:
            self._keeping[thing] = _any(
                ones for kind, ones in zip(self._kinds, self._ones, strict=True) if kind.box[thing]
            )
        return self._keeping[thing]

    def lanes_in(self, word: int) -> list[int]:
        """The lanes of which some way is in the number, each once."""
        if not word:
            return []
        data = word.to_bytes(self.size, "little")
        found: list[int] = []
        for kind, lanes in zip(self._kinds, self._members, strict=True):
            width, begin = kind.width // 8, kind.offset // 8
            part = data[begin : begin + width * kind.count]
            if part.count(0) == len(part):
                continue
            if width == 1:
                found += [lanes[one.start()] for one in _SET.finditer(part)]
            else:
                none = bytes(width)
                found += [
                    lane
                    for k, lane in enumerate(lanes)
                    if part[k * width : (k + 1) * width] != none
                ]
        return found

    def lanes(self, numbers: Iterable[int]) -> int:
        """All ways of these lanes."""
        found = bytearray(self.size)
        for number in numbers:
            offset, ways = self._at[number]
            width = (ways + 7) // 8
            found[offset // 8 : offset // 8 + width] = ((1 << ways) - 1).to_bytes(width, "little")
        return int.from_bytes(found, "little")


def ways_of(box: Box) -> int:
    ways = 1
    for mask in box:
        if mask & (mask - 1):
            ways *= mask.bit_count()
    return ways


def places(mask: int) -> Iterator[int]:
    """The positions in a mask."""
    position = 0
    while mask:
        if mask & 1:
            yield position
        mask >>= 1
        position += 1


def _any(words: Iterable[int]) -> int:
    found = 0
    for word in words:
        found |= word
    return found


def _repeated(pattern: int, kind: _Kind) -> int:
    """The pattern in each lane of the kind."""
    found, count = pattern, 1
    while count < kind.count:
        more = min(count, kind.count - count)
        found |= (found & ((1 << more * kind.width) - 1)) << count * kind.width
        count += more
    return found << kind.offset


def _pattern(box: Sequence[int], thing: int, position: int) -> int:
    """The ways (mixed numbers, the first moving thing counting fastest) with the thing there."""
    block = 1
    for mask in box[:thing]:
        if mask & (mask - 1):
            block *= mask.bit_count()
    rank = (box[thing] & ((1 << position) - 1)).bit_count()
    ones = ((1 << block) - 1) << rank * block
    length, total = block * box[thing].bit_count(), ways_of(tuple(box))
    while length < total:
        ones |= ones << length
        length *= 2
    return ones & ((1 << total) - 1)
