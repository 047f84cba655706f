"""The whole answer as frozen data; field names are those of the result file.

Leaves are `Value` (a figure with its past), plain numbers, text or None (not computed: left out
of the file). The result file is this tree with every `Value` replaced by its number; the
workings are the same tree's `Value`s by their JSON pointer.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Literal

from phasewright.plan.circuit_prices import CircuitPart
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.motor_study import CircuitSide, SpeedSide, Torque
from phasewright.plan.network_study import NetworkEffects
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.start_study import (
    LargestStartSide,
    StartBeside,
    StartsPerHour,
    WindingVerdict,
    WrongDirection,
)
from phasewright.quantities.codes import Connection, Earthed, Region, Verdict, WayName
from phasewright.quantities.finding import Assumed, Finding, Missing, Reason, Said
from phasewright.quantities.plain import plain
from phasewright.quantities.value import Value
from phasewright.rules.on_site import Confirm
from phasewright.ways.figures import Buy, Figures, Range


@dataclass(frozen=True, slots=True)
class Made:
    """What made this answer; no clock, so that the same shop gives the same bytes."""

    version: str
    tables: str
    shop_sha256: str
    quick: bool


@dataclass(frozen=True, slots=True)
class ChangesIf:
    """A threshold at which another plan wins; `path` is in the shop file, so it can be tried.

    `dearer_now`: what that plan costs more over the years with the fact as it is. `looked_to` is as
    far as the fact was moved; there `best_there` is best and costs `saves_there` less than today's
    plan. Sums are absent where the plan cannot be had there.
    """

    what: str
    path: str
    from_: float
    to: float
    unit: str
    then: str
    dearer_now: float | None
    looked_to: float
    best_there: str
    saves_there: float | None


@dataclass(frozen=True, slots=True)
class StaysIf:
    """A fact that was put at `low` and at `high`: today's plan is the best at both."""

    what: str
    path: str
    from_: float
    low: float
    high: float
    unit: str


@dataclass(frozen=True, slots=True)
class Answer:
    """The headline and what stands behind it."""

    headline: str
    plan: str
    reasons: tuple[Reason, ...]
    cautions: tuple[Reason, ...]
    obstacles: tuple[Reason, ...]
    changes_if: tuple[ChangesIf, ...]
    figures: tuple[Said, ...] | None = None
    """Where the figures of the headline stand, in the order of its words."""
    stays_if: tuple[StaysIf, ...] = ()


@dataclass(frozen=True, slots=True)
class Impedance:
    """Supply impedance at the place where the machines are fed."""

    r: Value
    x: Value


@dataclass(frozen=True, slots=True)
class SupplySide:
    """What the supply is and what is left on it.

    `lines_to_earth_v` are of its own lines, the higher of both where `earthed` is unknown, absent
    where nothing is earthed; `never` says what must not be tied to earth or to the neutral.
    """

    impedance_ohm: Impedance
    fault_current_a: Value
    headroom_a: Value | None
    impedance_from: str
    earthed: Earthed
    lines_to_earth_v: tuple[Value, ...] | None
    never: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class PlaceSide:
    """A place where machines stand: the supply there, and what its own feeder lets through.

    `headroom_a` is what the feeder has left in the plan of the answer while the set turns that
    leaves least; both are absent where nothing limits it that is known.
    """

    name: str
    impedance_ohm: Impedance
    fault_current_a: Value
    limit_a: Value | None
    headroom_a: Value | None


@dataclass(frozen=True, slots=True)
class WaySide:
    """One way of powering, judged for this motor's machine alone."""

    way: WayName
    verdict: Verdict
    connection: Connection | None
    line_voltage_v: Value | None
    full_load_current_a: Value | None
    reasons: tuple[Reason, ...]
    conditions: tuple[Reason, ...]
    figures: Figures


@dataclass(frozen=True, slots=True)
class MotorSide:
    id: str
    connection: Connection
    connection_words: str
    line_voltage_v: Value | None
    full_load_current_a: Value | None
    poles: int | None
    synchronous_speed_rpm: float | None
    rated_power_w: Value | None
    rated_speed_rpm: Value | None
    equivalent_circuit: CircuitSide | None
    torque: Torque | None
    locked_rotor_current_a: Value | None
    speeds: tuple[SpeedSide, ...] | None
    ways: tuple[WaySide, ...]


@dataclass(frozen=True, slots=True)
class OtherSide:
    """A consumer that is no motor."""

    id: str
    way: WayName
    current_a: Value | None
    findings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class YearSide:
    """Expected payments that fall due in a year (0 is today), not discounted.

    `paid_so_far` is what has been paid until its end, with its 5th and 95th percentile over the
    futures.
    """

    year: int
    buys: float
    energy: float
    upkeep: float
    labour: float
    paid_so_far: PaidSoFar


@dataclass(frozen=True, slots=True)
class PaidSoFar:
    expected: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CostParts:
    """What an expected cost is made of, each worth today: things less what they sell for at the
    end, work, energy, upkeep."""

    buys: float
    labour: float
    energy: float
    upkeep: float


@dataclass(frozen=True, slots=True)
class LifetimeCost:
    """What a plan costs over the years, worth today, with its 5th and 95th percentile."""

    expected: Value
    low: float
    high: float
    parts: CostParts


@dataclass(frozen=True, slots=True)
class Regret:
    expected: Value
    worst: Value


@dataclass(frozen=True, slots=True)
class SupplyCurrent:
    running: Value | None
    starting: Value | None


@dataclass(frozen=True, slots=True)
class Dip:
    ratio: Value
    where: str


@dataclass(frozen=True, slots=True)
class PlanMotor:
    """As built in this plan: what this motor hangs on."""

    motor: str
    way: WayName | None
    equipment: str | None
    connection: Connection | None
    overload_setting_a: Value | None
    figures: Figures


@dataclass(frozen=True, slots=True)
class HeldWithMachines:
    """What is held when the supply is lost while these motors turn with capacitors of their own.

    The set of the plan that holds most; `run_capacitance_sum_f` is of all capacitors then on.
    """

    motors: tuple[str, ...]
    run_capacitance_sum_f: Value
    self_excites: Range


@dataclass(frozen=True, slots=True)
class SupplyLost:
    """What a converter with its idler spinning holds when its supply is lost.

    Sums are C12 + C23 + C31. `self_excites`: volts of the highest line, 0 where nothing is held;
    the last four stand where the usual iron holds something. `law` says how far those volts
    rest on measured iron.
    """

    run_capacitance_sum_f: Value
    onset_sum_f: Range
    full_volts_sum_f: Value | None
    self_excites: Range
    line_voltages_v: tuple[Value, Value, Value] | None
    frequency_hz: Value | None
    braking_nm: Value | None
    law: Literal["measured", "extended", "beyond"] | None
    with_machines: HeldWithMachines | None = None


@dataclass(frozen=True, slots=True)
class PlanEquipment:
    id: str
    way: WayName
    rating: float
    unit: str
    place: str | None
    serves: tuple[str, ...]
    figures: Figures
    equivalent_circuit: CircuitSide | None
    supply_lost: SupplyLost | None = None
    lines_to_earth_v: tuple[Value, Value, Value] | None = None
    largest_starts: tuple[LargestStartSide, ...] | None = None
    wrong_direction: WrongDirection | None = None


@dataclass(frozen=True, slots=True)
class PlanCase:
    """One set of motors turning together."""

    running: tuple[str, ...]
    supply_current_a: Value
    supply_power_w: Value
    room_left_a: Value | None
    line_voltages_v: tuple[Value, Value, Value] | None
    unbalance: Unbalance | None
    line_currents_a: tuple[MotorAmps, ...] | None
    lines_to_earth_v: tuple[Value, Value, Value] | None
    harmonics: CaseHarmonics | None = None
    room_left_starting_a: Value | None = None


@dataclass(frozen=True, slots=True)
class CaseHarmonics:
    """The drives of a set at their highest loads, settled together with what is linear beside
    them: the supply's current with its harmonics 1 to 40, the volts at the service, the neutral.

    `conductor_heat_ratio` is heat in the supply's conductors over that of the fundamental alone.
    `neutral_a` is absent where no neutral is fed from.
    """

    current_a: Value
    current_thd: Value
    crest_factor: Value
    service_voltage_thd: Value
    harmonics_a: tuple[float, ...]
    conductor_heat_ratio: Value
    neutral_a: Value | None


@dataclass(frozen=True, slots=True)
class Unbalance:
    vuf: Value
    nema: Value


@dataclass(frozen=True, slots=True)
class MotorAmps:
    motor: str
    amps: tuple[Value, Value, Value]


@dataclass(frozen=True, slots=True)
class StartTrip:
    """What a protective device does in a start where it does not simply hold."""

    device: str
    kind: str
    verdict: str
    to_be_confirmed: bool
    words: str


@dataclass(frozen=True, slots=True)
class PlanStart:
    """A motor's start in its hardest case, computed in time.

    `with_` are the motors that run already or are switched on by the same event. `time_high_s` is
    with leakage that saturates strongly. `dip` is the deepest half cycle at the service against the
    one before, a fraction; `line3_lowest_v` the lowest volts of lines 2-3 and 3-1 in the start.
    From `beside` on only in the answer's plan. `planned` is of a machine that is to come, in
    the plan as it is once all have come.
    """

    motor: str
    method: str
    with_: tuple[str, ...]
    runs_up: bool
    time_s: Value | None
    time_high_s: Value | None
    dip: Value
    supply_peak_a: Value
    line3_lowest_v: Value | None
    trips: tuple[StartTrip, ...]
    words: str
    planned: bool = False
    beside: tuple[StartBeside, ...] | None = None
    starts_per_hour: StartsPerHour | None = None
    winding_c: Range | None = None
    winding_verdict: WindingVerdict | None = None
    winding_words: str | None = None


@dataclass(frozen=True, slots=True)
class PlanSide:
    id: str
    title: str
    feasible: bool
    buys: tuple[Buy, ...]
    purchase: Value
    labour: Value
    hours_of_work: Value
    energy_per_year: Value
    idle_energy_per_year_kwh: Value
    years: tuple[YearSide, ...]
    lifetime_cost: LifetimeCost
    regret: Regret | None
    noise_dba: Value | None
    gives: tuple[Reason, ...]
    gives_up: tuple[Reason, ...]
    supply_current_a: SupplyCurrent
    voltage_dip: Dip | None
    motors: tuple[PlanMotor, ...]
    equipment: tuple[PlanEquipment, ...]
    cases: tuple[PlanCase, ...]
    starts: tuple[PlanStart, ...]
    starting_order: tuple[str, ...]
    findings: tuple[str, ...]
    circuits: tuple[PlanCircuit, ...] | None = None
    network_effects: NetworkEffects | None = None
    to_confirm: tuple[Confirm, ...] | None = None
    readings_expected: tuple[ReadingExpected, ...] | None = None
    circuit_parts: tuple[CircuitPart, ...] | None = None
    circuits_cost: Range | None = None
    purchase_with_circuits: Value | None = None
    lifetime_cost_with_circuits: Value | None = None
    compared: tuple[Reason, ...] = ()
    motors_to_come: tuple[PlanMotor, ...] | None = None
    """Motors of machines that may come, in the plan as it is once all have come."""


@dataclass(frozen=True, slots=True)
class SourceSide:
    id: str
    title: str
    edition: str
    status: str


@dataclass(frozen=True, slots=True)
class Study:
    """The whole answer for one shop."""

    made: Made
    shop: str
    region: Region
    currency: str | None
    answer: Answer
    supply: SupplySide
    motors: tuple[MotorSide, ...]
    others: tuple[OtherSide, ...]
    plans: tuple[PlanSide, ...]
    findings: tuple[Finding, ...]
    assumed: tuple[Assumed, ...]
    missing: tuple[Missing, ...]
    sources: tuple[SourceSide, ...]
    places: tuple[PlaceSide, ...] = ()

    def to_dict(self) -> dict[str, Any]:
        """The result file as plain data: every figure as its number, what is None left out."""
        return dict(plain(self))
