"""The unit a fact is written in changes no number, over arbitrary quantities."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files.shop_file import read_text

# A foot, a pound and a foot pound-force a second, as the agreements define them.
FOOT_M = 0.3048
HORSEPOWER_W = 550 * 0.3048 * 0.45359237 * 9.80665
POUND_FOOT2_KG_M2 = 0.45359237 * 0.3048**2


def shop(power: str, length: str, impedance: str, inertia: str):
    return read_text(
        "phasewright: 1\nshop: Test\nregion: IEC\n"
        "supply:\n  kind: single_phase\n  voltage: 230 V\n  frequency: 50 Hz\n"
        f"  loop_impedance: {impedance}\n  feeder: {{length: {length}}}\n"
        "machines:\n  - name: A\n    motors:\n      - name: a\n"
        f"        plate: {{power: {power}}}\n        load: {{inertia: {inertia}}}\n"
    )


def numbers(of) -> list[float]:
    motor = of.machines[0].motors[0]
    values = [
        motor.plate.power[0], of.supply.feeder.length, of.supply.loop_impedance, motor.load.inertia
    ]  # fmt: skip
    assert all(value.low == value.number == value.high for value in values)
    return [value.number for value in values]


@settings(deadline=None, max_examples=120)
@given(st.floats(0.01, 300), st.floats(0.1, 1000), st.floats(0.002, 9), st.floats(0.001, 1000))
def test_hp_feet_milliohm_and_pounds_give_the_numbers_of_si(power, length, impedance, inertia):
    metric = shop(f"{power!r} kW", f"{length!r} m", f"{impedance!r} ohm", f"{inertia!r} kg m2")
    other = shop(
        f"{power * 1000 / HORSEPOWER_W!r} hp",
        f"{length / FOOT_M!r} ft",
        f"{impedance * 1000!r} milliohm",
        f"{inertia / POUND_FOOT2_KG_M2!r} lb ft2",
    )
    assert numbers(other) == pytest.approx(numbers(metric), rel=1e-12)
