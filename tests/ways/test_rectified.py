"""Rectifiers of machines on three lines: on one converter, on each shared thing, and counted."""

from __future__ import annotations

import math
from functools import cache

import pytest

from phasewright.electronics.rectifier import Bridge, settle_bridge
from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.machines.performance import at_torque
from phasewright.network.impedance import supply_impedance
from phasewright.network.supply import Source
from phasewright.plan.facts import motors_of
from phasewright.plan.study import Study
from phasewright.plan.units import units_of
from phasewright.quantities.value import exact
from phasewright.running.rectifier import Rectifier
from phasewright.shop.machine import Consumer, Machine
from phasewright.ways.consumers import fed_from_two_lines, rectifies
from phasewright.ways.converter_design import design
from phasewright.ways.converter_serve import serve
from phasewright.ways.electronic_source import ElectronicSource
from phasewright.ways.idlers import Idler
from phasewright.ways.on_two_lines import linked
from phasewright.ways.rectified import (
    draw_on_equal_lines,
    draw_on_two_lines,
    drive_inside,
    in_one,
    on_equal_lines,
    rectifier_of,
)
from phasewright.ways.shared_source import Served
from phasewright.ways.site_of import site_of
from phasewright.ways.turning_on_converter import OnConverter
from phasewright.ways.utility_service import OnService

TOWN = Source(230.0, 0.25, 0.15, 50.0)


def watts(number: float):
    return exact(number, "W", "stated", "test")


def rectifier(power: float = 3000.0, **given: object) -> Consumer:
    return Consumer(kind="rectifier", power=watts(power), phases=3, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("consumer", "is_one"),
    [
        (rectifier(), True),
        (Consumer(kind="electronics", power=watts(500.0), phases=3), True),
        (Consumer(kind="electronics", power=watts(500.0), phases=1), False),
        (Consumer(kind="rectifier", power=watts(500.0)), False),
        (rectifier(split=True), False),
        (Consumer(kind="heater", power=watts(9000.0), phases=3), False),
    ],
)
def test_what_counts_as_a_rectifier_on_three_lines(consumer: Consumer, is_one: bool) -> None:
    assert rectifies(consumer) is is_one


def test_amps_without_watts_are_taken_as_watts() -> None:
    supply = Consumer(kind="rectifier", current=exact(10.0, "A", "stated", "test"), phases=3)
    machine = Machine(name="Sinker", motors=(), others=(supply, rectifier(1000.0)))
    found = rectifier_of(machine, 230.0)
    assert found is not None
    assert found.link_power_w == pytest.approx(math.sqrt(3.0) * 230.0 * 10.0 + 1000.0)
    assert rectifier_of(Machine(name="Sinker", motors=()), 230.0) is None


def test_neither_watts_nor_amps_is_told_and_counts_nothing() -> None:
    unknown = Consumer(kind="rectifier", phases=3)
    assert rectifier_of(Machine(name="Sinker", motors=(), others=(unknown,)), 230.0) is None
    fed = fed_from_two_lines(unknown, "Sinker/rectifier 1", "machines[0].others[0]", 230.0)
    assert [each.rule for each in fed.findings] == ["consumer.unknown"]


def test_a_rectifier_for_other_volts_is_told() -> None:
    made_for = rectifier(voltage=exact(400.0, "V", "stated", "test"))
    fed = fed_from_two_lines(made_for, "Sinker/rectifier 1", "machines[0].others[0]", 230.0)
    assert [each.rule for each in fed.findings] == ["consumer.rectifier", "consumer.volts"]


def test_several_on_the_same_lines_are_one() -> None:
    assert in_one((None, Rectifier(1.0, 2.0), Rectifier(3.0, 4.0))) == Rectifier(4.0, 6.0)
    assert in_one((None,)) is None


def test_the_draw_from_two_lines_is_that_of_the_single_phase_bridge() -> None:
    draw = draw_on_two_lines(TOWN, Rectifier(3000.0, 1.2e-3))
    alone = settle_bridge(Bridge(TOWN, 1.2e-3, 3000.0))
    assert draw is not None
    assert draw.power_w == pytest.approx(alone.input_power_w, rel=0.03)
    assert draw.current_a(alone.service_voltage_v) == pytest.approx(alone.current_a, rel=1e-6)
    assert draw_on_two_lines(TOWN, Rectifier(60_000.0, 1e-2)) is None


def test_the_draw_from_three_equal_lines_is_even() -> None:
    of = Rectifier(3000.0, 1.2e-3)
    draw, state = draw_on_equal_lines(TOWN, 230.0, of), on_equal_lines(TOWN, 230.0, of)
    assert draw is not None
    assert (draw.balanced_w, draw.balanced_var) == (draw.power_w, draw.reactive_var)
    assert draw.power_w == pytest.approx(state.input_power_w, rel=0.01)
    # amps at the volts that are left behind the supply's impedance
    volts = abs(state.pair_volts_v[0])
    assert draw.current_a(volts) == pytest.approx(state.line_currents_a[0], rel=1e-3)
    assert draw_on_equal_lines(TOWN, 230.0, Rectifier(200_000.0, 1e-2)) is None


SHOP = """\
phasewright: 1
shop: Sinker and drill
region: IEC
supply: {{kind: single_phase, country: GB, voltage: 230 V, frequency: 50 Hz, service_rating: {fuse},
         loop_impedance: {ohm} ohm}}
machines:
  - name: Sinker
    {extra}
    motors:
      - name: pump
        plate: {{power: 1.1 kW, voltage: 230/400 V, frequency: 50 Hz, speed: 1420 rpm, leads: 6}}
        load: {{kind: coolant_pump}}
"""


def text(power_kw: float, fuse: str = "100 A", ohm: float = 0.3, more: str = "") -> str:
    others = f"others: [{{kind: rectifier, power: {power_kw} kW, phases: 3}}]" if power_kw else ""
    extra = more + ("\n    " if more and others else "") + others
    return SHOP.format(fuse=fuse, ohm=ohm, extra=extra)


def tasks(power_kw: float, **given: object):
    of = read_text(text(power_kw, **given))  # type: ignore[arg-type]
    site = site_of(of, supply_impedance(of.supply, of.region))
    units = units_of(of, {motor.id: motor for motor in motors_of(of)})
    return units[0].task, site


@cache
def on_one_converter(power_kw: float, ohm: float = 0.3, idler_w: float = 4000.0):
    task, site = tasks(power_kw, ohm=ohm)
    motor = linked(task.motor)
    of = design(site.source, (Idler(idler_w),), ((motor.connected(0.8),),))
    return serve(task, site, of), OnConverter(site.source, of.converter)((task,))


def test_a_rectifier_beside_the_motor_lowers_and_parts_its_lines() -> None:
    bare, _ = on_one_converter(0.0)
    found = [on_one_converter(kw)[0] for kw in (1.0, 3.0, 5.0)]
    assert all(isinstance(each, Served) for each in (bare, *found))
    nemas = [each.figures.unbalance.loaded.nema for each in (bare, *found)]
    assert max(nemas) == nemas[-1] > nemas[0]
    thirds = [sum(each.figures.line_voltages_v.loaded[1:]) for each in (bare, *found)]
    assert max(thirds) == thirds[0]
    shares = [each.figures.rectifier.pair_shares[0] for each in found]
    assert shares == sorted(shares)
    amps = [each.figures.input_current_a.expected.number for each in (bare, *found)]
    assert amps == sorted(amps)
    assert bare.service == found[0].service  # energy and start of the motor are its own


def test_a_rectifier_that_pulls_the_lines_too_far_apart_is_refused_for_that() -> None:
    """On a soft supply lines 1 and 2 sag and line 3 with them, above 5 % NEMA."""
    bare, _ = on_one_converter(0.0, 0.7, 3000.0)
    assert isinstance(bare, Served)
    refused, turning = on_one_converter(3.0, 0.7, 3000.0)
    assert [each.code for each in refused] == ["rectifier_unbalances"]
    assert "lines 1 and 2 where its maker allows it" in refused[0].words
    assert turning is not None
    assert turning.lines.nema > 0.05


def test_what_the_supply_cannot_give_is_refused_in_words() -> None:
    refused, turning = on_one_converter(40.0, 1.2)
    assert [each.code for each in refused] == ["rectifier_not_served"]
    assert turning is None


def test_the_converter_counts_a_machine_s_rectifier_once_on_the_supply() -> None:
    _, bare = on_one_converter(0.0)
    served, with_it = on_one_converter(3.0)
    more_w = with_it.draw.power_w - bare.draw.power_w
    assert more_w == pytest.approx(served.figures.rectifier.power_w.number, rel=0.05)
    assert with_it.draw.distortion_a > 0.0
    taken = served.figures.input_current_a.expected.number
    assert with_it.draw.current_a(with_it.lines.line_voltages_v[0]) == pytest.approx(
        taken, rel=0.03
    )


def test_every_shared_thing_counts_it() -> None:
    plain, loaded = tasks(0.0)[0], tasks(2.0)[0]
    for shared in (OnService(400.0, TOWN), ElectronicSource(TOWN, 7500.0)):
        bare, with_it = shared((plain,)), shared((loaded,))
        assert bare is not None
        assert with_it is not None
        assert 1980.0 < with_it.draw.power_w - bare.draw.power_w < 2300.0
    small = ElectronicSource(TOWN, 2200.0)
    assert small((plain,)).stands
    assert not small((tasks(6.0)[0],)).stands


def test_a_drive_inside_takes_shaft_watts_and_the_losses_of_motor_and_drive() -> None:
    task, _ = tasks(0.0, more="starter: drive_inside")
    motor = linked(task.motor)
    point = at_torque(motor.circuit, motor.rated_nm)
    taken = drive_inside(motor, 1.0).link_power_w
    assert point.input_power_w < taken < 1.25 * point.input_power_w
    assert 0.0 < drive_inside(motor, 0.0).link_power_w < 0.4 * taken


def test_the_converter_runs_a_drive_inside_without_the_motor_s_own_currents() -> None:
    task, site = tasks(0.0, more="starter: drive_inside")
    of = design(site.source, (Idler(2200.0),), ())
    served, turning = serve(task, site, of), OnConverter(site.source, of.converter)((task,))
    assert isinstance(served, Served)
    assert turning is not None
    assert [each.name for each in turning.lines.machines] == ["idler"]
    assert served.figures.rectifier is not None
    taken = turning.draw.power_w - of.idle.supply_power_w
    assert taken == pytest.approx(served.figures.rectifier.power_w.number, rel=0.1)


def answered(power_kw: float, fuse: str) -> Study:
    return study(read_text(text(power_kw, fuse)), quick=True)


def test_a_plan_finds_what_the_rectifier_does_and_has_room_for_it() -> None:
    whole = answered(4.0, "100 A").to_dict()
    on_converter = next(each for each in whole["plans"] if each["id"].startswith("rotary"))
    rules = {each["rule"] for each in whole["findings"] if each["id"] in on_converter["findings"]}
    assert "line3.rectifier" in rules
    case = on_converter["cases"][0]
    assert case["supply_power_w"] > 4000.0
    alone = next(each for each in whole["plans"] if each["id"].startswith("none"))
    assert alone["cases"][0]["supply_power_w"] > 4000.0


def test_a_rectifier_without_room_leaves_a_service_whose_phases_share_it_or_a_source_of_its_own() -> (
    None
):
    """8 kW are some 12 A of each 400 V line, and more than 25 A from one phase."""

    def feasible(power_kw: float) -> set[str]:
        plans = answered(power_kw, "25 A").plans
        return {plan.id.partition("-")[0] for plan in plans if plan.feasible}

    assert {"none", "rotary_converter"} <= feasible(0.0)
    assert "utility_service" in feasible(8.0)
    assert not {"none", "rotary_converter", "shared_drive"} & feasible(8.0)


def test_a_motor_behind_its_own_drive_has_no_relay_to_set() -> None:
    whole = study(read_text(text(0.0, more="starter: drive_inside")), quick=True).to_dict()
    on_converter = next(each for each in whole["plans"] if each["id"].startswith("rotary"))
    assert "overload_setting_a" not in on_converter["motors"][0]
    assert "rectifier" in on_converter["motors"][0]["figures"]
