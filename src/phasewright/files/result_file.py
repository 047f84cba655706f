"""The result file `study.json`, `workings.json` beside it, and the sheets of the plan's drives.

The same study gives the same bytes: keys stand in the order of the contract, numbers have
nine significant digits, and no clock is read.
"""

from __future__ import annotations

import json
from typing import Any

from phasewright.papers.drive_sheets import drives_text, on_drives, settings_csv
from phasewright.plan.study import Study
from phasewright.quantities.plain import figures, past, plain


def study_text(study: Study) -> str:
    """The text of `study.json`."""
    return _json(plain(study))


def workings(study: Study) -> dict[str, Any]:
    """JSON pointer of every figure to its number, unit, spread, origin, formula and source."""
    return {pointer: past(value) for pointer, value in figures(study)}


def workings_text(study: Study) -> str:
    """The text of `workings.json`."""
    return _json(workings(study))


def texts(study: Study) -> dict[str, str]:
    """The text of every file by its name; sheets only where the answer's plan has drives."""
    found = {"study.json": study_text(study), "workings.json": workings_text(study)}
    plan = next((each for each in study.plans if each.id == study.answer.plan), None)
    if plan is not None and on_drives(plan):
        found |= {"settings.csv": settings_csv(plan), "drives.txt": drives_text(plan)}
    return found


def _json(tree: Any) -> str:
    return json.dumps(tree, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
