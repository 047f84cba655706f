"""What one drive takes from the supply for its motor's loads, and what it can give."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from phasewright.electronics.drive import (
    DriveInput,
    drive_input,
    link_power_w,
    motor_efficiency_on_drive,
    usual_capacitor_f,
)
from phasewright.electronics.rectifier import BridgeState
from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import (
    Operation,
    at_torque,
    breakdown,
    curve,
    no_load,
    rated,
)
from phasewright.network.supply import Source
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.value import Value, exact, figure
from phasewright.tables.drives import (
    drive_efficiency,
    overload_share,
    standby_power_w,
)
from phasewright.ways.chokes import NONE, Choke, Wanted, chosen, with_choke
from phasewright.ways.drive_supply import SupplySide, supply_side_of
from phasewright.ways.way import Draw


@dataclass(frozen=True, slots=True)
class Duty:
    """A drive's work at the three loads of a `Service`, with its figures at the demand."""

    unloaded: Draw
    typical: Draw
    demand: Draw
    input_current_a: Value
    input_power_w: Value
    input_power_factor: Value
    output_current_a: Value
    usable_power_w: Value
    idle_power_w: Value
    efficiency: Value
    choke: Choke
    input_peak_a: Value | None = None
    link_min_v: Value | None = None
    side: SupplySide | None = None

    @property
    def choke_fitted(self) -> bool:
        """Whether a choke is before the drive or in its link."""
        return self.choke.fitted

    @property
    def ripple_share(self) -> float | None:
        """Peak-to-peak ripple of the link over its mean at the demand; None where not computed."""
        volts = None if self.side is None else self.side.link_v
        return None if volts is None else volts.ripple.number / volts.mean.number


def duty_of(
    source: Source,
    circuit: Circuit,
    drive_rating_w: float,
    *,
    typical: float,
    demand: float,
    choke: Choke | None,
    room_a: float,
    heat_ratio: float = 1.0,
    three_phase_type: bool = False,
    doubler: bool = False,
    meets: Callable[[BridgeState], bool] | None = None,
) -> Duty:
    """The drive's draw at no load, at the usual and at the highest steady load.

    `typical`, `demand`: torque as shares of the rated torque, at the rated speed. `choke` is the
    one that is fitted; None: chosen here, by what it spares the supply and by what the drive
    `meets` of what is asked of its input. A `doubler` doubles its volts inside. `heat_ratio`
    is the torque over the rated one that the windings bear for ever where the motor stands.
    """
    rated_nm = rated(circuit).shaft_torque_nm
    highest = link_power_at(circuit, demand * rated_nm, drive_rating_w)
    wanted = Wanted(room_a, meets)
    if choke is None:
        farad = usual_capacitor_f(drive_rating_w, three_phase_type, doubler)
        bare = with_choke(source, highest.number, farad, drive_rating_w, NONE, doubler)
        choke = chosen(bare, drive_rating_w, wanted, three_phase_type)
    taken = _input(source, highest, drive_rating_w, choke, three_phase_type, doubler)
    works = _works(circuit, demand * rated_nm)
    usual = _draw(source, circuit, typical * rated_nm, drive_rating_w, taken, doubler)
    idle = _draw(source, circuit, 0.0, drive_rating_w, taken, doubler)
    shaft_w = works.shaft_power_w
    standby = standby_power_w()
    return Duty(
        unloaded=idle,
        typical=usual,
        demand=_as_draw(taken.expected),
        input_current_a=taken.current_a,
        input_peak_a=taken.peak_a,
        link_min_v=taken.link_min_v,
        side=supply_side_of(taken, source, drive_rating_w, doubler),
        input_power_w=taken.power_w,
        input_power_factor=taken.power_factor,
        output_current_a=figure(
            works.current_a, "A", "machines.performance.at_torque",
            {"torque": (demand * rated_nm, "Nm")}, "motor circuit",
        ),
        usable_power_w=_usable(source, circuit, drive_rating_w, taken, room_a, heat_ratio, doubler),
        idle_power_w=standby,
        efficiency=figure(
            shaft_w / taken.power_w.number, "", "ways.drive_duty.duty_of",
            {"shaft": (shaft_w, "W"), "input": (taken.power_w.number, "W")},
            "motor circuit and rectifier",
        ),
        choke=choke,
    )  # fmt: skip


def _input(
    source: Source, power: Value, rating_w: float, choke: Choke, three_phase_type: bool,
    doubler: bool = False,
) -> DriveInput:  # fmt: skip
    return drive_input(
        source, power, rating_w,
        ac_choke_h=choke.before_h(source, rating_w), dc_choke_h=choke.within_h(source, rating_w),
        three_phase_type=three_phase_type, doubler=doubler,
    )  # fmt: skip


def link_power_at(circuit: Circuit, torque_nm: float, rating_w: float) -> Value:
    """Power into the link for a shaft torque at rated volts and hertz."""
    point = _works(circuit, torque_nm)
    if point.shaft_power_w <= 0.0:
        free = no_load(circuit).input_power_w
        return exact(free / drive_efficiency(rating_w).number, "W", "computed", "motor circuit")
    efficiency = motor_efficiency_on_drive(point.shaft_power_w / point.input_power_w)
    return link_power_w(point.shaft_power_w, efficiency, rating_w)


def _draw(
    source: Source, circuit: Circuit, torque_nm: float, rating_w: float, like: DriveInput,
    doubler: bool,
) -> Draw:  # fmt: skip
    power = link_power_at(circuit, torque_nm, rating_w).number
    exact_power = exact(power, "W", "computed", "motor circuit")
    state = drive_input(
        source,
        exact_power,
        rating_w,
        ac_choke_h=like.ac_choke_h,
        dc_choke_h=like.dc_choke_h,
        capacitance_f=like.capacitance_f,
        doubler=doubler,
    ).expected
    return _as_draw(state)


def draw_together(
    source: Source, loads: tuple[tuple[Circuit, float], ...], rating_w: float, choke: Choke,
    three_phase_type: bool,
) -> Draw:  # fmt: skip
    """What one drive draws that turns several motors at their plates' speed.

    `loads`: each motor's circuit and the share of its rated torque that it gives.
    """
    power = sum(
        link_power_at(circuit, share * rated(circuit).shaft_torque_nm, rating_w).number
        for circuit, share in loads
    )
    whole = exact(power, "W", "computed", "motor circuits")
    return _as_draw(_input(source, whole, rating_w, choke, three_phase_type).expected)


def _as_draw(state: BridgeState) -> Draw:
    fundamental = abs(state.harmonics_a[0])
    reactive = math.sqrt(
        max(0.0, (fundamental * state.service_voltage_v) ** 2 - state.input_power_w**2)
    )
    return Draw(
        power_w=state.input_power_w,
        reactive_var=-reactive,
        distortion_a=math.sqrt(max(0.0, state.current_a**2 - fundamental**2)),
    )


def _usable(
    source: Source, circuit: Circuit, rating_w: float, like: DriveInput, room_a: float,
    heat_ratio: float, doubler: bool,
) -> Value:  # fmt: skip
    """Shaft power for ever: the motor's own rating, or what heat or the supply's room leaves."""
    whole = rated(circuit)
    full = whole.shaft_power_w

    def current(share: float) -> float:
        power = link_power_at(circuit, share * whole.shaft_torque_nm, rating_w).number
        state = drive_input(
            source, exact(power, "W", "computed"), rating_w,
            ac_choke_h=like.ac_choke_h, dc_choke_h=like.dc_choke_h,
            capacitance_f=like.capacitance_f, doubler=doubler,
        )  # fmt: skip
        return state.current_a.number

    low, high = 0.0, heat_ratio
    try:
        fits = current(high) <= room_a
    except NotComputable:
        fits = False
    if not fits:
        for _ in range(12):
            middle = 0.5 * (low + high)
            try:
                fits = current(middle) <= room_a
            except NotComputable:
                fits = False
            low, high = (middle, high) if fits else (low, middle)
        high = low
    return figure(
        high * full, "W", "ways.drive_duty._usable",
        {"rated": (full, "W"), "room": (room_a, "A")},
        "rated power of the motor, or less where the supply's room ends first",
    )  # fmt: skip


def starting_torque_ratio(circuit: Circuit, drive_a: float) -> float:
    """Torque at standstill over the rated one, at rated flux and the drive's short-time amps.

    The drive sets the low frequency at which the rotor's slip frequency gives this torque; it
    is bounded by the breakdown torque.
    """
    whole_nm = rated(circuit).shaft_torque_nm
    current_a, torque_nm = _to_breakdown(circuit)
    within = current_a <= overload_share() * drive_a
    if not bool(within.any()):
        return float(torque_nm[0]) / whole_nm
    return float(np.max(torque_nm[within])) / whole_nm


@lru_cache(maxsize=512)
def _to_breakdown(circuit: Circuit) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Line amps and air-gap torque from the rated slip to that of the breakdown torque."""
    slips = np.linspace(circuit.rated_slip, breakdown(circuit).slip, 60)
    line = curve(circuit, slips)
    return line.current_a, line.airgap_torque_nm


@lru_cache(maxsize=4096)
def _works(circuit: Circuit, torque_nm: float) -> Operation:
    """The motor at a torque; the same whatever drive turns it."""
    return at_torque(circuit, torque_nm)
