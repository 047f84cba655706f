"""What a drive does to its supply: figures that must agree, limits, chokes, findings of a plan.

Every shop here is invented.
"""

from __future__ import annotations

import math

import pytest
from judgements import codes, offer_named

import phasewright
from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.files.shop_file import read_text
from phasewright.machines.standard import standard_motor
from phasewright.network.supply import Source
from phasewright.plan.facts import facts_of
from phasewright.rules.harmonics import class_a
from phasewright.tables.drives import choke_resistance_ohm, leakage_ma
from phasewright.ways.chokes import Choke
from phasewright.ways.drive_duty import duty_of
from phasewright.ways.drive_norms import limits_of_current
from phasewright.ways.figures import Figures
from phasewright.ways.way import Judgement

SHOP = """\
phasewright: 1
shop: Drives on one supply
region: {region}
supply:
  kind: single_phase
  voltage: {volts}
  frequency: 50 Hz
  service_rating: 80 A
  loop_impedance: {loop}
  {device}
machines:
{machines}
"""
MACHINE = """\
  - name: {name}
    {users}
    runs_with: [{others}]
    motors:
      - name: motor
        plate: {{power: {power}, voltage: {plate}, speed: 1420 rpm}}
        load: {{kind: fan}}
"""


def text(
    *powers: str, region: str = "IEC", loop: str = "0.35 ohm", device: str = "", users: str = "",
    plate: str = "230/400 V", volts: str = "230 V",
) -> str:  # fmt: skip
    names = [f"M{k}" for k in range(len(powers))]
    machines = "".join(
        MACHINE.format(
            name=name, power=power, users=users, plate=plate,
            others=", ".join(other for other in names if other != name),
        )
        for name, power in zip(names, powers, strict=True)
    )  # fmt: skip
    return SHOP.format(region=region, volts=volts, loop=loop, device=device, machines=machines)


def judged(*args: str, way: str = "drive_per_motor", **kwargs: str) -> Judgement:
    facts = facts_of(read_text(text(*args, **kwargs)))
    return next(each for each in facts.judgements[0] if each.way == way)


def agree(figures: Figures) -> None:
    """The harmonics are those of the current that is told."""
    amps, current = figures.harmonics_a, figures.input_current_a
    assert amps is not None
    assert len(amps) == len(figures.harmonics_deg or ()) == 40
    assert math.sqrt(sum(a * a for a in amps)) == pytest.approx(current.expected.number, rel=2e-3)
    rest = math.sqrt(sum(a * a for a in amps[1:]))
    assert rest / amps[0] == pytest.approx(figures.input_current_thd.number, rel=0.01)
    assert max(amps[1::2]) == 0.0  # half-wave symmetry
    assert figures.service_voltage_thd.number > 0.0


@pytest.mark.parametrize("power", ["0.37 kW", "0.75 kW", "2.2 kW", "4 kW"])
def test_the_figures_of_a_drive_agree(power: str) -> None:
    figures = judged(power).figures
    agree(figures)
    link, volts = figures.link, figures.dc_link_v
    assert link.power_w.number < figures.input_power_w.number < 1.1 * link.power_w.number
    assert volts.lowest.number < volts.mean.number < math.sqrt(2.0) * 230.0
    assert volts.mean.number - volts.lowest.number < volts.ripple.number
    assert figures.undistorted_output_v.number == pytest.approx(
        volts.lowest.number / math.sqrt(2.0)
    )
    # told twice: from the current and its THD, and from watts over volt-amperes
    product = figures.input_displacement_factor.number / math.hypot(
        1.0, figures.input_current_thd.number
    )
    # but for the volts' own distortion
    assert figures.input_power_factor.number == pytest.approx(product, rel=0.04)
    on = figures.inrush
    assert on.peak_a.low < on.peak_a.number < on.peak_a.high < math.sqrt(2.0) * 230.0 / 25.0
    energy = 0.5 * link.capacitance_f.number * 2.0 * 230.0**2
    # a small link fills along with the sine and leaves the resistor less than it takes itself
    assert 0.6 * energy / 5.0 < on.least_off_s.number < 1.05 * energy / 5.0


def test_it_is_the_bridge_of_the_link_that_is_told() -> None:
    figures = judged("2.2 kW").figures
    source = facts_of(read_text(text("2.2 kW"))).site.source
    link = figures.link
    state = settle_bridge(
        Bridge(
            source, link.capacitance_f.number, link.power_w.number,
            ac_choke_h=link.ac_choke_h.number,
            ac_choke_ohm=choke_resistance_ohm(link.ac_choke_h.number),
            dc_choke_h=link.dc_choke_h.number,
            dc_choke_ohm=choke_resistance_ohm(link.dc_choke_h.number),
        )
    )  # fmt: skip
    assert [abs(each) for each in state.harmonics_a[0:40:2]] == pytest.approx(
        figures.harmonics_a[0::2]
    )


def test_a_choke_that_brings_the_limit_is_fitted() -> None:
    """0.37 kW without one: the ninth harmonic alone is above its 0.40 A."""
    figures = judged("0.37 kW").figures
    assert figures.link.ac_choke_h.number > 0.0
    assert not class_a(figures.harmonics_a, 3.0, False, "m").findings
    link = figures.link
    bare = settle_bridge(
        Bridge(Source(230.0, 0.25, 0.15, 50.0), link.capacitance_f.number, link.power_w.number)
    )
    assert class_a([abs(each) for each in bare.harmonics_a], 3.0, False, "m").findings
    assert "iec.61000_3_2" not in codes(judged("0.37 kW"))


def told_of(judgement: Judgement) -> set[str]:
    return {reason.code for reason in judgement.reasons}


def test_limits_are_told_where_they_hold_and_change_no_verdict() -> None:
    with_limits, without = judged("1.5 kW"), judged("1.5 kW", region="NEC", volts="240 V")
    assert "iec.61000_3_2" in told_of(with_limits)
    assert not any(code.startswith("iec.61000") for code in told_of(without))
    assert "iec.61000_3_2" not in {each.code for each in with_limits.conditions}
    staff = judged("1.5 kW", users="users: employees")
    assert "iec.61000_3_2" not in told_of(staff)
    assert "iec.61000_3_12" in told_of(judged("5.5 kW"))


def test_the_short_circuit_ratio_is_that_of_the_supply() -> None:
    amps = (20.0, 0.0, 5.2, *(0.0,) * 37)
    _, stiff = limits_of_current(amps, 20.7, 4000.0, 120.0 * 20.7, "IEC", None, "m")
    _, soft = limits_of_current(amps, 20.7, 4000.0, 66.0 * 20.7, "IEC", None, "m")
    assert stiff.kept  # 25 % of its current, 27 % allowed at 120
    assert soft.findings  # 24 % allowed at 66
    assert limits_of_current(amps, 20.7, 4000.0, 1e4, "NEC", None, "m") == ()


def test_a_soft_supply_is_distorted_more() -> None:
    thds = [
        judged("2.2 kW", loop=f"{ohm} ohm").figures.service_voltage_thd.number
        for ohm in (0.2, 0.4, 0.8)
    ]
    assert thds == sorted(thds)


def test_stepped_up_drives_tell_their_supply_side_too() -> None:
    found = judged("2.2 kW", way="step_up_drive", plate="400 V")
    inside = offer_named(found, "a drive that steps up inside").figures
    before = offer_named(found, "a step-up transformer before a drive").figures
    for figures in (inside, before):
        agree(figures)
    assert inside.dc_link_v is None
    assert inside.undistorted_output_v is None
    assert before.inrush is None
    assert before.undistorted_output_v.number > 300.0  # a link of a 400 V class
    assert before.dc_link_v.mean.number > 400.0
    stored = 0.5 * before.link.capacitance_f.number * before.dc_link_v.mean.number**2
    assert stored < 0.5 * 5e-3 * 400.0**2


def findings_of(*args: str, **kwargs: str) -> list:
    """Of the plan that has drives throughout."""
    study = phasewright.study(read_text(text(*args, **kwargs)))
    plan = next(p for p in study.plans if {m.way for m in p.motors} == {"drive_per_motor"})
    return [each for each in study.findings if each.plan == plan.id]


def test_leakage_is_summed_on_the_device_ahead_of_all() -> None:
    """Three drives of 3.5 mA; 30 % of 30 mA are 9 mA, of 100 mA 30 mA."""
    device = "residual_current: {{rating: {}, type: {}, where: intake}}"
    three = ("0.75 kW", "1.1 kW", "1.5 kW")
    tight = {f.rule: f for f in findings_of(*three, device=device.format("30 mA", "AC"))}
    assert tight["leakage.share"].found == pytest.approx(3.0 * leakage_ma().number)
    assert tight["leakage.share"].allowed == pytest.approx(9.0)
    assert tight["leakage.device_type"].found == "AC"
    roomy = {f.rule for f in findings_of(*three, device=device.format("100 mA", "B"))}
    assert not any(rule.startswith("leakage") for rule in roomy)
    two = {f.rule for f in findings_of(*three[:2], device=device.format("30 mA", "F"))}
    assert not any(rule.startswith("leakage") for rule in two)


def test_drives_together_distort_what_one_does_not() -> None:
    def distorts(*powers: str) -> list[float]:
        found = findings_of(*powers, loop="0.5 ohm")
        return [f.found for f in found if f.rule == "en.50160.distortion"]

    assert distorts("1.5 kW") == []
    (three,) = distorts("1.5 kW", "1.5 kW", "1.5 kW")
    assert 0.08 < three < 0.25


def test_a_drive_for_three_phase_input_has_the_link_and_the_choke_of_its_own_size() -> None:
    """Used at half of its amps it is twice as large as its motor: so is all that is inside."""
    found = judged("5.5 kW", loop="0.15 ohm")
    assert "maker_allows" in {each.code for each in found.conditions}
    figures = found.figures
    rating = figures.drive_rating_w.number
    assert rating > 1.8 * 5500.0
    assert figures.link.capacitance_f.number == pytest.approx(200e-9 * rating)
    choke_h = figures.link.ac_choke_h.number + figures.link.dc_choke_h.number
    share = 2.0 * math.pi * 50.0 * choke_h / (230.0**2 / rating)
    assert share >= 0.04 * (1.0 - 1e-9)
    # on one phase it ripples as deep as with a phase lost
    volts = figures.dc_link_v
    assert volts.ripple.number > 0.15 * volts.mean.number
    assert "drive.phase_watch" in {each.code for each in found.conditions}
    agree(figures)


def test_a_choke_is_fitted_where_only_with_it_the_current_fits() -> None:
    """On so soft a supply it saves less than a tenth: it is bought for the room alone."""
    supply = Source(230.0, 0.6, 0.6, 50.0)
    circuit = standard_motor(1500.0, 230.0, 50.0, 4, 1990)

    def duty(room_a: float):
        return duty_of(supply, circuit, 1500.0, typical=0.5, demand=1.0, choke=None, room_a=room_a)

    wide = duty(60.0)
    assert not wide.choke_fitted
    bare_a = wide.input_current_a.number
    choked_a = duty_of(
        supply, circuit, 1500.0, typical=0.5, demand=1.0, choke=Choke(0.05), room_a=60.0
    ).input_current_a.number
    assert 0.9 * bare_a < choked_a < bare_a
    # midway a smaller one serves; it is the smallest that does
    halfway = duty(0.5 * (bare_a + choked_a))
    assert 0.0 < halfway.choke.share < 0.05
    assert halfway.input_current_a.number <= 0.5 * (bare_a + choked_a)
    assert not duty(0.5 * choked_a).choke_fitted
