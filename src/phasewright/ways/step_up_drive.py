"""A drive with a 400 V class output fed from 230 V, or a step-up transformer before one.

Not computed yet: refused with that reason, so that no figure stands where none was computed.
"""

from __future__ import annotations

from phasewright.quantities.codes import WayName
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Task, not_computed_yet

NAME: WayName = "step_up_drive"


def judge(task: Task, site: Site) -> Judgement:
    """Refuses: this way is not computed yet."""
    return not_computed_yet(NAME, "a drive or transformer that steps up to the motor's volts")
