"""The factors of the units against a units library that knows nothing of ours."""

import pint
import pytest

from phasewright.quantities.kinds import HORSEPOWER_W, KCMIL_M2, KINDS
from phasewright.quantities.units import parse

UNITS = pint.UnitRegistry()
# our spelling: (its spelling, the SI unit it is compared in)
SAME = {
    "power": {"W": "watt", "kW": "kilowatt", "hp": "horsepower", "PS": "metric_horsepower"},
    "apparent_power": {"VA": "volt*ampere", "kVA": "kilovolt*ampere"},
    "voltage": {"V": "volt", "kV": "kilovolt", "mV": "millivolt"},
    "current": {"A": "ampere", "mA": "milliampere", "kA": "kiloampere"},
    "length": {"m": "metre", "mm": "millimetre", "cm": "centimetre", "km": "kilometre"}
    | {"ft": "foot", "in": "inch", "yd": "yard"},
    "area": {"mm2": "millimetre**2", "kcmil": "1000*circular_mil"},
    "resistance": {"ohm": "ohm", "mohm": "milliohm", "kohm": "kiloohm"} | {"megohm": "megaohm"},
    "capacitance": {"uF": "microfarad", "nF": "nanofarad"},
    "inductance": {"H": "henry", "mH": "millihenry", "uH": "microhenry"},
    "speed": {"rpm": "revolution/minute"},
    "inertia": {"kg m2": "kilogram*metre**2", "kg cm2": "kilogram*centimetre**2"}
    | {"lb ft2": "pound*foot**2"},
    "frequency": {"Hz": "1/second", "kHz": "1000/second"},
    "time": {"s": "second", "ms": "millisecond", "min": "minute", "h": "hour"},
    "energy": {"kWh": "kilowatt*hour", "Wh": "watt*hour"},
}
IN = {"m2": "metre**2", "F": "farad", "H": "henry", "rpm": "revolution/minute", "VA": "watt", "W": "watt"} | {
    "V": "volt", "A": "ampere", "m": "metre", "ohm": "ohm", "kg m2": "kilogram*metre**2",
    "Hz": "1/second", "s": "second", "kWh": "kilowatt*hour",
}  # fmt: skip


@pytest.mark.parametrize(
    ("kind", "ours", "theirs"),
    [(kind, ours, theirs) for kind, units in SAME.items() for ours, theirs in units.items()],
)
def test_the_factor_is_theirs(kind, ours, theirs):
    expected = (7.0 * UNITS.parse_expression(theirs)).to(IN[KINDS[kind].si]).magnitude
    assert parse(f"7 {ours}", kind) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("degrees", [-40.0, 0.0, 32.0, 104.0])
def test_fahrenheit_is_theirs(degrees):
    expected = UNITS.Quantity(degrees, "degF").to("degC").magnitude
    assert parse(f"{degrees} °F", "temperature") == pytest.approx(expected, abs=1e-9)


def test_every_factor_of_ours_has_a_second_reading():
    for kind, of in KINDS.items():
        if kind in ("sound", "temperature"):
            continue
        read = {of.units[ours] for ours in SAME[kind]}
        assert set(of.units.values()) == read, kind


def test_the_constants_are_the_known_ones():
    assert pytest.approx(745.699872, abs=1e-6) == HORSEPOWER_W
    assert pytest.approx(0.5067075e-6, rel=1e-7) == KCMIL_M2
