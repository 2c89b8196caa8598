shearwater_points_abreast: Eight compartments on three manifolds, built from
  assemblies, revision A
  tests/designs/violated/shearwater_points_abreast.ilk

  holds        always "each stop shuts every valve", at rest, 16 cases
  holds        recovers "releasing the stops opens nothing", 2 cases
  holds        recovers "pushing the master in shuts everything"
  holds        always "loss of air ends shut", at rest, 8 cases
  holds        recovers "air that comes back opens nothing"
  holds        never "discharge with a vent shut", at rest, 192 cases
  holds        never "air on the foot valves before every vent is open", at
               every moment, 64 cases

  violated     never "two compartments meet", at rest, 28 cases
    for i = 1, j = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
       1a  The operator: master is pulled and goes from in to out.
       1b  The operator: leg[3].point[1].pick is pulled and goes from in to out.
       1c  The operator: leg[3].point[2].pick is pulled and goes from in to out.
       1d  The supply tractor gives air.
             air now in: air, rise
        2  vent[1] goes from shut to open: its port in has air (line rise is fed
           by tractor through master 1 to 4).
             air now in: pass[1]
        3  vent[2] goes from shut to open: its port in has air (line pass[1] is
           fed by tractor through master 1 to 4, vent[1] in to out).
             air now in: pass[2]
        4  vent[3] goes from shut to open: its port in has air (line pass[2] is
           fed by tractor through master 1 to 4, ..., vent[2] in to out).
             air now in: pass[3]
        5  vent[4] goes from shut to open: its port in has air (line pass[3] is
           fed by tractor through master 1 to 4, ..., vent[3] in to out).
             air now in: pass[4]
        6  vent[5] goes from shut to open: its port in has air (line pass[4] is
           fed by tractor through master 1 to 4, ..., vent[4] in to out).
             air now in: pass[5]
        7  vent[6] goes from shut to open: its port in has air (line pass[5] is
           fed by tractor through master 1 to 4, ..., vent[5] in to out).
             air now in: pass[6]
        8  vent[7] goes from shut to open: its port in has air (line pass[6] is
           fed by tractor through master 1 to 4, ..., vent[6] in to out).
             air now in: pass[7]
        9  vent[8] goes from shut to open: its port in has air (line pass[7] is
           fed by tractor through master 1 to 4, ..., vent[7] in to out).
             air now in: leg[3].load[1], leg[3].load[2], back
      10a  lamp goes from hidden to showing: its port in has air (line back is
           fed by tractor through master 1 to 4, ..., vent[8] in to out).
      10b  foot[1] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10c  foot[2] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10d  foot[3] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10e  foot[4] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10f  foot[5] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10g  foot[6] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10h  foot[7] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10i  foot[8] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10j  leg[3].point[1].man goes from shut to open: its port to open has air
           (line leg[3].load[1] is fed by tractor through master 1 to 4, ...,
           leg[3].point[1].pick 1 to 4).
      10k  leg[3].point[2].man goes from shut to open: its port to open has air
           (line leg[3].load[2] is fed by tractor through master 1 to 4, ...,
           leg[3].point[2].pick 1 to 4).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, vent[6] open, vent[7] open, vent[8]
          open, lamp showing, foot[1] open, foot[2] open, foot[3] open, foot[4]
          open, foot[5] open, foot[6] open, foot[7] open, foot[8] open,
          leg[3].point[1].pick out, leg[3].point[1].man open,
          leg[3].point[2].pick out, leg[3].point[2].man open
        with air: leg[3].load[1], leg[3].load[2], air, rise, pass[1], pass[2],
          pass[3], pass[4], pass[5], pass[6], pass[7], back
      This must never be: tank[1] joined to tank[2] (liquid can pass tank[1] -
      foot[1] - leg[3].point[1].man - leg[3].point[2].man - foot[2] - tank[2]).
    Also violated for i=1, j=3; i=1, j=4; i=1, j=5; i=1, j=6; i=1, j=7; i=1,
      j=8; i=2, j=3; i=2, j=4 and 19 more (--all tells how).

  violated     never "two compartments have opening air on one manifold", at
               every moment, 84 cases
    for k = 1, i = 1, j = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: leg[1].point[1].pick is pulled and goes from in to out.
      1c  The operator: leg[1].point[2].pick is pulled and goes from in to out.
      1d  The supply tractor gives air.
            air now in: air, rise
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: pass[4]
       6  vent[5] goes from shut to open: its port in has air (line pass[4] is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
            air now in: pass[5]
       7  vent[6] goes from shut to open: its port in has air (line pass[5] is
          fed by tractor through master 1 to 4, ..., vent[5] in to out).
            air now in: pass[6]
       8  vent[7] goes from shut to open: its port in has air (line pass[6] is
          fed by tractor through master 1 to 4, ..., vent[6] in to out).
            air now in: pass[7]
       9  vent[8] goes from shut to open: its port in has air (line pass[7] is
          fed by tractor through master 1 to 4, ..., vent[7] in to out).
            air now in: leg[1].load[1], leg[1].load[2], back
      In the end, still moving:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, vent[6] open, vent[7] open, vent[8]
          open, leg[1].point[1].pick out, leg[1].point[2].pick out
        with air: leg[1].load[1], leg[1].load[2], air, rise, pass[1], pass[2],
          pass[3], pass[4], pass[5], pass[6], pass[7], back
      This must never be: leg[1].point[1].man.to_open has air and
      leg[1].point[2].man.to_open has air (leg[1].load[1] has air;
      leg[1].load[2] has air).
    Also violated for k=1, i=1, j=3; k=1, i=1, j=4; k=1, i=1, j=5; k=1, i=1,
      j=6; k=1, i=1, j=7; k=1, i=1, j=8; k=1, i=2, j=3; k=1, i=2, j=4 and 75
      more (--all tells how).

  holds        never "a manifold valve open that was not selected", at rest, 24
               cases
  holds        never "the indicator shows with a vent shut", at rest, 8 cases

  holds        possible "each compartment can discharge through each manifold",
               at rest, 24 cases
    for k = 1, i = 1:
      Procedure, from the start (what shares a number happens at once):
       1a  The operator: master is pulled and goes from in to out.
       1b  The supply tractor gives air.
             air now in: air, rise
        2  vent[1] goes from shut to open: its port in has air (line rise is fed
           by tractor through master 1 to 4).
             air now in: pass[1]
        3  vent[2] goes from shut to open: its port in has air (line pass[1] is
           fed by tractor through master 1 to 4, vent[1] in to out).
             air now in: pass[2]
        4  vent[3] goes from shut to open: its port in has air (line pass[2] is
           fed by tractor through master 1 to 4, ..., vent[2] in to out).
             air now in: pass[3]
        5  vent[4] goes from shut to open: its port in has air (line pass[3] is
           fed by tractor through master 1 to 4, ..., vent[3] in to out).
             air now in: pass[4]
        6  vent[5] goes from shut to open: its port in has air (line pass[4] is
           fed by tractor through master 1 to 4, ..., vent[4] in to out).
             air now in: pass[5]
        7  vent[6] goes from shut to open: its port in has air (line pass[5] is
           fed by tractor through master 1 to 4, ..., vent[5] in to out).
             air now in: pass[6]
       8a  The operator: leg[1].point[1].pick is pulled and goes from in to out.
       8b  vent[7] goes from shut to open: its port in has air (line pass[6] is
           fed by tractor through master 1 to 4, ..., vent[6] in to out).
             air now in: pass[7]
        9  vent[8] goes from shut to open: its port in has air (line pass[7] is
           fed by tractor through master 1 to 4, ..., vent[7] in to out).
             air now in: leg[1].load[1], back
      10a  lamp goes from hidden to showing: its port in has air (line back is
           fed by tractor through master 1 to 4, ..., vent[8] in to out).
      10b  foot[1] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10c  foot[2] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10d  foot[3] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10e  foot[4] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10f  foot[5] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10g  foot[6] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10h  foot[7] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10i  foot[8] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10j  leg[1].point[1].man goes from shut to open: its port to open has air
           (line leg[1].load[1] is fed by tractor through master 1 to 4, ...,
           leg[1].point[1].pick 1 to 4).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, vent[6] open, vent[7] open, vent[8]
          open, lamp showing, foot[1] open, foot[2] open, foot[3] open, foot[4]
          open, foot[5] open, foot[6] open, foot[7] open, foot[8] open,
          leg[1].point[1].pick out, leg[1].point[1].man open
        with air: leg[1].load[1], air, rise, pass[1], pass[2], pass[3], pass[4],
          pass[5], pass[6], pass[7], back
      Now flow from tank[1] to header[1] (liquid can pass tank[1] - foot[1] -
      leg[1].point[1].man - header[1]).
    Also possible for k=1, i=2; k=1, i=3; k=1, i=4; k=1, i=5; k=1, i=6; k=1,
      i=7; k=1, i=8; k=2, i=1 and 15 more (--all tells how).

  holds        possible "three compartments discharge at once, each through its
               own manifold", at rest
      Procedure, from the start (what shares a number happens at once):
       1a  The operator: master is pulled and goes from in to out.
       1b  The supply tractor gives air.
             air now in: air, rise
        2  vent[1] goes from shut to open: its port in has air (line rise is fed
           by tractor through master 1 to 4).
             air now in: pass[1]
        3  vent[2] goes from shut to open: its port in has air (line pass[1] is
           fed by tractor through master 1 to 4, vent[1] in to out).
             air now in: pass[2]
        4  vent[3] goes from shut to open: its port in has air (line pass[2] is
           fed by tractor through master 1 to 4, ..., vent[2] in to out).
             air now in: pass[3]
        5  vent[4] goes from shut to open: its port in has air (line pass[3] is
           fed by tractor through master 1 to 4, ..., vent[3] in to out).
             air now in: pass[4]
        6  vent[5] goes from shut to open: its port in has air (line pass[4] is
           fed by tractor through master 1 to 4, ..., vent[4] in to out).
             air now in: pass[5]
        7  vent[6] goes from shut to open: its port in has air (line pass[5] is
           fed by tractor through master 1 to 4, ..., vent[5] in to out).
             air now in: pass[6]
       8a  The operator: leg[1].point[1].pick is pulled and goes from in to out.
       8b  The operator: leg[2].point[4].pick is pulled and goes from in to out.
       8c  The operator: leg[3].point[8].pick is pulled and goes from in to out.
       8d  vent[7] goes from shut to open: its port in has air (line pass[6] is
           fed by tractor through master 1 to 4, ..., vent[6] in to out).
             air now in: pass[7]
        9  vent[8] goes from shut to open: its port in has air (line pass[7] is
           fed by tractor through master 1 to 4, ..., vent[7] in to out).
             air now in: leg[1].load[1], leg[2].load[4], leg[3].load[8], back
      10a  lamp goes from hidden to showing: its port in has air (line back is
           fed by tractor through master 1 to 4, ..., vent[8] in to out).
      10b  foot[1] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10c  foot[2] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10d  foot[3] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10e  foot[4] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10f  foot[5] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10g  foot[6] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10h  foot[7] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10i  foot[8] goes from shut to open: its pilot has air (line back is fed
           by tractor through master 1 to 4, ..., vent[8] in to out).
      10j  leg[1].point[1].man goes from shut to open: its port to open has air
           (line leg[1].load[1] is fed by tractor through master 1 to 4, ...,
           leg[1].point[1].pick 1 to 4).
      10k  leg[2].point[4].man goes from shut to open: its port to open has air
           (line leg[2].load[4] is fed by tractor through master 1 to 4, ...,
           leg[2].point[4].pick 1 to 4).
      10l  leg[3].point[8].man goes from shut to open: its port to open has air
           (line leg[3].load[8] is fed by tractor through master 1 to 4, ...,
           leg[3].point[8].pick 1 to 4).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, vent[6] open, vent[7] open, vent[8]
          open, lamp showing, foot[1] open, foot[2] open, foot[3] open, foot[4]
          open, foot[5] open, foot[6] open, foot[7] open, foot[8] open,
          leg[1].point[1].pick out, leg[1].point[1].man open,
          leg[2].point[4].pick out, leg[2].point[4].man open,
          leg[3].point[8].pick out, leg[3].point[8].man open
        with air: leg[1].load[1], leg[2].load[4], leg[3].load[8], air, rise,
          pass[1], pass[2], pass[3], pass[4], pass[5], pass[6], pass[7], back
      Now flow from tank[1] to header[1] and flow from tank[4] to header[2] and
      flow from tank[8] to header[3] (liquid can pass tank[1] - foot[1] -
      leg[1].point[1].man - header[1]; liquid can pass tank[4] - foot[4] -
      leg[2].point[4].man - header[2]; liquid can pass tank[8] - foot[8] -
      leg[3].point[8].man - header[3]).

  holds        no contest
  holds        comes to rest
  holds        no race

These verdicts rest on:
  healthy parts: no part fails, no tube bursts or is blocked, and everything is
    piped as the design says
  air or no air: a line has full pressure, none, or something in between that
    each pilot reads either way
  full bore wins: what reaches a line at full bore outdoes what reaches it
    through a restriction
  change at once: an element passes from one position to the next with nothing
    between them; a kind whose middle matters has a middle position
  no memory of a demand: a demand that goes away before the element has moved
    leaves no trace
  no clock: everything may take any time; what a property says at rest counts
    when nothing must move
  steady reading: while nothing else changes, a pilot reads a lasting in-between
    pressure one way (for comes to rest)

Both translations of the circuit into formulas agree.

shearwater_points_abreast: 16 properties, 2 violated, 14 hold.
