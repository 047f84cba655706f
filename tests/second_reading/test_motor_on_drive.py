"""What is taken for a motor on a drive, typed a second time from where it stands."""

from __future__ import annotations

import math

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables import drives, motors
from phasewright.tables.prices import price


@pytest.mark.parametrize(
    ("poles", "height_mm", "rpm"),
    [
        (2, 112, 5200),
        (4, 112, 3600),
        (6, 112, 2400),
        (2, 180, 4500),
        (4, 180, 2700),
        (6, 180, 2400),
    ],
)
def test_highest_safe_speeds_by_frame(poles: int, height_mm: float, rpm: float) -> None:
    """IEC 60034-1, Table 18 (from memory)."""
    assert motors.overspeed_by_frame_rpm(poles, height_mm / 1000.0) == (rpm, 2000)


def test_frames_of_which_nothing_is_known() -> None:
    assert motors.overspeed_by_frame_rpm(8, 0.1) is None
    assert motors.overspeed_by_frame_rpm(4, 0.2) is None
    assert motors.overspeed_by_frame_rpm(4, None) == motors.overspeed_by_frame_rpm(4, 0.18)


def test_what_windings_bear() -> None:
    """NEMA MG 1: part 30 1000 V and 2 us; part 31 1.1 x 2 x sqrt 2 times rated volts: 460 V, 1431 V."""
    peak_v, rise_s, _ = drives.ordinary_peak_v()
    assert (peak_v, rise_s) == (1000.0, pytest.approx(2e-6))
    assert drives.drive_made_peak_ratio() == pytest.approx(2.2 * math.sqrt(2.0), rel=1e-3)
    assert 460.0 * drives.drive_made_peak_ratio() == pytest.approx(1431.0, abs=0.6)


def test_edges_and_leads() -> None:
    """Papers on reflected waves and makers of drives (from memory)."""
    wave = drives.lead_wave()
    assert [wave.rise_s.number, wave.rise_s.low, wave.rise_s.high] == pytest.approx(
        [1e-7, 5e-8, 4e-7]
    )
    assert [wave.metres_per_s.low, wave.metres_per_s.high] == pytest.approx([150e6, 190e6])
    assert [wave.lead_ohm.low, wave.lead_ohm.high] == [60.0, 190.0]
    assert drives.motor_surge_ohm(3700.0) == 2000.0
    assert drives.motor_surge_ohm(93e3) == 800.0
    assert drives.motor_surge_ohm(373e3) == 400.0
    with pytest.raises(TableEnds):
        drives.motor_surge_ohm(400e3)


def test_common_practice_of_motors_on_drives() -> None:
    lead = drives.usual_lead_m()
    assert (lead.low, lead.number, lead.high) == (1.0, 5.0, 15.0)
    assert drives.longest_lead_m() == 50.0
    assert drives.output_choke_rise_s() == pytest.approx(1e-6)
    assert drives.least_controlled_speed() == 0.05
    minutes = drives.heating_minutes()
    assert (minutes.low, minutes.number, minutes.high) == (15.0, 30.0, 60.0)
    step = drives.own_step_ratio()
    assert (step.low, step.number, step.high) == (1.4, 1.6, 1.8)


def test_bearings() -> None:
    """IEC TS 60034-25 (from memory): shaft height 280 mm and more."""
    assert drives.bearing_currents_matter(0.28, 1000.0)
    assert not drives.bearing_currents_matter(0.25, 90e3)
    assert drives.bearing_currents_matter(None, 37e3)
    assert not drives.bearing_currents_matter(None, 30e3)


def test_a_fan_of_its_own_has_an_invented_price() -> None:
    assert price("forced_fan", 2200.0).amount == pytest.approx(70.0 + 15.0 * 2.2)
