"""Every value to enter in a drive for its motor, in the trade's words: no maker's numbers.

Plain data in (`Driven`), plain data out: a list of `Setting`, each with its unit, its reason and
the figure it comes from. What is entered is the figure itself, or it rounded to the safe side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from phasewright.machines.performance import rated
from phasewright.tables.drive_settings import (
    long_lead_m,
    stall_s,
)
from phasewright.ways.drive_case import Driven, of_figure
from phasewright.ways.drive_choices import choices
from phasewright.ways.drive_data import (
    carrier_hz,
    current_limit_a,
    is_old,
    motor_on_drive,
    overload_class,
)
from phasewright.ways.drive_in_time import turning_inertia
from phasewright.ways.drive_ramps import ramp_up_s, ramps_of, up_to
from phasewright.ways.drive_rewiring import rewiring_of
from phasewright.ways.drive_sheet import MotorOnDrive, Setting
from phasewright.ways.figures import Figures

DATA = "motor_on_drive"


def with_sheet(on: Driven) -> Figures:
    """The figures with the motor's data, the settings and the steps of the wiring."""
    figures, drive_a = on.figures, on.figures.drive_rating_a
    assert drive_a is not None  # every drive has one
    limit = current_limit_a(on.circuit, drive_a.number)
    figures = replace(
        figures,
        motor_on_drive=motor_on_drive(on.motor, on.circuit),
        current_limit_a=limit,
        carrier_hz=carrier_hz(on.motor, on.circuit, drive_a.number, on.quiet, _lead_m(figures)),
    )
    ramp, holds = ramp_up_s(on), True
    if ramp is not None:
        load = on.load
        nm = load.running_torque.number * rated(on.circuit).shaft_torque_nm
        inertia = turning_inertia(on.motor).number
        relay, holds = overload_class(on.circuit, ramp, inertia, nm, limit.number)
        figures = replace(figures, overload_class=relay)
    on = replace(on, figures=figures)
    return replace(
        figures,
        settings=tuple(settings_of(on, class_holds=holds)),
        rewiring=rewiring_of(on.machine, on.motor, figures, several=on.several),
    )


def _lead_m(figures: Figures) -> float | None:
    """The motor lead's length [m], the owner's or a usual one."""
    return None if figures.insulation is None else figures.insulation.lead_m.number


def settings_of(on: Driven, *, class_holds: bool = True) -> Iterator[Setting]:
    """Every setting, in the order drives ask for them: motor, protection, speed, ramps, choices."""
    data = on.figures.motor_on_drive
    assert data is not None
    yield from _plate(data)
    yield from _flux(on, data)
    yield from _protection(on, data, holds=class_holds)
    yield from _speeds(on, data)
    yield from ramps_of(on)
    yield from _switching(on)
    yield from choices(on.machine, on.motor, on.figures, three_phase_type=on.three_phase_type)


def _plate(data: MotorOnDrive) -> Iterator[Setting]:
    link = "as the plate has it for the link that is used"
    yield of_figure(
        "base_voltage",
        "motor rated voltage (base voltage)",
        data.voltage_v,
        "V",
        f"{link}; more would over-flux the winding",
        f"{DATA}.voltage_v",
    )
    yield of_figure(
        "base_frequency",
        "motor rated frequency (base frequency)",
        data.frequency_hz,
        "Hz",
        "as stamped, whatever the mains have: volts and hertz belong together",
        f"{DATA}.frequency_hz",
    )
    yield of_figure(
        "rated_current",
        "motor rated current",
        data.current_a,
        "A",
        f"{link}, not the other value of the plate",
        f"{DATA}.current_a",
    )
    yield of_figure(
        "rated_power",
        "motor rated power",
        data.power_w,
        "kW",
        "as the plate has it",
        f"{DATA}.power_w",
        data.power_w.number / 1000.0,
    )
    yield of_figure(
        "rated_speed",
        "motor rated speed",
        data.speed_rpm,
        "rpm",
        "gives the drive the slip at full load",
        f"{DATA}.speed_rpm",
    )
    yield of_figure(
        "poles",
        "number of poles",
        data.poles,
        "",
        "turns hertz into rpm on the display",
        f"{DATA}.poles",
    )
    yield of_figure(
        "power_factor",
        "motor power factor at full load",
        data.power_factor,
        "",
        "where the drive asks for it",
        f"{DATA}.power_factor",
    )
    yield of_figure(
        "no_load_current",
        "motor no-load current",
        data.no_load_current_a,
        "A",
        "where the drive asks for it: what makes the field",
        f"{DATA}.no_load_current_a",
    )
    yield of_figure("stator_resistance", "stator resistance of one phase (star)",
                    data.stator_resistance_ohm, "ohm",
                    "until the drive has measured it at standstill, which is better",
                    f"{DATA}.stator_resistance_ohm")  # fmt: skip


def _flux(on: Driven, data: MotorOnDrive) -> Iterator[Setting]:
    load = on.load
    share = load.breakaway_torque.number
    boost, from_ = data.breakaway_boost_v, f"{DATA}.breakaway_boost_v"
    why = f"drives {data.breakaway_a.number:.3g} A, which break away {share:.0%} of rated torque"
    usual = on.figures.boost_v
    if usual is not None and usual.number >= boost.number:
        boost, from_, why = usual, "boost_v", "gives the current of no load at standstill"
    yield of_figure(
        "torque_boost", "torque boost (of the base voltage, at 0 Hz)", boost, "%",
        f"{boost.number:.3g} V: {why}; more than needed heats the winding at low speed", from_,
        100.0 * boost.number / data.voltage_v.number,
    )  # fmt: skip
    of = on.of_load
    if on.several or not of.slip_compensation:
        why = (
            "several motors differ in their slip" if on.several
            else "its flywheel is meant to give way under the blow"
        )  # fmt: skip
        yield Setting("slip_compensation", "slip compensation", "off", "", why, "load.kind",
                      of.source)  # fmt: skip
        return
    yield of_figure(
        "slip_compensation", "slip compensation at rated torque", data.slip_hz, "Hz",
        "keeps the speed under load; it is the slip of the rated speed", f"{DATA}.slip_hz",
    )  # fmt: skip


def _protection(on: Driven, data: MotorOnDrive, *, holds: bool) -> Iterator[Setting]:
    figures = on.figures
    yield of_figure(
        "overload_current", "electronic overload protection, current", data.current_a, "A",
        "the motor's own amps, not the drive's: the drive is this winding's overload relay"
        + (" only where each motor has a relay of its own as well" if on.several else ""),
        f"{DATA}.current_a",
    )  # fmt: skip
    if figures.overload_class is not None:
        yield of_figure(
            "overload_class", "electronic overload protection, class", figures.overload_class, "",
            "the quickest class that lets a warm motor run up by the ramp below" if holds
            else "even this class may trip on a warm motor: leave it to cool between starts",
            "overload_class",
        )  # fmt: skip
    limit = figures.current_limit_a
    assert limit is not None
    yield of_figure(
        "current_limit", "current limit (stall prevention)", limit, "A",
        "what the drive gives for a minute, or the amps of breakdown torque where these are fewer",
        "current_limit_a",
    )  # fmt: skip
    ramp, least = ramp_up_s(on), figures.ramp_up_s
    if ramp is not None and least is not None:
        yield of_figure(
            "stall_time", "trip when at the current limit for longer than", least, "s",
            "a run-up is done by then; a jammed machine is not to be driven on", "ramp_up_s",
            up_to(stall_s(ramp)),
        )  # fmt: skip


def _speeds(on: Driven, data: MotorOnDrive) -> Iterator[Setting]:
    hertz, wants = data.frequency_hz.number, on.wants
    slow, fast = wants.speed or (0.0, 1.0)
    lowest, highest = on.figures.speed_min_ratio, on.figures.speed_max_ratio
    most = fast if highest is None else min(fast, highest.number)
    if lowest is not None:
        yield of_figure(
            "lowest_frequency", "minimum frequency", lowest, "Hz",
            "the slowest for ever: below it the motor's own fan, or what it drives, fails"
            if lowest.number >= slow else "the slowest that is wanted",
            "speed_min_ratio", hertz * min(max(slow, lowest.number), most),
        )  # fmt: skip
    if highest is not None:
        kept = "the original speed: nothing faster is asked for"
        if highest.number < fast:
            kept = "the fastest that motor, tool and torque bear; lock it there"
        elif wants.speed is not None:
            kept = "the fastest that is wanted, within what motor, tool and torque bear"
        yield of_figure("highest_frequency", "maximum frequency", highest, "Hz", kept,
                        "speed_max_ratio", hertz * most)  # fmt: skip


def _switching(on: Driven) -> Iterator[Setting]:
    carrier, lead_m = on.figures.carrier_hz, _lead_m(on.figures)
    assert carrier is not None
    if is_old(on.motor):
        why = "the lowest usual one: a winding from before drives bears steep edges badly"
    elif lead_m is not None and lead_m > long_lead_m():
        why = f"the lowest usual one: its lead of {lead_m:.0f} m is a long one"
    elif on.quiet is not None:
        why = "quiet is wished for: the highest at which the drive still gives the motor's amps"
    else:
        why = "the usual one: lower hums more, higher takes amps from the drive and leaks more"
    yield of_figure(
        "carrier", "carrier (switching) frequency", carrier, "kHz",
        f"{why}; the lowest it has for a motor lead above {long_lead_m():.0f} m",
        "carrier_hz", carrier.number / 1000.0,
    )  # fmt: skip
