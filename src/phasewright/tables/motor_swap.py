"""Single-phase motors in place of three-phase ones, and the risk of work on an old winding."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.quantities.codes import Region
from phasewright.quantities.value import Value, figure, spread
from phasewright.tables.currents import full_load_current_a
from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.published import Table, between, table


@dataclass(frozen=True, slots=True)
class SinglePhaseMotor:
    """A capacitor motor with start and run capacitor, at rated load on these volts."""

    power_w: float
    voltage_v: float
    current_a: Value
    input_power_w: float
    power_factor: float
    starting_current_a: Value
    starting_power_factor: float
    starting_torque_ratio: Value
    breakdown_ratio: Value
    idle_loss_share: float

    @property
    def reactive_var(self) -> float:
        """Vars at rated load; taken as the same at every load."""
        return self.voltage_v * self.current_a.number * math.sqrt(1.0 - self.power_factor**2)

    def current_at(self, share: float) -> Value:
        """Amps at a share of the rated torque, with the spread of the rated ones."""
        amps = math.hypot(self.power_at(share), self.reactive_var) / self.voltage_v
        return figure(
            amps, "A", "tables.motor_swap.single_phase_motor",
            {"rated current": (self.current_a.number, "A"), "share of torque": (share, "")},
            self.current_a.source,
            low=amps * self.current_a.low / self.current_a.number,
            high=amps * self.current_a.high / self.current_a.number,
        )  # fmt: skip

    def power_at(self, share: float) -> float:
        """Watts taken at a share of the rated torque; losses part fixed, part with its square."""
        lost = self.input_power_w - self.power_w
        fixed = self.idle_loss_share
        return share * self.power_w + lost * (fixed + (1.0 - fixed) * share * share)


def single_phase_motor(power_w: float, voltage_v: float, region: Region) -> SinglePhaseMotor:
    """A motor of this power on these volts; TableEnds outside 0.06 to 3 kW.

    NEC: its current is that of table 430.248, which is on the high side on purpose; elsewhere it
    follows from usual efficiency and power factor.
    """
    of = table("motor_swap", "single_phase")
    efficiency = between(
        power_w / 1000.0, of.column("power_kw"), of.column("efficiency"),
        "single-phase motor", "kW",
    )  # fmt: skip
    factor = of.number("power_factor")
    usual = power_w / (efficiency * factor * voltage_v)
    if region == "NEC":
        power_hp = _listed_hp(power_w)
        amps = full_load_current_a(power_hp, voltage_v, phases=1)
        words = "NFPA 70 (NEC), table 430.248"
        current = spread(amps, min(amps, usual), amps, "A", "table", words)
    else:
        part = of.number("spread")
        current = spread(
            usual, usual * (1.0 - part), usual * (1.0 + part), "A", of.origin,
            f"single-phase motor: {of.words}",
        )  # fmt: skip
    return SinglePhaseMotor(
        power_w=power_w,
        voltage_v=voltage_v,
        current_a=current,
        input_power_w=voltage_v * current.number * factor,
        power_factor=factor,
        starting_current_a=replace(_value(of, "starting_current").scaled(current.number), unit="A"),
        starting_power_factor=of.number("starting_power_factor"),
        starting_torque_ratio=_value(of, "starting_torque"),
        breakdown_ratio=_value(of, "breakdown_torque"),
        idle_loss_share=of.number("idle_loss_share"),
    )


def largest_single_phase_w() -> float:
    """The largest single-phase motor that is usual [W]."""
    return 1000.0 * table("motor_swap", "single_phase").column("power_kw")[-1]


@dataclass(frozen=True, slots=True)
class StartLimits:
    """What a start capacitor bears: run-up [s], starts an hour; mean run-up torque over rated.

    `breaker_ratio`: starting current over the rating from which a quick breaker may trip.
    """

    run_up_s: float
    starts_per_hour: float
    accelerating_torque: float
    breaker_ratio: float


def start_limits() -> StartLimits:
    """The limits of a start capacitor with a centrifugal switch, and of a quick breaker."""
    of = table("motor_swap", "start_capacitor")
    return StartLimits(
        of.number("run_up_s"), of.number("starts_per_hour"), of.number("accelerating_torque"),
        of.number("breaker_ratio"),
    )  # fmt: skip


def old_motor_share() -> float:
    """What the motor that comes out sells for, over the price of a new one."""
    return table("motor_swap", "old_motor").number("share")


def ruin_chance(year: float) -> Value:
    """Chance that a winding of this year is ruined while its star point is brought out."""
    of = table("motor_swap", "ruin")
    if year < of.number("varnished_before"):
        return _value(of, "varnished")
    return _value(table("motor_swap", "ruin_later"), "later")


def _listed_hp(power_w: float) -> float:
    """The size of table 430.248 that is meant: within 2 %, or the power as it stands."""
    listed = table("currents", "single_phase").column("power_hp")
    power_hp = power_w / W_PER_HP
    near = min(listed, key=lambda hp: abs(hp / power_hp - 1.0))
    return near if abs(near / power_hp - 1.0) <= 0.02 else power_hp


def _value(of: Table, key: str) -> Value:
    number, low, high = of.column(key)
    return spread(number, low, high, "", of.origin, f"{key.replace('_', ' ')}: {of.words}")
