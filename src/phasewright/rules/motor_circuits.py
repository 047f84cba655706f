"""Rules over a motor's branch circuit: NEC article 430, and the earth-fault loop of IEC shops."""

from __future__ import annotations

from typing import Literal

from phasewright.circuits.cables import Laid
from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.rules.remedies import thicker
from phasewright.tables.protection import greatest_loop_ohm, share
from phasewright.tables.published import table
from phasewright.tables.sizes import BREAKERS_NEC_A, next_size

DeviceKind = Literal["fuse", "time_delay_fuse", "instantaneous", "inverse_time"]


def motor_conductor_a(full_load_a: float) -> float:
    """Least ampacity of a motor's branch conductors: 125 % of full-load current (430.22)."""
    return share("nec_430_52", "conductor") * full_load_a


def motor_device_a(full_load_a: float, kind: DeviceKind = "inverse_time") -> float:
    """Largest device of a kind for one cage motor: its percentage, or the next standard size."""
    most = share("nec_430_52", kind) * full_load_a
    return next_size(most, BREAKERS_NEC_A, "overcurrent device by NEC 240.6(A)")


def raised_device_a(full_load_a: float, kind: DeviceKind = "inverse_time") -> float:
    """Largest standard device for one cage motor whose start `motor_device_a` does not hold.

    An instantaneous one is never raised here. 430.52(C)(1), exceptions.
    """
    of = table("protection", "nec_430_52_raised")
    usual = motor_device_a(full_load_a, kind)
    if kind == "instantaneous":
        return usual
    large = kind == "inverse_time" and full_load_a > of.number("large_above_a")
    most = of.number("inverse_time_large" if large else kind) * full_load_a
    return max((each for each in BREAKERS_NEC_A if usual < each <= most), default=usual)


@rule(
    "nec.430.22",
    body="NFPA 70",
    edition="2023",
    clause="430.22",
    status="published",
    looks_at="circuit",
)
def motor_conductors(
    ampacity_a: float | None, full_load_a: float | None, subject: str, laid: Laid | None = None
) -> Findings:
    """Conductors of a single motor carry 125 % of its full-load current."""
    if ampacity_a is None or full_load_a is None:
        return None
    least = motor_conductor_a(full_load_a)
    if not below(ampacity_a, least):
        return KEPT
    return found(
        "stop",
        subject,
        f"the motor's conductors carry {ampacity_a:.3g} A and need {least:.4g} A",
        found=ampacity_a,
        allowed=least,
        unit="A",
        remedy=thicker(least, laid)(),
    )


@rule(
    "nec.430.52",
    body="NFPA 70",
    edition="2023",
    clause="430.52(C)(1)",
    status="published",
    looks_at="circuit",
)
def motor_overcurrent(
    device_a: float | None, full_load_a: float | None, kind: DeviceKind, subject: str,
    holding_a: float | None = None,
) -> Findings:  # fmt: skip
    """The branch device is within its percentage of full-load current, or the next size up.

    `holding_a`: the smallest standard rating that surely holds the start; where that is more, it
    serves up to the raised percentage of the exceptions.
    """
    if device_a is None or full_load_a is None:
        return None
    most = motor_device_a(full_load_a, kind)
    if holding_a is not None and holding_a > most:
        most = min(holding_a, raised_device_a(full_load_a, kind))
    if not above(device_a, most):
        return KEPT
    return found(
        "stop",
        subject,
        f"a device of {device_a:.3g} A protects a motor of {full_load_a:.3g} A: at most "
        f"{most:.3g} A",
        found=device_a,
        allowed=most,
        unit="A",
        remedy=Remedy("Fit the largest allowed rating or a smaller one.", None, most, "A"),
    )


@rule(
    "iec.loop_impedance",
    source="BS 7671 table 41.3 (IEC 60364-4-41), 0.95 U0 over the breaker's magnetic band",
    status="published",
    looks_at="circuit",
)
def loop_impedance(
    loop_ohm: float | None, curve: str | None, rating_a: float | None, subject: str
) -> Findings:
    """The earth-fault loop is small enough that the breaker's magnetic part surely acts."""
    if loop_ohm is None or curve is None or rating_a is None:
        return None
    most = greatest_loop_ohm(curve, rating_a)
    if not above(loop_ohm, most):
        return KEPT
    return found(
        "stop",
        subject,
        f"an earth-fault loop of {loop_ohm:.3g} ohm is too much for a breaker "
        f"{curve}{rating_a:.3g}: at most {most:.3g} ohm",
        found=loop_ohm,
        allowed=most,
        unit="ohm",
        remedy=Remedy(
            "Use a faster breaker curve, a thicker protective conductor, or a residual-current "
            "device."
        ),
    )
