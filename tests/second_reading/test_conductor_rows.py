"""Conductor resistances typed again from the sources, beside the table's own typing.

IEC 60228, ohm per km at 20 degC, plain copper 1.5 to 16 mm2. National Electrical Code 2023,
chapter 9, table 8, uncoated stranded copper, ohm per 1000 ft at 75 degC.
"""

from __future__ import annotations

import pytest

from phasewright.network.conductors import resistance_ohm_per_m

IEC_60228 = {1.5: 12.1, 2.5: 7.41, 4: 4.61, 6: 3.08, 10: 1.83, 16: 1.15}
# AWG number: (square millimetres, ohm per 1000 ft)
NEC_TABLE_8 = {
    14: (2.08, 3.14), 12: (3.31, 1.98), 10: (5.261, 1.24), 8: (8.367, 0.778),
    6: (13.30, 0.491), 4: (21.15, 0.308), 2: (33.62, 0.194),
}  # fmt: skip


@pytest.mark.parametrize("mm2", IEC_60228)
def test_iec_60228(mm2: float) -> None:
    assert 1e3 * resistance_ohm_per_m(mm2 * 1e-6, "copper", 20.0) == pytest.approx(
        IEC_60228[mm2], rel=1e-9
    )


@pytest.mark.parametrize("gauge", NEC_TABLE_8)
def test_nec_chapter_9_table_8(gauge: int) -> None:
    mm2, ohm = NEC_TABLE_8[gauge]
    assert 304.8 * resistance_ohm_per_m(mm2 * 1e-6, "copper", 75.0) == pytest.approx(ohm, rel=1e-9)
