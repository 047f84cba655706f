"""What starts do to the supply: the deeper and the more often, the more it flickers."""

from __future__ import annotations

from pathlib import Path

import pytest

import phasewright

BARN = Path(__file__).resolve().parents[2] / "examples" / "cider-barn.shop.yaml"


def studied(tmp_path, *changes: tuple[str, str]):
    text = BARN.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path = tmp_path / "shop.shop.yaml"
    path.write_text(text, encoding="utf-8")
    return phasewright.study(phasewright.read(str(path)), quick=True)


def rotary(study):
    return next(
        plan for plan in study.plans
        if plan.feasible and {m.way for m in plan.motors} == {"rotary_converter"}
    )  # fmt: skip


@pytest.fixture(scope="module")
def barn(tmp_path_factory):
    return studied(tmp_path_factory.mktemp("barn"))


def test_every_start_on_a_converter_and_its_own_is_there(barn) -> None:
    plan = rotary(barn)
    names = {each.motor for each in plan.network_effects.starts}
    assert names == {m.motor for m in plan.motors} | {"converter"}
    for each in plan.network_effects.starts:
        assert 0.0 < each.change_at_intake.number <= each.change_in_place.number * (1.0 + 1e-9)
    of = plan.network_effects.flicker_at_intake
    assert of.low < of.expected.number <= of.high


def test_what_starts_by_a_drive_is_no_start_of_the_supply(barn) -> None:
    drives = [plan for plan in barn.plans if {m.way for m in plan.motors} == {"drive_per_motor"}]
    assert drives
    assert all(plan.network_effects is None for plan in drives)


def test_the_reference_change_is_amps_through_its_ohms(barn) -> None:
    # 0.40 and 0.25 ohm at a power factor of 0.4 at standstill: 0.3891 ohm over 230 V
    for each in rotary(barn).network_effects.starts:
        by_hand = each.starting_current_a.number * (0.40 * 0.4 + 0.25 * 0.84**0.5) / 230.0
        assert each.change_on_reference.number == pytest.approx(by_hand)


def test_a_country_whose_operators_ask_is_told(barn, tmp_path) -> None:
    assert not [each for each in barn.findings if each.rule == "operator.told"]
    text = BARN.read_text(encoding="utf-8")
    line = next(line for line in text.splitlines() if line.strip().startswith("kind: single_phase"))
    had = "country: GB"
    change = (had, "country: FR") if had in text else (line, f"{line}\n  country: FR")
    told = [each for each in studied(tmp_path, change).findings if each.rule == "operator.told"]
    assert told
    for each in told:
        assert each.found > each.allowed == 45.0
        assert "starting amps" in each.words


def test_over_two_hours_a_start_is_seen_no_more_than_in_its_busiest_ten_minutes(barn) -> None:
    for plan in barn.plans:
        effects = plan.network_effects
        if effects is None:
            continue
        short, long = effects.flicker_at_intake, effects.long_flicker_at_intake
        assert long.low == pytest.approx(short.low)
        assert long.expected.number == pytest.approx(short.expected.number)
        assert long.expected.number * (1.0 - 1e-9) <= long.high <= short.high * (1.0 + 1e-9)


def test_where_no_figure_of_the_operators_is_at_hand_it_is_said_to_ask(barn, tmp_path) -> None:
    asked = [each for each in barn.findings if each.rule == "operator.asked"]
    assert asked
    assert all("in GB" in each.words for each in asked)
    french = studied(tmp_path, ("country: GB", "country: FR"))
    assert not [each for each in french.findings if each.rule == "operator.asked"]
