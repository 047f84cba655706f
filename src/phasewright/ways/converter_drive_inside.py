"""A motor behind a drive inside its machine, the machine on a rotary converter's three lines.

The motor meets the drive alone; on the lines hangs the drive's rectifier, which starts without a
surge and takes what the shaft gives and the two lose.
"""

from __future__ import annotations

from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint, NotComputable, TableEnds
from phasewright.quantities.finding import Reason
from phasewright.quantities.value import Value, figure
from phasewright.rules.generated_line import unbalance
from phasewright.running.rectifier import Rectifier
from phasewright.ways.asked import Asked, by_rules, condition
from phasewright.ways.conditions import demand_ratio, of_cautions, on_three_lines, typical_ratio
from phasewright.ways.converter_design import Design
from phasewright.ways.converter_rectifier import (
    Rectified,
    asked_of,
    figures_of,
    of_volts,
    rectified,
    rulings,
)
from phasewright.ways.figures import (
    Figures,
    IdleLoaded,
    Range,
    RunCapacitance,
    UnbalanceIdleLoaded,
    UnbalancePair,
)
from phasewright.ways.mains import over_room
from phasewright.ways.on_converter import draw_of, idler_refusals
from phasewright.ways.on_two_lines import Linked
from phasewright.ways.rectified import drive_inside, in_one, rectifier_of
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.surroundings import of_idler_there
from phasewright.ways.way import Service, Task

NAME: WayName = "rotary_converter"


def has_drive_inside(task: Task) -> bool:
    """Whether the machine's own drive stands between the lines and this motor."""
    return task.machine.starter == "drive_inside"


def most_ratio(motor: Linked) -> float:
    """The highest torque its machine asks for, over the rated one."""
    return max(typical_ratio(motor.load), demand_ratio(motor.load))


def serve(
    task: Task, site: Site, of: Design, motor: Linked, idler_heat_share: float
) -> Served | tuple[Reason, ...]:
    """What the drive's rectifier gets and takes here, or why it must not be.

    `idler_heat_share` of its rated losses is what the idler bears in the air where it stands.
    """
    volts, beside = site.source.voltage_v, rectifier_of(task.machine, site.source.voltage_v)

    def at(ratio: float) -> Rectified:
        whole = in_one((drive_inside(motor, ratio), beside))
        assert whole is not None  # the drive takes something even with its motor unloaded
        return rectified(site.source, of.converter, (), whole)

    try:
        unloaded, usual, highest = (
            at(ratio) for ratio in (0.0, typical_ratio(motor.load), most_ratio(motor))
        )
    except (NoOperatingPoint, NotComputable, TableEnds) as refusal:
        return (Reason("rectifier_not_served", str(refusal)),)
    against = idler_refusals(of.converter, usual.found.settled, idler_heat_share)
    against += over_room(site, highest.supply_a, "Converter and drive draw")
    if against:
        return tuple(against)
    asked = _asked(task, motor, usual, highest, volts) + of_volts(task.machine, volts)
    asked += of_idler_there(site)
    point = usual.found.settled
    return Served(
        motor.link, None,
        Service(
            unloaded=draw_of(unloaded.found.settled),
            typical=draw_of(point),
            demand=draw_of(highest.found.settled),
            starting_current_a=highest.supply_a,
            dip_ratio=max(0.0, 1.0 - highest.found.settled.line_voltages_v[0] / volts),
        ),
        asked.conditions, _figures(of, motor, usual, highest), asked.told, (point.vuf, point.nema),
        rulings=rulings(highest, task.machine.name, volts),
    )  # fmt: skip


def _asked(
    task: Task, motor: Linked, usual: Rectified, highest: Rectified, volts: float
) -> Asked:  # fmt: skip
    point = usual.found.settled
    times = max(highest.found.bridge.line_currents_a) / max(highest.equal.line_currents_a)
    return (
        of_cautions(motor.load)
        + on_three_lines(task.machine, idler=True)
        + condition(
            "drive_inside",
            f"At its highest load {times:.1f} times the amps of three equal lines pass two legs of "
            "the drive inside: only where its rating is that much above its motor's, or its maker "
            f"allows it. Its plate must ask for {volts:.0f} V between three lines, and some take "
            "unequal lines for a lost one.",
        )
        + by_rules(unbalance(point.vuf, point.nema, True, motor.motor.id))
        + asked_of(highest, task.machine.name, volts)
    )


def _figures(of: Design, motor: Linked, usual: Rectified, highest: Rectified) -> Figures:
    point = highest.found.settled
    inputs = {
        "idler": (of.converter.idler_power_w, "W"),
        "rectifier": (highest.rectifier.link_power_w, "W"),
        "C23": (of.converter.run_f.c23, "F"),
        "C31": (of.converter.run_f.c31, "F"),
    }

    def out(number: float, unit: str) -> Value:
        return figure(
            number, unit, "running.rectifier.with_rectifier", inputs,
            "periodic state of the bridge in balance with the three-line network",
        )  # fmt: skip

    low, high = sorted((usual.supply_a, highest.supply_a))
    run = of.converter.run_f
    return Figures(
        input_current_a=Range(low, out(highest.supply_a, "A"), high),
        input_power_w=out(point.supply_power_w, "W"),
        input_power_factor=out(
            point.supply_power_w / (point.line_voltages_v[0] * highest.supply_a), ""
        ),
        usable_power_w=motor.motor.power_w,
        idle_power_w=out(of.idle.supply_power_w, "W"),
        idler_power_w=out(of.converter.idler_power_w, "W"),
        run_capacitance_f=RunCapacitance(out(run.c12, "F"), out(run.c23, "F"), out(run.c31, "F")),
        start_capacitance_f=out(of.converter.start_f, "F"),
        line_voltages_v=IdleLoaded(of.idle.line_voltages_v, point.line_voltages_v),
        unbalance=UnbalanceIdleLoaded(
            UnbalancePair(of.idle.vuf, of.idle.nema), UnbalancePair(point.vuf, point.nema)
        ),
        efficiency_loaded=out(point.resistive_loads_w / point.supply_power_w, ""),
        rectifier=figures_of(highest),
    )


def drives_of(tasks: tuple[Task, ...], motors: list[Linked]) -> Rectifier | None:
    """The drives inside that these motors hang on, each at the highest load it may ask for;
    None where none has one. Raises TableEnds."""
    return in_one(
        drive_inside(motor, most_ratio(motor))
        for task, motor in zip(tasks, motors, strict=True)
        if has_drive_inside(task)
    )
