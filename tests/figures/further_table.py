"""Which figure moves how, for those that the base shop has not: one row a figure, as in table.py.

Its mill stays in star, so that a drive must step up for it; its mixer has two speeds, a plug, and
stands in a shed with a cable of its own. The small shop's pump is a single-phase one, and its lathe
may run on two lines. What the base shop has only by one change moves by another beside it.
"""

from figures.cases import SMALL, WIDE
from figures.table import on_drive, on_rectifier, on_rewiring, on_sheet, on_stops

STEP_UP = "motors/Mill/cutter/ways/step_up_drive/"
BATTERY = "motors/Mill/cutter/ways/electronic_converter/figures/"
MIXER = "motors/Mixer/bowl/"
BY_SWAP = f"{MIXER}ways/motor_swap/"


def rows(prefix, case, moves, *names, before="base"):
    return [(f"{prefix}{name}", WIDE + before, WIDE + case, moves) for name in names]


def in_the_wide_shop(found, *but):
    """Rows of the base shop asked of the wide one; `but`: what such a drive has not, or what moves
    by other causes, told below."""
    return [
        (path, WIDE + before, WIDE + after, moves)
        for path, before, after, moves in found
        if not any(name in path for name in but)
    ]


STEPPED_UP = [
    *in_the_wide_shop(
        on_drive(f"{STEP_UP}figures/"),
        # neither linked in delta, nor with a link of the supply's volts
        "delta_87/", "dc_link_v/", "undistorted_output_v",
        # it holds its output's volts whatever the supply's are, and with them the flux
        "base_frequency_hz", "insulation/", "lasting_ratio", "lasting_with_fan_ratio",
        "figures/price",
    ),
    *in_the_wide_shop(on_sheet(f"{STEP_UP}figures/"), "carrier_hz"),
    *in_the_wide_shop(on_stops(f"{STEP_UP}figures/"), "brake_resistor/"),
    *in_the_wide_shop(on_rewiring(f"{STEP_UP}figures/")),
    *rows(STEP_UP, "more amps", "+", "full_load_current_a"),
    *rows(STEP_UP, "lower plate volts", "-", "line_voltage_v"),
    # full flux to more hertz where the winding wants fewer volts
    *rows(f"{STEP_UP}figures/", "lower plate volts", "+", "base_frequency_hz"),
    *rows(f"{STEP_UP}figures/", "larger motor", "+", "price"),
    # another leakage, found by another fit
    *rows(f"{STEP_UP}figures/torque_speed/6/", "breaks down later", "~", "lasting_ratio",
          "lasting_with_fan_ratio"),
    # edges ring less at the terminals of a larger motor, whose lead may be the longer; an old
    # winding bears less, and is fed by fewer edges
    *rows(f"{STEP_UP}figures/insulation/", "larger motor", "-", "peak_v", "steepness_v_per_s"),
    *rows(f"{STEP_UP}figures/insulation/", "larger motor", "+", "longest_lead_m"),
    *rows(f"{STEP_UP}figures/", "an old winding", "-", "insulation/longest_lead_m", "carrier_hz"),
    # the same energy in less time is more watts at the volts of the link
    *rows(f"{STEP_UP}figures/", "a stop in 0.7 s", "+", "price"),
    *rows(f"{STEP_UP}figures/brake_resistor/", "a stop in 0.5 s", "+", "peak_w", "w",
          before="a stop in 0.7 s"),
    *rows(f"{STEP_UP}figures/brake_resistor/", "a stop in 0.5 s", "-", "ohm", "duty",
          before="a stop in 0.7 s"),
]  # fmt: skip

TWO_SPEEDS = [
    # each speed is a motor of its own: laws as of the mill's
    *(row for speed in ("speeds/0/", "speeds/1/") for row in (
        *rows(f"{MIXER}{speed}equivalent_circuit/", "a larger mixer", "-", "stator_resistance_ohm",
              "stator_leakage_ohm", "magnetising_ohm", "core_loss_ohm", "cages/0/resistance_ohm",
              "cages/0/leakage_ohm", "cages/1/resistance_ohm"),
        *rows(f"{MIXER}{speed}equivalent_circuit/", "a larger mixer", "+", "friction_w", "stray_w",
              "inertia_kg_m2"),
        *rows(f"{MIXER}{speed}equivalent_circuit/", "mixer of lower volts", "-",
              "saturation/flux_vs"),
        *rows(f"{MIXER}{speed}", "mixer at 60 Hz", "-", "equivalent_circuit/saturation/flux_vs",
              "torque/rated_nm"),
        *rows(f"{MIXER}{speed}", "mixer at 60 Hz", "+", "equivalent_circuit/frequency_hz",
              "speed_rpm", "synchronous_speed_rpm", "on_drive/other_speed_hz"),
        *rows(f"{MIXER}{speed}", "a larger mixer", "+", "power_w", "full_load_current_a",
              "locked_rotor_current_a", "torque/rated_nm", "torque/locked_nm",
              "torque/breakdown_nm"),
        *rows(f"{MIXER}{speed}", "mixer of more amps", "+", "full_load_current_a"),
        *rows(f"{MIXER}{speed}", "mixer of lower volts", "-", "line_voltage_v"),
        # the drive gives the supply's volts: the fewer the winding wants, the more is left
        *rows(f"{MIXER}{speed}on_drive/", "mixer of lower volts", "+", "base_frequency_hz",
              "breakdown_left", "own_speed_torque"))),
    *rows(f"{MIXER}speeds/0/on_drive/", "mixer of lower volts", "+", "other_speed_torque"),
    *rows(f"{MIXER}speeds/1/", "mixer of fewer poles", "-", "poles", "torque/rated_nm"),
    *rows(f"{MIXER}speeds/1/", "mixer of fewer poles", "+", "speed_rpm", "synchronous_speed_rpm"),
]  # fmt: skip

SWAPPED = [
    # a new low-voltage motor with a drive
    *[
        (path, WIDE + before, WIDE + {"harder work": "harder mixing",
                                      "larger motor": "a far larger mixer"}.get(after, after), moves)
        for path, before, after, moves in on_rectifier(f"{BY_SWAP}figures/")
    ],
    *rows(BY_SWAP, "a larger mixer", "+", "full_load_current_a", "figures/output_current_a",
          "figures/coasting_s", "figures/ramp_down_s", "figures/stopping/time_s"),
    *rows(f"{BY_SWAP}figures/", "a far larger mixer", "+", "drive_rating_w", "drive_rating_a"),
    *rows(f"{BY_SWAP}figures/dc_injection/", "a larger mixer", "+", "current_a", "time_s",
          "heat_j", "rotor_j", "torque/0/torque_nm"),
    *rows(f"{BY_SWAP}figures/", "mixer at 60 Hz", "+", "dc_injection/torque/0/speed_rpm"),
    *rows(f"{BY_SWAP}figures/", "higher mains", "+", "base_frequency_hz"),
    *rows(f"{BY_SWAP}figures/", "a bowl that must not race", "-", "speed_max_ratio"),
    *rows(f"{BY_SWAP}figures/", "harder mixing", "+", "speed_min_ratio"),
    # a mixer hurts nobody that runs down
    *rows(f"{BY_SWAP}figures/", "a saw in its place", "+", "emergency_stop/category"),
    # what no single-phase motor starts gets a motor with a drive, which stands by
    *rows("motors/Mill/cutter/ways/motor_swap/figures/", "a heavier tool", "+", "idle_power_w"),
]  # fmt: skip

FROM_BATTERY = [
    *rows(BATTERY, "hard work without a pause", "+", "battery_kwh", "charger_power_w",
          "starts/supply_peak_a"),
    # what is too much for a battery gets a generator, whose idling is fuel
    *rows(BATTERY, "larger motor", "+", "idle_power_w"),
    # the charger's watts over the supply's volts
    *rows(BATTERY, "higher mains", "-", "starts/supply_peak_a"),
    *rows(BATTERY, "a heavier tool", "+", "starts/time_s", "starts/time_high_s"),
]  # fmt: skip

IN_THE_SHED = [
    # a cable adds its ohms; copper bears amps
    *rows("places/0/", "a longer way", "+", "impedance_ohm/r", "impedance_ohm/x"),
    *rows("places/0/", "softer supply", "+", "impedance_ohm/r", "impedance_ohm/x"),
    *rows("places/0/", "a longer way", "-", "fault_current_a"),
    *rows("places/0/", "a thicker cable", "+", "fault_current_a", "limit_a", "headroom_a"),
    *rows("places/0/", "a larger mixer", "-", "headroom_a"),
    *rows("plans/battery/circuits/battery inverter to Mixer socket/", "a longer way", "+",
          "length_m"),
    *rows("plans/battery/circuit_parts/cable of battery inverter to Mixer socket/", "a longer way",
          "+", "quantity"),
    *rows("plans/battery/circuits/battery inverter to Mixer socket/socket/",
          "mixer of lower volts", "-", "voltage_v"),
    *rows("plans/swaps/circuits/supply shed to motor_swap Mixer/bowl/socket/",
          "a far larger mixer", "+", "rating_a"),
]  # fmt: skip

POND = "motors/Pond/pump/ways/direct/figures/"
LATHE = "motors/Lathe/main/ways/static_converter/"
IN_SMALL = [
    (path, f"{SMALL}base", SMALL + case, moves)
    for path, case, moves in (
        # as stamped; a start is a multiple of it
        (f"{POND}input_current_a/low", "pump of more amps", "+"),
        (f"{POND}input_current_a/expected", "pump of more amps", "+"),
        (f"{POND}input_current_a/high", "pump of more amps", "+"),
        (f"{POND}starting_current_a", "pump of more amps", "+"),
        (f"{POND}usable_power_w", "larger pump", "+"),
        (f"{LATHE}figures/price", "larger lathe", "+"),
        (f"{LATHE}full_load_current_a", "larger lathe", "+"),
        (f"{LATHE}line_voltage_v", "lathe of higher volts", "+"),
    )
]


def after(first, second, moves, *paths):
    """By `second` in a shop that is changed by `first` both times."""
    return [(path, first, f"{first}, {second}", moves) for path in paths]


ROTARY = "motors/Mill/cutter/ways/rotary_converter/figures/"
TOO_HOT = "plans/rotary/equipment/converter/wrong_direction/not_turned/too_hot_s/"
ON_CAPACITORS = ("motors/Mill/cutter", "equipment/capacitor_run Mill/cutter")
BESIDE = [
    # more watts want more across 3-1, higher load less across 2-3
    *after("larger motor", "harder work", "+",
           f"{ROTARY}travelling_capacitance_f/Mill/cutter/c31"),
    *after("larger motor", "harder work", "-",
           f"{ROTARY}travelling_capacitance_f/Mill/cutter/c23"),
    # a larger idler takes more amps at standstill, of which the resistor leaves the same share
    (f"{ROTARY}idler_start/resistor_ohm", "hard work without a pause", "larger motor", "-"),
    # other ohms ahead of an idler that does not turn, other amps, other heat
    *after("all at 60 Hz", "impedance at the intake", "~",
           *(f"{TOO_HOT}{name}" for name in ("low", "expected", "high"))),
    # a larger drive bears more amps through its resistor
    *(row for of in (f"{STEP_UP.replace('step_up_drive', 'drive_per_motor')}figures",
                     f"{STEP_UP.replace('step_up_drive', 'shared_drive')}figures",
                     "plans/drives/motors/Mill/cutter/figures",
                     "plans/drives/equipment/drive_per_motor Mill/cutter/figures")
      for row in [(f"{of}/brake_resistor/least_ohm", "a stop in 0.7 s",
                   "larger motor, a stop in 0.7 s", "-")]),
    # the capacitor is tuned anew to other ohms ahead, behind which a start takes longer
    *(row for of in ON_CAPACITORS for row in (
        *after("smaller motor", "softer supply", "~",
               f"plans/best/{of}/figures/run_capacitance_f",
               f"plans/best/{of}/figures/capacitor_voltage_v",
               f"plans/best/{of}/figures/usable_by_heat_w",
               f"plans/best/{of}/figures/usable_by_overload_w"),
        *after("smaller motor", "softer supply", "+", f"plans/best/{of}/figures/starts/time_s",
               f"plans/best/{of}/figures/starts/dip"),
        *after("smaller motor", "softer supply", "-",
               f"plans/best/{of}/figures/starts/supply_peak_a"))),
]  # fmt: skip

OPEN = "Mill/cutter alone on it, belt off or coupling open/"
READINGS = [
    # a meter sees what the mains give
    (f"plans/rotary/readings_expected/{lines} at the outlet {OPEN}{name}", "base", "higher mains",
     "+")
    for lines in ("lines 1 and 2", "lines 2 and 3", "lines 3 and 1")
    for name in ("value", "low", "high")
]  # fmt: skip

FURTHER_ROWS = [
    *READINGS,
    *STEPPED_UP, *TWO_SPEEDS, *SWAPPED, *FROM_BATTERY, *IN_THE_SHED, *IN_SMALL, *BESIDE,
]  # fmt: skip

FURTHER_IDENTITIES = {
    **{
        f"motors/*/ways/{way}/figures/{name}": words
        for way in ("step_up_drive", "motor_swap")
        for name, words in {
            "link/dc_choke_h": "a choke in the link is not chosen here: none",
            "leakage_ma": "one figure for any drive with its filter",
        }.items()
    },
    **{
        f"motors/*/ways/step_up_drive/figures/{name}": words
        for name, words in {
            "idle_power_w": "one figure of standby for any drive",
            "lowest_speed_with_fan_ratio": "what a drive holds, below what these loads ask",
            "insulation/lead_m": "a usual lead where nobody told",
            "insulation/rise_s": "one figure of any drive's edges",
            "insulation/allowed_peak_v": "one figure of any ordinary winding",
            "insulation/link_peak_v": "that of the class of drives that step up",
        }.items()
    },
    "motors/*/ways/motor_swap/line_voltage_v": "a motor bought for the supply's rated volts",
    "motors/*/ways/electronic_converter/figures/round_trip_efficiency":
        "one figure of what any battery loses",
    "motors/*/ways/electronic_converter/figures/starts/dip":
        "the charger takes the same before, in and after a start",
    "motors/*/speeds/*/equivalent_circuit/saturation/k": "one published law of iron for all motors",
    "motors/*/speeds/*/equivalent_circuit/saturation/s": "one published law of iron for all motors",
    "motors/*/speeds/*/on_drive/output_voltage_v": "the supply's rated volts",
    "plans/*/circuits/*/socket/poles": "a count of poles",
    "plans/*/readings_expected/*/step": "a step's place in the list",
    "motors/*/ways/direct/figures/price": "nothing is bought for it",
}  # fmt: skip
