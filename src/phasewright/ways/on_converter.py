"""What a motor gets and takes on a given rotary converter, with the figure of every verdict."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.leakage import MIDDLE, STRONG, LeakageLaw, with_leakage_at
from phasewright.machines.performance import rated
from phasewright.network.supply import Source
from phasewright.quantities.codes import LoadKindName
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.finding import Reason
from phasewright.running.converter import Converter, on_converter
from phasewright.running.network import Connected, MachineState, Network, Settled
from phasewright.running.settle import settle, stalled
from phasewright.running.usable import Usable, usable
from phasewright.starts.brief import Brief, brief_of
from phasewright.starts.course import Starter
from phasewright.starts.on_converter import LONGEST_S, on_running
from phasewright.tables.published import table
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.way import Draw

USUAL_START_S = 10.0
"""A start within this passes a usual overload relay (class 10, IEC 60947-4-1, from memory)."""
MOST_ASKED = 1.2
"""Torque over the rated one up to which a motor is tried; shocks of its load are tried too."""


def deepest_dip() -> float:
    """Dip at a start beyond which a contactor may not pull in any more."""
    return 1.0 - table("limits", "coils").number("pull_in")


@dataclass(frozen=True, slots=True)
class Hung:
    """One motor on a converter, nothing else turning: its points, limits and start.

    `start` is its start in time with the usual leakage at starting current and the worst torque to
    break away.
    """

    unloaded: Settled
    typical: Settled
    demand: Settled | None
    use: Usable
    starting_torque_ratio: float
    start: Brief

    @property
    def starting_a(self) -> float:
        """The largest rms of a cycle of the supply current in its start [A]."""
        return self.start.supply_a

    @property
    def dip_ratio(self) -> float:
        """The deepest fall of the service in its start against the volts at no load."""
        return 1.0 - self.start.service_ratio


@lru_cache(maxsize=8192)
def hang(
    source: Source, converter: Converter, motor: Linked, typical: float, demand: float
) -> Hung:
    """A motor hung on a converter: its running points without, at usual and at highest load.

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
    amps = starting_amps(source, converter, motor)
    usual_leakage = with_leakage(motor, amps, MIDDLE)
    shaped = stalled(
        on_converter(source, converter, (usual_leakage.connected(typical),)), motor.motor.id
    )
    return Hung(
        unloaded=unloaded,
        typical=usual,
        demand=highest,
        use=use,
        starting_torque_ratio=shaped.machines[-1].shaft_torque_nm / motor.rated_nm,
        start=started(source, converter, usual_leakage, typical),
    )


@lru_cache(maxsize=8192)
def weakest_start(source: Source, converter: Converter, motor: Linked, typical: float) -> Brief:
    """The start of `Hung` with leakage that saturates strongly, which starts the motor weakest."""
    amps = starting_amps(source, converter, motor)
    return started(source, converter, with_leakage(motor, amps, STRONG), typical)


@lru_cache(maxsize=8192)
def starting_amps(source: Source, converter: Converter, motor: Linked) -> float:
    """The largest line current of a motor at standstill on the converter [A]."""
    held = stalled(on_converter(source, converter, (motor.connected(0.0),)), motor.motor.id)
    return max(state_of(held, motor.motor.id).line_currents_a)


def with_leakage(motor: Linked, current_a: float, law: LeakageLaw) -> Linked:
    """The motor with its leakage paths saturated as far as at this starting current."""
    return replace(motor, circuit=with_leakage_at(motor.circuit, current_a, law))


def started(source: Source, converter: Converter, motor: Linked, typical: float) -> Brief:
    """A motor's start on the running converter, in time, nothing else turning.

    The load follows its law at what it asks for on the way up, and takes its worst torque to
    break away. Raises NoOperatingPoint where the converter does not settle.
    """
    course = on_running(source, converter, starting(motor, typical))
    return brief_of(course, len(course.starters) - 1)


def starting(motor: Linked, typical: float) -> Starter:
    """The motor as it starts: what its load asks on the way up, and at the worst to break away."""
    return motor.starter(motor.run_up_ratio(typical), motor.load.breakaway_torque.high)


def _try(network: Network) -> Settled | None:
    try:
        return settle(network)
    except NoOperatingPoint:
        return None


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
    return found + start_refusals(motor, hung.start) + dip_refusals(hung.dip_ratio)


def dip_refusals(dip_ratio: float) -> list[Reason]:
    """Why a start that pulls the service down so far, against its volts at no load, must not be."""
    if dip_ratio <= deepest_dip():
        return []
    return [
        Reason(
            "dip_too_deep",
            f"Its start pulls the supply down by {dip_ratio:.0%}; a contactor needs "
            f"{1.0 - deepest_dip():.0%} of its volts to pull in.",
        )
    ]


def start_refusals(motor: Linked, start: Brief) -> list[Reason]:
    """Why a start in time fails: it does not run up, drags others down, or takes too long."""
    return failures(motor.load.name, start)


def failures(load: LoadKindName, start: Brief) -> list[Reason]:
    """The same by the kind of what is started: a separator's clutch gives it all the time."""
    if start.pulled_down:
        names = ", ".join(start.pulled_down)
        return [Reason("pulls_others_down", f"Its start pulls down what runs already: {names}.")]
    if start.outcome.runs_up is False:
        return [Reason("does_not_run_up", f"Computed in time, {start.outcome.words}")]
    if start.outcome.runs_up is None and load != "separator":
        return [
            Reason(
                "runs_up_too_slowly",
                f"After {LONGEST_S:.0f} s, the longest any overload relay lets pass, it has come "
                f"to {start.outcome.end_speed_rpm:.0f} rpm and is still speeding up.",
            )
        ]
    return []


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
