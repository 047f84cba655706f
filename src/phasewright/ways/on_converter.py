"""What a motor gets and takes on a given rotary converter, with the figure of every verdict."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from phasewright.machines.performance import rated
from phasewright.network.supply import Source
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, MachineState, Network, Settled
from phasewright.running.settle import at_slips, settle, settled_slips, stalled
from phasewright.running.usable import Usable, usable
from phasewright.tables.published import table
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.way import Draw

LONGEST_START_S = 30.0
"""A start beyond this trips overload relays even of the slowest class (class 30, IEC 60947-4-1,
from memory) and cooks the motor."""
USUAL_START_S = 10.0
"""A start within this passes a usual overload relay (class 10, IEC 60947-4-1, from memory)."""
MOST_ASKED = 1.2
"""Torque over the rated one up to which a motor is tried; shocks of its load are tried too."""
_RUN_UP = np.array([1.0, 0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1])


def deepest_dip() -> float:
    """Dip at a start beyond which a contactor may not pull in any more."""
    return 1.0 - table("limits", "coils").number("pull_in")


@dataclass(frozen=True, slots=True)
class Hung:
    """One motor on a converter, nothing else turning: its points, limits and start."""

    unloaded: Settled
    typical: Settled
    demand: Settled | None
    use: Usable
    starting_torque_ratio: float
    run_up_margin: float
    run_up_s: float
    starting_a: float
    dip_ratio: float
    weakest_slip: float


@lru_cache(maxsize=8192)
def hang(
    source: Source, converter: Converter, motor: Linked, typical: float, demand: float
) -> Hung:
    """Hang a motor on a converter.

    `typical`, `demand` are torques over the rated one. Raises NoOperatingPoint where it does
    not hold its usual load; the demand may be more than it can hold (then None).
    """
    unloaded = settle(on_converter(source, converter, (motor.connected(0.0),)))
    usual = settle(on_converter(source, converter, (motor.connected(typical),)))
    highest = _try(on_converter(source, converter, (motor.connected(demand),)))
    use = usable(
        on_converter(source, converter, (motor.connected(0.0),)), motor.motor.id,
        windings=motor.windings, asked=max(MOST_ASKED, motor.load.kind.peak or 0.0),
        heat_share=motor.motor.heat_share,
    )  # fmt: skip
    held = stalled(on_converter(source, converter, (motor.connected(typical),)), motor.motor.id)
    margin, slip, seconds = run_up(source, converter, motor, typical)
    return Hung(
        unloaded=unloaded,
        typical=usual,
        demand=highest,
        use=use,
        starting_torque_ratio=held.machines[-1].shaft_torque_nm / motor.rated_nm,
        run_up_margin=margin,
        run_up_s=seconds,
        starting_a=held.supply_current_a,
        dip_ratio=1.0 - held.line_voltages_v[0] / source.voltage_v,
        weakest_slip=slip,
    )


def _try(network: Network) -> Settled | None:
    try:
        return settle(network)
    except NoOperatingPoint:
        return None


def run_up(
    source: Source, converter: Converter, motor: Linked, typical: float
) -> tuple[float, float, float]:
    """(least torque to spare on the way up over rated torque, slip where it is least, seconds).

    The idler's slip is held at its running value while the motor is led from standstill; the
    load follows its law. The time is the inertia of rotor and load over the torque to spare,
    step by step from standstill to a tenth below synchronous speed; infinite where it sticks.
    """
    asked = motor.run_up_ratio(typical)
    network = on_converter(source, converter, (motor.connected(asked),))
    idle_slips, _ = settled_slips(on_converter(source, converter, ()))
    law = motor.law(asked)
    worst, where, spares = math.inf, 1.0, []
    for slip in _RUN_UP:
        point = at_slips(network, (*idle_slips.tolist(), float(slip)))
        speed = (1.0 - slip) * motor.circuit.synchronous_speed_rpm * math.pi / 30.0
        share = speed / law.speed_rad_s
        follows = {"none": 0.0, "constant": 1.0, "viscous": share, "fan": share * share}
        wanted = law.torque_nm * follows[law.kind]
        spare = (point.machines[-1].shaft_torque_nm - wanted) / motor.rated_nm
        spares.append(spare)
        if spare < worst:
            worst, where = spare, float(slip)
    return worst, where, _seconds(motor, spares)


def _seconds(motor: Linked, spares: list[float]) -> float:
    """Time over the steps of `_RUN_UP`, each with the mean of its ends' torques to spare."""
    if min(spares) <= 0.0:
        return math.inf
    own = motor.motor.inertia_kg_m2
    inertia = motor.load.inertia_kg_m2.number + (0.0 if own is None else own.number)
    synchronous = motor.circuit.synchronous_speed_rpm * math.pi / 30.0
    steps = zip(_RUN_UP, _RUN_UP[1:], spares, spares[1:], strict=False)
    turned = sum(
        float(high - low) / (0.5 * (one + two)) for high, low, one, two in steps
    )  # fmt: skip
    return inertia * synchronous * turned / motor.rated_nm


def draw_of(point: Settled, without: Settled | None = None) -> Draw:
    """What a settled network takes; with `without` the part beyond another point's take."""
    base_w = 0.0 if without is None else without.supply_power_w
    base_var = 0.0 if without is None else without.supply_reactive_var
    return Draw(point.supply_power_w - base_w, point.supply_reactive_var - base_var)


def refusals(motor: Linked, hung: Hung) -> list[Reason]:
    """Why this motor must not hang on this converter: unbalance, start; empty where it may."""
    found = []
    limit = table("limits", "unbalance").number("continuous")
    if hung.demand is None:
        found.append(
            Reason(
                "stalls_at_its_highest_load",
                "At the highest load the machine may ask for the motor would stall here.",
            )
        )
    elif hung.demand.nema > limit:
        found.append(
            Reason(
                "unbalance_too_high",
                f"At the highest load it may ask for the three line volts are "
                f"{hung.demand.nema:.1%} apart (NEMA); above {limit:.0%} no motor should run for "
                "long: the idler is too small for it.",
            )
        )
    breakaway = motor.load.breakaway_torque
    if hung.starting_torque_ratio < breakaway.high:
        found.append(
            Reason(
                "does_not_break_away",
                f"At standstill it gives {hung.starting_torque_ratio:.0%} of rated torque; the "
                f"machine usually needs {breakaway.number:.0%} to break away, at the worst "
                f"{breakaway.high:.0%}.",
            )
        )
    if hung.run_up_margin <= 0.0:
        found.append(
            Reason(
                "does_not_run_up",
                f"On the way up its torque falls below the load's at {1.0 - hung.weakest_slip:.0%} "
                "of synchronous speed.",
            )
        )
    elif hung.run_up_s > LONGEST_START_S and motor.load.name != "separator":
        found.append(
            Reason(
                "runs_up_too_slowly",
                f"It would take about {hung.run_up_s:.0f} s to run up; {LONGEST_START_S:.0f} s is "
                "the longest any overload relay lets pass.",
            )
        )
    if hung.dip_ratio > deepest_dip():
        found.append(
            Reason(
                "dip_too_deep",
                f"Its start pulls the supply down by {hung.dip_ratio:.0%}; a contactor needs "
                f"{1.0 - deepest_dip():.0%} of its volts to pull in.",
            )
        )
    return found


def idler_refusals(converter: Converter, point: Settled, heat_share: float = 1.0) -> list[Reason]:
    """Why an idler does not stand this point for ever; empty where all do.

    `heat_share` of its rated losses is what one bears in the air where it stands.
    """
    found = []
    for idler in converter.idlers:
        loss_w = state_of(point, idler.name).loss_w
        allowed = heat_share * rated(idler.circuit).loss_w
        if loss_w > allowed:
            found.append(
                Reason(
                    "idler_overheats",
                    f"The {idler.name} loses {loss_w:.0f} W here and stands {allowed:.0f} W for "
                    "ever.",
                )
            )
    return found


def state_of(point: Settled, name: str) -> MachineState:
    """The state of the machine of this name."""
    return next(machine for machine in point.machines if machine.name == name)


def together(source: Source, converter: Converter, motors: tuple[Connected, ...]) -> Settled | None:
    """The converter with several motors turning, or None where one of them stalls."""
    return _try(on_converter(source, converter, motors))
