"""Conductors of a cable, fault current, and a start branch as two elements."""

from __future__ import annotations

import math

import pytest

from phasewright.network.branch import side_by_side
from phasewright.network.conductors import feeder_impedance, resistance_ohm_per_m, standard_row
from phasewright.network.shortcircuit import fault_current_a, loop_ohm, peak_current_a
from phasewright.quantities.errors import TableEnds, UsageError


def test_two_core_voltage_drop_of_the_wiring_rules() -> None:
    # BS 7671 appendix 4, PVC 70 degC, two-core AC, mV per ampere and metre (from memory)
    for mm2, drop in ((1.5, 29), (2.5, 18), (4, 11), (6, 7.3), (10, 4.4), (16, 2.8)):
        both = 2e3 * resistance_ohm_per_m(mm2 * 1e-6, "copper", 70.0)
        assert both == pytest.approx(drop, rel=0.025)


def test_awg_and_mm2_rows_tell_the_same_metal() -> None:
    # resistance times area is that of annealed copper a little lengthened by the lay
    for area in (10e-6, 16e-6, 8.37e-6, 13.3e-6):
        resistivity = resistance_ohm_per_m(area, "copper", 20.0) * area
        assert resistivity == pytest.approx(1.78e-8, rel=0.05)


def test_a_size_that_is_in_no_table_is_refused() -> None:
    for area in (7.5e-6, 1e-3):
        with pytest.raises(TableEnds, match="known sizes"):
            standard_row(area, "copper")
    with pytest.raises(TableEnds):
        standard_row(1.5e-6, "aluminium")


def test_warm_aluminium_and_long_cables_resist_more() -> None:
    copper = resistance_ohm_per_m(16e-6, "copper", 20.0)
    assert resistance_ohm_per_m(16e-6, "copper", 70.0) == pytest.approx(copper * 1.1965, rel=1e-9)
    assert resistance_ohm_per_m(16e-6, "aluminium", 20.0) > 1.5 * copper
    short, _ = feeder_impedance(10.0, 16e-6)
    long, reactance = feeder_impedance(30.0, 16e-6)
    assert long.number == pytest.approx(3 * short.number)
    assert long.low < long.number < long.high
    assert reactance.number == pytest.approx(2 * 30 * 0.08e-3)


def test_fault_current_and_loop_are_inverse() -> None:
    current = fault_current_a(230.0, 0.25, 0.15)
    assert loop_ohm(230.0, current) == pytest.approx(math.hypot(0.25, 0.15))
    assert fault_current_a(230.0, 0.25, 0.15, 1.1) == pytest.approx(1.1 * current)
    with pytest.raises(UsageError):
        fault_current_a(230.0, 0.0, 0.0)
    with pytest.raises(UsageError):
        loop_ohm(230.0, 0.0)


def test_first_peak_lies_between_one_and_two_crests() -> None:
    crest = math.sqrt(2.0) * 1000.0
    assert peak_current_a(1000.0, 1.0, 0.0) == pytest.approx(1.02 * crest)
    assert peak_current_a(1000.0, 1e-9, 1.0) == pytest.approx(2.0 * crest, rel=1e-6)
    assert 1.02 * crest < peak_current_a(1000.0, 0.25, 0.15) < 1.2 * crest


def test_a_series_branch_as_two_elements_side_by_side() -> None:
    w = 2 * math.pi * 50
    farad, siemens = side_by_side(300e-6, 0.5, 50.0)
    series = 1 / (0.5 + 1 / (1j * w * 300e-6))
    assert complex(siemens, w * farad) == pytest.approx(series, rel=1e-12)
    assert side_by_side(60e-6, 0.0, 50.0) == (60e-6, 0.0)
