"""Every rule four times: kept, broken, exactly at its limit, not applying.

The limits in the calls are worked out from the clauses by hand (see the comments), not read from
the code under test. That no rule is forgotten is a test of its own.
"""

from __future__ import annotations

import math

import pytest
from clauses_iec import IEC
from clauses_nec import NEC

from phasewright.quantities.codes import CutsBy
from phasewright.rules.drives import (
    drive_amps,
    drive_supply_conductors,
    link_undervoltage,
    nothing_opens_behind,
    phase_watch,
    selector_interlocked,
)
from phasewright.rules.emc import (
    borne_to_earth_v,
    filter_on_floating_supply,
    filter_stays,
    filter_volts,
    highest_to_earth_v,
    radio_category,
)
from phasewright.rules.generated_line import (
    capacitor_voltage_class,
    control_on_supply_lines,
    neutral,
    over_excitation,
    owned_capacitor_volts,
    rectifier_on_generated_line,
    single_phase_loads_on_supply_lines,
    straight_rating,
    unbalance,
    wrong_direction,
)
from phasewright.rules.harmonics import (
    above_16_a,
    class_a,
    harmonic_shares,
    harmonics_in_the_neutral,
    voltage_distortion,
)
from phasewright.rules.leakage import device_type, earth_conductor, standing_leakage
from phasewright.rules.motor_circuits import loop_impedance, motor_conductors, motor_overcurrent
from phasewright.rules.own_sources import one_filling_a_day
from phasewright.rules.phase_converters import (
    converter_conductors,
    converter_disconnect,
    converter_overcurrent,
)
from phasewright.rules.places import dust, feeder_rating, frost, third_conductor
from phasewright.rules.register import all_rules, rule
from phasewright.rules.starts import starts_per_hour, winding_heat
from phasewright.rules.stopping import (
    brake_coil,
    emergency_category,
    holds_nothing,
    injection_heat,
    isolation,
    resistor_ohms,
    run_down,
    threaded_nose,
    torque_off,
)
from phasewright.rules.supply import (
    contracted_power,
    high_mains,
    hold_in,
    outlet_rating,
    service_rating,
    start_dip,
    voltage_drop,
)
from phasewright.rules.supply_lost import lines_stay_live


def amps(third: float, ninth: float = 0.0) -> tuple[float, ...]:
    wave = [0.0] * 40
    wave[0], wave[2], wave[8] = 10.0, third, ninth
    return tuple(wave)


# rule id: kept, broken, at the limit, not applying
CASES = {
    "battery.fillings": (
        lambda: one_filling_a_day(99.0, 100.0, "b"),
        lambda: one_filling_a_day(101.0, 100.0, "b"),
        lambda: one_filling_a_day(100.0, 100.0, "b"),
        lambda: one_filling_a_day(None, 100.0, "b"),
    ),
    "supply.service_rating": (
        lambda: service_rating(59.0, 60.0),
        lambda: service_rating(61.0, 60.0),
        lambda: service_rating(60.0, 60.0),
        lambda: service_rating(61.0, None),
    ),
    "supply.outlet_rating": (
        lambda: outlet_rating(15.9, 16.0),
        lambda: outlet_rating(16.1, 16.0),
        lambda: outlet_rating(16.0, 16.0),
        lambda: outlet_rating(99.0, None),
    ),
    "supply.contracted_power": (
        lambda: contracted_power(5900.0, 6000.0),
        lambda: contracted_power(6100.0, 6000.0),
        lambda: contracted_power(6000.0, 6000.0),
        lambda: contracted_power(6100.0, None),
    ),
    "supply.voltage_drop": (
        lambda: voltage_drop(0.04, "IEC"),
        lambda: voltage_drop(0.04, "NEC"),
        lambda: voltage_drop(0.03, "NEC"),
        lambda: voltage_drop(None, "IEC"),
    ),
    "supply.start_dip": (
        lambda: start_dip(0.10),
        lambda: start_dip(0.16),
        lambda: start_dip(0.15),
        lambda: start_dip(None),
    ),
    "supply.hold_in": (
        lambda: hold_in(0.80),
        lambda: hold_in(0.74),
        lambda: hold_in(0.75),
        lambda: hold_in(None),
    ),
    "supply.high_mains": (
        lambda: high_mains(1.05, "m"),
        lambda: high_mains(1.11, "m"),
        lambda: high_mains(1.06, "m"),
        lambda: high_mains(None, "m"),
    ),
    "place.feeder_rating": (
        lambda: feeder_rating(45.9, 46.0, "p"),
        lambda: feeder_rating(46.1, 46.0, "p"),
        lambda: feeder_rating(46.0, 46.0, "p"),
        lambda: feeder_rating(99.0, None, "p"),
    ),
    "place.third_conductor": (
        lambda: third_conductor(2, 3, "p"),
        lambda: third_conductor(3, 2, "p"),
        lambda: third_conductor(3, 3, "p"),
        lambda: third_conductor(3, None, "p"),
    ),
    # what is closed may stand in dust
    "place.dust": (
        lambda: dust(False, "hot idler", "p"),
        lambda: dust(True, "hot idler", "p"),
        lambda: dust(True, "closed drive", "p"),
        lambda: dust(None, "hot idler", "p"),
    ),
    # water freezes at 0 °C
    "place.frost": (
        lambda: frost(5.0, "p"),
        lambda: frost(-5.0, "p"),
        lambda: frost(0.0, "p"),
        lambda: frost(None, "p"),
    ),
    "drive.amps": (
        lambda: drive_amps(4.6, 7.1, "m"),
        lambda: drive_amps(7.2, 7.1, "m"),
        lambda: drive_amps(7.1, 7.1, "m"),
        lambda: drive_amps(7.1, None, "m"),
    ),
    "drive.nothing_opens_behind": (
        lambda: nothing_opens_behind((), "c"),
        lambda: nothing_opens_behind(("reversing_drum",), "c"),
        lambda: nothing_opens_behind(("isolator_with_early_break",), "c"),
        lambda: nothing_opens_behind(None, "c"),
    ),
    # one motor needs no selector
    "drive.selector_interlocked": (
        lambda: selector_interlocked(3, True, "d"),
        lambda: selector_interlocked(2, False, "d"),
        lambda: selector_interlocked(1, False, "d"),
        lambda: selector_interlocked(3, None, "d"),
    ),
    # 125 % of 18 A is 22.5 A
    "nec.430.122": (
        lambda: drive_supply_conductors(25.0, 18.0, "c"),
        lambda: drive_supply_conductors(20.0, 18.0, "c"),
        lambda: drive_supply_conductors(22.5, 18.0, "c"),
        lambda: drive_supply_conductors(20.0, None, "c"),
    ),
    "drive.undervoltage": (
        lambda: link_undervoltage(206.0, "d"),
        lambda: link_undervoltage(182.0, "d"),
        lambda: link_undervoltage(200.0, "d"),
        lambda: link_undervoltage(None, "d"),
    ),
    "drive.phase_watch": (
        lambda: phase_watch(0.10, True, "d"),
        lambda: phase_watch(0.20, True, "d"),
        lambda: phase_watch(0.15, True, "d"),
        lambda: phase_watch(0.20, False, "d"),
    ),
    "line3.control": (
        lambda: control_on_supply_lines("two lines", True, "m"),
        lambda: control_on_supply_lines("line 3", True, "m"),
        lambda: control_on_supply_lines("two lines", True, "m"),
        lambda: control_on_supply_lines("line 3", False, "m"),
    ),
    # a breaker of 120/240 V: no line above 120 V to earth
    "nec.240.85": (
        lambda: straight_rating(208.0, "c", slash_rated=False),
        lambda: straight_rating(208.0, "c"),
        lambda: straight_rating(120.0, "c"),
        lambda: straight_rating(None, "c"),
    ),
    "nec.455.9": (
        lambda: single_phase_loads_on_supply_lines(("lamp",), False, "m"),
        lambda: single_phase_loads_on_supply_lines(("lamp",), True, "m"),
        lambda: single_phase_loads_on_supply_lines(("lamp", "socket"), False, "m"),
        lambda: single_phase_loads_on_supply_lines((), True, "m"),
    ),
    "line3.rectifier": (
        lambda: rectifier_on_generated_line(17.0, 18.0, "m"),
        lambda: rectifier_on_generated_line(34.0, 18.0, "m"),
        lambda: rectifier_on_generated_line(18.0, 18.0, "m"),
        lambda: rectifier_on_generated_line(34.0, None, "m"),
    ),
    "line3.neutral": (
        lambda: neutral(True, True, "m"),
        lambda: neutral(True, False, "m"),
        lambda: neutral(True, True, "m"),
        lambda: neutral(False, False, "m"),
    ),
    # 1.1 times 250 V is 275 V
    "capacitor.voltage_class": (
        lambda: capacitor_voltage_class(250.0, 450.0, "c"),
        lambda: capacitor_voltage_class(480.0, 450.0, "c"),
        lambda: capacitor_voltage_class(250.0, 275.0, "c"),
        lambda: capacitor_voltage_class(250.0, None, "c"),
    ),
    "capacitor.owned_volts": (
        lambda: owned_capacitor_volts(260.0, 450.0, True, "c"),
        lambda: owned_capacitor_volts(260.0, 250.0, True, "c"),
        lambda: owned_capacitor_volts(260.0, 260.0, True, "c"),
        lambda: owned_capacitor_volts(None, 450.0, True, "c"),
    ),
    "converter.supply_lost": (
        lambda: lines_stay_live(0.0, 0.0, "converter"),
        lambda: lines_stay_live(0.0, 60.0, "converter"),
        lambda: lines_stay_live(50.0, 50.0, "converter"),
        lambda: lines_stay_live(None, None, "converter"),
    ),
    "converter.over_excitation": (
        lambda: over_excitation(1.05, "idler"),
        lambda: over_excitation(1.12, "idler"),
        lambda: over_excitation(1.10, "idler"),
        lambda: over_excitation(None, "idler"),
    ),
    "motor.unbalance": (
        lambda: unbalance(0.03, 0.03, False, "m"),
        lambda: unbalance(0.06, 0.06, False, "m"),
        lambda: unbalance(0.05, 0.05, False, "m"),
        lambda: unbalance(None, None, True, "m"),
    ),
    "machine.wrong_direction": (
        lambda: wrong_direction(True, True, "m"),
        lambda: wrong_direction(True, False, "m"),
        lambda: wrong_direction(True, True, "m"),
        lambda: wrong_direction(False, False, "m"),
    ),
    # nameplate 60 A: 75 A conductors, 75 -> 80 A device, 69 A disconnect
    "nec.455.6": (
        lambda: converter_conductors(85.0, 60.0, "c"),
        lambda: converter_conductors(70.0, 60.0, "c"),
        lambda: converter_conductors(75.0, 60.0, "c"),
        lambda: converter_conductors(70.0, None, "c"),
    ),
    "nec.455.7": (
        lambda: converter_overcurrent(70.0, 60.0, "c"),
        lambda: converter_overcurrent(90.0, 60.0, "c"),
        lambda: converter_overcurrent(80.0, 60.0, "c"),
        lambda: converter_overcurrent(None, 60.0, "c"),
    ),
    "nec.455.8": (
        lambda: converter_disconnect(100.0, 60.0, "c"),
        lambda: converter_disconnect(60.0, 60.0, "c"),
        lambda: converter_disconnect(69.0, 60.0, "c"),
        lambda: converter_disconnect(None, 60.0, "c"),
    ),
    # 5 hp 230 V: 15.2 A; conductors 19 A, inverse-time breaker 38 -> 40 A
    "nec.430.22": (
        lambda: motor_conductors(20.0, 15.2, "c"),
        lambda: motor_conductors(18.0, 15.2, "c"),
        lambda: motor_conductors(19.0, 15.2, "c"),
        lambda: motor_conductors(None, 15.2, "c"),
    ),
    "nec.430.52": (
        lambda: motor_overcurrent(30.0, 15.2, "inverse_time", "c"),
        lambda: motor_overcurrent(45.0, 15.2, "inverse_time", "c"),
        lambda: motor_overcurrent(40.0, 15.2, "inverse_time", "c"),
        lambda: motor_overcurrent(40.0, None, "inverse_time", "c"),
    ),
    "start.starts_per_hour": (
        lambda: starts_per_hour(6.0, 20.0, 40.0, "its windings", "m"),
        lambda: starts_per_hour(50.0, 20.0, 40.0, "its windings", "m"),
        lambda: starts_per_hour(20.0, 20.0, 40.0, "its windings", "m"),
        lambda: starts_per_hour(6.0, None, None, "its windings", "m"),
    ),
    "start.winding_heat": (
        lambda: winding_heat(180.0, 225.0, "m"),
        lambda: winding_heat(240.0, 225.0, "m"),
        lambda: winding_heat(225.0, 225.0, "m"),
        lambda: winding_heat(240.0, None, "m"),
    ),
    # a ramp of 4 s against coasting for so long
    "stop.emergency_category": (
        lambda: emergency_category(1, 30.0, 4.0, "m"),
        lambda: emergency_category(0, 30.0, 4.0, "m"),
        lambda: emergency_category(0, 4.0, 4.0, "m"),
        lambda: emergency_category(None, 30.0, 4.0, "m"),
    ),
    "stop.torque_off": (
        lambda: torque_off("contactor", False, 0, "employees", "d"),
        lambda: torque_off("stop_input", True, 2, "employees", "d"),
        lambda: torque_off("torque_off", True, 2, "employees", "d"),
        lambda: torque_off(None, True, 2, "employees", "d"),
    ),
    "stop.isolation": (
        lambda: isolation(True, "d"),
        lambda: isolation(False, "d"),
        lambda: isolation(True, "d"),
        lambda: isolation(None, "d"),
    ),
    "stop.run_down": (
        lambda: run_down(34.0, "employees", True, True, "m"),
        lambda: run_down(34.0, "employees", True, False, "m"),
        lambda: run_down(10.0, "employees", True, False, "m"),
        lambda: run_down(34.0, "owner", True, False, "m"),
    ),
    "stop.threaded_nose": (
        lambda: threaded_nose("threaded", 8.0, 5.0, False, "m"),
        lambda: threaded_nose("threaded", 1.0, 5.0, False, "m"),
        lambda: threaded_nose("threaded", 5.0, 5.0, False, "m"),
        lambda: threaded_nose("locking", 1.0, 5.0, False, "m"),
    ),
    "stop.resistor_ohms": (
        lambda: resistor_ohms(60.0, 45.0, "d"),
        lambda: resistor_ohms(30.0, 45.0, "d"),
        lambda: resistor_ohms(45.0, 45.0, "d"),
        lambda: resistor_ohms(None, 45.0, "d"),
    ),
    "stop.injection_heat": (
        lambda: injection_heat(400.0, 5800.0, "m"),
        lambda: injection_heat(36000.0, 5800.0, "m"),
        lambda: injection_heat(5800.0, 5800.0, "m"),
        lambda: injection_heat(None, 5800.0, "m"),
    ),
    "stop.holds_nothing": (
        lambda: holds_nothing(True, True, "m"),
        lambda: holds_nothing(True, False, "m"),
        lambda: holds_nothing(True, True, "m"),
        lambda: holds_nothing(False, False, "m"),
    ),
    "stop.brake_coil": (
        lambda: brake_coil("spring_electric", "two lines", "m"),
        lambda: brake_coil("spring_electric", "motor terminals", "m"),
        lambda: brake_coil("mechanical", "transformer", "m"),
        lambda: brake_coil("dc_injection", "motor terminals", "m"),
    ),
    # C16: 0.95 x 230 / 160
    "iec.loop_impedance": (
        lambda: loop_impedance(1.0, "C", 16.0, "c"),
        lambda: loop_impedance(1.5, "C", 16.0, "c"),
        lambda: loop_impedance(0.95 * 230.0 / 160.0, "C", 16.0, "c"),
        lambda: loop_impedance(None, "C", 16.0, "c"),
    ),
    "iec.61000_3_2": (
        lambda: class_a(amps(2.2), 10.0, False, "d"),
        lambda: class_a(amps(9.6), 10.0, False, "d"),
        lambda: class_a(amps(2.30, 0.40), 10.0, False, "d"),
        lambda: class_a(amps(9.6), 17.0, False, "d"),
    ),
    # 20 A on a supply of 2400 A: ratio 120, third harmonic 27 % of 20 A
    "iec.61000_3_12": (
        lambda: above_16_a(amps(5.0), 20.0, 2400.0, "d"),
        lambda: above_16_a(amps(5.6), 20.0, 2400.0, "d"),
        lambda: above_16_a(amps(5.4), 20.0, 2400.0, "d"),
        lambda: above_16_a(amps(5.6), 16.0, 2400.0, "d"),
    ),
    # below 15 % of thirds the neutral of three phases is not counted
    "iec.60364_5_52.neutral": (
        lambda: harmonics_in_the_neutral(4.0, 10.0, 0.10, "service"),
        lambda: harmonics_in_the_neutral(16.0, 10.0, 0.55, "service"),
        lambda: harmonics_in_the_neutral(4.5, 10.0, 0.15, "service"),
        lambda: harmonics_in_the_neutral(None, 10.0, 0.55, "service"),
    ),
    # 230 V over root three and a tenth more is 146.07 V
    "emc.volts_to_earth": (
        lambda: filter_volts(120.0, 1.1 * 230.0 / math.sqrt(3.0), "d"),
        lambda: filter_volts(230.0, 1.1 * 230.0 / math.sqrt(3.0), "d"),
        lambda: filter_volts(253.0, 253.0, "d"),
        lambda: filter_volts(None, 146.0, "d"),
    ),
    # earthed through an impedance is as not earthed; a filter that is out is no harm there
    "emc.floating_supply": (
        lambda: filter_on_floating_supply("line_2", True, "d"),
        lambda: filter_on_floating_supply("impedance", True, "d"),
        lambda: filter_on_floating_supply("none", False, "d"),
        lambda: filter_on_floating_supply(None, True, "d"),
    ),
    "emc.filter_stays": (
        lambda: filter_stays("centre", True, True, "d"),
        lambda: filter_stays("line_2", False, True, "d"),
        lambda: filter_stays("none", False, True, "d"),
        lambda: filter_stays("line_2", False, False, "d"),
    ),
    # the limit: C2 is just borne, by a professional's hand
    "iec.61800_3.category": (
        lambda: radio_category("C1", True, False, "d"),
        lambda: radio_category("C3", True, True, "d"),
        lambda: radio_category("C2", True, True, "d"),
        lambda: radio_category("C3", False, False, "d"),
    ),
    "en.50160.distortion": (
        lambda: voltage_distortion(0.05, "service"),
        lambda: voltage_distortion(0.09, "service"),
        lambda: voltage_distortion(0.08, "service"),
        lambda: voltage_distortion(None, "service"),
    ),
    # 30 % of 30 mA
    "leakage.share": (
        lambda: standing_leakage(7.0, 30.0, "service"),
        lambda: standing_leakage(10.5, 30.0, "service"),
        lambda: standing_leakage(9.0, 30.0, "service"),
        lambda: standing_leakage(10.5, None, "service"),
    ),
    "leakage.device_type": (
        lambda: device_type(1, "B", "service"),
        lambda: device_type(1, "AC", "service"),
        lambda: device_type(1, "A", "service"),
        lambda: device_type(0, "AC", "service"),
    ),
    "leakage.earth_conductor": (
        lambda: earth_conductor(7.0, "barn"),
        lambda: earth_conductor(10.5, "barn"),
        lambda: earth_conductor(10.0, "barn"),
        lambda: earth_conductor(None, "barn"),
    ),
}


def called(rule, args):
    *plain, last = args
    return (lambda: rule(*plain, **last)) if isinstance(last, dict) else (lambda: rule(*args))


for id, (judge, *calls) in (IEC | NEC).items():
    CASES[id] = tuple(called(judge, args) for args in calls)


def test_every_registered_rule_stands_here() -> None:
    assert {entry.id for entry in all_rules()} == set(CASES)


@pytest.mark.parametrize("id", CASES)
def test_four_answers(id: str) -> None:
    kept, broken, at_limit, not_applying = (case() for case in CASES[id])
    assert kept.applies
    assert kept.findings == ()
    assert at_limit.applies
    assert at_limit.findings == ()
    assert not not_applying.applies
    assert not_applying.findings == ()
    assert broken.applies
    (finding,) = broken.findings
    assert finding.rule == id
    assert finding.id.startswith(id)
    assert finding.words
    assert finding.source
    assert finding.found is not None
    assert finding.allowed is not None
    assert broken.kept == (finding.severity in ("info", "caution"))


def test_a_limit_from_memory_never_stops_by_itself() -> None:
    sure = {entry.id: entry.status for entry in all_rules()}
    for id, (_, broken, _, _) in CASES.items():
        if sure[id] == "from memory":
            assert broken().findings[0].severity != "stop"
            assert "from memory" in broken().findings[0].source


def test_a_figure_that_is_no_number_is_never_kept() -> None:
    nan = math.nan
    assert service_rating(nan, 60.0).findings
    assert capacitor_voltage_class(250.0, nan, "c").findings
    assert over_excitation(nan, "idler").findings


def test_a_rule_cannot_be_registered_twice_nor_without_words() -> None:
    with pytest.raises(ValueError, match="registered twice"):
        rule("nec.455.6", source="x", status="published", looks_at="circuit")(
            converter_conductors.__wrapped__
        )
    with pytest.raises(ValueError, match="without words"):
        rule("new.rule", source="x", status="published", looks_at="circuit")(lambda: ())


def test_electronics_ask_for_less_unbalance_than_plain_motors() -> None:
    assert unbalance(0.03, 0.03, False, "m").kept
    assert not unbalance(0.03, 0.03, True, "m").kept
    assert unbalance(0.02, 0.02, True, "m").kept


def test_controls_nobody_told_of_are_asked_for_and_none_at_all_is_no_matter() -> None:
    (finding,) = control_on_supply_lines(None, None, "m").findings
    assert finding.severity == "caution"
    assert "lines 1 and 2" in finding.words
    assert not control_on_supply_lines(None, False, "m").applies


def test_drive_grades() -> None:
    assert drive_amps(2.5, 10.0, "m").findings[0].severity == "condition"
    assert drive_amps(1.5, 10.0, "m").findings[0].severity == "stop"
    assert drive_amps(3.0, 10.0, "m").findings == ()


def test_starts_an_hour_that_nobody_told_are_a_caution_only() -> None:
    grades = {
        told: starts_per_hour(50.0, 20.0, 40.0, "its windings", "m", told=told).findings[0].severity
        for told in (True, False)
    }
    assert grades == {True: "condition", False: "caution"}
    assert starts_per_hour(30.0, 20.0, 40.0, "its windings", "m").findings[0].severity == "caution"


def test_high_mains_grades() -> None:
    assert high_mains(1.08, "m").findings[0].severity == "caution"
    assert high_mains(1.11, "m").findings[0].severity == "condition"
    assert high_mains(1.10, "m").findings[0].severity == "caution"


def test_the_worst_harmonic_is_named() -> None:
    # 3rd at 1.17 times its limit, 9th at 2 times its limit
    (finding,) = class_a(amps(2.7, 0.80), 10.0, False, "d").findings
    assert finding.allowed == pytest.approx(0.40)
    assert "2 harmonics" in finding.words


def test_above_16_a_every_limit_is_asked() -> None:
    """Ratio 350: even harmonics 16 % over n, all together 47 %, the high ones weighted 47 %."""
    fault_a = 350.0 * 20.0

    def of(**by_order: float) -> tuple[float, ...]:
        wave = [0.0] * 40
        wave[0] = 20.0
        for name, share in by_order.items():
            wave[int(name[1:]) - 1] = 20.0 * share
        return tuple(wave)

    assert above_16_a(of(h2=0.079, h3=0.40, h5=0.23), 20.0, fault_a, "d").kept
    assert "harmonic 2 " in above_16_a(of(h2=0.085), 20.0, fault_a, "d").findings[0].words
    together = above_16_a(of(h3=0.40, h5=0.235, h7=0.149), 20.0, fault_a, "d").findings[0]
    assert "all harmonics together" in together.words
    assert together.found == pytest.approx(math.hypot(0.40, 0.235, 0.149))
    (high,) = above_16_a(of(h37=0.09), 20.0, fault_a, "d").findings
    assert "high harmonics" in high.words
    assert harmonic_shares(of(h37=0.09), 20.0)["weighted"] == pytest.approx(0.09 * math.sqrt(37))


def test_a_supply_too_soft_for_any_limit_is_told_so() -> None:
    (finding,) = above_16_a(amps(0.1), 20.0, 32.0 * 20.0, "d").findings
    assert "network operator" in finding.words
    assert finding.allowed == 33.0
    stiff = above_16_a(amps(8.1), 20.0, 2000.0 * 20.0, "d")
    assert stiff.kept  # above 350 the last row holds: 41 % of 20 A


def test_a_stiffer_supply_never_asks_for_less_distortion() -> None:
    for third in (4.0, 5.0, 6.0, 8.0):
        found = [
            len(above_16_a(amps(third), 20.0, ratio * 20.0, "d").findings)
            for ratio in (40.0, 66.0, 120.0, 200.0, 250.0, 350.0)
        ]
        assert found == sorted(found, reverse=True)


def test_category_2_keeps_power_and_is_no_emergency_stop() -> None:
    (finding,) = emergency_category(2, None, None, "m").findings
    assert "power stays on" in finding.words
    assert emergency_category(0, None, None, "m").findings == ()
    assert emergency_category(0, None, 4.0, "m").findings  # it never rests by itself


@pytest.mark.parametrize(
    ("by", "certified", "channels", "counts"),
    [
        ("torque_off", True, 2, True), ("torque_off", True, 1, False),
        ("torque_off", False, 2, False), ("stop_input", True, 2, False), ("contactor", False, 0, True),
    ],
)  # fmt: skip
def test_only_a_certified_torque_off_of_two_channels_or_a_contactor_counts(
    by: CutsBy, certified: bool, channels: int, counts: bool
) -> None:
    assert torque_off(by, certified, channels, "employees", "d").kept is counts


def test_who_uses_it_makes_a_condition_of_advice() -> None:
    grades = {
        users: torque_off("stop_input", False, 1, users, "d").findings[0].severity
        for users in (None, "owner", "guests", "employees")
    }
    assert grades == {
        None: "caution", "owner": "caution", "guests": "condition", "employees": "condition"
    }  # fmt: skip


def test_direct_current_on_a_threaded_nose_is_stopped_whatever_the_ramp() -> None:
    assert threaded_nose("threaded", 60.0, 5.0, True, "m").findings[0].severity == "stop"
    assert threaded_nose("threaded", None, 5.0, False, "m").findings == ()  # it coasts


def test_the_neutral_is_sized_by_the_lines_or_by_itself() -> None:
    """Annex E's worked examples (from memory): 39 A in the lines, thirds of 20, 40 and 50 %, 0.86:
    45.3 A; then 3 x 0.4 x 39 A = 46.8 A and 54.4 A; then 58.5 A, of which no factor is asked."""
    for third, carried, told in ((0.2, 23.4, "45.3"), (0.4, 46.8, "54.4"), (0.5, 58.5, "58.5")):
        (finding,) = harmonics_in_the_neutral(carried, 39.0, third, "service").findings
        assert f"chosen for {told} A" in finding.words


@pytest.mark.parametrize(
    ("volts", "feed", "three", "survives"),
    [
        (230.0, "line_2", False, True),  # a drive for one phase on a line and a neutral, TN or TT
        (230.0, "line_2", True, False),  # one for three phases there: one of its lines is earthed
        (240.0, "centre", False, True),  # split phase, 120 V a side
        (240.0, "centre", True, True),
        (230.0, "corner", True, False),
        (400.0, "centre", True, True),  # behind an isolating transformer earthed at its centre
        (400.0, "autotransformer", True, False),  # stepped up from a line and a neutral
    ],
)
def test_which_filter_and_varistor_survive_which_earthing(volts, feed, three, survives) -> None:
    """By the volts each line has to earth, 400 V class for 400 V and 230 V class else."""
    rated = 400.0 if volts > 300.0 else 240.0
    ruling = filter_volts(highest_to_earth_v(volts, feed), borne_to_earth_v(rated, three), "d")
    assert ruling.applies
    assert ruling.kept is survives


@pytest.mark.parametrize("feed", ["impedance", "none"])
def test_nothing_holds_the_lines_to_earth_where_it_is_not_solid(feed) -> None:
    assert highest_to_earth_v(230.0, feed) is None
    assert not filter_on_floating_supply(feed, True, "d").kept
    assert filter_stays(feed, False, True, "d").kept


def test_c2_is_for_professional_hands() -> None:
    (finding,) = radio_category("C2", True, False, "d").findings
    assert finding.severity == "caution"
    assert "C1, or C2 where a professional fits it" in str(finding.allowed)
