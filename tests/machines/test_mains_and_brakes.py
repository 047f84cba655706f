"""Mains above and below the plate, and coils on the motor's terminals (common practice, no
source; coil volts by the mean of a rectified sine)."""

from __future__ import annotations

from typing import Any

import pytest
from plates import plate, rules

from phasewright.machines.hanging import coil_volts
from phasewright.machines.motor import Motor, motor_of
from phasewright.machines.performance import no_load
from phasewright.quantities.value import exact
from phasewright.shop.machine import Brake, Load, Machine
from phasewright.shop.machine import Motor as ShopMotor

OLD: dict[str, Any] = {
    "power": 2200, "voltage": (220, 380), "current": (9.0, 5.2), "frequency": 50, "speed": 1420,
    "leads": 6,
}  # fmt: skip


def read(
    readings: tuple[float, float] | None,
    volts: float = 230.0,
    facts: dict[str, Any] = OLD,
    brake: Brake | None = None,
) -> Motor:
    of = ShopMotor(name="motor", plate=plate(**facts), load=Load())
    machine = Machine(name="Machine", motors=(of,), brake=brake)
    return motor_of(
        machine, of, supply_voltage_v=volts, frequency_hz=50.0, region="IEC",
        path="machines[0].motors[0]", measured_voltage_v=readings,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("high", "rule", "severity"),
    [(232.0, None, None), (236.0, "mains_high", "caution"), (253.0, "mains_high", "condition")],
)
def test_the_highest_reading_is_judged(high: float, rule: str | None, severity: str | None) -> None:
    """220 V plate: 232 V is 5 % over, 236 V 7 %, 253 V 15 %."""
    of = read((228.0, high))
    found = [f for f in of.findings if f.rule == "mains_high"]
    assert [f.severity for f in found] == ([severity] if rule else [])
    codes = {reason.code for reason in of.link_reasons}
    assert ("mains_high" in codes) == (severity == "caution")
    assert ("mains_high_condition" in codes) == (severity == "condition")


def test_the_idle_current_at_the_highest_reading_comes_from_the_iron() -> None:
    """At 15 % over the plate 30 to 70 % more than at its own volts (common practice)."""
    of = read((228.0, 253.0))
    assert of.circuit is not None
    more = no_load(of.circuit, 253.0).current_a / no_load(of.circuit).current_a
    assert 1.3 < more < 1.8
    words = next(f.words for f in of.findings if f.rule == "mains_high")
    assert f"{no_load(of.circuit, 253.0).current_a:.2g} A" in words
    assert "drive" in words


def test_the_lowest_reading_costs_torque() -> None:
    """230/400 V plate, 205 V in the evening: 0.89 of the volts, 79 % of the torque."""
    facts = OLD | {"voltage": (230, 400), "current": (8.6, 5.0)}
    of = read((205.0, 232.0), facts=facts)
    finding = next(f for f in of.findings if f.rule == "mains_low")
    assert finding.severity == "condition"
    assert "79%" in finding.words


def test_without_readings_or_within_the_range_nothing_is_said() -> None:
    assert not {"mains_high", "mains_low"} & rules(read(None))
    wide = OLD | {"voltage": (220, 250, 380, 440), "current": ()}
    assert not {"mains_high", "mains_low"} & rules(read((221.0, 249.0), facts=wide))


def test_a_coil_for_400_volts_does_not_release_on_230() -> None:
    """180 V direct-current coil: half-wave from 400 V; on 230 V 103 V half-wave, 207 V bridged."""
    assert coil_volts(400.0)["through one diode"] == pytest.approx(180.0, abs=0.2)
    assert coil_volts(230.0)["through one diode"] == pytest.approx(103.5, abs=0.2)
    assert coil_volts(230.0)["through a bridge"] == pytest.approx(207.0, abs=0.2)
    facts = OLD | {"voltage": (230, 400), "current": (8.6, 5.0)}
    coil = exact(180.0, "V", "plate")

    def told(brake: Brake, volts: float = 230.0) -> list[str]:
        of = read(None, volts=volts, facts=facts, brake=brake)
        return [r.words for r in of.link_reasons if r.code == "brake_coil_volts"]

    words = told(Brake(kind="spring_electric", coil=coil, fed_from="motor terminals"))
    assert "400 V" in words[0]
    assert "104 V" in words[0] or "103 V" in words[0]
    assert told(Brake(kind="spring_electric", coil=coil, fed_from="two lines")) == []
    assert told(Brake(kind="spring_electric", coil=coil), volts=400.0) == []
    fits = exact(103.0, "V", "plate")
    assert told(Brake(kind="spring_electric", coil=fits)) == []
    odd = exact(24.0, "V", "plate")
    assert "none of them" in told(Brake(kind="spring_electric", coil=odd))[0]


def test_the_nominal_volts_are_judged_where_nobody_measured() -> None:
    """220/380 V plate on 240 V: 9 % over, told with the idle current; on 230 V nothing."""
    of = read(None, volts=240.0)
    finding = next(f for f in of.findings if f.rule == "mains_high")
    assert finding.severity == "caution"
    assert "reading" not in finding.words
    assert of.circuit is not None
    assert f"{no_load(of.circuit, 240.0).current_a:.2g} A" in finding.words
    assert "mains_high" not in rules(read(None, volts=230.0))
