"""Another motor or another winding: variants that make sense, their figures, money and losses.

Sources beside each check. Every shop and figure here is invented.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judgements import codes, offer_named

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.plan.facts import facts_of
from phasewright.quantities.errors import ShopFileError, TableEnds
from phasewright.tables.labour import hours
from phasewright.tables.motor_swap import ruin_chance, single_phase_motor
from phasewright.tables.prices import price
from phasewright.ways import motor_swap
from phasewright.ways.way import Judgement

SINGLE = "a single-phase motor in its place"
NEW = "a new low-voltage motor with a drive"
STAR = "the star point brought out and a drive"
REWOUND = "the motor rewound for the low voltage and a drive"

SHOP = """\
phasewright: 1
shop: Swaps
region: {region}
supply: {{kind: single_phase, voltage: {supply}, frequency: {hertz}, service_rating: {service}}}
machines:
  - name: Machine
    {machine}
    motors:
      - name: motor
        plate: {{{plate}}}
        load: {{kind: {kind}}}
        wants: {{{wants}}}
{quotes}
"""
STAR_ONLY = (
    "power: 2.2 kW, voltage: 400 V, current: 4.9 A, frequency: 50 Hz, speed: 1425 rpm, leads: 3"
)
DUAL = (
    "power: 2.2 kW, voltage: 230/400 V, current: 8.5/4.9 A, frequency: 50 Hz, speed: 1425 rpm, "
    "leads: 6"
)
TWO_SPEED = (
    "power: 1.5/2.2 kW, voltage: 400 V, current: 3.9/4.9 A, frequency: 50 Hz, "
    "speed: 1420/2840 rpm, leads: 6, connection: D/YY"
)


def judged(
    plate: str, *, kind: str = "spindle", region: str = "IEC", supply: str = "230 V",
    hertz: str = "50 Hz", service: str = "63 A", machine: str = "hours_per_year: 100",
    wants: str = "", quotes: str = "",
) -> Judgement:  # fmt: skip
    text = SHOP.format(
        region=region, supply=supply, hertz=hertz, service=service, machine=machine, plate=plate,
        kind=kind, wants=wants, quotes=quotes,
    )  # fmt: skip
    facts = facts_of(read_text(text))
    return motor_swap.judge(facts.units[0].task, facts.site)


def names(judgement: Judgement) -> list[str]:
    return [offer.words for offer in judgement.offers]


# what the plan weighs


def weighed(plate: str, quotes: str = "") -> list[str]:
    """The variants the plan weighs: a motor nobody knows to exist only where nothing else does."""
    text = SHOP.format(
        region="IEC", supply="230 V", hertz="50 Hz", service="63 A",
        machine="hours_per_year: 100", plate=plate, kind="spindle", wants="", quotes=quotes,
    )  # fmt: skip
    facts = facts_of(read_text(text))
    return names(next(each for each in facts.judgements[0] if each.way == "motor_swap"))


def test_a_motor_that_may_not_be_had_is_weighed_last():
    assert weighed(DUAL) == []
    assert "fitting_motor_not_known" in codes(judged(DUAL))
    assert set(weighed(STAR_ONLY + ", connection: Y")) == {STAR, REWOUND}


def test_a_quote_says_that_it_can_be_had():
    quote = "quotes: [{kind: single_phase_motor, power: 2.2 kW, price: 300}]"
    assert weighed(DUAL, quote) == [SINGLE]


# which variants make sense


def test_a_star_only_motor_has_all_four():
    assert names(judged(STAR_ONLY + ", connection: Y")) == [SINGLE, NEW, STAR, REWOUND]


def test_a_motor_that_can_be_linked_low_gets_no_drive_variant():
    assert names(judged(DUAL)) == [SINGLE]


def test_a_delta_winding_has_no_star_point():
    assert STAR not in names(judged(STAR_ONLY + ", connection: D"))


def test_a_winding_that_is_not_told_must_be_looked_into():
    found = judged(STAR_ONLY)
    assert STAR in names(found)
    assert "prove_star" in codes(found)


def test_a_two_speed_winding_is_neither_opened_nor_replaced_by_one_speed():
    found = judged(TWO_SPEED)
    assert names(found) == [NEW, REWOUND]
    assert "second_speed_lost" in codes(found)


def test_motors_of_4_kw_end_the_single_phase_ones():
    """Single-phase motors to 3 kW (common practice, no source)."""
    large = STAR_ONLY.replace("2.2 kW", "4 kW").replace("4.9 A", "8.5 A") + ", connection: Y"
    assert SINGLE not in names(judged(large))


@pytest.mark.parametrize(
    ("kind", "code"),
    [("coolant_pump", "built_in"), ("separator", "run_up_too_long"), ("lift", "load_kind_lift")],
)
def test_loads_no_single_phase_motor_turns(kind, code):
    found = judged(DUAL, kind=kind)
    assert SINGLE not in names(found)
    assert code in codes(found)


def test_a_single_phase_motor_is_not_swapped():
    plate = "power: 1.1 kW, voltage: 230 V, current: 7.2 A, frequency: 50 Hz, speed: 1420 rpm, phases: 1"
    found = judged(plate)
    assert (found.verdict, codes(found)) == ("refused", {"no_swap_needed"})


def test_what_is_lost_is_told():
    found = judged(
        DUAL, machine="brake: {kind: spring_electric, fed_from: two lines}", wants="reverse: true"
    )
    assert {"mount_and_shaft", "reverse_from_rest", "brake_lost", "pulsating_torque"} <= codes(
        found
    )
    fast = judged(DUAL, wants="speed: [0.5, 1.2]")
    assert "one_speed" in codes(fast)


# figures


@pytest.mark.parametrize(("power_hp", "amps"), [(0.5, 4.9), (1.0, 8.0), (2.0, 12.0), (3.0, 17.0)])
def test_currents_of_the_code(power_hp, amps):
    """NFPA 70 (NEC) 2023, table 430.248, 230 V column, typed from its text."""
    assert single_phase_motor(power_hp * 745.7, 230.0, "NEC").current_a.number == amps


@given(st.floats(60.0, 3000.0), st.sampled_from([220.0, 230.0, 240.0]))
@settings(deadline=None, max_examples=60)
def test_a_single_phase_motor_balances(power_w, volts):
    """Input = output + losses; amps, watts and vars belong together; the start is the hardest."""
    of = single_phase_motor(power_w, volts, "IEC")
    assert of.power_at(1.0) == pytest.approx(of.input_power_w)
    assert of.power_at(0.0) < of.power_at(0.5) < of.power_at(1.0)
    assert math.hypot(of.input_power_w, of.reactive_var) == pytest.approx(
        volts * of.current_a.number
    )
    assert of.current_at(1.0).number == pytest.approx(of.current_a.number)
    assert of.starting_current_a.low > of.current_a.high


@given(st.floats(120.0, 3000.0))
@settings(deadline=None, max_examples=30)
def test_the_code_is_on_the_high_side_of_usual_motors(power_w):
    """Rule of thumb as a check: table 430.248 is above what motors with run capacitors draw."""
    of = single_phase_motor(power_w, 230.0, "IEC")
    per_kw = of.current_a.number / (power_w / 1000.0)
    assert 5.5 < per_kw < 10.7


def test_no_single_phase_motor_beyond_the_table():
    with pytest.raises(TableEnds):
        single_phase_motor(4000.0, 230.0, "IEC")


def test_the_start_is_an_impedance_behind_the_supply():
    """dip = 1 - |Zm| / |Zm + Zs|, by hand for the assumed starting power factor 0.65."""
    found = judged(DUAL)
    figures = found.figures_of(offer_named(found, SINGLE))
    facts = facts_of(
        read_text(
            SHOP.format(
                region="IEC", supply="230 V", hertz="50 Hz", service="63 A",
                machine="hours_per_year: 100", plate=DUAL, kind="spindle", wants="", quotes="",
            )
        )
    )  # fmt: skip
    source = facts.site.source
    held = 230.0 / (4.2 * single_phase_motor(2200.0, 230.0, "IEC").current_a.number)
    motor = held * complex(0.65, math.sqrt(1.0 - 0.65**2))
    whole = motor + complex(source.resistance_ohm, source.reactance_ohm)
    assert figures.voltage_dip_ratio.number == pytest.approx(1.0 - abs(motor) / abs(whole))
    assert figures.starting_current_a.number == pytest.approx(source.voltage_v / abs(whole))


def test_the_star_point_brought_out_gives_root_three_times_the_amps():
    found = judged(STAR_ONLY + ", connection: Y")
    offer = offer_named(found, STAR)
    assert offer.link.line_voltage_v == pytest.approx(400.0 / math.sqrt(3.0))
    assert offer.link.full_load_current_a == pytest.approx(4.9 * math.sqrt(3.0), rel=0.02)
    assert found.figures_of(offer).base_frequency_hz.number == pytest.approx(49.8, abs=0.1)


def test_each_variant_has_its_own_figures():
    found = judged(STAR_ONLY + ", connection: Y")
    prices = [found.figures_of(offer).price.number for offer in found.offers]
    assert len(set(prices)) == 4
    for offer in found.offers:
        assert sum(item.amount for item in offer.items) == pytest.approx(
            found.figures_of(offer).price.number
        )
    assert found.figures_of(offer_named(found, SINGLE)).drive_rating_w is None
    assert found.figures_of(offer_named(found, NEW)).drive_rating_w.number == 2200.0


def test_a_supply_too_small_is_refused_with_the_amps():
    found = judged(DUAL, service="10 A")
    assert found.verdict == "refused"
    assert "supply_too_small" in codes(found)
    assert found.figures.input_current_a.expected.number > 10.0


def test_a_weak_supply_refuses_the_start():
    text = SHOP.format(
        region="IEC", supply="230 V", hertz="50 Hz", service="63 A", machine="hours_per_year: 100",
        plate=DUAL, kind="spindle", wants="", quotes="",
    ).replace("service_rating: 63 A", "service_rating: 63 A, loop_impedance: 1.4 ohm")  # fmt: skip
    found = next(j for j in facts_of(read_text(text)).judgements[0] if j.way == "motor_swap")
    assert found.verdict == "refused"
    assert codes(found) & {"dip_too_deep", "starting_torque"}


# money


def test_the_old_motor_is_sold_only_where_it_comes_out():
    found = judged(STAR_ONLY + ", connection: Y")
    for words in (SINGLE, NEW):
        sold = [i.amount for i in offer_named(found, words).items if i.kind == "old_motor_sold"]
        assert sold == [pytest.approx(-0.3 * (70.0 + 55.0 * 2.2))]  # invented price curve
    for words in (STAR, REWOUND):
        assert all(item.amount > 0.0 for item in offer_named(found, words).items)


@pytest.mark.parametrize(("year", "low", "high"), [(1955, 0.10, 0.15), (1975, 0.02, 0.08)])
def test_the_risk_of_ruin(year, low, high):
    """10 to 15 % of varnished windings of before 1960 (common practice, no source)."""
    chance = ruin_chance(year)
    assert (chance.low, chance.high) == (low, high)
    found = judged(STAR_ONLY + f", connection: Y, year: {year}")
    risk = next(i for i in offer_named(found, STAR).items if i.kind == "risk_of_ruin")
    assert risk.amount == pytest.approx(chance.number * price("rewind", 2200.0).amount)


def test_hours_are_those_of_the_jobs():
    found = judged(STAR_ONLY + ", connection: Y")
    drive = hours("drive").number + hours("drive_settings").number
    assert offer_named(found, SINGLE).labour_h.number == hours("motor_swap").number
    assert offer_named(found, NEW).labour_h.number == hours("motor_swap").number + drive
    assert offer_named(found, STAR).labour_h.number == hours("star_point_out").number + drive
    assert offer_named(found, REWOUND).labour_h.number == drive


def test_quotes_replace_the_curves():
    quotes = (
        "quotes:\n  - {kind: single_phase_motor, power: 2.2 kW, price: 199}\n"
        "  - {kind: rewind, power: 2.2 kW, price: 333}\n"
        "  - {kind: star_point_out, power: 2.2 kW, price: 77}\n"
    )
    found = judged(STAR_ONLY + ", connection: Y", quotes=quotes)
    single, star, rewound = (offer_named(found, words) for words in (SINGLE, STAR, REWOUND))
    assert single.items[0].amount == 199.0
    assert star.items[0].amount == 77.0
    assert rewound.items[0].amount == 333.0


def test_replacing_the_machine_is_weighed_only_at_a_quote():
    found = judged(DUAL)
    assert "without_this_machine" in codes(found)
    quotes = (
        "quotes:\n  - {kind: machine_replaced, machine: Machine, price: 900}\n"
        "  - {kind: job_hired_out, machine: Machine, price: 0, standing_per_year: 40}\n"
    )
    found = judged(DUAL, quotes=quotes)
    assert "without_this_machine" not in codes(found)
    replaced = offer_named(found, "another machine with a single-phase motor")
    assert found.figures_of(replaced).price.number == 900.0
    hired = offer_named(found, "the job hired out")
    assert (hired.yearly_cost, hired.service.demand.current_a(230.0)) == (40.0, 0.0)


def test_a_cheap_quote_for_the_job_wins_the_plan_at_its_own_price():
    """10 a year for 10 years without interest: 100 in all, by hand."""
    text = SHOP.format(
        region="IEC", supply="230 V", hertz="50 Hz", service="63 A", machine="hours_per_year: 100",
        plate=STAR_ONLY, kind="spindle", wants="",
        quotes="quotes:\n  - {kind: job_hired_out, machine: Machine, price: 0, "
        "standing_per_year: 10}\nwishes: {plan_years: 10, discount_rate: 0}",
    )  # fmt: skip
    best = study(read_text(text)).plans[0]
    assert "hired out" in best.title.lower()
    assert best.lifetime_cost.expected.number == pytest.approx(100.0)


def test_a_quote_for_a_machine_must_name_one():
    for machine in ("", "machine: Nobody, "):
        quotes = f"quotes:\n  - {{kind: machine_replaced, {machine}price: 900}}\n"
        with pytest.raises(ShopFileError):
            judged(DUAL, quotes=quotes)
