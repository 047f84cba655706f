"""Parameters from tests: a circuit measured by its own two tests is found again."""

from __future__ import annotations

import math

import pytest
from published_circuits import published

from phasewright.machines.from_tests import Reading, parameters_from_tests
from phasewright.machines.performance import at_slip
from phasewright.quantities.errors import NotComputable


@pytest.mark.parametrize("share", [0.3, 0.4, 0.5])
def test_a_circuit_is_found_again(share: float) -> None:
    x1, x2 = 1.0, (1.0 - share) / share
    motor = published(400.0, 50.0, 4, 0.8, x1, 0.9, x2, 40.0, rated_slip=0.04)
    idle = at_slip(motor, 0.0)
    low = at_slip(motor, 1.0, 90.0)
    found = parameters_from_tests(
        Reading(400.0, idle.current_a, idle.input_power_w, 50.0),
        Reading(90.0, low.current_a, low.input_power_w, 50.0),
        0.8,
        share,
    )
    # the textbook method takes the rotor's resistance as small beside Xm
    assert found.stator_leakage_ohm == pytest.approx(x1, rel=0.02)
    assert found.rotor_leakage_ohm == pytest.approx(x2, rel=0.02)
    assert found.magnetising_ohm == pytest.approx(40.0, rel=0.005)
    assert found.rotor_resistance_ohm == pytest.approx(0.9, rel=0.02)
    assert found.rotational_w == pytest.approx(0.0, abs=1e-6 * idle.input_power_w)


def test_readings_that_contradict_each_other_are_refused() -> None:
    idle = Reading(400.0, 5.0, 200.0, 50.0)
    with pytest.raises(NotComputable, match="more watts"):
        parameters_from_tests(idle, Reading(50.0, 10.0, 2000.0, 50.0), 0.8)
    with pytest.raises(NotComputable, match="smaller"):
        parameters_from_tests(idle, Reading(400.0, 2.0, 100.0, 50.0), 0.8)
    with pytest.raises(NotComputable, match="stator alone"):
        parameters_from_tests(idle, Reading(50.0, 10.0, 100.0, 50.0), 0.8)
    assert math.isclose(idle.resistance_ohm, 200.0 / 75.0)
