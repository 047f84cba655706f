"""BS 7671 table 41.3 by its formula 0.95 x 230 / (k In); IEC 61000-3-3 on the reference impedance.

The Zs figures are derived from the published formula; the limits of the voltage change and the
reference impedance 0.40 + j0.25 ohm are from memory.
"""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.limits import reference_step
from phasewright.tables.protection import greatest_loop_ohm

TABLE = {
    6: (7.28, 3.64, 1.82), 10: (4.37, 2.19, 1.09), 16: (2.73, 1.37, 0.683), 20: (2.19, 1.09, 0.546),
    25: (1.75, 0.874, 0.437), 32: (1.37, 0.683, 0.341), 40: (1.09, 0.546, 0.273),
    50: (0.874, 0.437, 0.219), 63: (0.694, 0.347, 0.173),
}  # fmt: skip


@pytest.mark.parametrize("rating", TABLE)
def test_greatest_loop(rating: int) -> None:
    got = [greatest_loop_ohm(curve, rating) for curve in "BCD"]
    assert got == pytest.approx(TABLE[rating], rel=0.005)


def test_an_unknown_curve_has_none() -> None:
    with pytest.raises(TableEnds):
        greatest_loop_ohm("Z", 16.0)
    with pytest.raises(TableEnds):
        greatest_loop_ohm("B", 0.0)


# power factor: amps at 3.3, 4, 6 and 7 %
STEPS = {1.0: (18.98, 23.00, 34.5, 40.25), 0.35: (20.28, 24.59, 36.88, 43.03)}


@pytest.mark.parametrize("power_factor", STEPS)
def test_current_steps_on_the_reference_impedance(power_factor: float) -> None:
    got = [reference_step(amps, power_factor) for amps in STEPS[power_factor]]
    assert got == pytest.approx([0.033, 0.04, 0.06, 0.07], rel=5e-4)
