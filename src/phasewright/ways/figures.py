"""The figures a way gives for a motor, and what has to be bought. Names of the result file.

Every field is None until it is computed; the result file leaves such fields out.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.quantities.codes import Buyable, StopsBy, WayName
from phasewright.quantities.value import Value
from phasewright.ways.drive_sheet import MotorOnDrive, RewiringStep, Setting
from phasewright.ways.motor_figures import BeltSteps, FastDelta, Insulation, TorqueSpeed


@dataclass(frozen=True, slots=True)
class Range:
    """A figure whose unknowns matter: lowest, expected and highest."""

    low: float
    expected: Value
    high: float


@dataclass(frozen=True, slots=True)
class RunCapacitance:
    c12: Value
    c23: Value
    c31: Value


@dataclass(frozen=True, slots=True)
class TravellingCapacitance:
    """Run capacitors that are switched with a motor, by the motor's id."""

    motor: str
    c23: Value
    c31: Value


@dataclass(frozen=True, slots=True)
class IdleLoaded:
    """Line voltages [v12, v23, v31] with the converter idling and with this load."""

    idle: tuple[float, float, float]
    loaded: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class UnbalancePair:
    vuf: float
    nema: float


@dataclass(frozen=True, slots=True)
class UnbalanceIdleLoaded:
    idle: UnbalancePair
    loaded: UnbalancePair


@dataclass(frozen=True, slots=True)
class LineCurrents:
    idler: tuple[float, float, float]
    motor: tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class RectifierFigures:
    """A machine's rectifier at work on a converter: rms amps of lines 1, 2, 3, its shares of
    power of pairs 1-2, 2-3, 3-1, its link."""

    power_w: Value
    line_currents_a: tuple[float, float, float]
    pair_shares: tuple[float, float, float]
    link_mean_v: Value
    link_min_v: Value


@dataclass(frozen=True, slots=True)
class LinkFigures:
    """What stands before and in a drive's link as it was computed; a choke that is not there has
    0 H. `power_w` is what the inverter takes from it."""

    capacitance_f: Value
    ac_choke_h: Value
    dc_choke_h: Value
    power_w: Value


@dataclass(frozen=True, slots=True)
class LinkVolts:
    """Volts of a drive's link at the highest load: mean, lowest between two peaks of the mains,
    and peak-to-peak ripple."""

    mean: Value
    lowest: Value
    ripple: Value


@dataclass(frozen=True, slots=True)
class InrushFigures:
    """Switching a drive on with its link discharged, through a usual charging resistor: the peak
    at the worst point on the wave, the time until the link is charged, and the least time
    between two switchings on that this resistor bears for ever."""

    peak_a: Value
    charge_s: Value
    least_off_s: Value


@dataclass(frozen=True, slots=True)
class BrakeResistorFigures:
    """A brake resistor for the stop that is asked for: the most ohms that take its peak and the
    least the drive bears, watts it must bear for ever and at its peak, the share of the time it
    works."""

    ohm: Value
    least_ohm: Value
    w: Value
    peak_w: Value
    duty: Value


@dataclass(frozen=True, slots=True)
class InjectedTorque:
    """Torque at the shaft that direct current brakes with at one speed."""

    speed_rpm: float
    torque_nm: float


@dataclass(frozen=True, slots=True)
class DcInjectionFigures:
    """A stop by direct current alone, from full speed: amps (rms that heat as much), the time, the
    heat of one stop in winding and rotor together and in the rotor, torque against speed."""

    current_a: Value
    time_s: Value
    heat_j: Value
    rotor_j: Value
    torque: tuple[InjectedTorque, ...]


@dataclass(frozen=True, slots=True)
class StoppingFigures:
    """How a motor on a drive is stopped, and how long that takes; absent where not known."""

    by: StopsBy
    time_s: Value | None


@dataclass(frozen=True, slots=True)
class EmergencyStopFigures:
    """Category of its emergency stop (0: power off at once, 1: after a braked stop), and why."""

    category: int
    words: str


@dataclass(frozen=True, slots=True)
class StartFigures:
    """A start computed in time. `time_s` with the usual leakage at starting current, `time_high_s`
    with leakage that saturates strongly; absent where it does not run up so. `dip` is the deepest
    half cycle at the service against the one before, a fraction."""

    runs_up: bool
    time_s: Value | None
    dip: Value
    supply_peak_a: Value
    time_high_s: Value | None = None


@dataclass(frozen=True, slots=True)
class IdlerStartFigures:
    """The converter's own start, with nothing on it: how, how long until the last idler runs, the
    start capacitor's drop-out as a share of synchronous speed and the time it is on."""

    method: str
    runs_up: bool
    time_s: Value
    dip: Value
    supply_peak_a: Value
    resistor_ohm: Value | None
    drop_out_ratio: Value | None
    start_capacitor_on_s: Value | None


@dataclass(frozen=True, slots=True)
class Figures:
    """What a way does for a motor. Every way gives the first block where it applies."""

    input_current_a: Range | None = None
    input_power_w: Value | None = None
    input_power_factor: Value | None = None
    circuit_rating_a: Value | None = None
    usable_power_w: Value | None = None
    usable_by_heat_w: Value | None = None
    usable_by_overload_w: Value | None = None
    starting_torque_ratio: Value | None = None
    starting_current_a: Value | None = None
    voltage_dip_ratio: Value | None = None
    idle_power_w: Value | None = None
    price: Value | None = None
    # drives
    drive_rating_w: Value | None = None
    drive_rating_a: Value | None = None
    output_current_a: Value | None = None
    efficiency: Value | None = None
    base_frequency_hz: Value | None = None
    speed_min_ratio: Value | None = None
    speed_max_ratio: Value | None = None
    lowest_speed_with_fan_ratio: Value | None = None
    forced_fan_price: Value | None = None
    slowest_spell_s: Value | None = None
    boost_v: Value | None = None
    torque_speed: tuple[TorqueSpeed, ...] | None = None
    belt_steps: BeltSteps | None = None
    delta_87: FastDelta | None = None
    insulation: Insulation | None = None
    ramp_up_s: Value | None = None
    ramp_down_s: Value | None = None
    stopping: StoppingFigures | None = None
    coasting_s: Value | None = None
    brake_resistor: BrakeResistorFigures | None = None
    dc_injection: DcInjectionFigures | None = None
    emergency_stop: EmergencyStopFigures | None = None
    link: LinkFigures | None = None
    harmonics_a: tuple[float, ...] | None = None
    harmonics_deg: tuple[float, ...] | None = None
    input_current_thd: Value | None = None
    input_displacement_factor: Value | None = None
    input_crest_factor: Value | None = None
    service_voltage_thd: Value | None = None
    dc_link_v: LinkVolts | None = None
    undistorted_output_v: Value | None = None
    inrush: InrushFigures | None = None
    leakage_ma: Value | None = None
    motor_on_drive: MotorOnDrive | None = None
    current_limit_a: Value | None = None
    overload_class: Value | None = None
    carrier_hz: Value | None = None
    settings: tuple[Setting, ...] | None = None
    rewiring: tuple[RewiringStep, ...] | None = None
    # rotary converter
    idler_power_w: Value | None = None
    run_capacitance_f: RunCapacitance | Value | None = None
    travelling_capacitance_f: tuple[TravellingCapacitance, ...] | None = None
    start_capacitance_f: Value | None = None
    line_voltages_v: IdleLoaded | None = None
    unbalance: UnbalanceIdleLoaded | None = None
    line_currents_a: LineCurrents | None = None
    efficiency_loaded: Value | None = None
    starts: StartFigures | None = None
    idler_start: IdlerStartFigures | None = None
    line3_earth_fault_a: Value | None = None
    # battery inverter and generator
    source_dip_ratio: Value | None = None
    charger_power_w: Value | None = None
    battery_kwh: Value | None = None
    round_trip_efficiency: Value | None = None
    fuel_l_per_h: Value | None = None
    own_energy_price: Value | None = None
    rectifier: RectifierFigures | None = None
    # capacitors on the motor itself (run_capacitance_f is then a single figure)
    capacitor_voltage_v: Value | None = None
    tuned_usable_power_w: Value | None = None
    tuned_run_capacitance_f: Value | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a buy, by specification, never by brand."""

    kind: str
    rating: float
    unit: str
    quantity: int
    price: float
    price_origin: str
    owned: bool = False


@dataclass(frozen=True, slots=True)
class Buy:
    """One thing to buy (or that is owned and used)."""

    kind: WayName
    rating: float
    unit: str
    quantity: int
    year: int
    origin: Buyable
    serves: tuple[str, ...]
    price: float
    price_origin: str
    parts: tuple[Part, ...]
