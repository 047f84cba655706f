"""Transformers and autotransformers in the NEC: 450.3(B), 450.4, 210.9, 215.11."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.families import nec
from phasewright.rules.register import Findings, at_most, must
from phasewright.tables.clauses import limit
from phasewright.tables.sizes import BREAKERS_NEC_A, next_size


def primary_device_a(rated_a: float, *, with_secondary: bool) -> float:
    """Largest device ahead of a transformer of up to 1000 V (table 450.3(B)).

    125 % and the next standard rating from 9 A, 167 % below, 300 % below 2 A; 250 % where a
    secondary device stands behind.
    """
    if with_secondary:
        return limit("nec_450_3", "primary_with_secondary") * rated_a
    if rated_a >= limit("nec_450_3", "small_below_a"):
        most = limit("nec_450_3", "primary_only") * rated_a
        return next_size(most, BREAKERS_NEC_A, "overcurrent device by NEC 240.6(A)")
    smallest = rated_a < limit("nec_450_3", "smallest_below_a")
    name = "primary_only_smallest" if smallest else "primary_only_small"
    return limit("nec_450_3", name) * rated_a


def stepped_a(rated_a: float, large: str, small: str) -> float:
    """125 % and the next standard rating from 9 A, the smaller one's share below it."""
    if rated_a < limit("nec_450_3", "small_below_a"):
        return limit("nec_450_3", small) * rated_a
    most = limit("nec_450_3", large) * rated_a
    return next_size(most, BREAKERS_NEC_A, "overcurrent device by NEC 240.6(A)")


@nec("450.3(B)", "equipment")
def primary_device(
    device_a: float | None, rated_a: float | None, subject: str, *, with_secondary: bool = False
) -> Findings:
    """The device ahead of a transformer is within its share of the rated primary current."""
    if rated_a is None:
        return None
    most = primary_device_a(rated_a, with_secondary=with_secondary)
    return at_most(
        device_a, most, "stop", subject,
        f"a device of {{found:.3g}} A ahead of a transformer of {rated_a:.3g} A: {{allowed:.3g}} A "
        "at most" + ("" if with_secondary else ", or a device behind it as well"),
        unit="A", remedy=Remedy("Fit that rating.", None, most, "A"),
    )  # fmt: skip


@nec("450.3(B)(2)", "equipment")
def secondary_device(device_a: float | None, rated_a: float | None, subject: str) -> Findings:
    """A secondary device, where the primary one is above 125 %, is within its share."""
    if rated_a is None:
        return None
    most = stepped_a(rated_a, "secondary", "secondary_small")
    return at_most(
        device_a, most, "stop", subject,
        f"a device of {{found:.3g}} A behind a transformer of {rated_a:.3g} A: {{allowed:.3g}} A "
        "at most",
        unit="A", remedy=Remedy("Fit that rating.", None, most, "A"),
    )  # fmt: skip


@nec("450.4(A)", "equipment")
def autotransformer_device(device_a: float | None, rated_a: float | None, subject: str) -> Findings:
    """Every ungrounded input conductor of an autotransformer has a device of 125 % at most."""
    if rated_a is None:
        return None
    most = stepped_a(rated_a, "autotransformer", "autotransformer_small")
    return at_most(
        device_a, most, "stop", subject,
        f"a device of {{found:.3g}} A ahead of an autotransformer of {rated_a:.3g} A: "
        "{allowed:.3g} A at most",
        unit="A", remedy=Remedy("Fit that rating.", None, most, "A"),
    )  # fmt: skip


def _are(one_v: float, other_v: float, one_nominal_v: float, other_nominal_v: float) -> bool:
    """Whether two volts are those of a pair of nominal systems, within 3 %."""
    pairs = ((one_v, one_nominal_v), (other_v, other_nominal_v))
    return all(abs(volts - nominal) <= 0.03 * nominal for volts, nominal in pairs)


def _autotransformer(
    autotransformer: bool, grounded_through: bool | None, primary_v: float, secondary_v: float,
    subject: str, what: str,
) -> Findings:  # fmt: skip
    if not autotransformer:
        return None
    excepted = _are(primary_v, secondary_v, 208.0, 240.0) or _are(
        secondary_v, primary_v, 208.0, 240.0
    )
    return must(
        True if excepted else grounded_through, "stop", subject,
        f"an autotransformer may not feed a {what} without a grounded conductor that goes through "
        f"it: {secondary_v:.0f} V from {primary_v:.0f} V needs an isolating transformer",
        found_words="no grounded conductor through it", allowed_words="an isolating transformer",
        remedy=Remedy("An isolating transformer, its output grounded at the centre."),
    )  # fmt: skip


@nec("210.9", "equipment")
def autotransformer_branch(
    autotransformer: bool, grounded_through: bool | None, primary_v: float, secondary_v: float,
    subject: str,
) -> Findings:  # fmt: skip
    """No branch circuit hangs on an autotransformer unless a grounded conductor goes through it.

    But between 208 and 240 V it may; the exception for industry serves no home workshop.
    """
    return _autotransformer(
        autotransformer, grounded_through, primary_v, secondary_v, subject, "branch circuit"
    )


@nec("215.11", "equipment")
def autotransformer_feeder(
    autotransformer: bool, grounded_through: bool | None, primary_v: float, secondary_v: float,
    subject: str,
) -> Findings:  # fmt: skip
    """No feeder hangs on an autotransformer unless a grounded conductor goes through it.

    But between 208 and 240 V it may.
    """
    return _autotransformer(
        autotransformer, grounded_through, primary_v, secondary_v, subject, "feeder"
    )
