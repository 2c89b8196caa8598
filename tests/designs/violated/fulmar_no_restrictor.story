fulmar_no_restrictor: Three-compartment trailer, stopped by exhausting a trip
  line, revision A
  tests/designs/violated/fulmar_no_restrictor.ilk

  holds        always "each stop shuts every valve", at rest, 6 cases

  violated     always "a fire shuts every valve", at rest, 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor is weak.
            in-between pressure in: air, between, trip, bank, lift[1]
      2a  The surroundings: fuse.heat is fire.
      2b  spindle[1] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      2c  seated[2] goes from released to pressed: spindle[2] stands down.
      2d  seated[3] goes from released to pressed: spindle[3] stands down.
      3a  fuse goes from whole to melted: fuse.heat is fire.
      3b  spindle[1] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      In the end, at rest:
        moved: tractor weak, fuse.heat fire, fuse melted, master out, pick[1]
          out, spindle[1] up, seated[2] pressed, seated[3] pressed
        at an in-between pressure: air, between, trip, bank, lift[1]
      This must always be and is not: if fuse melted then spindle[1] shut (fuse
      stands melted; spindle[1] stands up).
    Also violated for i=2; i=3 (--all tells how).

  holds        recovers "releasing the stops opens nothing", 6 cases
  holds        recovers "pushing the master in shuts everything", 3 cases

  violated     recovers "pushing the master in brings every selector home", 3
               cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: pick[1] is pulled and goes from in to out.
      1b  The surroundings: fuse.heat is fire.
      2a  The supply tractor gives air.
      2b  fuse goes from whole to melted: fuse.heat is fire.
      2c  seated[1] goes from released to pressed: spindle[1] stands down.
      2d  seated[2] goes from released to pressed: spindle[2] stands down.
      2e  seated[3] goes from released to pressed: spindle[3] stands down.
            in-between pressure in: air, between, trip, home, down[1], down[2],
              all_down
      In the end, at rest:
        moved: tractor present, fuse.heat fire, fuse melted, pick[1] out,
          seated[1] pressed, seated[2] pressed, seated[3] pressed
        at an in-between pressure: air, between, trip, home, down[1], down[2],
          all_down
      The procedure is over (tractor is present, master pushed), everything is
      at rest, and this is not so: pick[1] is in (pick[1] stands out).
    Also violated for i=2; i=3 (--all tells how).

  holds        always "loss of air ends shut", at rest, 3 cases
  holds        recovers "air that comes back opens nothing", 3 cases
  holds        never "discharge with its vent shut", at every moment, 3 cases
  holds        order "vent before flow, vent until flow ends", at every moment,
               3 cases
  holds        never "a valve up that was not selected", at rest, 3 cases
  holds        never "two compartments joined", at every moment, 3 cases
  holds        never "all valves down is shown while one is up", at rest, 3
               cases

  violated     always "all valves down is shown when they are", at rest
      The shortest way there, from the start (what shares a number happens at
      once):
       1  The surroundings: fuse.heat is fire.
      2a  The supply tractor gives air.
      2b  fuse goes from whole to melted: fuse.heat is fire.
      2c  seated[1] goes from released to pressed: spindle[1] stands down.
      2d  seated[2] goes from released to pressed: spindle[2] stands down.
      2e  seated[3] goes from released to pressed: spindle[3] stands down.
            in-between pressure in: air, between, trip, home, down[1], down[2],
              all_down
      In the end, at rest:
        moved: tractor present, fuse.heat fire, fuse melted, seated[1] pressed,
          seated[2] pressed, seated[3] pressed
        at an in-between pressure: air, between, trip, home, down[1], down[2],
          all_down
      This must always be and is not: if tractor is present and (for every i in
      1..3: spindle[i] shut) then safe showing (tractor is present; spindle[1]
      stands down; spindle[2] stands down; spindle[3] stands down; safe stands
      hidden).

  holds        possible "each compartment can discharge", at rest, 3 cases
    for i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor is weak.
            in-between pressure in: air, between, trip, bank, lift[1]
      2a  spindle[1] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      2b  seated[2] goes from released to pressed: spindle[2] stands down.
      2c  seated[3] goes from released to pressed: spindle[3] stands down.
       3  spindle[1] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      In the end, at rest:
        moved: tractor weak, master out, pick[1] out, spindle[1] up, seated[2]
          pressed, seated[3] pressed
        at an in-between pressure: air, between, trip, bank, lift[1]
      Now flow from tank[1] to coupling[1] (liquid can pass tank[1] - spindle[1]
      - coupling[1]).
    Also possible for i=2; i=3 (--all tells how).

  holds        possible "all three can discharge at once", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: pick[2] is pulled and goes from in to out.
      1d  The operator: pick[3] is pulled and goes from in to out.
      1e  The supply tractor is weak.
            in-between pressure in: air, between, trip, bank, lift[1], lift[2],
              lift[3]
      2a  spindle[1] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      2b  spindle[2] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[2] is fed by tractor, which is weak,
          through master 1 to 4, pick[2] 1 to 2).
      2c  spindle[3] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[3] is fed by tractor, which is weak,
          through master 1 to 4, pick[3] 1 to 2).
      3a  spindle[1] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      3b  spindle[2] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[2] is fed by tractor, which is weak,
          through master 1 to 4, pick[2] 1 to 2).
      3c  spindle[3] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[3] is fed by tractor, which is weak,
          through master 1 to 4, pick[3] 1 to 2).
      In the end, at rest:
        moved: tractor weak, master out, pick[1] out, pick[2] out, pick[3] out,
          spindle[1] up, spindle[2] up, spindle[3] up
        at an in-between pressure: air, between, trip, bank, lift[1], lift[2],
          lift[3]
      Now for every i in 1..3: flow from tank[i] to coupling[i] (liquid can pass
      tank[1] - spindle[1] - coupling[1]; liquid can pass tank[2] - spindle[2] -
      coupling[2]; liquid can pass tank[3] - spindle[3] - coupling[3]).

  violated     no contest
      The shortest way there, from the start (what shares a number happens at
      once):
       1  The surroundings: fuse.heat is fire.
      2a  The supply tractor gives air.
      2b  fuse goes from whole to melted: fuse.heat is fire.
            in-between pressure in: air, between, trip, home
      In the end, still moving:
        moved: tractor present, fuse.heat fire, fuse melted
        at an in-between pressure: air, between, trip, home
      Supply and exhaust fight in lines air, between, trip, home.

  holds        comes to rest

  delay dependent  no race, 12 cases
    for pick[1]:
      What decides is the order: fuse first, or pick[1] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: pick[1] is pulled and goes from in to out.
      1b  The supply tractor gives air.
      1c  The surroundings: fuse.heat is fire.
      1d  seated[1] goes from released to pressed: spindle[1] stands down.
      1e  seated[2] goes from released to pressed: spindle[2] stands down.
      1f  seated[3] goes from released to pressed: spindle[3] stands down.
            air now in: air, between, trip, home, down[1], down[2], all_down
      From here hands and surroundings stand still. Two ways go on:
      Fuse first:                         | Pick[1] first:
      2  fuse goes from whole to melted:  |  2  pick[1] goes from out to in:
         fuse.heat is fire.               |     its pilot 10 has air (line home
           in-between pressure in: air,   |     is fed by tractor through
             between, trip, home,         |     master 1 to 2).
             down[1], down[2], all_down   | 3a  fuse goes from whole to melted:
      In the end, only here:              |     as on the other way.
        moved: pick[1] out                | 3b  safe goes from hidden to
                                          |     showing: its port in has air
                                          |     (line all_down is fed by
                                          |     tractor through seated[1] 1 to
                                          |     2, ..., seated[3] 1 to 2).
                                          |       in-between pressure in: air,
                                          |         between, trip, home,
                                          |         down[1], down[2], all_down
                                          | In the end, only here:
                                          |   moved: safe showing
      Fuse first: pick[1] ends out and safe ends hidden. Pick[1] first: pick[1]
      ends in and safe ends showing.
      Either way in the end, at rest:
        moved: tractor present, fuse.heat fire, fuse melted, seated[1] pressed,
          seated[2] pressed, seated[3] pressed
        at an in-between pressure: air, between, trip, home, down[1], down[2],
          all_down
    Also delay dependent for pick[2]; pick[3]; spindle[1]; spindle[2];
      spindle[3]; seated[1]; seated[2]; seated[3] and 3 more (--all tells how).

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

fulmar_no_restrictor: 18 properties, 4 violated, 1 delay dependent, 13 hold.
