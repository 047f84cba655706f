"""Rows of ampacity and breaker tables typed a second time from their sources, as text."""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.ampacity import (
    iec_ambient_factor,
    iec_ampacity_a,
    iec_grouping_factor,
    nec_ambient_factor,
    nec_ampacity_a,
    nec_bundling_factor,
)
from phasewright.tables.limits import derating_factor
from phasewright.tables.sizes import BREAKERS_NEC_A

SIZES = [1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0]
IEC = {
    (2, "pvc"): "B1 17.5/24/32/41/57/76/101/125; B2 16.5/23/30/38/52/69/90/111; "
    "C 19.5/27/36/46/63/85/112/138; A2 14/18.5/25/32/43/57/75/92",
    (3, "pvc"): "B1 15.5/21/28/36/50/68/89/110; B2 15/20/27/34/46/62/80/99; "
    "C 17.5/24/32/41/57/76/96/119; A2 13/17.5/23/29/39/52/68/83",
    (3, "xlpe"): "B1 20/28/37/48/66/88/117/144; C 22/30/40/52/71/96/119/147",
}


@pytest.mark.parametrize(("loaded", "insulation"), IEC)
def test_iec_60364_5_52(loaded: int, insulation) -> None:
    for entry in IEC[loaded, insulation].split("; "):
        method, amps = entry.split()
        got = [iec_ampacity_a(size, method, loaded, insulation) for size in SIZES]
        assert got == [float(amp) for amp in amps.split("/")]


def test_a_national_standard_agrees() -> None:
    # SANS 10142-1:2019 table 6.3(a): clipped direct is method C, conduit is method B2
    sizes = SIZES[:6]
    rows = {
        ("C", 2): "19.5/27/36/46/63/85", ("C", 3): "17.5/24/32/41/57/76",
        ("B2", 2): "16.5/23/30/38/52/69", ("B2", 3): "15/20/27/34/46/62",
    }  # fmt: skip
    for (method, loaded), amps in rows.items():
        got = [iec_ampacity_a(size, method, loaded) for size in sizes]
        assert got == [float(amp) for amp in amps.split("/")]


def test_iec_factors() -> None:
    pvc = "35 0.94, 40 0.87, 45 0.79, 50 0.71"
    for entry in pvc.split(", "):
        ambient, factor = (float(x) for x in entry.split())
        assert iec_ambient_factor(ambient) == factor
    for ambient, factor in zip((35, 40, 45, 50), (0.96, 0.91, 0.87, 0.82), strict=True):
        assert iec_ambient_factor(ambient, "xlpe") == factor
    grouping = "2 0.80, 3 0.70, 4 0.65, 6 0.57, 9 0.50"
    for entry in grouping.split(", "):
        count, factor = entry.split()
        assert iec_grouping_factor(int(count)) == float(factor)
    assert iec_ambient_factor(36.0) == 0.87  # never the cooler row
    assert iec_grouping_factor(5) == 0.57


def test_nec_310_16() -> None:
    text = (
        "14 15/20/25; 12 20/25/30; 10 30/35/40; 8 40/50/55; 6 55/65/75; 4 70/85/95; 3 85/100/115; "
        "2 95/115/130; 1 110/130/145; 1/0 125/150/170; 2/0 145/175/195; 3/0 165/200/225; "
        "4/0 195/230/260"
    )
    for entry in text.split("; "):
        size, amps = entry.split()
        got = [nec_ampacity_a(size, rating) for rating in (60, 75, 90)]
        assert got == [float(amp) for amp in amps.split("/")]


def test_nec_factors() -> None:
    for ambient, row in ((40, "0.82/0.88/0.91"), (45, "0.71/0.82/0.87"), (50, "0.58/0.75/0.82")):
        got = [nec_ambient_factor(ambient, rating) for rating in (60, 75, 90)]
        assert got == [float(factor) for factor in row.split("/")]
    got = [nec_bundling_factor(n) for n in (3, 4, 6, 7, 9, 10, 20)]
    assert got == [1.0, 0.8, 0.8, 0.7, 0.7, 0.5, 0.5]


def test_nec_240_6() -> None:
    text = (
        "10, 15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, "
        "250, 300"
    )
    typed = tuple(float(rating) for rating in text.split(", "))
    assert typed == BREAKERS_NEC_A


def test_derating_by_unbalance() -> None:
    text = (
        "0 1.00; 0.5 1.00; 1.5 0.97; 2.0 0.95; 2.5 0.93; 3.0 0.89; 3.5 0.85; 4.0 0.82; 4.5 0.78; "
        "5.0 0.76"
    )
    for entry in text.split("; "):
        percent, factor = (float(x) for x in entry.split())
        assert derating_factor(percent / 100.0) == pytest.approx(factor)


@pytest.mark.parametrize(
    "call",
    [
        lambda: iec_ampacity_a(50.0, "C"),
        lambda: iec_ampacity_a(6.0, "F"),
        lambda: iec_ampacity_a(6.0, "sizes"),
        lambda: iec_ampacity_a(6.0, "C", 2, "xlpe"),
        lambda: iec_ambient_factor(55.0),
        lambda: iec_grouping_factor(10),
        lambda: iec_grouping_factor(0),
        lambda: nec_ampacity_a("5"),
        lambda: nec_ampacity_a("14", 110),
        lambda: nec_ambient_factor(51.0),
        lambda: nec_bundling_factor(21),
        lambda: derating_factor(0.06),
        lambda: derating_factor(-0.01),
    ],
)
def test_where_they_end(call) -> None:
    with pytest.raises(TableEnds):
        call()
