"""How a motor on a drive is stopped: by which means, how fast, and what that asks for.

Common practice, no source, unless the rule that says it names one.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from phasewright.machines.motor import Motor
from phasewright.quantities.value import Value, figure
from phasewright.rules.stopping import (
    brake_coil,
    holds_nothing,
    injection_heat,
    run_down,
    run_down_s,
    threaded_nose,
)
from phasewright.shop.machine import Machine
from phasewright.tables.stopping import (
    least_ramp_s,
    may_be_injected,
    pulls_its_shaft,
    threaded_least_s,
)
from phasewright.ways.asked import Asked, by_rules, told
from phasewright.ways.drive_in_time import OnThisDrive, ramps, turning_inertia
from phasewright.ways.emergency import emergency_stop
from phasewright.ways.figures import (
    BrakeResistorFigures,
    DcInjectionFigures,
    EmergencyStopFigures,
    Figures,
    StoppingFigures,
)
from phasewright.ways.purchase import Item
from phasewright.ways.site import Site
from phasewright.ways.stop_case import NOTHING, Chosen, StopCase
from phasewright.ways.stop_choice import chosen_of
from phasewright.ways.stop_means import (
    by_direct_current,
    coasting,
    field_rad_s,
    rotor_bears_j,
    shaft_j,
)
from phasewright.ways.wishes import WOODWORKING, wants_of


@dataclass(frozen=True, slots=True)
class Stop:
    """What is asked, what is bought for it (a brake resistor or nothing), and the figures."""

    asked: Asked = NOTHING
    items: tuple[Item, ...] = ()
    ramp_up_s: Value | None = None
    ramp_down_s: Value | None = None
    stopping: StoppingFigures | None = None
    coasting_s: Value | None = None
    brake_resistor: BrakeResistorFigures | None = None
    dc_injection: DcInjectionFigures | None = None
    emergency_stop: EmergencyStopFigures | None = None

    def told_in(self, figures: Figures) -> Figures:
        """The figures of a way with those of its ramps and its stop."""
        return replace(
            figures,
            ramp_up_s=self.ramp_up_s,
            ramp_down_s=self.ramp_down_s,
            stopping=self.stopping,
            coasting_s=self.coasting_s,
            brake_resistor=self.brake_resistor,
            dc_injection=self.dc_injection,
            emergency_stop=self.emergency_stop,
        )


@lru_cache(maxsize=512)
def stop_of(machine: Machine, motor: Motor, on: OnThisDrive, site: Site) -> Stop:
    """How this motor is stopped on this drive."""
    load = motor.load
    assert load is not None  # ways keep motors without one out
    inertia = turning_inertia(motor)
    up, shortest = ramps(on, inertia)
    least_s = least_ramp_s(load.name)
    if machine.spindle_nose == "threaded":
        least_s = max(least_s, threaded_least_s(load.inertia_kg_m2.number, field_rad_s(on)))
    coasts = coasting(on, load, inertia)
    injection, hot = _injection(machine, motor, on, inertia)
    within, wished = _within(machine, motor)
    case = StopCase(
        machine, motor, on, site, least_s, within, wished, _no_shorter(shortest, least_s), injection
    )
    chosen = chosen_of(case, coasts)
    emergency, asks = emergency_stop(machine, motor, coasts, _braked(case, chosen))
    return Stop(
        asked=chosen.asked + hot + _of_machine(case, chosen, coasts) + asks,
        items=chosen.items,
        ramp_up_s=up,
        ramp_down_s=chosen.ramp or case.ramp,
        stopping=StoppingFigures(chosen.by, chosen.time),
        coasting_s=coasts,
        brake_resistor=None if chosen.resistor is None else chosen.resistor.figures,
        dc_injection=injection,
        emergency_stop=emergency,
    )


def _within(machine: Machine, motor: Motor) -> tuple[float | None, bool]:
    """Seconds in which it is to stop, and whether the owner wished so; else what is expected
    where staff use a woodworking machine."""
    wish = wants_of(machine, motor).stop_within
    if wish is not None:
        return wish.number, True
    assert motor.load is not None
    if machine.users == "employees" and motor.load.name in WOODWORKING:
        return run_down_s(motor.load.name == "flywheel"), False
    return None, False


def _no_shorter(ramp: Value | None, least_s: float) -> Value | None:
    """The shortest ramp, or the shortest that the machine bears where that is longer."""
    if ramp is None or ramp.low >= least_s:
        return ramp
    low, number, high = (max(each, least_s) for each in (ramp.low, ramp.number, ramp.high))
    inputs = {"drive's shortest": (ramp.number, "s"), "machine's shortest": (least_s, "s")}
    words = "the longer of what drive and machine bear"
    return figure(number, "s", "ways.stopping.stop_of", inputs, words, low=low, high=high)


def _injection(
    machine: Machine, motor: Motor, on: OnThisDrive, inertia: Value
) -> tuple[DcInjectionFigures | None, Asked]:
    """Direct current where machine and rotor bear it; told where the rotor does not."""
    assert motor.load is not None
    held = machine.brake is not None and machine.brake.kind == "spring_electric"
    if held or machine.spindle_nose == "threaded" or not may_be_injected(motor.load.name):
        return None, Asked()
    if injection_heat(shaft_j(on), rotor_bears_j(on), motor.id).findings:
        return None, told(
            "injection_too_hot",
            f"Direct current is not for it: the {shaft_j(on) / 1e3:.2g} kJ of all that turns would "
            f"end in its rotor, made for about {rotor_bears_j(on) / 1e3:.2g} kJ at a time.",
        )
    return by_direct_current(on, inertia), Asked()


def _of_machine(case: StopCase, chosen: Chosen, coasts: Value | None) -> Asked:
    """What nose, brake, load and staff ask of the stop that was chosen."""
    machine, motor = case.machine, case.motor
    assert motor.load is not None
    name, brake = motor.load.name, machine.brake
    ramp = chosen.ramp or case.ramp
    takes = coasts if chosen.by == "coasting" else chosen.time
    rulings = [
        threaded_nose(
            machine.spindle_nose, None if ramp is None else ramp.number, case.least_s,
            chosen.by == "dc_injection", motor.id,
        ),
        holds_nothing(pulls_its_shaft(name), case.own_brake, motor.id),
    ]  # fmt: skip
    if brake is not None and brake.kind == "mechanical":  # a spring brake's is told with its kind
        rulings.append(brake_coil(brake.kind, brake.fed_from, motor.id))
    if not case.own_brake:
        rulings.append(
            run_down(
                None if takes is None else takes.number, machine.users, name in WOODWORKING,
                name == "flywheel", motor.id,
            )
        )  # fmt: skip
    return by_rules(*rulings)


def _braked(case: StopCase, chosen: Chosen) -> Value | None:
    """What an emergency stop by a ramp takes; None where nothing ramps it down."""
    if chosen.by == "ramp_with_resistor":
        return chosen.time
    return case.ramp
