"""What an owner is told of a motor on its drive: slow and fast speeds, belts, lead, bearings."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.machines.load import Load
from phasewright.quantities.value import Value
from phasewright.shop.machine import OwnSpeeds, Wants
from phasewright.ways.asked import Asked, condition, told
from phasewright.ways.conditions import demand_ratio
from phasewright.ways.drive_speed import Speeds
from phasewright.ways.figures import Figures
from phasewright.ways.motor_figures import Insulation
from phasewright.ways.motor_lead import REMEDIES
from phasewright.ways.own_steps import cover
from phasewright.ways.torque_speed import Envelope, need_at

_ROOM = 0.005
_GAIN = 0.05
"""Speed the other link adds that is worth a word (our choice)."""
_LITTLE = 0.05
"""Torque missing at the plate's speed that is not worth a word: less than the volts are sure."""


@dataclass(frozen=True, slots=True)
class Side:
    """What the words need beside the figures."""

    wants: Wants
    speeds: Speeds
    own: OwnSpeeds | None
    own_range: Value | None
    load: Load
    envelope: Envelope
    bearings: bool
    power_w: float
    kind_least: float


def words_of(figures: Figures, side: Side) -> Asked:
    """Everything that is told, and what it asks."""
    whole = _torques(figures, side) + _slow(figures, side) + _fast(figures, side)
    whole += _own_speeds(figures, side)
    whole += _volts(figures, side) + _tuned(figures, side)
    if figures.insulation is not None:
        whole += _lead(figures.insulation)
    if side.bearings:
        whole += condition(
            "bearing_currents",
            f"A motor of {side.power_w / 1000.0:.0f} kW in so large a frame passes currents "
            "through its bearings on a drive: a screened lead earthed all round at both ends, one "
            "insulated bearing or an earthing brush on the shaft.",
        )
    return whole


def _origin(price: Value) -> str:
    """Where a price comes from, without the name of the thing."""
    return price.source.partition(": ")[2]


def _torques(figures: Figures, side: Side) -> Asked:
    """Torque at a few speeds, where other speeds than the plate's are wished for."""
    if side.wants.speed is None or figures.torque_speed is None:
        return Asked()
    every = [
        f"{at.speed_ratio:.0%}: {at.lasting_ratio:.0%} ({at.lasting_with_fan_ratio:.0%}, "
        f"{at.short_time_ratio:.0%}, {at.need_ratio:.0%})"
        for at in figures.torque_speed
        if at.lasting_ratio is not None
    ]
    return told(
        "torque_over_speed",
        "Share of its speed, and of its torque for ever (with a fan of its own, for a minute, what "
        f"the machine usually asks): {'; '.join(every)}.",
    )


def _slow(figures: Figures, side: Side) -> Asked:
    """A wished speed below what its own fan cools for ever."""
    wished = side.wants.speed
    if wished is None or wished[0] >= side.speeds.slowest.number - _ROOM:
        return Asked()
    slow, spell, fan = wished[0], figures.slowest_spell_s, figures.lowest_speed_with_fan_ratio
    said = ""
    if spell is not None:
        said = (
            f" By its own fan it bears its load at {slow:.0%} for about {spell.number / 60.0:.0f} "
            f"min from cold ({spell.low / 60.0:.0f} min when warm from work)."
        )
    price = figures.forced_fan_price
    cost = "" if price is None else f" (about {price.number:.0f}, {_origin(price)})"
    if fan is not None and fan.number <= slow + _ROOM:
        return told(
            "forced_fan_helps",
            f"With a fan of its own{cost} it bears its load for ever down to {fan.number:.0%}."
            f"{said}",
        )
    name = side.load.name.replace("_", " ")
    if fan is not None and fan.number <= side.kind_least + _ROOM:
        reach = f"A fan of its own does not help: a {name} must not turn below {fan.number:.0%}."
    elif fan is not None:
        reach = f"Even with a fan of its own it bears its load down to {fan.number:.0%} only."
    else:
        reach = "Even with a fan of its own it bears its load at no speed."
    return told(
        "forced_fan_not_enough", f"{reach} A belt step, a gear or another motor would.{said}"
    )


def _fast(figures: Figures, side: Side) -> Asked:
    """A wished speed beyond the plate's: what the other link would do."""
    wished = side.wants.speed
    other, now = figures.delta_87, side.speeds.fastest
    if wished is None or other is None or other.speed_max_ratio is None or now is None:
        return Asked()
    if wished[1] <= now.number + _ROOM or other.speed_max_ratio.number <= now.number + _GAIN:
        return Asked()
    return told("delta_87", other.words)


def _own_speeds(figures: Figures, side: Side) -> Asked:
    """The machine's own speeds beside the drive's."""
    own, whole = side.own, Asked()
    if own is None or own.kind == "none":
        return whole
    if figures.belt_steps is not None:
        whole += told("belt_steps_kept", figures.belt_steps.words)
    wished, reach = side.wants.speed, side.own_range
    if wished is None and own.steps == 1:
        return whole
    if wished is None:
        return whole + told(
            "own_speeds_enough",
            f"It changes its speed by its own {own.kind}; no other speed is wished for, so none "
            "has to come from a drive.",
        )
    if reach is None or wished[0] <= 0.0:
        return whole
    ratio = wished[1] / wished[0]
    taken = "" if reach.sure else " (steps taken as usual)"
    if cover(own, side.wants):
        return whole + told(
            "own_speeds_enough",
            f"Its own {own.kind} span {reach.number:.1f} to 1{taken}, the wish {ratio:.1f} to 1: "
            "they cover it by themselves, in steps; speeds from a drive are a comfort here.",
        )
    return whole + told(
        "own_speeds_fall_short",
        f"Its own {own.kind} span {reach.number:.1f} to 1{taken}, the wish {ratio:.1f} to 1: they "
        "do not cover it alone.",
    )


def _volts(figures: Figures, side: Side) -> Asked:
    """The link falls under load, and the flux with it before the plate's speed."""
    of = side.envelope
    at = int((of.speed <= 1.0 + 1e-9).nonzero()[0][-1])
    bears, asks = float(of.with_fan[at]), min(1.0, demand_ratio(side.load))
    if bears >= asks - _LITTLE:
        return Asked()
    return told(
        "volts_fade",
        f"At full load the drive gives about {of.on.most_v:.0f} V undistorted where the winding "
        f"wants {of.on.circuit.line_voltage_v:.0f} V: at the plate's speed the motor bears "
        f"{bears:.0%} of its torque for ever and may be asked for {asks:.0%}. Drives that distort "
        "their output on purpose come nearer; else run it a little slower.",
    )


def _tuned(figures: Figures, side: Side) -> Asked:
    """Where only a drive that has measured the winding breaks the load away."""
    needs, of = need_at(side.load, 0.0), side.envelope
    plain = float(of.short_time.torque_nm[0]) / of.rated_nm
    tuned = float(of.tuned.torque_nm[0]) / of.rated_nm
    if needs <= plain or needs > tuned or figures.boost_v is None:
        return Asked()
    return told(
        "tune_to_winding",
        f"Let the drive measure the winding before the first start: with volts in step with hertz "
        f"and a boost of {figures.boost_v.number:.1f} V it heaves {plain:.0%} of the torque from "
        f"rest, tuned {tuned:.0%}; {needs:.0%} is wanted.",
    )


def _lead(of: Insulation) -> Asked:
    """The lead against what winding and drive bear."""
    longest, lead = of.longest_lead_m.number, of.lead_m
    what = {
        "peak": f"there the edges, with their echo, reach the {of.allowed_peak_v.number:.0f} V "
        "that an ordinary winding bears (NEMA MG 1, part 30)",
        "old_winding": "its insulation is from before drives (common practice)",
        "drive": "a longer one takes more amps to charge than a small drive has",
    }[of.longest_by]
    cost = of.remedy_price
    price = "" if cost is None else f" (about {cost.number:.0f}, {_origin(cost)})"
    if lead.number > longest:
        return condition(
            "lead_too_long",
            f"A motor lead of {lead.number:.0f} m is longer than {longest:.0f} m: {what}. "
            f"Hang the drive nearer, or fit {REMEDIES[of.remedy]}{price}.",
        )
    if lead.high > longest and of.longest_by != "old_winding":  # an old winding is told of anyhow
        return told("keep_lead_short", f"Keep the motor lead below {longest:.0f} m: {what}.")
    return Asked()
