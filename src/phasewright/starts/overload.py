"""Whether a motor's overload relay trips in a run: two thermal images, earliest and latest.

An image follows d theta/dt = (m^2 - theta)/tau, m the amps over the setting, exactly over every
half cycle. The class says between which two images a relay lies (`tables.trip_bands`), printed for
three equal currents. Where they are not equal its three strips bend unequally: the earliest image
is fed the largest line current, with up to a third more where the relay senses a lost phase (or
nobody knows), the latest the root mean square of the three (common practice).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray

from phasewright.quantities.errors import UsageError
from phasewright.starts.halves import at_the_end, half_s
from phasewright.starts.trips import Trip, first_at, lasting_words, unsure, verdict_of
from phasewright.starts.waves import Waves
from phasewright.tables.trip_bands import OverloadClass, Relay, overload_relay, sensitive_factor

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Overload:
    """An overload relay: its setting, its class, the amps that had warmed it before the run, and
    whether it senses a lost phase (None: not known, so it may)."""

    setting_a: float
    class_: OverloadClass = "10"
    before_a: float = 0.0
    phase_sensitive: bool | None = None


def overload_trip(waves: Waves, of: int, relay: Overload) -> Trip:
    """What the overload relay of machine `of` does in a run.

    Raises TableEnds for an unknown class and UsageError for a setting that is none.
    """
    if not relay.setting_a > 0.0:
        raise UsageError("an overload relay needs a setting above zero")
    kind, step = overload_relay(relay.class_), half_s(waves)
    multiple = earliest_a(waves.lines_a[:, of], relay) / relay.setting_a
    together = np.sqrt((waves.lines_a[:, of] ** 2).mean(axis=1)) / relay.setting_a
    before = (relay.before_a / relay.setting_a) ** 2
    early = image(multiple, step, kind.early_tau_s, before) / kind.early_pick_up**2
    late = image(np.minimum(together, kind.at), step, kind.late_tau_s, before)
    may, surely = first_at(early, step), first_at(late / kind.late_pick_up**2, step)
    lasting, mean = float(at_the_end(multiple)), float(at_the_end(together))
    verdict = verdict_of(may, surely)
    lasts = (
        seconds_from_cold(lasting, kind.early_tau_s, kind.early_pick_up),
        seconds_from_cold(min(mean, kind.at), kind.late_tau_s, kind.late_pick_up),
    )
    name = waves.course.starters[of].machine.name
    return Trip(
        device="overload relay",
        kind=f"class {kind.class_}",
        rating_a=relay.setting_a,
        of=name,
        verdict=verdict,
        to_be_confirmed=unsure(kind.status),
        words=_words(name, relay, kind, may, surely)
        + lasting_words(verdict, lasts)
        + _beyond(kind, float(waves.line_a[:, of].max()) / relay.setting_a),
        source=kind.source,
        may_s=may,
        surely_s=surely,
        lasting_may_s=lasts[0],
        lasting_surely_s=lasts[1],
    )


def earliest_a(lines_a: Floats, relay: Overload) -> Floats:
    """Amps that count for the earliest trip, (halves,), from the three lines (halves, 3)."""
    largest, least = lines_a.max(axis=1), lines_a.min(axis=1)
    if relay.phase_sensitive is False:
        return np.asarray(largest, dtype=np.float64)
    ratios = (least / np.maximum(largest, 1e-12)).tolist()
    return np.asarray(largest * np.array([sensitive_factor(each) for each in ratios]))


def image(multiple: Floats, step_s: float, tau_s: float, before: float = 0.0) -> Floats:
    """theta at the end of each half cycle; `multiple` (halves,) of the setting, rms."""
    fades = math.exp(-step_s / tau_s)
    heats = (1.0 - fades) * multiple**2
    course = accumulate(heats.tolist(), lambda theta, heat: fades * theta + heat, initial=before)
    return np.array(list(course)[1:])


def seconds_from_cold(multiple: float, tau_s: float, pick_up: float) -> float | None:
    """When a lasting current trips an image that was cold; None where never."""
    return seconds_to_trip(multiple, tau_s, pick_up, 0.0)


def seconds_to_trip(multiple: float, tau_s: float, pick_up: float, before: float) -> float | None:
    """When a lasting current trips an image that stood at `before`; None where never."""
    if not multiple > pick_up:
        return None
    return tau_s * math.log((multiple**2 - before) / (multiple**2 - pick_up**2))


def _words(name: str, relay: Overload, kind: Relay, may: float | None, surely: float | None) -> str:
    what = f"The overload relay of {name} (class {kind.class_}, set to {relay.setting_a:.3g} A)"
    if surely is not None:
        return f"{what} trips, at the latest after {surely:.2g} s."
    return f"{what} holds." if may is None else f"{what} may trip, from {may:.2g} s on."


def _beyond(kind: Relay, most: float) -> str:
    """What is said where the amps leave what the standard prints."""
    if most <= kind.at:
        return ""
    return (
        f" Its amps pass {kind.at:g} times the setting, beyond which no times are printed: the "
        "earliest trip goes on with their square, the latest counts no more than that."
    )
