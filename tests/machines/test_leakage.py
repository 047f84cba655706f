"""Starting at less than full volts: computed reference table of the 4 kW machine."""

from __future__ import annotations

import pytest
from reference_machines import M4K0

from phasewright.machines.leakage import (
    MIDDLE,
    STRONG,
    WEAK,
    LeakageLaw,
    locked_with_leakage,
    with_leakage_at,
)
from phasewright.machines.performance import locked

TABLE = {
    0.9: ((0.89, 0.80), (0.89, 0.79), (0.88, 0.77)),
    0.8: ((0.79, 0.62), (0.78, 0.60), (0.77, 0.57)),
    0.65: ((0.63, 0.39), (0.61, 0.37), (0.59, 0.33)),
    0.5: ((0.47, 0.22), (0.45, 0.19), (0.41, 0.16)),
    0.35: ((0.32, 0.10), (0.29, 0.08), (0.26, 0.06)),
}


@pytest.mark.parametrize("share", TABLE)
@pytest.mark.parametrize(("law", "column"), [(WEAK, 0), (MIDDLE, 1), (STRONG, 2)])
def test_reduced_volts(share: float, law: LeakageLaw, column: int) -> None:
    amps, torque = TABLE[share][column]
    full = locked(M4K0)
    now = locked_with_leakage(M4K0, 230.0 * share, law=law)
    assert now.current_a / full.current_a == pytest.approx(amps, abs=0.006)
    assert now.airgap_torque_nm / full.airgap_torque_nm == pytest.approx(torque, abs=0.006)


@pytest.mark.parametrize("law", [WEAK, MIDDLE, STRONG])
def test_leakage_falls_with_current_towards_its_unsaturable_share(law: LeakageLaw) -> None:
    steps = [law.factor(ratio) for ratio in (0.5, law.knee, 2.5, 4.0, 6.0, 1000.0)]
    assert steps[0] == steps[1] == 1.0
    assert steps[1:] == sorted(steps[1:], reverse=True)
    assert steps[-1] == pytest.approx(law.unsaturable, abs=2e-3)


def test_at_full_volts_the_plate_holds() -> None:
    full = locked(M4K0)
    assert with_leakage_at(M4K0, full.current_a).stator_leakage_ohm == pytest.approx(
        M4K0.stator_leakage_ohm
    )
    assert locked_with_leakage(M4K0, 230.0).current_a == pytest.approx(full.current_a)
