"""A whole-shop electronic three-phase source.

Not computed yet: refused with that reason, so that no figure stands where none was computed.
"""

from __future__ import annotations

from phasewright.quantities.codes import WayName
from phasewright.ways.site import Site
from phasewright.ways.way import Judgement, Task, not_computed_yet

NAME: WayName = "electronic_converter"


def judge(task: Task, site: Site) -> Judgement:
    """Refuses: this way is not computed yet."""
    return not_computed_yet(NAME, "an electronic three-phase source for the whole shop")
