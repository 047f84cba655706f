"""What opens with a circuit's breaker: the one ahead of it, or the main fuse; and why not."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import replace

from phasewright.circuits.selectivity import selective_up_to_a
from phasewright.plan.circuit_study import NotGiven, PlanCircuit
from phasewright.plan.circuit_words import device_words
from phasewright.quantities.finding import Finding, Remedy
from phasewright.quantities.value import figure

RULE = "circuit.not_selective"
NEAR = 1.0 - 1e-6


def with_series(circuits: Sequence[PlanCircuit], own: Container[str]) -> list[PlanCircuit]:
    """The circuits, each with up to what short-circuit current its own breaker opens alone.

    Only where both breakers' bands are known and what a short draws; not of those (`own`) behind a
    source of the shop's own, whose faults are none of its supply.
    """
    ends = {each.to: each for each in circuits}
    return [
        each if each.id in own else _with(each, ends.get(each.from_)) for each in circuits
    ]  # fmt: skip


def _with(of: PlanCircuit, ahead: PlanCircuit | None) -> PlanCircuit:
    if ahead is None or ahead.device is None or of.device is None or of.fault_at_origin_a is None:
        return of
    most = of.fault_at_origin_a.number
    alone = selective_up_to_a(of.device, ahead.device, most)
    inputs = {
        "its breaker": (of.device.rating_a, "A"),
        "the one ahead": (ahead.device.rating_a, "A"),
        "short at its beginning": (most, "A"),
    }
    value = figure(
        alone, "A", "circuits.selectivity.selective_up_to_a", inputs,
        "trip bands: latest edge of the one behind, earliest of the one ahead",
    )  # fmt: skip
    return replace(of, selective_up_to_a=value, ahead=ahead.id)


def not_selective(circuits: Sequence[PlanCircuit]) -> tuple[Finding, ...]:
    """Where a short may open the breaker ahead too: once a breaker ahead."""
    by_id = {each.id: each for each in circuits}
    behind: dict[str, list[PlanCircuit]] = {}
    for each in circuits:
        most = each.fault_at_origin_a
        if each.ahead and most is not None and _alone(each) < NEAR * most.number:
            behind.setdefault(each.ahead, []).append(each)
    return tuple(_found(by_id[ahead], these) for ahead, these in behind.items())


def _found(ahead: PlanCircuit, behind: list[PlanCircuit]) -> Finding:
    worst = min(behind, key=_alone)
    names = ", ".join(each.to for each in behind)
    assert ahead.device is not None
    assert worst.fault_at_origin_a is not None
    alone, most = _alone(worst), worst.fault_at_origin_a.number
    surely = f"surely alone they open up to {alone:.0f} A only" if alone else (
        "none is so much smaller that it surely opens alone"
        if len(behind) == 1
        else f"that of {worst.to} is not so much smaller that it surely opens alone"
    )  # fmt: skip
    return Finding(
        f"{RULE}:{ahead.id}", RULE, "info", ahead.to,
        f"a short behind the breakers of {names} may open the {device_words(ahead.device)} ahead "
        f"of them as well: {surely}, and a short draws up to {most:.0f} A; then all that hangs on "
        "it goes dead",
        found=alone, allowed=most, unit="A", circuit=ahead.id,
        remedy=Remedy(
            "No danger, a nuisance: take both from one maker whose table shows them selective, or "
            "have a fuse ahead."
        ),
        source="published trip bands; IEC 60364-5-53, 536.4 (from memory)",
    )  # fmt: skip


def _alone(of: PlanCircuit) -> float:
    return 0.0 if of.selective_up_to_a is None else of.selective_up_to_a.number


_DRIVE = "the drive gives no more than its own limit of current and switches itself off"
_INSIDE = "it is a branch inside a box, behind the breaker of what it belongs to"
_BY_ROLE: dict[str, dict[str, str]] = {
    "drive_to_motor": {
        "device": _DRIVE, "fault_at_origin_a": _DRIVE, "fault_at_end_a": _DRIVE,
        "loop_ohm": _DRIVE, "earth_fault_a": _DRIVE, "disconnects_s": _DRIVE, "within_s": _DRIVE,
        "why_it_holds": "it has no breaker: nothing may open between a running drive and its motor",
        "why_it_trips": _DRIVE,
        "starting_current_a": "the drive brings its motor up within its own limit of current",
        "starting_s": "the ramp is one of the drive's settings",
        "residual_current": "one behind a drive would not work: that ahead of the drive covers it",
        "isolator": "its motor is isolated with the drive",
    },
    "capacitor_branch": dict.fromkeys(
        ("device", "fault_at_origin_a", "fault_at_end_a", "loop_ohm", "earth_fault_a",
         "disconnects_s", "within_s", "isolator", "residual_current", "why_it_holds",
         "why_it_trips", "overload_setting_a"),
        _INSIDE,
    ) | {
        "starting_current_a": "a capacitor that stays in takes the same amps all the while",
        "starting_s": "a capacitor that stays in takes the same amps all the while",
    },
    "outlet_to_machine": {
        "device": "the breaker ahead of its socket guards the cord too",
        "why_it_holds": "the breaker ahead of its socket guards the cord too",
        "isolator": "its plug isolates it",
    },
    "control": {"isolator": "it is isolated with the machine whose coils it feeds"},
}  # fmt: skip
_ELSE: dict[str, str] = {
    "starting_current_a": "nothing behind it draws a surge that was computed",
    "starting_s": "nothing behind it draws a surge that was computed",
    "why_it_holds": "nothing behind it draws a surge that was computed",
    "fault_at_origin_a": "what its source gives into a fault is not known",
    "fault_at_end_a": "what its source gives into a fault is not known",
    "loop_ohm": "no point of its supply is earthed: a first fault draws next to nothing",
    "earth_fault_a": "no point of its supply is earthed: a first fault draws next to nothing",
    "why_it_trips": "no point of its supply is earthed: a first fault draws next to nothing",
    "disconnects_s": "nothing here surely opens an earth fault at its end",
    "socket": "it is wired in",
    "phase_relay": "no generated line hangs on it, or no set of the plan turns on three lines",
    "overload_setting_a": "it feeds no motor by itself: its breaker protects it from overload, and "
    "a drive protects its own motor",
    "capacitance_f": "it is no capacitor's",
    "discharge_ohm": "it is no capacitor's",
    "first_cycles_a": "it carries no generated line",
    "isolator": "its breaker isolates it",
    "ambient_c": "not told: 30 °C as the tables have it",
    "residual_current": "its breaker alone opens an earth fault in time",
    "device": "it has none of its own",
    "within_s": "no time is asked",
    "selective_up_to_a": "no other breaker of the plan with a printed band stands ahead of it",
}
_NOT_SIZED = (
    "conductor", "conductor_m2", "ampacity_a", "voltage_drop", "protective_conductor",
)  # fmt: skip
_NEC = {
    "method": "table 310.16 asks for none",
    "within_s": "NFPA 70 sets no time",
    "residual_current": "none is asked in North America: the breaker's latest time is told",
}


def not_given(of: PlanCircuit, region: str) -> tuple[NotGiven, ...]:
    """Every figure of a circuit that is absent, with the reason."""
    by_role = _BY_ROLE.get(of.role, {})
    words = _ELSE | (_NEC if region == "NEC" else {}) | by_role
    if of.conductor is None:
        words = dict.fromkeys((*words, *_NOT_SIZED), "nothing large enough is sold or known")
    return tuple(NotGiven(field, why) for field, why in words.items() if getattr(of, field) is None)
