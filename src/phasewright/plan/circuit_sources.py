"""Where circuits begin behind a source of the shop's own, and what is told of its faults.

Electronics give no more than their limit, and a generator after its first cycles little more: then
no breaker acts, and a residual-current device or the source's own shut-down must. Behind an
isolating source nothing ahead of it sees an earth fault.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from phasewright.circuits.devices import magnetic_a
from phasewright.circuits.fault_source import FaultSource, of_transformer
from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.circuit_supply import Ground, Tap
from phasewright.plan.circuit_words import device_words, residual_words
from phasewright.quantities.finding import Finding, Remedy
from phasewright.tables.stepping_up import transformer, transformer_apart

BOARD = "the supply"


def tap_behind(tap: Tap, source: FaultSource | None, *, three_lines: bool = True) -> Tap | None:
    """Where circuits begin behind a source of the shop's own; None without one.

    One that isolates has a point of its output earthed on the conductor that the frames are on.
    """
    if source is None:
        return None
    if not source.isolates:
        return replace(
            tap, three_phase=three_lines, phase_v=source.to_earth_v, own=source, limit=source.limit
        )
    every = tap.ground.every_circuit_ma
    return Tap(
        tap.site, Ground("centre", "TN-S", False, None, None, every),
        2.0 * source.usual_ohm, 2.0 * source.soft_ohm, 2.0 * source.stiff_ohm,
        three_phase=three_lines, phase_v=source.to_earth_v, own=source, limit=source.limit,
    )  # fmt: skip


def transformer_tap(tap: Tap, name: str, rating_va: float, input_v: float, output_v: float) -> Tap:
    """Where the circuit behind an isolating transformer begins; its output's centre is earthed."""
    own = complex(*transformer(rating_va).impedance_ohm(output_v))
    source = of_transformer(
        name,
        (tap.usual, tap.soft, tap.stiff),
        output_v / input_v,
        own,
        transformer_apart(),
        output_v,
    )
    limit = None if tap.limit is None else tap.limit.scaled(input_v / output_v)
    behind = tap_behind(tap, replace(source, limit=limit), three_lines=False)
    assert behind is not None
    return behind


def told_of_sources(
    circuits: Iterable[PlanCircuit], jobs: Iterable[Job], there: ResidualCurrentDevice | None
) -> tuple[Finding, ...]:
    """What is to be known of every source of the shop's own that circuits begin at, once each."""
    by_id = {job.id: job for job in jobs}
    found: dict[str, Finding] = {}
    for each in sorted(circuits, key=_rating_a, reverse=True):
        job = by_id[each.id]
        if job.tap is None:
            continue
        told = (*_limited(each, job.tap), *_blind(each, job, there), *_of_wrong_type(each, job))
        for of in told:
            found.setdefault(of.id, of)
    return tuple(found.values())


def _limited(of: PlanCircuit, tap: Tap) -> tuple[Finding, ...]:
    """That its breaker does not act on what the source gives."""
    acts = None if of.device is None else magnetic_a(of.device)
    if tap.limit is None or of.device is None or acts is None or tap.limit.least_a >= acts:
        return ()
    name = BOARD if tap.own is None else tap.own.name
    amps, rule = tap.limit.usual_a, "circuit.source_limits_fault"
    by_residual = of.residual_current is not None and of.residual_current.trips_s is not None
    earth = (
        f"an earth fault is opened by the {residual_words(of.residual_current)} residual-current "
        "device"
        if by_residual and of.residual_current is not None
        else "an earth fault is opened by nothing here but the source itself"
    )
    return (
        Finding(
            f"{rule}:{name}", rule, "condition", name,
            f"it gives {amps:.3g} A into a fault, perhaps no more than {tap.limit.least_a:.3g} A, "
            f"and a {device_words(of.device)} breaker behind it acts at once from {acts:.3g} A: "
            f"that breaker does not open a fault; {earth}, a short between lines only by the "
            "source's own shut-down",
            found=tap.limit.least_a, allowed=acts, unit="A", circuit=of.id,
            remedy=Remedy(
                "Have its maker's word that it switches off on a short, and within what time; "
                "cover what hangs on it by a residual-current device."
            ),
            source="short-time current of such sources; trip bands of IEC 60898",
        ),
    )  # fmt: skip


def _rating_a(of: PlanCircuit) -> float:
    return 0.0 if of.device is None else of.device.rating_a


def _of_wrong_type(of: PlanCircuit, job: Job) -> tuple[Finding, ...]:
    """That the residual-current device that covers electronics may be blinded by them."""
    own = None if job.tap is None else job.tap.own
    device, rule = of.residual_current, "circuit.device_may_be_blinded"
    if own is None or not own.smooth or device is None or device.type == "B":
        return ()
    return (
        Finding(
            f"{rule}:{own.name}", rule, "condition", own.name,
            f"a fault behind it may draw smooth current to earth, which blinds a device of type "
            f"{device.type}, and the {residual_words(device)} one must open it",
            circuit=of.id,
            remedy=Remedy(
                "Ask its maker which type it needs; type B there, unless they say otherwise.",
                "supply.residual_current.type",
                "B",
            ),
            source="IEC 60755 and IEC 62423, what each type sees (from memory)",
        ),
    )  # fmt: skip


def _blind(
    of: PlanCircuit, job: Job, there: ResidualCurrentDevice | None
) -> tuple[Finding, ...]:  # fmt: skip
    """That no residual-current device ahead of an isolating source sees a fault behind it."""
    if not of.upstream_blind or job.tap is None or job.tap.own is None:
        return ()
    name, rule = job.tap.own.name, "circuit.upstream_blind"
    ahead = "a residual-current device ahead of it"
    if there is not None:
        ahead = f"the {residual_words(there)} residual-current device that is there"
    own = (
        "nothing else covers it"
        if of.residual_current is None
        else f"a {residual_words(of.residual_current)} device of its own, behind it, does"
    )
    return (
        Finding(
            f"{rule}:{name}", rule, "info" if of.residual_current else "caution", name,
            f"its output has no conductor in common with the supply, so {ahead} sees no earth "
            f"fault behind it: {own}. Earth one point of its output, the centre or star point, and "
            "only that; a second earth would be as bad as none",
            circuit=of.id,
            remedy=None if of.residual_current else Remedy(
                "A ground-fault relay behind it that opens its output."
            ),
            source="what flows back to an isolated output does not pass a device ahead of it",
        ),
    )  # fmt: skip
