"""How a run in time is laid out in arrays for the compiled kernel: columns, events, records.

A machine's row begins with the columns of `running.rows`; what only time needs comes after them.
"""

from __future__ import annotations

from phasewright.running.rows import COLUMNS

# Further columns of a machine's row.
INERTIA = COLUMNS  # rotor and load [kg m2]
CLOSES = COLUMNS + 1  # its contactor closes [s]; beyond the end: never; WAITS: when settled
OPENS = COLUMNS + 2  # its contactor opens [s]
BREAKAWAY = COLUMNS + 3  # torque that the load takes to break away [N m]
ON_WAVE_S = COLUMNS + 4  # how long after a half cycle's end it closes where it waits [s]
T12, T23, T31 = COLUMNS + 5, COLUMNS + 6, COLUMNS + 7  # capacitors switched with it [F]
RELEASE_V = COLUMNS + 8  # rms volts of lines 1-2 below which its contactor lets go, 0: never
ROW = COLUMNS + 9

WAITS = -1.0
"""In place of an instant: when all that was switched before has settled."""
JOINS = -2.0
"""In place of an instant: together with the machine before it, which waits."""

# Further columns of the row of the lines (`running.rows`: E, RZ, LZ, W, capacitors, loads).
PHASE = 10  # angle of the source at t = 0: e = sqrt(2) E sin(w t + phase)
START_F, START_OHM, BLEEDER_S = 11, 12, 13  # start branch across 3-1
DROP_RULE, DROP_AT, DROP_OF = 14, 15, 16  # see the rules below; the machine it watches
START_JOINS = 17  # the start branch closes [s]
RESISTOR_OHM, BYPASSED = 18, 19  # in series with everything until the bypass closes [s]; WAITS
LOST, RETURNS = 20, 21  # the supply is lost and comes back [s]
THREE = 22  # 1: a symmetrical source of three lines, RZ and LZ those of one line
LINES = 23

NEVER, AT_SPEED, AT_TIME, AT_VOLTS = 0.0, 1.0, 2.0, 3.0
"""When the start branch drops out: not at all, at a share of synchronous speed of the machine it
watches, at a time [s], at an rms voltage across 3-1 [V]."""

# What is kept of the lines from step to step: node volts, branch currents, switches, instants.
V1, V3, E_OLD, I_Z, I_BEFORE, I_12, I_23, I_31, I_ST, V_ST, SQUARE_12, SQUARE_31 = range(12)
FED, OPENING, BRIDGED, JOINED, START_ON, STEPPED = range(12, 18)
E_3_OLD, I_Z3 = 18, 19  # of a source of three lines: between 3 and 2, current of line 3
NETS = 20

# Columns of a load step: instant [s], machine, share of its load's law.
STEP_AT, STEP_OF, STEP_SHARE = range(3)

# What a run tells of itself [s], -1 where it did not happen; then closings, then releases.
DROPPED, OPENED, RETURNED, BYPASS, SETTLED = range(5)
TOLD = 5
PER_TOLD = 2  # of every machine: closed, released

# Columns of a record.
TIME, V12, V23, V31, SUPPLY, START_A, SERVICE = range(7)
PER_MACHINE = 5  # current 1, 2, 3, torque, speed [rad/s]
HEAD = 7

# Columns of a half cycle: sums of squares over steps, and what was greatest.
H_V12, H_V23, H_V31, H_SUPPLY, H_PEAK, H_VC, H_SERVICE = range(7)
H_LINE_2, H_LINE_3, H_POWER = 7, 8, 9  # of a source of three lines: currents squared, watts
H_HEAD = 10
H_PER_MACHINE = 6  # line currents 1, 2, 3 squared, stator loss, rotor loss, speed
