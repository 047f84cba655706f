"""Which figure moves how when which cause moves: one row a figure.

A row is (path of the figure, case before, case after, how it moves). `+` and `-` are directions
that a law gives, told in the comment of the group; `~` is a figure that must move though no law
tells which way (what is tuned to one load is mistuned for another). Every pattern of the base
shop's result has a row here or stands in IDENTITIES with its reason.
"""

MILL = "motors/Mill/cutter"
WAYS = f"{MILL}/ways"
DRIVE = "drive_per_motor Mill/cutter"
ROTARY = "rotary_converter"


def rows(prefix, case, moves, *names, before="base"):
    return [(f"{prefix}{name}", before, case, moves) for name in names]


SUPPLY = [
    # ohms show as a drop; a fault current is volts over ohms; a cable adds its own ohms
    *rows("supply/", "softer supply", "+", "impedance_ohm/r", "impedance_ohm/x"),
    *rows("supply/", "softer supply", "-", "fault_current_a"),
    *rows("supply/", "and a longer feeder", "+", "impedance_ohm/r", "impedance_ohm/x",
          before="impedance at the intake"),
    *rows("supply/", "and a longer feeder", "-", "fault_current_a",
          before="impedance at the intake"),
    *rows("supply/", "more beside", "-", "headroom_a"),
    *rows("supply/", "higher mains", "+", "lines_to_earth_v/0"),
    *rows("supply/", "larger service", "+", "headroom_a"),
    *rows("others/Mill/lamp 1/", "brighter lamp", "+", "current_a"),
    *rows("supply/", "brighter lamp", "-", "headroom_a"),
]  # fmt: skip

CIRCUIT = f"{MILL}/equivalent_circuit/"
MOTOR = [
    # at the same volts more power is more amps, thus fewer ohms, and more iron, copper and rotor
    *rows(CIRCUIT, "larger motor", "-", "stator_resistance_ohm", "stator_leakage_ohm",
          "magnetising_ohm", "core_loss_ohm", "cages/0/resistance_ohm", "cages/0/leakage_ohm",
          "cages/1/resistance_ohm"),
    *rows(CIRCUIT, "larger motor", "+", "friction_w", "stray_w", "inertia_kg_m2"),
    # flux is volts over frequency
    *rows(CIRCUIT, "lower plate volts", "-", "saturation/flux_vs"),
    *rows(CIRCUIT, "all at 60 Hz", "-", "saturation/flux_vs"),
    *rows(CIRCUIT, "all at 60 Hz", "+", "frequency_hz"),
    *rows(f"{MILL}/", "larger motor", "+", "full_load_current_a", "rated_power_w",
          "torque/rated_nm", "torque/locked_nm", "torque/breakdown_nm", "locked_rotor_current_a"),
    *rows(f"{MILL}/", "more amps", "+", "full_load_current_a"),
    *rows(f"{MILL}/", "lower plate volts", "-", "line_voltage_v"),
    # the field turns at 120 f / poles, and power is torque times speed
    *rows(f"{MILL}/", "six poles", "+", "poles", "torque/rated_nm"),
    *rows(f"{MILL}/", "six poles", "-", "synchronous_speed_rpm", "rated_speed_rpm"),
    *rows(f"{MILL}/", "all at 60 Hz", "+", "synchronous_speed_rpm", "rated_speed_rpm"),
    # what is stamped
    *rows(f"{MILL}/", "starts with more amps", "+", "locked_rotor_current_a"),
    *rows(f"{MILL}/", "starts with more torque", "+", "torque/locked_nm"),
    *rows(f"{MILL}/", "breaks down later", "+", "torque/breakdown_nm"),
]  # fmt: skip


def on_rectifier(prefix):
    return [
        # more watts recharge the link for longer in every half wave: longer pulses are less
        # peaked; deeper valleys, more amps through the supply's ohms
        *rows(prefix, "harder work", "+", "link/power_w", "harmonics_a/0", "dc_link_v/ripple",
              "service_voltage_thd"),
        *rows(prefix, "harder work", "-", "input_current_thd", "input_crest_factor",
              "dc_link_v/mean", "dc_link_v/lowest", "undistorted_output_v"),
        *rows(prefix, "harder work", "~", "input_displacement_factor", "harmonics_deg/2"),
        # a larger drive has a larger link behind the same resistor; the choke is a share of ohms
        *rows(prefix, "larger motor", "+", "link/capacitance_f", "inrush/charge_s",
              "inrush/least_off_s"),
        *rows(prefix, "larger motor", "-", "link/ac_choke_h"),
        *rows(prefix, "higher mains", "+", "inrush/peak_a"),
    ]  # fmt: skip


def on_torque(prefix):
    """The motor on its drive; point 3 is at 40 % of the plate's speed, 6 at all of it, 7 at the
    highest."""
    return [
        *rows(prefix, "a tool that must not race", "-", "torque_speed/7/speed_ratio",
              "delta_87/speed_max_ratio"),
        *rows(prefix, "all at 60 Hz", "+", "torque_speed/6/speed_rpm",
              "torque_speed/6/frequency_hz"),
        *rows(prefix, "lower plate volts", "-", "torque_speed/3/line_voltage_v"),
        # full flux to more hertz where the winding wants fewer volts
        *rows(prefix, "lower plate volts", "+", "delta_87/base_frequency_hz",
              "delta_87/power_ratio"),
        *rows(prefix, "harder work", "+", "torque_speed/6/need_ratio"),
        # the link's volts fall with its watts, and with them the flux and what amps make of it
        *rows(prefix, "harder work", "-", "torque_speed/6/flux_ratio",
              "torque_speed/6/lasting_ratio", "torque_speed/6/lasting_with_fan_ratio"),
        *rows(prefix, "breaks down later", "+", "torque_speed/6/pull_out_ratio",
              "torque_speed/6/short_time_ratio", "torque_speed/6/tuned_short_time_ratio"),
        # another leakage, found by another fit
        *rows(prefix, "breaks down later", "~", "delta_87/lasting_ratio"),
        # fewer ohms at more amps, at fewer volts in all
        *rows(prefix, "larger motor", "-", "boost_v"),
        *rows(prefix, "larger motor", "+", "forced_fan_price"),
        *rows(prefix, "more amps", "+", "delta_87/output_current_a"),
        # the crest of the highest mains is what the edges are high
        *rows(prefix, "higher mains", "+", "insulation/link_peak_v", "insulation/peak_v",
              "insulation/steepness_v_per_s"),
        # an old winding bears less
        *rows(prefix, "an old winding", "-", "insulation/longest_lead_m"),
    ]  # fmt: skip


def on_drive(prefix):
    return [
        # harder work takes more current and power; fixed losses weigh less in it, and the link's
        # capacitor is recharged for longer in every half wave
        *rows(prefix, "harder work", "+", "input_current_a/low", "input_current_a/expected",
              "input_current_a/high", "input_power_w", "input_power_factor", "output_current_a",
              "efficiency"),
        *rows(prefix, "larger motor", "+", "usable_power_w", "drive_rating_w", "drive_rating_a",
              "price"),
        *on_rectifier(prefix),
        *rows(prefix, "dear drive", "+", "price"),
        # full volts to a higher frequency where the mains stand higher
        *rows(prefix, "higher mains", "+", "base_frequency_hz"),
        *rows(prefix, "breaks down later", "+", "starting_torque_ratio"),
        # its own fan turns slower with it: the harder it works, the sooner it gets hot
        *rows(prefix, "harder work", "+", "speed_min_ratio"),
        *rows(prefix, "a tool that must not race", "-", "speed_max_ratio"),
        *on_torque(prefix),
    ]  # fmt: skip


def on_starts(prefix):
    """A start computed in time: inertia takes time, ohms ahead of it make it dip, amps at
    standstill are amps of the start."""
    return [
        *rows(prefix, "a heavier tool", "+", "time_s"),
        *rows(prefix, "softer supply", "+", "dip"),
        *rows(prefix, "starts with more amps", "+", "supply_peak_a"),
    ]


def on_rotary(prefix, *, whole):
    """`whole`: judged alone, priced and with an idler of its own."""
    found = [
        *rows(prefix, "harder work", "+", "input_current_a/low", "input_current_a/expected",
              "input_current_a/high", "input_power_w", "input_power_factor",
              "line_currents_a/motor/2"),
        # at 80 % of its load its fixed losses, and the idler's, weigh less
        *rows(prefix, "harder work", "+", "efficiency_loaded"),
        # ohms ahead of lines 1 and 2 take volts from all three
        *rows(prefix, "softer supply", "-", "usable_power_w", "usable_by_overload_w"),
        *rows(prefix, "smaller motor", "-", "usable_by_heat_w", "usable_power_w"),
        *rows(prefix, "softer supply", "+", "voltage_dip_ratio"),
        # at standstill a motor is its leakage: amps with the volts, torque with their square;
        # idling, iron and magnetising amps grow with the volts
        *rows(prefix, "higher mains", "+", "starting_torque_ratio", "starting_current_a",
              "idle_power_w", "line_voltages_v/idle/0",
              "line_voltages_v/idle/2", "line_voltages_v/loaded/0", "line_voltages_v/loaded/1",
              "line_voltages_v/loaded/2"),
        *rows(prefix, "starts with more amps", "+", "starting_current_a"),
        *rows(prefix, "smaller motor", "-", "idler_power_w", "start_capacitance_f"),
        *on_starts(f"{prefix}starts/"),
        *rows(prefix, "a heavier tool", "+", "starts/time_high_s"),
        # another idler, with another start capacitor and perhaps a resistor
        *rows(prefix, "smaller motor", "~", "idler_start/time_s", "idler_start/dip",
              "idler_start/supply_peak_a", "idler_start/start_capacitor_on_s"),
        # tuned for one load: another is less or more even
        *rows(prefix, "higher mains", "~", "run_capacitance_f/c23", "run_capacitance_f/c31"),
        *rows(prefix, "harder work", "~", "unbalance/idle/vuf", "unbalance/idle/nema",
              "unbalance/loaded/vuf", "unbalance/loaded/nema", "line_currents_a/idler/0"),
    ]  # fmt: skip
    return found + (rows(prefix, "smaller motor", "-", "price") if whole else [])


def on_capacitors(way):
    prefix = f"{WAYS}/{way}/figures/"
    found = [
        *rows(prefix, "larger motor", "+", "input_current_a/low", "input_current_a/expected",
              "input_current_a/high", "input_power_w", "usable_power_w", "usable_by_heat_w",
              "usable_by_overload_w"),
        # more magnetising amps at higher volts
        *rows(prefix, "higher mains", "-", "input_power_factor"),
        *rows(prefix, "higher mains", "+", "starting_current_a", "idle_power_w"),
        *rows(prefix, "softer supply", "+", "voltage_dip_ratio", "starts/dip"),
        *rows(prefix, "a heavier tool", "+", "starts/time_s"),
        *rows(prefix, "larger motor", "+", "starts/supply_peak_a"),
    ]  # fmt: skip
    if way == "static_converter":
        found += rows(prefix, "higher mains", "+", "starting_torque_ratio")
        # of a run capacitor that is picked anew from a list
        found += rows(prefix, "higher mains", "~", "capacitor_voltage_v")
        found += rows(prefix, "larger motor", "+", "start_capacitance_f", "tuned_usable_power_w",
                      "tuned_run_capacitance_f")  # fmt: skip
    else:
        found += rows(prefix, "starts with more torque", "+", "starting_torque_ratio")
        found += rows(prefix, "larger motor", "+", "run_capacitance_f")
        # the start capacitor is picked from a list beside a run capacitor that moves as well
        found += rows(prefix, "higher mains", "~", "start_capacitance_f", "capacitor_voltage_v")
    return found


def on_swap(prefix):
    return [
        *rows(prefix, "harder work", "+", "input_current_a/low", "input_current_a/expected",
              "input_current_a/high", "input_power_w", "input_power_factor"),
        # a smaller motor is a worse one by a little
        *rows(prefix, "smaller motor", "-", "usable_power_w", "efficiency"),
        *rows(prefix, "higher mains", "+", "starting_torque_ratio", "starting_current_a"),
        *rows(prefix, "softer supply", "+", "voltage_dip_ratio"),
        *rows(prefix, "dear single-phase motor", "+", "price"),
    ]  # fmt: skip


SWAPPED = [
    *on_swap(f"{WAYS}/motor_swap/figures/"),
    *on_swap("plans/swaps/equipment/motor_swap Mill/cutter/figures/"),
    *on_swap("plans/swaps/motors/Mill/cutter/figures/"),
]


def on_equal_lines(way):
    """Three equal lines: of an electronic source, or of a service."""
    prefix = f"{WAYS}/{way}/figures/"
    found = [
        *rows(prefix, "harder work", "+", "input_current_a/low", "input_current_a/expected",
              "input_current_a/high", "input_power_w"),
        *rows(prefix, "larger motor", "+", "usable_power_w"),
        *rows(prefix, "softer supply", "+", "voltage_dip_ratio"),
    ]  # fmt: skip
    if way == "utility_service":
        # on equal lines a start is the motor's own
        found += on_starts(f"{prefix}starts/")
        found += rows(prefix, "a heavier tool", "+", "starts/time_high_s")
        found += rows(prefix, "starts with more torque", "+", "starting_torque_ratio")
        found += rows(prefix, "starts with more amps", "+", "starting_current_a")
        # magnetising amps weigh less in harder work
        return found + rows(prefix, "harder work", "+", "input_power_factor")
    # its standby weighs less in harder work; the ramp it starts by asks for no more than that
    found += rows(prefix, "harder work", "+", "output_current_a", "efficiency",
                  "starting_current_a")  # fmt: skip
    found += rows(prefix, "breaks down later", "+", "starting_torque_ratio")
    return found + rows(prefix, "smaller motor", "-", "price")


def on_sheet(prefix):
    """What is set in a drive: the motor's data as stamped or computed, limits, a sheet of them."""
    data, entered = f"{prefix}motor_on_drive/", f"{prefix}settings/"
    return [
        *rows(data, "lower plate volts", "-", "voltage_v"),
        *rows(data, "all at 60 Hz", "+", "frequency_hz", "speed_rpm", "slip_hz"),
        *rows(data, "more amps", "+", "current_a"),
        *rows(data, "larger motor", "+", "power_w", "no_load_current_a", "breakaway_a"),
        *rows(data, "six poles", "+", "poles"),
        # less resistance in a larger winding, thus fewer volts for the amps that break away
        *rows(data, "larger motor", "-", "stator_resistance_ohm",
              "breakaway_boost_v"),
        *rows(data, "better power factor", "+", "power_factor"),
        # a larger drive gives more for a minute
        *rows(prefix, "larger motor", "+", "current_limit_a"),
        # a long run-up warms a relay; what hums higher is heard less
        *rows(prefix, "a heavy wheel", "+", "overload_class"),
        *rows(prefix, "quiet is wished for", "+", "carrier_hz"),
        *rows(entered, "larger motor", "+", "rated_power/value", "current_limit/value"),
        *rows(entered, "more amps", "+", "rated_current/value", "overload_current/value"),
        *rows(entered, "a heavier tool", "+", "ramp_up/value", "ramp_down/value"),
    ]  # fmt: skip


def on_rewiring(prefix):
    """A brake is a step more of what is wired anew, ahead of the last, which proves it all."""
    return rows(f"{prefix}rewiring/", "a spring brake", "+", "prove/step")


BY_CAPACITOR = "motors/Sander/belt/ways/capacitor_run"
WISHED = "a stop in 1 s"


def on_stops(prefix):
    """What turns takes time to turn faster, and to stop, and leaves its energy somewhere."""
    injected = f"{prefix}dc_injection/"
    return [
        *rows(prefix, "a heavier tool", "+", "ramp_up_s", "ramp_down_s", "stopping/time_s",
              "coasting_s"),
        *rows(injected, "a heavier tool", "+", "time_s", "heat_j", "rotor_j"),
        # as many amps as the winding bears for ever; torque goes with their square
        *rows(injected, "more amps", "+", "current_a", "torque/0/torque_nm"),
        *rows(injected, "six poles", "-", "torque/0/speed_rpm"),
        *rows(prefix, "a spring brake", "-", "emergency_stop/category"),
        # the same energy in less time is more watts at the volts of the link; the drive's own
        # least ohms go with its size; more stops an hour keep it at work for longer
        *rows(f"{prefix}brake_resistor/", "a stop in 0.7 s", "+", "peak_w", "w", before=WISHED),
        *rows(f"{prefix}brake_resistor/", "a stop in 0.7 s", "-", "ohm", "duty", before=WISHED),
        *rows(f"{prefix}brake_resistor/", "a stop in 1 s, more often", "+", "duty", before=WISHED),
        *rows(prefix, "a stop in 0.7 s", "-", "ramp_down_s", "stopping/time_s", before=WISHED),
    ]  # fmt: skip


STOPS = [
    *on_stops(f"{WAYS}/drive_per_motor/figures/"),
    *on_stops(f"{WAYS}/shared_drive/figures/"),
    *on_stops("plans/drives/motors/Mill/cutter/figures/"),
    *on_stops(f"plans/drives/equipment/{DRIVE}/figures/"),
    # the resistor is paid for
    *rows(f"{WAYS}/drive_per_motor/figures/", WISHED, "+", "price"),
    *rows("plans/drives/", WISHED, "+", "purchase"),
]
WAYS_OF_MOTORS = [
    *STOPS,
    *on_sheet(f"{WAYS}/drive_per_motor/figures/"),
    *on_sheet(f"{WAYS}/shared_drive/figures/"),
    *on_sheet("plans/drives/motors/Mill/cutter/figures/"),
    *on_rewiring(f"{WAYS}/drive_per_motor/figures/"),
    *on_rewiring(f"{WAYS}/shared_drive/figures/"),
    *on_rewiring("plans/drives/motors/Mill/cutter/figures/"),
    # fewer amps, a smaller one of the drives that step up
    *(row for way in ("drive_per_motor", "shared_drive") for row in rows(
        f"motors/Sander/belt/ways/{way}/figures/delta_87/", "smaller sander", "-",
        "drive_rating_w", "price")),
    *on_drive(f"{WAYS}/drive_per_motor/figures/"),
    *on_drive(f"{WAYS}/shared_drive/figures/"),
    *on_rotary(f"{WAYS}/{ROTARY}/figures/", whole=True),
    *on_capacitors("static_converter"),
    *on_capacitors("capacitor_run"),
    *on_equal_lines("electronic_converter"),
    *on_equal_lines("utility_service"),
    # of the three motors only the sander's may run on a capacitor
    *rows(f"{BY_CAPACITOR}/", "smaller sander", "-", "figures/price", "full_load_current_a"),
    *rows(f"{BY_CAPACITOR}/", "sander of more amps", "+", "full_load_current_a"),
    *rows(f"{BY_CAPACITOR}/", "sander of lower volts", "-", "line_voltage_v"),
    *(row for way in ("drive_per_motor", "shared_drive", ROTARY, "electronic_converter",
                                 "utility_service") for row in (
        *rows(f"{WAYS}/{way}/", "lower plate volts", "-", "line_voltage_v"),
        *rows(f"{WAYS}/{way}/", "more amps", "+", "full_load_current_a"))),
]  # fmt: skip

DRIVES, TURNING = "plans/drives/", "plans/rotary/"
IDLER = f"{TURNING}equipment/converter/"
LOST = f"{IDLER}supply_lost/"
SWITCHED = "plans/switched/"
BATTERY, GENERATOR = "plans/battery/", "plans/generator/"
ON_BATTERY = [
    # the supply fills the battery: the larger it must be, the more watts; amps are watts over volts
    *(row for of in ("motors/Mill/cutter", "equipment/battery inverter") for row in rows(
        f"{BATTERY}{of}/figures/", "hard work without a pause", "+", "battery_kwh",
        "charger_power_w")),
    *rows(f"{BATTERY}{MILL}/figures/", "hard work without a pause", "+",
          "input_current_a/expected", "input_power_w", "starting_current_a", "voltage_dip_ratio"),
    *rows(f"{BATTERY}{MILL}/figures/", "higher mains", "-", "input_current_a/expected",
          "starting_current_a"),
    *rows(f"{BATTERY}{MILL}/figures/", "softer supply", "+", "voltage_dip_ratio"),
    # the standby weighs less in harder work, and so do the fixed losses of the motor
    *rows(f"{BATTERY}{MILL}/figures/", "harder work", "+", "output_current_a", "efficiency"),
]  # fmt: skip
ON_GENERATOR = [
    *rows(f"{GENERATOR}{MILL}/figures/", "harder work", "+", "output_current_a", "fuel_l_per_h"),
    # of the same size both times
    *rows(f"{GENERATOR}{MILL}/figures/", "larger motor", "+", "source_dip_ratio", "fuel_l_per_h"),
    *rows(f"{GENERATOR}{MILL}/figures/", "smaller motor", "-", "idle_power_w"),
    *rows(GENERATOR, "smaller motor", "-", "equipment/generator/rating",
          "equipment/generator/figures/idle_power_w"),
    *rows(GENERATOR, "dearer fuel", "+", f"{MILL}/figures/own_energy_price",
          "equipment/generator/figures/own_energy_price", "energy_per_year",
          "lifetime_cost/expected"),
]  # fmt: skip
BROUGHT = f"{SWITCHED}{MILL}/figures/travelling_capacitance_f/Mill/cutter"
WITH = f"{SWITCHED}equipment/converter/supply_lost/with_machines"
TO_MILL, TO_DRIVE = (
    f"{TURNING}circuits/converter to Mill/cutter/",
    f"{DRIVES}circuits/supply to {DRIVE}/",
)
CIRCUITS = [
    # more amps through the same copper; then thicker copper, a larger breaker
    *rows(TO_DRIVE, "harder work", "+", "design_current_a", "voltage_drop/running"),
    *rows(TO_DRIVE, "larger motor", "+", "conductor_m2", "ampacity_a", "device/rating_a",
          "protective_conductor/area_m2", "fault_at_end_a", "earth_fault_a"),
    *rows(TO_DRIVE, "larger motor", "-", "loop_ohm"),
    *rows(TO_DRIVE, "softer supply", "-", "fault_at_origin_a", "fault_at_end_a", "earth_fault_a"),
    *rows(TO_DRIVE, "softer supply", "+", "loop_ohm"),
    # fewer amps of fault heat its conductor less
    *rows(TO_DRIVE, "softer supply", "-", "protective_conductor/adiabatic_m2"),
    *rows(TO_DRIVE, "higher mains", "+", "voltage_v", "fault_at_origin_a"),
    # standstill takes more, a heavy tool for longer, so the breaker and its isolator grow
    *rows(TO_MILL, "starts with more amps", "+", "starting_current_a", "voltage_drop/starting"),
    *rows(TO_MILL, "a heavier tool", "+", "starting_s", "device/rating_a", "isolator/rating_a",
          "phase_relay/delay_s"),
    *rows(TO_MILL, "more amps", "+", "overload_setting_a", "full_load_a/0",
          "motor/plate_a"),
    *rows(TO_MILL, "larger motor", "+", "motor/power_w"),
    *rows(f"{TURNING}motors/Mill/cutter/", "a heavier tool", "+", "figures/circuit_rating_a"),
    # volts over ohms, behind rods as much as behind the idler
    *rows(TO_MILL, "higher mains", "+", "earth_fault_a", "first_cycles_a"),
    *rows(IDLER, "higher mains", "+", "figures/line3_earth_fault_a"),
    *rows(f"{TURNING}motors/Mill/cutter/", "higher mains", "+", "figures/line3_earth_fault_a"),
    # thicker copper is dearer, and a larger breaker; a dear drive leaves its circuits as they are
    *rows(f"{DRIVES}circuit_parts/cable of supply to {DRIVE}/", "larger motor", "+", "rating",
          "price/low", "price/expected", "price/high"),
    *rows(DRIVES, "larger motor", "+", "circuits_cost/low", "circuits_cost/expected",
          "circuits_cost/high"),
    *rows(DRIVES, "dear drive", "+", "purchase_with_circuits", "lifetime_cost_with_circuits"),
    # a larger breaker ahead leaves more to the one behind; a short is volts over ohms
    *rows(f"{TURNING}circuits/converter to Pump/wheel/", "a heavier tool", "+",
          "selective_up_to_a"),
    # what the sets themselves do
    *rows(TO_MILL, "higher mains", "+", "phase_relay/undervoltage_v"),
    *rows(TO_MILL, "harder work", "~", "phase_relay/unbalance"),
    # the bank is tuned anew; the more of it, the lower the resistor that empties it in time
    *rows(f"{TURNING}circuits/converter to run capacitor 3-1/", "harder work", "~",
          "capacitance_f", "discharge_ohm"),
]  # fmt: skip
NETWORK = [
    # a fall is amps times ohms; more falls, or deeper ones, flicker more; the reference is fixed
    *rows(f"{TURNING}network_effects/", "softer supply", "+", "starts/Mill/cutter/change_at_intake",
          "starts/Mill/cutter/change_in_place", "flicker_at_intake/low",
          "flicker_at_intake/expected", "flicker_at_intake/high", "flicker_in_place/low",
          "flicker_in_place/expected", "flicker_in_place/high",
          "long_flicker_at_intake/low", "long_flicker_at_intake/expected",
          "long_flicker_at_intake/high", "long_flicker_in_place/low",
          "long_flicker_in_place/expected", "long_flicker_in_place/high"),
    *rows(f"{TURNING}network_effects/", "started more often", "+", "flicker_at_intake/low",
          "flicker_in_place/expected", "starts/Mill/cutter/starts_per_hour"),
    *rows(f"{TURNING}network_effects/", "starts with more amps", "+",
          "starts/Mill/cutter/starting_current_a", "starts/Mill/cutter/change_on_reference"),
    # the more it falls on the reference, the less impedance is allowed
    *rows("findings/iec.61000_3_11.4 Mill/cutter/", "starts with more amps", "-", "allowed",
          "remedy/value"),
    *rows("findings/iec.61000_3_11.4 Mill/cutter/", "softer supply", "+", "found"),
    *rows("findings/en.50160.flicker supply/", "softer supply", "+", "found"),
]  # fmt: skip
PLANS = [
    # money: prices, hours and rates go straight into the sums they are part of
    *rows(DRIVES, "dear drive", "+", "purchase", f"buys/{DRIVE}/price",
          f"buys/{DRIVE}/parts/drive_per_motor/price", "years/0/buys", "lifetime_cost/expected",
          "lifetime_cost/low", "lifetime_cost/high"),
    *rows(TURNING, "dear idler", "+", "purchase"),
    *rows(DRIVES, "larger motor", "+", f"buys/{DRIVE}/rating",
          f"buys/{DRIVE}/parts/drive_per_motor/rating"),
    *rows(DRIVES, "dearer hours", "+", "labour", "years/0/labour", "years/1/upkeep",
          "lifetime_cost/expected", "lifetime_cost/low", "lifetime_cost/high"),
    *rows(DRIVES, "dear drive", "+", "lifetime_cost/parts/buys"),
    *rows(DRIVES, "dearer hours", "+", "lifetime_cost/parts/labour", "lifetime_cost/parts/upkeep"),
    *rows(DRIVES, "dearer energy", "+", "lifetime_cost/parts/energy"),
    *rows(DRIVES, "dearer energy", "+", "energy_per_year", "years/1/energy",
          "years/1/paid_so_far/expected", "years/1/paid_so_far/low", "years/1/paid_so_far/high",
          "lifetime_cost/expected", "lifetime_cost/low", "lifetime_cost/high"),
    *rows(DRIVES, "longer under load", "+", "energy_per_year"),
    *rows(DRIVES, "more hours", "+", "energy_per_year"),
    *rows(DRIVES, "longer plan", "+", "lifetime_cost/expected"),
    *rows(DRIVES, "higher discount", "-", "lifetime_cost/expected"),
    *rows(DRIVES, "surer machine", "+", "lifetime_cost/expected", "years/9/energy"),
    *rows(DRIVES, "later machine", "-", "lifetime_cost/expected", "years/4/energy"),
    *rows(TURNING, "longer idling", "+", "idle_energy_per_year_kwh", "energy_per_year"),
    # a smaller idler is built sooner and hums less
    *rows(TURNING, "smaller motor", "-", "hours_of_work", "labour"),
    *rows(TURNING, "larger motor", "+", "noise_dba"),
    # the dearer a drive, the more it may be regretted
    *rows(DRIVES, "dear drive", "+", "regret/expected", "regret/worst"),
    # amps
    *rows(DRIVES, "harder work", "+", "supply_current_a/running", "supply_current_a/starting"),
    *rows(TURNING, "starts with more amps", "+", "supply_current_a/starting"),
    *rows(TURNING, "softer supply", "+", "voltage_dip/ratio"),
    *rows(DRIVES, "more amps", "+", "motors/Mill/cutter/overload_setting_a"),
    *on_drive(f"{DRIVES}motors/Mill/cutter/figures/"),
    *on_rotary(f"{TURNING}motors/Mill/cutter/figures/", whole=False),
    *on_starts(f"{TURNING}starts/Mill/cutter/"),
    # a resistor is a share of rated volts over starting amps, which grow with the volts
    *rows("plans/plan 3/motors/Mill/cutter/figures/", "higher mains", "-",
          "idler_start/resistor_ohm"),
    *rows(f"{TURNING}starts/Mill/cutter/", "a heavier tool", "+", "time_high_s"),
    *rows(f"{TURNING}starts/Mill/cutter/", "starts with more amps", "-", "line3_lowest_v"),
    # more to speed up is more heat; more heat at work leaves less for starts
    *rows(f"{TURNING}starts/Mill/cutter/winding_c/", "a heavier tool", "+", "low", "expected",
          "high"),
    *rows(f"{TURNING}starts/Mill/cutter/starts_per_hour/", "harder work", "-", "windings/low",
          "windings/high"),
    *rows(f"{TURNING}starts/Mill/cutter/starts_per_hour/", "started more often", "+", "asked"),
    # what is turning at one time
    *(row for plan in (DRIVES, TURNING) for row in (
        *rows(f"{plan}cases/Mill/cutter/", "harder work", "+", "supply_current_a",
              "supply_power_w"),
        *rows(f"{plan}cases/Mill/cutter/", "more beside", "-", "room_left_a"),
        *rows(f"{plan}cases/Mill/cutter/", "brighter lamp", "+", "supply_current_a",
              "supply_power_w"),
        *rows(f"{plan}cases/Mill/cutter/", "brighter lamp", "-", "room_left_a"),
        *rows(plan, "brighter lamp", "+", "supply_current_a/running"),
        *rows(f"{plan}cases/Mill/cutter/", "larger service", "+", "room_left_a"))),
    *rows(f"{TURNING}cases/Mill/cutter/", "more beside", "-", "room_left_starting_a"),
    *rows(f"{TURNING}cases/Mill/cutter/", "larger service", "+", "room_left_starting_a"),
    # the drives of a set together: as one drive
    *rows(f"{DRIVES}cases/Mill/cutter/harmonics/", "harder work", "+", "current_a",
          "service_voltage_thd", "neutral_a", "harmonics_a/0"),
    *rows(f"{DRIVES}cases/Mill/cutter/harmonics/", "harder work", "-", "current_thd",
          "crest_factor", "conductor_heat_ratio"),
    *rows(f"{TURNING}cases/Mill/cutter/", "higher mains", "+", "line_voltages_v/0",
          "line_voltages_v/1", "line_voltages_v/2"),
    # line 2 is the earthed one, so the others stand from earth as from it
    *rows(f"{TURNING}cases/Mill/cutter/", "higher mains", "+", "lines_to_earth_v/0",
          "lines_to_earth_v/2"),
    *rows(IDLER, "higher mains", "+", "lines_to_earth_v/0"),
    *rows(IDLER, "higher mains", "~", "lines_to_earth_v/2"),
    *rows(f"{TURNING}cases/Mill/cutter/", "harder work", "~", "unbalance/vuf", "unbalance/nema"),
    *rows(f"{TURNING}cases/Mill/cutter/", "harder work", "+",
          "line_currents_a/Mill/cutter/amps/2"),
    *ON_BATTERY,
    *ON_GENERATOR,
    # the things themselves
    *on_drive(f"{DRIVES}equipment/{DRIVE}/figures/"),
    *rows(f"{DRIVES}equipment/{DRIVE}/", "larger motor", "+", "rating"),
    *rows(IDLER, "smaller motor", "-", "rating", "figures/idler_power_w",
          "figures/start_capacitance_f", "equivalent_circuit/friction_w",
          "equivalent_circuit/stray_w", "equivalent_circuit/inertia_kg_m2"),
    *rows(IDLER, "higher mains", "+", "figures/idle_power_w"),
    *rows(IDLER, "higher mains", "~", "figures/run_capacitance_f/c23", "figures/run_capacitance_f/c31"),
    *rows(IDLER, "smaller motor", "+", *(f"equivalent_circuit/{name}" for name in (
          "stator_resistance_ohm", "stator_leakage_ohm", "magnetising_ohm", "core_loss_ohm",
          "cages/0/resistance_ohm", "cages/0/leakage_ohm", "cages/1/resistance_ohm"))),
    # torque at standstill grows with the square of the volts; lines turned backwards are fed by the
    # same supply, and below zero a higher speed is a lower number; amps by the bank of other volts
    *rows(IDLER, "higher mains", "+", "largest_starts/mixer/power_w",
          *(f"wrong_direction/line_voltages_v/{k}" for k in range(3))),
    *rows(f"{IDLER}wrong_direction/", "all at 60 Hz", "-", "idler_speed_rpm",
          "motors/Mill/cutter/speed_rpm"),
    *rows(f"{IDLER}wrong_direction/not_turned/", "higher mains", "~", "supply_current_a",
          "idler_current_a"),
    # without supply: a smaller idler asks for less to magnetise it, and so does 60 Hz at the same
    # volts; frequency follows the shaft; the bank is tuned for other things
    *rows(LOST, "smaller motor", "-", "run_capacitance_sum_f", "onset_sum_f/low",
          "onset_sum_f/expected", "onset_sum_f/high", "full_volts_sum_f"),
    *rows(LOST, "all at 60 Hz", "-", "full_volts_sum_f"),
    *rows(LOST, "all at 60 Hz", "+", "frequency_hz"),
    *rows(LOST, "higher mains", "~", "self_excites/low", "self_excites/expected",
          "self_excites/high", "line_voltages_v/0", "line_voltages_v/1", "line_voltages_v/2",
          "braking_nm"),
    # capacitors that the mill brings are its own: more watts want more across 3-1, higher load
    # less across 2-3; hard iron beside them holds the less, the larger the motor that loads it
    *rows(f"{BROUGHT}/", "larger motor", "+", "c31"),
    *rows(f"{BROUGHT}/", "harder work", "-", "c23"),
    *rows(f"{WITH}/", "larger motor", "+", "run_capacitance_sum_f"),
    *rows(f"{WITH}/", "larger motor", "~", "self_excites/high"),
    # capacitors brought to harder work are more, and hold iron that is not hard as well
    *rows(f"{WITH}/", "hard work without a pause", "+", "run_capacitance_sum_f",
          "self_excites/expected"),
    # a bank of other cans, each with a resistor that empties it
    *rows(f"{SWITCHED}buys/{ROTARY} Mill/cutter/parts/", "harder work", "~", "bleeder/quantity"),
    # bought when its machine comes
    *rows(f"{DRIVES}buys/capacitor_run Sander/belt/", "later machine", "+", "year"),
    *rows(IDLER, "all at 60 Hz", "+", "equivalent_circuit/frequency_hz"),
    *rows(IDLER, "all at 60 Hz", "-", "equivalent_circuit/saturation/flux_vs"),
]  # fmt: skip

NO_LOAD = "machines[0].motors[0].plate.no_load_current"
REACTANCE = "assumed/supply.loop_impedance supply reactance/"
FACTS = [
    # a share of what was measured, a share of the rated current
    *rows(REACTANCE, "softer supply", "+", "value", "low", "high"),
    *rows(f"missing/{NO_LOAD}/", "larger motor", "+", "low", "high"),
    # what losses cost is hours times price: the dearer, the more is at stake in the hours
    *rows("missing/machines[0].hours_per_year/", "near, hours unknown, dearer energy", "+",
          "worth", before="near, hours unknown"),
    *rows("answer/changes_if/machines[0].hours_per_year up/", "near, dearer energy", "-", "to",
          before="near"),
    *rows("answer/changes_if/tariff.energy up/", "near, dearer energy", "+", "from", "looked_to",
          "saves_there", before="near"),
    *rows("answer/changes_if/tariff.energy up/", "near, dearer energy", "-", "dearer_now",
          before="near"),
    *rows("answer/stays_if/wishes.plan_years/", "near, longer plan", "+", "from", "low", "high",
          before="near"),
    # tuned anew for other volts, line 3 stands elsewhere
    *rows("findings/line3.to_earth converter/", "higher mains", "~", "found"),
    # currents must stand in the inverse ratio of the volts
    *rows("findings/amps_ratio Mill/cutter/", "odder amps", "+", "found", before="odd amps"),
    *rows("findings/amps_ratio Mill/cutter/", "odd amps, other volts", "+", "allowed",
          before="odd amps"),
]  # fmt: skip

ROWS = [
    *SUPPLY, *MOTOR, *WAYS_OF_MOTORS, *SWAPPED, *PLANS, *CIRCUITS, *NETWORK, *FACTS,
]  # fmt: skip

IDENTITIES = {
    **{
        f"{where}/figures/{name}": words
        for where in ("motors/*/ways/drive_per_motor", "motors/*/ways/shared_drive",
                      "plans/*/motors/*", "plans/*/equipment/*")
        for name, words in {
            "link/dc_choke_h": "a choke in the link is not chosen here: none",
            "leakage_ma": "one figure for any drive with its filter",
            "lowest_speed_with_fan_ratio": "what a drive holds, below what these loads ask",
            "delta_87/output_voltage_v": "the class of drives that step up",
            "insulation/lead_m": "a usual lead where nobody told",
            "insulation/rise_s": "one figure of any drive's edges",
            "insulation/allowed_peak_v": "one figure of any ordinary winding",
        }.items()
    },
    "motors/*/equivalent_circuit/saturation/k": "one published law of iron for all motors",
    "motors/*/equivalent_circuit/saturation/s": "one published law of iron for all motors",
    "plans/*/equipment/*/equivalent_circuit/saturation/k": "the same law for idlers",
    "plans/*/equipment/*/equivalent_circuit/saturation/s": "the same law for idlers",
    "motors/*/ways/drive_per_motor/figures/idle_power_w": "one figure of standby for any drive",
    "motors/*/ways/shared_drive/figures/idle_power_w": "one figure of standby for any drive",
    "motors/*/ways/electronic_converter/figures/input_power_factor":
        "a sine in phase with the volts and one distortion, whatever it gives",
    "motors/*/ways/utility_service/figures/price": "one lump, whatever hangs on it",
    "motors/*/ways/rotary_converter/figures/idler_start/drop_out_ratio": "one setting for all",
    "plans/*/motors/*/figures/idler_start/drop_out_ratio": "one setting for all",
    "motors/*/ways/rotary_converter/figures/run_capacitance_f/c12":
        "a capacitor across the supply shifts no volts of line 3: none is fitted",
    "plans/*/motors/*/figures/run_capacitance_f/c12": "as above",
    "plans/*/equipment/*/figures/run_capacitance_f/c12": "as above",
    "plans/*/equipment/*/supply_lost/with_machines/self_excites/low":
        "what the machines of this shop bring lies below the onset but with hard iron",
    "plans/*/motors/*/figures/round_trip_efficiency": "one figure of what any battery loses",
    "plans/*/equipment/*/figures/round_trip_efficiency": "as above",
    **{
        f"plans/*/circuits/*/{name}": words
        for name, words in {
            "device/breaking_ka": "the least sold bears any fault of a house's supply",
            "disconnects_s": "a time that a standard prints for what opens it",
            "residual_current/trips_s": "as above",
            "within_s": "a time that a standard prints for the kind of circuit",
            "residual_current/rating_ma": "a size of which the usual one bears every leakage here",
            "residual_current/leakage_ma": "one figure for any drive with its filter",
            "grouped": "a count of circuits in one pipe, one where nothing is told",
            "isolator/poles": "a count of poles",
            "motor/phases": "a count of phases",
            "motor/overload_units": "a count: one in each line",
            "loaded": "a count of conductors",
        }.items()
    },
    **{
        f"plans/*/{where}/*/figures/delta_87/{name}":
            "a size from a list, tested under the motor's own ways"
        for where in ("motors", "equipment") for name in ("drive_rating_w", "price")
    },
    "plans/*/buys/*/quantity": "a count of one purchase",
    "plans/*/years/*/year": "the name of a row",
}  # fmt: skip
