"""Conductors: what they carry and how thin they may be (IEC 60364-5-52, NEC 110.14, 310)."""

from __future__ import annotations

from phasewright.circuits.cables import Laid
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec, nec
from phasewright.rules.register import Findings, at_least
from phasewright.rules.remedies import thicker
from phasewright.tables.ampacity import nec_ampacity_a
from phasewright.tables.clauses import limit

_THICKER = Remedy("The next thicker conductor.")


@iec("60364-5-52", "523.1", "circuit", status="published")
def carries(
    design_current_a: float | None, ampacity_a: float | None, subject: str,
    laid: Laid | None = None, path: str | None = None,
) -> Findings:  # fmt: skip
    """The conductor carries for ever what flows in the circuit, as it is laid.

    `ampacity_a` after method, warmth and bunching; `path` of the conductor in the shop file.
    """
    return at_least(
        ampacity_a, design_current_a, "stop", subject,
        "its conductor carries {found:.3g} A as it is laid, and {allowed:.3g} A flow in it",
        unit="A", remedy=thicker(design_current_a or 0.0, laid, path),
    )  # fmt: skip


@iec("60364-5-52", "524.1", "circuit")
def thick_enough(area_mm2: float | None, subject: str, *, control: bool = False) -> Findings:
    """No conductor is thinner than its strength asks for: 1.5 mm2 of copper, controls 0.5 mm2."""
    least = limit("smallest_conductor", "control" if control else "power")
    return at_least(
        area_mm2, least, "condition", subject,
        "its conductor of {found:.3g} mm2 is thinner than the {allowed:.3g} mm2 that are the least "
        "for a fixed cable",
        unit="mm2", remedy=Remedy("Take it.", None, least, "mm2"),
    )  # fmt: skip


@nec("310.16", "circuit")
def ampacity(
    design_current_a: float | None, ampacity_a: float | None, subject: str,
    laid: Laid | None = None, path: str | None = None,
) -> Findings:  # fmt: skip
    """The conductor's ampacity, corrected for warmth and bunching, is no less than its current."""
    return at_least(
        ampacity_a, design_current_a, "stop", subject,
        "its conductor carries {found:.3g} A as it is laid, and {allowed:.3g} A flow in it",
        unit="A", remedy=thicker(design_current_a or 0.0, laid, path),
    )  # fmt: skip


@nec("110.14(C)", "circuit")
def terminals(
    current_a: float | None, size: str | None, device_a: float | None, subject: str, *,
    marked_75_c: bool | None = None, design_letter_motor: bool = False,
) -> Findings:  # fmt: skip
    """At its terminals a conductor carries no more than its size does at their temperature.

    60 °C up to 100 A unless they are marked for 75 °C or serve a motor of design letter B, C or
    D; 75 °C above. Marks that nobody read make a caution.
    """
    if current_a is None or size is None or device_a is None:
        return None
    hot = marked_75_c or design_letter_motor or device_a > limit("nec_110_14", "most_a")
    at_c = 75 if hot else 60
    return at_least(
        nec_ampacity_a(size, at_c), current_a,
        "caution" if marked_75_c is None and not hot else "stop", subject,
        f"at terminals for {at_c} °C {size} AWG carries {{found:.3g}} A, and {{allowed:.3g}} A "
        "flow" + ("" if hot else ": see that every terminal is marked 75 °C, else a thicker one"),
        unit="A", remedy=_THICKER,
    )  # fmt: skip
