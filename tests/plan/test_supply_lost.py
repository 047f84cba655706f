"""What a plan tells of a converter whose supply is lost."""

from __future__ import annotations

import math

import pytest

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.plan import supply_lost as under_test
from phasewright.quantities.errors import NotComputable
from phasewright.rules.supply_lost import lines_stay_live

SHOP = """
phasewright: 1
shop: An invented mill shop
region: IEC
supply: {kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A}
machines:
  - name: Mill
    have: owned
    hours_per_year: 200
    motors:
      - name: main
        plate: {power: 2.2 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1430 rpm}
        load: {kind: spindle}
"""
RULE = "converter.supply_lost"


def told():
    of = study(read_text(SHOP)).to_dict()
    found = [
        (plan["id"], each)
        for plan in of["plans"]
        for each in plan["equipment"]
        if each["way"] == "rotary_converter"
    ]
    assert found
    return of, found


def test_a_converter_tells_what_it_holds_and_the_caution_names_it():
    of, converters = told()
    for plan, each in converters:
        lost, bank = each["supply_lost"], each["figures"]["run_capacitance_f"]
        assert lost["run_capacitance_sum_f"] == pytest.approx(sum(bank.values()))
        low, expected, high = (lost["self_excites"][k] for k in ("low", "expected", "high"))
        assert low <= expected <= high
        assert (expected > 0.0) == (lost["run_capacitance_sum_f"] > lost["onset_sum_f"]["expected"])
        assert ("line_voltages_v" in lost) == (expected > 0.0)
        beside = lost.get("with_machines", {"self_excites": lost["self_excites"]})
        high = max(high, beside["self_excites"]["high"])
        named = [f for f in of["findings"] if f["rule"] == RULE and f["plan"] == plan]
        assert len(named) == (high > 50.0)
        for finding in named:
            assert finding["severity"] == "caution"
            assert finding["found"] == pytest.approx(high)
            assert f"{high:.3g} V" in finding["words"]
            assert "contactor" in finding["remedy"]["words"]


def test_onset_and_full_volts_are_those_of_the_circuit_that_is_told():
    """0.95 to 1.01 of 1/(w^2 (Lu + Ls)), Lu = (1 + k) times the inductance at rated flux; full
    volts at the inductance of rated flux, losses and spread aside."""
    _, converters = told()
    for _, each in converters:
        lost, circuit = each["supply_lost"], each["equivalent_circuit"]
        w = 2.0 * math.pi * circuit["frequency_hz"]
        for name, k in (("low", 0.90), ("expected", 0.45), ("high", 0.20)):
            ohm = (1.0 + k) * circuit["magnetising_ohm"] + circuit["stator_leakage_ohm"]
            assert 0.95 <= lost["onset_sum_f"][name] * w * ohm <= 1.01
        rated = circuit["magnetising_ohm"] + circuit["stator_leakage_ohm"]
        assert lost["full_volts_sum_f"] * w * rated == pytest.approx(1.0, abs=0.04)


def test_flux_beyond_measured_iron_is_said():
    (plain,) = lines_stay_live(240.0, 260.0, "converter").findings
    (rough,) = lines_stay_live(240.0, 260.0, "converter", measured=False).findings
    assert "measured" not in plain.words
    assert "beyond what has been measured" in rough.words


def test_what_cannot_be_computed_is_told_and_not_left_out(monkeypatch):
    def refuse(*_):
        raise NotComputable("no state was found")

    monkeypatch.setattr(under_test, "_irons", refuse)
    of, converters = told()
    assert all("supply_lost" not in each for _, each in converters)
    plans = {plan for plan, _ in converters}
    named = [f for f in of["findings"] if f["rule"] == RULE]
    assert {f["plan"] for f in named} == plans
    assert all("no state was found" in f["words"] and "live" in f["words"] for f in named)
