gannet_lift_air_trapped: Four-compartment trailer with an air-operated manifold,
  revision A
  tests/designs/violated/gannet_lift_air_trapped.ilk

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
            air now in: air, trip, rise, lock[1], lock[2], lock[3]
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
      5a  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
      5b  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: back, feet, lock[4], hold[1], hold[2], hold[3], hold[4]
      6a  master goes from out to in: its pilot 12 has air (line trip is fed by
          tractor through stop 1 to 2).
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, hold[1],
              hold[2], hold[3], hold[4]
      7a  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      7b  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] exhausts through vent[1] out to in,
          master 4 to 5).
      7c  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] exhausts through vent[2] out to in,
          ..., master 4 to 5).
      7d  vent[4] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[3] exhausts through vent[3] out to in,
          ..., master 4 to 5).
      In the end, at rest:
        moved: tractor present, stop pressed, foot[1] open, foot[2] open,
          foot[3] open, foot[4] open, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed
        with air: air, trip, feet, home, lock[1], lock[2], lock[3], lock[4],
          send[1], send[2], send[3], send[4]
        cut off with air inside: feet
      This must always be and is not: if stop pressed then foot[1] shut and
      man[1] shut and vent[1] shut (stop stands pressed; foot[1] stands open;
      man[1] stands shut; vent[1] stands shut).
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
            air now in: air, trip, rise, lock[1], lock[2]
      2a  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2b  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: pass[1], lock[4]
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
            air now in: pass[2], lock[3]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
      6a  master goes from out to in: its pilot 12 has air (line trip is fed by
          tractor through stop 1 to 2).
      6b  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, hold[1],
              hold[2], hold[3], hold[4]
      7a  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      7b  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] exhausts through vent[1] out to in,
          master 4 to 5).
      7c  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] exhausts through vent[2] out to in,
          ..., master 4 to 5).
      7d  vent[4] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[3] exhausts through vent[3] out to in,
          ..., master 4 to 5).
      7e  foot[1] goes from shut to open: its pilot has air (line feet is cut
          off with air in it).
      7f  foot[3] goes from shut to open: its pilot has air (line feet is cut
          off with air in it).
      7g  foot[4] goes from shut to open: its pilot has air (line feet is cut
          off with air in it).
      Now the procedure begins:
       8  The operator: stop is pulled and goes from pressed to released.
            no more air in: trip
      In the end, at rest:
        moved: tractor present, foot[1] open, foot[2] open, foot[3] open,
          foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed
        with air: air, feet, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
        cut off with air inside: feet
      The procedure is over (stop pushed, stop pulled), everything is at rest,
      and this is not so: foot[1] shut and man[1] shut and vent[1] shut (foot[1]
      stands open; man[1] stands shut; vent[1] stands shut).
    Also violated for i=2; i=3; i=4 (--all tells how).

  violated     recovers "pushing the master in shuts everything", 4 cases
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
            air now in: air, rise, lock[1], lock[2], lock[3], lock[4]
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
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
      6a  The operator: master is pushed and goes from out to in.
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, hold[1],
              hold[2], hold[3], hold[4]
      7a  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      7b  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] exhausts through vent[1] out to in,
          master 4 to 5).
      7c  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] exhausts through vent[2] out to in,
          ..., master 4 to 5).
      7d  vent[4] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[3] exhausts through vent[3] out to in,
          ..., master 4 to 5).
      In the end, at rest:
        moved: tractor present, foot[1] open, foot[2] open, foot[3] open,
          foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed
        with air: air, feet, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
        cut off with air inside: feet
      The procedure is over (master pushed), everything is at rest, and this is
      not so: foot[1] shut and man[1] shut and vent[1] shut (foot[1] stands
      open; man[1] stands shut; vent[1] stands shut).
    Also violated for i=2; i=3; i=4 (--all tells how).

  holds        recovers "pushing the master in brings every selector home", 4
               cases

  violated     always "loss of air ends shut", at rest, 4 cases
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
            air now in: air, rise, lock[1], lock[2], lock[3], lock[4]
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
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
      6a  The supply tractor gives no air.
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
            no more air in: air, rise, pass[1], pass[2], pass[3], back, lock[1],
              lock[2], lock[3], lock[4], hold[1], hold[2], hold[3], hold[4]
      7a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      7b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      7c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      7d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      7e  vent[4] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[3] drains through vent[3] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      In the end, at rest:
        moved: foot[1] open, foot[2] open, foot[3] open, foot[4] open, gate[1]
          pressed, gate[2] pressed, gate[3] pressed, gate[4] pressed
        with air: feet
        cut off with air inside: feet
      This must always be and is not: if tractor is absent then foot[1] shut and
      man[1] shut and vent[1] shut (tractor is absent; foot[1] stands open;
      man[1] stands shut; vent[1] stands shut).
    Also violated for i=2; i=3; i=4 (--all tells how).

  violated     recovers "air that comes back opens nothing", 4 cases
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
            air now in: air, rise, lock[1], lock[2], lock[3], lock[4]
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
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
      6a  The supply tractor gives no air.
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
            no more air in: air, rise, pass[1], pass[2], pass[3], back, lock[1],
              lock[2], lock[3], lock[4], hold[1], hold[2], hold[3], hold[4]
      Now the procedure begins:
      7a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      7b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      7c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      7d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      7e  vent[4] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[3] drains through vent[3] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
       8  The supply tractor gives air.
            air now in: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
              send[2], send[3], send[4]
      In the end, at rest:
        moved: tractor present, foot[1] open, foot[2] open, foot[3] open,
          foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed
        with air: air, feet, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
        cut off with air inside: feet
      The procedure is over (tractor is absent, tractor is present), everything
      is at rest, and this is not so: foot[1] shut and man[1] shut (foot[1]
      stands open; man[1] stands shut).
    Also violated for i=2; i=3; i=4 (--all tells how).

  violated     never "a foot valve open with a vent shut", at rest, 16 cases
    for i = 1, j = 1:
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
            air now in: air, rise, lock[1], lock[2], lock[3], lock[4]
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
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
      6a  The operator: master is pushed and goes from out to in.
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, hold[1],
              hold[2], hold[3], hold[4]
      7a  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      7b  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] exhausts through vent[1] out to in,
          master 4 to 5).
      7c  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] exhausts through vent[2] out to in,
          ..., master 4 to 5).
      7d  vent[4] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[3] exhausts through vent[3] out to in,
          ..., master 4 to 5).
      In the end, at rest:
        moved: tractor present, foot[1] open, foot[2] open, foot[3] open,
          foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed
        with air: air, feet, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
        cut off with air inside: feet
      This must never be: foot[1] open and vent[1] not open (foot[1] stands
      open; vent[1] stands shut).
    Also violated for i=1, j=2; i=1, j=3; i=1, j=4; i=2, j=1; i=2, j=2; i=2,
      j=3; i=2, j=4; i=3, j=1 and 7 more (--all tells how).

  violated     never "air on a foot valve before every vent is open", at every
               moment, 16 cases
    for i = 1, j = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
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
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
       6  The operator: master is pushed and goes from out to in.
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, hold[1],
              hold[2], hold[3], hold[4]
       7  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      In the end, still moving:
        moved: tractor present, vent[2] open, vent[3] open, vent[4] open
        with air: air, feet, home, send[1], send[2], send[3], send[4]
        cut off with air inside: feet
      This must never be: foot[1].pilot has air and vent[1] not open (feet has
      air although it is cut off; vent[1] stands shut).
    Also violated for i=1, j=2; i=1, j=3; i=1, j=4; i=2, j=1; i=2, j=2; i=2,
      j=3; i=2, j=4; i=3, j=1 and 7 more (--all tells how).

  holds        never "an outlet open without a hose", at rest, 4 cases
  holds        never "a manifold valve open that was not selected", at rest, 4
               cases
  holds        always "the drawn selector opens its manifold valve", at rest, 4
               cases
  holds        never "a manifold valve pushed both ways", at every moment, 4
               cases
  holds        always "a valve that is not selected is held shut", at rest, 4
               cases
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
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, feet, lift[1], hold[2], hold[3], hold[4]
      6a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6f  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      6g  man[1] goes from shut to open: its port to open has air (line lift[1]
          is fed by tractor through master 1 to 4, ..., pick[1] 1 to 4).
            air now in: send[3]
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, either[2] passes b,
          either[3] passes b, either[4] passes b, man[1] open, adapter[1] open
        with air: air, rise, pass[1], pass[2], pass[3], back, feet, lock[2],
          lock[3], lock[4], send[2], send[3], send[4], lift[1], hold[2],
          hold[3], hold[4]
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
      3b  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[4]
      4a  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
      4b  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[3], send[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, feet, lift[1], hold[2], hold[3], hold[4]
      6a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
      6b  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6c  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6d  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6e  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      6f  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      6g  man[1] goes from shut to open: its port to open has air (line lift[1]
          is fed by tractor through master 1 to 4, ..., pick[1] 1 to 4).
            air now in: send[2]
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, either[2] passes b,
          either[3] passes b, either[4] passes b, man[1] open, adapter[1] open
        with air: air, rise, pass[1], pass[2], pass[3], back, feet, lock[2],
          lock[3], lock[4], send[2], send[3], send[4], lift[1], hold[2],
          hold[3], hold[4]
      Now flow from tank[1] to outlet[1] and adapter[2] not connected (liquid
      can pass tank[1] - foot[1] - man[1] - adapter[1] - outlet[1]; adapter[2]
      is not held coupled).

  holds        no contest
  holds        comes to rest

  delay dependent  no race, 16 cases
    for either[1]:
      What decides is the order: master first, or either[1] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
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
            air now in: air, trip, rise, lock[1], lock[2], lock[3], lock[4]
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
            air now in: back, feet, hold[1], hold[2], hold[3], hold[4]
       6  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., vent[4] in to out).
       7  foot[1] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
       8  foot[2] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
       9  foot[3] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      10  foot[4] goes from shut to open: its pilot has air (line feet is fed by
          tractor through master 1 to 4, ..., check in to out).
      From step 1 on hands and surroundings stand still. Here two ways go on:
      Master first:                       | Either[1] first:
       11  master goes from out to in:    |  11  either[1] goes from passes a
           its pilot 12 has air (line     |      to passes b: its port b has
           trip is fed by tractor through |      air (line lock[1] is fed by
           stop 1 to 2).                  |      tractor through gate[1] 1 to
             air now in: home, send[1],   |      2) and its port a has no air
               send[2], send[3], send[4]  |      (line home exhausts through
             no more air in: rise,        |      master 2 to 3).
               pass[1], pass[2], pass[3], |        air now in: send[1]
               back, hold[1], hold[2],    | 12a  master goes from out to in: as
               hold[3], hold[4]           |      on the other way.
      12a  vent[1] goes from open to      | 12b  either[2] goes from passes a
           shut: its spring brings it     |      to passes b: its port b has
           back, since its port in has no |      air (line lock[2] is fed by
           air (line rise exhausts        |      tractor through gate[2] 1 to
           through master 4 to 5).        |      2) and its port a has no air
      12b  vent[2] goes from open to      |      (line home exhausts through
           shut: its spring brings it     |      master 2 to 3).
           back, since its port in has no | 12c  either[3] goes from passes a
           air (line pass[1] exhausts     |      to passes b: its port b has
           through vent[1] out to in,     |      air (line lock[3] is fed by
           master 4 to 5).                |      tractor through gate[3] 1 to
      12c  vent[3] goes from open to      |      2) and its port a has no air
           shut: its spring brings it     |      (line home exhausts through
           back, since its port in has no |      master 2 to 3).
           air (line pass[2] exhausts     | 12d  either[4] goes from passes a
           through vent[2] out to in,     |      to passes b: its port b has
           ..., master 4 to 5).           |      air (line lock[4] is fed by
      12d  vent[4] goes from open to      |      tractor through gate[4] 1 to
           shut: its spring brings it     |      2) and its port a has no air
           back, since its port in has no |      (line home exhausts through
           air (line pass[3] exhausts     |      master 2 to 3).
           through vent[3] out to in,     |        air now in: home, send[2],
           ..., master 4 to 5).           |          send[3], send[4]
      12e  lamp goes from showing to      |        no more air in: rise,
           hidden: its spring brings it   |          pass[1], pass[2], pass[3],
           back, since its port in has no |          back, hold[1], hold[2],
           air (line back exhausts        |          hold[3], hold[4]
           through vent[4] out to in,     | 13a  vent[1] goes from open to
           ..., master 4 to 5).           |      shut: as on the other way.
                                          | 13b  vent[2] goes from open to
                                          |      shut: as on the other way.
                                          | 13c  vent[3] goes from open to
                                          |      shut: as on the other way.
                                          | 13d  vent[4] goes from open to
                                          |      shut: as on the other way.
                                          | 13e  lamp goes from showing to
                                          |      hidden: as on the other way.
                                          | In the end, only here:
                                          |   moved: either[1] passes b,
                                          |     either[2] passes b, either[3]
                                          |     passes b, either[4] passes b
      Master first: either[1] ends passes a, either[2] ends passes a, either[3]
      ends passes a and either[4] ends passes a. Either[1] first: either[1] ends
      passes b, either[2] ends passes b, either[3] ends passes b and either[4]
      ends passes b.
      Either way in the end, at rest:
        moved: tractor present, stop pressed, foot[1] open, foot[2] open,
          foot[3] open, foot[4] open, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed
        with air: air, trip, feet, home, lock[1], lock[2], lock[3], lock[4],
          send[1], send[2], send[3], send[4]
        cut off with air inside: feet
    Also delay dependent for either[2]; either[3]; either[4]; pick[1]; pick[2];
      pick[3]; pick[4]; man[1] and 7 more (--all tells how).

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

gannet_lift_air_trapped: 20 properties, 7 violated, 1 delay dependent, 12 hold.
