heron_lift_air_trapped: Three-compartment heating-oil trailer with one selector
  bank, revision C
  tests/designs/violated/heron_lift_air_trapped.ilk

  violated     always "the stop shuts every valve", at rest, 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The supply tractor gives air.
            air now in: air, trip, rise
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: down, back
      5a  The operator: pick[1] is pulled and goes from in to out.
      5b  The supply tractor gives no air.
            no more air in: air, trip, rise, pass[1], pass[2], down
            in-between pressure in: back, lift[1]
      6a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      6b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      6c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      6d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      6e  foot[1] goes from shut to open: its pilot reads as air an in-between
          pressure (line lift[1] is cut off together with others that differ
          from it).
      6f  lift[1], in between until now, keeps no air.
      In the end, at rest:
        moved: stop pressed, pick[1] out, foot[1] open
        at an in-between pressure: back, lift[1]
      This must always be and is not: if stop pressed then foot[1] shut and
      vent[1] shut (stop stands pressed; foot[1] stands open; vent[1] stands
      shut).
    Also violated for i=2; i=3 (--all tells how).

  violated     recovers "the stop shuts everything whatever came before", 3
               cases
    for i = 1:
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
            air now in: down, back
      5a  The operator: pick[1] is pulled and goes from in to out.
      5b  The supply tractor gives no air.
            no more air in: air, rise, pass[1], pass[2], down
            in-between pressure in: back, lift[1]
      6a  The operator: stop is pushed and goes from released to pressed.
      6b  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      6c  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      6d  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      6e  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      6f  foot[1] goes from shut to open: its pilot reads as air an in-between
          pressure (line lift[1] is cut off together with others that differ
          from it).
      6g  back, in between until now, keeps no air.
      In the end, at rest:
        moved: stop pressed, pick[1] out, foot[1] open
        at an in-between pressure: back, lift[1]
      The procedure is over (stop pushed), everything is at rest, and this is
      not so: foot[1] shut and vent[1] shut (foot[1] stands open; vent[1] stands
      shut).
    Also violated for i=2; i=3 (--all tells how).

  violated     recovers "releasing the stop opens nothing", 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The supply tractor gives air.
            air now in: air, rise
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
      3a  The operator: stop is pushed and goes from released to pressed.
      3b  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: trip, pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: down, back
      5a  The supply tractor gives no air.
      5b  master goes from out to in: its pilot 12 has air (line trip is fed by
          tractor through stop 1 to 2).
            no more air in: air, trip, rise, pass[1], pass[2], down
      6a  The operator: pick[1] is pulled and goes from in to out.
      6b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      6c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] exhausts through vent[1] out to in,
          master 4 to 5).
      6d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] exhausts through vent[2] out to in,
          ..., master 4 to 5).
            in-between pressure in: back, lift[1]
      Now the procedure begins:
      7a  The operator: stop is pulled and goes from pressed to released.
      7b  foot[1] goes from shut to open: its pilot reads as air an in-between
          pressure (line lift[1] is cut off together with others that differ
          from it).
      7c  back, in between until now, keeps no air.
      In the end, at rest:
        moved: pick[1] out, foot[1] open
        at an in-between pressure: back, lift[1]
      The procedure is over (stop pushed, stop pulled), everything is at rest,
      and this is not so: foot[1] shut and vent[1] shut (foot[1] stands open;
      vent[1] stands shut).
    Also violated for i=2; i=3 (--all tells how).

  violated     recovers "pushing the master in shuts everything", 3 cases
    for i = 1:
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
            air now in: down, back
      5a  The operator: pick[1] is pulled and goes from in to out.
      5b  The supply tractor gives no air.
            no more air in: air, rise, pass[1], pass[2], down
            in-between pressure in: back, lift[1]
      6a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      6b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      6c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      6d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      6e  foot[1] goes from shut to open: its pilot reads as air an in-between
          pressure (line lift[1] is cut off together with others that differ
          from it).
      6f  back, in between until now, keeps no air.
      In the end, at rest:
        moved: pick[1] out, foot[1] open
        at an in-between pressure: back, lift[1]
      The procedure is over (master pushed), everything is at rest, and this is
      not so: foot[1] shut and vent[1] shut (foot[1] stands open; vent[1] stands
      shut).
    Also violated for i=2; i=3 (--all tells how).

  holds        recovers "pushing the master in brings every selector home", 3
               cases

  violated     always "loss of air ends shut", at rest, 3 cases
    for i = 1:
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
            air now in: down, back
      5a  The operator: pick[1] is pulled and goes from in to out.
      5b  The supply tractor gives no air.
            no more air in: air, rise, pass[1], pass[2], down
            in-between pressure in: back, lift[1]
      6a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      6b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      6c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      6d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      6e  foot[1] goes from shut to open: its pilot reads as air an in-between
          pressure (line lift[1] is cut off together with others that differ
          from it).
      6f  lift[1], in between until now, keeps no air.
      In the end, at rest:
        moved: pick[1] out, foot[1] open
        at an in-between pressure: back, lift[1]
      This must always be and is not: if tractor is absent then foot[1] shut and
      vent[1] shut (tractor is absent; foot[1] stands open; vent[1] stands
      shut).
    Also violated for i=2; i=3 (--all tells how).

  holds        recovers "air that comes back opens nothing", 3 cases

  violated     never "discharge with a vent shut", at rest, 9 cases
    for i = 1, j = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: cock[1] is turned open and goes from shut to open.
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
            air now in: down, back
      5a  The operator: pick[1] is pulled and goes from in to out.
      5b  The supply tractor gives no air.
            no more air in: air, rise, pass[1], pass[2], down
            in-between pressure in: back, lift[1]
      6a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      6b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      6c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      6d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      6e  foot[1] goes from shut to open: its pilot reads as air an in-between
          pressure (line lift[1] is cut off together with others that differ
          from it).
      6f  back, in between until now, keeps no air.
      In the end, at rest:
        moved: pick[1] out, foot[1] open, cock[1] open
        at an in-between pressure: back, lift[1]
      This must never be: flow from tank[1] to coupling[1] and vent[1] not open
      (liquid can pass tank[1] - foot[1] - cock[1] - coupling[1]; vent[1] stands
      shut).
    Also violated for i=1, j=2; i=1, j=3; i=2, j=1; i=2, j=2; i=2, j=3; i=3,
      j=1; i=3, j=2; i=3, j=3 (--all tells how).

  violated     never "air on a foot valve before every vent is open", at every
               moment, 9 cases
    for i = 1, j = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
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
            air now in: down, back, lift[1]
       5  The operator: master is pushed and goes from out to in.
            air now in: home
            no more air in: rise, pass[1], pass[2], down
       6  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      In the end, still moving:
        moved: tractor present, vent[2] open, vent[3] open, pick[1] out
        with air: air, back, home, lift[1]
        cut off with air inside: back, lift[1]
      This must never be: foot[1].pilot has air and vent[1] not open (lift[1]
      has air although it is cut off; vent[1] stands shut).
    Also violated for i=1, j=2; i=1, j=3; i=2, j=1; i=2, j=2; i=2, j=3; i=3,
      j=1; i=3, j=2; i=3, j=3 (--all tells how).

  holds        never "a foot valve open that was not selected", at rest, 3 cases

  violated     always "the drawn selector opens its foot valve", at rest, 3
               cases
    for i = 1:
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
            air now in: down, back
      5a  The operator: pick[1] is pulled and goes from in to out.
      5b  The supply tractor gives no air.
            no more air in: air, rise, pass[1], pass[2], down
            in-between pressure in: back, lift[1]
      6a  master goes from out to in: its port hold has no air (line air drains
          into tractor, which gives no air).
      6b  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise drains through master 4 to 1 into
          tractor, which gives no air).
      6c  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] drains through vent[1] out to in,
          master 4 to 1 into tractor, which gives no air).
      6d  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] drains through vent[2] out to in,
          ..., master 4 to 1 into tractor, which gives no air).
      6e  lamp goes from hidden to showing: its port in reads as air an
          in-between pressure (line back is cut off together with others that
          differ from it).
      6f  back, in between until now, keeps no air.
      In the end, at rest:
        moved: lamp showing, pick[1] out
        at an in-between pressure: back, lift[1]
      This must always be and is not: if lamp showing and pick[1] is out then
      foot[1] open (lamp stands showing; pick[1] stands out; foot[1] stands
      shut).
    Also violated for i=2; i=3 (--all tells how).

  holds        never "two compartments joined", at every moment, 3 cases

  violated     never "the indicator shows with a vent shut", at rest, 3 cases
    for j = 1:
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
            air now in: down, back
      5a  The operator: master is pushed and goes from out to in.
      5b  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., check in to out).
            air now in: home
            no more air in: rise, pass[1], pass[2], down
      6a  vent[1] goes from open to shut: its spring brings it back, since its
          port in has no air (line rise exhausts through master 4 to 5).
      6b  vent[2] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[1] exhausts through vent[1] out to in,
          master 4 to 5).
      6c  vent[3] goes from open to shut: its spring brings it back, since its
          port in has no air (line pass[2] exhausts through vent[2] out to in,
          ..., master 4 to 5).
      In the end, at rest:
        moved: tractor present, lamp showing
        with air: air, back, home
        cut off with air inside: back
      This must never be: lamp showing and vent[1] not open (lamp stands
      showing; vent[1] stands shut).
    Also violated for j=2; j=3 (--all tells how).

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
            air now in: down, back, lift[1]
      5a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., check in to out).
      5b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., pick[1] 1 to 2).
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open, lamp showing, pick[1] out, foot[1] open, cock[1] open
        with air: air, rise, pass[1], pass[2], down, back, lift[1]
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
            air now in: down, back, lift[1], lift[2], lift[3]
      5a  lamp goes from hidden to showing: its port in has air (line back is
          fed by tractor through master 1 to 4, ..., check in to out).
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
        with air: air, rise, pass[1], pass[2], down, back, lift[1], lift[2],
          lift[3]
      Now flow from tank[1] to coupling[1] and flow from tank[2] to coupling[2]
      and flow from tank[3] to coupling[3] (liquid can pass tank[1] - foot[1] -
      cock[1] - coupling[1]; liquid can pass tank[2] - foot[2] - cock[2] -
      coupling[2]; liquid can pass tank[3] - foot[3] - cock[3] - coupling[3]).

  holds        no contest

  inconclusive  comes to rest
      It is open whether rest is always reached. The search gave up: no argument
      that these come to be still, and no loop found: lamp.flag, foot[1].poppet,
      foot[2].poppet. No run of up to 14 steps shows it. The options --conflicts
      and --depth let it go on for longer.

  delay dependent  no race, 4 cases
    for lamp:
      What decides is the order: master first, or vent[3] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
      1c  The supply tractor gives air.
            air now in: air, trip, rise
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
      From step 1 on hands and surroundings stand still. Here two ways go on:
      Master first:                       | Vent[3] first:
       4  master goes from out to in: its |  4  vent[3] goes from shut to open:
          pilot 12 has air (line trip is  |     its port in has air (line
          fed by tractor through stop 1   |     pass[2] is fed by tractor
          to 2).                          |     through master 1 to 4, ...,
            air now in: home              |     vent[2] in to out).
            no more air in: rise,         |       air now in: down, back
              pass[1], pass[2]            | 5a  master goes from out to in: as
      5a  vent[1] goes from open to shut: |     on the other way.
          its spring brings it back,      | 5b  lamp goes from hidden to
          since its port in has no air    |     showing: its port in has air
          (line rise exhausts through     |     (line back is fed by tractor
          master 4 to 5).                 |     through master 1 to 4, ...,
      5b  vent[2] goes from open to shut: |     check in to out).
          its spring brings it back,      |       air now in: home
          since its port in has no air    |       no more air in: rise,
          (line pass[1] exhausts through  |         pass[1], pass[2], down
          vent[1] out to in, master 4 to  | 6a  vent[1] goes from open to shut:
          5).                             |     as on the other way.
                                          | 6b  vent[2] goes from open to shut:
                                          |     as on the other way.
                                          | 6c  vent[3] goes from open to shut:
                                          |     its spring brings it back,
                                          |     since its port in has no air
                                          |     (line pass[2] exhausts through
                                          |     vent[2] out to in, ..., master
                                          |     4 to 5).
                                          | In the end, only here:
                                          |   moved: lamp showing
                                          |   with air: back
                                          |   cut off with air inside: back
      Master first: lamp ends hidden. Vent[3] first: lamp ends showing.
      Either way in the end, at rest:
        moved: tractor present, stop pressed
        with air: air, trip, home
    Also delay dependent for foot[1]; foot[2]; foot[3] (--all tells how).

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

heron_lift_air_trapped: 19 properties, 9 violated, 1 inconclusive, 1 delay
  dependent, 8 hold.
