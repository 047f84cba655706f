"""Ampacity by its factors, and voltage drop by the metre, worked by hand.

NFPA 70-2023, table 310.16 with 310.15(B) and (C), and chapter 9 table 8, read in a third-party
transcription; IEC 60364-5-52 tables B.52.4, B.52.14 and B.52.17; the drops of BS 7671 appendix 4 in
mV/A/m are from memory, beside IEC 60228's ohms (20 °C) at 70 °C: 1 + 0.00393 x 50 = 1.1965.
"""

from __future__ import annotations

import math

import pytest

from phasewright.circuits.cables import Laid, ampacity, drop_ratio, ohm_per_m, size_named
from phasewright.network.conductors import resistance_ohm_per_m
from phasewright.tables.sizes import awg_mm2

FOOT_M = 0.3048


def test_copper_of_8_awg_in_a_warm_pipe_with_two_circuits() -> None:
    """75 °C column 50 A; 45 °C air 0.82; six conductors in the pipe 80 %: 32.8 A."""
    size = size_named("8", "NEC")
    assert ampacity(size, Laid("NEC", 3)).number == pytest.approx(50.0)
    assert ampacity(size, Laid("NEC", 3, ambient_c=45.0)).number == pytest.approx(41.0)
    both = Laid("NEC", 3, ambient_c=45.0, grouped=2)
    assert ampacity(size, both).number == pytest.approx(32.8)


def test_6_mm2_on_a_wall_with_three_circuits_in_warm_air() -> None:
    """Method C, three loaded 41 A; 40 °C 0.87; three circuits bunched 0.70: 24.97 A."""
    size = size_named("6 mm2", "IEC")
    assert ampacity(size, Laid("IEC", 3, "C")).number == pytest.approx(41.0)
    warm = Laid("IEC", 3, "C", ambient_c=40.0, grouped=3)
    assert ampacity(size, warm).number == pytest.approx(41.0 * 0.87 * 0.70)


# mm2: ohm/km at 20 °C (IEC 60228), and mV/A/m of two cores and of three or four as printed
CORES = {
    1.5: (12.1, 29.0, 25.0), 2.5: (7.41, 18.0, 15.0), 4.0: (4.61, 11.0, 9.5),
    6.0: (3.08, 7.3, 6.4), 10.0: (1.83, 4.4, 3.8), 16.0: (1.15, 2.8, 2.4),
}  # fmt: skip


@pytest.mark.parametrize("mm2", CORES)
def test_millivolts_an_ampere_and_metre(mm2: float) -> None:
    ohm_km, two, three = CORES[mm2]
    one_way = ohm_per_m(1e-6 * mm2, 70.0)
    assert one_way.real * 1000.0 == pytest.approx(1.1965 * ohm_km, rel=1e-3)
    for loaded, printed in ((2, two), (3, three)):
        volts = drop_ratio(1.0, 1.0, one_way, loaded, 1.0)  # of 1 A along 1 m, on 1 V
        assert 1000.0 * volts == pytest.approx(printed, rel=0.04)  # printed to two figures


def test_a_hundred_feet_of_12_awg() -> None:
    """2 x 100 ft x 1.98 ohm/kft x 16 A / 1000 = 6.336 V, 2.64 % of 240 V, at 75 °C."""
    one_way = resistance_ohm_per_m(1e-6 * awg_mm2("12"), "copper", 75.0) * 100.0 * FOOT_M
    assert 16.0 * 2.0 * one_way == pytest.approx(6.336, rel=0.01)
    assert drop_ratio(16.0, 1.0, complex(one_way), 2, 240.0) == pytest.approx(0.0264, rel=0.01)
    three = drop_ratio(16.0, 1.0, complex(one_way), 3, 240.0)
    assert three == pytest.approx(0.0264 * math.sqrt(3.0) / 2.0, rel=0.01)
