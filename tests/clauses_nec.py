"""Rules of the National Electrical Code four times each, as in clauses_iec; limits by hand."""

from __future__ import annotations

import math

from phasewright.rules.capacitors import (
    capacitor_conductors,
    capacitor_device,
    capacitor_disconnect,
    discharged_in_a_minute,
    overload_with_capacitor,
)
from phasewright.rules.conductors import ampacity, terminals
from phasewright.rules.earthing import (
    electrode_conductor,
    grounding_conductor,
    separately_derived,
)
from phasewright.rules.isolation import disconnect_in_sight, disconnect_rating, drive_disconnect
from phasewright.rules.nec_converters import (
    capacitors_ahead_of_overload,
    fixed_loads_device,
    horsepower_disconnect,
    loads_drop_out,
    loads_wait,
    marked,
    nameplate,
    static_disconnect,
)
from phasewright.rules.nec_converters import disconnect_in_sight as converter_in_sight
from phasewright.rules.nec_motors import (
    device_lets_start,
    drive_output_conductors,
    feeder_device,
    overload_setting,
    overload_units,
    several_motors,
    table_current,
)
from phasewright.rules.nec_places import (
    ground_fault_interrupter,
    high_leg_marked,
    panel_conductors,
    panel_device,
    panel_short_circuit,
)
from phasewright.rules.nec_transformers import (
    autotransformer_branch,
    autotransformer_device,
    autotransformer_feeder,
    primary_device,
    secondary_device,
)
from phasewright.rules.overcurrent import (
    conductor_protected,
    interrupting_rating,
    small_conductors,
    standard_rating,
)

PLAIN, MOTOR = {"motor_circuit": False}, {"motor_circuit": True}
# areas of 10, 12 and 8 AWG in mm2 as tables of conductors print them, to four digits
AWG_8, AWG_10, AWG_12 = 8.366, 5.261, 3.309
# 100 uF on 240 V to 50 V in 60 s: SOURCES has 313.28 kohm (derived there)
MINUTE_OHM = 60.0 / (100e-6 * math.log(math.sqrt(2.0) * 240.0 / 50.0))

NEC = {
    "nec.110.9": (
        interrupting_rating,
        (10.0, 8000.0, "c"), (5.0, 8000.0, "c"), (5.0, 5000.0, "c"), (None, 8000.0, "c"),
    ),
    # 8 AWG: 40 A at 60 °C, 50 A at 75 °C
    "nec.110.14_c": (
        terminals,
        (38.0, "8", 50.0, "c"), (45.0, "8", 50.0, "c"), (50.0, "8", 50.0, "c", {"marked_75_c": True}),
        (None, "8", 50.0, "c"),
    ),
    "nec.110.15": (
        high_leg_marked, (True, True, "s"), (True, False, "s"), (True, True, "s"),
        (False, False, "s"),
    ),
    # a 250 V receptacle of 30 A, 120 V to ground, in a dwelling's garage; 277 V are above 150 V
    "nec.210.8": (
        ground_fault_interrupter,
        (30.0, 240.0, 120.0, 1, True, True, "c"), (30.0, 240.0, 120.0, 1, None, False, "c"),
        (30.0, 250.0, 150.0, 1, True, True, "c"), (30.0, 240.0, 208.0, 3, True, False, "c"),
    ),
    "nec.210.9": (
        autotransformer_branch,
        (True, True, 240.0, 480.0, "t"), (True, False, 240.0, 480.0, "t"),
        (True, False, 208.0, 240.0, "t"), (False, False, 240.0, 480.0, "t"),
    ),
    "nec.215.11": (
        autotransformer_feeder,
        (True, True, 240.0, 480.0, "t"), (True, False, 240.0, 480.0, "t"),
        (True, False, 240.0, 208.0, "t"), (False, False, 240.0, 480.0, "t"),
    ),
    # a conductor of 65 A: 70 A is the next standard rating
    "nec.240.4_b": (
        conductor_protected,
        (60.0, 65.0, "c", PLAIN), (80.0, 65.0, "c", PLAIN), (70.0, 65.0, "c", PLAIN),
        (80.0, 65.0, "c", MOTOR),
    ),
    "nec.240.4_d": (
        small_conductors,
        ("12", 15.0, "c", PLAIN), ("12", 25.0, "c", PLAIN), ("12", 20.0, "c", PLAIN),
        ("12", 40.0, "c", MOTOR),
    ),
    "nec.240.6": (
        standard_rating, (35.0, "c"), (38.0, "c"), (300.0, "c"), (None, "c"),
    ),
    # 60 A: 10 AWG; never thicker than the lines
    "nec.250.122": (
        grounding_conductor,
        (AWG_8, 60.0, AWG_8, "c"), (AWG_12, 60.0, AWG_8, "c"), (AWG_12, 30.0, AWG_12, "c"),
        (AWG_12, None, AWG_8, "c"),
    ),
    "nec.250.30_a_1": (
        separately_derived,
        (True, True, "t"), (True, False, "t"), (True, True, "t"), (False, False, "t"),
    ),
    # lines of 2 AWG and smaller: 8 AWG
    "nec.250.66": (
        electrode_conductor,
        (AWG_8, "6", "t"), (AWG_10, "6", "t"), (8.37, "2", "t"), (None, "6", "t"),
    ),
    "nec.310.16": (
        ampacity, (60.0, 65.0, "c"), (70.0, 65.0, "c"), (65.0, 65.0, "c"), (None, 65.0, "c"),
    ),
    # heaters of 20 A and motors of 10 and 6 A: 25 + 12.5 + 6 = 43.5 A
    "nec.409.20": (
        panel_conductors,
        (50.0, 20.0, (10.0, 6.0), "p"), (40.0, 20.0, (10.0, 6.0), "p"),
        (43.5, 20.0, (10.0, 6.0), "p"), (40.0, 20.0, None, "p"),
    ),
    # largest branch 40 A, heaters 20 A, others 6 A: 40 + 25 + 6 = 71 A
    "nec.409.21_c": (
        panel_device,
        (60.0, 40.0, 20.0, 6.0, "p"), (80.0, 40.0, 20.0, 6.0, "p"), (71.0, 40.0, 20.0, 6.0, "p"),
        (80.0, None, 20.0, 6.0, "p"),
    ),
    "nec.409.22_a": (
        panel_short_circuit,
        (10.0, 6000.0, True, "p"), (5.0, 6000.0, True, "p"), (5.0, 5000.0, True, "p"),
        (5.0, 6000.0, False, "p"),
    ),
    "nec.430.102_b": (
        disconnect_in_sight, (True, False, "m"), (False, False, "m"), (True, False, "m"),
        (False, True, "m"),
    ),
    # 115 % of 15.2 A is 17.48 A
    "nec.430.110_a": (
        disconnect_rating, (30.0, 15.2, "m"), (16.0, 15.2, "m"), (17.48, 15.2, "m"),
        (None, 15.2, "m"),
    ),
    # 115 % of 20 A is 23 A
    "nec.430.128": (
        drive_disconnect, (30.0, 20.0, "d"), (20.0, 20.0, "d"), (23.0, 20.0, "d"),
        (20.0, None, "d"),
    ),
    # 125 % of 28 and 15.2 and 6.8 A: 57 A
    "nec.430.24": (
        several_motors,
        (65.0, (15.2, 28.0, 6.8), 0.0, "c"), (50.0, (15.2, 28.0, 6.8), 0.0, "c"),
        (57.0, (15.2, 28.0, 6.8), 0.0, "c"), (20.0, (28.0,), 0.0, "c"),
    ),
    # 125 % of 13 A with a service factor of 1.15
    "nec.430.32_a_1": (
        overload_setting,
        (13.0, 13.0, 5.0, "m"), (20.0, 13.0, 5.0, "m"),
        (16.25, 13.0, 5.0, "m", {"service_factor": 1.15}), (20.0, 13.0, 1.0, "m"),
    ),
    "nec.430.37": (
        overload_units, (3, 3, "m"), (2, 3, "m"), (3, 3, "m"), (1, 1, "m"),
    ),
    "nec.430.52_b": (
        device_lets_start, (40.0, 160.0, 92.0, "c"), (15.0, 60.0, 92.0, "c"),
        (23.0, 92.0, 92.0, "c"), (None, 60.0, 92.0, "c"),
    ),
    # largest branch device 70 A, others 15.2 + 6.8 A: 92 A, so 90 A
    "nec.430.62": (
        feeder_device,
        (80.0, 70.0, (28.0, 15.2, 6.8), 0.0, "c"), (100.0, 70.0, (28.0, 15.2, 6.8), 0.0, "c"),
        (90.0, 70.0, (28.0, 15.2, 6.8), 0.0, "c"), (100.0, None, (28.0,), 0.0, "c"),
    ),
    # 5 hp at 230 V: 15.2 A
    "nec.430.6_a": (
        table_current, (16.0, 5.0, 230.0, "m"), (13.2, 5.0, 230.0, "m"), (15.2, 5.0, 230.0, "m"),
        (13.2, 4.7, 230.0, "m"),
    ),
    "nec.430.122_b": (
        drive_output_conductors, (20.0, 15.2, "c"), (18.0, 15.2, "c"), (19.0, 15.2, "c"),
        (18.0, None, "c"),
    ),
    # 30 A primary: 37.5, so 40 A; with a secondary device 75 A
    "nec.450.3_b": (
        primary_device,
        (35.0, 30.0, "t"), (45.0, 30.0, "t"), (75.0, 30.0, "t", {"with_secondary": True}),
        (45.0, None, "t"),
    ),
    # 6 A: 167 % are 10.02 A
    "nec.450.3_b_2": (
        secondary_device, (10.0, 6.0, "t"), (15.0, 6.0, "t"), (10.02, 6.0, "t"), (15.0, None, "t"),
    ),
    # 20 A: 125 % are 25 A
    "nec.450.4_a": (
        autotransformer_device, (20.0, 20.0, "t"), (30.0, 20.0, "t"), (25.0, 20.0, "t"),
        (30.0, None, "t"),
    ),
    "nec.455.4": (
        nameplate, (True, "new", "c"), (True, "self_built", "c"), (True, "used", "c"),
        (False, "self_built", "d"),
    ),
    "nec.455.6_b": (
        marked, (True, True, "s"), (True, False, "s"), (True, True, "s"), (False, False, "s"),
    ),
    # a conductor of 108 A sized by its loads: 110 A
    "nec.455.7_b": (
        fixed_loads_device, (100.0, 108.0, True, "c"), (125.0, 108.0, True, "c"),
        (110.0, 108.0, True, "c"), (125.0, 108.0, False, "c"),
    ),
    "nec.455.8_a": (
        converter_in_sight, (True, True, "c"), (True, False, "c"), (True, True, "c"),
        (False, False, "c"),
    ),
    # 10 hp 162 A and 15.2 A beside it: 354.4 A
    "nec.455.8_c_2": (
        horsepower_disconnect, (400.0, 162.0, 15.2, "c"), (300.0, 162.0, 15.2, "c"),
        (354.4, 162.0, 15.2, "c"), (300.0, None, 15.2, "c"),
    ),
    "nec.455.20": (
        static_disconnect, (True, 1, True, False, "c"), (True, 2, True, False, "c"),
        (True, 1, True, False, "c"), (False, 2, False, False, "c"),
    ),
    "nec.455.21": (
        loads_wait, (True, True, "c"), (True, False, "c"), (True, True, "c"), (False, False, "c"),
    ),
    "nec.455.22": (
        loads_drop_out, (True, True, "c"), (True, False, "c"), (True, True, "c"),
        (False, False, "c"),
    ),
    "nec.455.23": (
        capacitors_ahead_of_overload, (True, True, "c"), (True, False, "c"), (True, True, "c"),
        (False, False, "c"),
    ),
    "nec.460.6_a": (
        discharged_in_a_minute,
        (240.0, 100e-6, 100e3, "c"), (240.0, 100e-6, 500e3, "c"), (240.0, 100e-6, MINUTE_OHM, "c"),
        (240.0, None, 100e3, "c"),
    ),
    # 135 % of 10 A
    "nec.460.8_a": (
        capacitor_conductors, (20.0, 10.0, "c"), (12.0, 10.0, "c"), (13.5, 10.0, "c"),
        (12.0, None, "c"),
    ),
    "nec.460.8_b": (
        capacitor_device, (True, False, "c"), (False, False, "c"), (True, False, "c"),
        (False, True, "c"),
    ),
    "nec.460.8_c": (
        capacitor_disconnect, (30.0, 20.0, "c"), (20.0, 20.0, "c"), (27.0, 20.0, "c"),
        (20.0, 20.0, "c", {"behind_controller": True}),
    ),
    "nec.460.9": (
        overload_with_capacitor, (10.0, 11.0, True, "m"), (13.0, 11.0, True, "m"),
        (11.0, 11.0, True, "m"), (13.0, 11.0, False, "m"),
    ),
}  # fmt: skip
