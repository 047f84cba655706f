"""The kinds of quantity the house knows: their units, their SI unit and what is credible."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi
from typing import Final

from phasewright.quantities.codes import Quantity

# The yard and the pound: International Yard and Pound Agreement 1959, exact.
INCH_M: Final = 0.0254
FOOT_M: Final = 0.3048
POUND_KG: Final = 0.45359237
# Standard gravity, exact: 3rd General Conference on Weights and Measures, 1901.
GRAVITY_M_S2: Final = 9.80665
# One mechanical horsepower is 550 foot pounds-force a second; one metric horsepower 75 kgf m/s.
HORSEPOWER_W: Final = 550 * FOOT_M * POUND_KG * GRAVITY_M_S2
METRIC_HORSEPOWER_W: Final = 75 * GRAVITY_M_S2
POUND_FOOT2_KG_M2: Final = POUND_KG * FOOT_M**2
# A circular mil is the area of a circle of one thousandth of an inch.
KCMIL_M2: Final = 1000 * pi / 4 * (INCH_M / 1000) ** 2


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of quantity. `units` maps what may be typed to the factor into `si`.

    `printed` are the units figures are shown in, from small to large; `written` those a shop
    file is written in, the metric ones first.
    """

    words: str
    si: str
    example: str
    units: dict[str, float]
    low: float
    high: float
    printed: tuple[str, ...]
    written: tuple[str, ...]


def _spelt(factor: float, *spellings: str) -> dict[str, float]:
    return dict.fromkeys(spellings, factor)


KINDS: Final[dict[Quantity, Kind]] = {
    "power": Kind(
        "a power", "W", "2.2 kW",
        _spelt(1.0, "W", "w", "watt", "watts", "Watt", "Watts")
        | _spelt(1e3, "kW", "KW", "kw", "Kw")
        | _spelt(HORSEPOWER_W, "hp", "HP", "Hp", "h.p.", "H.P.")
        | _spelt(METRIC_HORSEPOWER_W, "PS", "cv", "CV", "ch"),
        0.01, 1e7, ("W", "kW"), ("kW", "W", "PS", "hp"),
    ),
    "apparent_power": Kind(
        "an apparent power", "VA", "25 kVA",
        _spelt(1.0, "VA", "va") | _spelt(1e3, "kVA", "KVA", "kva"),
        0.01, 1e8, ("VA", "kVA"), ("kVA", "VA"),
    ),
    "voltage": Kind(
        "a voltage", "V", "230 V",
        _spelt(1.0, "V", "v", "volt", "volts", "VAC", "Vac")
        | _spelt(1e3, "kV", "KV") | _spelt(1e-3, "mV"),
        1e-6, 1e5, ("V",), ("V", "kV"),
    ),
    "current": Kind(
        "a current", "A", "14.5 A",
        _spelt(1.0, "A", "a", "amp", "amps", "Amp", "Amps")
        | _spelt(1e-3, "mA") | _spelt(1e3, "kA"),
        1e-6, 1e6, ("mA", "A", "kA"), ("A", "mA"),
    ),
    "length": Kind(
        "a length", "m", "25 m",
        _spelt(1.0, "m", "metre", "metres", "meter", "meters")
        | _spelt(1e-3, "mm") | _spelt(1e-2, "cm") | _spelt(1e3, "km")
        | _spelt(FOOT_M, "ft", "foot", "feet") | _spelt(INCH_M, "in", "inch", "inches")
        | _spelt(3 * FOOT_M, "yd", "yard", "yards"),
        0.0, 1e6, ("mm", "m"), ("m", "mm", "in", "ft"),
    ),
    "area": Kind(
        "a conductor size", "m2", "10 mm2' or '8 AWG",
        _spelt(1e-6, "mm2", "mm²", "mm^2") | _spelt(KCMIL_M2, "kcmil", "MCM"),
        1e-9, 1e-2, ("mm2",), ("mm2", "kcmil"),
    ),
    "resistance": Kind(
        "a resistance", "ohm", "0.35 ohm",
        _spelt(1.0, "ohm", "ohms", "Ohm", "Ohms", "Ω")
        | _spelt(1e-3, "milliohm", "milliohms", "mohm", "mohms", "mΩ")
        | _spelt(1e3, "kohm", "kΩ") | _spelt(1e6, "Mohm", "MΩ", "megohm", "megohms"),
        1e-6, 1e9, ("milliohm", "ohm", "kohm"), ("ohm", "milliohm"),
    ),
    "capacitance": Kind(
        "a capacitance", "F", "30 uF",
        _spelt(1e-6, "uF", "µF", "MFD", "mfd", "microfarad", "microfarads")
        | _spelt(1e-9, "nF"),
        1e-12, 1.0, ("uF",), ("uF", "nF"),
    ),
    "inductance": Kind(
        "an inductance", "H", "3.1 mH",
        _spelt(1e-3, "mH") | _spelt(1.0, "H") | _spelt(1e-6, "uH", "µH"),
        1e-9, 1e3, ("mH",), ("mH", "H"),
    ),
    "speed": Kind(
        "a speed", "rpm", "1430 rpm",
        _spelt(1.0, "rpm", "RPM", "r/min", "rev/min", "min-1", "1/min", "/min"),
        0.1, 1e6, ("rpm",), ("rpm",),
    ),
    "inertia": Kind(
        "a moment of inertia", "kg m2", "0.15 kg m2",
        _spelt(1.0, "kg m2", "kg m²", "kgm2", "kgm²", "kg m^2")
        | _spelt(1e-4, "kg cm2", "kg cm²", "kgcm2", "kgcm²")
        | _spelt(POUND_FOOT2_KG_M2, "lb ft2", "lb ft²", "lbft2", "lbft²", "lb ft^2"),
        0.0, 1e6, ("kg m2",), ("kg m2", "lb ft2"),
    ),
    "temperature": Kind(
        "a temperature", "°C", "30 °C",
        _spelt(1.0, "°C", "degC", "C") | _spelt(1.0, "K") | _spelt(5 / 9, "°F", "degF", "F"),
        -273.15, 2000.0, ("°C",), ("°C", "°F"),
    ),
    "frequency": Kind(
        "a frequency", "Hz", "50 Hz",
        _spelt(1.0, "Hz", "hz", "HZ", "c/s") | _spelt(1e3, "kHz"),
        0.01, 1e6, ("Hz", "kHz"), ("Hz",),
    ),
    "time": Kind(
        "a time", "s", "4 s",
        _spelt(1.0, "s", "sec", "second", "seconds") | _spelt(1e-3, "ms")
        | _spelt(60.0, "min", "minute", "minutes") | _spelt(3600.0, "h", "hour", "hours"),
        0.0, 1e7, ("ms", "s"), ("s", "min", "h"),
    ),
    "sound": Kind(
        "a sound level", "dB(A)", "45 dB(A)",
        _spelt(1.0, "dB(A)", "dB", "dBA", "db"),
        0.0, 200.0, ("dB(A)",), ("dB",),
    ),
    "energy": Kind(
        "an energy", "kWh", "10 kWh",
        _spelt(1.0, "kWh", "kwh", "KWh", "KWH", "kW h") | _spelt(1e-3, "Wh", "W h"),
        1e-3, 1e6, ("kWh",), ("kWh",),
    ),
}  # fmt: skip

# What is added after the factor, for the units whose zero is not the SI unit's.
OFFSETS: Final[dict[str, float]] = {
    "K": -273.15,
    "°F": -32 * 5 / 9,
    "degF": -32 * 5 / 9,
    "F": -32 * 5 / 9,
}

# The American wire gauge: number n has the diameter 0.005 inch times 92^((36 - n) / 39)
# (ASTM B258, from memory); 1/0 to 4/0 are the numbers 0 to -3.
AWG_NUMBERS: Final = {"4/0": -3, "3/0": -2, "2/0": -1, "1/0": 0} | {
    str(number): number for number in range(1, 41)
}


def gauge_area_m2(number: int) -> float:
    """Area of a solid round wire of the American wire gauge, in m2."""
    diameter_m = 0.005 * INCH_M * 92.0 ** ((36 - number) / 39)
    return float(pi / 4 * diameter_m**2)
