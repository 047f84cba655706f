"""Two-speed motors: every speed a motor of its own (plates are inventions; stamps and terminal
numbers by IEC 60034-8, from memory; what a drive costs: common practice, no source)."""

from __future__ import annotations

from typing import Any

import pytest
from plates import motor, number, plate, rules

from phasewright.machines.motor import Motor
from phasewright.machines.performance import at_torque, breakdown, rated
from phasewright.machines.two_speed_drive import usable_torque_nm

MILL: dict[str, Any] = {
    "power": (1500, 2200), "voltage": 400, "speed": (1420, 2840), "frequency": 50, "leads": 6,
    "connection": "D/YY", "current": (3.7, 4.7),
}  # fmt: skip


def made(**facts: Any) -> Motor:
    return motor(plate(**(MILL | facts)))


def test_both_speeds_of_a_mill_are_motors_of_their_own() -> None:
    """1.5/2.2 kW D/YY: torque is power over speed at each, poles 4 and 2, amps as stamped."""
    of = made()
    low, high = of.speeds
    assert (low.name, low.winding, low.poles) == ("low", "delta", 4)
    assert (high.name, high.winding, high.poles) == ("high", "double_star", 2)
    assert low.rated_nm.number == pytest.approx(1500.0 / (1420.0 * 0.104719755), rel=2e-3)
    assert high.rated_nm.number == pytest.approx(2200.0 / (2840.0 * 0.104719755), rel=2e-3)
    assert (low.full_load_current_a.number, high.full_load_current_a.number) == (3.7, 4.7)
    for speed in of.speeds:
        point = rated(speed.circuit)
        assert point.current_a == pytest.approx(speed.full_load_current_a.number, rel=2e-3)
        assert point.shaft_power_w == pytest.approx(speed.power_w.number, rel=2e-3)
    assert of.layout == "one_winding"
    assert of.circuit == high.circuit
    assert number(of.full_load_current_a) == 4.7


def test_neither_speed_runs_on_230_volts() -> None:
    of = made()
    for speed in of.speeds:
        assert speed.link is None
        assert [reason.code for reason in speed.link_reasons] == ["two_speed", "volts_too_low"]
        assert "star point" not in speed.link_reasons[-1].words
        assert "rewind" in speed.link_reasons[-1].words
    at_400 = motor(plate(**MILL), volts=400.0)
    assert [speed.link is not None for speed in at_400.speeds] == [True, True]
    assert at_400.link is not None
    assert "double star" in at_400.link.words


def test_a_drive_of_230_volts_ends_at_28_8_hertz_with_a_third_of_the_pull_out() -> None:
    for speed in made().speeds:
        feed = speed.on_drive
        assert feed is not None
        assert feed.base_frequency_hz == pytest.approx(50.0 * 230.0 / 400.0)
        assert feed.breakdown_left == pytest.approx((230.0 / 400.0) ** 2, abs=0.02)
        left = breakdown(speed.circuit, 230.0).airgap_torque_nm
        assert feed.breakdown_left == pytest.approx(left / speed.breakdown_nm.number, rel=1e-6)


def test_the_drive_is_given_the_winding_that_loses_least() -> None:
    """On 400 V the double star keeps its own torque and 73 % of the other speed's; the delta
    would have a quarter of its breakdown torque at the double frequency."""
    of = made()
    choice = of.drive_winding(400.0)
    assert choice is not None
    speed, feed = choice
    assert speed.name == "high"
    assert feed.own_speed_torque == pytest.approx(1.0, rel=1e-6)
    ratio = of.speeds[1].rated_nm.number / of.speeds[0].rated_nm.number
    assert feed.other_speed_hz == 25.0
    assert feed.other_speed_torque == pytest.approx(ratio, rel=1e-6)
    assert "lost" in feed.words
    low = of.speeds[0]
    weak = usable_torque_nm(low, 400.0, 100.0)
    assert weak <= 0.5 * low.rated_nm.number * (1.0 + 1e-9)
    quarter = breakdown(low.circuit, 400.0, 100.0).airgap_torque_nm / low.breakdown_nm.number
    assert 0.25 < quarter < 0.36  # a quarter but for the stator resistance, which counts less


def test_the_usable_torque_can_be_given_with_the_reserve() -> None:
    """1.6 times the usable torque is an operating point of the circuit at those volts."""
    speed = made().speeds[1]
    volts, hertz = 230.0, 50.0
    torque = usable_torque_nm(speed, volts, hertz)
    assert at_torque(speed.circuit, 1.5 * torque, volts, hertz).slip > 0.0


@pytest.mark.parametrize("key", ["power", "speed", "current"])
def test_either_order_of_the_whole_plate_is_the_same_motor(key: str) -> None:
    assert key in MILL
    turned = {name: MILL[name][::-1] for name in ("power", "speed", "current")}
    one, two = made(), made(**turned, connection="YY/D")
    assert [s.circuit for s in one.speeds] == [s.circuit for s in two.speeds]
    assert [s.winding for s in one.speeds] == [s.winding for s in two.speeds]


@pytest.mark.parametrize(
    ("facts", "windings"),
    [
        ({"connection": "D/YY"}, ("delta", "double_star")),
        ({"connection": "YY/D", "power": (2000, 2100), "current": (4.9, 4.5)},
         ("double_star", "delta")),
        ({"connection": "Y/YY", "power": (550, 2200), "current": (1.6, 4.7)},
         ("star", "double_star")),
    ],
)  # fmt: skip
def test_constant_torque_constant_power_and_fan(
    facts: dict[str, Any], windings: tuple[str, str]
) -> None:
    of = made(**facts)
    assert (of.speeds[0].winding, of.speeds[1].winding) == windings
    assert "letters_and_powers_differ" not in rules(of)


def test_letters_that_the_powers_deny_are_told() -> None:
    of = made(connection="YY/D")
    assert "letters_and_powers_differ" in rules(of)
    assert of.speeds[0].winding == "delta"


@pytest.mark.parametrize(
    ("facts", "layout"),
    [
        ({"connection": None, "speed": (950, 1430)}, "two_windings"),
        ({"connection": "Y/Y"}, "two_windings"),
        ({"connection": None}, "unknown"),
        ({"connection": "D/YY", "speed": (950, 1430)}, "two_windings"),
    ],
)
def test_one_winding_or_two(facts: dict[str, Any], layout: str) -> None:
    of = made(**facts)
    assert of.layout == layout
    words = of.speeds[0].words
    assert ("ring" in words) == (layout == "two_windings")
    assert ("in ohms" in words) == (layout == "unknown")


def test_a_dough_mixer_with_two_windings_at_400_volts() -> None:
    of = motor(plate(power=(750, 1500), voltage=400, speed=(700, 1430), frequency=50))
    assert [speed.poles for speed in of.speeds] == [8, 4]
    assert of.connection == "none"
    choice = of.drive_winding(400.0)
    assert choice is not None
    assert choice[0].name == "high"


def test_one_power_for_two_speeds_is_asked_about_and_wide() -> None:
    of = made(power=2200, current=4.7)
    assert "one_power_two_speeds" in rules(of)
    low, high = of.speeds
    assert high.power_w.number == 2200.0
    assert low.power_w.low < 0.9 * low.power_w.number < low.power_w.high
    assert low.power_w.high < high.power_w.number


def test_two_currents_without_a_power_give_both_powers() -> None:
    of = made(power=())
    low, high = of.speeds
    assert low.power_w.number < high.power_w.number
    assert high.power_w.number == pytest.approx(2200.0, rel=0.25)


def test_two_voltages_beside_two_speeds_are_not_guessed() -> None:
    of = made(voltage=(230, 400))
    assert of.circuit is None
    assert of.speeds == ()
    assert "diagram" in of.reasons[0].words


def test_a_speed_whose_figures_deny_each_other_leaves_the_other() -> None:
    of = made(power=(2100, 2200), speed=(1420, 2840), current=(2.4, 4.7))
    assert of.circuit is not None
    assert of.speeds
    assert {"power_and_amps_disagree", "plate_perhaps_misread", "speed_not_computed"} & rules(of)


def test_a_speed_that_no_table_reaches_is_told() -> None:
    """Twelve poles beside six: the low speed has no figures, which must not come quietly."""
    of = made(power=(750, 1100), speed=(460, 940), current=(2.4, 2.8))
    assert [each.name for each in of.speeds] == ["high"]
    told = [each.words for each in of.findings if each.rule == "speed_not_computed"]
    assert len(told) == 1
    assert "Low speed" in told[0]
    assert "12 poles" in told[0]


def test_ids_of_the_questions_are_unlike() -> None:
    of = made(power=(40, 2200))
    ids = [finding.id for finding in of.findings]
    assert len(ids) == len(set(ids))


def test_a_speed_switch_without_a_second_speed_is_asked_about() -> None:
    of = motor(plate(power=1500, voltage=400, speed=1420, leads=6), starter="two_speed_switch")
    assert "second_speed_not_given" in rules(of)
    assert [link.connection for link in of.links] == ["fixed"]
    assert of.circuit is not None


def test_powers_of_two_frequencies_belong_to_their_speeds() -> None:
    facts = {"power": (2200, 2600), "voltage": 400, "speed": (1430, 1720), "current": 5.0}
    assert number(motor(plate(**facts, frequency=50)).power_w) == 2200.0
    assert number(motor(plate(**facts, frequency=60), hertz=60.0).power_w) == 2600.0
    assert motor(plate(**facts, frequency=50)).speeds == ()


@pytest.mark.parametrize(
    ("connection", "low", "high"),
    [
        ("D/YY", "T4, T5, T6 stay open", "T1, T2, T3 joined"),
        ("Y/YY", "T4, T5, T6 stay open", "T1, T2, T3 joined"),
        (None, "diagram in the lid", "diagram in the lid"),
        ("Y/Y", "lines on T1, T2, T3", "lines on T11, T12, T13"),
    ],
)
def test_terminals_of_two_speeds_in_north_america(
    connection: str | None, low: str, high: str
) -> None:
    facts = MILL | {"connection": connection, "voltage": 460, "speed": (1720, 3440),
                    "frequency": 60}  # fmt: skip
    of = motor(plate(**facts), hertz=60.0, region="NEC")
    assert low in of.speeds[0].words
    assert high in of.speeds[1].words
    assert all("hangs on these terminals" in speed.words for speed in of.speeds)
