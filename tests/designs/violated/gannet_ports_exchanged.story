gannet_ports_exchanged: Four-compartment trailer with an air-operated manifold,
  revision A
  tests/designs/violated/gannet_ports_exchanged.ilk

  holds        always "the stop shuts every valve", at rest, 4 cases
  holds        recovers "releasing the stop opens nothing", 4 cases
  holds        recovers "pushing the master in shuts everything", 4 cases
  holds        recovers "pushing the master in brings every selector home", 4
               cases
  holds        always "loss of air ends shut", at rest, 4 cases
  holds        recovers "air that comes back opens nothing", 4 cases
  holds        never "a foot valve open with a vent shut", at rest, 16 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 16 cases

  violated     never "an outlet open without a hose", at rest, 4 cases
    for i = 3:
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
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  either[1] goes from passes a to passes b: its port b has air (line
          lock[1] is fed by tractor through gate[1] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3c  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3d  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3e  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[1], send[2], send[3], send[4]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, hold[1], hold[2], hold[3], hold[4]
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
      6f  man[3] goes from shut to open: its port to open has air (line hold[3]
          is fed by tractor through master 1 to 4, ..., pick[3] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, lamp showing, foot[1] open, foot[2] open, foot[3]
          open, foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed, either[1] passes b, either[2] passes b, either[3]
          passes b, either[4] passes b, man[3] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[1], lock[2],
          lock[3], lock[4], send[1], send[2], send[3], send[4], hold[1],
          hold[2], hold[3], hold[4]
      This must never be: man[3] open and adapter[3] not connected (man[3]
      stands open; adapter[3] is not held coupled).

  violated     never "a manifold valve open that was not selected", at rest, 4
               cases
    for i = 3:
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
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  either[1] goes from passes a to passes b: its port b has air (line
          lock[1] is fed by tractor through gate[1] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3c  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[1], send[4]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
      5a  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
      5b  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      5c  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: back, send[2], send[3], hold[1], hold[2], hold[3],
              hold[4]
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
      6f  man[3] goes from shut to open: its port to open has air (line hold[3]
          is fed by tractor through master 1 to 4, ..., pick[3] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, lamp showing, foot[1] open, foot[2] open, foot[3]
          open, foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed, either[1] passes b, either[2] passes b, either[3]
          passes b, either[4] passes b, man[3] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[1], lock[2],
          lock[3], lock[4], send[1], send[2], send[3], send[4], hold[1],
          hold[2], hold[3], hold[4]
      This must never be: man[3] open and pick[3] is not out (man[3] stands
      open; pick[3] stands in).

  violated     always "the drawn selector opens its manifold valve", at rest, 4
               cases
    for i = 3:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[3] is pulled and goes from in to out.
      1c  The operator: adapter[3] is coupled and held so.
      1d  The supply tractor gives air.
      1e  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      1f  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      1g  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: air, rise, lock[1], lock[2], lock[4]
      2a  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2b  adapter[3] goes from shut to open: it is coupled by hand.
            air now in: pass[1]
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  either[1] goes from passes a to passes b: its port b has air (line
          lock[1] is fed by tractor through gate[1] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3c  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3d  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[1], send[2], send[4]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, lift[3], hold[1], hold[2], hold[4]
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
      In the end, at rest:
        moved: adapter[3] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[3] out, gate[1]
          pressed, gate[2] pressed, gate[4] pressed, either[1] passes b,
          either[2] passes b, either[4] passes b, adapter[3] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[1], lock[2],
          lock[4], send[1], send[2], send[4], lift[3], hold[1], hold[2], hold[4]
      This must always be and is not: if lamp showing and pick[3] is out then
      man[3] open (lamp stands showing; pick[3] stands out; man[3] stands shut).

  holds        never "a manifold valve pushed both ways", at every moment, 4
               cases

  violated     always "a valve that is not selected is held shut", at rest, 4
               cases
    for i = 3:
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
      3a  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
      3b  either[1] goes from passes a to passes b: its port b has air (line
          lock[1] is fed by tractor through gate[1] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3c  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      3d  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
            air now in: pass[2], send[1], send[3], send[4]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: pass[3]
       5  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
            air now in: back, hold[1], hold[2], hold[3], hold[4]
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
      6f  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      6g  man[3] goes from shut to open: its port to open has air (line hold[3]
          is fed by tractor through master 1 to 4, ..., pick[3] 1 to 2).
            air now in: send[2]
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, vent[4] open, lamp showing, foot[1] open, foot[2] open, foot[3]
          open, foot[4] open, gate[1] pressed, gate[2] pressed, gate[3] pressed,
          gate[4] pressed, either[1] passes b, either[2] passes b, either[3]
          passes b, either[4] passes b, man[3] open
        with air: air, rise, pass[1], pass[2], pass[3], back, lock[1], lock[2],
          lock[3], lock[4], send[1], send[2], send[3], send[4], hold[1],
          hold[2], hold[3], hold[4]
      This must always be and is not: if lamp showing and pick[3] is in then
      man[3].hold_shut has air (lamp stands showing; pick[3] stands in; lift[3]
      has no air).

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
      6g  man[3] goes from shut to open: its port to open has air (line hold[3]
          is fed by tractor through master 1 to 4, ..., pick[3] 1 to 2).
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, either[2] passes b,
          either[3] passes b, either[4] passes b, man[1] open, man[3] open,
          adapter[1] open
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
      6g  man[3] goes from shut to open: its port to open has air (line hold[3]
          is fed by tractor through master 1 to 4, ..., pick[3] 1 to 2).
      In the end, at rest:
        moved: adapter[1] held coupled, tractor present, master out, vent[1]
          open, vent[2] open, vent[3] open, vent[4] open, lamp showing, foot[1]
          open, foot[2] open, foot[3] open, foot[4] open, pick[1] out, gate[2]
          pressed, gate[3] pressed, gate[4] pressed, either[2] passes b,
          either[3] passes b, either[4] passes b, man[1] open, man[3] open,
          adapter[1] open
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
      1e  gate[3] goes from released to pressed: adapter[3] is not coupled by
          hand.
            air now in: air, rise, lock[3]
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
      4a  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
      4b  gate[1] goes from released to pressed: adapter[1] is not coupled by
          hand.
      4c  gate[2] goes from released to pressed: adapter[2] is not coupled by
          hand.
      4d  gate[4] goes from released to pressed: adapter[4] is not coupled by
          hand.
            air now in: pass[3], lock[1], lock[2], lock[4]
      5a  vent[4] goes from shut to open: its port in has air (line pass[3] is
          fed by tractor through master 1 to 4, ..., vent[3] in to out).
      5b  either[1] goes from passes a to passes b: its port b has air (line
          lock[1] is fed by tractor through gate[1] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      5c  either[2] goes from passes a to passes b: its port b has air (line
          lock[2] is fed by tractor through gate[2] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      5d  either[3] goes from passes a to passes b: its port b has air (line
          lock[3] is fed by tractor through gate[3] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      5e  either[4] goes from passes a to passes b: its port b has air (line
          lock[4] is fed by tractor through gate[4] 1 to 2) and its port a has
          no air (line home exhausts through master 2 to 3).
      5f  adapter[3] goes from shut to open: it is coupled by hand.
            air now in: back, send[1], send[2], send[3], send[4], lift[3],
              hold[1], hold[2], hold[4]
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
          fed by tractor through master 1 | In the end, only here:
          to 4, ..., vent[4] in to out).  |   moved: pick[3] out
      7c  foot[2] goes from shut to open: |   with air: lift[3]
          its pilot has air (line back is |
          fed by tractor through master 1 |
          to 4, ..., vent[4] in to out).  |
      7d  foot[3] goes from shut to open: |
          its pilot has air (line back is |
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
      7g  man[3] goes from shut to open:  |
          its port to open has air (line  |
          hold[3] is fed by tractor       |
          through master 1 to 4, ...,     |
          pick[3] 1 to 2).                |
            no more air in: lock[3],      |
              send[3]                     |
      In the end, only here:              |
        moved: man[3] open                |
        with air: hold[3]                 |
      Pick[3] first: pick[3] ends in and man[3] ends open. Gate[3] first:
      pick[3] ends out and man[3] ends shut.
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

gannet_ports_exchanged: 20 properties, 4 violated, 1 delay dependent, 15 hold.
