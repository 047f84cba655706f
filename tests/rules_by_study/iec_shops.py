"""Shops that break a clause of the IEC family, each a small edit of the base shop."""

CIRCUIT = "machines[0].circuit"
CABLE = "machines[0].cable"
CONVERTER = "supply.converter_circuit"
SHED = {"name": "shed", "feeder": {"length": "20 m", "conductor": "10 mm2"}}
SOFT = {"supply.feeder": None, "supply.heater_test": None, "supply.loop_impedance": "0.6 ohm"}
STIFF = SOFT | {"supply.loop_impedance": "0.06 ohm"}
PLUG = {"machines[0].connects_by": "plug"}
NO_DEVICE = {"residual_current": "none"}

BREAKS = {
    "iec.60204_1.18_3": {"machines[0].motors[0].insulation_resistance": "0.2 Mohm"},
    "iec.60204_1.5_3": {CIRCUIT: {"isolator": "none"}},
    "iec.60204_1.6_2_4": {CONVERTER: {"discharge_resistor": "none"}},
    "iec.60204_1.7_3_1": {CIRCUIT: {"overload": "none"}},
    "iec.60204_1.7_5": {CIRCUIT: {"undervoltage_release": False}},
    "iec.60204_1.7_8": {
        CONVERTER: {"phase_relay": False},
        "machines[0].wrong_direction_harms": True,
    },
    "iec.60364_4_41.411_3_2": {CIRCUIT: NO_DEVICE | {"breaker": "D40"}},
    "iec.60364_4_41.411_3_3": PLUG | {CIRCUIT: NO_DEVICE},
    "iec.60364_4_41.411_5_3": {
        "supply.earthing": "TT",
        "places": [SHED | {"electrode": "400 ohm"}],
        "machines[0].place": "shed",
        CIRCUIT: {"residual_current": {"rating": "500 mA"}},
    },
    "iec.60364_4_41.411_6_3": {"supply.earthed": "none", "supply.insulation_monitor": False},
    "iec.60364_4_42.422_3_9": {
        "places": [SHED | {"dust": True}],
        "machines[0].place": "shed",
        CIRCUIT: {"residual_current": {"rating": "500 mA"}},
    },
    "iec.60364_4_43.433_1_a": {CIRCUIT: {"breaker": "C6"}},
    "iec.60364_4_43.433_1_b": {CIRCUIT: {"breaker": "B40"}, CABLE: {"conductor": "2.5 mm2"}},
    "iec.60364_4_43.433_1_c": {CIRCUIT: {"breaker": "gG 25 A"}, CABLE: {"conductor": "2.5 mm2"}},
    "iec.60364_4_43.434_5_1": STIFF | {CIRCUIT: {"breaker": "C20", "breaking": "1.5 kA"}},
    "iec.60364_4_43.434_5_2": {
        CIRCUIT: NO_DEVICE | {"breaker": "D50"},
        CABLE: {"conductor": "1.5 mm2"},
    },
    "iec.60364_5_52.523_1": {CABLE: {"conductor": "1.5 mm2", "grouped": 6}},
    "iec.60364_5_52.524_1": {CABLE: {"conductor": "1 mm2"}},
    "iec.60364_5_53.536_4": {
        "supply.residual_current": {"rating": "300 mA", "type": "A", "delayed": False},
    },
    "iec.60364_5_53.537_2": {CIRCUIT: {"isolator": {"poles": 1}}},
    "iec.60364_5_54.543_1": {
        CIRCUIT: NO_DEVICE | {"protective_conductor": "1 mm2", "breaker": "D50"},
    },
    "iec.60364_5_54.543_1_3": {
        CIRCUIT: {"protective_conductor": "1.5 mm2", "earth_wire": "open"},
    },
    "iec.60364_5_54.544_1": {"supply.bonding_conductor": "2.5 mm2"},
    "iec.60364_7_705.705_411_1": {"supply.farm": True, CIRCUIT: NO_DEVICE},
    "iec.60898_1.instantaneous_bands": {CIRCUIT: {"breaker": "B13"}},
    "iec.61000_3_11.4": SOFT,
    "iec.61800_3.category": {},
    "iec.loop_impedance": {CIRCUIT: NO_DEVICE | {"breaker": "D63"}},
}
"""By rule, what is changed in the base shop."""

BASE_BREAKS = ("iec.61000_3_11.4", "iec.61800_3.category")
"""Broken by the base shop too: what it is about, is on most supplies."""
