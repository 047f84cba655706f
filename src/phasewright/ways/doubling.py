"""A drive that doubles the 100 to 120 V of its supply inside, for a winding of the 230 V class.

Two capacitors stand in row with the line between them; each half wave charges one of them through
one diode (`electronics.rectifier`, docs/calculations/drive-on-the-supply.md).
"""

from __future__ import annotations

import math

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.quantities.finding import Reason
from phasewright.ways.drive_duty import Duty, duty_of

TIMES = 2.0


def doubled_duty(
    source: Source, circuit: Circuit, drive_rating_w: float, *,
    typical: float, demand: float, room_a: float,
) -> Duty:  # fmt: skip
    """Work of a drive that doubles its supply's volts; arguments as `duty_of` has them."""
    return duty_of(
        source, circuit, drive_rating_w,
        typical=typical, demand=demand, choke=None, room_a=room_a, doubler=True,
    )  # fmt: skip


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
