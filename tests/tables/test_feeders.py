"""What a feeder carries: the words of an owner, sizes between the rows, the ends of the tables."""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.feeders import feeder_ampacity
from phasewright.tables.surroundings import drive_share, heat_share

# 16 mm2 PVC copper, two loaded, by IEC 60364-5-52: C 85, B2 69, D1 78, E 94 A (D1, E from memory)
LAID = {"on_wall": 85.0, "in_pipe": 69.0, "buried": 78.0, "overhead": 94.0, "C": 85.0, "B2": 69.0}


def amps(area_mm2=16.0, metal="copper", method="C", region="IEC", loaded=2, ambient_c=None):
    return feeder_ampacity(1e-6 * area_mm2, metal, method, region, loaded, ambient_c)


@pytest.mark.parametrize("method", LAID)
def test_an_owners_words_name_a_method(method):
    found = amps(method=method)
    assert (found.low, found.number, found.high) == (LAID[method],) * 3


def test_where_it_is_not_told_how_it_is_laid_the_figure_has_a_spread():
    found = amps(method=None)
    assert (found.low, found.number, found.high) == (57.0, 78.0, 94.0)


def test_a_size_in_no_table_carries_what_the_next_smaller_does():
    # 6 AWG is 13.3 mm2
    assert amps(13.3).number == amps(10.0).number == 63.0
    assert amps(9.9).number == 63.0


@pytest.mark.parametrize("area", [1.0, 240.0])
def test_beyond_the_tables_nothing_is_given(area):
    with pytest.raises(TableEnds):
        amps(area)


def test_hotter_than_the_tables_nothing_is_given():
    with pytest.raises(TableEnds):
        amps(ambient_c=55.0)


def test_nec_goes_by_its_own_table():
    # 310.16, 75 °C: 6 AWG copper 65 A, 0.88 at 40 °C; aluminium 6 AWG 50 A (from memory)
    assert amps(13.3, region="NEC").number == 65.0
    assert amps(13.3, region="NEC", ambient_c=40.0).number == pytest.approx(57.2)
    aluminium = amps(13.3, metal="aluminium", region="NEC")
    assert aluminium.low < 50.0 < aluminium.high


def test_more_copper_never_carries_less_and_three_loaded_never_more_than_two():
    sizes = [1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0, 50.0, 70.0, 95.0, 120.0]
    for method in ("A1", "A2", "B1", "B2", "C", "D1", "D2", "E"):
        two, three = ([amps(s, method=method, loaded=n).number for s in sizes] for n in (2, 3))
        assert two == sorted(set(two))
        assert three == sorted(set(three))
        assert all(b <= a for a, b in zip(two, three, strict=True))


def test_air_takes_from_heat_and_amps():
    # class B: 80 K; 10 K above 40 °C leave 70 of them. 1,500 m take 5 %. A drive loses 2 % a kelvin
    assert heat_share(50.0, None, "B") == pytest.approx(70.0 / 80.0)
    assert heat_share(None, 1500.0, "B") == pytest.approx(0.95)
    assert heat_share(50.0, 1500.0, "F") == pytest.approx(0.95 * 95.0 / 105.0)
    assert heat_share(40.0, 1000.0, None) == heat_share(None, None, None) == 1.0
    assert drive_share(45.0, 1500.0) == pytest.approx(0.9 * 0.95)
    assert drive_share(-20.0, 0.0) == 1.0
