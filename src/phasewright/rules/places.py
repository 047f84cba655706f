"""Rules over a place with its own feeder: its cable, its dust and its frost."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule
from phasewright.tables.surroundings import freezes

CLOSED = "closed drive"
"""What may stand in dust: a closed kind, or one in a closed box."""


@rule(
    "place.feeder_rating",
    source="what a cable carries by its size and how it is laid; IEC 60364-5-52, NEC 310.16",
    status="published",
    looks_at="circuit",
)
def feeder_rating(
    current_a: float, ampacity_a: float | None, subject: str, larger: Remedy | None = None
) -> Findings:
    """What runs over a place's feeder stays within what its conductors carry.

    `larger` is the cable that does.
    """
    if ampacity_a is None:
        return None
    if not above(current_a, ampacity_a):
        return KEPT
    return found(
        "stop", subject,
        f"takes {current_a:.3g} A over a feeder that carries {ampacity_a:.3g} A",
        found=current_a, allowed=ampacity_a, unit="A",
        remedy=larger or Remedy("Lay a larger cable, or let fewer machines there run together."),
    )  # fmt: skip


@rule(
    "place.third_conductor",
    source="a feeder laid for two lines has no third conductor",
    status="common practice",
    looks_at="circuit",
)
def third_conductor(
    lines: int, conductors: int | None, subject: str, *, counted_ahead: bool = True
) -> Findings:
    """So many lines over a place's feeder want as many conductors.

    `counted_ahead`: here the feeder is counted ahead of what makes the three lines.
    """
    if conductors is None:
        return None
    if lines <= conductors:
        return KEPT
    left_out = (
        ". Here the whole feeder is counted ahead of what makes the three lines, and the fall "
        "along the third conductor is left out"
        if counted_ahead
        else ""
    )
    return found(
        "condition", subject,
        "three lines must run over its feeder, which was laid for two: a new cable, not priced "
        f"here, or proof that the one that is there serves{left_out}",
        found=lines, allowed=conductors, unit="conductors",
        remedy=Remedy("Have its cores counted and tested, or a new cable offered."),
    )  # fmt: skip


@rule(
    "place.dust",
    source="dust settles on what is hot and on what breathes: it glows, burns or kills drives",
    status="common practice",
    looks_at="equipment",
)
def dust(dusty: bool | None, thing: str, subject: str, path: str | None = None) -> Findings:
    """Nothing hot or vented stands open in wood dust or flour.

    `path` is that of the place's dust in the shop file.
    """
    if dusty is None:
        return None
    if not dusty or thing == CLOSED:
        return KEPT
    return found(
        "caution", subject,
        f"a {thing} stands in dust: wood dust and flour on hot or breathing parts glow and burn",
        found="dust", allowed="no dust",
        remedy=Remedy("A closed kind (IP54 or better) or a closed box, out of the dust, kept "
                      "clean.", path, None if path is None else "false"),
    )  # fmt: skip


@rule(
    "place.frost",
    source="start capacitors lose capacitance in frost, cold oil doubles breakaway",
    status="common practice",
    looks_at="machine",
)
def frost(ambient_c: float | None, subject: str, path: str | None = None) -> Findings:
    """Where it freezes a start asks for more and a capacitor gives less.

    `path` is that of the place's air in the shop file.
    """
    if ambient_c is None:
        return None
    if not freezes(ambient_c):
        return KEPT
    return found(
        "caution", subject,
        "it freezes there: start capacitors lose capacitance and cold oil may double the torque to "
        "break away; what is computed holds above freezing",
        found=ambient_c, allowed=0.0, unit="°C",
        remedy=Remedy(
            "Warm it first, or start it empty and often.", path, None if path is None else "5 °C"
        ),
    )  # fmt: skip
