"""The base shop with one cause changed, by text, and the results of each, computed once."""

import functools
import re
import tempfile
from pathlib import Path

from figures.named_figures import named

import phasewright

BASE = (Path(__file__).parent / "base_shop.yaml").read_text(encoding="utf-8")
PLATE = "power: 2.2 kW\n          voltage: 230/400 V\n          current: 8.6/5.0 A"
QUOTES = "stay the plans to compare\n"
NEAR = QUOTES + "  - {kind: drive_per_motor, power: 2.2 kW, price: 310}\n"
SANDER = "power: 1.5 kW\n          voltage: 230/400 V\n          current: 6.3/3.6 A"

EDITS = {
    "base": [],
    # the supply
    "softer supply": [("loaded: 232.0 V", "loaded: 231.0 V")],
    "higher mains": [("{low: 226 V, high: 242 V}", "{low: 230 V, high: 246 V}")],
    "more beside": [("current: 9 A", "current: 14 A")],
    "larger service": [("service_rating: 63 A", "service_rating: 80 A")],
    "impedance at the intake": [("heater_test: {.*}", "loop_impedance: 0.4 ohm")],
    "and a longer feeder": [
        ("heater_test: {.*}", "loop_impedance: 0.4 ohm"), ("length: 15 m", "length: 30 m"),
    ],
    "all at 60 Hz": [
        ("50 Hz", "60 Hz"), ("speed: 1420", "speed: 1710"), ("speed: 1400", "speed: 1690"),
        ("speed: 1410", "speed: 1700"),
    ],
    # the mill's motor
    "larger motor": [(PLATE, PLATE.replace("2.2 kW", "3 kW").replace("8.6/5.0", "11.7/6.8"))],
    "smaller motor": [(PLATE, PLATE.replace("2.2 kW", "1.5 kW").replace("8.6/5.0", "5.9/3.4"))],
    "more amps": [("current: 8.6/5.0 A", "current: 9.0/5.2 A")],
    "lower plate volts": [(PLATE, PLATE.replace("230/400", "220/380"))],
    "six poles": [("speed: 1420 rpm", "speed: 940 rpm")],
    "starts with more amps": [("starting_current: 5.5", "starting_current: 6.5")],
    "starts with more torque": [("starting_torque: 2.2", "starting_torque: 2.5")],
    "breaks down later": [("breakdown_torque: 2.6", "breakdown_torque: 3.0")],
    "better power factor": [("power_factor: 0.81", "power_factor: 0.85")],
    "odd amps": [("current: 8.6/5.0 A", "current: 8.6/4.2 A")],
    "odder amps": [("current: 8.6/5.0 A", "current: 8.6/3.9 A")],
    "odd amps, other volts": [(PLATE, PLATE.replace("230/400", "230/415").replace("/5.0", "/4.2"))],
    # the sander's
    "smaller sander": [(SANDER, SANDER.replace("1.5 kW", "1.1 kW").replace("6.3/3.6", "4.7/2.7"))],
    "sander of lower volts": [(SANDER, SANDER.replace("230/400", "220/380"))],
    "sander of more amps": [(SANDER, SANDER.replace("6.3/3.6", "6.6/3.8"))],
    # what is asked of the mill
    "harder work": [("torque: 0.7", "torque: 0.8")],
    "hard work without a pause": [("torque: 0.7, duty: 0.6", "torque: 0.9, duty: 1.0")],
    "longer under load": [("duty: 0.6", "duty: 0.8")],
    "started more often": [("starts_per_hour: 4", "starts_per_hour: 9")],
    "a heavier tool": [("duty: 0.6}", "duty: 0.6, inertia: 0.3 kg m2}")],
    "a stop in 1 s": [("duty: 0.6}", "duty: 0.6}\n        wants: {stop_within: 1 s}")],
    "a stop in 0.7 s": [("duty: 0.6}", "duty: 0.6}\n        wants: {stop_within: 0.7 s}")],
    "a stop in 1 s, more often": [
        ("duty: 0.6}", "duty: 0.6}\n        wants: {stop_within: 1 s}"),
        ("starts_per_hour: 4\n    others", "starts_per_hour: 8\n    others"),
    ],
    "a spring brake": [
        ("    hours_per_year: 150",
         "    brake: {kind: spring_electric, fed_from: two lines}\n    hours_per_year: 150"),
    ],
    "a heavy wheel": [("duty: 0.6}", "duty: 0.6, inertia: 8 kg m2}")],
    "a tool that must not race": [
        ("    hours_per_year: 150", "    never_above: 1600 rpm\n    hours_per_year: 150")
    ],
    "more hours": [("hours_per_year: 150", "hours_per_year: 200")],
    "longer idling": [("idle_hours_per_year: 40", "idle_hours_per_year: 60")],
    "brighter lamp": [("current: 0.4 A", "current: 0.8 A")],
    "quiet is wished for": [
        ("  who_wires: own", "  who_wires: own\n  quiet: {level: 45 dB, distance: 10 m}")
    ],
    # money
    "dearer energy": [("energy: 0.25", "energy: 0.35")],
    "dearer fuel": [("{energy: 0.25}", "{energy: 0.25, fuel: 2.0}")],
    "dearer hours": [("labour: 15", "labour: 25")],
    "longer plan": [("plan_years: 10", "plan_years: 12")],
    "higher discount": [("discount_rate: 0.04", "discount_rate: 0.06")],
    "surer machine": [("chance: 0.6", "chance: 0.9")],
    "later machine": [("year: 3", "year: 5")],
    "dear drive": [
        (QUOTES, QUOTES + "  - {kind: drive_per_motor, power: 2.2 kW, price: 900}\n")
    ],
    "dear single-phase motor": [("price: 2100", "price: 2500")],
    "dear idler": [
        (
            QUOTES,
            QUOTES
            + "".join(
                f"  - {{kind: idler_motor, power: {kw} kW, origin: used, price: 110}}\n"
                for kw in (0.75, 1.1, 1.5, 2.2, 3, 4, 5.5)
            ),
        )
    ],
    # drives and converter nearly alike: what is not known may turn the plan
    "near": [(QUOTES, NEAR)],
    "near, dearer energy": [(QUOTES, NEAR), ("energy: 0.25", "energy: 0.27")],
    "near, hours unknown": [(QUOTES, NEAR), ("    hours_per_year: 150\n", "")],
    "near, hours unknown, dearer energy": [
        (QUOTES, NEAR), ("    hours_per_year: 150\n", ""), ("energy: 0.25", "energy: 0.27")
    ],
}  # fmt: skip

TURNING = ("near", "near, dearer energy")


def text_of(case):
    text = BASE
    for old, new in EDITS[case]:
        pattern = old if ".*" in old else re.escape(old)
        text, count = re.subn(pattern, new, text)
        assert count, f"{case}: {old!r} is not in the base shop"
    return text


@functools.cache
def result(case):
    """{named path: (pattern, number)} of the base shop under one case; turning points are looked
    for only where the plans are near."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.shop.yaml"
        path.write_text(text_of(case), encoding="utf-8")
        return named(phasewright.study(phasewright.read(path), quick=case not in TURNING).to_dict())
