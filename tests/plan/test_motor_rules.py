"""What the rules say of a plan's motors follows their volts, their unbalance and their relays."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from phasewright.plan.motor_rules import _motor
from phasewright.quantities.value import exact
from phasewright.shop.plate import Plate


def value(number: float, unit: str):
    return exact(number, unit, "assumed", "invented")


def case(volts: tuple[float, float, float], nema: float, vuf: float = 0.009):
    return SimpleNamespace(
        running=("M/m",),
        line_voltages_v=tuple(value(v, "V") for v in volts),
        line_currents_a=(SimpleNamespace(motor="M/m"),),
        unbalance=SimpleNamespace(nema=value(nema, ""), vuf=value(vuf, "")),
    )


def found(
    *cases,
    setting: float | None = 8.0,
    way="rotary_converter",
    nec: bool = False,
    load: float = 0.7,
    usable_w: float | None = None,
) -> dict[str, str]:
    of = SimpleNamespace(
        overload_setting_a=None if setting is None else value(setting, "A"), way=way,
        figures=SimpleNamespace(
            drive_rating_a=None,
            usable_power_w=None if usable_w is None else value(usable_w, "W"),
        ),
    )  # fmt: skip
    machine = SimpleNamespace(
        power_w=value(2200.0, "W"), full_load_current_a=value(8.0, "A"), plate=Plate(),
        load=SimpleNamespace(running_torque=value(load, "")),
    )  # fmt: skip
    unit = SimpleNamespace(id="M/m", motor=machine)
    served = SimpleNamespace(link=SimpleNamespace(line_voltage_v=230.0))
    findings = _motor(SimpleNamespace(cases=cases), of, unit, served, nec=nec)
    return {each.rule: each.severity for each in findings}


def test_a_motor_on_good_lines_behind_its_relay_has_nothing_against_it() -> None:
    assert found(case((231.0, 228.0, 235.0), 0.015)) == {}
    assert found() == {}


@pytest.mark.parametrize("volts", [(200.0, 230.0, 231.0), (230.0, 240.0, 255.0)])
def test_volts_beyond_a_tenth_in_any_set_are_found(volts) -> None:
    good = case((231.0, 228.0, 235.0), 0.01)
    assert found(good, case(volts, 0.01)) == {"iec.60204_1.4_3_2": "condition"}


def test_unequal_lines_allow_less_load() -> None:
    # 4 % between the lines: 0.82 of its power
    assert found(case((231.0, 228.0, 235.0), 0.04), load=0.8) == {}
    assert found(case((231.0, 228.0, 235.0), 0.04), load=0.9) == {"nema.mg1.12_45": "caution"}


def test_a_motor_without_relay_or_drive_is_found() -> None:
    assert found(setting=None) == {"iec.60204_1.7_3_1": "condition"}
    assert found(setting=None, way="motor_swap") == {}  # its own protector comes with it


def test_more_than_one_per_cent_of_negative_sequence_is_told_and_its_heat_judged() -> None:
    """2 % of negative sequence: of 2200 W the winding bears 1760 W, 80 %."""
    lines = case((231.0, 228.0, 235.0), 0.02, vuf=0.02)
    told = {"iec.60034_1.7_2_1_1": "info"}
    assert found(lines, load=0.8, usable_w=1760.0) == told
    assert found(lines, load=0.85, usable_w=1760.0) == told | {"iec.60034_26.derating": "condition"}
    assert found(lines, load=0.85, usable_w=1760.0, nec=True) == {}
    even = case((231.0, 228.0, 235.0), 0.02, vuf=0.01)
    assert found(even, load=0.85, usable_w=1760.0) == {}
