"""The machines of the computed reference cases, and networks made of them.

The data are plausible constructions from typical plates, except the 3 hp machine, which is
that of Krause, Wasynczuk and Sudhoff, Analysis of Electric Machinery (from memory; the same
values stand in an open Modelica library's induction-machine example).
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.machines.circuit import Cage, Circuit, Saturation
from phasewright.network.supply import Source
from phasewright.running.network import Between, Connected, LoadLaw, Network

NO_IRON = 1e12


def circuit(
    volts: float, hertz: float, rs: float, ls_mh: float, lm_mh: float,
    cages: tuple[tuple[float, float], ...], rfe: float, friction_w: float,
    amps: float, rpm: float, inertia: float, law: tuple[float, float] | None = None,
) -> Circuit:  # fmt: skip
    """A four-pole circuit from inductances in millihenries."""
    w = 2.0 * math.pi * hertz * 1e-3
    return Circuit(
        line_voltage_v=volts,
        frequency_hz=hertz,
        poles=4,
        stator_resistance_ohm=rs,
        stator_leakage_ohm=w * ls_mh,
        magnetising_ohm=w * lm_mh,
        saturation=None if law is None else Saturation(*law),
        core_loss_ohm=rfe,
        cages=tuple(Cage(r, w * mh) for r, mh in cages),
        friction_w=friction_w,
        stray_w=0.0,
        inertia_kg_m2=inertia,
        rated_current_a=amps,
        rated_speed_rpm=rpm,
    )


M4K0 = circuit(
    230, 50, 0.48691, 2.09425, 58.943, ((0.535438, 7.88824), (0.78865, 2.09425)),
    484.917, 40.0, 13.915, 1455, 0.0125,
)  # fmt: skip
M2K2 = circuit(
    230, 50, 0.949135, 3.86993, 94.573, ((1.22236, 15.0798), (1.58197, 3.86993)),
    738.539, 26.4, 8.027, 1445, 0.0075,
)  # fmt: skip
M1K5 = circuit(
    230, 50, 1.5030, 5.5720, 127.960, ((1.9605, 20.9809), (2.4327, 5.5720)),
    961.3, 19.5, 5.641, 1440, 0.0040,
)  # fmt: skip
M0K75 = circuit(
    230, 50, 3.2908, 10.6626, 204.827, ((4.0537, 36.1610), (5.2012, 10.6626)),
    1553.6, 12.0, 3.080, 1435, 0.0021,
)  # fmt: skip
K3HP = circuit(220, 60, 0.435, 2.0, 69.312, ((0.816, 2.0),), NO_IRON, 0.0, 5.8, 1710, 0.089)
K3HP_IRON = replace(K3HP, core_loss_ohm=600.0, friction_w=30.0)


def saturating(machine: Circuit, lu_mh: float, psi_k: float, s: float) -> Circuit:
    """The machine with the main-flux law nu = (1 + (psi/psi_k)^s)/lu.

    The reference states knee flux and unsaturated inductance; a circuit states the reactance
    at rated flux and k: k follows from k^(1/s) psi_k = rated flux, which depends on k weakly.
    """
    w = 2.0 * math.pi * machine.frequency_hz * 1e-3
    k = 0.5
    for _ in range(100):
        made = replace(machine, magnetising_ohm=w * lu_mh / (1.0 + k), saturation=Saturation(k, s))
        k = (made.rated_flux_vs / psi_k) ** s
    return made


def saturating_by(machine: Circuit, k: float, s: float) -> Circuit:
    """The machine with the main-flux law of these k and s, its reactance at rated flux kept."""
    return replace(machine, saturation=Saturation(k, s))


def scaled(machine: Circuit, k: float) -> Circuit:
    """A per-unit copy k times as large."""
    return replace(
        machine,
        stator_resistance_ohm=machine.stator_resistance_ohm / k,
        stator_leakage_ohm=machine.stator_leakage_ohm / k,
        magnetising_ohm=machine.magnetising_ohm / k,
        core_loss_ohm=machine.core_loss_ohm / k,
        cages=tuple(Cage(c.resistance_ohm / k, c.leakage_ohm / k) for c in machine.cages),
        friction_w=machine.friction_w * k,
        stray_w=machine.stray_w * k,
        inertia_kg_m2=machine.inertia_kg_m2 * k**1.25,
        rated_current_a=machine.rated_current_a * k,
    )


I4A = saturating(M4K0, 79.1554, 0.657383, 6.0)
I4B = saturating(M4K0, 96.6843, 0.581501, 8.0)
I4C = saturating(M4K0, 68.7095, 0.862037, 4.0)
L2A = saturating(M2K2, 126.366, 0.653464, 6.0)
K15 = saturating(scaled(K3HP_IRON, 1.5), 63.9538, 0.528259, 6.0)

TOWN = Source(230.0, 0.25, 0.15, 50.0)
FARM = Source(230.0, 0.8, 0.4, 50.0)
SIXTY = Source(240.0, 0.12, 0.08, 60.0)
NO_LOAD = LoadLaw("none")


def uf(c12: float, c23: float, c31: float) -> Between:
    """Capacitors in microfarads."""
    return Between(c12 * 1e-6, c23 * 1e-6, c31 * 1e-6)


def constant(newton_metres: float) -> LoadLaw:
    return LoadLaw("constant", newton_metres)


def fan(newton_metres: float, rpm: float) -> LoadLaw:
    return LoadLaw("fan", newton_metres, rpm * math.pi / 30.0)


def rated_torque(power_w: float, rpm: float) -> float:
    return power_w * 30.0 / (math.pi * rpm)


def network(
    source: Source, capacitors: Between, *machines: tuple[str, Circuit, LoadLaw]
) -> Network:
    return Network(source, capacitors, tuple(Connected(*each) for each in machines))
