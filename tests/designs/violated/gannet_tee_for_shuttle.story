gannet_tee_for_shuttle: Four-compartment trailer with an air-operated manifold,
  revision A
  tests/designs/violated/gannet_tee_for_shuttle.ilk

  violated     always "the stop shuts every valve", at rest, 4 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            in-between pressure in: air, trip, rise, home, lock[2], lock[3],
              lock[4], send[2], send[3], send[4]
       2  vent[1] goes from shut to open: its port in reads as air an in-between
          pressure (line rise is fed by tractor through master 1 to 4 and
          exhausts through master 4 to 1, ..., master 2 to 3).
            in-between pressure in: pass[1]
      In the end, at rest:
        moved: tractor present, stop pressed, master out, vent[1] open, gate[1]
          pressed, gate[2] pressed, gate[3] pressed, gate[4] pressed
        at an in-between pressure: air, trip, rise, pass[1], home, lock[2],
          lock[3], lock[4], send[2], send[3], send[4]
      This must always be and is not: if stop pressed then foot[1] shut and
      man[1] shut and vent[1] shut (stop stands pressed; foot[1] stands shut;
      man[1] stands shut; vent[1] stands open).
    Also violated for i=2; i=3; i=4 (--all tells how).

  violated     recovers "releasing the stop opens nothing", 4 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            in-between pressure in: air, trip, rise, home, lock[2], lock[3],
              lock[4], send[2], send[3], send[4]
      Now the procedure begins:
      2a  The operator: stop is pulled and goes from pressed to released.
      2b  vent[1] goes from shut to open: its port in reads as air an in-between
          pressure (line rise is fed by tractor through master 1 to 4 and
          exhausts through master 4 to 1, ..., master 2 to 3).
            no more air in: trip
            in-between pressure in: pass[1]
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, gate[1] pressed,
          gate[2] pressed, gate[3] pressed, gate[4] pressed
        at an in-between pressure: air, rise, pass[1], home, lock[2], lock[3],
          lock[4], send[2], send[3], send[4]
      The procedure is over (stop pushed, stop pulled), everything is at rest,
      and this is not so: foot[1] shut and man[1] shut and vent[1] shut (foot[1]
      stands shut; man[1] stands shut; vent[1] stands open).
    Also violated for i=2; i=3; i=4 (--all tells how).

  holds        recovers "pushing the master in shuts everything", 4 cases

  violated     recovers "pushing the master in brings every selector home", 4
               cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: adapter[1] is coupled and held so.
      1b  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1c  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1d  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
      2a  The operator: pick[1] is pulled and goes from in to out.
      2b  The supply tractor gives air.
      2c  adapter[1] goes from shut to open: it is coupled by hand.
            in-between pressure in: air, home, lock[2], lock[3], lock[4],
              send[2], send[3], send[4]
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, adapter[1] open
        at an in-between pressure: air, home, lock[2], lock[3], lock[4],
          send[2], send[3], send[4]
      The procedure is over (tractor is present, master pushed), everything is
      at rest, and this is not so: pick[1] is in (pick[1] stands out).
    Also violated for i=2; i=3; i=4 (--all tells how).

  holds        always "loss of air ends shut", at rest, 4 cases
  holds        recovers "air that comes back opens nothing", 4 cases
  holds        never "a foot valve open with a vent shut", at rest, 16 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 16 cases

  violated     never "an outlet open without a hose", at rest, 4 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            in-between pressure in: air, rise, home, lock[2], lock[3], lock[4],
              send[2], send[3], send[4]
       2  vent[1] goes from shut to open: its port in reads as air an in-between
          pressure (line rise is fed by tractor through master 1 to 4 and
          exhausts through master 4 to 1, ..., master 2 to 3).
            in-between pressure in: pass[1]
       3  vent[2] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[1] is fed by tractor through master 1 to 4,
          vent[1] in to out and exhausts through vent[1] out to in, ..., master
          2 to 3).
            in-between pressure in: pass[2]
       4  vent[3] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[2] is fed by tractor through master 1 to 4, ...,
          vent[2] in to out and exhausts through vent[2] out to in, ..., master
          2 to 3).
            in-between pressure in: pass[3]
       5  vent[4] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[3] is fed by tractor through master 1 to 4, ...,
          vent[3] in to out and exhausts through vent[3] out to in, ..., master
          2 to 3).
            in-between pressure in: back, lift[1], hold[2], hold[3], hold[4]
       6  man[1] goes from shut to open: its port to open reads as air an
          in-between pressure (line lift[1] is fed by tractor through master 1
          to 4, ..., pick[1] 1 to 4 and exhausts through pick[1] 4 to 1, ...,
          master 2 to 3).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, pick[1] out, gate[1] pressed, gate[2] pressed,
          gate[3] pressed, gate[4] pressed, man[1] open
        at an in-between pressure: air, rise, pass[1], pass[2], pass[3], back,
          home, lock[2], lock[3], lock[4], send[2], send[3], send[4], lift[1],
          hold[2], hold[3], hold[4]
      This must never be: man[1] open and adapter[1] not connected (man[1]
      stands open; adapter[1] is not held coupled).
    Also violated for i=2; i=3; i=4 (--all tells how).

  holds        never "a manifold valve open that was not selected", at rest, 4
               cases

  violated     always "the drawn selector opens its manifold valve", at rest, 4
               cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The supply tractor gives air.
      1c  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1d  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1e  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1f  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            in-between pressure in: air, rise, home, lock[2], lock[3], lock[4],
              send[2], send[3], send[4]
       2  vent[1] goes from shut to open: its port in reads as air an in-between
          pressure (line rise is fed by tractor through master 1 to 4 and
          exhausts through master 4 to 1, ..., master 2 to 3).
            in-between pressure in: pass[1]
       3  vent[2] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[1] is fed by tractor through master 1 to 4,
          vent[1] in to out and exhausts through vent[1] out to in, ..., master
          2 to 3).
            in-between pressure in: pass[2]
       4  vent[3] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[2] is fed by tractor through master 1 to 4, ...,
          vent[2] in to out and exhausts through vent[2] out to in, ..., master
          2 to 3).
            in-between pressure in: pass[3]
       5  vent[4] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[3] is fed by tractor through master 1 to 4, ...,
          vent[3] in to out and exhausts through vent[3] out to in, ..., master
          2 to 3).
            in-between pressure in: back, hold[1], hold[2], hold[3], hold[4]
      6a  The operator: pick[1] is pulled and goes from in to out.
      6b  lamp goes from hidden to showing: its port in reads as air an
          in-between pressure (line back is fed by tractor through master 1 to
          4, ..., vent[4] in to out and exhausts through vent[4] out to in, ...,
          master 2 to 3).
            no more air in: hold[1]
            in-between pressure in: lift[1]
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, lamp showing, pick[1] out, gate[1] pressed,
          gate[2] pressed, gate[3] pressed, gate[4] pressed
        at an in-between pressure: air, rise, pass[1], pass[2], pass[3], back,
          home, lock[2], lock[3], lock[4], send[2], send[3], send[4], lift[1],
          hold[2], hold[3], hold[4]
      This must always be and is not: if lamp showing and pick[1] is out then
      man[1] open (lamp stands showing; pick[1] stands out; man[1] stands shut).
    Also violated for i=2; i=3; i=4 (--all tells how).

  holds        never "a manifold valve pushed both ways", at every moment, 4
               cases

  violated     always "a valve that is not selected is held shut", at rest, 4
               cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The supply tractor gives air.
      1c  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1d  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1e  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1f  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            in-between pressure in: air, rise, home, lock[2], lock[3], lock[4],
              send[2], send[3], send[4]
       2  vent[1] goes from shut to open: its port in reads as air an in-between
          pressure (line rise is fed by tractor through master 1 to 4 and
          exhausts through master 4 to 1, ..., master 2 to 3).
            in-between pressure in: pass[1]
       3  vent[2] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[1] is fed by tractor through master 1 to 4,
          vent[1] in to out and exhausts through vent[1] out to in, ..., master
          2 to 3).
            in-between pressure in: pass[2]
       4  vent[3] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[2] is fed by tractor through master 1 to 4, ...,
          vent[2] in to out and exhausts through vent[2] out to in, ..., master
          2 to 3).
            in-between pressure in: pass[3]
       5  vent[4] goes from shut to open: its port in reads as air an in-between
          pressure (line pass[3] is fed by tractor through master 1 to 4, ...,
          vent[3] in to out and exhausts through vent[3] out to in, ..., master
          2 to 3).
            in-between pressure in: back, hold[1], hold[2], hold[3], hold[4]
       6  lamp goes from hidden to showing: its port in reads as air an
          in-between pressure (line back is fed by tractor through master 1 to
          4, ..., vent[4] in to out and exhausts through vent[4] out to in, ...,
          master 2 to 3).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, lamp showing, gate[1] pressed, gate[2] pressed,
          gate[3] pressed, gate[4] pressed
        at an in-between pressure: air, rise, pass[1], pass[2], pass[3], back,
          home, lock[2], lock[3], lock[4], send[2], send[3], send[4], hold[1],
          hold[2], hold[3], hold[4]
      This must always be and is not: if lamp showing and pick[1] is in then
      man[1].hold_shut has air (lamp stands showing; pick[1] stands in; hold[1]
      is at an in-between pressure and may be read either way).
    Also violated for i=2; i=3; i=4 (--all tells how).

  holds        never "two compartments joined", at every moment, 6 cases
  holds        never "the indicator shows with a vent shut", at rest, 4 cases

  holds        possible "each compartment can discharge", at rest, 4 cases
    for i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: adapter[1] is coupled and held so.
      1d  The supply tractor gives air.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: air, rise, lock[2], lock[3], lock[4]
      2a  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2b  adapter[1] goes from shut to open: it is coupled by hand.
            air now in: pass[1]
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3c  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[2], send[4]
      4a  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
      4b  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[3], send[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, lift[1], hold[2], hold[3], hold[4]
      6a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
      6b  foot[1] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6f  man[1] goes from shut to open: its port to open has air (line lift[1]
          is fed by tractor through master 1 to 4, ..., pick[1] 1 to 4).
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, either[2] passes b,
          either[3] passes b, either[4] passes b, man[1] open, adapter[1] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[2], lock[3],
          lock[4], send[2], send[3], send[4], lift[1], hold[2], hold[3], hold[4]
      Now flow from tank[1] to outlet[1] (liquid can pass tank[1] - foot[1] -
      man[1] - adapter[1] - outlet[1]).
    Also possible for i=2; i=3; i=4 (--all tells how).

  holds        possible "one outlet delivers while another has no hose", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: adapter[1] is coupled and held so.
      1d  The supply tractor gives air.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: air, rise, lock[2], lock[3], lock[4]
      2a  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2b  adapter[1] goes from shut to open: it is coupled by hand.
            air now in: pass[1]
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3c  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3d  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[2], send[3], send[4]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, lift[1], hold[2], hold[3], hold[4]
      6a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
      6b  foot[1] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line back is fed by
          tractor through master 1 to 4, ..., vent[4] in to out).
      6f  man[1] goes from shut to open: its port to open has air (line lift[1]
          is fed by tractor through master 1 to 4, ..., pick[1] 1 to 4).
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, either[2] passes b,
          either[3] passes b, either[4] passes b, man[1] open, adapter[1] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[2], lock[3],
          lock[4], send[2], send[3], send[4], lift[1], hold[2], hold[3], hold[4]
      Now flow from tank[1] to outlet[1] and adapter[2] not connected (liquid
      can pass tank[1] - foot[1] - man[1] - adapter[1] - outlet[1]; adapter[2]
      is not held coupled).

  violated     no contest
      The shortest way there, from the start:
      1  The supply tractor gives air.
           in-between pressure in: air, home, send[2], send[3], send[4]
      In the end, still moving:
        moved: tractor present
        at an in-between pressure: air, home, send[2], send[3], send[4]
      Supply and exhaust fight in lines air, home, send[2], send[3], send[4].

  holds        comes to rest

  delay dependent  no race, 21 cases
    for master:
      What decides is the order: master first, or gate[1] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1e  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1f  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: air, trip, rise, lock[2], lock[3], lock[4]
      From here hands and surroundings stand still. Two ways go on:
      Master first:                       | Gate[1] first:
      2  master goes from out to in: its  | 2  gate[1] goes from released to
         pilot 12 has air (line trip is   |    pressed: as on the other way.
         fed by tractor through stop 1 to |      in-between pressure in: air,
         2).                              |        trip, rise, home, lock[2],
           no more air in: rise           |        lock[3], lock[4], send[2],
           in-between pressure in: air,   |        send[3], send[4]
             trip, home, lock[2],         | In the end, only here:
             lock[3], lock[4], send[2],   |   moved: master out
             send[3], send[4]             |   at an in-between pressure: air,
      3  gate[1] goes from released to    |     trip, rise, home, lock[2],
         pressed: adapter[1] is not       |     lock[3], lock[4], send[2],
         coupled by hand.                 |     send[3], send[4]
           air now in: air, trip, home,   |
             lock[2], lock[3], lock[4],   |
             send[2], send[3], send[4]    |
      In the end, only here:              |
        with air: air, trip, home,        |
          lock[2], lock[3], lock[4],      |
          send[2], send[3], send[4]       |
      Master first: master ends in. Gate[1] first: master ends out.
      Either way in the end, at rest:
        moved: tractor present, stop pressed, gate[1] pressed, gate[2] pressed,
          gate[3] pressed, gate[4] pressed
    Also delay dependent for vent[1]; pick[1]; pick[2]; pick[3]; pick[4];
      either[2]; either[3]; either[4] and 12 more (--all tells how).

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

gannet_tee_for_shuttle: 20 properties, 7 violated, 1 delay dependent, 12 hold.
