"""Protection against overcurrent: IEC 60364-4-43, IEC 60898-1, NEC 110.9 and article 240."""

from __future__ import annotations

import math

from phasewright.circuits.cables import Laid
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec, nec
from phasewright.rules.register import KEPT, Findings, at_least, at_most, found
from phasewright.rules.remedies import larger_device, thicker
from phasewright.tables.circuits import adiabatic_m2, nec_small_conductor_a
from phasewright.tables.clauses import limit
from phasewright.tables.published import table
from phasewright.tables.sizes import AWG_SIZES, BREAKERS_NEC_A, next_size

_THICKER = Remedy("A thicker conductor, or the next smaller device that holds.")


@iec("60364-4-43", "433.1(a)", "circuit")
def device_carries(
    design_current_a: float | None, device_a: float | None, subject: str
) -> Findings:
    """The device's rating is no less than what the circuit carries."""
    least = 0.0 if design_current_a is None else design_current_a
    return at_least(
        device_a, design_current_a, "condition", subject,
        "its device of {found:.3g} A is less than the {allowed:.3g} A that flow there: it trips",
        unit="A", remedy=larger_device(least, "IEC"),
    )  # fmt: skip


@iec("60364-4-43", "433.1(b)", "circuit")
def device_protects(
    device_a: float | None, ampacity_a: float | None, subject: str, laid: Laid | None = None
) -> Findings:
    """The device's rating is no more than the conductor carries for ever."""
    return at_most(
        device_a, ampacity_a, "condition", subject,
        "its device of {found:.3g} A lets through more than the {allowed:.3g} A the conductor "
        "carries",
        unit="A", remedy=thicker(device_a or 0.0, laid),
    )  # fmt: skip


@iec("60364-4-43", "433.1(c)", "circuit")
def device_acts(
    device_a: float | None, ampacity_a: float | None, subject: str, *, fuse: bool = False
) -> Findings:
    """The current at which the device surely acts is at most 1.45 times the ampacity."""
    if device_a is None or ampacity_a is None:
        return None
    acts_a = limit("overload", "fuse" if fuse else "breaker") * device_a
    return at_most(
        acts_a, limit("overload", "ampacity") * ampacity_a, "condition", subject,
        "its device surely acts at {found:.3g} A only, and the conductor bears {allowed:.3g} A for "
        "an hour",
        unit="A", remedy=_THICKER,
    )  # fmt: skip


@iec("60364-4-43", "434.5.1", "circuit")
def breaking_capacity(breaking_ka: float | None, fault_a: float | None, subject: str) -> Findings:
    """The device can break the greatest short-circuit current at its place."""
    if breaking_ka is None:
        return None
    return at_least(
        1000.0 * breaking_ka, fault_a, "condition", subject,
        "its device breaks {found:.0f} A, and a dead short there draws up to {allowed:.0f} A",
        unit="A",
        remedy=Remedy("A device of a higher breaking capacity (10 kA), or a fuse ahead of it."),
    )  # fmt: skip


@iec("60364-4-43", "434.5.2", "circuit")
def short_circuit_heat(
    fault_a: float | None, clears_s: float | None, area_mm2: float | None, subject: str
) -> Findings:  # fmt: skip
    """A short circuit is cut off before it heats the conductor beyond what its insulation bears.

    Adiabatic: area at least I sqrt(t)/k, for times of 0.1 to 5 s and copper in PVC.
    """
    if fault_a is None or clears_s is None or area_mm2 is None:
        return None
    least = 1e6 * adiabatic_m2(fault_a * fault_a * clears_s)
    return at_least(
        area_mm2, least, "condition", subject,
        "its {found:.3g} mm2 get too hot in a short circuit: {allowed:.3g} mm2 are needed",
        unit="mm2", remedy=Remedy("A thicker conductor, or a device that acts sooner."),
    )  # fmt: skip


@iec("60898-1", "instantaneous_bands", "circuit")
def holds_at_start(
    starting_a: float | None, curve: str | None, rating_a: float | None, subject: str
) -> Findings:
    """The breaker's magnetic part does not act on the current of the hardest start.

    `starting_a` is rms; below the least multiple of its band it surely does not act.
    """
    least = table("protection", "iec_instantaneous_least")
    if curve is None or curve not in least.rows or rating_a is None:
        return None
    return at_most(
        starting_a, least.number(curve) * rating_a, "caution", subject,
        f"its breaker {curve}{rating_a:.0f} may act at once from {{allowed:.0f}} A, and the start "
        "draws {found:.0f} A",
        unit="A", remedy=Remedy("The next slower curve (C after B, D after C), or a softer start."),
    )  # fmt: skip


@nec("110.9", "circuit")
def interrupting_rating(breaking_ka: float | None, fault_a: float | None, subject: str) -> Findings:
    """The device's interrupting rating is at least the fault current available there."""
    if breaking_ka is None:
        return None
    return at_least(
        1000.0 * breaking_ka, fault_a, "stop", subject,
        "its device interrupts {found:.0f} A, and {allowed:.0f} A are available there",
        unit="A", remedy=Remedy("A device of a higher interrupting rating."),
    )  # fmt: skip


@nec("240.4(B)", "circuit")
def conductor_protected(
    device_a: float | None, ampacity_a: float | None, subject: str, *, motor_circuit: bool
) -> Findings:
    """The device is at most the conductor's ampacity or the next standard rating above it.

    Motor circuits and a converter's supply have sizes of their own (240.4(G)).
    """
    if motor_circuit or device_a is None or ampacity_a is None:
        return None
    most = next_size(ampacity_a, BREAKERS_NEC_A, "overcurrent device by NEC 240.6(A)")
    return at_most(
        device_a, most, "stop", subject,
        f"its device of {{found:.3g}} A is more than the {{allowed:.3g}} A that go with a "
        f"conductor of {ampacity_a:.3g} A",
        unit="A", remedy=Remedy("Fit that rating, or a thicker conductor.", None, most, "A"),
    )  # fmt: skip


@nec("240.4(D)", "circuit")
def small_conductors(
    size: str | None, device_a: float | None, subject: str, *, motor_circuit: bool
) -> Findings:
    """14, 12 and 10 AWG copper stand behind 15, 20 and 30 A at most.

    Not for motor circuits and a converter's supply, which 240.4(G) sends to their own articles.
    """
    if motor_circuit or size is None:
        return None
    most = nec_small_conductor_a(size)
    if math.isinf(most):
        return None
    return at_most(
        device_a, most, "stop", subject,
        f"{size} AWG stands behind {{found:.3g}} A, and {{allowed:.0f}} A are the most for it",
        unit="A",
        remedy=Remedy(f"{AWG_SIZES[AWG_SIZES.index(size) + 1]} AWG, or the smaller device."),
    )  # fmt: skip


@nec("240.6", "circuit")
def standard_rating(device_a: float | None, subject: str, machine: str | None = None) -> Findings:
    """The device has a standard rating; others are permitted and hard to find.

    `machine`: where in the shop file the machine stands whose circuit it is.
    """
    if device_a is None:
        return None
    if any(abs(device_a - each) <= 1e-9 * each for each in BREAKERS_NEC_A):
        return KEPT
    near = next_size(device_a, BREAKERS_NEC_A, "overcurrent device by NEC 240.6(A)")
    return found(
        "info", subject, f"a device of {device_a:.3g} A is no standard rating; {near:.0f} A is",
        found=device_a, allowed=near, unit="A",
        remedy=Remedy(f"A device of {near:g} A.",
                      None if machine is None else f"{machine}.circuit.breaker", f"{near:g} A"),
    )  # fmt: skip
