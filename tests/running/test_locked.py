"""A machine at standstill on a network, against tables and against its own balanced circuit."""

from __future__ import annotations

from dataclasses import replace

import pytest
from reference_machines import (
    I4A,
    L2A,
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    uf,
)  # fmt: skip

from phasewright.machines.performance import locked as balanced_locked
from phasewright.network.branch import side_by_side
from phasewright.quantities.errors import UsageError
from phasewright.running.network import Between
from phasewright.running.settle import at_slips, locked, settle

TN = rated_torque(4000, 1455)


@pytest.mark.parametrize(
    ("start_uf", "torque", "amps", "v12", "v31"),
    [(0, 0.000, 66.5, 211.8, 105.9), (100, 0.069, 65.2, 212.0, 112.5),
     (300, 0.269, 63.2, 212.3, 125.7), (500, 0.548, 62.6, 212.1, 136.9),
     (1000, 1.142, 71.5, 209.2, 135.5)],
)  # fmt: skip
def test_idler_at_standstill_against_the_start_capacitor(
    start_uf: float, torque: float, amps: float, v12: float, v31: float
) -> None:
    # source: computed reference table (supply 0.25 + j0.15 ohm, run capacitors 60/60 uF in
    # circuit, start branch with 0.5 ohm in series)
    farad, siemens = side_by_side(start_uf * 1e-6, 0.5, 50.0)
    bank = Between(0.0, 60e-6, 60e-6 + farad)
    shop = replace(
        network(TOWN, bank, ("idler", M4K0, NO_LOAD)), conductance_s=Between(0.0, 0.0, siemens)
    )
    found = at_slips(shop, (1.0,))
    assert found.machines[0].shaft_torque_nm / TN == pytest.approx(torque, abs=6e-4)
    assert found.supply_current_a == pytest.approx(amps, abs=0.06)
    assert found.line_voltages_v[0] == pytest.approx(v12, abs=0.06)
    assert found.line_voltages_v[2] == pytest.approx(v31, abs=0.06)


def test_the_others_keep_the_slip_they_ran_at() -> None:
    both = network(TOWN, uf(0, 25, 118), ("idler", I4A, NO_LOAD), ("motor", L2A, constant(10.0)))
    alone = settle(network(TOWN, uf(0, 25, 118), ("idler", I4A, NO_LOAD)))
    start = locked(both, "motor")
    assert start.machines[0].slip == alone.machines[0].slip
    assert start.machines[1].slip == 1.0
    assert start.machines[1].shaft_power_w == 0.0
    assert start.machines[1].friction_loss_w == 0.0
    # less than on a stiff three-phase line, more than on two lines without a converter
    stiff = balanced_locked(L2A).airgap_torque_nm
    assert 0.2 * stiff < start.machines[1].shaft_torque_nm < stiff
    assert start.line_voltages_v[0] < alone.line_voltages_v[0]


def test_a_name_that_is_not_there_is_refused() -> None:
    shop = network(TOWN, uf(0, 25, 118), ("idler", M4K0, NO_LOAD), ("motor", M2K2, NO_LOAD))
    with pytest.raises(UsageError, match="'saw'"):
        locked(shop, "saw")
    with pytest.raises(UsageError, match="2 slips"):
        at_slips(shop, (1.0,))
    with pytest.raises(UsageError, match="idler, motor"):
        at_slips(shop, {"idler": 0.0})
