"""How a motor on a drive is laid out in arrays for the compiled kernel: drive, records, totals."""

from __future__ import annotations

# The row of the drive: see `starts.drive_course`. Line volts and amps rms, hertz, seconds.
BASE_V, BASE_HZ, MOST_V, BOOST_V, LIMIT_A = range(5)
SLIP_HZ, RATED_NM, LAG_S = 5, 6, 7  # slip compensation
TARGET_HZ, UP_HZ_S, DOWN_HZ_S = 8, 9, 10  # where to, how fast [Hz/s]; down 0: inverter off
STOPS_S = 11
INJECTS, INJECT_V, INJECT_S, INJECT_BELOW, INJECT_WAITS = range(12, 17)  # volts: the vector's peak
LINK_F, RECTIFIED_V, HOLDS_V, TRIP_V, LOSS_W = range(17, 22)
RESISTOR_OHM, RESISTOR_ON_V, RESISTOR_OFF_V = 22, 23, 24  # 0 ohm: none
REST_RAD_S, LOAD_FROM_S, GIVES_UP_A, ENDS = 25, 26, 27, 28
MAGNETISES_S = 29
DRIVE = 30

AT_TIME, RUN_UP, AT_REST = 0.0, 1.0, 2.0
"""When a run ends before its last step: never; once run up; at rest after a stop, or tripped."""

RUNNING, RAMPING, WAITING, INJECTING, OFF = 0.0, 1.0, 2.0, 3.0, 4.0
"""What the inverter does: runs at or towards its frequency, ramps down, is off before it injects
direct current, injects it, is off for good."""

# Columns of a record.
R_TIME, R_HZ, R_VOLTS, R_AMPS, R_TORQUE, R_SPEED, R_LINK_V, R_RESISTOR_W, R_DOES = range(9)
RECORD = 9

# Totals: energies [J] over the run, states stored at its ends [J], what was greatest, instants.
INPUT_J, STATOR_J, ROTOR_J, IRON_J, LOAD_J, FRICTION_J = range(6)
RESISTOR_J, RECTIFIER_J, LOSS_J, FREED_J = (
    6,
    7,
    8,
    9,
)  # freed: by its diodes
FIELD_BEGIN_J, FIELD_END_J, SHAFT_BEGIN_J, SHAFT_END_J, LINK_BEGIN_J, LINK_END_J = range(10, 16)
PEAK_RUN_A, PEAK_STOP_A, PEAK_LINK_V, PEAK_RESISTOR_W = 16, 17, 18, 19
RUN_UP_S, REST_S, TRIPPED_S, INJECTED_S, END_S = 20, 21, 22, 23, 24  # -1 where it did not happen
END_RAD_S = 25
PEAK_BACK_W = 26  # what the motor gives back at most, less what the drive itself takes
TOTALS = 27
