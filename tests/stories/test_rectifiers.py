"""Rectifiers on a converter's lines in an invented toolmaker's shed: a spark-erosion machine, a
controlled mill, a lathe with a drive inside.

Common practice, no source, unless a clause is named.
"""

from dataclasses import replace

import pytest
from stories.judged import codes, judged, words
from stories.yard import choice, yard

from phasewright.network.unbalance import nema_unbalance, vuf_of_magnitudes
from phasewright.plan.facts import facts_of
from phasewright.quantities.value import exact
from phasewright.rules.generated_line import unbalance
from phasewright.shop.machine import Consumer

STIFF_PAIR, SOFT_PAIR = (240.0, 253.0, 253.0), (234.0, 203.0, 249.0)
"""Readings as an owner has them: idling, and with spark erosion at work (invented after a
usual complaint)."""


def rotary(motor):
    return judged("spark_erosion", motor, "rotary_converter")


def test_readings_tell_how_far_the_lines_are_apart():
    """NEMA MG 1: greatest deviation from the mean over the mean, by hand."""
    assert nema_unbalance(STIFF_PAIR) == pytest.approx(8.667 / 248.667, abs=1e-4)
    assert nema_unbalance(SOFT_PAIR) == pytest.approx(25.667 / 228.667, abs=1e-4)
    assert round(nema_unbalance(STIFF_PAIR), 3) == 0.035
    assert round(nema_unbalance(SOFT_PAIR), 3) == 0.112


@pytest.mark.parametrize(("readings", "kept"), [(STIFF_PAIR, True), (SOFT_PAIR, False)])
def test_a_motor_on_such_lines_is_no_more_for_continuous_duty(readings, kept):
    apart = vuf_of_magnitudes(readings), nema_unbalance(readings)
    assert unbalance(*apart, False, "Sinker/pump").kept is kept


def test_the_pump_s_contactor_goes_to_lines_1_and_2():
    of = rotary("Sinker/pump")
    assert "line3.control" in codes(of.conditions)
    assert "Move the control transformer's two leads to lines 1 and 2" in words(of.conditions)


def test_the_stiff_pair_gives_nearly_all_and_the_owner_is_told_what_to_ask():
    of = rotary("Sinker/pump")
    rectifier = of.figures.rectifier
    assert rectifier.pair_shares[0] > 0.7
    assert max(rectifier.line_currents_a[:2]) > 5.0 * rectifier.line_currents_a[2]
    # a link fed from one phase: far more amps than watts over volts
    assert rectifier.line_currents_a[0] > rectifier.power_w.number / 230.0 / 0.9
    assert "line3.rectifier" in codes(of.conditions)
    assert "fed from lines 1 and 2 alone" in words(of.conditions)
    # never above the peak of its highest lines, never below that of the lowest
    volts = of.figures.line_voltages_v.loaded
    assert rectifier.link_mean_v.number < 2**0.5 * max(volts)
    assert rectifier.link_min_v.number < rectifier.link_mean_v.number


def test_spark_erosion_asks_for_the_larger_idler_and_is_counted_on_the_supply():
    with_it, without = rotary("Sinker/pump").figures, rotary("Sinker without/pump").figures
    assert with_it.idler_power_w.number > without.idler_power_w.number
    assert with_it.line_voltages_v.loaded[0] < without.line_voltages_v.loaded[0]
    assert with_it.unbalance.loaded.nema > without.unbalance.loaded.nema
    more_w = with_it.input_power_w.number - without.input_power_w.number
    assert more_w == pytest.approx(with_it.rectifier.power_w.number, rel=0.05)
    assert without.rectifier is None


def test_numerical_control_bears_two_percent_of_negative_sequence():
    """IEC 60204-1, 4.3.2 (from memory)."""
    of = rotary("Controlled mill/spindle")
    told = next(each for each in of.conditions if each.code == "motor.unbalance")
    assert told.words.endswith("at most 2%.")
    assert 0.02 < float(told.words.split("%")[0]) / 100.0 <= of.figures.unbalance.loaded.vuf


def test_a_drive_inside_hangs_as_a_rectifier_and_starts_without_a_surge():
    of = rotary("Driven lathe/spindle")
    assert of.verdict == "with_conditions"
    assert {"drive_inside", "line3.rectifier"} <= codes(of.conditions)
    assert "link" not in codes(of.reasons)
    # shaft watts at its highest load (the plate's) over losses of motor and drive
    assert 1.05 <= of.figures.rectifier.power_w.number / 4000 <= 1.5
    assert of.figures.starting_torque_ratio is None
    drive = judged("spark_erosion", "Driven lathe/spindle", "static_converter")
    assert "drive_inside" in codes(drive.reasons)


def test_a_rectifier_in_the_barn_loads_the_feeder_whatever_feeds_it():
    """Two kilowatts from a pair of lines of 230 V are more than 8.7 A; the pair's own harmonics on
    top."""
    machine = yard().machines[0]
    control = Consumer(kind="electronics", power=exact(2000.0, "W", "stated", "test"), phases=3)
    with_it = replace(
        yard(), machines=(replace(machine, others=(*machine.others, control)), *yard().machines[1:])
    )
    bare, loaded = choice(facts_of(yard())), choice(facts_of(with_it))
    unit = next(k for k, one in enumerate(bare.facts.units) if one.machine == machine.name)
    place = bare.facts.units[unit].place
    assert place
    for way in ("drive_per_motor", "rotary_converter"):

        def taken(chosen, way=way):
            option = next(k for k, one in enumerate(chosen.options) if one.way == way)
            state = 0
            if way == "rotary_converter":
                state = next(
                    k for k, one in enumerate(chosen.states)
                    if one.way == way and chosen.facts.shared[one.shared].place == ""
                    and chosen.facts.shared[one.shared].serves(unit) is not None
                )  # fmt: skip
            return chosen.admission.feeder_a(state, ((unit, option),), place)

        assert 2000.0 / 230.0 < taken(loaded) - taken(bare) < 3.0 * 2000.0 / 230.0
