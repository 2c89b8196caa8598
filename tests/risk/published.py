"""Fault trees that were published, typed again, with what was published of them.

Where nothing else is said, trees and values are those of the public sets of fault-tree benchmarks,
derived again independently (own expansion of the trees, Shannon expansion of the sets).
"""

from __future__ import annotations

import re
from fractions import Fraction

from msgspec import Struct

from tests.risk.trees import Tree, tree

Q = Fraction


class Published(Struct):
    """sizes: number of minimal cut sets by their size.   values as published, rounded as
    there; None where none was."""

    name: str
    gates: Tree
    probability: dict[str, Fraction | float]
    sizes: dict[int, int]
    exact: str | None = None
    rare: str | None = None
    bound: str | None = None
    sets: tuple[str, ...] = ()


THEATRE = Published(
    "theatre",
    tree("top = M & (G | R)"),
    {"M": Q(3, 100), "G": Q(2, 100), "R": Q(5, 100)},
    {2: 2},
    exact="0.00207",
    rare="0.00210",
    bound="0.0020991",
    sets=("M G", "M R"),
)

TWO_TRAIN = Published(
    "two train",
    tree("top = (V1 | P1) & (V2 | P2)"),
    {"V1": Q(1, 2), "V2": Q(1, 2), "P1": Q(7, 10), "P2": Q(7, 10)},
    {2: 4},
    exact="0.7225",
    rare="1.44",
    bound="0.838394",
    sets=("V1 V2", "V1 P2", "P1 V2", "P1 P2"),
)

NE574 = Published(
    "NE574",
    tree("top = ((F | G) | B | C) & (C | D | (H & I))"),
    {
        "B": Q(1, 10),
        "C": Q(3, 10),
        "D": Q(5, 10),
        "F": Q(7, 10),
        "G": Q(2, 10),
        "H": Q(4, 10),
        "I": Q(8, 10),
    },
    {1: 1, 2: 3, 3: 3},
    exact="0.662208",
    rare="1.12",
    sets=("C", "D F", "D G", "D B", "H I F", "H I G", "H I B"),
)

_TIMERS = "top = K5 | (T2 & (K1 | S1 | T1i | ((KT1i | T2i) & (KT2i | T3i) & (KT3i | T4i))))"

THREE_MOTOR = Published(
    "three motor",
    tree(_TIMERS),
    dict.fromkeys(re.findall(r"[A-Z]\w*", _TIMERS), Q(2, 100)),
    {1: 1, 2: 3, 4: 8},
    exact="0.021153782",
    rare="0.02120128",
    sets=(
        "K5",
        "K1 T2",
        "S1 T2",
        "T1i T2",
        *(
            f"T2 {a} {b} {c}"
            for a in ("KT1i", "T2i")
            for b in ("KT2i", "T3i")
            for c in ("KT3i", "T4i")
        ),
    ),
)

CHINESE = Published(
    "Chinese",
    tree(
        """
        r1 = g1 & g2
        g1 = e1 | e2 | e3 | g3
        g2 = g5 & g4
        g3 = g7 & g6
        g4 = e5 | e7 | e4 | e6 | g8
        g5 = e8 | g9
        g6 = e10 | e9 | e11 | g10
        g7 = e12 | e13
        g8 = g11 & g12
        g9 = g13 & g14
        g10 = g16 & g15
        g11 = e14 | e15 | e16 | g17
        g12 = g18 & g19
        g13 = e1 | e2 | e3 | g20
        g14 = e5 | e7 | e4 | e6 | g21
        g15 = e18 | e17
        g16 = e20 | e19 | e21
        g17 = g22 & g23
        g18 = e22 | e23
        g19 = e24 | e25
        g20 = g24 & g25
        g21 = g26 & g27
        g22 = e18 | e17 | e21
        g23 = e20 | e19
        g24 = e14 | e15 | e16 | g28
        g25 = g29 & g30
        g26 = e10 | e9 | e11 | g31
        g27 = e12 | e13
        g28 = g32 & g33
        g29 = e22 | e23
        g30 = e24 | e25
        g31 = g34 & g35
        g32 = e18 | e17 | e21
        g33 = e20 | e19
        g34 = e20 | e19 | e21
        g35 = e18 | e17
        """
    ),
    {f"e{k}": Q(2, 100) for k in range(1, 26)},
    {2: 12, 4: 24, 5: 188, 6: 168},
    exact="0.0045693",
    rare="0.0048044",
)

# Only the numbers of sets: what was published of its probability rests on rates not given there.
BAOBAB_1 = Published(
    "Baobab 1",
    tree(
        """
        r1 = g1 & g3 & g2
        g1 = e1 | g5 | g4 | g37
        g2 = g25 | g26 | g27
        g3 = e1 | g5 | g4 | g6
        g4 = 3 of (g61, g63, g60, g62)
        g5 = 3 of (g57, g59, g56, g58)
        g6 = g9 & g10 & g7 & g8
        g7 = e5 | g22 | g24 | g23 | g17
        g8 = e4 | g19 | g21 | g20 | g13
        g9 = e3 | g15 | g18 | g16 | g17
        g10 = e2 | g11 | g14 | g12 | g13
        g11 = e58 & e53
        g12 = e53 & e54
        g13 = e15 | g46
        g14 = e10 | g11 | g32
        g15 = e53 & e59
        g16 = e56 & e53
        g17 = e16 | g47
        g18 = e11 | g15 | g33
        g19 = e53 & e60
        g20 = e55 & e53
        g21 = e12 | g19 | g32
        g22 = e61 & e53
        g23 = e53 & e57
        g24 = e13 | g22 | g33
        g25 = 3 of (g82, g83, g80, g81)
        g26 = e14 | g45 | g44
        g27 = 3 of (g29, g28, g31, g30)
        g28 = e9 | g22 | g24
        g29 = e8 | g19 | g21
        g30 = e7 | g15 | g18
        g31 = e6 | g11 | g14
        g32 = g35 & g34
        g33 = g35 & g36
        g34 = g49 & g48
        g35 = g43 | g42
        g36 = g51 & g50
        g37 = 2 of (g39, g41, g38, g40)
        g38 = e5 | g17 | g23
        g39 = e3 | g17 | g16
        g40 = e4 | g13 | g20
        g41 = e2 | g13 | g12
        g42 = 3 of (g69, g71, g68, g70)
        g43 = 3 of (g65, g67, g64, g66)
        g44 = 3 of (g77, g79, g76, g78)
        g45 = 3 of (g73, g75, g72, g74)
        g46 = g53 & g52
        g47 = g55 & g54
        g48 = e19 | g20
        g49 = e17 | g12
        g50 = e20 | g23
        g51 = e18 | g16
        g52 = e31 | g20
        g53 = e29 | g12
        g54 = e32 | g23
        g55 = e30 | g16
        g56 = e24 | g23
        g57 = e23 | g20
        g58 = e22 | g16
        g59 = e21 | g12
        g60 = e28 | g23
        g61 = e27 | g20
        g62 = e26 | g16
        g63 = e25 | g12
        g64 = e36 | g22
        g65 = e35 | g19
        g66 = e34 | g15
        g67 = e33 | g11
        g68 = e40 | g22
        g69 = e39 | g19
        g70 = e38 | g15
        g71 = e37 | g11
        g72 = e44 | g22
        g73 = e43 | g19
        g74 = e42 | g15
        g75 = e41 | g11
        g76 = e48 | g22
        g77 = e47 | g19
        g78 = e46 | g15
        g79 = e45 | g11
        g80 = e52 | g22
        g81 = e51 | g19
        g82 = e50 | g15
        g83 = e49 | g11
        """
    ),
    {f"e{k}": Q(1, 100) for k in range(1, 62)},
    {2: 1, 3: 1, 4: 70, 5: 400, 6: 2212, 7: 14748, 8: 8460, 9: 10624, 10: 6600, 11: 3072},
)

# NUREG-0492 (1981), chapters VIII to XI; its probabilities from memory.
PRESSURE_TANK = Published(
    "pressure tank",
    tree("top = T | K2 | (S & (S1 | K1 | R))"),
    {
        "T": Q(5, 10**6),
        "K2": Q(3, 10**5),
        "S": Q(1, 10**4),
        "S1": Q(3, 10**5),
        "K1": Q(3, 10**5),
        "R": Q(1, 10**4),
    },
    {1: 2, 2: 3},
    exact="3.5015849e-5",
    rare="3.5016e-5",
    sets=("T", "K2", "S S1", "S K1", "S R"),
)

# Textbook structures; values derived for this project.
TWO_OF_THREE = Published(
    "two of three",
    tree("top = 2 of (A, B, C)"),
    dict.fromkeys("ABC", Q(1, 10)),
    {2: 3},
    exact="0.028",
    rare="0.03",
    sets=("A B", "A C", "B C"),
)

BRIDGE = Published(
    "bridge",
    tree("top = (A & B) | (C & D) | (A & D & E) | (B & C & E)"),
    dict.fromkeys("ABCDE", Q(1, 10)),
    {2: 2, 3: 2},
    exact="0.02152",
    rare="0.022",
    bound="0.0218592",
    sets=("A B", "C D", "A D E", "B C E"),
)

ALL = (
    THEATRE,
    TWO_TRAIN,
    NE574,
    THREE_MOTOR,
    CHINESE,
    PRESSURE_TANK,
    TWO_OF_THREE,
    BRIDGE,
)
