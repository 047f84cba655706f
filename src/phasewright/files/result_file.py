"""The result file: `study.json`, and `workings.json` beside it.

The same study gives the same bytes: keys stand in the order of the contract, numbers have
nine significant digits, and no clock is read.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

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


def write(study: Study, folder: Path) -> None:
    """Write both files into a folder that exists; raises OSError where the disk refuses."""
    (folder / "study.json").write_text(study_text(study), encoding="utf-8", newline="\n")
    (folder / "workings.json").write_text(workings_text(study), encoding="utf-8", newline="\n")


def _json(tree: Any) -> str:
    return json.dumps(tree, ensure_ascii=False, allow_nan=False, indent=1) + "\n"
