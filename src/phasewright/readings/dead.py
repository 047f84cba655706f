"""Readings before power and of what protects: earth, insulation, windings, loop, residual current,
and what is left in capacitors once the shaft rests."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.circuits.cables import ohm_per_m
from phasewright.machines.motor import Motor
from phasewright.machines.stator_ohms import HOT, TOLD
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.study import PlanMotor, PlanSide
from phasewright.quantities.value import Value, exact, figure
from phasewright.readings.take import (
    DISCHARGE,
    EARTH,
    INSULATION,
    LOOP,
    RESIDUAL,
    SUPPLY,
    WINDING,
    taken,
)
from phasewright.rules.capacitors import discharged_v
from phasewright.tables.circuits import capacitor_circuit, residual
from phasewright.tables.clauses import limit
from phasewright.tables.meters import (
    meter,
    most_insulation_ohm,
    run_capacitor_tolerance,
    winding_spread,
)
from phasewright.tables.published import table

MACHINES = ("outlet_to_machine", "converter_to_machine", "supply_to_machine", "drive_to_motor")
COLD_C = 20.0


def earths(plan: PlanSide) -> Iterator[ReadingExpected]:
    """Ohms of the protective conductor from every machine to where its circuit begins."""
    for each in _machines(plan):
        if each.protective_conductor is None:
            continue
        area, length = each.protective_conductor.area_m2, each.length_m
        ohm = ohm_per_m(area, COLD_C).real
        joints = limit("earth_joints", "ohm")
        value = figure(
            ohm * length.number, "ohm", "circuits.cables.ohm_per_m",
            {"protective conductor": (area, "m2"), "length": (length.number, "m")},
            "copper at 20 °C; joints add up to 0.1 ohm (common practice)",
            low=ohm * length.low, high=ohm * length.high + joints,
        )  # fmt: skip
        yield taken(
            EARTH, "earth_continuity", each.to,
            f"bare metal of {each.to} and the earth bar where its circuit begins",
            "cut off, locked, lead and plug joined", "low_ohm", value,
            "More: a loose or painted joint, a broken core, a thinner or longer lead than planned. "
            "No power before it is found.",
        )  # fmt: skip


def insulations(plan: PlanSide) -> Iterator[ReadingExpected]:
    """At least the ohms of the machine standard, every motor's lines joined against its frame."""
    least = limit("machine_tests", "insulation_ohm")
    volts = limit("machine_tests", "insulation_test_v")
    for each in plan.motors:
        if each.way is None:
            continue
        value = exact(least, "ohm", "table", table("clauses", "machine_tests").words)
        yield taken(
            INSULATION, "insulation", each.motor, f"the joined leads of {each.motor} and its frame",
            f"cut off, its wires taken off drive, capacitors and relays; {volts:.0f} V "
            "(an old winding at 250 V first)",
            "insulation", value,
            "Less: damp (dry the motor warm, measure again), carbon or oil in the box, or a "
            "winding that is through. Never test with electronics connected.",
            within=(least, most_insulation_ohm()),
        )  # fmt: skip


def windings(plan: PlanSide, motors: tuple[Motor, ...]) -> Iterator[ReadingExpected]:
    """Ohms between two leads of every motor that is run, cold, linked as the plan says."""
    by_id = {each.id: each for each in motors}
    for each in plan.motors:
        if each.way is None or each.way == "motor_swap":
            continue
        ohm = _stator_ohm(by_id[each.motor], each)
        if ohm is None:
            continue
        cold = 2.0 * ohm / HOT
        measured = by_id[each.motor].plate.winding_resistance is not None
        off = TOLD if measured else winding_spread()
        value = figure(
            cold, "ohm", "readings.dead.windings", {"stator, one phase, warm": (ohm, "ohm")},
            f"two phases of the star equivalent, at 20 °C; may lie {100 * off:.0f}% off",
            low=cold * (1.0 - off), high=cold * (1.0 + off),
        )  # fmt: skip
        yield taken(
            WINDING, "winding_ohms", each.motor, f"every two leads of {each.motor}, three pairs",
            "cut off, linked as planned, its wires taken off", "ohmmeter", value,
            "The three must agree within 3%: one that does not is a broken joint, a wrong link or "
            "turns that touch. All three other: the links, or another motor than the plate says.",
        )  # fmt: skip


def _stator_ohm(motor: Motor, built: PlanMotor) -> float | None:
    """One phase of the star equivalent on the link of the plan, warm; None where that link is not
    known, or the motor has two speeds."""
    if motor.speeds or motor.circuit is None:
        return None
    if built.figures.motor_on_drive is not None:
        return built.figures.motor_on_drive.stator_resistance_ohm.number
    links = [link for link in motor.links if link.connection == built.connection]
    return motor.circuit_at(links[0]).stator_resistance_ohm if len(links) == 1 else None


def loops(plan: PlanSide) -> Iterator[ReadingExpected]:
    """The earth-fault loop at the end of every circuit of lines 1 and 2."""
    for each in plan.circuits or ():
        if each.loop_ohm is None or each.lines != "1-2" or each.role == "capacitor_branch":
            continue
        yield taken(
            LOOP, "earth_loop", each.id, f"line 1 and earth at the end of {each.id}",
            "live, nothing switched on; a test that does not trip the residual-current device",
            "loop", each.loop_ohm,
            "More: a joint on the way, or an electrode that has dried. Then nothing but the "
            "residual-current device opens an earth fault. Not on line 3: the tester is made for "
            "a supply, not for an idler.",
        )  # fmt: skip


def residuals(plan: PlanSide) -> Iterator[ReadingExpected]:
    """Every residual-current device at its rating, once a device."""
    seen = set()
    for each in plan.circuits or ():
        of = each.residual_current
        if of is None or each.lines not in ("1-2", "1-2-3"):
            continue
        where = "supply" if of.upstream else of.at or each.id
        if where in seen:
            continue
        seen.add(where)
        most = residual("at_rating_s")
        yield taken(
            RESIDUAL, "residual_test", where,
            f"line 1 and earth behind the {of.rating_ma:.0f} mA device of {where}",
            "at its rating, drives switched off; then its test button", "residual",
            exact(most, "s", "table", table("circuits", "residual").words),
            "Slower or not at all: change the device. Tripping before the test: leakage of filters "
            f"behind it{_leaks(each)}; spread them, never take it out.",
            within=(0.0, most),
        )  # fmt: skip


def _leaks(of: PlanCircuit) -> str:
    leaks = None if of.residual_current is None else of.residual_current.leakage_ma
    return "" if leaks is None else f" ({leaks:.1f} mA are expected)"


def discharges(plan: PlanSide) -> Iterator[ReadingExpected]:
    """Volts left on every bank some time after the shaft has come to rest."""
    off = run_capacitor_tolerance()
    wait_s, safe = capacitor_circuit("within_s"), capacitor_circuit("safe_v")
    for each in plan.circuits or ():
        if each.role != "capacitor_branch" or each.discharge_ohm is None:
            continue
        if each.capacitance_f is None:
            continue
        volts, ohm = each.voltage_v.number, each.discharge_ohm.number
        left, low, high = (
            discharged_v(volts, each.capacitance_f.number * factor, ohm, wait_s)
            for factor in (1.0, 1.0 - off, 1.0 + off)
        )
        value = figure(
            left, "V", "rules.capacitors.discharged_v",
            {
                "rms": (volts, "V"), "capacitance": (each.capacitance_f.number, "F"),
                "resistor": (ohm, "ohm"), "waited": (wait_s, "s"),
            },
            "V exp(-t/RC) from the crest of the idling converter, by the largest resistor allowed",
            low=low, high=high,
        )  # fmt: skip
        yield taken(
            DISCHARGE, "capacitor_discharge", each.id,
            f"the two terminals of the {each.id.removeprefix(each.from_ + ' to ')} bank",
            f"shaft at rest, {wait_s:.0f} s waited, direct volts", "voltmeter", value,
            "More: the resistor is open, off or too large; do not touch, discharge through a "
            f"resistor and measure again. {safe:.0f} V after {wait_s:.0f} s is what is asked.",
            within=(0.0, meter("voltmeter").around(0.0, value.high)[1]),
        )  # fmt: skip


def supplied(mains: Value) -> ReadingExpected:
    """Lines 1 and 2 with nothing on."""
    return taken(
        SUPPLY, "supply_volts", "supply", "lines 1 and 2", "nothing switched on", "voltmeter",
        mains,
        "Outside: measure at another hour; outside what the contract allows, tell the network "
        "operator. All other volts follow this reading.",
    )  # fmt: skip


def _machines(plan: PlanSide) -> Iterator[PlanCircuit]:
    return (each for each in plan.circuits or () if each.role in MACHINES)
