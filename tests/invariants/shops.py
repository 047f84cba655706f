"""Arbitrary valid shops: trees of plain data whose quantities can be written in either system.

Every figure drawn here is made up; only that the file is valid is wanted.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st
from ruamel.yaml import YAML, StringIO

from phasewright.files.shop_file import read_text
from phasewright.quantities.codes import LOAD_KINDS
from phasewright.shop.model import Shop

# A foot, a pound and a foot pound-force a second, as the agreements define them.
FOOT_M = 0.3048
HORSEPOWER_W = 550 * 0.3048 * 0.45359237 * 9.80665
POUND_FOOT2_KG_M2 = 0.45359237 * 0.3048**2
OTHER = {"W": ("hp", HORSEPOWER_W), "m": ("ft", FOOT_M), "ohm": ("milliohm", 1e-3),
         "kg m2": ("lb ft2", POUND_FOOT2_KG_M2)}  # fmt: skip


@dataclass(frozen=True)
class Q:
    """A quantity of one or two numbers in an SI unit."""

    unit: str
    numbers: tuple[float, ...]

    def written(self, other: bool) -> str:
        unit, size = OTHER.get(self.unit, (self.unit, 1.0)) if other else (self.unit, 1.0)
        return "/".join(f"{number / size!r}" for number in self.numbers) + f" {unit}"


def q(unit: str, *numbers: float) -> Q:
    return Q(unit, tuple(float(number) for number in numbers))


def plain(tree: Any, other: bool = False) -> Any:
    if isinstance(tree, Q):
        return tree.written(other)
    if isinstance(tree, dict):
        return {key: plain(value, other) for key, value in tree.items()}
    if isinstance(tree, list):
        return [plain(value, other) for value in tree]
    return tree


def text_of(tree: dict[str, Any], *, other: bool = False) -> str:
    stream = StringIO()
    YAML(typ="safe").dump(plain(tree, other), stream)
    return stream.getvalue()


def shop_of(tree: dict[str, Any], *, other: bool = False) -> Shop:
    return read_text(text_of(tree, other=other))


def maybe(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.one_of(st.none(), strategy)


def given_only(tree: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in tree.items() if value is not None}


IEC_W = (120, 250, 370, 550, 750, 1100, 1500, 2200, 3000, 4000)
NEC_HP = (0.25, 0.5, 0.75, 1, 1.5, 2, 3, 5)


@st.composite
def plates(draw: st.DrawFn, region: str) -> dict[str, Any]:
    """Plates of many forms: whole and tidy, bare, of the other frequency, two-speed, fixed."""
    nec = region == "NEC"
    watts = draw(st.sampled_from(NEC_HP)) * HORSEPOWER_W if nec else draw(st.sampled_from(IEC_W))
    low, high = draw(
        st.sampled_from(
            ((230, 460), (208, 416), (230, 460))
            if nec
            else ((230, 400), (220, 380), (400, 690), (230, 400))
        )
    )
    hertz = 60 if nec else 50
    synchronous = draw(st.sampled_from((2, 4, 4, 6)))
    rpm = 120 * hertz / synchronous * draw(st.sampled_from((0.93, 0.95, 0.97)))
    factor = draw(st.sampled_from((0.65, 0.72, 0.8, 0.86)))
    efficiency = 0.62 + 0.05 * min(watts / 750.0, 5.0)
    amps = watts / (3**0.5 * low * factor * efficiency)
    form = draw(st.sampled_from(("whole", "whole", "bare", "power", "amps", "one_volt", "frame")))
    if form == "power":
        return {"power": q("W", watts)}
    if form == "frame" and not nec:
        return {
            "shaft_height": q("m", draw(st.sampled_from((0.071, 0.08, 0.09, 0.1)))),
            "voltage": q("V", low, high),
            "leads": 6,
        }
    plate = {
        "power": q("W", watts),
        "voltage": q("V", low, high),
        "speed": q("rpm", round(rpm)),
        "leads": 9 if nec else 6,
    }
    if form == "bare":
        return plate
    if form == "one_volt":
        return {**plate, "voltage": q("V", draw(st.sampled_from((low, high)))), "leads": 3}
    amps_low, amps_high = float(f"{amps:.3g}"), float(f"{amps * low / high:.3g}")
    plate |= {"current": q("A", amps_low, amps_high), "frequency": q("Hz", hertz)}
    if form == "amps":
        del plate["power"]
        return plate
    return given_only({
        **plate,
        "power_factor": factor,
        "efficiency": draw(maybe(st.just(round(efficiency, 3)))),
        "year": draw(maybe(st.integers(1930, 2020))),
        "starting_current": draw(maybe(st.sampled_from((4.5, 6.0, 7.0)))),
        "starting_torque": draw(maybe(st.sampled_from((1.8, 2.3, 2.8)))),
        "no_load_current": None,
        "winding_resistance": None,
    })  # fmt: skip


@st.composite
def loads(draw: st.DrawFn) -> dict[str, Any]:
    return given_only({
        "kind": draw(st.sampled_from(LOAD_KINDS)),
        "start": draw(st.sampled_from((None, "unloaded", "loaded"))),
        "torque": draw(maybe(st.sampled_from((0.3, 0.6, 0.9, 1.1)))),
        "inertia": draw(maybe(st.sampled_from((0.001, 0.02, 0.3)).map(lambda x: q("kg m2", x)))),
        "duty": draw(maybe(st.sampled_from((0.0, 0.25, 1.0)))),
    })  # fmt: skip


@st.composite
def motors(draw: st.DrawFn, region: str, name: str) -> dict[str, Any]:
    wants = given_only({
        "speed": draw(st.sampled_from((None, None, None, [0.5, 1.2]))),
        "reverse": draw(st.sampled_from((None, True))),
        "soft_start": draw(st.sampled_from((None, True))),
    })  # fmt: skip
    return {"name": name, "plate": draw(plates(region)), "load": draw(loads()), "wants": wants}


@st.composite
def machines(draw: st.DrawFn, region: str, index: int, count: int, most: int) -> dict[str, Any]:
    planned = index > 0 and draw(st.sampled_from((False, False, True)))
    names = [f"Machine {other}" for other in range(count) if other != index]
    return given_only({
        "name": f"Machine {index}",
        "have": "planned" if planned else "owned",
        "chance": draw(st.sampled_from((0.0, 0.3, 0.7, 1.0, None))) if planned else None,
        "year": draw(st.sampled_from((0, 2, 3.5, None))) if planned else None,
        "hours_per_year": draw(maybe(st.sampled_from((0, 20, 150, 900)))),
        "idle_hours_per_year": draw(maybe(st.sampled_from((0, 30, 200)))),
        "connects_by": draw(st.sampled_from((None, "fixed", "plug"))),
        "starter": draw(st.sampled_from((None, "direct", "star_delta", "reversing_drum"))),
        "needs_neutral": draw(st.sampled_from((None, None, True))),
        "wrong_direction_harms": draw(st.sampled_from((None, True))),
        "control": draw(st.sampled_from((None, {"fed_from": "two lines"},
                                         {"fed_from": "three lines", "electronics": True}))),
        "brake": draw(st.sampled_from((None, {"kind": "spring_electric",
                                              "fed_from": "motor terminals"}))),
        "runs_with": draw(st.lists(st.sampled_from(names), unique=True, max_size=2))
        if names else None,
        "motors": [draw(motors(region, f"motor {k}"))
                   for k in range(draw(st.integers(1, most)))],
    })  # fmt: skip


@st.composite
def supplies(draw: st.DrawFn, region: str) -> dict[str, Any]:
    nec = region == "NEC"
    length = draw(maybe(st.sampled_from((8, 25, 60))))
    impedance = draw(st.sampled_from((None, "loop", "fault", "heater")))
    return given_only({
        "kind": "split_phase" if nec else "single_phase",
        "voltage": q("V", 240 if nec else 230),
        "frequency": q("Hz", 60 if nec else 50),
        "country": draw(st.sampled_from((None, "US") if nec else (None, "GB", "DE"))),
        "service_rating": draw(maybe(st.sampled_from((32, 60, 100)).map(lambda x: q("A", x)))),
        "outlet_rating": draw(st.sampled_from((None, None, q("A", 16), q("A", 32)))),
        "measured_voltage": draw(st.sampled_from(
            (None, {"low": q("V", 231), "high": q("V", 246)}))),
        "loop_impedance": q("ohm", draw(st.sampled_from((0.1, 0.35, 0.8))))
        if impedance == "loop" else None,
        "prospective_fault_current": q("A", 900) if impedance == "fault" else None,
        "heater_test": {"unloaded": q("V", 238), "loaded": q("V", 233), "current": q("A", 12)}
        if impedance == "heater" else None,
        "feeder": None if length is None
        else {"length": q("m", length), "conductor": q("mm2", 10)},
        "other_loads": draw(st.lists(st.sampled_from((
            {"name": "lights", "current": q("A", 6)},
            {"name": "charger", "current": q("A", 20), "can_wait": True},
        )), max_size=2, unique_by=lambda load: load["name"])),
    })  # fmt: skip


PARTS = (
    {"kind": "run_capacitor", "capacitance": q("uF", 30), "voltage": q("V", 450), "count": 3},
    {"kind": "idler_motor", "power": q("W", 4000), "voltage": q("V", 230, 400)},
    {"kind": "drive", "input_phases": 1, "voltage": q("V", 230), "current": q("A", 9.6),
     "years_unpowered": 3},
)  # fmt: skip
QUOTES = (
    {"kind": "drive_per_motor", "power": q("W", 2200), "price": 240},
    {"kind": "rotary_converter", "power": q("W", 4000), "price": 900},
    {"kind": "idler_motor", "power": q("W", 3000), "origin": "used", "price": 50},
    {"kind": "utility_service", "price": 8200, "standing_per_year": 260},
)  # fmt: skip


@st.composite
def shops(draw: st.DrawFn, most_machines: int = 4, most_motors: int = 3) -> dict[str, Any]:
    """The tree of a valid shop; see `shop_of` and `text_of`."""
    region = draw(st.sampled_from(("IEC", "IEC", "NEC")))
    count = draw(st.integers(1, most_machines))
    return {
        "phasewright": 1,
        "shop": "Any shop",
        "region": region,
        "supply": draw(supplies(region)),
        "tariff": given_only({"energy": draw(maybe(st.sampled_from((0.0, 0.12, 0.4))))}),
        "machines": [
            draw(machines(region, index, count, most_motors)) for index in range(count)
        ],
        "wishes": given_only({
            "plan_years": draw(maybe(st.sampled_from((1, 4.5, 10, 20)))),
            "discount_rate": draw(maybe(st.sampled_from((0.0, 0.04, 0.1)))),
            "stay_years": draw(st.sampled_from((None, None, 3))),
            "labour": draw(st.sampled_from((None, "own", 25))),
            "who_wires": draw(st.sampled_from((None, "own", "electrician"))),
        }),
        "owned_parts": draw(st.lists(st.sampled_from(PARTS), max_size=2,
                                     unique_by=lambda part: part["kind"])),
        "quotes": draw(st.lists(st.sampled_from(QUOTES), max_size=2,
                                unique_by=lambda quote: quote["kind"])),
    }  # fmt: skip
