"""What every kind of load means for every way, and the spreads of what owners do not know, typed
a second time from the trade's tables: common practice, from memory.
"""

from __future__ import annotations

import pytest

from phasewright.network.impedance import supply_impedance
from phasewright.quantities.codes import LOAD_KINDS
from phasewright.quantities.value import exact
from phasewright.shop.supply import Supply
from phasewright.tables import motors, usage
from phasewright.tables.drives import (
    drive_efficiency,
    leakage_ma,
    motor_loss_factor,
    winding_asks_short_lead,
)
from phasewright.tables.loads import load_kind

# start-only static converter, run capacitor, static with run capacitor, rotary, drive:
# x excluded, c with conditions, - nothing said; >W above so many watts, <=t up to that torque
# serves as it is, L where it starts loaded, *r idler over motor, Hz lowest, =s top speed, ~u VUF
WAYS = """
spindle        c<=0.7        c,x>1500  -  -      -
pump           c<=0.66       c<=0.66   -  -      -
fan            x             c         -  c      -
compressor     x             x         c  c*2    c35Hz
hydraulic_pump c             x         -  -      c25Hz
saw            x>1100        c         -  -      c=1
flywheel       x             x         -  c      c
crusher        x             x         -  c*2    c
conveyor       c,xL          x         -  -      -
mixer          x             x         -  -      c
feed           x             c         -  -      -
coolant_pump   -             -         -  -      c
grinder        c<=0.6        -         -  -      c=1
lift           x             x         x  c*2    c
refrigeration  x             x         x  c~0.02 x
submersible    x             x         x  -      c30Hz
separator      x             x         x  c      c=1
press          x             x         -  c      c
vacuum_pump    x             c         -  -      -
sander         x             c         -  -      -
other          c<=0.6        c         -  -      -
"""
ORDER = ("static_start_only", "capacitor_run", "static_tuned", "rotary_converter",
         "drive_per_motor")  # fmt: skip


def written(limit) -> str:
    """A limit of the table in the letters above."""
    text = "x" if limit.verdict == "refused" else "c"
    text += "L" if limit.loaded else ""
    text += "" if limit.above_w is None else f">{limit.above_w:g}"
    text += "" if limit.torque is None else f"<={limit.torque:g}"
    text += "" if limit.idler_ratio is None else f"*{limit.idler_ratio:g}"
    text += "" if limit.lowest_hz is None else f"{limit.lowest_hz:g}Hz"
    text += "" if limit.speed_max is None else f"={limit.speed_max:g}"
    return text + ("" if limit.unbalance is None else f"~{limit.unbalance:g}")


def test_every_kind_of_load_has_its_row() -> None:
    assert [line.split()[0] for line in WAYS.strip().splitlines()] == list(LOAD_KINDS)


@pytest.mark.parametrize("line", WAYS.strip().splitlines(), ids=lambda line: line.split()[0])
def test_what_a_kind_means_for_every_way(line: str) -> None:
    name, *cells = line.split()
    limits = load_kind(name).ways
    for way, cell in zip(ORDER, cells, strict=True):
        said = ",".join(written(limit) for limit in limits if limit.way == way)
        assert said == ("" if cell == "-" else cell), way
    assert {limit.way for limit in limits} <= set(ORDER)
    assert all(limit.why for limit in limits)


def test_a_limit_of_loaded_starts_holds_for_those_only() -> None:
    of = load_kind("conveyor")
    assert [limit.verdict for limit in of.limits(ORDER[0], 1000.0)] == ["with_conditions"]
    loaded = of.limits(ORDER[0], 1000.0, loaded=True)
    assert [limit.verdict for limit in loaded] == ["with_conditions", "refused"]


# default of a 2.2 kW motor of four poles: low and high over it
SPREADS = [
    (motors.default_slip, 0.7, 1.4),
    (motors.default_starting_current_ratio, 0.80, 1.25),
    (motors.default_no_load_current_ratio, 0.85, 1.15),
    (motors.default_inertia_kg_m2, 0.6, 1.8),
    (motors.default_friction_ratio, 0.5, 2.0),
    (motors.default_winding_ohm, 0.7, 1.3),
]


@pytest.mark.parametrize(("default", "low", "high"), SPREADS)
def test_spreads_of_motor_defaults(default, low: float, high: float) -> None:
    of = default(2200.0)
    assert (of.low, of.high) == pytest.approx((of.number * low, of.number * high))


def test_spreads_that_are_no_factor() -> None:
    of = motors.default_power_factor(2200.0)
    assert (of.low, of.high) == pytest.approx((of.number - 0.06, of.number + 0.06))
    for power_w, points in ((1500.0, 0.04), (7500.0, 0.02)):
        of = motors.default_efficiency(power_w)
        assert (of.low, of.high) == pytest.approx((of.number - points, of.number + points))
    of = motors.default_starting_torque_ratio(2200.0)
    assert of.high == pytest.approx(1.3 * of.number)
    assert of.low == 1.8  # least of design N at 2.2 kW and four poles, more than 0.7 times 2.3
    of = motors.default_breakdown_ratio(2200.0)
    assert (of.low, of.high) == (2.2, 3.2)
    of = motors.default_year()
    assert (of.number, of.low, of.high) == (1975, 1955, 2000)
    of = motors.default_winding_temperature_c()
    assert (of.number, of.low, of.high) == (20.0, 0.0, 100.0)
    assert motors.default_overspeed_ratio(4).number == 1.2
    two = motors.default_overspeed_ratio(2)
    assert (two.low, two.high) == (1.0, 1.1)


def test_what_old_windings_and_filters_ask_for() -> None:
    assert winding_asks_short_lead(1989, None) == 10.0
    assert winding_asks_short_lead(1990, None) is None
    of = leakage_ma()
    assert (of.number, of.low, of.high) == (3.5, 1.0, 10.0)
    assert leakage_ma(20.0).number == pytest.approx(3.5 + 20.0 * 0.1)
    of = motor_loss_factor()
    assert (of.low, of.high) == (1.10, 1.15)


@pytest.mark.parametrize(
    ("power_kw", "low", "high"),
    [(0.37, 0.88, 0.92), (0.75, 0.91, 0.94), (2.2, 0.94, 0.96), (4.0, 0.96, 0.97)],
)
def test_b21_small_drives_lose_more_than_large_ones(power_kw, low, high) -> None:
    of = drive_efficiency(1000.0 * power_kw)
    assert (of.low, of.high) == (low, high)
    assert low < of.number < high


# default: number (low-high)
OWNERS = [
    (usage.default_idle_ratio, "1.5 (0.2-3.0)"),
    (usage.default_chance, "0.6 (0.3-0.95)"),
    (usage.default_discount_rate, "0.04 (0-0.08)"),
    (lambda: usage.default_service_a("IEC", "GB"), "60 (40-100)"),
    (lambda: usage.default_service_a("IEC", "ES"), "30 (25-40)"),
    (lambda: usage.default_service_a("IEC", "IT"), "20 (15-30)"),
    (lambda: usage.default_service_a("IEC", "NZ"), "63 (40-100)"),
    (lambda: usage.default_service_a("NEC", "US"), "150 (100-200)"),
    (lambda: usage.mains_ratio("GB"), "1 (0.96-1.06)"),
    (lambda: usage.mains_ratio("AU"), "1 (0.96-1.06)"),
    (lambda: usage.mains_ratio("DE"), "1 (0.96-1.04)"),
    (lambda: usage.mains_ratio("US"), "1 (0.95-1.05)"),
]  # fmt: skip


@pytest.mark.parametrize(("default", "text"), OWNERS)
def test_what_is_taken_where_an_owner_does_not_say(default, text: str) -> None:
    number, span = text.split()
    low, high = (float(end) for end in span.strip("()").split("-"))
    of = default()
    assert (of.number, of.low, of.high) == (float(number), low, high)


def test_energy_is_taken_by_region() -> None:
    for region, price in (("IEC", 0.27), ("NEC", 0.16)):
        of = usage.default_energy_price(region)
        assert of.number == price
        assert of.low / price == pytest.approx(0.6, abs=0.03)
        assert of.high / price == pytest.approx(1.8, abs=0.03)


@pytest.mark.parametrize(
    ("region", "r", "x", "low", "high"),
    [("IEC", 0.25, 0.15, 0.10, 0.47), ("NEC", 0.08, 0.06, 0.04, 0.2)],
)
def test_the_supply_s_ohms_where_nothing_is_known(region, r, x, low, high) -> None:
    volts, hertz = exact(230.0, "V", "stated"), exact(50.0, "Hz", "stated")
    supply = Supply(kind="single_phase", voltage=volts, frequency=hertz)
    of = supply_impedance(supply, region)
    assert (of.resistance.number, of.reactance.number) == (r, x)
    assert (of.resistance.low**2 + of.reactance.low**2) ** 0.5 == pytest.approx(low, rel=0.02)
    assert (of.resistance.high**2 + of.reactance.high**2) ** 0.5 == pytest.approx(high, rel=0.02)
