"""What to do at the terminals of a two-speed motor, in words (IEC 60034-8, from memory)."""

from __future__ import annotations

ONE_WINDING = {
    ("delta", "low"): "Low speed, delta: the lines on 1U, 1V, 1W; 2U, 2V, 2W stay open.",
    ("double_star", "high"): (
        "High speed, double star: the lines on 2U, 2V, 2W; 1U, 1V, 1W joined."
    ),
    ("star", "low"): "Low speed, star: the lines on 1U, 1V, 1W; 2U, 2V, 2W stay open.",
    ("double_star", "low"): ("Low speed, double star: the lines on 1U, 1V, 1W; 2U, 2V, 2W joined."),
    ("delta", "high"): "High speed, delta: the lines on 2U, 2V, 2W; 1U, 1V, 1W stay open.",
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


def winding_words(layout: str, winding: str, name: str) -> str:
    """How this speed is linked."""
    if layout == "one_winding":
        return ONE_WINDING[winding, name] + NEVER_BOTH
    first = 1 if name == "low" else 2
    own = f"{name.capitalize()} speed, its own winding: the lines on {first}U, {first}V, {first}W."
    if layout == "two_windings":
        return own + OTHER_OPEN + NEVER_BOTH
    return (
        f"{name.capitalize()} speed: as the diagram in the lid says; one winding changed over, or "
        f"two. {TELL_APART}{NEVER_BOTH}"
    )
