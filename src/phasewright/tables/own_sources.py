"""What is taken for three-phase sources of the owner's own: battery inverters and generators."""

from __future__ import annotations

from functools import cache

from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, exact, figure, spread
from phasewright.tables.published import table


def own_line_v(region: Region) -> float:
    """Volts between the three lines of a source of one's own, with a neutral."""
    return table("own_sources", "lines").number(region)


def battery_output_va(rating_w: float) -> float:
    """Lasting output [VA] of a battery inverter sold by so many watts."""
    return rating_w * table("own_sources", "battery_inverter").number("kva_per_kw")


def battery_short_time() -> Value:
    """Current it gives for some seconds over its lasting one."""
    return _value("battery_inverter", "short_time", "")


def battery_round_trip() -> Value:
    """Energy that comes out on three lines over what the supply gave for it."""
    return _value("battery_inverter", "round_trip", "")


def battery_usable() -> Value:
    """Share of a battery's rated energy that is used."""
    return _value("battery_inverter", "usable", "")


def battery_standby_w() -> Value:
    """What the inverter itself takes, day and night [W]."""
    return _value("battery_inverter", "standby_w", "W")


def charger_serves(supply_v: float) -> None:
    """Raises TableEnds where no charger is made for a supply of so many volts."""
    low, high = table("own_sources", "battery_inverter").column("input_v")
    if not low <= supply_v <= high:
        raise TableEnds(
            f"battery inverters in the tables are charged from {low:.0f} to {high:.0f} V, not "
            f"{supply_v:.0f} V"
        )


def session_hours() -> Value:
    """Turning of the hungriest set between two fillings of a battery [h]."""
    return _value("battery_use", "session_h", "h")


def recharge_hours() -> Value:
    """Hours in which a charger fills the battery; the high end where there is little room."""
    return _value("battery_use", "recharge_h", "h")


def generator_va(rating_w: float) -> float:
    """Rated output [VA] of a generator sold by so many watts."""
    return rating_w / table("own_sources", "generator").number("power_factor")


def generator_w(rating_va: float) -> float:
    """Rated power [W] of a generator sold by so many volt-amperes."""
    return rating_va * table("own_sources", "generator").number("power_factor")


def generator_reactance() -> Value:
    """Transient reactance over volts squared per rated VA."""
    of = table("supplies_impedance", "machine_source")
    return spread(
        of.number("reactance"), of.number("low"), of.number("high"), "", of.origin, of.words
    )


def generator_resistance() -> float:
    """Resistance over volts squared per rated VA."""
    return table("supplies_impedance", "machine_source").number("resistance")


def generator_subtransient() -> Value:
    """Reactance of the first cycles of a short over volts squared per rated VA."""
    return _value("generator_faults", "subtransient", "")


def generator_zero_sequence() -> Value:
    """Zero-sequence reactance over volts squared per rated VA."""
    return _value("generator_faults", "zero_sequence", "")


def generator_sustained() -> Value:
    """Amps a shorted line goes on giving after the first cycles, over the rated ones."""
    return _value("generator_faults", "sustained", "")


def no_load_share() -> Value:
    """Power that would burn what a generator burns running empty, over its rated power."""
    return _value("generator", "no_load_share", "")


def litres_per_kwh() -> Value:
    """Fuel for one kWh more [l/kWh]."""
    return _value("generator", "litres_per_kwh", "l/kWh")


def generator_sound_at_7_m() -> Value:
    """Sound pressure level 7 m from it [dB(A)]."""
    return _value("generator", "sound_at_7_m", "dB(A)")


def hours_per_hired_day() -> Value:
    """Hours that a machine turns in a day for which a generator was hired."""
    return _value("generator_hire", "hours_per_day", "h")


def fuel_price(region: Region, stated: float | None) -> Value:
    """Price of a litre: what the owner says, else what is assumed."""
    if stated is not None:
        return exact(stated, "per l", "stated", "tariff.fuel")
    return _value("fuel", region, "per l")


def own_energy_price(region: Region, stated: float | None) -> Value:
    """Price of one kWh that a generator gives, what it burns empty counted as energy given."""
    litre, litres = fuel_price(region, stated), litres_per_kwh()
    return figure(
        litre.number * litres.number, "per kWh", "tables.own_sources.own_energy_price",
        {"a litre": (litre.number, "per l"), "fuel for one kWh more": (litres.number, "l/kWh")},
        f"{litres.source}; {litre.source}",
        low=litre.low * litres.low, high=litre.high * litres.high,
    )  # fmt: skip


@cache
def _value(name: str, key: str, unit: str) -> Value:
    of = table("own_sources", name)
    number, low, high = of.column(key)
    return spread(number, low, high, unit, of.origin, of.words)
