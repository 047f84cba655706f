"""Circuits side by side: a row of a curve is that circuit's own curve."""

from dataclasses import fields, replace

import numpy as np
import pytest

from phasewright.machines.circuit import Cage, side_by_side
from phasewright.machines.performance import curve
from phasewright.machines.standard import standard_motor

SLIPS = np.concatenate([np.geomspace(1e-4, 1.5, 37), [0.0, -0.02]])


@pytest.mark.parametrize("saturates", [True, False])
def test_each_row_is_what_the_circuit_gives_alone(saturates):
    motor = standard_motor(4000.0, 400.0, 50.0)
    if not saturates:
        motor = replace(motor, saturation=None)
    several = [
        replace(
            motor,
            stator_resistance_ohm=motor.stator_resistance_ohm * ratio,
            magnetising_ohm=motor.magnetising_ohm / ratio,
            core_loss_ohm=motor.core_loss_ohm * ratio,
            cages=tuple(
                Cage(cage.resistance_ohm / ratio, cage.leakage_ohm * ratio) for cage in motor.cages
            ),
        )
        for ratio in (0.7, 1.0, 1.6)
    ]
    together = curve(side_by_side(several), SLIPS, 380.0, 48.0)
    for row, circuit in enumerate(several):
        alone = curve(circuit, SLIPS, 380.0, 48.0)
        for field in fields(alone):
            whole = np.broadcast_to(getattr(together, field.name), (3, SLIPS.size))
            assert whole[row] == pytest.approx(getattr(alone, field.name), rel=1e-11, abs=1e-12)
