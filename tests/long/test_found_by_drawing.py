"""Shops that random drawing found the program failing on, each cut down to what made it fail."""

import pytest
from long.drawn_shops import drawn
from long.whole_answer import faults

from phasewright.files.shop_file import read_text
from phasewright.network.conductors import feeder_impedance
from phasewright.plan.answer import answer

pytestmark = pytest.mark.whole
SUPPLY = "kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: 63 A"
LATHE = "power: 1.5 kW, voltage: 230/400 V, speed: 1420 rpm, leads: 6"


def shop(machine: str, supply: str = SUPPLY):
    text = f"phasewright: 1\nshop: Drawn\nregion: IEC\nsupply: {{{supply}}}\nmachines:\n  - {{{machine}}}\n"
    return read_text(text)


def motor(plate: str) -> str:
    return f"name: Machine, motors: [{{name: main, plate: {{{plate}}}}}]"


def ways(of, *, quick=True):
    told = answer(of, quick=quick).to_dict()
    return {way["way"]: way for way in told["motors"][0]["ways"]}


def codes(way):
    return {reason["code"] for reason in way["reasons"]}


def test_a_machine_without_any_motor_has_an_answer_of_nothing_to_buy():
    of = shop("name: Oven, motors: [], others: [{kind: heater, power: 3 kW, phases: 1}]")
    assert faults(of) == []
    told = answer(of, quick=True).to_dict()
    assert told["motors"] == []
    assert [each["way"] for each in told["others"]] == ["direct"]


def test_a_line_too_weak_for_a_drive_s_rectifier_refuses_the_drive_with_a_reason():
    """Half the supply's volts squared over its ohms is the most any line gives: 132 W per ohm."""
    weak = f"{SUPPLY}, loop_impedance: 8 ohm"
    of = shop(motor("power: 4 kW, voltage: 230/400 V, speed: 1440 rpm, leads: 6"), weak)
    assert faults(of) == []
    drive = ways(of)["drive_per_motor"]
    assert drive["verdict"] == "refused"
    assert "supply_too_weak" in codes(drive)


def test_a_motor_of_less_than_an_ampere_takes_the_smallest_contactor():
    three = "kind: three_phase, voltage: 400 V, frequency: 50 Hz, service_rating: 63 A"
    of = shop(motor("power: 0.18 kW, voltage: 230/400 V, speed: 1380 rpm, leads: 6"), three)
    assert faults(of) == []
    assert ways(of)["direct"]["verdict"] != "refused"


def test_a_feeder_of_a_size_in_no_table_goes_by_area_from_the_nearest():
    """Aluminium's 0.0283 ohm mm2/m (textbook) and up to a tenth for stranding, at 40 degC."""
    thin = feeder_impedance(30.0, 2.5e-6, "aluminium")[0]
    pure = 2 * 30.0 * 0.0283 / 2.5 * (1 + 0.004 * 20)
    assert pure < thin.number < 1.11 * pure
    assert "by area" in thin.source
    of = shop(
        motor(LATHE), f"{SUPPLY}, feeder: {{length: 30 m, conductor: 2.5 mm2, material: aluminium}}"
    )
    assert faults(of) == []


def test_a_way_whose_price_curve_ends_below_the_motor_is_refused_with_that_reason():
    """Curves of start-only converters are drawn up to 7.5 kW; a grinder of 11 kW lies beyond."""
    of = shop(
        "name: Machine, motors: [{name: main, load: {kind: grinder}, "
        "plate: {power: 11 kW, voltage: 230/400 V, speed: 2910 rpm, leads: 6}}]",
        SUPPLY.replace("63 A", "200 A") + ", loop_impedance: 0.05 ohm",
    )
    assert faults(of) == []
    static = ways(of)["static_converter"]
    assert static["verdict"] == "refused"
    assert "beyond_the_tables" in codes(static)
    assert "7.5 kW" in static["reasons"][0]["words"]


def test_a_transformer_that_is_bought_in_a_later_year_stands_in_no_circuit_of_today():
    """Seed 60013: a motor whose plan buys another drive behind a transformer for year 3."""
    of = drawn(60_013, most=3, most_motors=2)
    plans = [
        plan
        for plan in answer(of, quick=True).plans
        if any(part.kind == "isolating_transformer" for b in plan.buys for part in b.parts)
    ]
    for plan in plans:
        today = {s for b in plan.buys if b.year == 0 for s in b.serves
                 if any(part.kind == "isolating_transformer" for part in b.parts)}  # fmt: skip
        ahead = {c.from_.removeprefix("transformer ") for c in plan.circuits or ()
                 if c.role == "transformer_to_drive"}  # fmt: skip
        assert ahead == today
    assert any(b.year > 0 for plan in plans for b in plan.buys)
