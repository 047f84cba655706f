"""The circuit of a motor read from its plate, and its starting figures with their spread."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from phasewright.machines.circuit import Circuit
from phasewright.machines.fit import fit, with_saturation
from phasewright.machines.link import Link
from phasewright.machines.notes import Notes
from phasewright.machines.performance import breakdown, locked, no_load, rated
from phasewright.machines.rated_point import RatedPoint
from phasewright.machines.speed import Turning
from phasewright.machines.stator_ohms import measured_stator_ohm, tell_ohms
from phasewright.machines.targets import (
    HARD_SATURATION,
    SOFT_SATURATION,
    Miss,
    Targets,
)
from phasewright.quantities.errors import NotComputable, TableEnds
from phasewright.quantities.value import Value, figure, spread
from phasewright.shop.plate import Plate
from phasewright.tables.motors import (
    default_breakdown_ratio,
    default_no_load_current_ratio,
    default_starting_current_ratio,
    default_starting_torque_ratio,
)
from phasewright.tables.starting import code_letter_current_a

STAMPED_SPREAD = {
    "starting_current": (0.8, 1.2),
    "starting_torque": (0.7, 1.3),
    "breakdown_torque": (0.9, 1.15),
    "no_load_current": (0.95, 1.05),
}
"""Low and high over a stamped value: tolerances of IEC 60034-1 (from memory); the starting
torque of a real motor keeps +-30 % (harmonic torques, leakage saturation; computed reference
cases)."""
CIRCUIT_SOURCE = "equivalent circuit fitted to the plate"


@dataclass(frozen=True, slots=True)
class Fitted:
    """A circuit with soft and hard saturation beside it, and figures computed from it."""

    circuit: Circuit
    circuit_soft: Circuit
    circuit_hard: Circuit
    rated_nm: Value
    locked_nm: Value
    breakdown_nm: Value
    locked_current_a: Value
    no_load_current_a: Value


@dataclass(frozen=True, slots=True)
class Asked:
    """Starting ratios asked of the fit, and which of them the plate gives."""

    current: Value
    torque: Value
    breakdown: Value
    no_load: Value
    stamped: frozenset[str]


def fit_motor(
    plate: Plate, point: RatedPoint, link: Link, turning: Turning, inertia: Value, notes: Notes
) -> Fitted:
    """Fit a circuit at `link` and compute its figures. Raises NotComputable where none exists."""
    asked = _asked(plate, point, link, turning, notes)
    targets = Targets(
        power_w=point.power_w.number,
        line_voltage_v=link.line_voltage_v,
        frequency_hz=turning.frequency_hz.number,
        poles=turning.poles,
        speed_rpm=turning.speed_rpm.number,
        current_a=point.current_a.number,
        power_factor=point.power_factor.number,
        starting_current_ratio=asked.current.number,
        starting_torque_ratio=asked.torque.number,
        breakdown_ratio=asked.breakdown.number,
        no_load_current_ratio=asked.no_load.number,
        friction_w=point.friction_w.number,
        inertia_kg_m2=inertia.number,
        stator_resistance_ohm=measured_stator_ohm(plate, link, point.power_w.number, notes),
        stamped=asked.stamped,
    )
    middle = fit(targets)
    if targets.stator_resistance_ohm is not None:
        tell_ohms(middle.circuit.stator_resistance_ohm, targets.stator_resistance_ohm, notes)
    for miss in middle.misses:
        if not _worth_telling(miss, asked):
            continue
        _tell(miss, asked, notes)
    if not middle.meets_rated_point:
        text = "; ".join(miss.words for miss in middle.misses if miss.what.startswith("rated"))
        raise NotComputable(f"the plate contradicts itself, no circuit gives it back: {text}")
    soft = with_saturation(targets, middle.circuit, SOFT_SATURATION)
    hard = with_saturation(targets, middle.circuit, HARD_SATURATION)
    return _fitted(middle.circuit, soft, hard, asked)


def _worth_telling(miss: Miss, asked: Asked) -> bool:
    """Stamped values always; a table's default only where the circuit leaves its spread."""
    usual = {
        "starting current": asked.current,
        "starting torque": asked.torque,
        "breakdown torque": asked.breakdown,
    }
    for name, value in usual.items():
        if miss.what.startswith(name) and name not in asked.stamped:
            return not value.low <= miss.got <= value.high
    return not miss.what.startswith("no-load") or "no-load current" in asked.stamped


def _tell(miss: Miss, asked: Asked, notes: Notes) -> None:
    rule = "circuit_misses_" + miss.what.replace(" ", "_").replace("-", "_")
    name = miss.what.removesuffix(" ratio")
    key = "plate." + name.replace(" ", "_").replace("-", "_")
    if name in asked.stamped or miss.what.startswith("rated"):
        words = f"No circuit gives the whole plate; {miss.words}. The circuit's figure is used."
        notes.ask(
            rule, "caution", words, found=miss.got, allowed=miss.asked, key=key,
            source=CIRCUIT_SOURCE,
        )  # fmt: skip
        return
    words = (
        f"Usual for such a motor is a {miss.what} of {miss.asked:.2g}; with the rest of this plate "
        f"it comes out at {miss.got:.2g}, which is used. The spread covers both."
    )
    notes.ask(
        rule, "info", words, found=miss.got, allowed=miss.asked, key=key, source=CIRCUIT_SOURCE,
        remedy="Give the stamped value, if there is one.",
    )  # fmt: skip


def _fitted(circuit: Circuit, soft: Circuit, hard: Circuit, asked: Asked) -> Fitted:
    now, start, top = rated(circuit), locked(circuit), breakdown(circuit)
    idle = no_load(circuit)
    idles = [no_load(soft).current_a, no_load(hard).current_a]
    inputs = {"volts": (circuit.line_voltage_v, "V"), "frequency": (circuit.frequency_hz, "Hz")}

    def with_spread(number: float, unit: str, formula: str, of: Value) -> Value:
        """The spread of the ratio asked for, round the figure and round the ratio's own value."""
        whole = circuit.rated_current_a if unit == "A" else now.shaft_torque_nm
        low = min(number * of.low / of.number, of.low * whole)
        high = max(number * of.high / of.number, of.high * whole)
        source = f"{CIRCUIT_SOURCE}; spread: {of.source}"
        return figure(number, unit, formula, inputs, source, low=low, high=high)

    rated_nm = figure(
        now.shaft_torque_nm, "N m", "machines.performance.rated",
        inputs | {"speed": (circuit.rated_speed_rpm, "rpm")}, CIRCUIT_SOURCE,
    )  # fmt: skip
    no_load_a = with_spread(idle.current_a, "A", "machines.performance.no_load", asked.no_load)
    if "no-load current" not in asked.stamped:
        no_load_a = replace(
            no_load_a, low=min(no_load_a.low, *idles), high=max(no_load_a.high, *idles)
        )
    return Fitted(
        circuit=circuit,
        circuit_soft=soft,
        circuit_hard=hard,
        rated_nm=rated_nm,
        locked_nm=with_spread(
            start.airgap_torque_nm, "N m", "machines.performance.locked", asked.torque
        ),
        breakdown_nm=with_spread(
            top.airgap_torque_nm, "N m", "machines.performance.breakdown", asked.breakdown
        ),
        locked_current_a=with_spread(
            start.current_a, "A", "machines.performance.locked", asked.current
        ),
        no_load_current_a=no_load_a,
    )


def _stamped(number: float, key: str) -> Value:
    low, high = STAMPED_SPREAD[key]
    source = "plate, with the tolerance of IEC 60034-1 (from memory)"
    return spread(number, number * low, number * high, "", "plate", source)


def _asked(plate: Plate, point: RatedPoint, link: Link, turning: Turning, notes: Notes) -> Asked:
    watts, poles, year = point.power_w.number, turning.poles, plate.year
    stamped: set[str] = set()
    current = _starting_current(plate, point, link, stamped, notes)
    if current is None:
        default = default_starting_current_ratio(watts, poles, year)
        current = notes.take("starting current", "plate.starting_current", default)
    if plate.starting_torque is not None:
        torque = _stamped(plate.starting_torque, "starting_torque")
        stamped.add("starting torque")
    else:
        default = default_starting_torque_ratio(watts, poles)
        torque = notes.take("starting torque", "plate.starting_torque", default)
    if plate.breakdown_torque is not None:
        top = _stamped(plate.breakdown_torque, "breakdown_torque")
        stamped.add("breakdown torque")
    else:
        default = default_breakdown_ratio(watts, poles)
        top = notes.take("breakdown torque", "plate.breakdown_torque", default)
    default = default_no_load_current_ratio(watts, poles)
    if plate.no_load_current is not None:
        idle = _measured_no_load(plate.no_load_current.number, point, link, default, notes)
        stamped.add("no-load current")
    else:
        idle = notes.take("no-load current", "plate.no_load_current", default)
        notes.wanted(
            "no-load current", "plate.no_load_current",
            default.scaled(point.current_a.number),
            "What it takes with nothing to turn shows how near its iron is to its limit.",
            "Belt or coupling off, clamp one line while it runs on a true three-phase supply.",
            "volts of the generated line when idle, capacitors",
        )  # fmt: skip
    return Asked(current, torque, top, idle, frozenset(stamped))


def _starting_current(
    plate: Plate, point: RatedPoint, link: Link, stamped: set[str], notes: Notes
) -> Value | None:
    if plate.starting_current is not None:
        stamped.add("starting current")
        return _stamped(plate.starting_current, "starting_current")
    if plate.code_letter is None:
        return None
    try:
        amps = code_letter_current_a(plate.code_letter, point.power_w.number, link.line_voltage_v)
    except TableEnds as open_end:
        notes.ask(
            "code_letter_without_end", "info", f"{str(open_end).capitalize()}: not used.",
            found=plate.code_letter, key="plate.code_letter",
        )  # fmt: skip
        return None
    stamped.add("starting current")
    return Value(
        amps.number / point.current_a.number,
        "",
        amps.low / point.current_a.number,
        amps.high / point.current_a.number,
        "plate",
        amps.source,
    )


def _measured_no_load(
    amps: float, point: RatedPoint, link: Link, usual: Value, notes: Notes
) -> Value:
    """The measured idle current as a share of rated, at the link it was most likely taken at.

    Outside what such motors draw, a star or delta reading is converted and the owner asked.
    """
    share = amps / point.current_a.number
    if link.delta is not None and not 0.8 * usual.low <= share <= 1.2 * usual.high:
        root3 = math.sqrt(3.0)
        share = min(
            (share, share * root3, share / root3),
            key=lambda choice: abs(math.log(choice / usual.number)),
        )
    taken = share * point.current_a.number
    if abs(taken / amps - 1.0) > 1e-9:
        notes.ask(
            "no_load_current_of_other_link", "caution",
            f"{amps:.3g} A with nothing on the shaft fits the other connection; taken as "
            f"{taken:.3g} A at {link.line_voltage_v:.0f} V.",
            found=amps, allowed=taken, unit="A", key="plate.no_load_current",
        )  # fmt: skip
    low, high = STAMPED_SPREAD["no_load_current"]
    return spread(share, share * low, share * high, "", "measured", "measured no-load current")
