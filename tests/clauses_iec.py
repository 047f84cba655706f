"""Rules of the IEC family, and of no family, four times each; limits worked out by hand.

Rule id: the rule, then the arguments that keep it, break it, stand at its limit, and are of
something else. A dict at the end holds arguments by name.
"""

from __future__ import annotations

import math

from phasewright.rules.capacitors import discharged_in_seconds, shaft_at_rest
from phasewright.rules.conductors import carries, thick_enough
from phasewright.rules.earthing import (
    bonding,
    earth_continuity,
    insulation_resistance,
    leaks_to_earth,
    line_3_bonded,
    line_3_marked,
    protective_conductor,
    separate_protective_conductor,
)
from phasewright.rules.farms import farm_circuit, fire_protection
from phasewright.rules.flicker import (
    conditional_connection,
    flicker_of_supply,
    long_term_flicker,
    operator_told,
    short_term_flicker,
    steady_change,
)
from phasewright.rules.isolation import (
    earth_through_lead,
    input_drops_out,
    isolates_all,
    isolator_carries,
    lockable,
    residual_selective,
    sequence_proved,
    socket_carries,
    socket_voltage,
)
from phasewright.rules.machines_60204 import (
    no_restart,
    overload_set,
    overload_there,
    sequence_watched,
    supply_volts,
)
from phasewright.rules.overcurrent import (
    breaking_capacity,
    device_acts,
    device_carries,
    device_protects,
    holds_at_start,
    short_circuit_heat,
)
from phasewright.rules.shock_protection import (
    disconnection_time,
    electrode_and_device,
    insulation_watched,
    line_3_cleared,
    residual_kept,
    residual_sees,
    sockets_protected,
)
from phasewright.rules.unbalance import derated_by_curve, derated_by_heat, lasting_unbalance

# 3.3 % of 230 V through the reference impedance at unity power factor: 0.033 * 230 / 0.40
STEADY_A = 0.033 * 230.0 / 0.40
# 230 V, 50 uF, 5 s to 60 V: SOURCES has 59.16 kohm (derived there)
FIVE_S_OHM = 5.0 / (50e-6 * math.log(math.sqrt(2.0) * 230.0 / 60.0))
# |Zref| = hypot(0.40, 0.25); a change of 8 % against a limit of 4 %: half of it
HALF_REFERENCE = 0.5 * math.hypot(0.40, 0.25)

IEC = {
    "iec.60364_4_41.411_3_2": (
        disconnection_time,
        (0.1, "TN-S", 230.0, True, "c"), (0.5, "TN-S", 230.0, True, "c"),
        (0.4, "TN-C-S", 230.0, True, "c"), (None, "TN-S", 230.0, True, "c"),
    ),
    "iec.60364_4_41.411_3_3": (
        sockets_protected,
        (16.0, 10.0, "c"), (16.0, 100.0, "c"), (32.0, 30.0, "c"), (63.0, None, "c"),
    ),
    # 500 ohm and 100 mA are 50 V
    "iec.60364_4_41.411_5_3": (
        electrode_and_device,
        (100.0, 30.0, "TT", "p"), (800.0, 100.0, "TT", "p"), (500.0, 100.0, "TT", "p"),
        (800.0, 100.0, "TN-S", "p"),
    ),
    "iec.60364_4_41.411_6_3": (
        insulation_watched,
        ("none", True, "supply"), ("none", False, "supply"), ("none", True, "supply"),
        ("line_2", False, "supply"),
    ),
    # C16 needs 160 A; TRADE A1.1: a 4 kW idler gives about 50 A
    "line3.earth_fault": (
        line_3_cleared,
        (51.0, 160.0, True, "c"), (51.0, 160.0, False, "c"), (160.0, 160.0, False, "c"),
        (None, 160.0, False, "c"),
    ),
    "residual.sees": (
        residual_sees,
        (True, False, "c"), (True, True, "c"), (True, False, "c"), (False, True, "c"),
    ),
    "residual.not_defeated": (
        residual_kept,
        (True, True, "s"), (True, False, "s"), (True, True, "s"), (False, False, "s"),
    ),
    "iec.60364_4_43.433_1_a": (
        device_carries,
        (15.0, 16.0, "c"), (17.0, 16.0, "c"), (16.0, 16.0, "c"), (17.0, None, "c"),
    ),
    "iec.60364_4_43.433_1_b": (
        device_protects,
        (16.0, 24.0, "c"), (25.0, 24.0, "c"), (24.0, 24.0, "c"), (25.0, None, "c"),
    ),
    # a gG fuse acts at 1.6 times: 25 A at 40 A, and 1.45 times 27.586 A are 40 A
    "iec.60364_4_43.433_1_c": (
        device_acts,
        (25.0, 30.0, "c", {"fuse": True}), (25.0, 27.0, "c", {"fuse": True}),
        (25.0, 40.0 / 1.45, "c", {"fuse": True}), (25.0, None, "c"),
    ),
    "iec.60364_4_43.434_5_1": (
        breaking_capacity,
        (6.0, 1200.0, "c"), (6.0, 6500.0, "c"), (6.0, 6000.0, "c"), (None, 6500.0, "c"),
    ),
    # 1150 A for 0.16 s over 115: 4 mm2
    "iec.60364_4_43.434_5_2": (
        short_circuit_heat,
        (1150.0, 0.1, 4.0, "c"), (1150.0, 0.2, 4.0, "c"), (1150.0, 0.16, 4.0, "c"),
        (1150.0, None, 4.0, "c"),
    ),
    # C16 surely holds 5 times 16 A
    "iec.60898_1.instantaneous_bands": (
        holds_at_start,
        (60.0, "C", 16.0, "c"), (90.0, "C", 16.0, "c"), (80.0, "C", 16.0, "c"),
        (90.0, None, 16.0, "c"),
    ),
    "iec.60364_5_52.523_1": (
        carries, (20.0, 24.0, "c"), (25.0, 24.0, "c"), (24.0, 24.0, "c"), (None, 24.0, "c"),
    ),
    "iec.60364_5_52.524_1": (
        thick_enough,
        (2.5, "c"), (1.0, "c"), (0.5, "c", {"control": True}), (None, "c"),
    ),
    # beside a line of 6 mm2 an earth core of 6 mm2, where no fault was computed
    "iec.60364_5_54.543_1": (
        protective_conductor,
        (4.0, 6.0, 2.0, "c"), (4.0, 6.0, None, "c"), (6.0, 6.0, None, "c"), (None, 6.0, None, "c"),
    ),
    "iec.60364_5_54.543_1_3": (
        separate_protective_conductor,
        (6.0, True, False, "c"), (2.5, True, False, "c"), (2.5, True, True, "c"),
        (1.5, False, False, "c"),
    ),
    "iec.60364_5_54.544_1": (
        bonding, (10.0, "s"), (4.0, "s"), (6.0, "s"), (None, "s"),
    ),
    "iec.60204_1.18_2": (
        earth_continuity,
        (0.05, 0.1, "m"), (0.4, 0.1, "m"), (0.1, 0.1, "m"), (0.4, 0.1, "m", {"bare_metal": False}),
    ),
    "iec.60204_1.18_3": (
        insulation_resistance, (5e6, "m"), (2e5, "m"), (1e6, "m"), (None, "m"),
    ),
    "iec.61800_5_1.4_3_5_5_2": (
        leaks_to_earth,
        (7.0, True, 10.0, "d"), (7.0, False, 2.5, "d"), (3.5, False, 2.5, "d"),
        (None, False, 2.5, "d"),
    ),
    "line3.bonded": (
        line_3_bonded, (False, "s"), (True, "s"), (False, "s"), (None, "s"),
    ),
    "line3.marked": (
        line_3_marked, (True, True, "s"), (True, False, "s"), (True, True, "s"),
        (False, False, "s"),
    ),
    "iec.60364_5_53.537_2": (
        isolates_all, (4, 3, "c"), (2, 3, "c"), (3, 3, "c"), (None, 3, "c"),
    ),
    "iec.60364_5_53.536_4": (
        residual_selective,
        (300.0, 30.0, "s", {"upstream_delayed": True}), (30.0, 30.0, "s"),
        (90.0, 30.0, "s", {"upstream_delayed": True}), (None, 30.0, "s"),
    ),
    "iec.60204_1.5_3": (
        lockable, (True, True, "m"), (True, False, "m"), (True, True, "m"), (None, None, "m"),
    ),
    "isolator.rating": (
        isolator_carries, (25.0, 20.0, "c"), (16.0, 20.0, "c"), (20.0, 20.0, "c"), (None, 20.0, "c"),
    ),
    # 230 V on the 200 to 250 V pattern (230 V), 400 V not; 15 % away is the last that mates
    "socket.voltage": (
        socket_voltage,
        (230.0, 240.0, "c"), (400.0, 230.0, "c"), (400.0, 460.0, "c"), (None, 230.0, "c"),
    ),
    "socket.rating": (
        socket_carries, (32.0, 16.0, "c"), (16.0, 20.0, "c"), (16.0, 16.0, "c"), (None, 16.0, "c"),
    ),
    "socket.earth_core": (
        earth_through_lead, (True, True, "m"), (True, False, "m"), (True, True, "m"),
        (False, False, "m"),
    ),
    "converter.input_drops_out": (
        input_drops_out, (True, True, "c"), (True, False, "c"), (True, True, "c"),
        (False, False, "c"),
    ),
    "converter.sequence_proved": (
        sequence_proved, (True, True, "c"), (True, False, "c"), (True, True, "c"),
        (False, False, "c"),
    ),
    # 30 mA to 32 A, 100 mA above, 300 mA for what is no socket
    "iec.60364_7_705.705_411_1": (
        farm_circuit,
        (True, 16.0, 30.0, "c"), (True, None, 500.0, "c"), (True, 63.0, 100.0, "c"),
        (False, 16.0, None, "c"),
    ),
    "iec.60364_4_42.422_3_9": (
        fire_protection, (True, 30.0, "c"), (True, 500.0, "c"), (True, 300.0, "c"),
        (False, None, "c"),
    ),
    "iec.60204_1.4_3_2": (
        supply_volts, (0.95, 1.04, "m"), (0.85, 1.0, "m"), (0.9, 1.1, "m"), (None, 1.2, "m"),
    ),
    "iec.60204_1.7_3_1": (
        overload_there, (750.0, True, "m"), (750.0, False, "m"), (501.0, True, "m"),
        (500.0, False, "m"),
    ),
    "overload.setting": (
        overload_set, (8.6, 8.6, "c"), (9.0, 8.6, "c"), (8.6, 8.6, "c"), (None, 8.6, "c"),
    ),
    "iec.60204_1.7_5": (
        no_restart, (True, True, "m"), (True, False, "m"), (True, True, "m"), (False, False, "m"),
    ),
    "iec.60204_1.7_8": (
        sequence_watched, (True, True, "m"), (True, False, "m"), (True, True, "m"),
        (False, False, "m"),
    ),
    "iec.60204_1.6_2_4": (
        discharged_in_seconds,
        (230.0, 50e-6, 22e3, "c"), (230.0, 50e-6, None, "c"), (230.0, 50e-6, FIVE_S_OHM, "c"),
        (230.0, None, 22e3, "c"),
    ),
    "capacitor.shaft_at_rest": (
        shaft_at_rest, (50e-6, True, "c"), (50e-6, False, "c"), (50e-6, True, "c"),
        (None, False, "c"),
    ),
    "iec.60034_1.7_2_1_1": (
        lasting_unbalance, (0.005, "m"), (0.02, "m"), (0.01, "m"), (None, "m"),
    ),
    "iec.60034_26.derating": (
        derated_by_heat, (0.6, 0.8, "m"), (0.9, 0.8, "m"), (0.8, 0.8, "m"), (0.9, None, "m"),
    ),
    # 2 % between the lines: 0.95
    "nema.mg1.12_45": (
        derated_by_curve, (0.8, 0.02, "m"), (1.0, 0.02, "m"), (0.95, 0.02, "m"), (1.0, None, "m"),
    ),
    "iec.61000_3_3.5_c": (
        steady_change,
        (10.0, 1.0, 10.0, "d"), (25.0, 1.0, 10.0, "d"), (STEADY_A, 1.0, 10.0, "d"),
        (25.0, 1.0, 20.0, "d"),
    ),
    "iec.61000_3_3.5_a": (
        short_term_flicker,
        (0.5, 0.6, 0.02, "s"), (1.2, 1.5, 0.05, "s"), (0.8, 1.0, 0.03, "s"),
        (None, None, 0.05, "s"),
    ),
    "en.50160.flicker": (
        flicker_of_supply,
        (0.5, 0.8, "s"), (0.9, 1.2, "s"), (0.8, 1.0, "s"), (None, None, "s"),
    ),
    "iec.61000_3_3.5_b": (
        long_term_flicker, (0.5, "s"), (0.8, "s"), (0.65, "s"), (None, "s"),
    ),
    "iec.61000_3_11.4": (
        conditional_connection,
        (0.2, 0.08, 0.04, 60.0, 20.0, "s"), (0.4, 0.08, 0.04, 60.0, 20.0, "s"),
        (HALF_REFERENCE, 0.08, 0.04, 60.0, 20.0, "s"), (0.4, 0.03, 0.04, 60.0, 20.0, "s"),
    ),
    # a dwelling in France: 45 A
    "operator.told": (
        operator_told,
        (40.0, "FR", 8.0, 6.0, 0.03, "s"), (60.0, "FR", 8.0, 6.0, 0.03, "s"),
        (45.0, "FR", 8.0, 6.0, 0.03, "s"), (60.0, "", 8.0, 6.0, 0.03, "s"),
    ),
}  # fmt: skip
