"""Sizes of paper, and inks of drawings that a page colours by its own style sheet, in black and
white for paper."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from phasewright.papers.svg import Mark, mark

PaperSize = Literal["a4", "letter"]
ROOM: dict[PaperSize, tuple[float, float]] = {"a4": (702.0, 1032.0), "letter": (725.0, 966.0)}
"""Room for drawings on a page: width and height [1/96 inch], inside the margins of `report.typ`."""
SHOP = """
.sheet .wall{fill:none;stroke:#555;stroke-width:1.2}
.sheet .frame{fill:none;stroke:#000;stroke-width:1.2}
.sheet .wire{fill:none;stroke:#000}
.sheet .made{stroke-dasharray:9 3}
.sheet .dot{fill:#000;stroke:none}
.sheet .thin,.sheet .plate,.sheet .box,.sheet .open{fill:none;stroke:#000;stroke-width:1.1}
.sheet .shaft,.sheet .open-line,.sheet .plus{fill:none;stroke:#000;stroke-width:1.1}
.sheet .plate{stroke-width:2.2}
.sheet .box,.sheet .open,.sheet .outline{fill:#fff}
.sheet .blank{fill:#fff;stroke:none}
.sheet .shaft{stroke-dasharray:2 2}
.sheet .open-line{stroke-dasharray:3 3}
.sheet .cross{stroke:#000;stroke-width:2.2}
.sheet .outline{stroke:#000;stroke-width:1.4;stroke-linejoin:round;stroke-linecap:round}
.sheet .planned{stroke-dasharray:4 3}
.sheet .floor{stroke:#000;stroke-width:1.6}
.sheet .hatch{fill:none;stroke:#888;stroke-width:1}
.sheet .free{fill:none;stroke:#555;stroke-width:1.2;stroke-dasharray:5 4}
.sheet .room{fill:none;stroke:none}
.sheet .name{font-weight:bold}
"""
COSTS = """
.costs .thin{stroke:#000;stroke-width:1}
.costs .cost-spread{stroke:#777;stroke-width:4}
.costs .cost-spread.chosen{stroke:#000;stroke-width:7}
.costs .cost-middle{fill:#fff;stroke:#000;stroke-width:2}
"""


def styled(whole: Mark, style: str) -> Mark:
    """A drawing that carries its inks itself."""
    return replace(whole, holds=(mark("style", style), *whole.holds))
