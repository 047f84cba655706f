"""Volts and amps stamped as ranges, gathered into connections (plates are inventions)."""

from __future__ import annotations

import math

import pytest
from plates import plate

from phasewright.machines.connection import linking, links
from phasewright.machines.voltages import voltage_groups


@pytest.mark.parametrize(
    ("volts", "rated"),
    [
        ((208, 230, 460), (230.0, 460.0)),
        ((460, 208, 230), (230.0, 460.0)),
        ((200, 230, 460), (230.0, 460.0)),
        ((230, 380, 415), (230.0, 230.0 * math.sqrt(3.0))),
        ((190, 220, 380), (220.0, 380.0)),  # both 1 to 2 and 1 to 1.73 can be read: middle rules
        ((220, 240, 380, 415), (230.0, 397.5)),
        ((230, 400), (230.0, 400.0)),
        ((220, 230, 440), (220.0, 440.0)),
    ],
)
def test_rated_volts_of_a_range_are_those_the_other_voltage_implies(
    volts: tuple[int, ...], rated: tuple[float, float]
) -> None:
    got = voltage_groups(plate(power=2200, voltage=volts))
    assert [group.volts for group in got] == pytest.approx(rated)
    for group in got:
        assert group.low_v <= group.volts <= group.high_v


@pytest.mark.parametrize(
    "amps", [(9.2, 8.4, 4.2), (8.4, 4.2), (4.2, 8.4)], ids=["all three", "one each", "turned"]
)
def test_the_current_belongs_to_the_rated_volts(amps: tuple[float, ...]) -> None:
    low, high = links(plate(power=2200, voltage=(208, 230, 460), current=amps, leads=9), "NEC")
    assert (low.line_voltage_v, low.full_load_current_a) == (230.0, 8.4)
    assert (high.line_voltage_v, high.full_load_current_a) == (460.0, 4.2)


def test_amps_as_a_range_beside_plain_volts() -> None:
    low, high = voltage_groups(plate(power=2200, voltage=(230, 460), current=(9.2, 8.4, 4.2)))
    assert set(low.currents_a) == {9.2, 8.4}
    assert high.currents_a == (4.2,)


def test_a_current_between_two_ends_stands_between_theirs() -> None:
    low, high = voltage_groups(
        plate(power=2200, voltage=(220, 240, 380, 415), current=(9.0, 8.3, 5.2, 4.8))
    )
    assert low.amps == pytest.approx(0.5 * (9.0 + 8.3))
    assert high.amps == pytest.approx(0.5 * (5.2 + 4.8))


def test_currents_that_cannot_be_told_apart_are_not_used() -> None:
    groups = voltage_groups(plate(power=2200, voltage=(230, 460), current=(8.4, 8.3, 8.2)))
    assert [group.amps for group in groups] == [None, None]


@pytest.mark.parametrize(("volts", "low", "high"), [(400, "delta", "star"), (415, "delta", "star")])
def test_a_star_delta_starter_proves_delta_at_the_stamped_volts(
    volts: int, low: str, high: str
) -> None:
    got = linking(plate(power=5500, voltage=volts, current=11.3), "IEC", "star_delta")
    assert [link.connection for link in got.links] == [low, high]
    assert [link.line_voltage_v for link in got.links] == pytest.approx(
        [volts, volts * math.sqrt(3.0)]
    )
    assert got.leads == 6
    assert not got.leads_assumed
    assert got.reasons[0].code == "star_delta_starter"


def test_a_star_delta_starter_proves_the_leads_of_a_two_voltage_plate() -> None:
    of = plate(power=5500, voltage=(400, 690), current=(11.3, 6.5))
    assert linking(of, "IEC").leads_assumed
    assert not linking(of, "IEC", "star_delta").leads_assumed
    doubled = linking(plate(power=5500, voltage=(230, 460)), "NEC", "star_delta")
    assert [link.delta for link in doubled.links] == [True, True]
    assert doubled.leads == 12


def test_without_the_starter_one_voltage_is_no_delta() -> None:
    assert [link.connection for link in links(plate(power=5500, voltage=400), "IEC")] == ["fixed"]


def test_a_speed_switch_forbids_linking_six_ends() -> None:
    """Six leads, star stamped: without the switch a delta for 230 V would be promised."""
    of = plate(power=1500, voltage=400, current=3.6, leads=6, connection="Y")
    assert [link.connection for link in links(of, "IEC")] == ["delta", "star"]
    got = linking(of, "IEC", "two_speed_switch")
    assert [link.connection for link in got.links] == ["fixed"]
    assert got.reasons[0].code == "two_speed"
