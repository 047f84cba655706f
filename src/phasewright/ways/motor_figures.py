"""Figures of a motor on its drive: torque by speed, own steps, the other link, its winding."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.value import Value


@dataclass(frozen=True, slots=True)
class TorqueSpeed:
    """The motor on its drive with the shaft at one speed; torques over the plate's.

    `frequency_hz`, `line_voltage_v` and `flux_ratio` (1 = rated) are those at which it gives
    `need_ratio`; absent where it cannot. `pull_out_ratio` and `short_time_ratio` (for a minute)
    with volts in a straight line over hertz and the usual boost, `tuned_short_time_ratio` where
    the drive has measured the winding and makes up the drop in it. `lasting_ratio` cooled by the
    motor's own fan; absent below the speeds for which anything is known of that.
    """

    speed_ratio: float
    speed_rpm: float
    need_ratio: float
    frequency_hz: float | None
    line_voltage_v: float | None
    flux_ratio: float | None
    pull_out_ratio: float
    short_time_ratio: float
    short_time_by: str
    tuned_short_time_ratio: float
    lasting_ratio: float | None
    lasting_by: str | None
    lasting_with_fan_ratio: float


@dataclass(frozen=True, slots=True)
class BeltSteps:
    """Steps of the machine's own that stay beside the drive (numbers from the slowest, 1) and how
    many of the `steps` its speed range replaces. `step_ratio`: one speed over the next slower one.
    `from_ratio` to `to_ratio`: the motor's speeds at which it bears the power of its usual load.
    `for_wish`: how few steps the wished speeds ask for beside the drive, absent without a wish and
    where no number of them gives them without a gap."""

    steps: int
    step_ratio: Value
    from_ratio: float
    to_ratio: float
    kept: tuple[int, ...]
    replaced: int
    for_wish: int | None
    words: str


@dataclass(frozen=True, slots=True)
class FastDelta:
    """The winding in delta on a drive that gives the volts of its star: full flux up to
    `base_frequency_hz`, `power_ratio` times the plate's power there if it may turn so fast.

    `speed_max_ratio` is the highest speed that bearings, tool and load allow with it,
    `lasting_ratio` the torque there for ever over the plate's. The drive is sized by
    `output_current_a`; `drive_rating_w` and `price` are absent where none is made so large.
    """

    output_voltage_v: float
    base_frequency_hz: Value
    power_ratio: Value
    output_current_a: Value
    speed_max_ratio: Value | None
    lasting_ratio: Value | None
    drive_rating_w: Value | None
    price: Value | None
    words: str


@dataclass(frozen=True, slots=True)
class Insulation:
    """Steep edges at the motor: the wave that its lead sends back. `lead_m` is the owner's or a
    usual one; `longest_lead_m` what the winding, and the drive, bear without a filter, set by
    `longest_by`. `peak_v` and `steepness_v_per_s` stand between two lines at the terminals."""

    lead_m: Value
    link_peak_v: Value
    rise_s: Value
    peak_v: Value
    steepness_v_per_s: Value
    allowed_peak_v: Value
    longest_lead_m: Value
    longest_by: str
    remedy: str
    remedy_price: Value | None
