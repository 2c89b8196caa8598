skua_foot_before_vent: Three-compartment trailer, stopped by pressurising a trip
  line, revision A
  tests/designs/violated/skua_foot_before_vent.ilk

  holds        always "each stop shuts every valve", at rest, 6 cases
  holds        recovers "releasing the stops opens nothing", 6 cases
  holds        recovers "pushing the master in shuts everything", 3 cases
  holds        recovers "pushing the master in brings every selector home", 3
               cases
  holds        always "loss of air ends shut", at rest, 3 cases
  holds        recovers "air that comes back opens nothing", 3 cases

  violated     never "discharge with its vent shut", at every moment, 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor gives air.
            air now in: air, bank, lift[1]
       2  spindle[1] goes from down to venting: its pilot has air (line lift[1]
          is fed by tractor through master 1 to 4, pick[1] 1 to 2).
      In the end, still moving:
        moved: tractor present, master out, pick[1] out, spindle[1] venting
        with air: air, bank, lift[1]
      This must never be: flow from tank[1] to coupling[1] and no vapour path
      from tank[1] to sky (liquid can pass tank[1] - spindle[1] - coupling[1];
      no open way for vapour from tank[1] to sky).
    Also violated for i=2; i=3 (--all tells how).

  violated     order "vent before flow, vent until flow ends", at every moment,
               3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor gives air.
            air now in: air, bank, lift[1]
       2  spindle[1] goes from down to venting: its pilot has air (line lift[1]
          is fed by tractor through master 1 to 4, pick[1] 1 to 2).
      In the end, still moving:
        moved: tractor present, master out, pick[1] out, spindle[1] venting
        with air: air, bank, lift[1]
      This may come only after spindle[1] vented, and while that lasts: flow
      from tank[1] to coupling[1] (liquid can pass tank[1] - spindle[1] -
      coupling[1]; spindle[1] stands venting).
    Also violated for i=2; i=3 (--all tells how).

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
      1c  The supply tractor gives air.
            air now in: air, bank, lift[1]
      2a  live goes from hidden to showing: its port in has air (line bank is
          fed by tractor through master 1 to 4).
      2b  spindle[1] goes from down to venting: its pilot has air (line lift[1]
          is fed by tractor through master 1 to 4, pick[1] 1 to 2).
      2c  seated[2] goes from released to pressed: spindle[2] stands down.
      2d  seated[3] goes from released to pressed: spindle[3] stands down.
       3  spindle[1] goes from venting to up: its pilot has air (line lift[1] is
          fed by tractor through master 1 to 4, pick[1] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, live showing, pick[1] out,
          spindle[1] up, seated[2] pressed, seated[3] pressed
        with air: air, bank, lift[1]
      Now flow from tank[1] to coupling[1] (liquid can pass tank[1] - spindle[1]
      - coupling[1]).
    Also possible for i=2; i=3 (--all tells how).

  holds        possible "all three can discharge at once", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: pick[2] is pulled and goes from in to out.
      1d  The operator: pick[3] is pulled and goes from in to out.
      1e  The supply tractor gives air.
            air now in: air, bank, lift[1], lift[2], lift[3]
      2a  live goes from hidden to showing: its port in has air (line bank is
          fed by tractor through master 1 to 4).
      2b  spindle[1] goes from down to venting: its pilot has air (line lift[1]
          is fed by tractor through master 1 to 4, pick[1] 1 to 2).
      2c  spindle[2] goes from down to venting: its pilot has air (line lift[2]
          is fed by tractor through master 1 to 4, pick[2] 1 to 2).
      2d  spindle[3] goes from down to venting: its pilot has air (line lift[3]
          is fed by tractor through master 1 to 4, pick[3] 1 to 2).
      3a  spindle[1] goes from venting to up: its pilot has air (line lift[1] is
          fed by tractor through master 1 to 4, pick[1] 1 to 2).
      3b  spindle[2] goes from venting to up: its pilot has air (line lift[2] is
          fed by tractor through master 1 to 4, pick[2] 1 to 2).
      3c  spindle[3] goes from venting to up: its pilot has air (line lift[3] is
          fed by tractor through master 1 to 4, pick[3] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, live showing, pick[1] out, pick[2]
          out, pick[3] out, spindle[1] up, spindle[2] up, spindle[3] up
        with air: air, bank, lift[1], lift[2], lift[3]
      Now for every i in 1..3: flow from tank[i] to coupling[i] (liquid can pass
      tank[1] - spindle[1] - coupling[1]; liquid can pass tank[2] - spindle[2] -
      coupling[2]; liquid can pass tank[3] - spindle[3] - coupling[3]).

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

skua_foot_before_vent: 17 properties, 2 violated, 15 hold.
