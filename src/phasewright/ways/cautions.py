"""Usual cautions that more than one way needs. Local codes and licensed practice come first.

Common practice, no source.
"""

from __future__ import annotations

from phasewright.quantities.finding import Reason

STORED_CHARGE = Reason(
    "stored_charge",
    "Capacitors hold a dangerous charge after switching off, and a spinning idler "
    "charges them anew: shaft at rest, then wait, then prove dead.",
)
GENERATED_LINE_LIVE = Reason(
    "generated_line_live",
    "The generated line is live whenever the idler spins, also with the supply "
    "unplugged. It must never be tied to neutral or earth, and its earth fault "
    "current is small: cover its outlets by residual-current protection.",
)
THREE_LINES_LIVE = Reason(
    "three_lines_live",
    "Three lines are live at once. An electronic source stays charged for minutes after switching "
    "off, a battery always: switch off, lock, wait as marked, prove dead on every line.",
)
DIRECTION_FIRST = Reason(
    "prove_direction_first",
    "An idler started the wrong way round makes every machine run backwards: block "
    "the outlets until a phase-sequence relay agrees.",
)
