"""What a meter shows on the lines of a plan's converter: idling, and with one motor on it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from phasewright.machines.heating import limits
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.to_earth import lines_to_earth
from phasewright.quantities.errors import NoOperatingPoint
from phasewright.quantities.value import Value
from phasewright.readings.corners import Told, idling, turning
from phasewright.readings.take import IDLING, LOADED, UNCOUPLED, WARM, Inputs, spanned, taken
from phasewright.running.converter import IDLER
from phasewright.running.network import Settled
from phasewright.shop.supply import Supply
from phasewright.tables.meters import copper_ratio, rated_rise_k, warm_minutes
from phasewright.ways.conditions import demand_ratio
from phasewright.ways.on_converter import state_of
from phasewright.ways.on_two_lines import Linked

FORMULA = "running.settle.settle"
SOURCE = "two-sequence three-line network; spread of supply volts, iron, capacitors and load"
PAIRS = ("1 and 2", "2 and 3", "3 and 1")
HOUR_MIN = 60.0
LINE_3_OFF = (
    "Line 3 low on both pairs: a run capacitor missing, weak or on the wrong pair. High on both: "
    "too much of it. One pair low, one high: capacitors swapped between 2-3 and 3-1."
)
UNEVEN = (
    "Higher in all lines: volts too high or a wrong link, switch off. One line far off: a loose "
    "joint, a capacitor off, or turns that touch."
)


def idle_lines(of: Told, supply: Supply) -> Iterator[ReadingExpected]:
    """The converter with no machine on."""
    inputs, idle = _inputs(of), idling(of)
    state = "the converter idling, no machine on"
    yield from _volts(idle, IDLING, "converter", state, inputs)
    yield from _ratios(idle, inputs)
    yield from _to_earth(idle, supply, inputs)
    for each in of.converter.idlers:
        yield from _amps(idle, IDLING, each.name, state, inputs)
    yield _supply(idle, IDLING, "converter", state, inputs)
    yield _warm(idle, of, inputs)


def with_motor(of: Told, motor: Linked) -> Iterator[ReadingExpected]:
    """One motor alone on it, without a load and at its highest usual load; none where it stalls."""
    name, highest = motor.motor.id, demand_ratio(motor.load)
    asked = _inputs(of) | {
        "rated torque": (motor.rated_nm, "N m"),
        "highest torque": (highest, ""),
    }
    try:
        free = turning(of, motor, (0.0,))
        work = turning(of, motor, (highest, min(highest, motor.load.running_torque.low)))
    except NoOperatingPoint:
        return
    for points, step, state in (
        (free, UNCOUPLED, f"{name} alone on it, belt off or coupling open"),
        (work, LOADED, f"{name} alone on it, at its heaviest usual work"),
    ):
        yield from _volts(points, step, name, state, asked)
        yield from _amps(points, step, name, state, asked)
        yield _supply(points, step, name, state, asked)


def _inputs(of: Told) -> Inputs:
    return {
        "supply": (of.source.voltage_v, "V"),
        "idlers": (of.converter.idler_power_w, "W"),
        "C23": (of.converter.run_f.c23, "F"),
        "C31": (of.converter.run_f.c31, "F"),
    }


def _volts(
    points: Sequence[Settled], step: int, subject: str, state: str, inputs: Inputs
) -> Iterator[ReadingExpected]:
    for k, pair in enumerate(PAIRS):
        words = LINE_3_OFF if k else "Outside: the supply itself, or its feeder under load."
        yield taken(
            step, "line_volts", subject, f"lines {pair} at the outlet", state, "voltmeter",
            _span([at.line_voltages_v[k] for at in points], "V", inputs), words,
        )  # fmt: skip


def _ratios(points: Sequence[Settled], inputs: Inputs) -> Iterator[ReadingExpected]:
    """Volts of line 3 over those of lines 1 and 2: they hardly move with the supply's volts."""
    for k in (1, 2):
        value = _span([at.line_voltages_v[k] / at.line_voltages_v[0] for at in points], "", inputs)
        yield taken(
            IDLING, "line_volts_ratio", "converter",
            f"volts of lines {PAIRS[k]} over volts of lines 1 and 2",
            "the converter idling, both read in the same minute", "voltmeter_ratio", value,
            LINE_3_OFF,
        )  # fmt: skip


def _to_earth(
    points: Sequence[Settled], supply: Supply, inputs: Inputs
) -> Iterator[ReadingExpected]:
    rows = [lines_to_earth(supply, at.line_voltages_v) for at in points]
    known = [[volts.number for volts in row] for row in rows if row is not None]
    if not known:
        return
    for k, line in enumerate("123"):
        value = spanned(
            [row[k] for row in known], "V", "network.earth.volts_to_earth", inputs,
            "triangle of the line volts (Apollonius)",
        )  # fmt: skip
        yield taken(
            IDLING, "volts_to_earth", "converter", f"line {line} and earth",
            "the converter idling, no machine on", "voltmeter", value,
            "Another picture: the supply is earthed otherwise than the file says, or line 3 is "
            "tied to earth or neutral somewhere: stop and find it.",
        )  # fmt: skip


def _amps(
    points: Sequence[Settled], step: int, name: str, state: str, inputs: Inputs
) -> Iterator[ReadingExpected]:
    for k in range(3):
        yield taken(
            step, "line_amps", name, f"wire of line {k + 1} to {_the(name)}", state,
            "clamp", _span(
                [state_of(at, name).line_currents_a[k] for at in points], "A", inputs), UNEVEN,
        )  # fmt: skip


def _the(name: str) -> str:
    return f"the {name}" if name.startswith(IDLER) else name


def _supply(
    points: Sequence[Settled], step: int, subject: str, state: str, inputs: Inputs
) -> ReadingExpected:
    return taken(
        step, "supply_amps", subject, "line 1 of the converter's feed", state, "clamp",
        _span([at.supply_current_a for at in points], "A", inputs),
        "More: something else hangs on it, or capacitors are too large. Less while volts are "
        "right: the machine asks for less than was taken.",
    )  # fmt: skip


def _warm(points: Sequence[Settled], of: Told, inputs: Inputs) -> ReadingExpected:
    """Ohms of the idler's winding after an hour over those cold."""
    rated_w = limits(of.converter.idler, delta=True).total_loss_w
    shares = [state_of(at, IDLER).loss_w / rated_w for at in points]
    rise, minutes = rated_rise_k(), warm_minutes()
    usual, slow, fast = (
        1.0 - math.exp(-HOUR_MIN / each) for each in (minutes.number, minutes.high, minutes.low)
    )
    ratios = [
        copper_ratio(shares[0] * rise.number * usual),
        copper_ratio(min(shares) * rise.low * slow),
        copper_ratio(max(shares) * rise.high * fast),
    ]
    value = spanned(
        ratios, "", "tables.meters.copper_ratio",
        inputs | {"losses over rated": (shares[0], ""), "rise at rated": (rise.number, "K"),
                  "time constant": (minutes.number, "min")},
        "rise as the losses, exponential in time; (235 + warm)/(235 + cold)",
    )  # fmt: skip
    return taken(
        WARM, "winding_warm_ratio", "converter",
        "ohms between two leads of the idler after an hour over those cold",
        "switched off, at rest, proved dead, read within a minute; cold was 20 °C", "ohms_ratio",
        value,
        "More: the idler is too hot (its fan, dust, volts of line 3 too high or uneven). Let it "
        "cool and find out before it runs alone.",
    )  # fmt: skip


def _span(numbers: Sequence[float], unit: str, inputs: Inputs) -> Value:
    return spanned(numbers, unit, FORMULA, inputs, SOURCE)
