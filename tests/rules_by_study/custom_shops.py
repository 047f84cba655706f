"""Shops that break a custom of the trade, each a small edit of the base shop."""

CIRCUIT = "machines[0].circuit"
CABLE = "machines[0].cable"
CONVERTER = "supply.converter_circuit"
SHED = {"name": "shed", "feeder": {"length": "20 m", "conductor": "10 mm2"}}
PLUG = {"machines[0].connects_by": "plug"}
SHELF = {"kind": "run_capacitor", "capacitance": "30 uF", "voltage": "250 V"}
DEAR_DRIVES = {
    "quotes": [
        {"kind": kind, "power": "2.2 kW", "price": 9000.0}
        for kind in ("drive_per_motor", "single_phase_motor", "shared_drive")
    ]
}

BREAKS = {
    "capacitor.owned_volts": {"owned_parts": [SHELF]},
    "circuit.cable_too_thin": {CABLE: {"length": "12 m", "conductor": "1.5 mm2"}},
    "isolator.rating": {CIRCUIT: {"isolator": {"rating": "6 A"}}},
    "overload.setting": {CIRCUIT: {"overload": "12 A"}},
    "place.dust": {"places": [SHED | {"dust": True}], "machines[0].place": "shed"},
    "place.frost": {"places": [SHED | {"ambient": "-8 °C"}], "machines[0].place": "shed"},
    "socket.rating": PLUG | {CIRCUIT: {"socket": {"rating": "16 A"}, "breaker": "C32"}},
    "socket.voltage": PLUG
    | {CIRCUIT: {"socket": {"rating": "32 A", "voltage": "400 V", "poles": 3}}},
    "start.starts_per_hour": DEAR_DRIVES | {"machines[0].starts_per_hour": 400},
    "supply.voltage_drop": {CABLE: {"length": "90 m", "conductor": "2.5 mm2"}},
}

BASE_BREAKS = ()
