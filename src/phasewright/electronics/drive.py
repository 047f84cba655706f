"""A variable-frequency drive fed from one phase: what it draws, what it can give.

Input current comes from the rectifier's periodic state, never from a factor; what the maker
does not print (link capacitor, choke) is spread over.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from phasewright.electronics.rectifier import Bridge, BridgeState, settle_bridge
from phasewright.network.supply import Source
from phasewright.quantities.codes import Verdict
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.tables.drives import (
    choke_resistance_ohm,
    choke_share,
    drive_efficiency,
    each_capacitor_over_link,
    link_capacitances_f,
    motor_loss_factor,
    typical_link_capacitance_f,
)
from phasewright.tables.published import table

_SOURCE = "periodic state of the bridge rectifier with its link, computed"


@dataclass(frozen=True, slots=True)
class DriveInput:
    """What a drive draws at the service, each with its spread; `expected` is the middle state."""

    current_a: Value
    power_w: Value
    power_factor: Value
    peak_a: Value
    thd: Value
    displacement_factor: Value
    crest: Value
    voltage_thd: Value
    link_mean_v: Value
    link_min_v: Value
    link_ripple_v: Value
    link_power_w: Value
    expected: BridgeState
    capacitance_f: float
    ac_choke_h: float
    dc_choke_h: float


@dataclass(frozen=True, slots=True)
class DriveOutput:
    """Undistorted line volts (rms) a drive can give from its link, by its dip and its mean."""

    lowest_v: float
    mean_v: float


def motor_efficiency_on_drive(efficiency: float) -> Value:
    """Efficiency of a motor on a drive: its losses on a sine wave and some more."""
    factor = motor_loss_factor()
    loss = 1.0 / efficiency - 1.0
    number, low, high = (1.0 / (1.0 + loss * f) for f in (factor.number, factor.high, factor.low))
    inputs = {"efficiency": (efficiency, ""), "loss factor": (factor.number, "")}
    return figure(
        number,
        "",
        "electronics.drive.motor_efficiency_on_drive",
        inputs,
        factor.source,
        low=low,
        high=high,
    )


def link_power_w(shaft_power_w: float, motor_efficiency: Value, drive_rating_w: float) -> Value:
    """Power into the drive's link: shaft over motor efficiency over drive efficiency.

    The drive's rating stands for its losses; `motor_efficiency` is the one on a drive.
    """
    drive = drive_efficiency(drive_rating_w)
    inputs = {
        "shaft power": (shaft_power_w, "W"),
        "motor efficiency": (motor_efficiency.number, ""),
        "drive efficiency": (drive.number, ""),
    }
    return figure(
        shaft_power_w / motor_efficiency.number / drive.number,
        "W",
        "electronics.drive.link_power_w",
        inputs,
        drive.source,
        low=shaft_power_w / motor_efficiency.high / drive.high,
        high=shaft_power_w / motor_efficiency.low / drive.low,
    )


def usual_choke_h(line_voltage_v: float, frequency_hz: float, drive_rating_w: float) -> float:
    """A usual input choke for a drive of this rating, by its share of the rated impedance."""
    omega = 2.0 * math.pi * frequency_hz
    return choke_share() * line_voltage_v * line_voltage_v / drive_rating_w / omega


def drive_input(
    source: Source,
    link_power: Value,
    drive_rating_w: float,
    *,
    ac_choke_h: float | None = 0.0,
    dc_choke_h: float = 0.0,
    capacitance_f: float | None = None,
    three_phase_type: bool = False,
    doubler: bool = False,
) -> DriveInput:
    """What a drive of this rating draws for this link power.

    A `doubler` doubles the supply's volts inside (`Bridge.doubler`): `capacitance_f` is then each
    of its two.
    `capacitance_f` None: the maker's link capacitor is not known and is spread over what makers
    fit, which is less in a drive of the `three_phase_type`. `ac_choke_h` None: it is not known
    whether a choke is fitted; none is expected and the spread reaches to a usual one. Raises
    NotComputable where the supply cannot give the power even in the expected case; a corner of
    the spread it cannot give is an error as well.
    """
    rated_h = usual_choke_h(source.voltage_v, source.frequency_hz, drive_rating_w)
    chokes = (0.0, rated_h) if ac_choke_h is None else (ac_choke_h,)
    middle_f = capacitance_f or usual_capacitor_f(drive_rating_w, three_phase_type, doubler)
    links = (
        (capacitance_f,)
        if capacitance_f
        else _capacitors_f(drive_rating_w, three_phase_type, doubler)
    )

    def state(power_w: float, link_f: float, choke_h: float) -> BridgeState:
        return settle_bridge(
            Bridge(
                source, link_f, power_w, ac_choke_h=choke_h, dc_choke_h=dc_choke_h,
                ac_choke_ohm=choke_resistance_ohm(choke_h),
                dc_choke_ohm=choke_resistance_ohm(dc_choke_h), doubler=doubler,
            )
        )  # fmt: skip

    expected = state(link_power.number, middle_f, chokes[0])
    powers = dict.fromkeys((link_power.low, link_power.high))
    corners = [state(p, c, choke) for p in powers for c in links for choke in chokes]
    inputs = {
        "link power": (link_power.number, "W"),
        "link capacitance": (middle_f, "F"),
        "choke": (chokes[0], "H"),
        "supply resistance": (source.resistance_ohm, "ohm"),
        "supply reactance": (source.reactance_ohm, "ohm"),
        "supply voltage": (source.voltage_v, "V"),
    }

    def out(of: Callable[[BridgeState], float], unit: str) -> Value:
        low, high = _ends(of(corner) for corner in corners)
        return figure(
            of(expected), unit, "electronics.drive.drive_input", inputs, _SOURCE, low=low, high=high
        )

    return DriveInput(
        current_a=out(lambda s: s.current_a, "A"),
        power_w=out(lambda s: s.input_power_w, "W"),
        power_factor=out(lambda s: s.power_factor, ""),
        peak_a=out(lambda s: s.peak_a, "A"),
        thd=out(lambda s: s.thd, ""),
        displacement_factor=out(lambda s: s.displacement_factor, ""),
        crest=out(lambda s: s.crest, ""),
        voltage_thd=out(lambda s: s.service_voltage_thd, ""),
        link_mean_v=out(lambda s: s.link_mean_v, "V"),
        link_min_v=out(lambda s: s.link_min_v, "V"),
        link_ripple_v=out(lambda s: s.link_ripple_v, "V"),
        link_power_w=link_power,
        expected=expected,
        capacitance_f=middle_f,
        ac_choke_h=chokes[0],
        dc_choke_h=dc_choke_h,
    )


def usual_capacitor_f(
    drive_rating_w: float, three_phase_type: bool = False, doubler: bool = False
) -> float:
    """The link capacitor taken for a drive; of a doubler each of its two."""
    own = typical_link_capacitance_f(drive_rating_w, three_phase_type)
    return own * (each_capacitor_over_link() if doubler else 1.0)


def _capacitors_f(
    drive_rating_w: float, three_phase_type: bool, doubler: bool
) -> tuple[float, ...]:  # fmt: skip
    each = each_capacitor_over_link() if doubler else 1.0
    return tuple(each * farad for farad in link_capacitances_f(drive_rating_w, three_phase_type))


def _ends(numbers: Iterable[float]) -> tuple[float, float]:
    every = tuple(numbers)
    return min(every), max(every)


def drive_output(state: BridgeState) -> DriveOutput:
    """Line volts a drive gives undistorted: link voltage over sqrt 2 (third harmonic added)."""
    return DriveOutput(state.link_min_v / math.sqrt(2.0), state.link_mean_v / math.sqrt(2.0))


def motor_share(motor_current_a: float, drive_current_a: float) -> tuple[Verdict, Reason]:
    """How well a motor's amps fit a drive's: 30 to 100 % suits, 20 to 30 % with conditions.

    Common practice, no source; the trade's narrower rule (two thirds to full) is told in words.
    """
    if not motor_current_a > 0.0 or not drive_current_a > 0.0:
        raise NotComputable("a motor's share of its drive needs both currents above zero")
    of = table("drives", "motor_share")
    share = motor_current_a / drive_current_a
    told = f"the motor takes {share:.0%} of the drive's {drive_current_a:.3g} A"
    if share > 1.0 + 1e-9:
        return "refused", Reason("drive_too_small", f"{told}: the drive is too small")
    if share < of.number("conditions") - 1e-9:
        return "refused", Reason(
            "drive_too_large", f"{told}: too little for the drive to protect or steer it"
        )
    if share < of.number("suits") - 1e-9:
        return "with_conditions", Reason(
            "drive_large",
            f"{told}: its overload setting must reach down to {motor_current_a:.3g} A, and low "
            "speeds are steered poorly",
        )
    habit = ""
    if share < of.number("trade_rule") - 1e-9:
        habit = "; the trade's habit of two thirds to full load is not needed (common practice)"
    return "suits", Reason("drive_fits", told + habit)


def three_phase_type_share(printed_share: float | None = None) -> tuple[float, tuple[Reason, ...]]:
    """What a drive made for three-phase input may give when fed from one phase, and on what terms.

    Half of its amps unless its maker prints another share; only where the maker allows it.
    """
    of = table("drives", "single_phase_feed")
    share = of.number("share") if printed_share is None else printed_share
    terms = (
        ("maker_allows", "its maker allows single-phase feed in writing"),
        ("phase_loss_off", "its watch for a lost input phase can be switched off"),
        ("input_choke", "an input choke is fitted"),
        ("supply_voltage", f"the supply stays above {of.number('supply_least'):.0%} of nominal"),
    )
    return share, tuple(Reason(code, words) for code, words in terms)
