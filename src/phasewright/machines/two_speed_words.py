"""What to do at the terminals of a two-speed motor, in words.

Terminal numbers as IEC 60034-8 and, in North America, NEMA MG 1 part 2 give them (from memory).
"""

from __future__ import annotations

from phasewright.machines.link_words import HANGING
from phasewright.quantities.codes import Region

ONE_WINDING = {
    ("delta", "low"): "Low speed, delta: the lines on 1U, 1V, 1W; 2U, 2V, 2W stay open.",
    ("double_star", "high"): (
        "High speed, double star: the lines on 2U, 2V, 2W; 1U, 1V, 1W joined."
    ),
    ("star", "low"): "Low speed, star: the lines on 1U, 1V, 1W; 2U, 2V, 2W stay open.",
    ("double_star", "low"): ("Low speed, double star: the lines on 1U, 1V, 1W; 2U, 2V, 2W joined."),
    ("delta", "high"): "High speed, delta: the lines on 2U, 2V, 2W; 1U, 1V, 1W stay open.",
}
ONE_WINDING_NEMA = {
    ("delta", "low"): "Low speed, delta: the lines on T1, T2, T3; T4, T5, T6 stay open.",
    ("double_star", "high"): "High speed, double star: the lines on T6, T4, T5; T1, T2, T3 joined.",
    ("star", "low"): "Low speed, star: the lines on T1, T2, T3; T4, T5, T6 stay open.",
    ("double_star", "low"): "Low speed, double star: the lines on T1, T2, T3; T4, T5, T6 joined.",
    ("delta", "high"): "High speed, delta: the lines on T6, T4, T5; T1, T2, T3 stay open.",
}
OWN_ENDS: dict[Region, tuple[str, str]] = {
    "IEC": ("1U, 1V, 1W", "2U, 2V, 2W"),
    "NEC": ("T1, T2, T3", "T11, T12, T13"),
}
TELL_APART = (
    "Links off, in ohms between all ends: every end leads to every other in one winding that is "
    "changed over; two groups of three that know nothing of each other are two windings."
)
NEVER_BOTH = (
    " Never both at once, and never change over while a drive's output is on or before the motor "
    "has slowed down."
)
OTHER_OPEN = (
    " The ends of the winding that is not in use stay apart and insulated, not joined to a ring: "
    "it is a transformer's second winding."
)


def winding_words(layout: str, winding: str, name: str, region: Region) -> str:
    """How this speed is linked, in the region's numbering."""
    if layout == "one_winding":
        words = ONE_WINDING_NEMA if region == "NEC" else ONE_WINDING
        return words[winding, name] + NEVER_BOTH + HANGING
    ends = OWN_ENDS[region][0 if name == "low" else 1]
    own = f"{name.capitalize()} speed, its own winding: the lines on {ends}."
    if layout == "two_windings":
        return own + OTHER_OPEN + NEVER_BOTH + HANGING
    return (
        f"{name.capitalize()} speed: as the diagram in the lid says; one winding changed over, or "
        f"two. {TELL_APART}{NEVER_BOTH}{HANGING}"
    )
