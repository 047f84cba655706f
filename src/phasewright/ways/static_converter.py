"""A start capacitor only: it brings one motor up to speed and drops out; the motor then runs on
two lines.

The same box with a run capacitor left in is another thing with another figure: both are given,
the second as `tuned_usable_power_w`; `capacitor_voltage_v` is the second's.
"""

from __future__ import annotations

from dataclasses import replace

from phasewright.quantities.codes import WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.ways.lone_motor import SOURCE, asked_of, capacitor_v, figures_of, judged, lone
from phasewright.ways.motor_kind import on_supply_volts
from phasewright.ways.on_two_lines import best_run_capacitor, loaded
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Task, refused

NAME: WayName = "static_converter"


def judge(task: Task, site: Site) -> Judgement:
    """Verdict, figures and offer of a start-only static converter for this motor."""
    motor = on_supply_volts(task, NAME)
    if isinstance(motor, tuple):
        return refused(NAME, *motor)
    of = lone(site.source, motor, 0.0)
    figures = figures_of(site, of)
    tuned_f, tuned = best_run_capacitor(site.source, motor)
    if tuned_f > 0.0:
        inputs = {"supply": (site.source.voltage_v, "V"), "rated power": (motor.rated_w, "W")}

        def out(number: float, unit: str) -> Value:
            where = "ways.on_two_lines.best_run_capacitor"
            return figure(number, unit, where, inputs, SOURCE)

        figures = replace(
            figures,
            tuned_run_capacitance_f=out(tuned_f, "F"),
            tuned_usable_power_w=out(tuned * motor.rated_w, "W"),
            capacitor_voltage_v=out(
                capacitor_v(*(loaded(site.source, motor, tuned_f, at) for at in (0.0, tuned))), "V"
            ),
        )
    asked = asked_of(task, site, of, NAME, "static_start_only")
    starts = Reason("runs_on_two_lines", "It starts by a capacitor and runs on two lines.")
    return judged(NAME, task, site, of, asked, (starts,), figures)
