"""Rows of the tables of circuits typed a second time from their sources, as text."""

from __future__ import annotations

import math

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.circuits import (
    breaking_ka,
    capacitor_circuit,
    iec_protective_mm2,
    limited_a2s,
    nec_protective_size,
    nec_small_conductor_a,
    residual,
    residual_ratings_ma,
)


def test_nec_250_122() -> None:
    typed = "15 A 14; 20 12; 60 10; 100 8; 200 6; 300 4"
    for entry in typed.replace(" A", "").split("; "):
        device, size = entry.split()
        assert nec_protective_size(float(device)) == size
    assert nec_protective_size(25.0) == "10"
    with pytest.raises(TableEnds):
        nec_protective_size(1e6)


def test_iec_60364_5_54_table_54_2() -> None:
    for line, earth in ((1.5, 1.5), (16.0, 16.0), (25.0, 16.0), (35.0, 16.0), (50.0, 25.0)):
        assert iec_protective_mm2(line) == earth


def test_nec_240_4_d() -> None:
    assert [nec_small_conductor_a(size) for size in ("14", "12", "10")] == [15.0, 20.0, 30.0]
    assert math.isinf(nec_small_conductor_a("8"))


def test_residual_devices() -> None:
    assert residual_ratings_ma() == (30.0, 100.0, 300.0)
    assert (residual("at_rating_s"), residual("at_five_s")) == (0.3, 0.04)


def test_nec_460() -> None:
    assert capacitor_circuit("conductor") == 1.35
    assert (capacitor_circuit("safe_v"), capacitor_circuit("within_s")) == (50.0, 60.0)


def test_breaking_capacities_and_energy() -> None:
    assert breaking_ka(5900.0, "IEC") == 6.0
    assert breaking_ka(6100.0, "IEC") == 10.0
    assert breaking_ka(11000.0, "NEC") == 22.0
    assert limited_a2s("B", 16.0, 6000.0) == 35000.0
    assert limited_a2s("C", 20.0, 2500.0) == 20000.0
    assert math.isinf(limited_a2s("D", 16.0, 1000.0))
    assert math.isinf(limited_a2s("B", 40.0, 1000.0))
