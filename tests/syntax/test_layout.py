"""The canonical layout itself, on a source that has a bit of everything."""

from __future__ import annotations

import pytest

from verifier.diagnostics.limits import Limits
from verifier.syntax.layout import layout
from verifier.syntax.parse import parse

WRITTEN = """

# heading
design x   "t"   # trailing


# apart
part a:k role r "short"
part vent[i in 1..3]:sequence_vent(n=2,len=3 m) worked by a is in and at rest   # why
line a : b.1, # first
   # between
   c.2,   # second
   d.3 "doc" # end
line bb : c
kind k # header
 "doc"
  # before ports
  ports 1,2 # p

  surroundings coil:off,on
  element e : a,b starts b # el
    in a passes 1-2, restricted liquid 2>1
    to b when (high(1) or # q
     low(2)) and not (e is a)
    otherwise stays
  fault stuck "does not switch" : e stays , passes 1-2 comes and goes source "common practice"
end # after end
never "x" : # nm
   if (if a is b then c is d) then (every i in 1..3, j<k where i+1<j and (i-1)*2<>3 : high(x[i]))
   for any i, j in 1..(2-1)
   "doc"
tube lift[1] at foot[1].pilot : label "red", bore 5/2 mm
recovers "shuts": after pressed(stop), not pressed(stop) then (((shut(foot[i])))) for every i
assume "one hand" because "one driver" : never pushed(a) and pushed(b)
# last
"""

LAID_OUT = """# heading
design x "t"  # trailing

# apart
part a               : k role r "short"
part vent[i in 1..3] : sequence_vent(n = 2, len = 3 m) worked by a is in and at rest  # why
line a : b.1,  # first
    # between
    c.2,  # second
    d.3 "doc"  # end
line bb : c

kind k "doc"  # header
  # before ports
  ports 1, 2  # p

  surroundings coil: off, on
  element e: a, b starts b  # el
    in a passes 1-2, restricted liquid 2>1
    to b when (high(1)
             or  # q
             low(2))
          and not e is a
    otherwise stays
  fault stuck "does not switch":
    e stays, passes 1-2 comes and goes
    source "common practice"
end  # after end

never "x":  # nm
    if (if a is b then c is d)
    then every i in 1..3, j < k where i + 1 < j and (i - 1) * 2 <> 3: high(x[i])
    for any i, j in 1..2 - 1 "doc"
tube lift[1] at foot[1].pilot : bore 5/2 mm, label "red"
recovers "shuts":
    after pressed(stop), not pressed(stop) then shut(foot[i])
    for every i
assume "one hand" because "one driver":
    never pushed(a) and pushed(b)
# last
"""


def test_a_bit_of_everything() -> None:
    laid_out = layout(parse(WRITTEN, "d", Limits()))
    assert laid_out == LAID_OUT
    assert layout(parse(laid_out, "d", Limits())) == laid_out


@pytest.mark.parametrize(
    ("written", "laid_out"),
    [
        ("", ""),
        ("\n\n", ""),
        ("# only a comment", "# only a comment\n"),
        ("#", "#\n"),
        ("use a use b # two on a line", "use a\nuse b  # two on a line\n"),
        ("line a:b\nline ccc:d\n\nline e:f", "line a   : b\nline ccc : d\n\nline e : f\n"),
        ("line a:b\n# x\nline ccc:d", "line a : b\n# x\nline ccc : d\n"),
        ("part a:k\nline ccc:d", "part a : k\nline ccc : d\n"),
        ('revision "a \\"b\\" \\\\c"', 'revision "a \\"b\\" \\\\c"\n'),
        ("kind k end", "kind k\nend\n"),
        ("use a\nkind k end\nuse b", "use a\n\nkind k\nend\n\nuse b\n"),
        ("use a\n# about k\nkind k end", "use a\n# about k\nkind k\nend\n"),
    ],
)
def test_small_cases(written: str, laid_out: str) -> None:
    assert layout(parse(written, "d", Limits())) == laid_out


def test_lines_break_between_ends_and_conditions_before_their_words() -> None:
    ends = ", ".join(f"foot[{i}].pilot" for i in range(1, 10))
    line = layout(parse(f"line lift : {ends}", "d", Limits())).split("\n")
    assert [text.strip()[-1] for text in line[:-2]] == [","]
    assert line[1].startswith("    foot[")
    open_all = " and ".join(f"open(vent[{i}])" for i in range(1, 8))
    text = layout(parse(f'never "a": if {open_all} then shut(foot[1])', "d", Limits()))
    assert [line[:8] for line in text.split("\n")[1:]] == [
        "    if o",
        *["      an"] * 6,
        "    then",
        "",
    ]
    assert max(map(len, text.split("\n"))) <= 100
