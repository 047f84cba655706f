"""The earth fault of line 3 in a plan: of a converter's idler alone, or of a motor on capacitors.

With the idler alone the current is least: every motor on the lines feeds the fault as well.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.installation import PhaseRelay
from phasewright.plan.circuit_supply import Tap, tap_of
from phasewright.plan.facts import Facts
from phasewright.plan.study import PlanCase, PlanEquipment, PlanMotor, PlanStart
from phasewright.plan.to_earth import earthed_of
from phasewright.plan.units import Unit
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.value import Value, figure
from phasewright.running.converter import on_converter
from phasewright.running.line3_fault import EarthedPoint, Line3Fault, line3_fault
from phasewright.running.network import Between, Network
from phasewright.tables.circuits import phase_relay
from phasewright.ways.conditions import typical_ratio
from phasewright.ways.figures import Figures
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.shared_source import Shared

OWN_LOOP_OHM = 0.3
"""Line and protective conductor to a machine, 20 m of 2.5 mm2 hot (assumed; a circuit's own
is put in its place afterwards)."""


def of_converter(facts: Facts, on: Shared) -> Line3Fault | None:
    """Of a rotary converter's idler alone; None where nothing of the supply is earthed."""
    if on.design is None:
        return None
    tap = tap_of(facts, on.place)
    return _fault(facts, tap, on_converter(tap.site.source, on.design.converter, ()))


def of_motor(facts: Facts, unit: Unit, figures: Figures) -> Line3Fault | None:
    """Of a motor that runs on two lines with capacitors of its own, at its usual load."""
    motor = linked(unit.motor)
    if not isinstance(motor, Linked):
        return None
    run = figures.run_capacitance_f
    bank = Between(c31=run.number) if isinstance(run, Value) else Between()
    tap = tap_of(facts, unit.place)
    machine = motor.connected(typical_ratio(motor.load))
    return _fault(facts, tap, Network(tap.site.source, bank, (machine,)))


def return_ohm(facts: Facts, tap: Tap) -> complex:
    """The protective conductor of the feeder between this place and the supply's earth [ohm]:
    half of the feeder's loop, for it is taken as thick as a line."""
    return (tap.usual - tap_of(facts, "").usual) / 2.0


def _fault(facts: Facts, tap: Tap, network: Network) -> Line3Fault | None:
    if tap.ground.point is None:
        return None
    loop = return_ohm(facts, tap) + OWN_LOOP_OHM + tap.electrode_high_ohm
    points: tuple[EarthedPoint, ...] = (tap.ground.point,)
    if earthed_of(facts.shop.supply) == "unknown":
        points = ("line_2", "centre")
    try:
        found = [line3_fault(network, loop, point) for point in points]
    except NotComputable:
        return None
    return min(found, key=lambda each: each.settled_a)


def relay_of(
    cases: tuple[PlanCase, ...], starts: tuple[PlanStart, ...]
) -> PhaseRelay | None:  # fmt: skip
    """The relay that blocks the outlets, set just outside what the plan's own sets and starts do;
    None where no set of it turns on three lines."""
    volts = [v.number for case in cases for v in case.line_voltages_v or ()]
    apart = [case.unbalance.nema.number for case in cases if case.unbalance is not None]
    if not volts or not apart:
        return None
    there = [start for start in starts if not start.planned]
    times = [each for start in there for each in (start.time_s, start.time_high_s) if each]
    longest = max((each.number for each in times), default=0.0)
    return PhaseRelay(
        undervoltage_v=phase_relay("volts_share") * min(volts),
        unbalance=max(apart) + phase_relay("unbalance_more"),
        delay_s=longest + phase_relay("delay_s"),
    )


def with_line3(
    each: PlanEquipment, fault: Line3Fault | None, ohm: float
) -> PlanEquipment:  # fmt: skip
    """The equipment with its own earth-fault current of line 3 among its figures."""
    if fault is None:
        return each
    return replace(each, figures=replace(each.figures, line3_earth_fault_a=line3_value(fault, ohm)))


def motor_with_line3(each: PlanMotor, fault: Line3Fault | None, ohm: float) -> PlanMotor:
    """The same of a motor that hangs on it."""
    if fault is None:
        return each
    return replace(each, figures=replace(each.figures, line3_earth_fault_a=line3_value(fault, ohm)))


def line3_value(fault: Line3Fault, ohm: float) -> Value:
    """The settled current through a loop of `ohm`; high: before the rotor's flux has died away."""
    settled = fault.through(complex(ohm))
    inputs = {
        "source of line 3": (abs(fault.open_v), "V"),
        "behind": (abs(fault.behind_ohm), "ohm"),
        "loop": (ohm, "ohm"),
    }
    return figure(
        settled, "A", "running.line3_fault.line3_fault", inputs,
        "idler in two sequences with line 3 on earth, nothing else turning; high: the first cycles",
        high=settled * max(1.0, fault.first_cycles_a / fault.settled_a),
    )  # fmt: skip
