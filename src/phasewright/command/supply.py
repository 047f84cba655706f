"""The supply on the screen: what it is, what is left on it, what the plan's starts do to it."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from phasewright.command.screen import amount, heading, line, tabled
from phasewright.plan.study import CaseHarmonics, PlanCase, PlanSide, Study
from phasewright.quantities.value import Value
from phasewright.ways.figures import Range


def supply(console: Console, study: Study, plan: PlanSide) -> None:
    """What is known of the supply, what must never be tied, room left, effects on the network."""
    heading(console, "The supply")
    of = study.supply
    ohms = (
        f"{amount(of.impedance_ohm.r.number, 'ohm')} and {amount(of.impedance_ohm.x.number, 'ohm')}"
    )
    line(
        console,
        f"Impedance of its loop (resistance and reactance): {ohms}, from {of.impedance_from}. A "
        f"dead short draws {_spread(of.fault_current_a)}.",
    )
    if of.lines_to_earth_v is not None:
        volts = " and ".join(f"{each.number:.0f}" for each in of.lines_to_earth_v)
        up_to = "up to " if of.earthed == "unknown" else ""
        lines = "Lines 1, 2 and 3" if len(of.lines_to_earth_v) == 3 else "Lines 1 and 2"
        line(console, f"{lines} stand {up_to}{volts} V from earth.")
    for each in of.never:
        line(console, each.words, mark=Text("-"))
    _room(console, plan.cases)
    _network(console, plan)


def _spread(of: Value) -> str:
    usual = amount(of.number, of.unit)
    if of.sure:
        return usual
    return f"{usual} ({amount(of.low, of.unit)} to {amount(of.high, of.unit)})"


def _room(console: Console, cases: tuple[PlanCase, ...]) -> None:
    """Room left running and starting, for every set that turns together."""
    if not any(case.room_left_a is not None for case in cases):
        return
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="italic")
    table.add_column("Turning together", overflow="fold")
    for name in ("Takes", "Leaves", "At a start"):
        table.add_column(name, justify="right", no_wrap=True)
    for case in cases:
        table.add_row(
            ", ".join(case.running) or "nothing", amount(case.supply_current_a.number, "A"),
            _left(case.room_left_a), _left(case.room_left_starting_a),
        )  # fmt: skip
    tabled(console, table)
    if any(each is not None and each.number < 0.0 for each in _starting(cases)):
        line(console, "Below zero at a start: the main fuse bears it for as long as the start "
             "takes, or not; see what trips under Starts.")  # fmt: skip


def _starting(cases: tuple[PlanCase, ...]) -> list[Value | None]:
    return [case.room_left_starting_a for case in cases]


def _left(of: Value | None) -> str:
    return "" if of is None else amount(of.number, "A")


def _network(console: Console, plan: PlanSide) -> None:
    """What starts do to the volts and the lamps, and the harmonics of all drives together."""
    effects = plan.network_effects
    if effects is not None:
        table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="italic")
        table.add_column("Its start", overflow="fold")
        for name in ("Draws", "An hour", "At the intake", "Lights beside"):
            table.add_column(name, justify="right", no_wrap=True)
        for each in effects.starts:
            amps = each.starting_current_a
            table.add_row(
                each.motor, "" if amps is None else amount(amps.number, "A"),
                f"{each.starts_per_hour.number:.2g}", f"{each.change_at_intake.number:.1%}",
                f"{each.change_in_place.number:.1%}",
            )  # fmt: skip
        tabled(console, table)
        line(
            console,
            "So much the volts fall where the neighbours see it, and for lights on the machine's "
            "own feeder. Flicker at the intake, 1 being where most people are disturbed: "
            f"{_range(effects.flicker_at_intake)} over ten minutes, "
            f"{_range(effects.long_flicker_at_intake)} over two hours.",
        )
    worst = _most_distorted(plan.cases)
    if worst is not None:
        case, of = worst
        named = zip(("third", "fifth"), of.harmonics_a[2:5:2], strict=False)
        parts = " and ".join(f"{amount(amps, 'A')} of the {name}" for name, amps in named)
        line(
            console,
            f"All drives of {', '.join(case.running)} at their highest together: "
            f"{amount(of.current_a.number, 'A')}, of which {parts} harmonic; they distort "
            f"the volts at the service by {of.service_voltage_thd.number:.1%}.",
        )


def _range(of: Range) -> str:
    return f"{of.expected.number:.2g} ({of.low:.2g} to {of.high:.2g})"


def _most_distorted(cases: tuple[PlanCase, ...]) -> tuple[PlanCase, CaseHarmonics] | None:
    """The set whose drives distort the volts most."""
    found = [(case, case.harmonics) for case in cases if case.harmonics is not None]
    return max(found, key=lambda pair: pair[1].service_voltage_thd.number, default=None)
