"""One motor alone on two lines with a run capacitor to its third terminal, tuned to its load.

The capacitor is the one with which the motor may give most for ever, with no line beyond its
rating, unloaded or loaded; where a small motor leaves none, the one that keeps its windings
coolest. At a power-factor angle of 60 degrees one capacitor balances the motor exactly; at other
loads it is a compromise.
"""

from __future__ import annotations

import math

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.running.usable import usable
from phasewright.tables.sizes import RUN_CAPACITORS_F
from phasewright.ways.asked import Asked, refusal, told
from phasewright.ways.lasting import mean_ratio
from phasewright.ways.lone_motor import asked_of, figures_of, judged, lone
from phasewright.ways.motor_kind import on_supply_volts
from phasewright.ways.on_two_lines import (
    Linked,
    best_run_capacitor,
    loaded,
    network_of,
)
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Task, refused

NAME: WayName = "capacitor_run"
NOT_ADVISED_ABOVE_W = 1800.0
"""Above this shaft power the trade advises against it (common practice, no source)."""


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a run capacitor for this motor."""
    motor = on_supply_volts(task, NAME)
    if isinstance(motor, tuple):
        return refused(NAME, *motor)
    run_f, _ = best_run_capacitor(site.source, motor)
    run_f = run_f or _coolest(site, motor)
    if run_f == 0.0:
        return refused(
            NAME,
            Reason(
                "no_capacitor_fits",
                "No run capacitor keeps its lines or its windings within rating.",
            ),
        )
    of = lone(site.source, motor, run_f)
    asked = (
        _advised(motor)
        + asked_of(task, site, of, NAME, "capacitor_run")
        + _habit(site, motor, run_f)
    )
    balanced = Reason("balanced_by_one_capacitor", "One capacitor makes the third line's share.")
    return judged(NAME, task, site, of, asked, (balanced,), figures_of(site, of))


def _coolest(site: Site, motor: Linked) -> float:
    """The run capacitor that leaves the windings coolest where none keeps every line in rating.

    Small motors idle near their rated current, so a line always exceeds it; their windings may
    stay cool all the same, unloaded and at the usual load. 0 F where they do not.
    """
    wanted = mean_ratio(motor.load)
    best, best_ratio = 0.0, 0.0
    for can in RUN_CAPACITORS_F:
        if can > motor.circuit.rated_current_a / (
            2.0 * math.pi * site.source.frequency_hz * site.source.voltage_v
        ):
            break
        use = usable(
            network_of(site.source, motor, can), motor.motor.id, windings=motor.windings,
            heat_share=motor.motor.heat_share,
        )  # fmt: skip
        cool = use.by_hot_spot is not None and use.by_hot_spot.lowest == 0.0
        if cool and use.by_heat >= wanted and use.by_heat > best_ratio:
            best, best_ratio = can, use.by_heat
    return best


def _advised(motor: Linked) -> Asked:
    if motor.rated_w <= NOT_ADVISED_ABOVE_W:
        return Asked()
    return refusal(
        "not_advised_at_this_power",
        f"A run capacitor alone is not advised above {NOT_ADVISED_ABOVE_W / 1000.0:g} kW (common "
        "practice): the figures are told, the plan does not use it.",
    )


def _habit(site: Site, motor: Linked, run_f: float) -> Asked:
    """The trade's larger capacitor, whose current is the motor's, and what it does unloaded."""
    circuit = motor.circuit
    omega = 2.0 * math.pi * site.source.frequency_hz
    habit_f = circuit.rated_current_a / (omega * circuit.line_voltage_v)
    if habit_f <= 1.1 * run_f:
        return Asked()
    words = (
        f"A habit takes {habit_f * 1e6:.0f} µF, whose current is the motor's rated one: for a "
        f"motor that is never unloaded. {run_f * 1e6:.0f} µF is cooler unloaded"
    )
    free = loaded(site.source, motor, habit_f, 0.0)
    if free is None:
        return told("larger_capacitor", f"{words}.")
    times = max(free.machines[0].line_currents_a) / circuit.rated_current_a
    return told(
        "larger_capacitor", f"{words}; with the larger one it draws {times:.2f} times that idling."
    )
