"""What is said of the harmonics a drive sends into its supply: limits of current and of volts."""

from __future__ import annotations

from collections.abc import Callable

from phasewright.electronics.rectifier import BridgeState
from phasewright.network.shortcircuit import fault_current_a
from phasewright.quantities.codes import Region, Users
from phasewright.rules.harmonics import above_16_a, class_a, voltage_distortion
from phasewright.rules.register import Ruling
from phasewright.ways.drive_duty import Duty
from phasewright.ways.site import Site
from phasewright.ways.way import Task

_TRADES_ABOVE_W = 1000.0
"""Above this power equipment made for trades has no limits in IEC 61000-3-2 (from memory)."""


def norm_rulings(duty: Duty, task: Task, site: Site) -> tuple[Ruling, ...]:
    """The limits of current where the region has them, and of the volts at the drive's place."""
    if duty.side is None:
        return ()
    amps = tuple(abs(each) for each in duty.side.harmonics_a)
    rms, watts = duty.input_current_a.number, duty.input_power_w.number
    return (
        *_of_current(amps, rms, watts, task, site),
        voltage_distortion(duty.side.voltage_thd.number, task.motor.id),
    )


def meets_norms(task: Task, site: Site) -> Callable[[BridgeState], bool] | None:
    """Whether a drive's input keeps the limits of current; None where the region has none."""
    if site.region != "IEC":
        return None

    def meets(state: BridgeState) -> bool:
        amps = tuple(abs(each) for each in state.harmonics_a)
        rulings = _of_current(amps, state.current_a, state.input_power_w, task, site)
        return not any(ruling.findings for ruling in rulings)

    return meets


def _of_current(
    amps: tuple[float, ...], rms_a: float, watts: float, task: Task, site: Site
) -> tuple[Ruling, ...]:
    source = site.source
    fault_a = fault_current_a(source.voltage_v, source.resistance_ohm, source.reactance_ohm)
    return limits_of_current(
        amps, rms_a, watts, fault_a, site.region, task.machine.users, task.motor.id
    )


def limits_of_current(
    amps: tuple[float, ...], rms_a: float, watts: float, fault_a: float, region: Region,
    users: Users | None, subject: str,
) -> tuple[Ruling, ...]:  # fmt: skip
    """IEC 61000-3-2 up to 16 A and 61000-3-12 above; nothing where the region is another.

    A machine that staff use counts as equipment made for trades.
    """
    if region != "IEC":
        return ()
    trades = users == "employees" and watts > _TRADES_ABOVE_W
    return (
        class_a(amps, rms_a, trades, subject),
        above_16_a(amps, rms_a, fault_a, subject),
    )
