"""Rules that no shop file makes fail with a remedy of its own, and why.

`docs/calculations/rules.md` prints this; every other rule stands in a table of shops beside it.
"""

ASKED_ON_SITE = "asked on site: no figure tells it, so it stands in the list to tick off"
BUILT_SO = "built so: what is bought, chosen or set goes by this limit itself"
NOT_OFFERED = "not offered: the search leaves out every plan that breaks it, and says what bars it"
NO_FACT = "fails, but no fact of the shop file ends it: "
NOT_SEEN = "not seen failing in a study yet: "

REASONS = {
    "battery.fillings": BUILT_SO,
    "capacitor.shaft_at_rest": ASKED_ON_SITE,
    "capacitor.voltage_class": BUILT_SO,
    "converter.over_excitation": NOT_SEEN + "capacitors are tuned to less flux than that",
    "converter.supply_lost": NO_FACT + "every idler with capacitors holds its lines for a while",
    "drive.amps": BUILT_SO,
    "drive.phase_watch": NO_FACT + "a larger drive or a choke is bought where its maker asks it",
    "drive.selector_interlocked": NO_FACT + "the selector is bought and wired with the drive",
    "drive.undervoltage": BUILT_SO,
    "emc.filter_stays": BUILT_SO,
    "emc.volts_to_earth": NO_FACT + "the drive's maker says how its filter is set",
    "en.50160.distortion": NO_FACT + "a choke or a stiffer source is bought",
    "iec.60034_1.7_2_1_1": NO_FACT + "two lines and capacitors never make three equal ones",
    "iec.60034_26.derating": NO_FACT + "less load, or capacitors switched with the machine",
    "iec.60204_1.18_2": ASKED_ON_SITE,
    "iec.60204_1.4_3_2": NO_FACT + "taps of a transformer, a larger idler or other capacitors do",
    "iec.60364_5_52.neutral": NO_FACT + "the cable of a new service is laid by it",
    "iec.61000_3_12": NO_FACT + "a choke or a drive with a shaped input is bought",
    "iec.61000_3_3.5_c": "kept by arithmetic: 16 A, to which it holds, move the reference supply "
    "by less than 3.3 %",
    "iec.61800_5_1.4_3_5_5_2": NOT_SEEN + "a drive's usual leak is taken as just this limit",
    "leakage.earth_conductor": NO_FACT + "the earth conductor to that place is doubled",
    "machine.wrong_direction": ASKED_ON_SITE,
    "motor.unbalance": NO_FACT + "capacitors or a larger idler are bought, or the way is another",
    "nema.mg1.12_45": NO_FACT + "less load, or capacitors switched with the machine",
    "place.feeder_rating": NOT_OFFERED,
    "residual.not_defeated": ASKED_ON_SITE,
    "residual.sees": BUILT_SO,
    "socket.earth_core": ASKED_ON_SITE,
    "start.winding_heat": NOT_SEEN + "a start so heavy is refused before",
    "stop.emergency_category": BUILT_SO,
    "stop.injection_heat": BUILT_SO,
    "stop.isolation": BUILT_SO,
    "stop.resistor_ohms": BUILT_SO,
    "stop.threaded_nose": BUILT_SO,
    "stop.torque_off": NO_FACT + "which inputs a drive has is seen when it is bought",
    "supply.contracted_power": NOT_OFFERED,
    "supply.hold_in": NOT_SEEN + "starts so deep are refused before",
    "supply.outlet_rating": NOT_OFFERED,
    "supply.service_rating": NOT_OFFERED,
    "supply.start_dip": NOT_OFFERED,
}

SEEN_IN = {
    "converter.supply_lost": "tests/stories/bench_lathe",
    "drive.phase_watch": "tests/stories/gear_lathes",
    "drive.selector_interlocked": "tests/stories/dead_buttons",
    "emc.volts_to_earth": "tests/stories/gear_lathes",
    "en.50160.distortion": "tests/stories/off_grid",
    "iec.60034_1.7_2_1_1": "tests/stories/bench_lathe",
    "iec.60034_26.derating": "tests/stories/cabinet",
    "iec.60204_1.4_3_2": "tests/stories/cabinet",
    "iec.60364_5_52.neutral": "examples/bakery",
    "iec.61000_3_12": "tests/stories/cabinet",
    "leakage.earth_conductor": "examples/farm-sawmill",
    "motor.unbalance": "tests/stories/cabinet",
    "nema.mg1.12_45": "tests/stories/cabinet_lathe",
    "stop.torque_off": "tests/stories/bench_lathe",
}
"""A shop in which each rule that no fact of the shop file mends is seen failing."""
