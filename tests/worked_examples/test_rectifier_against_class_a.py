"""IEC 61000-3-2 class A on a rectifier: 2.5 kW without choke on 0.40 + j0.25 ohm.

An independent simulation (ideal diodes) gives a 3rd harmonic of 9.57 A, and 7.01 A with a link
choke of 5 mH, against a published limit of 2.30 A.
"""

from __future__ import annotations

import pytest

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.errors import TableEnds
from phasewright.rules.harmonics import class_a
from phasewright.tables.limits import class_a_limit_a

REFERENCE = Source(230.0, 0.40, 0.25, 50.0)


@pytest.mark.parametrize(("choke_h", "third"), [(0.0, 9.57), (5e-3, 7.01)])
def test_the_third_harmonic_is_flagged(choke_h: float, third: float) -> None:
    state = settle_bridge(
        Bridge(REFERENCE, 1e-3, 2500.0, dc_choke_h=choke_h, diode_drop_v=0.0,
               diode_resistance_ohm=0.0)
    )  # fmt: skip
    amps = tuple(abs(entry) for entry in state.harmonics_a)
    assert amps[2] == pytest.approx(third, rel=0.01)
    (finding,) = class_a(amps, 10.0, False, "drive").findings
    assert finding.severity == "caution"  # told: no verdict hangs on it
    assert "would not meet" in finding.words


def test_limits() -> None:
    assert class_a_limit_a(3) == 2.30
    assert class_a_limit_a(21) == pytest.approx(0.15 * 15 / 21)
    assert class_a_limit_a(8) == pytest.approx(0.23)
    assert class_a_limit_a(40) == pytest.approx(0.23 * 8 / 40)
    for order in (0, 1, 41):
        with pytest.raises(TableEnds):
            class_a_limit_a(order)
