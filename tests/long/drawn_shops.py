"""Random valid shops from a seed: the same seed gives the same shop.

Every figure drawn here is made up. Keys and spans are those of the shop file, odd ones on purpose:
the file must be valid, not sensible. What cannot stand together in a file is drawn anew.
"""

from __future__ import annotations

import json
from random import Random
from typing import Any

from phasewright.files.shop_file import read_text
from phasewright.quantities import codes
from phasewright.quantities.errors import ShopFileError
from phasewright.shop.model import Shop

VOLTS = {
    "IEC": ("230/400 V", "230/400 V", "220/380 V", "240/415 V", "400/690 V", "400 V", "230 V"),
    "NEC": ("230/460 V", "230/460 V", "208-230/460 V", "220/440 V", "460 V", "575 V", "230 V"),
}
KW = (0.09, 0.12, 0.18, 0.25, 0.37, 0.55, 0.75, 1.1, 1.5, 2.2, 3, 4, 5.5, 7.5, 11)
HP = (0.25, 0.5, 0.75, 1, 1.5, 2, 3, 5, 7.5, 10)
CODES = {
    name: codes.__dict__[name].__args__
    for name in ("LoadKindName", "MotorKind", "Starter", "BrakeKind", "FedFrom", "Users",
                 "ConsumerKind", "SpindleNose", "OwnSpeedKind", "Earthing", "ResidualType",
                 "Method", "WheelMaterial", "InsulationClass", "StampedConnection")
}  # fmt: skip


class Draw:
    """Draws from one seed."""

    def __init__(self, seed: int) -> None:
        self.of = Random(seed)

    def one(self, *values: Any) -> Any:
        return self.of.choice(values)

    def maybe(self, chance: float, *values: Any) -> Any:
        """One of the values at this chance, otherwise nothing."""
        return self.of.choice(values) if self.of.random() < chance else None

    def listed(self, name: str, chance: float = 1.0) -> Any:
        return self.maybe(chance, *CODES[name])

    def between(self, low: float, high: float) -> float:
        """A number of three digits, even on a scale of ratios."""
        return float(f"{low * (high / low) ** self.of.random():.3g}")


def given(**keys: Any) -> dict[str, Any]:
    return {key: value for key, value in keys.items() if value is not None}


def plate(draw: Draw, region: str) -> dict[str, Any]:
    form = draw.one("whole", "whole", "whole", "bare", "power", "amps", "frame", "single",
                    "two_speed", "odd")  # fmt: skip
    size, unit = (draw.one(*KW), "kW") if region == "IEC" else (draw.one(*HP), "hp")
    watts = size * (1000.0 if unit == "kW" else 745.7)
    hertz = 50 if region == "IEC" else 60
    other = draw.maybe(0.08, 110 - hertz)
    poles = draw.one(2, 4, 4, 4, 6, 8)
    rpm = round(120 * (other or hertz) / poles * draw.one(0.92, 0.94, 0.955, 0.97))
    power = f"{size} {unit}"
    volts = draw.one(*VOLTS[region])
    if form == "power":
        return {"power": power}
    if form == "frame":
        return given(shaft_height=draw.one("63 mm", "71 mm", "80 mm", "90 mm", "100 mm", "112 mm"),
                     voltage=volts, leads=draw.one(6, 9, None),
                     no_load_current=draw.maybe(0.3, "2.1 A"),
                     winding_resistance=draw.maybe(0.3, "5 ohm"),
                     speed=draw.maybe(0.5, f"{rpm} rpm"))  # fmt: skip
    if form == "single":
        return given(power=power, voltage=f"{230 if hertz == 50 else 240} V", phases=draw.one(1, None),
                     capacitor=True, speed=draw.maybe(0.7, f"{rpm} rpm"),
                     current=draw.maybe(0.6, f"{watts / 120:.3g} A"),
                     starting_current=draw.maybe(0.2, 6.0))  # fmt: skip
    if form == "two_speed":
        low = round(120 * hertz / (2 * poles) * 0.94)
        pair, speeds = (size, round(size * draw.one(1.0, 1.3, 1.6), 3)), (low, 2 * low)
        if draw.maybe(0.4, True):
            pair, speeds = pair[::-1], speeds[::-1]
        return given(power=f"{pair[0]}/{pair[1]} {unit}", speed=f"{speeds[0]}/{speeds[1]} rpm",
                     voltage=draw.one("400 V", "415 V", "460 V", "230 V"), leads=6,
                     connection=draw.maybe(0.6, "D/YY", "Y/YY", "YY/D"))  # fmt: skip
    first = float(volts.split("/")[0].split("-")[-1].split()[0])
    factor, efficiency = draw.one(0.62, 0.7, 0.78, 0.84, 0.88), 0.58 + 0.06 * min(watts / 750, 5)
    amps = watts / (3**0.5 * first * factor * efficiency)
    second = float(volts.split("/")[1].split()[0]) if "/" in volts else None
    current = f"{amps:.3g} A" if second is None else f"{amps:.3g}/{amps * first / second:.3g} A"
    bare = given(power=power, voltage=volts, speed=f"{rpm} rpm",
                 leads=draw.one(9 if region == "NEC" else 6, 3, None))  # fmt: skip
    if form == "bare":
        return bare
    if form == "amps":
        return given(current=current, voltage=volts, speed=draw.maybe(0.8, f"{rpm} rpm"))
    whole = {**bare, "current": current, "frequency": f"{other or hertz} Hz"} | given(
        kind=draw.maybe(0.15, *CODES["MotorKind"]),
        power_factor=draw.maybe(0.6, factor),
        efficiency=draw.maybe(0.3, round(efficiency, 3)),
        service_factor=draw.maybe(0.2, 1.15),
        year=draw.maybe(0.4, 1928, 1951, 1968, 1990, 2021),
        starting_current=draw.maybe(0.3, 4.2, 6.0, 7.4),
        starting_torque=draw.maybe(0.3, 1.5, 2.2, 2.9),
        breakdown_torque=draw.maybe(0.2, 2.2, 2.7, 3.2),
        code_letter=draw.maybe(0.2, "G", "J", "L"),
        insulation_class=draw.maybe(0.2, *CODES["InsulationClass"]),
        thermistor=draw.maybe(0.1, True),
        no_load_current=draw.maybe(0.1, f"{0.45 * amps:.3g} A"),
    )
    if form == "odd":
        whole |= given(capacitor=draw.maybe(0.3, True), phases=3,
                       connection=draw.maybe(0.5, *CODES["StampedConnection"]),
                       leads=draw.one(3, 4, 6, 9, 12),
                       current=f"{draw.between(0.6, 1.6) * amps:.3g} A")  # fmt: skip
    return whole


def load(draw: Draw) -> dict[str, Any]:
    inertia = draw.one(None, None, "inertia", "wheel", "run_up")
    return given(
        kind=draw.listed("LoadKindName"),
        start=draw.maybe(0.3, "unloaded", "loaded"),
        torque=draw.maybe(0.3, 0.0, 0.3, 0.7, 1.0, 1.3),
        duty=draw.maybe(0.3, 0.0, 0.2, 0.6, 1.0),
        inertia=f"{draw.between(1e-4, 3.0)} kg m2" if inertia == "inertia" else None,
        run_up=f"{draw.between(0.1, 20)} s" if inertia == "run_up" else None,
        wheel=given(diameter=f"{draw.between(80, 900):.0f} mm", width=f"{draw.between(5, 60):.0f} mm",
                    material=draw.listed("WheelMaterial"), speed=draw.maybe(0.5, "900 rpm"),
                    count=draw.maybe(0.3, 2)) if inertia == "wheel" else None,
    )  # fmt: skip


def motor(draw: Draw, region: str, name: str) -> dict[str, Any]:
    wants = given(
        speed=draw.maybe(0.25, [0.3, 1.0], [0.5, 1.2], [1.0, 1.0], [0.1, 2.5]),
        stop_within=draw.maybe(0.2, "1 s", "4 s", "10 s"),
        reverse=draw.maybe(0.2, True), soft_start=draw.maybe(0.15, True),
    )  # fmt: skip
    return {"name": name, "plate": plate(draw, region), "load": load(draw), "wants": wants}


def consumer(draw: Draw) -> dict[str, Any]:
    power = draw.maybe(0.6, "60 W", "500 W", "3 kW", "9 kW")
    return given(kind=draw.listed("ConsumerKind"), power=power,
                 current=draw.one("0.5 A", "8 A") if power is None else None,
                 phases=draw.maybe(0.6, 1, 3), voltage=draw.maybe(0.5, "230 V", "400 V", "24 V"),
                 split=draw.maybe(0.3, True))  # fmt: skip


def machine(
    draw: Draw, region: str, at: int, count: int, places: list[str], most_motors: int
) -> dict[str, Any]:
    planned = at > 0 and draw.one(False, False, True)
    others = [f"Machine {each}" for each in range(count) if each != at]
    together = draw.of.sample(others, min(len(others), draw.one(0, 0, 1, 2)))
    consumers = [consumer(draw) for _ in range(draw.one(0, 0, 0, 1, 2))]
    motors = [motor(draw, region, f"motor {each}")
              for each in range(min(most_motors, draw.one(1, 1, 1, 1, 1, 2, 3, 0 if consumers else 1)))]  # fmt: skip
    brake = given(kind=draw.listed("BrakeKind"), fed_from=draw.listed("FedFrom", 0.7),
                  coil=draw.maybe(0.4, "24 V", "180 V", "230 V"))  # fmt: skip
    control = given(fed_from=draw.listed("FedFrom", 0.7), voltage=draw.maybe(0.5, "24 V", "110 V"),
                    electronics=draw.maybe(0.3, True), cnc=draw.maybe(0.15, True))  # fmt: skip
    starter = draw.listed("Starter", 0.4)
    if starter in ("star_delta", "drive_inside", "soft_starter"):
        for each in motors:
            each["load"].pop("run_up", None)  # a file tells it only of a motor switched straight on
    return given(
        name=f"Machine {at}",
        have="planned" if planned else "owned",
        chance=draw.maybe(0.8, 0.0, 0.2, 0.6, 1.0) if planned else None,
        year=draw.maybe(0.8, 0, 1, 2.5, 30) if planned else None,
        hours_per_year=draw.maybe(0.7, 0, 5, 150, 900, 4000),
        idle_hours_per_year=draw.maybe(0.4, 0, 30, 400),
        starts_per_hour=draw.maybe(0.3, 0, 1, 20, 200),
        place=draw.maybe(0.6, *places) if places else None,
        connects_by=draw.maybe(0.4, "fixed", "plug"),
        starter=starter,
        brake=brake if draw.maybe(0.25, True) else None,
        own_speeds=draw.maybe(0.2, {"kind": "belts", "steps": 4}, {"kind": "variator"}),
        never_above=draw.maybe(0.15, "1500 rpm", "2900 rpm", "6000 rpm"),
        wrong_direction_harms=draw.maybe(0.3, True, False),
        starts_with=draw.of.sample(others, 1) if others and draw.maybe(0.1, True) else None,
        users=draw.listed("Users", 0.3),
        others=consumers,
        runs_with=together,
        needs_neutral=draw.maybe(0.2, True, False),
        control=control if draw.maybe(0.4, True) else None,
        spindle_nose=draw.listed("SpindleNose", 0.2),
        motors=motors,
    )


def feeder(draw: Draw) -> dict[str, Any]:
    return given(length=f"{draw.between(2, 150)} m",
                 conductor=draw.maybe(0.7, "2.5 mm2", "6 mm2", "16 mm2"),
                 material=draw.maybe(0.2, "aluminium"), method=draw.listed("Method", 0.4))  # fmt: skip


def supply(draw: Draw, region: str) -> dict[str, Any]:
    kind = draw.one(*("single_phase",) * 6, *("split_phase",) * 4, "three_phase", "generator",
                    "inverter")  # fmt: skip
    if region == "NEC" and kind == "single_phase":
        kind = "split_phase"
    volts = {"IEC": draw.one(230, 230, 240, 220), "NEC": draw.one(240, 240, 230, 208)}[region]
    if kind == "three_phase" and draw.maybe(0.5, True):
        volts = 400
    found = draw.one(None, None, "loop", "fault", "heater")
    seen = (round(volts * draw.one(0.94, 0.99, 1.0)), round(volts * draw.one(1.0, 1.04, 1.09)))
    alone = kind in ("generator", "inverter")
    loads = [given(name=f"load {each}", current=f"{draw.between(1, 40)} A",
                   can_wait=draw.maybe(0.4, True), lines=draw.maybe(0.3, "one", "both"),
                   type=draw.maybe(0.5, "heater", "motor", "electronic"))
             for each in range(draw.one(0, 0, 1, 2, 3))]  # fmt: skip
    return given(
        kind=kind, voltage=f"{volts} V", frequency=f"{50 if region == 'IEC' else 60} Hz",
        country=draw.maybe(0.6, *(("GB", "DE", "FR", "AU") if region == "IEC" else ("US", "CA"))),
        earthed=draw.maybe(0.6, "centre", "none", "unknown") if kind == "split_phase"
        else draw.maybe(0.6, "line_2", "none", "unknown"),
        measured_voltage=draw.maybe(0.3, {"low": f"{seen[0]} V", "high": f"{seen[1]} V"}),
        service_rating=draw.maybe(0.8, "16 A", "32 A", "63 A", "100 A", "200 A"),
        contracted_power=draw.maybe(0.2, "3 kVA", "6 kVA", "12 kVA"),
        residual_current=draw.maybe(0.3, given(rating=draw.one("30 mA", "300 mA"),
                                               type=draw.listed("ResidualType", 0.8))),
        surge=given(rating=f"{draw.between(1, 20)} kVA", seconds=draw.maybe(0.7, 1, 5),
                    crest_factor=draw.maybe(0.5, 1.5, 3)) if alone and draw.maybe(0.7, True)
        else None,
        transformer=draw.maybe(0.15, "10 kVA", "50 kVA"),
        earthing=draw.listed("Earthing", 0.4),
        loop_impedance=f"{draw.between(0.05, 2.5)} ohm" if found == "loop" else None,
        prospective_fault_current=f"{draw.between(100, 5000)} A" if found == "fault" else None,
        heater_test={"unloaded": f"{volts} V", "loaded": f"{volts - draw.one(0, 2, 6)} V",
                     "current": draw.one("9 A", "12.5 A")} if found == "heater" else None,
        feeder=feeder(draw) if draw.maybe(0.4, True) else None,
        outlet_rating=draw.maybe(0.15, "13 A", "16 A", "32 A"),
        other_loads=loads,
    )  # fmt: skip


def owned(draw: Draw) -> dict[str, Any]:
    return draw.one(
        {"kind": "run_capacitor", "capacitance": "30 uF", "voltage": draw.one("250 V", "450 V"), "count": 4},
        {"kind": "start_capacitor", "capacitance": "150 uF", "voltage": "300 V"},
        {"kind": "idler_motor", "power": draw.one("1.1 kW", "4 kW", "7.5 kW"), "voltage": "230/400 V"},
        {"kind": "idler_motor", "power": "3 kW", "voltage": "400 V", "leads": 3},
        {"kind": "drive", "input_phases": 1, "voltage": "230 V", "current": "9.6 A", "years_unpowered": 3},
        {"kind": "drive", "input_phases": 3, "power": "4 kW"},
        {"kind": "rotary_converter", "power": "5.5 kW"},
        {"kind": "static_converter", "power": "2.2 kW"},
        {"kind": "electronic_converter", "rating": "6 kVA"},
        {"kind": "transformer", "rating": "5 kVA", "isolating": draw.one(True, False)},
        {"kind": "generator", "rating": "8 kVA"},
        {"kind": "battery_inverter", "power": "5 kW"},
        {"kind": "brake_resistor", "resistance": "100 ohm"},
        {"kind": "contactor"},
    )  # fmt: skip


def quote(draw: Draw, machines: list[str]) -> dict[str, Any]:
    price = draw.one(0, 40, 300, 2500)
    whole = draw.one("machine_replaced", "job_hired_out")
    return draw.one(
        {"kind": "drive_per_motor", "power": "2.2 kW", "price": price},
        {"kind": "shared_drive", "power": "1.5 kW", "price": price},
        {"kind": "rotary_converter", "power": "4 kW", "price": price},
        {"kind": "electronic_converter", "rating": "7 kVA", "price": price},
        {"kind": "step_up_drive", "power": "2.2 kW", "price": price},
        {"kind": "single_phase_motor", "power": "1.1 kW", "price": price},
        {"kind": "rewind", "power": "1.5 kW", "price": price},
        {"kind": "idler_motor", "power": "3 kW", "origin": "used", "price": price},
        {"kind": "utility_service", "price": price, "standing_per_year": draw.one(0, 200)},
        {"kind": "bigger_single_phase_service", "price": price},
        {"kind": whole, "machine": draw.one(*machines), "price": price},
    )


def tree(seed: int, most: int = 6, most_motors: int = 3) -> dict[str, Any]:
    """The keys of a shop file of up to `most` machines; not yet known to be valid."""
    draw = Draw(seed)
    region = draw.one("IEC", "IEC", "NEC")
    places = [given(name=f"place {each}", feeder=feeder(draw), dust=draw.maybe(0.3, True),
                    damp=draw.maybe(0.3, True), electrode=draw.maybe(0.2, "80 ohm"),
                    ambient=draw.maybe(0.3, "5 °C", "45 °C"), users=draw.listed("Users", 0.2),
                    altitude=draw.maybe(0.2, "200 m", "2400 m"))
              for each in range(draw.one(0, 0, 0, 1, 2))]  # fmt: skip
    count = min(most, draw.one(1, 1, 1, 1, 2, 2, 2, 3, 4, 6))
    names = [each["name"] for each in places]
    quiet = given(level=draw.maybe(0.8, "35 dB", "60 dB"), distance=draw.maybe(0.7, "4 m", "40 m"))
    return given(
        phasewright=1, shop=f"Drawn {seed}", region=region,
        currency=draw.maybe(0.5, "EUR", "USD"),
        supply=supply(draw, region),
        tariff=given(energy=draw.maybe(0.7, 0.0, 0.15, 0.45)),
        places=places,
        machines=[machine(draw, region, at, count, names, most_motors) for at in range(count)],
        wishes=given(plan_years=draw.maybe(0.5, 0.5, 4, 10, 25),
                     discount_rate=draw.maybe(0.5, 0.0, 0.04, 0.12),
                     stay_years=draw.maybe(0.3, 0, 3, 15), portable=draw.maybe(0.2, True),
                     labour=draw.maybe(0.5, "own", 0, 35), quiet=draw.maybe(0.3, quiet),
                     who_wires=draw.maybe(0.5, "own", "electrician")),
        owned_parts=[owned(draw) for _ in range(draw.one(0, 0, 1, 2))],
        quotes=[quote(draw, [f"Machine {at}" for at in range(count)])
                for _ in range(draw.one(0, 0, 1, 2))],
    )  # fmt: skip


def drawn(seed: int, most: int = 6, most_motors: int = 3) -> Shop | None:
    """The shop of this seed, or nothing where what was drawn cannot stand in one file."""
    try:
        return read_text(json.dumps(tree(seed, most, most_motors), ensure_ascii=False))
    except ShopFileError:
        return None
