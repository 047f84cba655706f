"""What a winding can be linked for (common practice; terminal names from memory)."""

from __future__ import annotations

import math
from typing import Any

import pytest
from plates import plate

from phasewright.machines.connection import Link, link_for, linking, links
from phasewright.machines.frequency import other_frequency


def pairs(of: tuple[Link, ...]) -> list[tuple[str, float, float | None]]:
    return [(link.connection, link.line_voltage_v, link.full_load_current_a) for link in of]


@pytest.mark.parametrize(
    ("volts", "amps"),
    [
        ((220, 380), (9.0, 5.2)), ((230, 400), (8.6, 5.0)), ((240, 415), (8.3, 4.8)),
        ((400, 690), (5.0, 2.9)), ((380, 660), (5.2, 3.0)), ((265, 460), (7.0, 4.0)),
    ],
)  # fmt: skip
def test_star_and_delta_plates(volts: tuple[int, int], amps: tuple[float, float]) -> None:
    got = links(plate(power=2200, voltage=volts, current=amps, leads=6), "IEC")
    assert pairs(got) == [("delta", volts[0], amps[0]), ("star", volts[1], amps[1])]
    assert "W2-U1" in got[0].words
    assert "join U2, V2 and W2" in got[1].words
    assert got[0].delta is True
    assert got[1].delta is False


def test_plate_order_does_not_matter() -> None:
    one = links(plate(power=2200, voltage=(230, 400), current=(8.6, 5.0)), "IEC")
    two = links(plate(power=2200, voltage=(400, 230), current=(5.0, 8.6)), "IEC")
    assert one == two


def test_leads_that_were_taken_are_told() -> None:
    got = linking(plate(power=2200, voltage=(230, 400), current=(8.6, 5.0)), "IEC")
    assert got.leads == 6
    assert got.leads_assumed
    assert not linking(plate(power=2200, voltage=(230, 400), leads=6), "IEC").leads_assumed


@pytest.mark.parametrize("volts", [(230, 460), (220, 440), (190, 380), (200, 400), (208, 416)])
def test_two_to_one_plates(volts: tuple[int, int]) -> None:
    got = links(plate(power=2200, voltage=volts, current=(8.6, 4.3), leads=9), "NEC")
    assert pairs(got) == [("low_voltage", volts[0], 8.6), ("high_voltage", volts[1], 4.3)]
    for terminal in ("T1", "T7", "T4", "T9"):
        assert terminal in got[0].words
    assert "T4 with T7, T5 with T8, T6 with T9" in got[1].words


def test_nine_leads_in_star_or_delta() -> None:
    star = links(plate(power=2200, voltage=(230, 460), leads=9, connection="YY/Y"), "NEC")[0]
    delta = links(plate(power=2200, voltage=(230, 460), leads=9, connection="D"), "NEC")[0]
    open_ = links(plate(power=2200, voltage=(230, 460), leads=9), "NEC")[0]
    assert "T4, T5 and T6 joined" in star.words
    assert "T1 with T6 and T7" in delta.words
    assert "three groups of three" in open_.words
    assert star.words in open_.words.replace("If star: ", "")


def test_twelve_leads() -> None:
    got = links(plate(power=7500, voltage=(230, 460), leads=12), "NEC")
    assert [link.connection for link in got] == ["low_voltage", "high_voltage"]
    assert all("Twelve" in link.words for link in got)


def test_a_range_on_the_plate_is_one_connection() -> None:
    """208-230/460: anything from 208 to 230 V is the plate's own voltage, 230 belongs to 460."""
    of = plate(power=1500, voltage=(208, 230, 460), current=(6.6, 6.0, 3.0), leads=9)
    low = links(of, "NEC")[0]
    assert (low.voltage_low_v, low.voltage_high_v) == (208.0, 230.0)
    assert (low.line_voltage_v, low.full_load_current_a) == (230.0, 6.0)
    assert low.flux_ratio(215.0, 60.0, 60.0) == 1.0
    assert low.flux_ratio(240.0, 60.0, 60.0) == pytest.approx(240.0 / 230.0)


@pytest.mark.parametrize("volts", [380, 400, 415, 575])
@pytest.mark.parametrize("leads", [3, None])
def test_one_voltage_three_leads_is_fixed(volts: int, leads: int | None) -> None:
    got = links(plate(power=2200, voltage=volts, current=5.0, leads=leads), "IEC")
    assert pairs(got) == [("fixed", volts, 5.0)]
    link, why = link_for(got, 230.0, 50.0, 50.0)
    assert link is None
    assert why[0].code == "volts_too_low"


def test_a_400_volt_star_motor_with_both_ends_out_gets_its_delta() -> None:
    got = links(plate(power=2200, voltage=400, current=5.0, leads=6, connection="Y"), "IEC")
    assert got[0].connection == "delta"
    assert got[0].line_voltage_v == pytest.approx(400.0 / math.sqrt(3.0))
    assert got[0].full_load_current_a == pytest.approx(5.0 * math.sqrt(3.0))


def test_a_400_volt_delta_motor_has_no_230_volt_link() -> None:
    got = links(plate(power=5500, voltage=400, current=11.0, leads=6, connection="D"), "IEC")
    assert [round(link.line_voltage_v) for link in got] == [400, 693]
    assert link_for(got, 230.0, 50.0, 50.0)[0] is None


def test_one_voltage_six_leads_unstamped_is_not_guessed() -> None:
    got = linking(plate(power=5500, voltage=400, current=11.0, leads=6), "IEC")
    assert [link.connection for link in got.links] == ["unknown"]
    assert "read in the lid" in got.reasons[0].words


@pytest.mark.parametrize(
    "facts",
    [
        {"leads": 4, "voltage": (220, 415)},
        {"voltage": (220, 415)},
        {"voltage": (300, 400)},
        {"leads": 4, "voltage": (230, 400)},
    ],
)
def test_what_cannot_be_told_is_refused_with_the_measurement(facts: dict[str, Any]) -> None:
    got = linking(plate(power=370, **facts), "IEC")
    assert got.links == ()
    assert got.reasons


def test_three_leads_and_two_voltages() -> None:
    got = linking(plate(power=750, voltage=(230, 400), current=(3.3, 1.9), leads=3), "IEC")
    assert [link.connection for link in got.links] == ["unknown"]
    stamped = plate(power=750, voltage=(230, 400), current=(3.3, 1.9), leads=3, connection="D")
    assert pairs(links(stamped, "IEC")) == [("fixed", 230.0, 3.3)]


@pytest.mark.parametrize("connection", ["D/YY", "YY/D", "Y/YY"])
def test_two_speed_windings_are_not_relinked(connection: str) -> None:
    of = plate(power=(1500, 2200), voltage=400, speed=(1420, 2840), leads=6, connection=connection)
    got = linking(of, "IEC")
    assert [link.connection for link in got.links] == ["fixed"]
    assert got.reasons[0].code == "two_speed"
    assert link_for(got.links, 230.0, 50.0, 50.0)[0] is None


@pytest.mark.parametrize(
    ("facts", "code"),
    [
        ({"capacitor": True}, "single_phase_motor"),
        ({"phases": 1}, "single_phase_motor"),
        ({"kind": "dc"}, "no_three_phase_winding"),
        ({"kind": "commutator"}, "no_three_phase_winding"),
    ],
)
def test_other_motors_are_recognised(facts: dict[str, Any], code: str) -> None:
    got = linking(plate(power=1100, voltage=230, current=9.0, **facts), "IEC")
    assert got.links == ()
    assert got.reasons[0].code == code


@pytest.mark.parametrize("kind", ["hermetic", "submersible"])
def test_closed_in_motors_stay_as_they_are(kind: str) -> None:
    got = links(plate(power=1100, voltage=400, current=2.7, leads=6, kind=kind), "IEC")
    assert [link.connection for link in got] == ["fixed"]


def test_one_current_for_two_voltages_goes_where_the_power_is_credible() -> None:
    low = links(plate(power=2200, voltage=(230, 400), current=8.6), "IEC")
    high = links(plate(power=2200, voltage=(230, 400), current=5.0), "IEC")
    assert low[0].full_load_current_a == 8.6
    assert high[1].full_load_current_a == 5.0
    assert high[0].full_load_current_a == pytest.approx(5.0 * 400.0 / 230.0)


@pytest.mark.parametrize(
    ("supply", "found", "code"),
    [
        (220.0, "delta", "volts_fit"), (230.0, "delta", "volts_fit"), (236.0, "delta", "flux_high"),
        (244.0, "delta", "flux_high_condition"), (205.0, "delta", "flux_low"),
        (193.0, "delta", "flux_low_condition"), (180.0, None, "volts_too_low"),
        (400.0, "star", "volts_fit"), (290.0, None, None), (260.0, None, "volts_too_high"),
    ],
)  # fmt: skip
def test_high_and_low_mains_on_a_220_380_plate(
    supply: float, found: str | None, code: str | None
) -> None:
    """220/380 V plates on 240-253 V mains: told above 6 %, a condition above 10 %."""
    of = links(plate(power=2200, voltage=(220, 380), current=(9.0, 5.2), leads=6), "IEC")
    link, why = link_for(of, supply, 50.0, 50.0)
    assert (None if link is None else link.connection) == found
    if code is not None:
        assert why[0].code == code


def test_volts_per_hertz_decide_on_another_frequency() -> None:
    """190 V 50 Hz is right on 230 V 60 Hz (1.009), 220 V 60 Hz is wrong on 230 V 50 Hz (1.25)."""
    fifty = links(plate(power=3700, voltage=(190, 380), leads=9), "NEC")
    link, why = link_for(fifty, 230.0, 60.0, 50.0)
    assert link is not None
    assert link.line_voltage_v == 190.0
    assert "other_frequency" in {reason.code for reason in why}
    sixty = links(plate(power=3700, voltage=(220, 440), leads=9), "NEC")
    assert link_for(sixty, 230.0, 50.0, 60.0)[0] is None


def test_other_frequency_tells_pumps_and_blades() -> None:
    words = other_frequency(60.0, 50.0).words
    assert "1.20 times" in words
    assert "1.73 times" in words


def test_six_leads_have_the_names_of_their_region() -> None:
    of = plate(power=2200, voltage=(230, 400), leads=6)
    assert "W2-U1" in links(of, "IEC")[0].words
    assert "T1 with T6" in links(of, "NEC")[0].words
    assert "T4, T5 and T6 joined" in links(of, "NEC")[1].words


@pytest.mark.parametrize(("leads", "volts"), [(9, (230, 400)), (8, (230, 460)), (4, (230, 460))])
def test_leads_that_do_not_belong_to_the_volts(leads: int, volts: tuple[int, int]) -> None:
    got = linking(plate(power=2200, voltage=volts, leads=leads), "IEC")
    assert got.links == ()
    assert "measure every pair" in got.reasons[0].words
