"""Tables of voltages against capacitors, exact balance and running on two lines.

Source: computed reference tables (4 kW idler, 2.2 kW motor, 230 V 50 Hz, 0.25 + j0.15 ohm),
each computed by independent methods. Rows are typed as printed there: powers in W, currents
in A; the tolerance is the rounding of the print.
"""

from __future__ import annotations

import math

import pytest
from reference_machines import (
    K3HP,
    M0K75,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    uf,
)  # fmt: skip

from phasewright.machines.circuit import Circuit
from phasewright.network.balance import balancing_capacitances
from phasewright.network.supply import Source
from phasewright.running.network import Between
from phasewright.running.settle import at_slips, locked, settle

IDLER = ("idler", M4K0, NO_LOAD)
T22 = rated_torque(2200, 1445)
STIFF = Source(230.0, 0.0, 0.0, 50.0)

# bank, load, volts, vuf %, nema %, idler A, load A, supply A, supply W, pf
VOLTAGES = (
    ((0, 0, 0), None, (228.0, 201.2, 213.5), 7.26, 6.42, (11.18, 11.18, 0.0), None,
     11.18, 319, 0.125),
    ((0, 0, 0), 1.0, (223.7, 194.2, 191.1), 10.54, 10.19, (10.78, 14.49, 4.69),
     (12.78, 10.75, 4.69), 23.48, 3121, 0.594),
    ((0, 60, 60), 0.5, (226.7, 215.9, 211.9), 4.07, 3.90, (6.87, 10.15, 4.53),
     (6.41, 6.79, 3.48), 12.62, 1580, 0.553),
    ((0, 0, 190), 1.0, (225.9, 226.1, 225.1), 0.28, 0.27, (6.58, 7.02, 6.83),
     (8.08, 8.25, 8.02), 13.97, 2777, 0.880),
    ((0, 100, 50), 1.0, (225.2, 216.7, 197.6), 7.58, 7.29, (5.80, 13.10, 7.31),
     (9.79, 11.39, 5.25), 16.58, 2970, 0.796),
    ((100, 0, 120), None, (230.3, 234.9, 246.7), 4.14, 3.95, (10.32, 3.26, 9.30), None,
     4.39, 282, 0.279),
    ((100, 0, 120), 1.0, (226.2, 213.8, 213.1), 3.95, 3.90, (7.50, 9.81, 3.88),
     (9.81, 8.87, 6.55), 13.26, 2826, 0.942),
)  # fmt: skip


@pytest.mark.parametrize("row", VOLTAGES)
def test_generated_volts_against_run_capacitors(row: tuple) -> None:
    bank, load, volts, vuf, nema, idler, motor, supply, watts, power_factor = row
    machines = [IDLER] if load is None else [IDLER, ("motor", M2K2, constant(load * T22))]
    found = settle(network(TOWN, uf(*bank), *machines))
    assert found.line_voltages_v == pytest.approx(volts, abs=0.06)
    assert 100 * found.vuf == pytest.approx(vuf, abs=0.006)
    assert 100 * found.nema == pytest.approx(nema, abs=0.006)
    assert found.machines[0].line_currents_a == pytest.approx(idler, abs=0.006)
    if motor is not None:
        assert found.machines[1].line_currents_a == pytest.approx(motor, abs=0.006)
    assert found.supply_current_a == pytest.approx(supply, abs=0.006)
    assert found.supply_power_w == pytest.approx(watts, abs=0.6)
    assert found.power_factor == pytest.approx(power_factor, abs=6e-4)


@pytest.mark.parametrize(
    ("load", "watts", "vars_", "c23", "c31"),
    [(0.0, 375, 4462, 76.5, 102.5), (0.25, 953, 4449, 56.1, 122.3), (0.5, 1545, 4477, 36.1, 143.5),
     (0.75, 2155, 4550, 16.4, 166.1), (1.0, 2782, 4674, -2.9, 190.4)],
)  # fmt: skip
def test_exact_balance_in_closed_form(
    load: float, watts: float, vars_: float, c23: float, c31: float
) -> None:
    found = balancing_capacitances(watts, vars_, 230.0, 50.0)
    assert 1e6 * found.c23_f == pytest.approx(c23, abs=0.1)
    assert 1e6 * found.c31_f == pytest.approx(c31, abs=0.1)
    assert (found.inductance_23_h is not None) == (c23 < 0)
    if c23 >= 0:
        bank = Between(0.0, found.c23_f, found.c31_f)
        point = settle(network(STIFF, bank, IDLER, ("motor", M2K2, constant(load * T22))))
        assert point.vuf < 2e-4  # P and Q are printed to the watt
        assert sum(m.input_power_w for m in point.machines) == pytest.approx(watts, abs=1.0)


@pytest.mark.parametrize(
    ("c31", "locked_ratio", "volts", "vuf", "current_ratio"),
    [(50, 0.062, (215.4, 205.0), 6.1, 1.02), (80, 0.107, (231.3, 220.8), 2.7, 0.90),
     (110, 0.157, (250.1, 237.6), 5.3, 1.02), (170, 0.277, (297.1, 272.8), 15.0, 1.82)],
)  # fmt: skip
def test_running_on_two_lines_with_one_capacitor(
    c31: float, locked_ratio: float, volts: tuple[float, float], vuf: float, current_ratio: float
) -> None:
    shop = network(TOWN, uf(0, 0, c31), ("motor", M2K2, constant(0.6 * T22)))
    found = settle(shop)
    assert found.line_voltages_v[1:] == pytest.approx(volts, abs=0.06)
    assert 100 * found.vuf == pytest.approx(vuf, abs=0.06)
    assert max(found.machines[0].line_currents_a) / M2K2.rated_current_a == pytest.approx(
        current_ratio, abs=0.006
    )
    start = locked(shop, "motor")
    assert start.machines[0].shaft_torque_nm / T22 == pytest.approx(locked_ratio, abs=6e-4)


@pytest.mark.parametrize(
    ("circuit", "hertz", "volts", "watts", "per_kw"),
    [(M2K2, 50, 230, 981.8, 69.48), (M0K75, 50, 230, 441.9, 69.48), (K3HP, 60, 220, 1039.5, 63.28)],
)  # fmt: skip
def test_one_capacitor_balances_exactly_at_sixty_degrees(
    circuit: Circuit, hertz: float, volts: float, watts: float, per_kw: float
) -> None:
    capacitance = 2.0 * watts / (math.sqrt(3.0) * 2.0 * math.pi * hertz * volts**2)
    assert 1e9 * capacitance / watts == pytest.approx(per_kw, rel=2e-4)
    slip = {981.8: 0.01234, 441.9: 0.01814, 1039.5: 0.01821}[watts]
    source = Source(volts, 0.0, 0.0, hertz)
    found = at_slips(
        network(source, Between(0.0, 0.0, capacitance), ("motor", circuit, NO_LOAD)), (slip,)
    )
    assert found.vuf < 2e-4  # the slip is printed to four digits
    assert found.supply_power_w == pytest.approx(watts, rel=5e-4)
