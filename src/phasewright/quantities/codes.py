"""The closed lists of the house. The glossary prints them; the schema is made from them."""

from __future__ import annotations

from typing import Literal, get_args

WayName = Literal[
    "drive_per_motor",
    "shared_drive",
    "rotary_converter",
    "static_converter",
    "capacitor_run",
    "electronic_converter",
    "step_up_drive",
    "motor_swap",
    "utility_service",
    "direct",
]
Verdict = Literal["suits", "with_conditions", "refused"]
Connection = Literal["delta", "star", "low_voltage", "high_voltage", "fixed", "unknown", "none"]
Severity = Literal["info", "caution", "condition", "stop"]
Region = Literal["IEC", "NEC"]
LoadKindName = Literal[
    "spindle", "pump", "fan", "compressor", "hydraulic_pump", "saw", "flywheel", "crusher",
    "conveyor", "mixer", "feed", "coolant_pump", "grinder", "lift", "refrigeration",
    "submersible", "separator", "press", "vacuum_pump", "sander", "other",
]  # fmt: skip
MotorKind = Literal[
    "cage", "slip_ring", "commutator", "dc", "hermetic", "submersible", "torque", "brake_motor"
]
Buyable = Literal["new", "self_built", "used", "owned"]

WAYS: tuple[WayName, ...] = get_args(WayName)
LOAD_KINDS: tuple[LoadKindName, ...] = get_args(LoadKindName)
