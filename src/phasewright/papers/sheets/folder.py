"""Every sheet of a plan, in the order in which they are used."""

from __future__ import annotations

from collections.abc import Callable

from phasewright.papers.sheets.calculations import calculations
from phasewright.papers.sheets.commissioning import commissioning
from phasewright.papers.sheets.hazards import hazards
from phasewright.papers.sheets.machines import record, unknown_motor
from phasewright.papers.sheets.maintenance import maintenance
from phasewright.papers.sheets.others import electrician, operator
from phasewright.papers.sheets.paper import Paper
from phasewright.papers.sheets.permissions import inspector, insurer, landlord
from phasewright.papers.sheets.settings import settings
from phasewright.papers.sheets.sheet import LeftOut, Sheet, Sheets
from phasewright.papers.sheets.symptoms import symptoms
from phasewright.papers.sheets.wall_card import wall_card

MAKERS: tuple[tuple[str, str, Callable[[Paper], Sheet | str]], ...] = (
    ("before-you-open", "Before you open the box", hazards),
    ("electrician", "The electrician's brief", electrician),
    ("network-operator", "For the network operator", operator),
    ("unknown-motor", "Testing an unknown or second-hand motor", unknown_motor),
    ("machine-record", "The machines as found and as changed", record),
    ("settings", "Settings of drives and overload relays", settings),
    ("commissioning", "Bringing it into use, step by step", commissioning),
    ("wall-card", "Card for the wall", wall_card),
    ("symptoms", "When something is wrong", symptoms),
    ("maintenance", "Maintenance calendar", maintenance),
    ("insurer", "For the insurer", insurer),
    ("landlord", "For the landlord", landlord),
    ("inspector", "For the inspector", inspector),
    ("calculations", "Calculations", calculations),
)


def sheets_of(paper: Paper) -> Sheets:
    """All sheets, and which had no figures of this shop. Pure."""
    made, left = [], []
    for name, title, maker in MAKERS:
        found = maker(paper)
        if isinstance(found, str):
            left.append(LeftOut(name, title, found))
        else:
            made.append(found)
    return Sheets(tuple(made), tuple(left))
