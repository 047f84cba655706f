"""Invented installations that keep every rule, for tests that break one thing at a time."""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.installation import (
    Circuit,
    Device,
    Equipment,
    Installation,
    Isolator,
    PhaseRelay,
    ProtectiveConductor,
    ResidualCurrentDevice,
    Socket,
    VoltageDrop,
)
from phasewright.quantities.value import Value, exact
from phasewright.tables.sizes import awg_mm2


def given(number: float, unit: str = "A") -> Value:
    return exact(number, unit, "assumed", "invented")


def iec_circuit(id: str, **other) -> Circuit:
    """A circuit of 12 A behind C16 on 2.5 mm2 that keeps every rule of the IEC family."""
    base = Circuit(
        id, ("mill",), "board", lines="1-2", role="supply_to_machine", voltage_v=230.0,
        to_earth_v=230.0, design_current_a=given(12.0), conductor="2.5 mm2", conductor_m2=2.5e-6,
        length_m=15.0, method="C", ampacity_a=given(24.0), device=Device("breaker", 16.0, "C", 6.0),
        residual_current=ResidualCurrentDevice(30.0, "A", trips_s=0.3),
        fault_at_origin_a=given(900.0), earth_fault_a=given(350.0), disconnects_s=given(0.1, "s"),
        loop_ohm=given(0.6, "ohm"), voltage_drop=VoltageDrop(0.02, 0.08),
        starting_current_a=given(60.0), full_load_a=(11.0,),
        protective_conductor=ProtectiveConductor("2.5 mm2", 2.5e-6, 1.0e-6),
        isolator=Isolator(25.0, 2),
    )  # fmt: skip
    return replace(base, **other)


def iec_shop() -> Installation:
    """A converter with an outlet, a machine and a capacitor bank; and a drive with its motor."""
    three = {
        "lines": "1-2-3",
        "loaded": 3,
        "ampacity_a": given(21.0),
        "isolator": Isolator(25.0, 3),
    }
    return Installation(
        "IEC", 230.0, 50.0,
        circuits=(
            iec_circuit(
                "to converter", feeds=("converter",), role="supply_to_converter",
                equipment="converter", undervoltage_release=True,
            ),
            iec_circuit(
                "outlet", source="converter", role="converter_to_outlet",
                socket=Socket(16.0, "blue 9 h", 4, 230.0), phase_relay=PhaseRelay(200.0, 0.08, 2.0),
                earth_fault_a=given(50.0), **three,
            ),
            iec_circuit(
                "capacitors", feeds=("converter",), source="converter", role="capacitor_branch",
                capacitance_f=50e-6, discharge_ohm=22e3, design_current_a=given(3.6),
                full_load_a=(), starting_current_a=None,
                **{**three, "lines": "1-2", "loaded": 2, "isolator": Isolator(16.0, 2)},
            ),
            iec_circuit(
                "to drive", feeds=("saw",), role="supply_to_drive", equipment="drive",
                nameplate_input_a=12.0, starting_current_a=None,
            ),
            iec_circuit(
                "drive to saw", feeds=("saw",), source="drive", role="drive_to_motor", device=None,
                **{**three, "lines": "drive output"},
            ),
        ),
        equipment=(
            Equipment(
                "converter", "rotary_converter", serves=("mill",), nameplate_input_a=12.0,
                generates_line3=True,
            ),
            Equipment("drive", "drive_per_motor", serves=("saw",), nameplate_input_a=12.0,
                      leakage_ma=3.0),
        ),
        earthing="TN-C-S", earthed="line_2", service_rating_a=60.0,
    )  # fmt: skip


def nec_circuit(id: str, **other) -> Circuit:
    """A circuit of 15.2 A behind 40 A on 10 AWG that keeps every rule of the NEC family."""
    m2 = 1e-6 * awg_mm2("10")
    base = Circuit(
        id, ("mill",), "panel", lines="1-2-3", role="converter_to_machine", voltage_v=240.0,
        to_earth_v=120.0, design_current_a=given(15.2), conductor="10 AWG", conductor_m2=m2,
        length_m=15.0, ampacity_a=given(35.0), device=Device("breaker", 40.0, None, 10.0),
        fault_at_origin_a=given(3000.0), earth_fault_a=given(800.0), disconnects_s=given(0.1, "s"),
        voltage_drop=VoltageDrop(0.02, 0.08), full_load_a=(15.2,), loaded=3,
        protective_conductor=ProtectiveConductor("10 AWG", m2), isolator=Isolator(30.0, 3),
    )  # fmt: skip
    return replace(base, **other)


def nec_shop() -> Installation:
    """A converter of 40 A nameplate input with two machines and a bank; and a drive."""
    ready = {"phase_relay": PhaseRelay(205.0, 0.08, 2.0), "undervoltage_release": True}
    m2, m8 = 1e-6 * awg_mm2("6"), 1e-6 * awg_mm2("8")
    return Installation(
        "NEC", 240.0, 60.0,
        circuits=(
            nec_circuit(
                "to converter", feeds=("converter",), lines="1-2", role="supply_to_converter",
                equipment="converter", undervoltage_release=True, full_load_a=(),
                design_current_a=given(40.0), conductor="6 AWG", conductor_m2=m2,
                ampacity_a=given(65.0), device=Device("breaker", 50.0, None, 10.0),
                isolator=Isolator(60.0, 2), loaded=2,
            ),
            nec_circuit("mill", **ready),
            nec_circuit("press", feeds=("press",), **ready),
            nec_circuit(
                "capacitors", feeds=("converter",), source="converter", role="capacitor_branch",
                lines="1-2", capacitance_f=100e-6, discharge_ohm=100e3, full_load_a=(),
                design_current_a=given(9.0), device=Device("breaker", 30.0, None, 10.0),
            ),
            nec_circuit(
                "to drive", feeds=("saw",), lines="1-2", role="supply_to_drive", equipment="drive",
                nameplate_input_a=25.0, full_load_a=(), design_current_a=given(25.0),
                conductor_m2=m8, conductor="8 AWG", ampacity_a=given(50.0),
            ),
            nec_circuit(
                "drive to saw", feeds=("saw",), source="drive", role="drive_to_motor", device=None,
                lines="drive output",
            ),
        ),
        equipment=(
            Equipment("converter", "rotary_converter", serves=("mill", "press"),
                      nameplate_input_a=40.0, generates_line3=True),
            Equipment("drive", "drive_per_motor", serves=("saw",), nameplate_input_a=25.0),
        ),
        earthed="centre", service_rating_a=100.0,
    )  # fmt: skip


def large_shop(circuits: int = 30) -> Installation:
    """Twelve motors on a converter: so many circuits, each with everything a rule asks for."""
    small = iec_shop()
    first, *rest = small.circuits
    repeated = [replace(rest[k % len(rest)], id=f"c{k}") for k in range(circuits - 1)]
    return replace(small, circuits=(first, *repeated))
