heron_knob_stays_out: Three-compartment heating-oil trailer with one selector
  bank, revision C
  tests/designs/violated/heron_knob_stays_out.ilk

  holds        always "the stop shuts every valve", at rest, 3 cases
  holds        recovers "the stop shuts everything whatever came before", 3
               cases
  holds        recovers "releasing the stop opens nothing", 3 cases
  holds        recovers "pushing the master in shuts everything", 3 cases
  holds        recovers "pushing the master in brings every selector home", 3
               cases
  holds        always "loss of air ends shut", at rest, 3 cases

  violated     recovers "air that comes back opens nothing", 3 cases
    for i = 1:
      The shortest way there, from the start:
      1  The operator: master is pulled and goes from in to out.
      Now the procedure begins:
      2  The supply tractor gives air.
           air now in: air, rise
      3  vent[1] goes from shut to open: its port in has air (line rise is fed
         by tractor through master 1 to 4).
           air now in: pass[1]
      4  vent[2] goes from shut to open: its port in has air (line pass[1] is
         fed by tractor through master 1 to 4, vent[1] in to out).
           air now in: pass[2]
      5  vent[3] goes from shut to open: its port in has air (line pass[2] is
         fed by tractor through master 1 to 4, ..., vent[2] in to out).
           air now in: back
      6  lamp goes from hidden to showing: its port in has air (line back is fed
         by tractor through master 1 to 4, ..., vent[3] in to out).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, lamp showing
        with air: air, rise, pass[1], pass[2], back
      The procedure is over (tractor is absent, tractor is present), everything
      is at rest, and this is not so: foot[1] shut and vent[1] shut (foot[1]
      stands shut; vent[1] stands open).
    Also violated for i=2; i=3 (--all tells how).

  holds        never "discharge with a vent shut", at rest, 9 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 9 cases
  holds        never "a foot valve open that was not selected", at rest, 3 cases
  holds        always "the drawn selector opens its foot valve", at rest, 3
               cases
  holds        never "two compartments joined", at every moment, 3 cases
  holds        never "the indicator shows with a vent shut", at rest, 3 cases
  holds        always "the indicator shows when the vents are open", at rest

  holds        possible "each compartment can discharge", at rest, 3 cases
    for i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: cock[1] is turned open and goes from shut to open.
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
            air now in: back, lift[1]
      5a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
      5b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., pick[1] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, lamp showing, pick[1] out, foot[1] open, cock[1] open
        with air: air, rise, pass[1], pass[2], back, lift[1]
      Now flow from tank[1] to coupling[1] (liquid can pass tank[1] - foot[1] -
      cock[1] - coupling[1]).
    Also possible for i=2; i=3 (--all tells how).

  holds        possible "all three can discharge at once", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: pick[2] is pulled and goes from in to out.
      1d  The operator: pick[3] is pulled and goes from in to out.
      1e  The operator: cock[1] is turned open and goes from shut to open.
      1f  The operator: cock[2] is turned open and goes from shut to open.
      1g  The operator: cock[3] is turned open and goes from shut to open.
      1h  The supply tractor gives air.
            air now in: air, rise
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: back, lift[1], lift[2], lift[3]
      5a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
      5b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., pick[1] 1 to 2).
      5c  foot[2] goes from shut to open: its pilot has air (line lift[2] is fed
          by tractor through master 1 to 4, ..., pick[2] 1 to 2).
      5d  foot[3] goes from shut to open: its pilot has air (line lift[3] is fed
          by tractor through master 1 to 4, ..., pick[3] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, lamp showing, pick[1] out, pick[2] out, pick[3] out, foot[1]
          open, foot[2] open, foot[3] open, cock[1] open, cock[2] open, cock[3]
          open
        with air: air, rise, pass[1], pass[2], back, lift[1], lift[2], lift[3]
      Now flow from tank[1] to coupling[1] and flow from tank[2] to coupling[2]
      and flow from tank[3] to coupling[3] (liquid can pass tank[1] - foot[1] -
      cock[1] - coupling[1]; liquid can pass tank[2] - foot[2] - cock[2] -
      coupling[2]; liquid can pass tank[3] - foot[3] - cock[3] - coupling[3]).

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

heron_knob_stays_out: 19 properties, 1 violated, 18 hold.
