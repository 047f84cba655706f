"""The settled three-line network against a general circuit simulator's transient.

ngspice integrates the two-axis equations of every machine in phase coordinates, shafts
included (with a flywheel, so that twice-frequency ripple of the speed plays no part), from
empty fluxes to the settled state; the fundamental of its last cycles is compared.
"""

from __future__ import annotations

import math
import shutil
from pathlib import Path

import numpy as np
import pytest
from network_deck import fundamental, netlist, run
from numpy.typing import NDArray
from reference_machines import (
    FARM,
    I4A,
    K3HP_IRON,
    K15,
    L2A,
    M2K2,
    M4K0,
    NO_LOAD,
    SIXTY,
    TOWN,
    constant,
    fan,
    network,
    rated_torque,
    uf,
)  # fmt: skip

from phasewright.running.settle import settle

T22 = rated_torque(2200, 1445)

CASES = {
    "idler": network(TOWN, uf(0, 60, 60), ("idler", M4K0, NO_LOAD)),
    "motor at rated torque": network(
        TOWN, uf(0, 25, 118), ("idler", M4K0, NO_LOAD), ("motor", M2K2, constant(T22))
    ),
    "saturating idler": network(TOWN, uf(0, 60, 60), ("idler", I4A, NO_LOAD)),
    "saturating, weak supply": network(
        FARM, uf(0, 25, 118), ("idler", I4A, NO_LOAD), ("motor", L2A, fan(T22, 1445))
    ),
    "60 Hz, saturating idler": network(
        SIXTY, uf(20, 60, 130), ("idler", K15, NO_LOAD), ("motor", K3HP_IRON, constant(6.0))
    ),
}


@pytest.mark.ngspice
@pytest.mark.parametrize("case", CASES)
def test_settled_point_against_transient(case: str, tmp_path: Path) -> None:
    shop = CASES[case]
    found = settle(shop)
    wave = run(netlist(shop, found), tmp_path)
    hertz = shop.source.frequency_hz

    def rms(values: NDArray[np.float64]) -> float:
        return fundamental(wave["time"], values, hertz)

    v12, v23, v31 = wave["v(n1)"], -wave["v(n3)"], wave["v(n3)"] - wave["v(n1)"]
    assert tuple(rms(v) for v in (v12, v23, v31)) == pytest.approx(found.line_voltages_v, rel=1e-3)
    assert rms(wave["i(vs)"]) == pytest.approx(found.supply_current_a, rel=2e-3)
    for k, machine in enumerate(found.machines):
        speed = float(np.mean(wave[f"v(w{k})"])) * 30.0 / math.pi
        assert speed == pytest.approx(machine.speed_rpm, rel=2e-4)
        amps = tuple(rms(wave[f"v(i{line}m{k})"]) for line in (1, 2, 3))
        largest = max(machine.line_currents_a)
        assert amps == pytest.approx(machine.line_currents_a, abs=2e-3 * largest)


def test_the_simulator_is_installed() -> None:
    """The second opinion may not be left out quietly."""
    assert shutil.which("ngspice"), "ngspice is part of the test environment (tools/system.sh)"
