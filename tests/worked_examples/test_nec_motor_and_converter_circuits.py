"""NFPA 70-2023, articles 430 and 455, read in a third-party transcription; worked by hand.

Inputs and expected values: nameplate 60 A variable; fixed loads 28 A + 15.2 A at equal volts, and
14 + 7.6 A at 480 V from 240 V; horsepower switch with 10 hp (162 A) and 15.2 A; 5 hp 230 V motor.
"""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.rules.motor_circuits import (
    motor_conductor_a,
    motor_device_a,
    motor_overcurrent,
    raised_device_a,
)
from phasewright.rules.phase_converters import (
    fixed_load_conductor_a,
    horsepower_switch_a,
    variable_loads,
)
from phasewright.tables.currents import full_load_current_a


def test_variable_loads_455_6_455_7_455_8() -> None:
    needs = variable_loads(60.0)
    assert needs.conductor_a == pytest.approx(75.0)
    assert needs.device_most_a == pytest.approx(75.0)
    assert needs.device_standard_a == 80.0
    assert needs.disconnect_a == pytest.approx(69.0)


def test_fixed_loads_455_6() -> None:
    assert fixed_load_conductor_a((28.0, 15.2)) == pytest.approx(108.0)
    assert fixed_load_conductor_a((14.0, 7.6), 480.0 / 240.0) == pytest.approx(108.0)


def test_horsepower_rated_switch_455_8() -> None:
    assert horsepower_switch_a(10.0, 15.2) == pytest.approx(354.4)


def test_five_horsepower_motor_430_22_430_52() -> None:
    current = full_load_current_a(5.0, 230.0)
    assert current == 15.2
    assert motor_conductor_a(current) == pytest.approx(19.0)
    assert motor_device_a(current, "inverse_time") == 40.0
    assert motor_device_a(current, "time_delay_fuse") == 30.0


def test_a_device_that_does_not_hold_the_start_may_be_raised_430_52_c_1() -> None:
    """15.2 A: 400 % are 60.8 A, so 60 A; time-delay fuses 225 %, 34.2 A, so 30 A as before."""
    assert raised_device_a(15.2, "inverse_time") == 60.0
    assert raised_device_a(15.2, "time_delay_fuse") == 30.0
    assert raised_device_a(15.2, "fuse") == 60.0
    assert raised_device_a(104.0, "inverse_time") == 300.0  # 300 % of more than 100 A
    assert raised_device_a(15.2, "instantaneous") == motor_device_a(15.2, "instantaneous")
    for holding, allowed in ((None, 40.0), (35.0, 40.0), (50.0, 50.0), (100.0, 60.0)):
        for device in (40.0, 45.0, 50.0, 60.0, 70.0):
            ruling = motor_overcurrent(device, 15.2, "inverse_time", "c", holding)
            assert ruling.kept is (device <= allowed)


def test_no_row_is_no_answer() -> None:
    with pytest.raises(TableEnds):
        full_load_current_a(4.0, 230.0)
    with pytest.raises(TableEnds):
        full_load_current_a(25.0, 200.0)
    with pytest.raises(TableEnds):
        full_load_current_a(5.0, 400.0)
    with pytest.raises(TableEnds):
        motor_device_a(200.0, "inverse_time")
