"""What is to be ticked off on site before a plan is used, on the screen."""

from __future__ import annotations

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import heading, line
from phasewright.plan.study import PlanSide
from phasewright.quantities.text import listed


def confirm(console: Console, plan: PlanSide) -> None:
    """Every rule that only the finished installation can answer, once, with what it is about."""
    of: dict[str, list[str]] = {}
    for each in plan.to_confirm or ():
        of.setdefault(each.words, []).append(each.subject)
    if not of:
        return
    heading(console, "To tick off on site before it is used")
    for words, subjects in of.items():
        line(console, f"{words.rstrip('.')} ({listed(subjects, 'and')}).", mark=Text("[ ]"))
