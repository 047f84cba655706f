"""What owners do with a converter, against computed reference tables.

Fixed capacitors at every load, the capacitor on the wrong leg, a heater on the generated line,
more motors turning along, softer supplies, a motor switched on while the converter runs.
Source: computed reference tables (4 kW idler, 2.2 kW motor, 230 V 50 Hz, 0.25 + j0.15 ohm unless
said), each by independent methods. The tolerance is the rounding of the print.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from reference_machines import (
    M1K5,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    scaled,
    uf,
)  # fmt: skip

from phasewright.machines.performance import locked as balanced_locked
from phasewright.network.supply import Source
from phasewright.running.network import Between
from phasewright.running.settle import locked, settle, stalled

IDLER = ("idler", M4K0, NO_LOAD)
T22 = rated_torque(2200, 1445)
LOADS = (0.0, 0.25, 0.5, 0.75, 1.0, 1.25)


@pytest.mark.parametrize(
    ("bank", "row"),
    [((0, 0), ((7.7, 0.82), (7.9, 0.91), (8.4, 1.08), (9.3, 1.31), (10.5, 1.59), (12.4, 1.94))),
     ((47.5, 63), ((3.1, 0.63), (3.3, 0.68), (4.1, 0.82), (5.2, 1.03), (6.6, 1.29), (8.4, 1.62))),
     ((25, 118), ((2.3, 0.68), (1.7, 0.67), (1.7, 0.76), (2.5, 0.93), (3.8, 1.17), (5.5, 1.47))),
     ((0, 192), ((4.3, 0.77), (3.3, 0.73), (2.3, 0.80), (1.1, 0.89), (0.3, 1.03), (1.6, 1.31)))],
)  # fmt: skip
def test_fixed_capacitors_at_every_load(
    bank: tuple[float, float], row: tuple[tuple[float, float], ...]
) -> None:
    for share, (vuf, current) in zip(LOADS, row, strict=True):
        motor = ("motor", M2K2, constant(share * T22))
        found = settle(network(TOWN, uf(0, *bank), IDLER, motor))
        assert 100 * found.vuf == pytest.approx(vuf, abs=0.051)
        largest = max(found.machines[1].line_currents_a)
        assert largest / M2K2.rated_current_a == pytest.approx(current, abs=0.0051)


@pytest.mark.parametrize(
    ("bank", "idle", "idle_vuf", "full", "full_vuf", "current"),
    [((118, 25), (237.7, 217.3), 5.16, (215.4, 192.8), 8.96, 1.50),
     ((25, 118), (240.3, 245.0), 3.83, (216.4, 211.2), 3.81, 1.17),
     ((143, 0), (237.6, 209.9), 7.22, (215.4, 187.8), 10.48, 1.59),
     ((0, 143), (241.7, 252.4), 5.48, (216.9, 216.1), 2.72, 1.15)],
)  # fmt: skip
def test_the_capacitor_on_the_wrong_leg(
    bank: tuple[int, int], idle: tuple[float, float], idle_vuf: float,
    full: tuple[float, float], full_vuf: float, current: float,
) -> None:  # fmt: skip
    empty = settle(network(TOWN, uf(0, *bank), IDLER))
    loaded = settle(network(TOWN, uf(0, *bank), IDLER, ("motor", M2K2, constant(T22))))
    assert empty.line_voltages_v[1:] == pytest.approx(idle, abs=0.06)
    assert 100 * empty.vuf == pytest.approx(idle_vuf, abs=0.006)
    assert loaded.line_voltages_v[1:] == pytest.approx(full, abs=0.06)
    assert 100 * loaded.vuf == pytest.approx(full_vuf, abs=0.006)
    largest = max(loaded.machines[1].line_currents_a)
    assert largest / M2K2.rated_current_a == pytest.approx(current, abs=0.006)


@pytest.mark.parametrize(
    ("across", "volts", "vuf", "amps", "loss"),
    [((0, 0, 0), (229.2, 229.2, 229.2), 0.00, (6.9, 6.9, 6.9), 221),
     ((0, 1, 0), (228.1, 217.4, 209.9), 4.85, (6.6, 10.9, 5.0), 261),
     ((0, 0, 1), (228.1, 235.5, 217.2), 4.66, (2.6, 10.2, 9.4), 273),
     ((1, 0, 0), (228.1, 228.1, 228.1), 0.00, (6.9, 6.9, 6.9), 219)],
)  # fmt: skip
def test_a_heater_on_the_generated_line(
    across: tuple[int, int, int], volts: tuple[float, ...], vuf: float,
    amps: tuple[float, ...], loss: float,
) -> None:  # fmt: skip
    siemens = [share * 1000.0 / 230.0**2 for share in across]
    shop = replace(network(TOWN, uf(0, 47.5, 63), IDLER), conductance_s=Between(*siemens))
    found = settle(shop)
    assert found.line_voltages_v == pytest.approx(volts, abs=0.06)
    assert 100 * found.vuf == pytest.approx(vuf, abs=0.006)
    assert found.machines[0].line_currents_a == pytest.approx(amps, abs=0.06)
    assert found.machines[0].loss_w == pytest.approx(loss, abs=0.6)
    assert found.resistive_loads_w == pytest.approx(
        sum(s * v**2 for s, v in zip(siemens, found.line_voltages_v, strict=True))
    )


@pytest.mark.parametrize(
    ("extra", "volts", "vuf", "current"),
    [(None, (225.4, 218.1, 212.5), 3.43, 1.16),
     (("extra", M1K5, NO_LOAD), (224.5, 211.8, 210.5), 4.20, 1.24),
     (("extra", M2K2, NO_LOAD), (224.2, 210.5, 210.2), 4.35, 1.25),
     (("extra", M2K2, constant(T22 / 2)), (222.7, 208.4, 202.1), 5.84, 1.29),
     (("extra", M2K2, constant(T22)), (220.8, 204.3, 191.8), 8.24, 1.38)],
)  # fmt: skip
def test_other_motors_turning_along(
    extra: tuple | None, volts: tuple[float, ...], vuf: float, current: float
) -> None:
    more = () if extra is None else (extra,)
    found = settle(network(TOWN, uf(0, 27, 125), IDLER, ("motor", M2K2, constant(T22)), *more))
    assert found.line_voltages_v == pytest.approx(
        volts, abs=0.2
    )  # capacitors are printed to the microfarad
    assert 100 * found.vuf == pytest.approx(vuf, abs=0.03)
    largest = max(found.machines[1].line_currents_a)
    assert largest / M2K2.rated_current_a == pytest.approx(current, abs=0.006)


@pytest.mark.parametrize(
    ("ohm", "v12", "vuf", "amps", "loss"),
    [((0.05, 0.05), 228.9, 3.63, 16.02, 13), ((0.25, 0.15), 225.3, 3.81, 16.14, 65),
     ((0.80, 0.40), 215.4, 4.37, 16.59, 220), ((1.20, 0.50), 208.5, 4.85, 16.99, 346)],
)  # fmt: skip
def test_softer_supplies(
    ohm: tuple[float, float], v12: float, vuf: float, amps: float, loss: float
) -> None:
    source = Source(230.0, *ohm, 50.0)
    found = settle(network(source, uf(0, 25, 118), IDLER, ("motor", M2K2, constant(T22))))
    assert found.line_voltages_v[0] == pytest.approx(v12, abs=0.06)
    assert 100 * found.vuf == pytest.approx(vuf, abs=0.006)
    assert found.supply_current_a == pytest.approx(amps, abs=0.006)
    assert found.supply_line_loss_w == pytest.approx(loss, abs=0.6)


@pytest.mark.parametrize(
    ("ratio", "share", "volts", "amps"),
    [(0.5, 0.17, (217, 120, 110), 46.8), (1.0, 0.29, (215, 128, 119), 53.3),
     (2.0, 0.41, (213, 141, 136), 62.5), (5.0, 0.55, (209, 158, 160), 81.6)],
)  # fmt: skip
def test_a_motor_switched_on_while_the_converter_runs(
    ratio: float, share: float, volts: tuple[float, ...], amps: float
) -> None:
    idler = ("idler", scaled(M4K0, 0.55 * ratio), NO_LOAD)
    shop = network(TOWN, uf(0, 0, 0), idler, ("motor", M2K2, NO_LOAD))
    found = stalled(shop, "motor")  # the table lets the idler settle
    three_phase = balanced_locked(M2K2).airgap_torque_nm
    assert found.machines[1].shaft_torque_nm / three_phase == pytest.approx(share, abs=0.006)
    assert found.line_voltages_v == pytest.approx(volts, abs=0.6)
    assert found.supply_current_a == pytest.approx(amps, abs=0.06)
    first = locked(shop, "motor")
    assert first.machines[0].slip < found.machines[0].slip
    assert first.machines[1].shaft_torque_nm > found.machines[1].shaft_torque_nm
