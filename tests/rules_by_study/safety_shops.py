"""Shops that break a rule of safety that is no clause of a family: line 3, drives, leaks, stops."""

CIRCUIT = "machines[0].circuit"
CONVERTER = "supply.converter_circuit"
LOAD = "machines[0].motors[0].load"
NO_DEVICE = {"residual_current": "none"}

BREAKS = {
    "converter.input_drops_out": {CONVERTER: {"undervoltage_release": False}},
    "converter.sequence_proved": {CONVERTER: {"phase_relay": False}},
    "drive.nothing_opens_behind": {CIRCUIT: {"behind_drive": ["drum"]}},
    "leakage.device_type": {CIRCUIT: {"residual_current": {"rating": "30 mA", "type": "AC"}}},
    "leakage.share": {"supply.residual_current": {"rating": "10 mA", "type": "A"}},
    "line3.bonded": {CONVERTER: {"tied": "neutral"}},
    "line3.control": {"machines[0].control": {"voltage": "230 V", "fed_from": "three lines"}},
    "line3.earth_fault": {CONVERTER: NO_DEVICE, CIRCUIT: NO_DEVICE},
    "line3.marked": {CONVERTER: {"line_3_marked": False}},
    "line3.neutral": {"machines[0].needs_neutral": True},
    "stop.brake_coil": {"machines[0].brake": {"kind": "mechanical", "fed_from": "motor terminals"}},
    "stop.holds_nothing": {f"{LOAD}.kind": "lift"},
    "stop.run_down": {
        f"{LOAD}.kind": "saw",
        f"{LOAD}.inertia": "2 kg m2",
        "machines[0].users": "employees",
    },
}

BASE_BREAKS = ("line3.control",)
