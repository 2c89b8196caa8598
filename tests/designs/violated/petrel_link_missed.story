petrel_link_missed: Custom: five compartments onto two manifolds, cross-locked,
  revision D
  tests/designs/violated/petrel_link_missed.ilk

  holds        always "the stop shuts every valve", at rest, 10 cases
  holds        recovers "releasing the stop opens nothing"
  holds        recovers "pushing the master in shuts everything"
  holds        always "loss of air ends shut", at rest, 10 cases
  holds        recovers "air that comes back opens nothing"
  holds        never "discharge with a vent shut", at rest, 50 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 25 cases

  violated     never "two compartments meet", at rest, 10 cases
    for i = 1, j = 4:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1,1] is pulled and goes from in to out.
      1c  The operator: pick[1,4] is pulled and goes from in to out.
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
            air now in: back, next[2,1], next[2,2], next[2,3], next[2,4],
              load[1,1], load[1,4], lift[1], lift[4]
      7a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[5] in to out).
      7b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., either[1] a to out).
      7c  foot[4] goes from shut to open: its pilot has air (line lift[4] is fed
          by tractor through master 1 to 4, ..., either[4] a to out).
      7d  man[1,1] goes from shut to open: its port to open has air (line
          load[1,1] is fed by tractor through master 1 to 4, ..., pick[1,1] 1 to
          4).
      7e  man[1,4] goes from shut to open: its port to open has air (line
          load[1,4] is fed by tractor through master 1 to 4, ..., pick[1,4] 1 to
          4).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, lamp showing, pick[1,1] out,
          pick[1,4] out, foot[1] open, foot[4] open, man[1,1] open, man[1,4]
          open
        with air: air, rise, pass[1], pass[2], pass[3], pass[4], back,
          next[2,1], next[2,2], next[2,3], next[2,4], load[1,1], load[1,4],
          lift[1], lift[4]
      This must never be: tank[1] joined to tank[4] (liquid can pass tank[1] -
      foot[1] - man[1,1] - man[1,4] - foot[4] - tank[4]).
    Also violated for i=1, j=5; i=2, j=4; i=2, j=5; i=3, j=4; i=3, j=5 (--all
      tells how).

  violated     never "two compartments have opening air on one manifold", at
               every moment, 20 cases
    for k = 1, i = 1, j = 4:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1,1] is pulled and goes from in to out.
      1c  The operator: pick[1,4] is pulled and goes from in to out.
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
            air now in: back, next[2,1], next[2,2], next[2,3], next[2,4],
              load[1,1], load[1,4], lift[1], lift[4]
      In the end, still moving:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, pick[1,1] out, pick[1,4] out
        with air: air, rise, pass[1], pass[2], pass[3], pass[4], back,
          next[2,1], next[2,2], next[2,3], next[2,4], load[1,1], load[1,4],
          lift[1], lift[4]
      This must never be: man[1,1].to_open has air and man[1,4].to_open has air
      (load[1,1] has air; load[1,4] has air).
    Also violated for k=1, i=1, j=5; k=1, i=2, j=4; k=1, i=2, j=5; k=1, i=3,
      j=4; k=1, i=3, j=5 (--all tells how).

  holds        never "a manifold valve open that was not selected", at rest, 10
               cases
  holds        never "the indicator shows with a vent shut", at rest, 5 cases

  holds        possible "each compartment can discharge through each manifold",
               at rest, 10 cases
    for k = 1, i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1,1] is pulled and goes from in to out.
      1c  The supply tractor gives air.
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
            air now in: back, next[1,4], next[2,1], next[2,2], next[2,3],
              next[2,4], load[1,1], lift[1]
      7a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[5] in to out).
      7b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., either[1] a to out).
      7c  man[1,1] goes from shut to open: its port to open has air (line
          load[1,1] is fed by tractor through master 1 to 4, ..., pick[1,1] 1 to
          4).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, lamp showing, pick[1,1] out, foot[1]
          open, man[1,1] open
        with air: air, rise, pass[1], pass[2], pass[3], pass[4], back,
          next[1,4], next[2,1], next[2,2], next[2,3], next[2,4], load[1,1],
          lift[1]
      Now flow from tank[1] to header[1] (liquid can pass tank[1] - foot[1] -
      man[1,1] - header[1]).
    Also possible for k=1, i=2; k=1, i=3; k=1, i=4; k=1, i=5; k=2, i=1; k=2,
      i=2; k=2, i=3; k=2, i=4 and 1 more (--all tells how).

  holds        possible "two compartments discharge, each through its own
               manifold", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1,2] is pulled and goes from in to out.
      1c  The operator: pick[1,4] is pulled and goes from in to out.
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
      6a  The operator: pick[2,4] is pulled and goes from in to out.
      6b  vent[5] goes from shut to open: its port in has air (line pass[4] is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
            air now in: back, next[1,1], next[2,1], next[2,2], next[2,3],
              load[1,2], load[1,4], load[2,4], lift[2], lift[4]
      7a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[5] in to out).
      7b  foot[2] goes from shut to open: its pilot has air (line lift[2] is fed
          by tractor through master 1 to 4, ..., either[2] a to out).
      7c  foot[4] goes from shut to open: its pilot has air (line lift[4] is fed
          by tractor through master 1 to 4, ..., either[4] a to out).
      7d  man[1,2] goes from shut to open: its port to open has air (line
          load[1,2] is fed by tractor through master 1 to 4, ..., pick[1,2] 1 to
          4).
      7e  man[1,4] goes from shut to open: its port to open has air (line
          load[1,4] is fed by tractor through master 1 to 4, ..., pick[1,4] 1 to
          4).
      7f  man[2,4] goes from shut to open: its port to open has air (line
          load[2,4] is fed by tractor through master 1 to 4, ..., pick[2,4] 1 to
          4).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, vent[5] open, lamp showing, pick[1,2] out,
          pick[1,4] out, pick[2,4] out, foot[2] open, foot[4] open, man[1,2]
          open, man[1,4] open, man[2,4] open
        with air: air, rise, pass[1], pass[2], pass[3], pass[4], back,
          next[1,1], next[2,1], next[2,2], next[2,3], load[1,2], load[1,4],
          load[2,4], lift[2], lift[4]
      Now flow from tank[2] to header[1] and flow from tank[4] to header[2]
      (liquid can pass tank[2] - foot[2] - man[1,2] - header[1]; liquid can pass
      tank[4] - foot[4] - man[2,4] - header[2]).

  holds        no contest
  holds        comes to rest

  delay dependent  no race, 5 cases
      Proved: but for where either[1], either[2], either[3], either[4] and
      either[5] stop, everything ends the same way in any order.
    for either[1]:
      What decides is the order: master first, or either[1] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The operator: pick[2,1] is pulled and goes from in to out.
      1d  The supply tractor gives air.
            air now in: air, trip, rise
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
            air now in: back, next[1,1], next[1,2], next[1,4], load[2,1]
       7  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[5] in to out).
      From step 1 on hands and surroundings stand still. Here two ways go on:
      Master first:                       | Either[1] first:
       8  master goes from out to in: its |   8  either[1] goes from passes a
          pilot 12 has air (line trip is  |      to passes b: its port b has
          fed by tractor through stop 1   |      air (line load[2,1] is fed by
          to 2).                          |      tractor through master 1 to 4,
            air now in: home              |      ..., pick[2,1] 1 to 4) and its
            no more air in: rise,         |      port a has no air (line
              pass[1], pass[2], pass[3],  |      load[1,1] exhausts through
              pass[4], back, next[1,1],   |      pick[1,1] 4 to 5).
              next[1,2], next[1,4],       |        air now in: lift[1]
              load[2,1]                   |  9a  master goes from out to in: as
      9a  vent[1] goes from open to shut: |      on the other way.
          its spring brings it back,      |  9b  foot[1] goes from shut to
          since its port in has no air    |      open: its pilot has air (line
          (line rise exhausts through     |      lift[1] is fed by tractor
          master 4 to 5).                 |      through master 1 to 4, ...,
      9b  vent[2] goes from open to shut: |      either[1] b to out).
          its spring brings it back,      |  9c  man[2,1] goes from shut to
          since its port in has no air    |      open: its port to open has air
          (line pass[1] exhausts through  |      (line load[2,1] is fed by
          vent[1] out to in, master 4 to  |      tractor through master 1 to 4,
          5).                             |      ..., pick[2,1] 1 to 4).
      9c  vent[3] goes from open to shut: |        air now in: home
          its spring brings it back,      |        no more air in: rise,
          since its port in has no air    |          pass[1], pass[2], pass[3],
          (line pass[2] exhausts through  |          pass[4], back, next[1,1],
          vent[2] out to in, ..., master  |          next[1,2], next[1,4],
          4 to 5).                        |          load[2,1], lift[1]
      9d  vent[4] goes from open to shut: | 10a  vent[1] goes from open to
          its spring brings it back,      |      shut: as on the other way.
          since its port in has no air    | 10b  vent[2] goes from open to
          (line pass[3] exhausts through  |      shut: as on the other way.
          vent[3] out to in, ..., master  | 10c  vent[3] goes from open to
          4 to 5).                        |      shut: as on the other way.
      9e  vent[5] goes from open to shut: | 10d  vent[4] goes from open to
          its spring brings it back,      |      shut: as on the other way.
          since its port in has no air    | 10e  vent[5] goes from open to
          (line pass[4] exhausts through  |      shut: as on the other way.
          vent[4] out to in, ..., master  | 10f  lamp goes from showing to
          4 to 5).                        |      hidden: as on the other way.
      9f  lamp goes from showing to       | 10g  pick[2,1] goes from out to in:
          hidden: its spring brings it    |      as on the other way.
          back, since its port in has no  | 10h  foot[1] goes from open to
          air (line back exhausts through |      shut: its spring brings it
          vent[5] out to in, ..., master  |      back, since its pilot has no
          4 to 5).                        |      air (line lift[1] exhausts
      9g  pick[2,1] goes from out to in:  |      through either[1] out to b,
          its pilot 12 has air (line home |      ..., master 4 to 5).
          is fed by tractor through       | 10i  man[2,1] goes from open to
          master 1 to 2).                 |      shut: its spring brings it
                                          |      back, since its port hold shut
                                          |      has no air (port
                                          |      man[2,1].hold_shut is open to
                                          |      the air) and its port to open
                                          |      has no air (line load[2,1]
                                          |      exhausts through pick[2,1] 4
                                          |      to 1, ..., master 4 to 5).
                                          | In the end, only here:
                                          |   moved: either[1] passes b
      Master first: either[1] ends passes a. Either[1] first: either[1] ends
      passes b.
      Either way in the end, at rest:
        moved: tractor present, stop pressed
        with air: air, trip, home
    Also delay dependent for either[2]; either[3]; either[4]; either[5] (--all
      tells how).

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

petrel_link_missed: 16 properties, 2 violated, 1 delay dependent, 13 hold.
