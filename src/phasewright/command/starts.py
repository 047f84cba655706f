"""The starts of a plan on the screen: how each motor runs up, and what its converter does."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table
from rich.text import Text

from phasewright.command.screen import heading, line, tabled
from phasewright.papers.plan_words import run_up_words, trip_words
from phasewright.plan.start_study import LargestStartSide, WrongDirection
from phasewright.plan.study import PlanSide, PlanStart
from phasewright.quantities.codes import Region
from phasewright.tables.sizes import motor_size


def starts(console: Console, plan: PlanSide, region: Region) -> None:
    """Each motor's hardest start, the order of starting, what helps, what the converter starts at
    most and what becomes of it the wrong way round; nothing where no start was computed."""
    if not plan.starts:
        return
    heading(console, "Starts")
    _table(console, plan.starts)
    if len(plan.starting_order) > 1:
        line(console, f"Start them in this order: {', then '.join(plan.starting_order)}.")
    for start in plan.starts:
        words = _beside(start)
        if words:
            line(console, words, mark=Text("-"))
    for on in plan.equipment:
        if on.largest_starts:
            line(console, _largest(on.largest_starts, region), mark=Text("-"))
        if on.wrong_direction is not None:
            _wrong(console, on.wrong_direction)


def _table(console: Console, rows: tuple[PlanStart, ...]) -> None:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), header_style="italic")
    for name in ("Motor", "With"):
        table.add_column(name, overflow="fold")
    table.add_column("Runs up in", justify="right")
    table.add_column("Dip", justify="right", no_wrap=True)
    table.add_column("What trips", overflow="fold")
    for row in rows:
        table.add_row(
            f"{row.motor} (to come)" if row.planned else row.motor,
            ", ".join(row.with_) or "nothing",
            run_up_words(row),
            f"{row.dip.number:.0%}",
            ", ".join(trip_words(each) for each in row.trips) or "nothing",
        )
    tabled(console, table)


def _beside(start: PlanStart) -> str:
    """What helps a start and what hinders it, in one sentence; empty where nothing does."""
    by_effect = {
        effect: [each.motor for each in start.beside or () if each.effect == effect]
        for effect in ("helps", "hinders")
    }
    parts = [
        f"{how} with {', '.join(names)} running"
        for how, names in (("easier", by_effect["helps"]), ("harder", by_effect["hinders"]))
        if names
    ]
    return f"{start.motor} starts {', '.join(parts)}." if parts else ""


def _largest(of: tuple[LargestStartSide, ...], region: Region) -> str:
    """Kinds of load by the size they share, the largest first."""
    by_size: dict[float, list[str]] = {}
    for each in of:
        by_size.setdefault(each.power_w.number, []).append(each.load.replace("_", " "))
    parts = [
        f"{motor_size(power_w, region) if power_w else 'no size'} ({', '.join(by_size[power_w])})"
        for power_w in sorted(by_size, reverse=True)
    ]
    return f"The largest motor it starts, nothing beside, by what that drives: {'; '.join(parts)}."


def _wrong(console: Console, of: WrongDirection) -> None:
    line(console, of.not_turned.words, mark=Text("-"))
    line(console, of.words, mark=Text("-"))
    harmed = [each.motor for each in of.motors if each.harms]
    if harmed:
        line(console, f"Turning backwards harms {', '.join(harmed)}.", mark=Text("-"))
