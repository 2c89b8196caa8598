tern_master_on_road_air: Three-compartment trailer for bottom loading, with
  vapour recovery, revision B
  tests/designs/violated/tern_master_on_road_air.ilk

  violated     always "the stop shuts every valve", at rest, 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
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
            air now in: down
      In the end, at rest:
        moved: tractor present, stop pressed, master out, vent[1] open, vent[2]
          open, vent[3] open
        with air: air, rise, pass[1], pass[2], down
      This must always be and is not: if stop pressed then foot[1] shut and
      vent[1] shut (stop stands pressed; foot[1] stands shut; vent[1] stands
      open).
    Also violated for i=2; i=3 (--all tells how).

  violated     recovers "releasing the stop opens nothing", 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: master is pulled and goes from in to out.
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
            air now in: down
      Now the procedure begins:
       5  The operator: stop is pulled and goes from pressed to released.
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open
        with air: air, rise, pass[1], pass[2], down
      The procedure is over (stop pushed, stop pulled), everything is at rest,
      and this is not so: foot[1] shut and vent[1] shut (foot[1] stands shut;
      vent[1] stands open).
    Also violated for i=2; i=3 (--all tells how).

  holds        recovers "pushing the master in shuts everything", 3 cases
  holds        always "loss of air ends shut", at rest, 3 cases
  holds        recovers "air that comes back opens nothing", 3 cases
  holds        never "loading with a vent shut", at rest, 9 cases
  holds        never "loading without the vapour hose", at rest, 3 cases
  holds        always "vapour goes to the rack while loading", at rest, 3 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 9 cases
  holds        always "a full compartment shuts every foot valve", at rest, 9
               cases
  holds        always "no permit, no product", at rest, 3 cases
  holds        never "a foot valve open without its loading arm", at rest, 3
               cases
  holds        always "the brake holds while the cabinet is open or anything is
               coupled", at rest

  violated     always "the brake off means everything shut", at rest, 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: parking is turned on and goes from off to on.
      1b  The operator: master is pulled and goes from in to out.
      1c  The supply tractor gives air.
            air now in: air, park, past_door, past_arm[1], past_arm[2],
              past_arms, release, rise
       2  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
            air now in: pass[1]
      3a  brake goes from holding to off: its port in has air (line release is
          fed by tractor through parking 1 to 2, ..., recovery_brake 1 to 2).
      3b  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: down
      In the end, at rest:
        moved: tractor present, parking on, brake off, master out, vent[1] open,
          vent[2] open, vent[3] open
        with air: air, park, past_door, past_arm[1], past_arm[2], past_arms,
          release, rise, pass[1], pass[2], down
      This must always be and is not: if brake off then foot[1] shut and vent[1]
      shut (brake stands off; foot[1] stands shut; vent[1] stands open).
    Also violated for i=2; i=3 (--all tells how).

  violated     always "a shut cabinet means everything shut", at rest, 3 cases
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
            air now in: down
      In the end, at rest:
        moved: tractor present, master out, vent[1] open, vent[2] open, vent[3]
          open
        with air: air, rise, pass[1], pass[2], down
      This must always be and is not: if door shut then foot[1] shut and vent[1]
      shut and master is in (door is not held opened; foot[1] stands shut;
      vent[1] stands open; master stands out).
    Also violated for i=2; i=3 (--all tells how).

  holds        never "two compartments joined", at every moment, 3 cases
  holds        never "the indicator shows when loading is not ready", at rest, 3
               cases

  holds        possible "each compartment can be loaded", at rest, 3 cases
    for i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: adapter[1] is coupled and held so.
      1d  The operator: recovery is coupled and held so.
      1e  The supply tractor gives air.
      1f  The surroundings: permit.coil is energised.
            air now in: air, rise
      2a  adapter[1] goes from shut to open: it is coupled by hand.
      2b  recovery goes from shut to open: it is coupled by hand.
      2c  arm_brake[1] goes from released to holding: adapter[1] is coupled by
          hand.
      2d  recovery_brake goes from released to holding: recovery is coupled by
          hand.
      2e  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2f  capture goes from released to pressed: recovery is coupled by hand.
      2g  permit goes from at 10 to at 12: permit.coil is energised.
      2h  latch[1] goes from released to pressed: adapter[1] is coupled by hand.
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: down, captured, room[1], room[2], back, ready,
              chosen[1], lift[1]
      5a  lamp goes from hidden to showing: its port in has air (line ready is
          fed by tractor through master 1 to 4, ..., permit 1 to 2).
      5b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., latch[1] 1 to 2).
      In the end, at rest:
        moved: adapter[1] held coupled, recovery held coupled, tractor present,
          permit.coil energised, adapter[1] open, recovery open, arm_brake[1]
          holding, recovery_brake holding, master out, vent[1] open, vent[2]
          open, vent[3] open, capture pressed, permit at 12, lamp showing,
          pick[1] out, latch[1] pressed, foot[1] open
        with air: air, rise, pass[1], pass[2], down, captured, room[1], room[2],
          back, ready, chosen[1], lift[1]
      Now flow from arm[1] to tank[1] (liquid can pass arm[1] - adapter[1] -
      foot[1] - tank[1]).
    Also possible for i=2; i=3 (--all tells how).

  holds        possible "all three can be loaded at once", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: pick[2] is pulled and goes from in to out.
      1d  The operator: pick[3] is pulled and goes from in to out.
      1e  The operator: adapter[1] is coupled and held so.
      1f  The operator: adapter[2] is coupled and held so.
      1g  The operator: adapter[3] is coupled and held so.
      1h  The operator: recovery is coupled and held so.
      1i  The supply tractor gives air.
      1j  The surroundings: permit.coil is energised.
            air now in: air, rise
      2a  adapter[1] goes from shut to open: it is coupled by hand.
      2b  adapter[2] goes from shut to open: it is coupled by hand.
      2c  adapter[3] goes from shut to open: it is coupled by hand.
      2d  recovery goes from shut to open: it is coupled by hand.
      2e  arm_brake[1] goes from released to holding: adapter[1] is coupled by
          hand.
      2f  arm_brake[2] goes from released to holding: adapter[2] is coupled by
          hand.
      2g  arm_brake[3] goes from released to holding: adapter[3] is coupled by
          hand.
      2h  recovery_brake goes from released to holding: recovery is coupled by
          hand.
      2i  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through master 1 to 4).
      2j  capture goes from released to pressed: recovery is coupled by hand.
      2k  permit goes from at 10 to at 12: permit.coil is energised.
      2l  latch[1] goes from released to pressed: adapter[1] is coupled by hand.
      2m  latch[2] goes from released to pressed: adapter[2] is coupled by hand.
      2n  latch[3] goes from released to pressed: adapter[3] is coupled by hand.
            air now in: pass[1]
       3  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through master 1 to 4, vent[1] in to out).
            air now in: pass[2]
       4  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through master 1 to 4, ..., vent[2] in to out).
            air now in: down, captured, room[1], room[2], back, ready,
              chosen[1], chosen[2], chosen[3], lift[1], lift[2], lift[3]
      5a  lamp goes from hidden to showing: its port in has air (line ready is
          fed by tractor through master 1 to 4, ..., permit 1 to 2).
      5b  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through master 1 to 4, ..., latch[1] 1 to 2).
      5c  foot[2] goes from shut to open: its pilot has air (line lift[2] is fed
          by tractor through master 1 to 4, ..., latch[2] 1 to 2).
      5d  foot[3] goes from shut to open: its pilot has air (line lift[3] is fed
          by tractor through master 1 to 4, ..., latch[3] 1 to 2).
      In the end, at rest:
        moved: adapter[1] held coupled, adapter[2] held coupled, adapter[3] held
          coupled, recovery held coupled, tractor present, permit.coil
          energised, adapter[1] open, adapter[2] open, adapter[3] open, recovery
          open, arm_brake[1] holding, arm_brake[2] holding, arm_brake[3]
          holding, recovery_brake holding, master out, vent[1] open, vent[2]
          open, vent[3] open, capture pressed, permit at 12, lamp showing,
          pick[1] out, pick[2] out, pick[3] out, latch[1] pressed, latch[2]
          pressed, latch[3] pressed, foot[1] open, foot[2] open, foot[3] open
        with air: air, rise, pass[1], pass[2], down, captured, room[1], room[2],
          back, ready, chosen[1], chosen[2], chosen[3], lift[1], lift[2],
          lift[3]
      Now for every i in 1..3: flow from arm[i] to tank[i] (liquid can pass
      arm[1] - adapter[1] - foot[1] - tank[1]; liquid can pass arm[2] -
      adapter[2] - foot[2] - tank[2]; liquid can pass arm[3] - adapter[3] -
      foot[3] - tank[3]).

  holds        possible "the trailer can drive away", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: parking is turned on and goes from off to on.
      1b  The supply tractor gives air.
            air now in: air, park, past_door, past_arm[1], past_arm[2],
              past_arms, release, home
       2  brake goes from holding to off: its port in has air (line release is
          fed by tractor through parking 1 to 2, ..., recovery_brake 1 to 2).
      In the end, at rest:
        moved: tractor present, parking on, brake off
        with air: air, park, past_door, past_arm[1], past_arm[2], past_arms,
          release, home
      Now brake off (brake stands off).

  holds        no contest
  holds        comes to rest

  delay dependent  no race, 11 cases
    for master:
      What decides is the order: cabinet first, or master first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: stop is pushed and goes from released to pressed.
      1b  The operator: door is opened and held so.
      2a  door_brake goes from released to holding: door is opened by hand.
      2b  cabinet goes from released to pressed: door is opened by hand.
      3a  The operator: master is pulled and goes from in to out.
      3b  The operator: door is let go, no longer opened.
      3c  The supply tractor gives air.
            air now in: air, inside, trip, rise
      From here hands and surroundings stand still. Two ways go on:
      Cabinet first:                      | Master first:
       4  cabinet goes from pressed to    |  4  master goes from out to in: its
          released: its spring brings it  |     pilot 12 has air (line trip is
          back, since door is not opened  |     fed by tractor through cabinet
          by hand.                        |     1 to 2, stop 1 to 2).
            no more air in: inside, trip  |       air now in: home
      5a  door_brake goes from holding to |       no more air in: rise
          released: its spring brings it  | 5a  door_brake goes from holding to
          back, since door is not opened  |     released: as on the other way.
          by hand.                        | 5b  cabinet goes from pressed to
      5b  vent[1] goes from shut to open: |     released: as on the other way.
          its port in has air (line rise  |       no more air in: inside, trip
          is fed by tractor through       | In the end, only here:
          master 1 to 4).                 |   with air: home
            air now in: pass[1]           |
       6  vent[2] goes from shut to open: |
          its port in has air (line       |
          pass[1] is fed by tractor       |
          through master 1 to 4, vent[1]  |
          in to out).                     |
            air now in: pass[2]           |
       7  vent[3] goes from shut to open: |
          its port in has air (line       |
          pass[2] is fed by tractor       |
          through master 1 to 4, ...,     |
          vent[2] in to out).             |
            air now in: down              |
      In the end, only here:              |
        moved: master out, vent[1] open,  |
          vent[2] open, vent[3] open      |
        with air: rise, pass[1], pass[2], |
          down                            |
      Cabinet first: master ends out, vent[1] ends open, vent[2] ends open and
      vent[3] ends open. Master first: master ends in, vent[1] ends shut,
      vent[2] ends shut and vent[3] ends shut.
      Either way in the end, at rest:
        moved: tractor present, stop pressed
        with air: air
    Also delay dependent for vent[1]; vent[2]; vent[3]; lamp; pick[1]; pick[2];
      pick[3]; foot[1] and 2 more (--all tells how).

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

tern_master_on_road_air: 23 properties, 4 violated, 1 delay dependent, 18 hold.
