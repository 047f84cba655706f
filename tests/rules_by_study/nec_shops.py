"""Shops of North America that break sections of the National Electrical Code.

Each is an edit of one base shop, invented: two machines of two motors on 120/240 V at 60 Hz. By
name: the edit, and the rules that it breaks all at once.
"""

from __future__ import annotations

import copy
import json

from rules_by_study.edits import put

MILL, SAW = "machines[0]", "machines[1]"
CONVERTER = "supply.converter_circuit"
SHED = {"name": "shed", "feeder": {"length": "60 ft", "conductor": "8 AWG", "breaker": "100 A"}}


def motor(name: str, hp: str, amps: str, speed: str, load: dict) -> dict:
    plate = {
        "power": hp, "voltage": "230/460 V", "current": amps, "frequency": "60 Hz",
        "speed": speed, "power_factor": 0.8, "service_factor": 1.15, "leads": 9,
    }  # fmt: skip
    return {"name": name, "plate": plate, "load": load}


BASE = {
    "phasewright": 1,
    "shop": "Base of North America",
    "region": "NEC",
    "supply": {
        "kind": "split_phase", "earthed": "centre", "country": "US", "voltage": "240 V",
        "frequency": "60 Hz", "measured_voltage": {"low": "234 V", "high": "246 V"},
        "service_rating": "200 A",
        "heater_test": {"unloaded": "243.0 V", "loaded": "241.0 V", "current": "20 A"},
        "feeder": {"length": "40 ft", "conductor": "2 AWG"},
        "service_conductor": "1/0 AWG", "electrode_conductor": "6 AWG",
    },
    "machines": [
        {"name": "Mill", "hours_per_year": 150, "idle_hours_per_year": 40, "starts_per_hour": 4,
         "motors": [motor("cutter", "3 hp", "9.0/4.5 A", "1735 rpm",
                          {"kind": "spindle", "torque": 0.7, "duty": 0.6})]},
        {"name": "Saw", "hours_per_year": 100, "starts_per_hour": 4,
         "motors": [motor("blade", "5 hp", "13.4/6.7 A", "3450 rpm",
                          {"kind": "saw", "torque": 0.7})]},
    ],
    "wishes": {"plan_years": 10, "discount_rate": 0.04, "who_wires": "own"},
}  # fmt: skip
HIGH_VOLTS = [
    {"name": "Planer", "motors": [motor("drum", "5 hp", "6.7 A", "3450 rpm", {"kind": "saw"})]}
]
HIGH_VOLTS[0]["motors"][0]["plate"] |= {"voltage": "460 V", "leads": 3}
"""A motor that no drive for 240 V serves: one plan has a transformer before its drive."""
SHOPS = {
    "a circuit as it stands": (
        {
            f"{MILL}.circuit": {
                "breaking": "1 kA", "overload": "20 A", "overload_units": 2,
                "isolator": {"rating": "9 A", "in_sight": False}, "undervoltage_release": False,
                "capacitors_behind_overload": True,
            },
            f"{MILL}.panel": {"short_circuit_rating": "200 A"},
        },
        {"nec.110.9", "nec.409.22_a", "nec.430.32_a_1", "nec.430.37", "nec.430.102_b",
         "nec.430.110_a", "nec.430.128", "nec.455.22", "nec.455.23"},
    ),
    "a converter as it stands": (
        {
            CONVERTER: {
                "breaker": "60 A", "breaking": "1 kA", "phase_relay": False, "plate": False,
                "isolator": {"rating": "15 A", "in_sight": False, "power": "2 hp"},
                "discharge_resistor": "none", "line_3_marked": False, "capacitor_fuses": False,
            },
        },
        {"nec.110.15", "nec.240.85", "nec.455.4", "nec.455.6_b", "nec.455.7", "nec.455.8",
         "nec.455.8_a", "nec.455.8_c_2", "nec.455.21", "nec.460.6_a", "nec.460.8_b"},
    ),
    "a thin cable to the converter": (
        {f"{CONVERTER}.cable": {"conductor": "14 AWG"}}, {"nec.110.14_c", "nec.455.6"},
    ),
    "a converter for these machines alone": (
        {CONVERTER: {"fixed_loads": True, "nameplate_input": "60 A", "breaker": "80 A",
                     "cable": {"conductor": "6 AWG", "length": "10 ft"}}},
        {"nec.455.7_b"},
    ),
    "cables bunched with others": (
        {f"{SAW}.cable": {"conductor": "14 AWG", "grouped": 2}, f"{SAW}.panel": {},
         f"{MILL}.cable": {"conductor": "14 AWG", "length": "40 ft"}},
        {"nec.409.20", "nec.430.22", "nec.430.122"},
    ),
    "a cable in a thick bunch": (
        {f"{SAW}.cable": {"conductor": "14 AWG", "grouped": 6}}, {"nec.310.16"},
    ),
    "a breaker too large, another too small": (
        {f"{MILL}.circuit.breaker": "60 A", f"{SAW}.circuit.breaker": "15 A"},
        {"nec.430.52", "nec.430.52_b"},
    ),
    "a breaker that nobody sells": ({f"{MILL}.circuit.breaker": "22 A"}, {"nec.240.6"}),
    "a panel with small breakers inside": (
        {f"{MILL}.circuit.breaker": "25 A",
         f"{MILL}.panel": {"short_circuit_rating": "10 kA", "largest_branch": "20 A"}},
        {"nec.409.21_c"},
    ),
    "a thin earth wire": (
        {f"{MILL}.circuit": {"breaker": "20 A", "protective_conductor": "14 AWG"},
         f"{MILL}.cable": {"conductor": "10 AWG", "length": "40 ft"}},
        {"nec.250.122"},
    ),
    "a thin lead behind a drive": (
        {f"{SAW}.motors[0].lead_conductor": "14 AWG", f"{SAW}.place": "loft",
         "places": [{"name": "loft", "ambient": "50 °C"}]},
        {"nec.430.122_b"},
    ),
    "a plug": ({f"{MILL}.connects_by": "plug"}, {"nec.210.8"}),
    "a shed": (
        {"places": [SHED], f"{MILL}.place": "shed", f"{SAW}.place": "shed"},
        {"nec.430.24", "nec.430.62"},
    ),
    "a breaker too large for a transformer": (
        {"machines": HIGH_VOLTS, f"{MILL}.circuit.breaker": "150 A"}, {"nec.450.3_b"},
    ),
    "a breaker too large for its cable": (
        {"machines": HIGH_VOLTS, f"{MILL}.circuit.breaker": "80 A",
         f"{MILL}.cable": {"conductor": "8 AWG"}},
        {"nec.240.4_b"},
    ),
    "a breaker too large for thin copper": (
        {"machines": HIGH_VOLTS, f"{MILL}.circuit.breaker": "25 A",
         f"{MILL}.cable": {"conductor": "12 AWG"}},
        {"nec.240.4_d"},
    ),
    "a thin wire to the electrode": ({"supply.electrode_conductor": "8 AWG"}, {"nec.250.66"}),
}  # fmt: skip
BASE_BREAKS = {"nec.240.85", "nec.455.4"}
"""What any converter on such a supply, and any built at home, must have looked at."""
BY_THE_WAY = {"nec.240.6"}
"""What is told and forbids nothing."""


def edited(*edits: dict) -> str:
    """The base shop's text with these changes, one after the other."""
    shop = copy.deepcopy(BASE)
    for edit in edits:
        for path, entry in edit.items():
            put(shop, path, copy.deepcopy(entry))
    return json.dumps(shop)
