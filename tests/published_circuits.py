"""Circuits of published examples, typed from their sources (ohms per phase, star unless said)."""

from __future__ import annotations

from phasewright.machines.circuit import Cage, Circuit

NO_IRON_OHM = 1e15


def published(
    volts: float,
    hertz: float,
    poles: int,
    r1: float,
    x1: float,
    r2: float,
    x2: float,
    xm: float,
    *,
    rated_slip: float,
    iron_ohm: float = NO_IRON_OHM,
    delta: bool = False,
    stray_w: float = 0.0,
    rated_current_a: float = 1.0,
) -> Circuit:
    """A single-cage circuit without friction; delta impedances are divided by three."""
    share = 3.0 if delta else 1.0
    return Circuit(
        line_voltage_v=volts,
        frequency_hz=hertz,
        poles=poles,
        stator_resistance_ohm=r1 / share,
        stator_leakage_ohm=x1 / share,
        magnetising_ohm=xm / share,
        saturation=None,
        core_loss_ohm=iron_ohm,
        cages=(Cage(r2 / share, x2 / share),),
        friction_w=0.0,
        stray_w=stray_w,
        inertia_kg_m2=1.0,
        rated_current_a=rated_current_a,
        rated_speed_rpm=120.0 * hertz / poles * (1.0 - rated_slip),
    )
