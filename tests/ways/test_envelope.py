"""What a motor gives for ever over its speeds on a drive, in air that cools less and less."""

from __future__ import annotations

import numpy as np
import pytest
from reference_machines import M2K2

from phasewright.ways.torque_speed import OnDrive, envelope, speeds_to


@pytest.mark.parametrize("share", [0.0, 0.5])
def test_where_the_air_cools_less_the_motor_bears_less_at_every_speed_and_nothing_where_none(share):
    usual, less = (
        envelope(OnDrive(M2K2, 230.0, 10.0, heat_ratio), speeds_to(1.6))
        for heat_ratio in (1.0, share)
    )
    known = ~np.isnan(usual.lasting)
    assert (np.isnan(less.lasting) == ~known).all()
    assert known[usual.speed >= 1.0].all()
    assert (less.lasting[known] <= usual.lasting[known]).all()
    assert (less.with_fan <= usual.with_fan).all()
    if share == 0.0:
        assert (less.lasting[known] == 0.0).all()
