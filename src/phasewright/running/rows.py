"""How a network is laid out in arrays for the compiled solver.

One row a machine, columns named here (SI; inductances in henries, star equivalent). The
source frequency counts: reactances of a circuit are turned into inductances at the frequency
the circuit is stated for.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.quantities.errors import UsageError
from phasewright.running.network import Connected, LoadLaw, Network

Floats = NDArray[np.float64]

# Columns of a machine's row.
RS, LS, R1, L1, R2, L2 = 0, 1, 2, 3, 4, 5
LU = 6  # unsaturated magnetising inductance
PSI_K, S = 7, 8  # main-flux law nu = (1 + (psi/psi_k)^s)/lu; s = 0: linear
G_FE = 9  # iron conductance at the terminals
A1, A2 = 10, 11  # friction torque a1 w + a2 w|w|
STRAY = 12  # stray loss over current squared
PAIRS = 13
REVERSED = 14
LOAD, LOAD_NM, LOAD_RAD_S = 15, 16, 17
PSI_RATED = 18
START_SLIP = 19
SYNCHRONOUS = 20  # rad/s at the source's frequency
PER_NM = 21  # 1/(a torque of the size of the machine's greatest), to measure misfits by
FLUX_UNIT = 22  # squared flux over squared knee flux, from squared air-gap volts (rms)
COLUMNS = 23

NONE, CONSTANT, FAN, VISCOUS = 0.0, 1.0, 2.0, 3.0
_LAWS = {"none": NONE, "constant": CONSTANT, "fan": FAN, "viscous": VISCOUS}

# Columns of the row of the lines: source, capacitors, resistive loads.
E, RZ, LZ, W = 0, 1, 2, 3
C12, C23, C31 = 4, 5, 6
G12, G23, G31 = 7, 8, 9
LINE_COLUMNS = 10

NO_SECOND_CAGE_OHM = 1e12


def machine_row(machine: Connected, source: Source) -> Floats:
    """The row of one machine on this source, shape (COLUMNS,); not to be written to."""
    return _machine_row(machine, source.voltage_v, source.frequency_hz)


@lru_cache(maxsize=4096)
def _machine_row(machine: Connected, source_v: float, source_hz: float) -> Floats:
    circuit = machine.circuit
    if not 1 <= len(circuit.cages) <= 2:
        raise UsageError(f"{machine.name}: a motor has one or two rotor cages")
    w = 2.0 * math.pi * circuit.frequency_hz
    row = np.zeros(COLUMNS)
    row[RS] = circuit.stator_resistance_ohm
    row[LS] = circuit.stator_leakage_ohm / w
    row[R1] = circuit.cages[0].resistance_ohm
    row[L1] = circuit.cages[0].leakage_ohm / w
    second = circuit.cages[1] if len(circuit.cages) == 2 else None
    row[R2] = second.resistance_ohm if second else NO_SECOND_CAGE_OHM
    row[L2] = second.leakage_ohm / w if second else 0.0
    row[LU], row[PSI_K], row[S] = _main_flux(circuit, w)
    row[G_FE] = 1.0 / circuit.core_loss_ohm
    row[A1], row[A2] = friction_coefficients(circuit)
    row[STRAY] = circuit.stray_w / circuit.rated_current_a**2
    row[PAIRS] = circuit.poles / 2
    row[REVERSED] = float(machine.reversed)
    row[LOAD], row[LOAD_NM], row[LOAD_RAD_S] = _load(machine.load)
    row[PSI_RATED] = circuit.rated_flux_vs
    row[START_SLIP] = min(max(0.5 * circuit.rated_slip, 0.002), 0.03)
    at_source = 2.0 * math.pi * source_hz
    row[SYNCHRONOUS] = at_source / row[PAIRS]
    ohm = row[RS] + at_source * row[LS] + row[R1]
    row[PER_NM] = row[SYNCHRONOUS] * ohm / source_v**2
    row[FLUX_UNIT] = 2.0 / (at_source * row[PSI_K]) ** 2
    row.flags.writeable = False
    return row


def machine_rows(network: Network) -> Floats:
    """Rows of all machines, shape (machines, COLUMNS)."""
    if not network.machines:
        raise UsageError("without a machine nothing makes the third line")
    rows = np.zeros((len(network.machines), COLUMNS))
    for at, machine in enumerate(network.machines):
        rows[at] = machine_row(machine, network.source)
    return rows


def line_row(network: Network) -> Floats:
    """The row of source, capacitors and resistive loads, shape (LINE_COLUMNS,)."""
    source, c, g = network.source, network.capacitance_f, network.conductance_s
    w = 2.0 * math.pi * source.frequency_hz
    row = np.zeros(LINE_COLUMNS)
    row[E], row[RZ], row[LZ] = source.voltage_v, source.resistance_ohm, source.reactance_ohm / w
    row[W] = w
    row[C12], row[C23], row[C31] = c.c12, c.c23, c.c31
    row[G12], row[G23], row[G31] = g.c12, g.c23, g.c31
    return row


def friction_coefficients(circuit: Circuit) -> tuple[float, float]:
    """(a1, a2) of the friction torque a1 w + a2 w|w| [N m s, N m s2].

    At rated speed 40 % of the friction loss goes with a1 and 60 % with a2.
    Source: convention of this program, common practice.
    """
    speed = 2.0 * math.pi * circuit.rated_speed_rpm / 60.0
    return 0.4 * circuit.friction_w / speed**2, 0.6 * circuit.friction_w / speed**3


def _main_flux(circuit: Circuit, w: float) -> tuple[float, float, float]:
    """(unsaturated inductance, knee flux, exponent) of the main-flux law."""
    rated = circuit.magnetising_ohm / w
    law = circuit.saturation
    if law is None or law.k == 0.0:
        return rated, 1.0, 0.0
    return (1.0 + law.k) * rated, circuit.rated_flux_vs * law.k ** (-1.0 / law.s), law.s


def _load(load: LoadLaw) -> tuple[float, float, float]:
    return _LAWS[load.kind], load.torque_nm, load.speed_rad_s
