"""How a run in time is laid out in arrays for the compiled kernel: columns, events, records.

A machine's row begins with the columns of `running.rows`; what only time needs comes after them.
"""

from __future__ import annotations

from phasewright.running.rows import COLUMNS

# Further columns of a machine's row.
INERTIA = COLUMNS  # rotor and load [kg m2]
CLOSES = COLUMNS + 1  # its contactor closes [s]; beyond the end: never
OPENS = COLUMNS + 2  # its contactor opens [s]
BREAKAWAY = COLUMNS + 3  # torque that the load takes to break away [N m]
ROW = COLUMNS + 4

# Further columns of the row of the lines (`running.rows`: E, RZ, LZ, W, capacitors, loads).
PHASE = 10  # angle of the source at t = 0: e = sqrt(2) E sin(w t + phase)
START_F, START_OHM, BLEEDER_S = 11, 12, 13  # start branch across 3-1
DROP_RULE, DROP_AT, DROP_OF = 14, 15, 16  # see the rules below; the machine it watches
START_JOINS = 17  # the start branch closes [s]
RESISTOR_OHM, BYPASSED = 18, 19  # in series with everything until the bypass closes [s]
LOST, RETURNS = 20, 21  # the supply is lost and comes back [s]
LINES = 22

NEVER, AT_SPEED, AT_TIME, AT_VOLTS = 0.0, 1.0, 2.0, 3.0
"""When the start branch drops out: not at all, at a share of synchronous speed of the machine it
watches, at a time [s], at an rms voltage across 3-1 [V]."""

# Columns of a record.
TIME, V12, V23, V31, SUPPLY, START_A, SERVICE = range(7)
PER_MACHINE = 5  # current 1, 2, 3, torque, speed [rad/s]
HEAD = 7

# Columns of a half cycle: sums of squares over steps, and what was greatest.
H_V12, H_V23, H_V31, H_SUPPLY, H_PEAK, H_VC, H_SERVICE = range(7)
H_HEAD = 7
H_PER_MACHINE = 4  # largest line current squared, stator loss, rotor loss, speed
