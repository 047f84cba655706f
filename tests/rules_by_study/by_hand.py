"""Rules whose remedy is no single fact of the shop file: what breaks them, and what ends it.

By rule: the edit of the base shop that breaks it, and the edit that does what its remedy says.
"""

LOAD = "machines[0].motors[0].load"
PLATE = "machines[0].motors[0].plate"
SHED = {"name": "shed", "feeder": {"length": "20 m", "conductor": "10 mm2"}}
SOFT = {"supply.feeder": None, "supply.heater_test": None, "supply.loop_impedance": "1.2 ohm"}
OFTEN = {"machines[0].starts_per_hour": 60}
SELDOM = {"machines[0].starts_per_hour": 1}
STIFF = {"supply.loop_impedance": "0.05 ohm"}
HIGH = {"supply.measured_voltage": {"low": "262 V", "high": "268 V"}}
USUAL = {"supply.measured_voltage": {"low": "226 V", "high": "232 V"}}
RECTIFIER = [{"kind": "rectifier", "power": "3 kW", "phases": 3}]

BY_HAND = {
    "emc.floating_supply": ({"supply.earthed": "none"}, {"supply.earthed": "line_2"}),
    "en.50160.flicker": (SOFT | OFTEN, SELDOM | STIFF),
    "iec.61000_3_2": ({}, {"machines[0].users": "employees"}),
    "iec.61000_3_3.5_a": (SOFT | OFTEN, SELDOM | STIFF),
    "iec.61000_3_3.5_b": (SOFT | OFTEN | {f"{LOAD}.kind": "compressor"}, SELDOM),
    "line3.rectifier": ({"machines[0].others": RECTIFIER}, {"machines[0].others": []}),
    "operator.told": (
        {"supply.country": "FR", f"{PLATE}.starting_current": 7.5},
        {f"{PLATE}.starting_current": 4.0},
    ),
    "place.third_conductor": (
        {"places": [SHED], "machines[0].place": "shed"},
        {"machines[0].place": None},
    ),
    "supply.high_mains": (HIGH, USUAL),
}
