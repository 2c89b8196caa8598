fulmar_stops_bypassed: Three-compartment trailer, stopped by exhausting a trip
  line, revision A
  tests/designs/violated/fulmar_stops_bypassed.ilk

  violated     always "each stop shuts every valve", at rest, 6 cases
    for k = 1, i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: station[1] is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The operator: pick[1] is pulled and goes from in to out.
      1d  The supply tractor is weak.
            in-between pressure in: air, guard, bank, lift[1]
      2a  spindle[1] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      2b  seated[2] goes from released to pressed: spindle[2] stands down.
      2c  seated[3] goes from released to pressed: spindle[3] stands down.
       3  spindle[1] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      In the end, at rest:
        moved: tractor weak, station[1] pressed, master out, pick[1] out,
          spindle[1] up, seated[2] pressed, seated[3] pressed
        at an in-between pressure: air, guard, bank, lift[1]
      This must always be and is not: if station[1] pressed then spindle[1] shut
      (station[1] stands pressed; spindle[1] stands up).
    Also violated for k=1, i=2; k=1, i=3; k=2, i=1; k=2, i=2; k=2, i=3 (--all
      tells how).

  holds        always "a fire shuts every valve", at rest, 3 cases

  violated     recovers "releasing the stops opens nothing", 6 cases
    for k = 1, i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: station[1] is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The operator: pick[1] is pulled and goes from in to out.
      1d  The supply tractor is weak.
      1e  seated[1] goes from released to pressed: spindle[1] stands down.
      1f  seated[2] goes from released to pressed: spindle[2] stands down.
      1g  seated[3] goes from released to pressed: spindle[3] stands down.
            in-between pressure in: air, guard, bank, lift[1], down[1], down[2],
              all_down
      Now the procedure begins:
      2a  The operator: station[1] is pulled and goes from pressed to released.
      2b  spindle[1] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
            in-between pressure in: between, trip
      3a  The operator: station[1] is pulled.
      3b  spindle[1] goes from venting to up: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      3c  seated[1] goes from pressed to released: its spring brings it back,
          since spindle[1] stands venting.
            no more air in: down[1], down[2], all_down
      In the end, at rest:
        moved: tractor weak, master out, pick[1] out, spindle[1] up, seated[2]
          pressed, seated[3] pressed
        at an in-between pressure: air, guard, between, trip, bank, lift[1]
      The procedure is over (station[1] pushed, station[1] pulled, station[2]
      pulled), everything is at rest, and this is not so: spindle[1] shut
      (spindle[1] stands up).
    Also violated for k=1, i=2; k=1, i=3; k=2, i=1; k=2, i=2; k=2, i=3 (--all
      tells how).

  holds        recovers "pushing the master in shuts everything", 3 cases
  holds        recovers "pushing the master in brings every selector home", 3
               cases
  holds        always "loss of air ends shut", at rest, 3 cases
  holds        recovers "air that comes back opens nothing", 3 cases
  holds        never "discharge with its vent shut", at every moment, 3 cases
  holds        order "vent before flow, vent until flow ends", at every moment,
               3 cases
  holds        never "a valve up that was not selected", at rest, 3 cases
  holds        never "two compartments joined", at every moment, 3 cases
  holds        never "all valves down is shown while one is up", at rest, 3
               cases
  holds        always "all valves down is shown when they are", at rest

  holds        possible "each compartment can discharge", at rest, 3 cases
    for i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor is weak.
            in-between pressure in: air, guard, between, trip, bank, lift[1]
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
        at an in-between pressure: air, guard, between, trip, bank, lift[1]
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
            in-between pressure in: air, guard, between, trip, bank, lift[1],
              lift[2], lift[3]
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
        at an in-between pressure: air, guard, between, trip, bank, lift[1],
          lift[2], lift[3]
      Now for every i in 1..3: flow from tank[i] to coupling[i] (liquid can pass
      tank[1] - spindle[1] - coupling[1]; liquid can pass tank[2] - spindle[2] -
      coupling[2]; liquid can pass tank[3] - spindle[3] - coupling[3]).

  holds        no contest
  holds        comes to rest

  delay dependent  no race, 13 cases
    for safe:
      What decides is the order: seated[1] first, or safe first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor is weak.
      1d  seated[1] goes from released to pressed: spindle[1] stands down.
      1e  seated[2] goes from released to pressed: spindle[2] stands down.
      1f  seated[3] goes from released to pressed: spindle[3] stands down.
            in-between pressure in: air, guard, between, trip, bank, lift[1],
              down[1], down[2], all_down
      2a  spindle[1] goes from down to venting: its pilot reads as air an
          in-between pressure (line lift[1] is fed by tractor, which is weak,
          through master 1 to 4, pick[1] 1 to 2).
      2b  safe goes from hidden to showing: its port in reads as air an
          in-between pressure (line all_down is fed by tractor, which is weak,
          through seated[1] 1 to 2, ..., seated[3] 1 to 2).
      3a  spindle[1] goes from venting to down: its spring brings it back, since
          its pilot reads as no air an in-between pressure (line lift[1] is fed
          by tractor, which is weak, through master 1 to 4, pick[1] 1 to 2).
      3b  seated[1] goes from pressed to released: its spring brings it back,
          since spindle[1] stands venting.
            no more air in: down[1], down[2], all_down
      From step 1 on hands and surroundings stand still. Here two ways go on:
      Seated[1] first:                    | Safe first:
      4  seated[1] goes from released to  | 4  safe goes from showing to
         pressed: spindle[1] stands down. |    hidden: its spring brings it
           in-between pressure in:        |    back, since its port in has no
             down[1], down[2], all_down   |    air (line all_down exhausts
      In the end, only here:              |    through seated[3] 2 to 1, ...,
        moved: safe showing               |    seated[1] 2 to 3).
                                          | 5  seated[1] goes from released to
                                          |    pressed: as on the other way.
                                          |      in-between pressure in:
                                          |        down[1], down[2], all_down
      Seated[1] first: safe ends showing. Safe first: safe ends hidden.
      Either way in the end, at rest:
        moved: tractor weak, master out, pick[1] out, seated[1] pressed,
          seated[2] pressed, seated[3] pressed
        at an in-between pressure: air, guard, between, trip, bank, lift[1],
          down[1], down[2], all_down
    Also delay dependent for master; gauge; live; pick[1]; pick[2]; pick[3];
      spindle[1]; spindle[2] and 4 more (--all tells how).

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

fulmar_stops_bypassed: 18 properties, 2 violated, 1 delay dependent, 15 hold.
