"""The winding in delta on a drive with the volts of its star: full torque far beyond the plate.

A 230/400 V motor in delta on 400 V output keeps its flux up to 87 Hz at 50 Hz plates: 1.73 times
the power at 1.73 times the speed, for the amps of delta. The drive is bought by those amps.
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.machines.circuit import Circuit
from phasewright.machines.frequency import base_point
from phasewright.machines.link import Link
from phasewright.machines.load import Load
from phasewright.machines.motor import Motor
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, exact, figure
from phasewright.shop.machine import Machine
from phasewright.tables.sizes import STEP_UP_DRIVE_OUTPUT_A, STEP_UP_DRIVE_SIZES_W
from phasewright.tables.stepping_up import boost_output_v
from phasewright.ways.drive_speed import fastest_of
from phasewright.ways.motor_figures import FastDelta
from phasewright.ways.purchase import item, total
from phasewright.ways.site import Site
from phasewright.ways.surroundings import amps_share, boxes
from phasewright.ways.torque_speed import OnDrive, envelope

LEAST_GAIN = 1.3
"""Base frequency over the plate's below which another drive is not worth telling (our choice)."""


def fast_delta(
    machine: Machine, motor: Motor, link: Link, load: Load, site: Site, heat_ratio: float,
    price: Value | None,
) -> FastDelta | None:  # fmt: skip
    """The case for this motor linked as `link` on a drive of the supply's volts; None where the
    winding has no star beside its delta. `price`: what the drive without it costs."""
    output_v = boost_output_v()
    if link.delta is not True or not any(each.delta is False for each in motor.links):
        return None
    circuit = motor.circuit_at(link)
    base = base_point(link.line_voltage_v, circuit.frequency_hz, circuit.poles, output_v)
    if base.power_ratio < LEAST_GAIN:
        return None
    fastest, by = fastest_of(machine, motor, circuit, load, base)
    inputs = {"link volts": (link.line_voltage_v, "V"), "output": (output_v, "V")}
    found = FastDelta(
        output_voltage_v=output_v,
        base_frequency_hz=figure(
            base.frequency_hz, "Hz", "machines.frequency.base_point", inputs, "volts per hertz"
        ),
        power_ratio=figure(
            base.power_ratio, "", "machines.frequency.base_point", inputs, "rated torque kept"
        ),
        output_current_a=figure(
            circuit.rated_current_a,
            "A",
            "ways.fast_delta.fast_delta",
            inputs,
            "amps of the delta link at rated flux",
        ),
        speed_max_ratio=fastest,
        lasting_ratio=_lasting(circuit, output_v, fastest, heat_ratio),
        drive_rating_w=None,
        price=None,
        words="",
    )
    found = _with_drive(found, circuit, site)
    return replace(found, words=_words(found, circuit, by, price))


def _lasting(
    circuit: Circuit, output_v: float, fastest: Value | None, heat_ratio: float
) -> Value | None:
    """Lasting torque over the rated one at the highest speed it may turn."""
    if fastest is None:
        return None
    on = OnDrive(circuit, output_v, circuit.rated_current_a, heat_ratio)
    inputs = {"speed": (fastest.number, ""), "output": (output_v, "V")}
    return figure(
        float(envelope(on, (fastest.number,)).lasting[-1]), "", "ways.torque_speed.envelope",
        inputs, "motor circuit; losses of the rated point",
    )  # fmt: skip


def _with_drive(found: FastDelta, circuit: Circuit, site: Site) -> FastDelta:
    """The smallest drive that steps up inside and bears the amps of delta, with its price."""
    air = amps_share(site.surroundings)
    sizes = zip(STEP_UP_DRIVE_SIZES_W, STEP_UP_DRIVE_OUTPUT_A, strict=True)
    rating_w = next((w for w, amps in sizes if air * amps >= circuit.rated_current_a), None)
    if rating_w is None:
        return found
    try:
        items = [
            item("step_up_drive", rating_w, "W", site.quotes),
            item("isolator", 1.0, "", site.quotes),
            *boxes(site, rating_w),
        ]
    except TableEnds:
        return found
    return replace(
        found,
        drive_rating_w=exact(rating_w, "W", "table", "standard drive sizes"),
        price=total(items, "drive that steps up"),
    )


def _words(found: FastDelta, circuit: Circuit, by: str, price: Value | None) -> str:
    hertz, ratio = found.base_frequency_hz.number, found.power_ratio.number
    said = (
        f"In delta on a drive that gives {found.output_voltage_v:.0f} V it would keep its full "
        f"torque up to {hertz:.0f} Hz, {ratio:.2f} times its power, for "
        f"{circuit.rated_current_a:.1f} A"
    )
    if found.price is None or found.drive_rating_w is None:
        said += "; no drive that steps up inside is made for so many amps."
    else:
        said += f": one of {found.drive_rating_w.number / 1000.0:.2g} kW, about "
        said += f"{found.price.number:.0f}"
        origin = found.price.source.partition(": ")[2]
        said += "" if price is None else f" against {price.number:.0f}"
        said += f" ({origin})."
    cap = found.speed_max_ratio
    lasting = found.lasting_ratio
    if cap is not None and cap.number < 1.01:
        return f"{said} Of no use here: it may not turn faster ({by})."
    if cap is not None and cap.number < ratio - 0.01:
        said += f" But it may turn {cap.number:.2f} times as fast only: {by}."
    if lasting is not None and not math.isnan(lasting.number) and cap is not None:
        said += f" At {cap.number:.2f} times its speed it bears {lasting.number:.0%} of its torque."
    return (
        f"{said} Never on a drive set for 50 or 60 Hz at these volts: the iron saturates and the "
        "winding burns."
    )
