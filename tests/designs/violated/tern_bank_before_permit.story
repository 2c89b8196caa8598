tern_bank_before_permit: Three-compartment trailer for bottom loading, with
  vapour recovery, revision B
  tests/designs/violated/tern_bank_before_permit.ilk

  holds        always "the stop shuts every valve", at rest, 3 cases
  holds        recovers "releasing the stop opens nothing", 3 cases
  holds        recovers "pushing the master in shuts everything", 3 cases
  holds        always "loss of air ends shut", at rest, 3 cases
  holds        recovers "air that comes back opens nothing", 3 cases
  holds        never "loading with a vent shut", at rest, 9 cases
  holds        never "loading without the vapour hose", at rest, 3 cases
  holds        always "vapour goes to the rack while loading", at rest, 3 cases
  holds        never "air on a foot valve before every vent is open", at every
               moment, 9 cases

  violated     always "a full compartment shuts every foot valve", at rest, 9
               cases
    for i = 1, j = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: door is opened and held so.
      1d  The operator: adapter[1] is coupled and held so.
      1e  The operator: recovery is coupled and held so.
      1f  The surroundings: sensor[1].level is full.
      2a  The supply tractor gives air.
      2b  adapter[1] goes from shut to open: it is coupled by hand.
      2c  recovery goes from shut to open: it is coupled by hand.
      2d  door_brake goes from released to holding: door is opened by hand.
      2e  arm_brake[1] goes from released to holding: adapter[1] is coupled by
          hand.
      2f  recovery_brake goes from released to holding: recovery is coupled by
          hand.
      2g  cabinet goes from released to pressed: door is opened by hand.
      2h  capture goes from released to pressed: recovery is coupled by hand.
      2i  sensor[1] goes from down to up: sensor[1].level is full.
      2j  latch[1] goes from released to pressed: adapter[1] is coupled by hand.
            air now in: air, inside, rise
       3  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through cabinet 1 to 2, master 1 to 4).
            air now in: pass[1]
       4  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through cabinet 1 to 2, ..., vent[1] in to out).
            air now in: pass[2]
       5  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through cabinet 1 to 2, ..., vent[2] in to out).
            air now in: down, captured, chosen[1], lift[1]
       6  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through cabinet 1 to 2, ..., latch[1] 1 to 2).
      In the end, at rest:
        moved: door held opened, adapter[1] held coupled, recovery held coupled,
          tractor present, sensor[1].level full, adapter[1] open, recovery open,
          door_brake holding, arm_brake[1] holding, recovery_brake holding,
          cabinet pressed, master out, vent[1] open, vent[2] open, vent[3] open,
          capture pressed, sensor[1] up, pick[1] out, latch[1] pressed, foot[1]
          open
        with air: air, inside, rise, pass[1], pass[2], down, captured,
          chosen[1], lift[1]
      This must always be and is not: if sensor[1] full then foot[1] shut
      (sensor[1].level is full; foot[1] stands open).
    Also violated for i=1, j=2; i=1, j=3; i=2, j=1; i=2, j=2; i=2, j=3; i=3,
      j=1; i=3, j=2; i=3, j=3 (--all tells how).

  violated     always "no permit, no product", at rest, 3 cases
    for i = 1:
      The shortest way there, from the start (what shares a number happens at
      once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: door is opened and held so.
      1d  The operator: adapter[1] is coupled and held so.
      1e  The operator: recovery is coupled and held so.
      2a  The supply tractor gives air.
      2b  adapter[1] goes from shut to open: it is coupled by hand.
      2c  recovery goes from shut to open: it is coupled by hand.
      2d  door_brake goes from released to holding: door is opened by hand.
      2e  arm_brake[1] goes from released to holding: adapter[1] is coupled by
          hand.
      2f  recovery_brake goes from released to holding: recovery is coupled by
          hand.
      2g  cabinet goes from released to pressed: door is opened by hand.
      2h  capture goes from released to pressed: recovery is coupled by hand.
      2i  latch[1] goes from released to pressed: adapter[1] is coupled by hand.
            air now in: air, inside, rise
       3  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through cabinet 1 to 2, master 1 to 4).
            air now in: pass[1]
       4  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through cabinet 1 to 2, ..., vent[1] in to out).
            air now in: pass[2]
       5  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through cabinet 1 to 2, ..., vent[2] in to out).
            air now in: down, captured, room[1], room[2], back, chosen[1],
              lift[1]
       6  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through cabinet 1 to 2, ..., latch[1] 1 to 2).
      In the end, at rest:
        moved: door held opened, adapter[1] held coupled, recovery held coupled,
          tractor present, adapter[1] open, recovery open, door_brake holding,
          arm_brake[1] holding, recovery_brake holding, cabinet pressed, master
          out, vent[1] open, vent[2] open, vent[3] open, capture pressed,
          pick[1] out, latch[1] pressed, foot[1] open
        with air: air, inside, rise, pass[1], pass[2], down, captured, room[1],
          room[2], back, chosen[1], lift[1]
      This must always be and is not: if permit not energised then foot[1] shut
      (permit.coil is off; foot[1] stands open).
    Also violated for i=2; i=3 (--all tells how).

  holds        never "a foot valve open without its loading arm", at rest, 3
               cases
  holds        always "the brake holds while the cabinet is open or anything is
               coupled", at rest
  holds        always "the brake off means everything shut", at rest, 3 cases
  holds        always "a shut cabinet means everything shut", at rest, 3 cases
  holds        never "two compartments joined", at every moment, 3 cases
  holds        never "the indicator shows when loading is not ready", at rest, 3
               cases

  holds        possible "each compartment can be loaded", at rest, 3 cases
    for i = 1:
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: door is opened and held so.
      1d  The operator: adapter[1] is coupled and held so.
      1e  The operator: recovery is coupled and held so.
      2a  The supply tractor gives air.
      2b  adapter[1] goes from shut to open: it is coupled by hand.
      2c  recovery goes from shut to open: it is coupled by hand.
      2d  door_brake goes from released to holding: door is opened by hand.
      2e  arm_brake[1] goes from released to holding: adapter[1] is coupled by
          hand.
      2f  recovery_brake goes from released to holding: recovery is coupled by
          hand.
      2g  cabinet goes from released to pressed: door is opened by hand.
      2h  capture goes from released to pressed: recovery is coupled by hand.
      2i  latch[1] goes from released to pressed: adapter[1] is coupled by hand.
            air now in: air, inside, rise
       3  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through cabinet 1 to 2, master 1 to 4).
            air now in: pass[1]
       4  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through cabinet 1 to 2, ..., vent[1] in to out).
            air now in: pass[2]
       5  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through cabinet 1 to 2, ..., vent[2] in to out).
            air now in: down, captured, room[1], room[2], back, chosen[1],
              lift[1]
       6  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through cabinet 1 to 2, ..., latch[1] 1 to 2).
      In the end, at rest:
        moved: door held opened, adapter[1] held coupled, recovery held coupled,
          tractor present, adapter[1] open, recovery open, door_brake holding,
          arm_brake[1] holding, recovery_brake holding, cabinet pressed, master
          out, vent[1] open, vent[2] open, vent[3] open, capture pressed,
          pick[1] out, latch[1] pressed, foot[1] open
        with air: air, inside, rise, pass[1], pass[2], down, captured, room[1],
          room[2], back, chosen[1], lift[1]
      Now flow from arm[1] to tank[1] (liquid can pass arm[1] - adapter[1] -
      foot[1] - tank[1]).
    Also possible for i=2; i=3 (--all tells how).

  holds        possible "all three can be loaded at once", at rest
      Procedure, from the start (what shares a number happens at once):
      1a  The operator: master is pulled and goes from in to out.
      1b  The operator: pick[1] is pulled and goes from in to out.
      1c  The operator: pick[2] is pulled and goes from in to out.
      1d  The operator: pick[3] is pulled and goes from in to out.
      1e  The operator: door is opened and held so.
      1f  The operator: adapter[1] is coupled and held so.
      1g  The operator: adapter[2] is coupled and held so.
      1h  The operator: adapter[3] is coupled and held so.
      1i  The operator: recovery is coupled and held so.
      2a  The supply tractor gives air.
      2b  adapter[1] goes from shut to open: it is coupled by hand.
      2c  adapter[2] goes from shut to open: it is coupled by hand.
      2d  adapter[3] goes from shut to open: it is coupled by hand.
      2e  recovery goes from shut to open: it is coupled by hand.
      2f  door_brake goes from released to holding: door is opened by hand.
      2g  arm_brake[1] goes from released to holding: adapter[1] is coupled by
          hand.
      2h  arm_brake[2] goes from released to holding: adapter[2] is coupled by
          hand.
      2i  arm_brake[3] goes from released to holding: adapter[3] is coupled by
          hand.
      2j  recovery_brake goes from released to holding: recovery is coupled by
          hand.
      2k  cabinet goes from released to pressed: door is opened by hand.
      2l  capture goes from released to pressed: recovery is coupled by hand.
      2m  latch[1] goes from released to pressed: adapter[1] is coupled by hand.
      2n  latch[2] goes from released to pressed: adapter[2] is coupled by hand.
      2o  latch[3] goes from released to pressed: adapter[3] is coupled by hand.
            air now in: air, inside, rise
       3  vent[1] goes from shut to open: its port in has air (line rise is fed
          by tractor through cabinet 1 to 2, master 1 to 4).
            air now in: pass[1]
       4  vent[2] goes from shut to open: its port in has air (line pass[1] is
          fed by tractor through cabinet 1 to 2, ..., vent[1] in to out).
            air now in: pass[2]
       5  vent[3] goes from shut to open: its port in has air (line pass[2] is
          fed by tractor through cabinet 1 to 2, ..., vent[2] in to out).
            air now in: down, captured, room[1], room[2], back, chosen[1],
              chosen[2], chosen[3], lift[1], lift[2], lift[3]
      6a  foot[1] goes from shut to open: its pilot has air (line lift[1] is fed
          by tractor through cabinet 1 to 2, ..., latch[1] 1 to 2).
      6b  foot[2] goes from shut to open: its pilot has air (line lift[2] is fed
          by tractor through cabinet 1 to 2, ..., latch[2] 1 to 2).
      6c  foot[3] goes from shut to open: its pilot has air (line lift[3] is fed
          by tractor through cabinet 1 to 2, ..., latch[3] 1 to 2).
      In the end, at rest:
        moved: door held opened, adapter[1] held coupled, adapter[2] held
          coupled, adapter[3] held coupled, recovery held coupled, tractor
          present, adapter[1] open, adapter[2] open, adapter[3] open, recovery
          open, door_brake holding, arm_brake[1] holding, arm_brake[2] holding,
          arm_brake[3] holding, recovery_brake holding, cabinet pressed, master
          out, vent[1] open, vent[2] open, vent[3] open, capture pressed,
          pick[1] out, pick[2] out, pick[3] out, latch[1] pressed, latch[2]
          pressed, latch[3] pressed, foot[1] open, foot[2] open, foot[3] open
        with air: air, inside, rise, pass[1], pass[2], down, captured, room[1],
          room[2], back, chosen[1], chosen[2], chosen[3], lift[1], lift[2],
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
              past_arms, release
       2  brake goes from holding to off: its port in has air (line release is
          fed by tractor through parking 1 to 2, ..., recovery_brake 1 to 2).
      In the end, at rest:
        moved: tractor present, parking on, brake off
        with air: air, park, past_door, past_arm[1], past_arm[2], past_arms,
          release
      Now brake off (brake stands off).

  holds        no contest
  holds        comes to rest

  delay dependent  no race, 8 cases
    for pick[1]:
      What decides is the order: cabinet first, or pick[1] first.
      The shortest way to a parting, from the start (what shares a number
      happens at once):
      1a  The operator: pick[1] is pulled and goes from in to out.
      1b  The operator: door is opened and held so.
      2a  door_brake goes from released to holding: door is opened by hand.
      2b  cabinet goes from released to pressed: door is opened by hand.
      3a  The operator: door is let go, no longer opened.
      3b  The supply tractor gives air.
            air now in: air, inside, home
       4  door_brake goes from holding to released: its spring brings it back,
          since door is not opened by hand.
      From step 3 on hands and surroundings stand still. Here two ways go on:
      Cabinet first:                      | Pick[1] first:
      5  cabinet goes from pressed to     | 5  pick[1] goes from out to in: its
         released: its spring brings it   |    pilot 10 has air (line home is
         back, since door is not opened   |    fed by tractor through cabinet 1
         by hand.                         |    to 2, master 1 to 2).
           no more air in: inside, home   | 6  cabinet goes from pressed to
      In the end, only here:              |    released: as on the other way.
        moved: pick[1] out                |      no more air in: inside, home
      Cabinet first: pick[1] ends out. Pick[1] first: pick[1] ends in.
      Either way in the end, at rest:
        moved: tractor present
        with air: air
    Also delay dependent for pick[2]; pick[3]; master; vent[1]; vent[2];
      vent[3]; lamp (--all tells how).

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

tern_bank_before_permit: 23 properties, 2 violated, 1 delay dependent, 20 hold.
