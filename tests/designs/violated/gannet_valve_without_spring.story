gannet_valve_without_spring: Four-compartment trailer with an air-operated
  manifold, revision A
  tests/designs/violated/gannet_valve_without_spring.ilk

  violated     always "the stop shuts every valve", at rest, 4 cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The operator: pick[2] is pulled and goes from in to out.
      1d  The supply tractor gives air.
      1e  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1f  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1g  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1h  gate[4] goes from released to pressed: adapter[4] is not coupled by
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
            air now in: back, lift[2], hold[1], hold[3], hold[4]
      6a  master goes from out to in: its pilot 12 has air (line trip is fed by
          tractor through stop 1 to 2).
      6b  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, lift[2],
              hold[1], hold[3], hold[4]
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
      7e  pick[2] goes from out to in: its pilot 12 has air (line send[2] is fed
          by tractor through master 1 to 2, either[2] a to out).
      In the end, at rest:
        moved: tractor present, stop pressed, gate[1] pressed, gate[2] pressed,
          gate[3] pressed, gate[4] pressed, man[2] open
        with air: air, trip, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
      This must always be and is not: if stop pressed then foot[2] shut and
      man[2] shut and vent[2] shut (stop stands pressed; foot[2] stands shut;
      man[2] stands open; vent[2] stands shut).

  violated     recovers "releasing the stop opens nothing", 4 cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The supply tractor gives air.
      1c  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
            air now in: air, rise, lock[3]
      2a  The operator: stop is pushed and goes from released to pressed.
      2b  The operator: pick[2] is pulled and goes from in to out.
      2c  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      2e  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: trip, pass[1], lock[1], lock[4]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
      5a  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
      5b  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
            air now in: back, lock[2], lift[2], hold[1], hold[3], hold[4]
      6a  master goes from out to in: its pilot 12 has air (line trip is fed by
          tractor through stop 1 to 2).
      6b  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, lift[2],
              hold[1], hold[3], hold[4]
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
      7e  pick[2] goes from out to in: its pilot 12 has air (line send[2] is fed
          by tractor through master 1 to 2, either[2] a to out).
      Now the procedure begins:
       8  The operator: stop is pulled and goes from pressed to released.
            no more air in: trip
      In the end, at rest:
        moved: tractor present, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed, man[2] open
        with air: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
      The procedure is over (stop pushed, stop pulled), everything is at rest,
      and this is not so: foot[2] shut and man[2] shut and vent[2] shut (foot[2]
      stands shut; man[2] stands open; vent[2] stands shut).

  violated     recovers "pushing the master in shuts everything", 4 cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[2] is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
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
            air now in: back, lift[2], hold[1], hold[3], hold[4]
      6a  The operator: master is pushed and goes from out to in.
      6b  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, lift[2],
              hold[1], hold[3], hold[4]
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
      7e  pick[2] goes from out to in: its pilot 12 has air (line send[2] is fed
          by tractor through master 1 to 2, either[2] a to out).
      In the end, at rest:
        moved: tractor present, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed, man[2] open
        with air: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
      The procedure is over (master pushed), everything is at rest, and this is
      not so: foot[2] shut and man[2] shut and vent[2] shut (foot[2] stands
      shut; man[2] stands open; vent[2] stands shut).

  holds        recovers "pushing the master in brings every selector home", 4
               cases

  violated     always "loss of air ends shut", at rest, 4 cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[2] is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
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
            air now in: back, lift[2], hold[1], hold[3], hold[4]
      6a  The supply tractor gives no air.
      6b  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            no more air in: air, rise, pass[1], pass[2], pass[3], back, lock[1],
              lock[2], lock[3], lock[4], lift[2], hold[1], hold[3], hold[4]
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
        moved: pick[2] out, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed, man[2] open
      This must always be and is not: if tractor is absent then foot[2] shut and
      man[2] shut and vent[2] shut (tractor is absent; foot[2] stands shut;
      man[2] stands open; vent[2] stands shut).

  violated     recovers "air that comes back opens nothing", 4 cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[2] is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: air, rise, lock[1], lock[2], lock[4]
      2a  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2b  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[1], send[2]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, lift[2], hold[1], hold[3], hold[4]
      6a  The supply tractor gives no air.
      6b  pick[2] goes from out to in: its pilot 12 has air (line send[2] is fed
          by tractor through gate[2] 1 to 2, either[2] b to out).
      6c  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            no more air in: air, rise, pass[1], pass[2], pass[3], back, lock[1],
              lock[2], lock[4], send[2], lift[2], hold[1], hold[3], hold[4]
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
      7f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
       8  The supply tractor gives air.
            air now in: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
              send[2], send[3], send[4]
      In the end, at rest:
        moved: tractor present, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed, either[2] passes b, man[2] open
        with air: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
      The procedure is over (tractor is absent, tractor is present), everything
      is at rest, and this is not so: foot[2] shut and man[2] shut (foot[2]
      stands shut; man[2] stands open).

  holds        never "a foot valve open with a vent shut", at rest, 16 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 16 cases

  violated     never "an outlet open without a hose", at rest, 4 cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[2] is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
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
            air now in: back, lift[2], hold[1], hold[3], hold[4]
      6a  The operator: master is pushed and goes from out to in.
      6b  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, lift[2],
              hold[1], hold[3], hold[4]
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
      7e  pick[2] goes from out to in: its pilot 12 has air (line send[2] is fed
          by tractor through master 1 to 2, either[2] a to out).
      In the end, at rest:
        moved: tractor present, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed, man[2] open
        with air: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
      This must never be: man[2] open and adapter[2] not connected (man[2]
      stands open; adapter[2] is not held coupled).

  violated     never "a manifold valve open that was not selected", at rest, 4
               cases
    for i = 2:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[2] is pulled and goes from in to out.
      1c  The supply tractor gives air.
      1d  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1e  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1f  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
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
            air now in: back, lift[2], hold[1], hold[3], hold[4]
      6a  The operator: master is pushed and goes from out to in.
      6b  man[2] goes from shut to open: its port to open has air (line lift[2]
          is fed by tractor through master 1 to 4, ..., pick[2] 1 to 4).
            air now in: home, send[1], send[2], send[3], send[4]
            no more air in: rise, pass[1], pass[2], pass[3], back, lift[2],
              hold[1], hold[3], hold[4]
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
      7e  pick[2] goes from out to in: its pilot 12 has air (line send[2] is fed
          by tractor through master 1 to 2, either[2] a to out).
      In the end, at rest:
        moved: tractor present, gate[1] pressed, gate[2] pressed, gate[3]
          pressed, gate[4] pressed, man[2] open
        with air: air, home, lock[1], lock[2], lock[3], lock[4], send[1],
          send[2], send[3], send[4]
      This must never be: man[2] open and pick[2] is not out (man[2] stands
      open; pick[2] stands in).

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

  holds        no contest
  holds        comes to rest

  delay dependent  no race, 5 cases
    for pick[3]:
      What decides is the order: pick[3] first, or gate[3] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[3] is pulled and goes from in to out.
      1c  The operator: adapter[3] is coupled and held so.
      1d  The supply tractor gives air.
      1e  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1f  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1g  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
      1h  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: air, rise, lock[1], lock[2], lock[3], lock[4]
      2a  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2b  either[1] goes from passes a to passes b: its port b has air (line
          lock[1] is fed by tractor through gate[1] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      2c  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      2d  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      2e  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      2f  adapter[3] goes from shut to open: it is coupled by hand.
            air now in: pass[1], send[1], send[2], send[3], send[4]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, lift[3], hold[1], hold[2], hold[4]
      From step 1 on hands and surroundings stand still. Here two ways go on:
      Pick[3] first:                      | Gate[3] first:
       6  pick[3] goes from out to in:    |  6  gate[3] goes from pressed to
          its pilot 12 has air (line      |     released: as on the other way.
          send[3] is fed by tractor       |       no more air in: lock[3],
          through gate[3] 1 to 2,         |         send[3]
          either[3] b to out).            | 7a  lamp goes from hidden to
            air now in: hold[3]           |     showing: as on the other way.
            no more air in: lift[3]       | 7b  foot[1] goes from shut to open:
      7a  lamp goes from hidden to        |     as on the other way.
          showing: its port in has air    | 7c  foot[2] goes from shut to open:
          (line back is fed by tractor    |     as on the other way.
          through master 1 to 4, ...,     | 7d  foot[3] goes from shut to open:
          vent[4] in to out).             |     as on the other way.
      7b  foot[1] goes from shut to open: | 7e  foot[4] goes from shut to open:
          its pilot has air (line back is |     as on the other way.
          fed by tractor through master 1 | 7f  man[3] goes from shut to open:
          to 4, ..., vent[4] in to out).  |     its port to open has air (line
      7c  foot[2] goes from shut to open: |     lift[3] is fed by tractor
          its pilot has air (line back is |     through master 1 to 4, ...,
          fed by tractor through master 1 |     pick[3] 1 to 4).
          to 4, ..., vent[4] in to out).  | In the end, only here:
      7d  foot[3] goes from shut to open: |   moved: pick[3] out, man[3] open
          its pilot has air (line back is |   with air: lift[3]
          fed by tractor through master 1 |
          to 4, ..., vent[4] in to out).  |
      7e  foot[4] goes from shut to open: |
          its pilot has air (line back is |
          fed by tractor through master 1 |
          to 4, ..., vent[4] in to out).  |
      7f  gate[3] goes from pressed to    |
          released: its spring brings it  |
          back, since adapter[3] is       |
          coupled by hand.                |
            no more air in: lock[3],      |
              send[3]                     |
      In the end, only here:              |
        with air: hold[3]                 |
      Pick[3] first: pick[3] ends in and man[3] ends shut. Gate[3] first:
      pick[3] ends out and man[3] ends open.
      Either way in the end, at rest:
        moved: adapter[3] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, gate[1] pressed,
          gate[2] pressed, gate[4] pressed, either[1] passes b, either[2] passes
          b, either[3] passes b, either[4] passes b, adapter[3] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[1], lock[2],
          lock[4], send[1], send[2], send[4], hold[1], hold[2], hold[4]
    Also delay dependent for either[1]; either[2]; either[3]; either[4] (--all
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

gannet_valve_without_spring: 20 properties, 7 violated, 1 delay dependent, 12
  hold.
