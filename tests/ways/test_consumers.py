"""Consumers of a machine that are no motors: what they take from two lines, by hand sums."""

from __future__ import annotations

import math

import pytest

from phasewright.files.shop_file import read_text
from phasewright.job.study import study
from phasewright.plan.study import Study
from phasewright.quantities.value import exact
from phasewright.shop.machine import Consumer
from phasewright.ways.consumers import fed_from_two_lines


def heater(**given: object) -> Consumer:
    return Consumer(kind="heater", **given)  # type: ignore[arg-type]


def stated(number: float, unit: str) -> object:
    return exact(number, unit, "stated", "test")


def test_a_split_oven_takes_its_three_parts_from_two_lines() -> None:
    # 9 kW on 400 V in star: three parts of 3 kW at 400/sqrt 3 V; on 230 V nearly the same power
    oven = heater(power=stated(9000.0, "W"), phases=3, voltage=stated(400.0, "V"), split=True)
    fed = fed_from_two_lines(oven, "Oven/heater 1", "machines[0].others[0]", 230.0)
    assert fed.current_a is not None
    power = 9000.0 * (230.0 / (400.0 / math.sqrt(3.0))) ** 2
    assert fed.current_a.number == pytest.approx(power / 230.0)
    assert fed.draw.power_w == pytest.approx(power)
    assert fed.findings == ()


def test_an_oven_that_cannot_be_split_is_refused_in_words() -> None:
    oven = heater(power=stated(9000.0, "W"), phases=3, voltage=stated(400.0, "V"))
    fed = fed_from_two_lines(oven, "Oven/heater 1", "machines[0].others[0]", 230.0)
    assert fed.current_a is None
    assert [each.severity for each in fed.findings] == ["stop"]
    assert fed.findings[0].remedy is not None
    assert fed.findings[0].remedy.path == "machines[0].others[0].split"


def test_a_lamp_for_other_volts_is_told() -> None:
    lamp = Consumer(
        kind="lamp", power=exact(40.0, "W", "stated", "test"),
        voltage=exact(24.0, "V", "stated", "test"), phases=1,
    )  # fmt: skip
    fed = fed_from_two_lines(lamp, "Lathe/lamp 1", "machines[0].others[0]", 230.0)
    assert [each.rule for each in fed.findings] == ["consumer.volts"]


def test_nothing_known_is_a_caution_and_counts_nothing() -> None:
    fed = fed_from_two_lines(heater(), "Kiln/heater 1", "machines[0].others[0]", 230.0)
    assert fed.current_a is None
    assert fed.draw.power_w == 0.0
    assert [each.severity for each in fed.findings] == ["caution"]


SHOP = """\
phasewright: 1
shop: Oven and mixer
region: IEC
supply: {{kind: single_phase, voltage: 230 V, frequency: 50 Hz, service_rating: {fuse}}}
machines:
  - name: Mixer
    {others}
    motors:
      - name: bowl
        plate: {{power: 0.75 kW, voltage: 230/400 V, current: 3.3/1.9 A, frequency: 50 Hz,
                speed: 1400 rpm, leads: 6}}
        load: {{kind: mixer}}
"""
OVEN = "others: [{kind: heater, power: 6 kW, phases: 3, voltage: 400 V, split: true}]"


def answered(fuse: str, others: str = "") -> Study:
    return study(read_text(SHOP.format(fuse=fuse, others=others)), quick=True)


def test_what_hangs_on_a_machine_is_counted_on_the_supply_with_it() -> None:
    bare, with_oven = answered("63 A").plans[0], answered("63 A", OVEN).plans[0]
    amps = 6000.0 * (230.0 / (400.0 / math.sqrt(3.0))) ** 2 / 230.0
    more = with_oven.cases[0].supply_current_a.number - bare.cases[0].supply_current_a.number
    assert 0.8 * amps < more <= amps


def test_an_oven_that_leaves_no_room_stops_the_plan() -> None:
    assert answered("20 A").plans[0].feasible
    assert not answered("20 A", OVEN).plans[0].feasible
