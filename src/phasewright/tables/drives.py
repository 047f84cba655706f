"""What is taken for a variable-frequency drive whose maker's figures are not at hand."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import Table, between, table


@dataclass(frozen=True, slots=True)
class OverVoltage:
    """Volts of a drive's link: where a ramp down is held, the brake resistor works, it trips."""

    holds_v: float
    resistor_on_v: float
    resistor_off_v: float
    trip_v: float


def _value(row: tuple[float, ...], unit: str, of: Table) -> Value:
    number, low, high = row
    return spread(number, low, high, unit, of.origin, f"{of.name.replace('_', ' ')}: {of.words}")


def drive_efficiency(power_w: float) -> Value:
    """Efficiency at rated load of a drive of this rating (0.12 to 45 kW, else TableEnds)."""
    of = table("drives", "efficiency")
    points = of.column("power_kw")
    number, low, high = (
        between(power_w / 1000.0, points, of.column(name), "drive efficiency", "kW")
        for name in ("typical", "low", "high")
    )
    return _value((number, low, high), "", of)


def standby_power_w() -> Value:
    """What a live drive takes while its motor stands."""
    of = table("drives", "standby")
    return _value(of.column("power_w"), "W", of)


def motor_loss_factor() -> Value:
    """Losses of a motor on a drive over its losses on a sine wave."""
    of = table("drives", "motor_losses")
    return _value(of.column("factor"), "", of)


def link_capacitances_f(drive_rating_w: float, three_phase_type: bool = False) -> tuple[float, ...]:
    """Link capacitors makers fit to a drive of this rating, smallest to largest; to one made for
    three-phase input smaller ones."""
    of = table("drives", "link_three_phase" if three_phase_type else "link")
    return tuple(share * 1e-9 * drive_rating_w for share in of.column("uf_per_kw"))


def typical_link_capacitance_f(drive_rating_w: float, three_phase_type: bool = False) -> float:
    """The link capacitor taken for a drive of this rating."""
    of = table("drives", "link_three_phase" if three_phase_type else "link")
    return of.number("typical_uf_per_kw") * 1e-9 * drive_rating_w


def phase_watch_ripple() -> float:
    """Ripple of the link over its mean at which a drive takes an input phase for lost."""
    return table("drives", "phase_watch").number("ripple")


def each_capacitor_over_link() -> float:
    """Each of a doubler's two capacitors over the link capacitor of the same drive on 230 V."""
    return table("drives", "doubler").number("each_over_link")


def choke_share() -> float:
    """Impedance of a usual input choke over the drive's rated impedance."""
    return table("drives", "choke").number("impedance_share")


def choke_shares() -> tuple[float, ...]:
    """Sizes of input chokes, as shares of the drive's rated impedance, the smallest first."""
    return table("drives", "choke").column("shares")


def link_choke_shares() -> tuple[float, ...]:
    """Sizes of chokes in the link, likewise."""
    return table("drives", "choke").column("link_shares")


def undervoltage_trip_v() -> float:
    """Link volts at which a 230 V class drive trips."""
    return table("drives", "undervoltage").number("trip_v")


def choke_resistance_ohm(inductance_h: float) -> float:
    """Winding resistance taken for a choke; none for no choke."""
    of = table("drives", "choke")
    return of.number("ohm") + of.number("ohm_per_h") * inductance_h if inductance_h > 0.0 else 0.0


def leakage_ma(lead_m: float = 0.0) -> Value:
    """Leakage current to earth of one filtered drive with a screened motor lead."""
    of = table("drives", "leakage")
    lead = of.number("lead_ma_per_m") * lead_m
    number, low, high = (entry + lead for entry in of.column("filter_ma"))
    return _value((number, low, high), "mA", of)


def precharge_ohm() -> Value:
    """Resistance a drive's link is charged through when it is switched on."""
    of = table("drives", "precharge")
    return _value(of.column("ohm"), "ohm", of)


def precharge_lasting_w() -> Value:
    """What that resistor sheds for ever."""
    of = table("drives", "precharge")
    return _value(of.column("lasting_w"), "W", of)


def overload_share() -> float:
    """Amps a drive gives for a minute over its rated ones: what a start may use."""
    return table("drives", "overload").number("short_time")


def changeover_minutes() -> Value:
    """Minutes to change a shared drive over from one motor to the next, at rest."""
    of = table("drives", "changeover")
    return _value(of.column("minutes"), "min", of)


def hours_between_changeovers() -> Value:
    """Hours a motor turns on a shared drive before the next one wants it."""
    of = table("drives", "changeover")
    return _value(of.column("turning_h"), "h", of)


@lru_cache(maxsize=1024)
def self_cooled_torque(speed_ratio: float) -> Value:
    """Torque over rated that a self-cooled motor bears for ever at this share of rated speed.

    From a tenth of rated speed up to rated speed, else TableEnds.
    """
    of = table("drives", "self_cooled")
    points = of.column("speed")
    number, low, high = (
        between(speed_ratio, points, of.column(name), "self-cooled torque", "of rated speed")
        for name in ("torque", "low", "high")
    )
    return _value((number, low, high), "", of)


def lowest_self_cooled_speed() -> float:
    """Where the table of self-cooled torque begins, over rated speed."""
    return table("drives", "self_cooled").column("speed")[0]


def pull_out_reserve() -> float:
    """Breakdown torque over the load's that a motor keeps above the base point."""
    return table("drives", "pull_out").number("reserve")


def winding_asks_short_lead(year: int | None, insulation_class: str | None) -> float | None:
    """Longest motor lead in metres for insulation from before drives, None where it is not known
    to be old."""
    of = table("drives", "old_winding")
    old = year is not None and year < of.number("before")
    if old or insulation_class in of.rows["classes"]:
        return of.number("lead_m")
    return None


def drive_class_v(mains_v: float) -> float:
    """The class of drives made for these line volts (rms); TableEnds above all classes."""
    of = table("drives", "overvoltage")
    for class_v, highest_v in zip(of.column("class_v"), of.column("highest_mains_v"), strict=True):
        if mains_v <= highest_v:
            return class_v
    raise TableEnds(f"no class of drives in the table is made for {mains_v:.0f} V")


def overvoltage(mains_v: float) -> OverVoltage:
    """The link's limits of a drive for these line volts (rms); TableEnds above all classes."""
    of = table("drives", "overvoltage")
    row = of.column("class_v").index(drive_class_v(mains_v))
    names = ("holds_v", "resistor_on_v", "resistor_off_v", "trip_v")
    return OverVoltage(*(of.column(name)[row] for name in names))


def magnetising_s() -> float:
    """Seconds in which a drive builds the motor's field before it turns it."""
    return table("drives", "magnetising").number("seconds")


@dataclass(frozen=True, slots=True)
class LeadWave:
    """What makers' drives and leads are taken for: rise time, speed of the wave, and the surge
    impedance of the lead, each with its spread."""

    rise_s: Value
    metres_per_s: Value
    lead_ohm: Value


def lead_wave() -> LeadWave:
    """A drive's edges and the lead they run along."""
    of = table("drives", "reflected_wave")
    return LeadWave(
        _value(tuple(1e-6 * each for each in of.column("rise_us")), "s", of),
        _value(tuple(1e6 * each for each in of.column("metres_per_us")), "m/s", of),
        _value(of.column("lead_ohm"), "ohm", of),
    )


def motor_surge_ohm(power_w: float) -> float:
    """Surge impedance of a motor of this power (0.04 to 373 kW, else TableEnds)."""
    of = table("drives", "reflected_wave")
    return between(
        power_w / 1000.0, of.column("motor_kw"), of.column("motor_ohm"), "surge impedance", "kW"
    )


def ordinary_peak_v() -> tuple[float, float, Table]:
    """Peak [V] and rise time [s] an ordinary motor's winding bears, and the table that says so."""
    of = table("drives", "wave_limits")
    return of.number("ordinary_v"), 1e-6 * of.number("ordinary_rise_us"), of


def drive_made_peak_ratio() -> float:
    """Peak over rated volts that the winding of a motor made for drives bears."""
    return table("drives", "wave_limits").number("made_for_drives")


def usual_lead_m() -> Value:
    """Metres between a drive and its motor where nobody told."""
    of = table("drives", "motor_lead")
    return _value(of.column("metres"), "m", of)


def longest_lead_m() -> float:
    """The longest motor lead a drive feeds without a filter, whatever the winding bears."""
    return table("drives", "motor_lead").number("longest_m")


def output_choke_rise_s() -> float:
    """Rise time behind an output choke."""
    return 1e-6 * table("drives", "motor_lead").number("choke_rise_us")


def bearing_currents_matter(shaft_height_m: float | None, power_w: float) -> bool:
    """Whether a motor of this size has its bearings looked after on a drive."""
    of = table("drives", "bearing_currents")
    if shaft_height_m is not None:
        return 1000.0 * shaft_height_m >= of.number("shaft_height_mm")
    return power_w > of.number("above_w")


def least_controlled_speed() -> float:
    """Slowest speed over rated that a drive without a speed sensor still holds."""
    return table("drives", "slow_running").number("control")


def heating_minutes() -> Value:
    """Thermal time constant of a small closed motor at speed."""
    of = table("drives", "slow_running")
    return _value(of.column("minutes"), "min", of)


def own_step_ratio() -> Value:
    """One speed of a machine's own over the next slower one."""
    of = table("drives", "own_steps")
    return _value(of.column("ratio"), "", of)


def radio_category_of(three_phase_type: bool) -> Literal["C1", "C2", "C3", "C4"]:
    """Radio category (IEC 61800-3) of what is usually sold with its filter inside."""
    of = table("drives", "filter")
    kind = "radio_three_phase" if three_phase_type else "radio_one_phase"
    categories: tuple[Literal["C1", "C2", "C3", "C4"], ...] = ("C1", "C2", "C3", "C4")
    return categories[round(of.number(kind)) - 1]
