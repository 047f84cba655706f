"""Rows of the clauses' tables typed a second time from their sources, as text."""

from __future__ import annotations

import math

import pytest

from phasewright.network.flicker import Change, short_term
from phasewright.rules.capacitors import greatest_resistor_ohm
from phasewright.rules.unbalance import derated_by_curve
from phasewright.tables.circuits import (
    iec_protective_mm2,
    nec_protective_size,
    nec_small_conductor_a,
)
from phasewright.tables.clauses import electrode_conductor_size, limit


def test_nec_250_122_copper() -> None:
    text = "15 A 14; 20 12; 60 10; 100 8; 200 6; 300 4; 400 3".replace(" A", "")
    for entry in text.split("; "):
        most, size = entry.split()
        assert nec_protective_size(float(most)) == size


def test_nec_240_4_d() -> None:
    # 240.4(D)(4), (6), (8): 14 AWG copper 15 A, 12 AWG copper 20 A, 10 AWG copper 30 A
    assert [nec_small_conductor_a(size) for size in ("14", "12", "10")] == [15.0, 20.0, 30.0]
    assert math.isinf(nec_small_conductor_a("8"))


def test_nec_250_66_copper() -> None:
    rows = {"2": "8", "1": "6", "1/0": "6", "2/0": "4", "3/0": "4"}
    for line, size in rows.items():
        assert electrode_conductor_size(line) == size


def test_nec_450_3_b() -> None:
    # primary only: 125 % from 9 A, 167 % below, 300 % below 2 A; with a secondary device 250 %
    named = ("primary_only", "primary_only_small", "primary_only_smallest",
             "primary_with_secondary", "secondary", "secondary_small")  # fmt: skip
    assert [limit("nec_450_3", name) for name in named] == [1.25, 1.67, 3.0, 2.5, 1.25, 1.67]
    assert (limit("nec_450_3", "small_below_a"), limit("nec_450_3", "smallest_below_a")) == (9, 2)


def test_nec_430() -> None:
    # 430.24 and 430.32(A)(1) 125 %, 430.32(C) 140 %, 430.110(A) and 430.128 115 %; 430.37 three
    named = ("largest", "overload", "overload_raised", "disconnect", "overload_units")
    assert [limit("nec_430", name) for name in named] == [1.25, 1.25, 1.40, 1.15, 3.0]


def test_nec_210_8_and_460_8() -> None:
    named = ("to_ground_v", "most_v", "single_phase_most_a", "three_phase_most_a")
    assert [limit("nec_210_8", name) for name in named] == [150.0, 250.0, 50.0, 100.0]
    assert limit("nec_460", "of_motor_circuit") == pytest.approx(1.0 / 3.0)
    assert limit("nec_460", "disconnect") == 1.35


def test_iec_table_54_2() -> None:
    # up to 16 the line's own, 16 up to 35, half above
    rows = {1.5: 1.5, 6.0: 6.0, 16.0: 16.0, 25.0: 16.0, 35.0: 16.0, 50.0: 25.0, 95.0: 47.5}
    for line, protective in rows.items():
        assert iec_protective_mm2(line) == protective


def test_discharge_resistors_of_the_sources() -> None:
    # kohm: 100 uF on 240 V to 50 V in 60 s; 100 and 50 uF on 230 V to 60 V in 5 s
    rows = [(240.0, 100, 50.0, 60.0, 313.28), (230.0, 100, 60.0, 5.0, 29.58),
            (230.0, 50, 60.0, 5.0, 59.16)]  # fmt: skip
    for volts, uf, to_v, seconds, kohm in rows:
        got = greatest_resistor_ohm(volts, uf * 1e-6, to_v, seconds) / 1000.0
        assert got == pytest.approx(kohm, rel=2e-4)


def test_a_motor_of_a_textbook_on_the_derating_curve() -> None:
    # Hubert, example 5.14: 460/455/440 V are 2.58 %, and 0.92 of its power was read off the curve
    (finding,) = derated_by_curve(1.0, 0.02583, "m").findings
    assert finding.allowed == pytest.approx(0.92, abs=0.01)


def test_the_analytical_method_against_the_flickermeter_s_test_points() -> None:
    # IEC 61000-4-15, table 5 (from memory): steps of so many a minute, per cent that give 1
    for a_minute, percent in ((1, 2.715), (2, 2.191), (7, 1.450), (39, 0.894)):
        assert short_term([Change(percent / 100.0, 60.0 * a_minute)]) == pytest.approx(
            1.0, abs=0.05
        )
