"""The base shop with one cause changed, by text, and the results of each, computed once.

`wide: ` before a name is the same change in the wide shop, made from the base shop's text: what the
base shop has not, a motor that stays in star and one of two speeds that stands elsewhere. `small: `
is a third shop's, with a single-phase motor and such as run on capacitors alone.
"""

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

WIDE, SMALL = "wide: ", "small: "
SMALL_SHOP = (Path(__file__).parent / "small_shop.yaml").read_text(encoding="utf-8")
MIXER = """  - name: Mixer
    hours_per_year: 60
    place: shed
    connects_by: plug
    motors:
      - name: bowl
        plate:
          power: 0.75/1.1 kW
          voltage: 400 V
          current: 2.4/2.8 A
          frequency: 50 Hz
          speed: 700/1400 rpm
          leads: 6
          connection: D/YY
        load: {kind: mixer, start: loaded, torque: 0.5}
"""
SHED = "places:\n  - {name: shed, feeder: {length: 20 m, conductor: 6 mm2}}\n"
WIDENING = [
    # the mill's star point is inside it: only its higher volts and lower amps are left
    (r"voltage: 2\d\d/(\d+) V", r"voltage: \1 V"),
    (r"current: [\d.]+/([\d.]+) A", r"current: \1 A"),
    ("leads: 6", "leads: 3"),
    (r"  - name: Pump\n[\s\S]*wishes:", f"{MIXER}wishes:"),
    ("machines:", f"{SHED}machines:"),
]

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
    "a stop in 0.5 s": [("duty: 0.6}", "duty: 0.6}\n        wants: {stop_within: 0.5 s}")],
    "a stop in 1 s, more often": [
        ("duty: 0.6}", "duty: 0.6}\n        wants: {stop_within: 1 s}"),
        ("starts_per_hour: 4\n    others", "starts_per_hour: 8\n    others"),
    ],
    "a spring brake": [
        ("    hours_per_year: 150",
         "    brake: {kind: spring_electric, fed_from: two lines}\n    hours_per_year: 150"),
    ],
    "a heavy wheel": [("duty: 0.6}", "duty: 0.6, inertia: 8 kg m2}")],
    "an old winding": [("starting_torque: 2.2", "starting_torque: 2.2\n          year: 1955")],
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
    "near, longer plan": [(QUOTES, NEAR), ("plan_years: 10", "plan_years: 12")],
    "near, hours unknown": [(QUOTES, NEAR), ("    hours_per_year: 150\n", "")],
    "near, hours unknown, dearer energy": [
        (QUOTES, NEAR), ("    hours_per_year: 150\n", ""), ("energy: 0.25", "energy: 0.27")
    ],
}  # fmt: skip

MIXER_EDITS = {
    "base": [],
    "a longer way": [("length: 20 m", "length: 30 m")],
    "a thicker cable": [("length: 20 m, conductor: 6 mm2", "length: 20 m, conductor: 10 mm2")],
    "a far larger mixer": [
        ("power: 0.75/1.1 kW", "power: 3/4 kW"), ("current: 2.4/2.8 A", "current: 8.4/8.8 A"),
    ],
    "harder mixing": [("loaded, torque: 0.5", "loaded, torque: 0.6")],
    "a bowl that must not race": [
        ("    connects_by: plug", "    never_above: 1500 rpm\n    connects_by: plug")
    ],
    "a saw in its place": [("kind: mixer, start: loaded", "kind: saw, start: unloaded")],
    "a larger mixer": [
        ("power: 0.75/1.1 kW", "power: 1.1/1.5 kW"), ("current: 2.4/2.8 A", "current: 3.4/3.7 A"),
    ],
    "mixer of more amps": [("current: 2.4/2.8 A", "current: 2.6/3.0 A")],
    "mixer of lower volts": [
        ("400 V\n          current: 2.4/2.8 A", "380 V\n          current: 2.4/2.8 A")
    ],
    "mixer of fewer poles": [("speed: 700/1400 rpm", "speed: 1400/2800 rpm")],
    "mixer at 60 Hz": [
        ("50 Hz", "60 Hz"), ("speed: 1420", "speed: 1710"), ("700/1400", "850/1700"),
    ],
}  # fmt: skip
"""Changes of what only the wide shop has, by its own text."""

SMALL_EDITS = {
    "base": [],
    "pump of more amps": [("7.4 A", "8.2 A")],
    "larger pump": [("power: 1.1 kW, voltage: 230 V", "power: 1.5 kW, voltage: 230 V")],
    "larger lathe": [
        ("1.1 kW, voltage: 230/400", "1.5 kW, voltage: 230/400"),
        ("4.7/2.7", "6.2/3.6"),
    ],
    "lathe of higher volts": [("230/400 V", "240/415 V")],
}
"""Changes of the small shop, by its own text."""

TOGETHER = (
    ("larger motor", "harder work"),
    ("larger motor", "a stop in 0.7 s"),
    ("smaller motor", "softer supply"),
    ("all at 60 Hz", "impedance at the intake"),
)
EDITS |= {f"{one}, {other}": EDITS[one] + EDITS[other] for one, other in TOGETHER}

TURNING = ("near", "near, dearer energy", "near, longer plan")


def changed(text, edits, case):
    for old, new in edits:
        text, count = re.subn(old, new, text)
        assert count, f"{case}: {old!r} is not in the shop"
    return text


def exactly(edits):
    return [(old if ".*" in old else re.escape(old), new) for old, new in edits]


def text_of(case):
    if case.startswith(SMALL):
        return changed(SMALL_SHOP, exactly(SMALL_EDITS[case.removeprefix(SMALL)]), case)
    shared = case.removeprefix(WIDE)
    text = changed(BASE, exactly(EDITS.get(shared, [])), case)
    if case.startswith(WIDE):
        text = changed(text, WIDENING, case)
        text = changed(text, exactly(MIXER_EDITS.get(shared, [])), case)
    return text


@functools.cache
def result(case):
    """{named path: (pattern, number)} of the base shop under one case; turning points are looked
    for only where the plans are near."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.shop.yaml"
        path.write_text(text_of(case), encoding="utf-8")
        return named(phasewright.study(phasewright.read(path), quick=case not in TURNING).to_dict())
