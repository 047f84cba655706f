"""A drive that doubles the 100 to 120 V of its supply inside, for a winding of the 230 V class.

Two capacitors stand in row; each half wave charges one of them. Between its pulses each loses the
charge of a whole cycle at half the link's current, as much as one capacitor of the same size loses
behind a bridge in half a cycle: the supply sees that bridge's pulses. With capacitors of 4C, at
twice the volts and four times the impedance, that bridge is an ordinary drive with a link of C, and
takes half the amps. The two fall half a cycle apart, so that their sum ripples half as much
(docs/calculations/step-up.md).
"""

from __future__ import annotations

import math
from dataclasses import replace

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.quantities.finding import Reason
from phasewright.ways.drive_duty import Duty, duty_of
from phasewright.ways.drive_supply import behind_doubler
from phasewright.ways.way import Draw

TIMES = 2.0


def doubled_duty(
    source: Source, circuit: Circuit, drive_rating_w: float, *,
    typical: float, demand: float, room_a: float,
) -> Duty:  # fmt: skip
    """Work of a drive that doubles its supply's volts; arguments as `duty_of` has them."""
    square = TIMES * TIMES
    twice = replace(
        source,
        voltage_v=TIMES * source.voltage_v,
        resistance_ohm=square * source.resistance_ohm,
        reactance_ohm=square * source.reactance_ohm,
    )
    bare = duty_of(
        twice, circuit, drive_rating_w,
        typical=typical, demand=demand, choke=None, room_a=room_a / TIMES,
    )  # fmt: skip
    peak = bare.input_peak_a
    return replace(
        bare,
        unloaded=_at_the_supply(bare.unloaded),
        typical=_at_the_supply(bare.typical),
        demand=_at_the_supply(bare.demand),
        input_current_a=bare.input_current_a.scaled(TIMES),
        input_peak_a=None if peak is None else peak.scaled(TIMES),
        side=None if bare.side is None else behind_doubler(bare.side, source, TIMES),
    )


def _at_the_supply(draw: Draw) -> Draw:
    """The same watts and vars at half the volts: only what is told in amps doubles."""
    return replace(draw, distortion_a=TIMES * draw.distortion_a)


def doubled_conditions(duty: Duty, circuit: Circuit, supply_v: float) -> tuple[Reason, ...]:
    """What a doubled link asks and cannot give."""
    found = [
        Reason(
            "doubled_link",
            f"Its link stands at about {TIMES * math.sqrt(2.0) * supply_v:.0f} V, twice what "
            f"{supply_v:.0f} V give: wait as marked, then measure before touching. It must be made "
            "to double; an ordinary 200 to 240 V drive does not start on this supply.",
        )
    ]
    gives = None if duty.side is None else duty.side.output_v
    if gives is not None and gives.number < circuit.line_voltage_v:
        hertz = circuit.frequency_hz * gives.number / circuit.line_voltage_v
        found.append(
            Reason(
                "doubled_link_falls",
                f"At its highest load the link falls so far that {gives.number:.0f} V of the "
                f"winding's {circuit.line_voltage_v:.0f} V are left between two peaks of the "
                f"mains: full flux up to {hertz:.0f} Hz then, above it less torque.",
            )
        )
    return tuple(found)
