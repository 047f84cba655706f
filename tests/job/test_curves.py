"""The curves of the workings: what must hold between them and the answer they stand beside."""

import itertools
import math

import pytest

from phasewright.job.curves.chart import thinned
from phasewright.job.curves.money import money_sheet
from phasewright.job.curves.sheets import asked_of, curves
from phasewright.job.read import read
from phasewright.job.study import study
from phasewright.quantities.errors import UsageError

pytestmark = pytest.mark.whole
MILL = "Scratter/mill"


@pytest.fixture(scope="module")
def barn():
    from page.conftest import ROOT

    shop = read(ROOT / "examples" / "cider-barn.shop.yaml")
    return shop, study(shop)


def best(found):
    return next(plan for plan in found.plans if plan.id == found.answer.plan)


def charts(barn, motor, asked, plan=None):
    shop, found = barn
    plan = plan or best(found)
    one = next(each for each in plan.motors if each.motor == motor)
    return {chart.key: chart for chart in curves(shop, found, plan, one, asked).charts}


def column(chart, name):
    return next(curve.values for curve in chart.curves if curve.name == name)


def test_the_curves_pass_through_the_lines_as_the_answer_has_them_with_this_motor_loaded(barn):
    _, found = barn
    built = next(each for each in best(found).motors if each.motor == "Filter/pump")
    told = built.figures.line_voltages_v.loaded
    drawn = charts(barn, "Filter/pump", "load")["load-volts"]
    points = zip(*(column(drawn, f"lines {pair}") for pair in ("1–2", "2–3", "3–1")), strict=True)
    off = [
        max(abs(one - other) for one, other in zip(point, told, strict=True)) for point in points
    ]
    at = off.index(min(off))
    assert off[at] < 0.5
    assert 50.0 <= drawn.across[at] <= 125.0


def test_the_three_line_amps_of_a_winding_without_neutral_close_a_triangle(barn):
    drawn = charts(barn, MILL, "load")["load-amps"]
    for one, two, three in zip(*(column(drawn, f"line {k}") for k in (1, 2, 3)), strict=True):
        assert max(one, two, three) <= one + two + three - max(one, two, three) + 1e-9


def test_more_load_takes_more_from_the_supply(barn):
    amps = column(charts(barn, MILL, "load")["load-supply"], "supply")
    heavy = amps[len(amps) // 2 :]
    assert all(one < two for one, two in itertools.pairwise(heavy))


def test_without_run_capacitors_line_3_is_lower_than_with_those_chosen(barn):
    drawn = charts(barn, MILL, "capacitors")["capacitors-volts"]
    (spot,) = drawn.spots
    chosen = min(range(len(drawn.across)), key=lambda k: abs(drawn.across[k] - spot.at))
    for pair in ("2–3", "3–1"):
        volts = column(drawn, f"lines {pair}")
        assert volts[0] < volts[chosen]


def test_the_chosen_capacitors_keep_the_lines_more_even_than_none_and_than_twice_as_much(barn):
    drawn = charts(barn, MILL, "capacitors")["capacitors-unbalance"]
    uneven = column(drawn, "negative sequence at work")
    assert uneven[len(uneven) // 2] < min(uneven[0], uneven[-1])


def test_torque_on_even_lines_at_rated_speed_is_the_rated_torque(barn):
    _, found = barn
    motor = next(each for each in found.motors if each.id == MILL)
    drawn = charts(barn, MILL, "torque")["torque"]
    torque = column(drawn, "on three even lines")
    at = next(k for k, rpm in enumerate(drawn.across) if rpm >= motor.rated_speed_rpm.number)
    before, after = drawn.across[at - 1], drawn.across[at]
    share = (motor.rated_speed_rpm.number - before) / (after - before)
    between = torque[at - 1] + share * (torque[at] - torque[at - 1])
    assert between == pytest.approx(motor.torque.rated_nm.number, rel=0.01)


def test_uneven_lines_give_less_torque_at_standstill_than_even_ones(barn):
    drawn = charts(barn, MILL, "torque")["torque"]
    assert column(drawn, "on the lines it has")[0] < column(drawn, "on three even lines")[0]


def test_the_start_runs_up_as_the_answer_says(barn):
    _, found = barn
    told = next(start for start in best(found).starts if start.motor == MILL)
    drawn = charts(barn, MILL, "start")
    speeds = column(drawn["start-speed"], MILL)
    assert told.runs_up
    assert speeds[0] == pytest.approx(0.0, abs=1.0)
    assert speeds[-1] > 1400.0
    crest = max(column(drawn["start-amps"], "crest"))
    assert crest == pytest.approx(told.supply_peak_a.number, rel=0.1)


def test_the_wave_has_the_crest_and_the_rms_of_the_bridge(barn):
    _, found = barn
    motor = next(each for each in best(found).motors if each.figures.harmonics_a is not None)
    wave = column(charts(barn, motor.motor, "input")["wave"], "current")[:-1]
    rms = math.sqrt(sum(amps**2 for amps in wave) / len(wave))
    assert rms == pytest.approx(math.hypot(*motor.figures.harmonics_a), rel=1e-6)
    crest = max(map(abs, wave)) / rms
    assert crest == pytest.approx(motor.figures.input_crest_factor.number, rel=0.03)


def test_what_lasts_is_never_more_than_what_a_minute_bears(barn):
    _, found = barn
    motor = next(each for each in best(found).motors if each.figures.torque_speed)
    drawn = charts(barn, motor.motor, "speed")["speed-torque"]
    for minute, ever in zip(
        column(drawn, "for a minute"), column(drawn, "for ever, by its heat"), strict=True
    ):
        assert ever is None or ever <= minute + 1e-9


def test_what_is_paid_begins_with_what_is_bought_and_stays_within_its_spread(barn):
    _, found = barn
    plan = best(found)
    chart, *others = money_sheet(found, plan).charts
    assert len(others) == 3
    assert all(column(other, "plan in the drawing") == column(chart, "expected")
               for other in others)  # fmt: skip
    paid = column(chart, "expected")
    assert paid[0] == pytest.approx(sum((plan.years[0].buys, plan.years[0].labour)))
    rows = plan.years
    so_far = 0.0
    for row, expected, low, high in zip(
        rows, paid, column(chart, "low"), column(chart, "high"), strict=True
    ):
        so_far += row.buys + row.energy + row.upkeep + row.labour
        assert expected == pytest.approx(so_far)
        assert low <= expected <= high


def test_a_motor_that_is_to_come_has_its_curves_in_every_plan(barn):
    shop, found = barn
    asked = []
    for plan in found.plans:
        for motor in plan.motors_to_come or ():
            assert motor.motor not in {each.motor for each in plan.motors}
            for kind in asked_of(plan, motor):
                asked.append(kind)
                assert curves(shop, found, plan, motor, kind).charts, (plan.title, kind)
    assert {"load", "capacitors", "torque", "start", "input", "speed"} <= set(asked)


def test_every_motor_of_every_plan_has_every_curve_that_is_offered():
    """A shop whose windings want another voltage than its supply has, in the plans that give it."""
    from page.conftest import ROOT

    shop = read(ROOT / "examples" / "bakery.shop.yaml")
    found = study(shop)
    drawn = 0
    for plan in found.plans:
        for motor in plan.motors:
            assert bool(asked_of(plan, motor)) == (motor.way is not None)
            for kind in asked_of(plan, motor):
                for chart in curves(shop, found, plan, motor, kind).charts:
                    drawn += 1
                    assert any(n is not None for curve in chart.curves for n in curve.values)
    assert drawn > 50


def test_the_start_of_a_motor_to_come_runs_up_as_the_answer_says(barn):
    shop, found = barn
    plan = best(found)
    (told,) = [start for start in plan.starts if start.planned]
    (motor,) = plan.motors_to_come
    drawn = {chart.key: chart for chart in curves(shop, found, plan, motor, "start").charts}
    crest = max(column(drawn["start-amps"], "crest"))
    assert crest == pytest.approx(told.supply_peak_a.number, rel=0.1)


def test_what_a_motor_has_not_is_refused(barn):
    shop, found = barn
    plan = best(found)
    one = next(each for each in plan.motors if each.way == "drive_per_motor")
    assert "start" not in asked_of(plan, one)
    with pytest.raises(UsageError):
        curves(shop, found, plan, one, "start")


def test_a_thinned_curve_keeps_its_ends_and_its_peaks():
    wave = [math.sin(0.37 * k) * (5.0 if k == 777 else 1.0) for k in range(5000)]
    kept = thinned(range(5000), [wave], most=100)
    assert len(kept) <= 110
    assert {0, 4999, max(range(5000), key=wave.__getitem__)} <= set(kept)
