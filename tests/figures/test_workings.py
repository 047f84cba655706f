"""Every figure opens its working: the function that made it is there, its inputs are named."""

import importlib
from pathlib import Path

import pytest

import phasewright
from phasewright.quantities.plain import figures

EXAMPLES = sorted((Path(__file__).resolve().parents[2] / "examples").glob("*.shop.yaml"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.stem)
def study(request):
    return phasewright.study(phasewright.read(request.param), quick=True)


def found(formula):
    """The function (or method) behind a dotted name below the package; None where there is none."""
    parts = formula.split(".")
    for cut in range(len(parts) - 1, 0, -1):
        try:
            part = importlib.import_module("phasewright." + ".".join(parts[:cut]))
        except ModuleNotFoundError:
            continue
        for name in parts[cut:]:
            part = getattr(part, name, None)
        return part
    return None


def test_a_name_of_nothing_is_not_found():
    assert found("plan.sums.purchase") is not None
    assert found("plan.sums.no_such_sum") is None
    assert found("sum of jobs") is None


def test_every_computed_figure_names_a_function_that_exists(study):
    lost = {
        (value.formula, pointer)
        for pointer, value in figures(study)
        if value.origin == "computed"
        and not (callable(found(value.formula)) or isinstance(found(value.formula), property))
    }
    assert not lost


def test_every_computed_figure_names_its_inputs_and_source(study):
    bare = []
    for pointer, value in figures(study):
        if value.origin == "computed":
            if not value.inputs or not value.source:
                bare.append(pointer)
            if any(not entry.name for entry in value.inputs):
                bare.append(pointer)
        else:
            if not value.source:
                bare.append(pointer)
    assert not bare


def test_spreads_hold_their_figure(study):
    wrong = [p for p, value in figures(study) if not value.low <= value.number <= value.high]
    assert not wrong


def inputs(value):
    return {entry.name: entry.number for entry in value.inputs}


def test_sums_are_the_sums_of_their_inputs(study):
    for plan in study.plans:
        assert plan.purchase.number == pytest.approx(sum(inputs(plan.purchase).values()))
        assert plan.hours_of_work.number == pytest.approx(sum(inputs(plan.hours_of_work).values()))
        whole = plan.lifetime_cost.expected
        assert whole.number == pytest.approx(sum(inputs(whole).values()), rel=1e-9, abs=1e-6)
        energy = inputs(plan.energy_per_year)
        price = energy.pop("price of energy")
        own = {name: kwh for name, kwh in energy.items() if name.endswith(", of its own source")}
        fuel = energy.pop("price of its own source's energy", None)
        assert (fuel is None) is (not own)
        bought = sum(kwh for name, kwh in energy.items() if name not in own)
        assert plan.energy_per_year.number == pytest.approx(
            bought * price + sum(own.values()) * (fuel or 0.0)
        )
        idle = inputs(plan.idle_energy_per_year_kwh)
        watts, hours = idle["idling takes"], idle["hours a year"]
        assert plan.idle_energy_per_year_kwh.number == pytest.approx(watts * hours / 1000)


def test_the_first_year_is_what_is_paid_today_on_the_mean_of_low_usual_and_high_prices(study):
    for plan in study.plans:
        today, price = plan.years[0], plan.purchase
        mean = 0.185 * price.low + 0.63 * price.number + 0.185 * price.high
        assert today.buys == pytest.approx(mean, abs=1e-6)
        assert today.labour == pytest.approx(plan.labour.number, abs=1e-6)
