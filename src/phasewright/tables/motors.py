"""What is taken for a three-phase cage motor where its plate is silent.

Every default is a `Value` with its spread and where it comes from; the numbers stand in
`data/motors.toml`. Powers are shaft watts, ratios are fractions (unit ""). All functions raise
TableEnds outside 0.04 to 45 kW and for other than 2, 4, 6 or 8 poles: nothing is clamped.
`year` None means the typical year of `default_year`.
"""

from __future__ import annotations

import contextlib
import math

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.efficiency import (
    W_PER_HP,
    class_efficiency,
    ie1_efficiency,
    nema_efficiency,
)
from phasewright.tables.published import Table, between, pole_column, table, within
from phasewright.tables.starting import design_n_minimum


def _rows(name: str) -> Table:
    return table("motors", name)


def power_range_w() -> tuple[float, float]:
    """Smallest and largest shaft power [W] for which there are defaults."""
    lowest, highest = _rows("range").column("power_kw")
    return 1000.0 * lowest, 1000.0 * highest


def _power_kw(power_w: float) -> float:
    lowest, highest = _rows("range").column("power_kw")
    within("motor defaults", power_w / 1000.0, lowest, highest, "kW")
    return power_w / 1000.0


def _by_poles(of: Table, poles: int) -> float:
    by = of.rows["poles"]
    if str(poles) not in by:
        raise TableEnds(f"motor defaults: no figures for {poles} poles, only {', '.join(by)}")
    return float(by[str(poles)])


def _known_poles(poles: int) -> None:
    _by_poles(_rows("power_factor"), poles)


def _value(number: float, low: float, high: float, unit: str, of: Table) -> Value:
    return spread(number, low, high, unit, of.origin, f"{of.name.replace('_', ' ')}: {of.words}")


def _year(year: int | None) -> int:
    return int(_rows("year").number("typical")) if year is None else year


def _is_old(year: int | None) -> bool:
    return _year(year) < _rows("year").number("old_before")


def default_year() -> Value:
    """Year of make of a second-hand motor that does not say."""
    of = _rows("year")
    return _value(of.number("typical"), of.number("low"), of.number("high"), "year", of)


def default_power_factor(power_w: float, poles: int = 4) -> Value:
    """Power factor at rated load: 0.76 + 0.085 log10 P(kW), by poles, +-0.06, at most 0.95."""
    of = _rows("power_factor")
    level = of.number("base") + of.number("slope") * math.log10(_power_kw(power_w))
    number = level + _by_poles(of, poles)
    high = min(number + of.number("spread"), of.number("most"))
    return _value(number, number - of.number("spread"), high, "", of)


def default_efficiency(
    power_w: float, poles: int = 4, year: int | None = None, frequency_hz: float = 50.0
) -> Value:
    """Efficiency at rated load by year of make: the class usual then, less for age.

    Below 0.12 kW, where no class is defined, an assumed curve with a wide spread.
    """
    of = _rows("efficiency")
    power_kw, made = _power_kw(power_w), _year(year)
    tiny = _rows("efficiency_tiny")
    if power_kw < tiny.column("power_kw")[-1]:
        number = between(
            power_kw, tiny.column("power_kw"), pole_column(tiny, poles), "efficiency", "kW"
        )
        half = of.number("spread_tiny")
        return _value(number, number - half, number + half, "", tiny)
    number = _efficiency_of_its_time(of, power_w, poles, made, frequency_hz)
    wide = power_kw <= of.number("large_kw")
    half = of.number("spread_small" if wide else "spread_large")
    return _value(number, number - half, number + half, "", of)


def _efficiency_of_its_time(
    of: Table, power_w: float, poles: int, made: int, frequency_hz: float
) -> float:
    listed_hp = table("efficiency", "nema_efficient").column("power_hp")
    nema = frequency_hz > 55.0 and poles != 8
    power_hp = round(power_w / W_PER_HP, 2)
    if nema and listed_hp[0] <= power_hp <= listed_hp[-1]:
        if made >= of.number("nema_premium_from"):
            return nema_efficiency("nema_premium", power_w, poles)
        if made >= of.number("nema_efficient_from"):
            return nema_efficiency("nema_efficient", power_w, poles)
    if made >= _rows("year").number("ie3_from"):
        return class_efficiency("IE3", power_w, poles)
    if made >= of.number("ie2_from"):
        return class_efficiency("IE2", power_w, poles)
    plain = ie1_efficiency(power_w, poles)
    if made < _rows("year").number("old_before"):
        return plain - of.number("old_points")
    return plain - (of.number("plain_points") if made < of.number("plain_until") else 0.0)


def default_slip(power_w: float, poles: int = 4, year: int | None = None) -> Value:
    """Slip at rated load: 0.046 P(kW)^-0.25, old motors 1.25 times that; x 0.7 to 1.4."""
    _known_poles(poles)
    of = _rows("slip")
    number = of.number("factor") * _power_kw(power_w) ** of.number("exponent")
    number *= of.number("old") if _is_old(year) else 1.0
    return _value(number, number * of.number("low"), number * of.number("high"), "", of)


def default_starting_current_ratio(
    power_w: float, poles: int = 4, year: int | None = None
) -> Value:
    """Locked-rotor current as a multiple of full load: 5.2 P(kW)^0.12 by poles and age."""
    of = _rows("starting_current")
    number = of.number("factor") * _power_kw(power_w) ** of.number("exponent")
    number *= _by_poles(of, poles)
    if _is_old(year):
        number *= of.number("old")
    elif _year(year) >= _rows("year").number("ie3_from"):
        number *= of.number("ie3")
    return _value(number, number * of.number("low"), number * of.number("high"), "", of)


def default_starting_torque_ratio(power_w: float, poles: int = 4) -> Value:
    """Locked-rotor torque as a multiple of rated, +-30 %.

    The low end is never below the least torque of an IEC 60034-12 design N motor, where that
    standard's rows reach (0.12 to 25 kW, 2, 4 and 6 poles).
    """
    of = _rows("starting_torque")
    power_kw = _power_kw(power_w)
    if poles == 4:
        number = of.number("small" if power_kw <= of.number("small_kw") else "large")
    else:
        number = _by_poles(of, poles)
    low = number * (1.0 - of.number("spread"))
    with contextlib.suppress(TableEnds):  # where the standard's rows end the spread alone holds
        low = max(low, design_n_minimum(power_w, poles).locked)
    return _value(number, low, number * (1.0 + of.number("spread")), "", of)


def default_breakdown_ratio(power_w: float, poles: int = 4) -> Value:
    """Breakdown torque as a multiple of rated: 2.7 (2.2 to 3.2)."""
    _power_kw(power_w)
    _known_poles(poles)
    of = _rows("breakdown_torque")
    return _value(of.number("typical"), of.number("low"), of.number("high"), "", of)


def default_no_load_current_ratio(power_w: float, poles: int = 4) -> Value:
    """No-load current as a share of full load current: 0.61 P(kW)^-0.16 by poles, +-15 %."""
    of = _rows("no_load_current")
    by_poles = _rows("no_load_current_poles")
    power_kw = _power_kw(power_w)
    if str(poles) not in by_poles.rows:
        raise TableEnds(f"motor defaults: no figures for {poles} poles")
    factor = by_poles.number(str(poles))
    if power_kw < of.number("from_kw"):
        tiny = (of.number("tiny"), of.number("tiny_low"), of.number("tiny_high"))
        number, low, high = (entry * factor for entry in tiny)
        return _value(number, low, high, "", of)
    number = of.number("factor") * power_kw ** of.number("exponent") * factor
    half = of.number("spread")
    return _value(number, number * (1.0 - half), number * (1.0 + half), "", of)


def part_load_no_load_ratio(power_hp: float, poles: int) -> float:
    """No-load over full-load current by the published part-load model (a second opinion)."""
    a, b, c, d, e = pole_column(_rows("part_load_model"), poles)
    return a + b * math.exp(-c * power_hp) + d * math.exp(-e * power_hp)


def default_inertia_kg_m2(power_w: float, poles: int = 4, year: int | None = None) -> Value:
    """Inertia of the rotor alone: 0.0028 P(kW)^1.15 by poles and age; x 0.6 to 1.8."""
    of = _rows("inertia")
    number = of.number("factor") * _power_kw(power_w) ** of.number("exponent")
    number *= _by_poles(of, poles) * (of.number("old") if _is_old(year) else 1.0)
    return _value(number, number * of.number("low"), number * of.number("high"), "kg m2", of)


def default_friction_ratio(power_w: float) -> Value:
    """Bearing and fan loss as a share of rated power: 1.2 %, more below 2.2 kW; x 0.5 to 2."""
    of = _rows("friction")
    power_kw = _power_kw(power_w)
    number = of.number("large")
    if power_kw < of.number("large_kw"):
        exponent = math.log(of.number("small") / of.number("large")) / math.log(
            of.number("small_kw") / of.number("large_kw")
        )
        number *= (power_kw / of.number("large_kw")) ** exponent
    return _value(number, number * of.number("low"), number * of.number("high"), "", of)


def default_winding_ohm(power_w: float, winding_voltage_v: float = 230.0) -> Value:
    """Resistance of one winding made for `winding_voltage_v` (one phase of the delta), cold.

    7.1 P(kW)^-1.18 ohm for a 230 V winding, with the square of the volts; +-30 %.
    """
    of = _rows("winding_resistance")
    number = of.number("factor") * _power_kw(power_w) ** of.number("exponent")
    number *= (winding_voltage_v / of.number("voltage_v")) ** 2
    half = of.number("spread")
    return _value(number, number * (1.0 - half), number * (1.0 + half), "ohm", of)


def default_winding_temperature_c() -> Value:
    """Winding temperature when a motor is started: 20 degrees, 0 to 100 after a hot stop."""
    of = _rows("winding_temperature")
    return _value(of.number("typical_c"), of.number("low_c"), of.number("high_c"), "°C", of)


def default_overspeed_ratio(poles: int = 4) -> Value:
    """Safe speed of the motor alone over its rated speed; the tool's own limit comes first."""
    of = _rows("overspeed")
    number = _by_poles(of, poles)
    if poles == 2:
        return _value(number, of.number("two_pole_low"), of.number("two_pole_high"), "", of)
    return _value(number, number, number, "", of)


def overspeed_by_frame_rpm(poles: int, shaft_height_m: float | None) -> tuple[float, int] | None:
    """Highest safe speed [rpm] of a motor of this size, and the year since which motors for 50 Hz
    are made for it; None for sizes and poles of which nothing is at hand.

    Where no height is told the largest frames count, which may turn least.
    """
    of = _rows("overspeed_by_frame")
    limits = of.rows["poles"].get(str(poles))
    if limits is None:
        return None
    heights_m = [mm / 1000.0 for mm in of.column("height_mm")]
    height_m = heights_m[-1] if shaft_height_m is None else shaft_height_m
    fit = (rpm for at_m, rpm in zip(heights_m, limits, strict=True) if height_m <= at_m)
    rpm = next(fit, None)
    return None if rpm is None else (float(rpm), int(of.number("since")))


def two_speed_power_ratio(duty: str) -> Value:
    """Power at the high speed over that at the low one of a two-speed motor.

    `duty` is `constant_power`, `constant_torque` or `fan`; the spreads are where one ends and
    the next begins (common practice, no source).
    """
    of = _rows("two_speed")
    number, low, high = of.column(duty)
    return _value(number, low, high, "", of)
