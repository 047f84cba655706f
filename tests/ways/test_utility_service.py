"""A three-phase service from the network operator, and what one phase of it must then carry.

Line to neutral is line to line over root three (theory of circuits); the volts and fuses of a new
service are common practice, no source.
"""

import math
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.machines.performance import at_torque, rated
from phasewright.plan.arrays import choice_of
from phasewright.plan.facts import facts_of
from phasewright.plan.terms import terms_of
from phasewright.quantities.errors import NotComputable
from phasewright.ways.phases import heaviest

SHOP = """
phasewright: 1
shop: An invented yard
region: {region}
supply:
  kind: {kind}
  voltage: {volts}
  frequency: {hertz} Hz
{supply}
{quotes}
machines:
  - name: Lathe
    have: owned
    hours_per_year: 200
    motors:
      - name: main
        plate: {{power: 2.2 kW, voltage: {plate}, frequency: {hertz} Hz, speed: {speed} rpm}}
        load: {{kind: spindle}}
"""


def text(region="IEC", kind="single_phase", volts="230 V", hertz=50, supply="", quotes="",
         plate="230/400 V", speed=1420):  # fmt: skip
    return SHOP.format(region=region, kind=kind, volts=volts, hertz=hertz, supply=supply,
                       quotes=quotes, plate=plate, speed=speed)  # fmt: skip


def facts(**words):
    return facts_of(read_text(text(**words)))


def judged(of):
    return next(j for j in of.judgements[0] if j.way == "utility_service")


def services(of):
    return [one for one in of.shared if one.way == "utility_service"]


LOADS = st.lists(st.tuples(st.floats(0.1, 40.0), st.booleans()), max_size=6)
PLACES = {False: ((0,), (1,), (2,)), True: ((0, 1), (1, 2), (0, 2))}


def by_hand(loads):
    best = math.inf
    for places in product(*(PLACES[pair] for _, pair in loads)):
        phases = [0.0, 0.0, 0.0]
        for (amps, _), where in zip(loads, places, strict=True):
            for phase in where:
                phases[phase] += amps
        best = min(best, max(phases))
    return best


@settings(deadline=None, max_examples=60)
@given(loads=LOADS)
def test_loads_are_spread_as_evenly_as_they_go(loads):
    assert heaviest(loads) == pytest.approx(by_hand(loads), rel=1e-8)


@settings(deadline=None, max_examples=60)
@given(loads=LOADS, more=st.tuples(st.floats(0.1, 40.0), st.booleans()))
def test_one_more_load_never_lowers_the_heaviest_phase(loads, more):
    assert heaviest([*loads, more]) >= heaviest(loads) * (1.0 - 1e-9)


def test_more_loads_than_can_be_spread_are_refused_loudly():
    with pytest.raises(NotComputable):
        heaviest([(1.0, False)] * 41)


def test_a_motor_runs_on_three_equal_lines_relinked_for_their_volts():
    of = facts()
    at, link = judged(of).figures, judged(of).link
    assert link.line_voltage_v == 400.0
    motor = of.units[0].motor
    assert motor.link.line_voltage_v == 230.0  # for a converter on today's two lines
    circuit = motor.circuit_at(link)
    torque = rated(circuit).shaft_torque_nm * motor.load.running_torque.number
    assert at.input_current_a.low == pytest.approx(
        at_torque(circuit, torque, 230.0 * math.sqrt(3), 50.0).current_a, rel=1e-9
    )
    assert at.usable_power_w.number == pytest.approx(2200.0, rel=0.02)
    whole = math.sqrt(3) * 230.0 * math.sqrt(3) * at.input_current_a.expected.number
    assert at.input_power_w.number == pytest.approx(whole * at.input_power_factor.number, rel=1e-9)


def test_a_service_of_the_other_region_has_its_own_volts():
    of = facts(region="NEC", kind="split_phase", volts="240 V", hertz=60, plate="230/460 V",
               speed=1745)  # fmt: skip
    phases = of.site.phases
    assert (phases.line_voltage_v, phases.phase_voltage_v) == (208.0, 120.0)
    assert judged(of).link.line_voltage_v == 230.0


def test_the_same_contract_gives_a_phase_a_third():
    one = facts(supply="  contracted_power: 9 kVA").site
    assert one.phases.limit_a == pytest.approx(one.limit.current_a.number / 3.0)
    assert one.phases.limit_a == pytest.approx(9000.0 / 3.0 / 230.0)


def test_what_ran_on_one_strong_phase_may_not_fit_a_third_of_it():
    """A 12 A heater on 9 kVA (39 A) leaves plenty; on a phase of 13 A it leaves 1 A."""
    heater = "  contracted_power: 9 kVA\n  other_loads: [{{name: {0}, current: {1} A}}]"
    fits = facts(supply=heater.format("lamps", 2))
    assert judged(fits).verdict == "with_conditions"
    of = facts(supply=heater.format("heater", 12))
    assert judged(of).verdict == "refused"
    assert judged(of).reasons[0].code == "phase_too_small"
    assert not services(of)
    drive = next(j for j in of.judgements[0] if j.way == "drive_per_motor")
    assert drive.verdict != "refused"


def test_loads_are_spread_over_the_phases_and_those_that_wait_are_not_counted():
    supply = (
        "  contracted_power: 12 kVA\n  other_loads:\n"
        "    - {name: kiln, current: 8 A}\n    - {name: oven, current: 7 A}\n"
        "    - {name: fridge, current: 5 A}\n    - {name: car, current: 32 A, can_wait: true}"
    )
    of = facts(supply=supply)
    assert of.site.phases.heaviest_a((), 0.0) == 8.0
    assert of.site.phases.heaviest_a((4.0,), 1.0) == 10.0
    assert judged(of).verdict == "with_conditions"


def test_money_is_the_quote_first_with_its_standing_charge():
    quote = "quotes:\n  - {kind: utility_service, price: 8200, standing_per_year: 260}"
    (told,) = services(facts(quotes=quote))
    assert told.hads[0].items[0].amount == 8200.0
    assert told.hads[0].yearly_cost == 260.0
    (usual,) = services(facts())
    price = usual.hads[0].items[0].price
    assert (price.low, price.amount, price.high) == (1500.0, 6000.0, 25000.0)  # invented
    assert usual.hads[0].yearly_cost == 300.0  # invented


def test_its_cost_is_the_lump_and_the_standing_charge_of_every_year():
    """Present values reckoned here: nothing is sold at the end, charges fall due yearly."""
    shop = read_text(text(
        quotes="quotes:\n  - {kind: utility_service, price: 900, standing_per_year: 10}\n"
        "tariff: {energy: 0}\nwishes: {plan_years: 10, discount_rate: 0.04, who_wires: own}"
    ))  # fmt: skip
    plan = next(p for p in study(shop).plans if p.id.startswith("utility_service"))
    assert plan.title == "A three-phase service for one motor"
    worth = 900.0 + sum(10.0 / 1.04**year for year in range(1, 11))
    assert plan.lifetime_cost.expected.number == pytest.approx(worth)
    assert plan.lifetime_cost.low == pytest.approx(worth)
    assert plan.idle_energy_per_year_kwh.number == 0.0


def test_the_wide_spread_of_an_unknown_lump_shows_in_the_plan():
    plan = next(p for p in study(read_text(text())).plans if p.id.startswith("utility_service"))
    assert plan.lifetime_cost.low < 0.6 * plan.lifetime_cost.expected.number
    assert plan.lifetime_cost.high > 2.0 * plan.lifetime_cost.expected.number
    assert plan.lifetime_cost.high > 5.0 * plan.lifetime_cost.low


def test_waiting_licence_and_lost_amps_are_told():
    of = study(read_text(text(
        quotes="quotes:\n  - {kind: utility_service, price: 1, standing_per_year: 0}"
    )))  # fmt: skip
    plan = of.plans[0]
    assert plan.id.startswith("utility_service")
    assert {each.code for each in plan.gives_up} >= {"waiting", "amps_a_phase"}
    assert {"service_licensed", "licensed_work"} <= {each.code for each in of.answer.cautions}
    assert not {"generated_line_live", "stored_charge"} & {e.code for e in of.answer.cautions}
    condition = next(w for w in of.motors[0].ways if w.way == "utility_service").conditions
    assert any("weeks" in each.words for each in condition)


def test_three_phases_that_are_there_are_not_bought_again():
    of = facts(kind="three_phase", volts="400 V", plate="400/690 V")
    one = judged(of)
    assert one.verdict in ("suits", "with_conditions")
    assert one.reasons[0].code == "three_phases_there"
    assert not services(of)
    direct = next(j for j in of.judgements[0] if j.way == "direct")
    assert direct.offers


def test_a_shop_on_a_generator_has_no_operator_unless_one_offers():
    assert judged(facts(kind="generator")).reasons[0].code == "no_operator"
    offered = facts(kind="generator", quotes="quotes:\n  - {kind: utility_service, price: 9000}")
    assert judged(offered).verdict == "with_conditions"


def test_who_may_use_an_outlet_only_has_no_service_unless_one_is_offered():
    outlet = "  outlet_rating: 16 A"
    of = facts(supply=outlet)
    assert judged(of).reasons[0].code == "only_an_outlet"
    assert not services(of)
    quote = "quotes:\n  - {kind: utility_service, price: 9000}"
    assert services(facts(supply=outlet, quotes=quote))


def test_single_phase_ways_beside_it_are_counted_on_their_phase():
    """A drive takes its amps from one phase, so it comes on top of the motors on all three."""
    of = facts_of(read_text(text(supply="  service_rating: 63 A")))
    choice = choice_of(of, terms_of(of.shop))
    state = next(k for k, each in enumerate(choice.states) if each.way == "utility_service")
    for k, option in enumerate(choice.options):
        if option.way == "drive_per_motor":
            service = of.judgements[0][0].offers[option.offer].service
            amps = max(service.typical.current_a(230.0), service.demand.current_a(230.0))
            assert choice.admission.supply_a(state, ((0, k),)) == pytest.approx(amps)
        if option.way == "utility_service":
            asked = judged(of).figures.input_current_a.expected.number
            assert choice.admission.supply_a(state, ((0, k),)) == pytest.approx(asked)
