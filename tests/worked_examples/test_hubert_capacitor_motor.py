"""Hubert, Electric Machines, example 6.3: a 35 hp load on a three-phase motor on two lines."""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.capacitors import thumb_capacitors

HP = 745.699872


def test_example_6_3() -> None:
    got = thumb_capacitors(35.0 * HP)
    assert got.motor_w / HP == pytest.approx(60.0)
    assert got.run_f == pytest.approx(1590e-6)
    assert got.extra_start_f == pytest.approx(12_210e-6)


def test_the_list_of_motors_ends() -> None:
    with pytest.raises(TableEnds):
        thumb_capacitors(41.0 * HP)
