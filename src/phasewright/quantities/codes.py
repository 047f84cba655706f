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
Buyable = Literal["new", "self_built", "used", "owned", "hired"]

WAYS: tuple[WayName, ...] = get_args(WayName)
ON_A_DRIVE: tuple[WayName, ...] = ("drive_per_motor", "shared_drive", "step_up_drive")
"""Ways in which a drive gives the motor its volts and hertz."""
LOAD_KINDS: tuple[LoadKindName, ...] = get_args(LoadKindName)

# What a shop file may say; each list stands here once.
Quantity = Literal[
    "power", "apparent_power", "voltage", "current", "length", "area", "resistance",
    "capacitance", "inductance", "speed", "inertia", "temperature", "frequency", "time", "sound",
    "energy",
]  # fmt: skip
SupplyKind = Literal["single_phase", "split_phase", "three_phase", "generator", "inverter"]
Earthed = Literal["line_2", "centre", "none", "unknown"]
Earthing = Literal["TN-S", "TN-C-S", "TT", "IT"]
ResidualType = Literal["AC", "A", "F", "B"]
Method = Literal[
    "A1", "A2", "B1", "B2", "C", "D1", "D2", "E", "F", "G",
    "on_wall", "in_pipe", "buried", "overhead",
]  # fmt: skip
Conductor = Literal["copper", "aluminium"]
LoadLines = Literal["both", "one"]
LoadType = Literal["heater", "motor", "electronic"]
Have = Literal["owned", "planned"]
ConnectsBy = Literal["fixed", "plug"]
Starter = Literal[
    "direct", "star_delta", "reversing_drum", "two_speed_switch", "drive_inside", "soft_starter"
]
BrakeKind = Literal["none", "spring_electric", "dc_injection", "mechanical"]
OwnSpeedKind = Literal["belts", "gears", "variator", "none"]
Users = Literal["owner", "guests", "employees"]
ConsumerKind = Literal[
    "heater", "welder", "rectifier", "magnetic_chuck", "lamp", "socket", "electronics"
]
FedFrom = Literal[
    "two lines", "three lines", "line and neutral", "motor terminals", "transformer", "unknown"
]
BehindDrive = Literal[
    "isolator", "drum", "reversing_drum", "two_speed_switch", "star_delta", "contactor",
    "pressure_switch", "float_switch", "limit_switch", "selector", "socket", "soft_starter",
]  # fmt: skip
TiedTo = Literal["nothing", "earth", "neutral"]
EarthWire = Literal["in_cable", "in_pipe", "open"]
SpindleNose = Literal["none", "locking", "threaded"]
ComparedBy = Literal[
    "speed", "stopping", "controls", "together", "starting", "sound", "energy", "failure",
    "growth", "resale", "work",
]  # fmt: skip
StopsBy = Literal["ramp", "ramp_with_resistor", "dc_injection", "own_brake", "coasting"]
CutsBy = Literal["torque_off", "stop_input", "contactor"]
StampedConnection = Literal[
    "D", "Y", "YY", "D/Y", "Y/D", "YY/Y", "Y/YY", "D/YY", "YY/D", "Y/Y", "D/D"
]
CodeLetter = Literal[
    "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "R", "S", "T", "U", "V"
]
InsulationClass = Literal["A", "E", "B", "F", "H"]
LoadStart = Literal["unloaded", "loaded"]
WheelMaterial = Literal["iron", "steel", "aluminium", "wood", "stone"]
WhoWires = Literal["own", "electrician"]
OwnLabour = Literal["own"]
OwnedKind = Literal[
    "idler_motor", "drive", "rotary_converter", "static_converter", "electronic_converter",
    "battery_inverter", "generator", "transformer", "run_capacitor", "start_capacitor",
    "contactor", "overload_relay", "drop_out_relay", "choke", "brake_resistor", "start_resistor",
]  # fmt: skip
QuoteKind = Literal[
    "drive_per_motor", "shared_drive", "rotary_converter", "static_converter", "capacitor_run",
    "electronic_converter", "step_up_drive", "motor_swap", "utility_service",
    "idler_motor", "run_capacitor", "start_capacitor", "contactor", "overload_relay",
    "drop_out_relay", "phase_sequence_relay", "start_resistor", "choke", "emc_filter",
    "output_filter", "brake_resistor", "transformer", "generator", "battery_inverter",
    "single_phase_motor", "star_point_out", "rewind", "residual_current_device", "breaker",
    "cable", "isolator", "plug_and_socket", "bigger_single_phase_service",
    "machine_replaced", "job_hired_out",
]  # fmt: skip
