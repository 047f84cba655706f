"""What is stamped on a motor, or can be measured on one whose plate is gone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from phasewright.quantities import codes
from phasewright.quantities.value import Value
from phasewright.shop.keys import Number, Quantity, Says


@dataclass(frozen=True, slots=True, kw_only=True)
class Plate:
    """A motor's plate. Two values stand in plate order; an empty tuple means not stamped.

    On a two-speed plate `power` and `speed` hold two values in the same order, either order.
    """

    power: Annotated[
        tuple[Value, ...],
        Quantity("power", 5, 4e5, "plate", several=True),
        Says("mechanical output"),
    ] = ()
    kind: codes.MotorKind = "cage"
    shaft_height: Annotated[Value | None, Quantity("length", 0.03, 0.5, "measured")] = None
    shaft_diameter: Annotated[Value | None, Quantity("length", 0.003, 0.2, "measured")] = None
    winding_resistance: Annotated[Value | None, Quantity("resistance", 1e-3, 1e4, "measured")] = (
        None
    )
    no_load_current: Annotated[Value | None, Quantity("current", 0.01, 1000, "measured")] = None
    voltage: Annotated[tuple[Value, ...], Quantity("voltage", 50, 1000, "plate", several=True)] = ()
    current: Annotated[
        tuple[Value, ...], Quantity("current", 0.05, 1500, "plate", several=True)
    ] = ()
    frequency: Annotated[Value | None, Quantity("frequency", 16, 400, "plate")] = None
    speed: Annotated[tuple[Value, ...], Quantity("speed", 50, 24000, "plate", several=True)] = ()
    power_factor: Annotated[float | None, Number(0.2, 1, "a ratio")] = None
    efficiency: Annotated[float | None, Number(0.1, 0.99, "a ratio")] = None
    service_factor: Annotated[float | None, Number(1, 2, "a ratio")] = None
    leads: Annotated[
        int | None,
        Number(2, 12, "a count of leads", whole=True),
        Says("leads or terminals that can be reached, without the earth"),
    ] = None
    connection: codes.StampedConnection | None = None
    code_letter: codes.CodeLetter | None = None
    insulation_class: codes.InsulationClass | None = None
    starting_current: Annotated[
        float | None, Number(1, 20, "a multiple of the full-load current")
    ] = None
    starting_torque: Annotated[float | None, Number(0.05, 10, "a multiple of the rated torque")] = (
        None
    )
    breakdown_torque: Annotated[float | None, Number(1, 10, "a multiple of the rated torque")] = (
        None
    )
    year: Annotated[int | None, Number(1880, 2100, "the year it was made", whole=True)] = None
    phases: Annotated[
        int | None,
        Number(1, 3, "a count of phases, 1 or 3", whole=True),
        Says("as stamped; three where neither this nor a capacitor is given"),
    ] = None
    capacitor: Annotated[
        bool,
        Says("a single-phase capacitor motor, or with phases: 3 a motor somebody rigged with one"),
    ] = False
    thermistor: bool = False

    @property
    def single_phase(self) -> bool:
        """True for a motor wound for two wires; a capacitor means one unless 3 is stamped."""
        return self.phases == 1 or (self.phases is None and self.capacitor)

    @property
    def rigged(self) -> bool:
        """True where three phases are stamped and somebody added a capacitor."""
        return self.capacitor and not self.single_phase

    @property
    def two_speed(self) -> bool:
        """True where two speeds are stamped."""
        return len(self.speed) == 2
