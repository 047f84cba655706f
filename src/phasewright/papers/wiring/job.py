"""What a plan's wiring is made from, and where its circuits, parts and places are looked up."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.circuits.installation import ResidualCurrentDevice
from phasewright.machines.motor import Motor
from phasewright.papers.wiring.cords import socket_of
from phasewright.papers.wiring.origin import Origin, origin_of
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanEquipment, PlanMotor, PlanSide, Study
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop
from phasewright.shop.standing import ResidualCurrent
from phasewright.ways.figures import Buy, Part

BOARD = "supply "
"""What a circuit that begins at the board of a place is said to come from, before its name."""
FEEDS = (
    "supply_to_machine", "converter_to_machine", "converter_to_outlet", "outlet_to_machine",
    "supply_to_drive", "supply_to_transformer", "supply_to_converter",
)  # fmt: skip
SHARED = ("rotary_converter", "electronic_converter", "shared_drive")
"""Ways of which the thing itself stands first among what is bought."""
DRIVES = ("drive_per_motor", "step_up_drive", "three_phase_input_drive")


@dataclass(frozen=True, slots=True)
class Job:
    """A shop, its answer, the plan that is drawn, and every motor as it was read."""

    shop: Shop
    study: Study
    plan: PlanSide
    motors: dict[str, Motor]

    def buys(self, motor: str, way: str) -> tuple[Buy, ...]:
        """What is bought today for this motor alone, beside what it shares or could share."""
        shared = [self.shared_buy(each) for each in self.plan.equipment if each.way in SHARED]
        return tuple(
            each
            for each in self.plan.buys
            if each.kind == way and each.year == 0 and each.serves == (motor,)
            and not any(each is one for one in shared)
        )  # fmt: skip

    def parts(self, motor: str, way: str) -> tuple[Part, ...]:
        """The parts of it."""
        return tuple(part for each in self.buys(motor, way) for part in each.parts)

    def shared_buy(self, of: PlanEquipment) -> Buy | None:
        """What is bought today for a thing that several motors share."""
        return next(
            (buy for buy in self.plan.buys
             if buy.kind == of.way and buy.serves == of.serves and buy.year == 0), None,
        )  # fmt: skip

    def machine(self, motor: str) -> Machine:
        """The machine of a motor."""
        name = motor.partition("/")[0]
        return next(each for each in self.shop.machines if each.name == name)

    def circuits(self, *ends: str) -> tuple[PlanCircuit, ...]:
        """The circuits that lead to one of these, with the one to the socket of a cord."""
        all_of = self.plan.circuits or ()
        found = [each for each in all_of if each.to in ends and each.role in FEEDS]
        cords = [each for each in found if each.role == "outlet_to_machine"]
        sockets = [socket for each in cords if (socket := socket_of(each, all_of)) is not None]
        return (*sockets, *found)

    def origin(self, *ends: str) -> Origin:
        """What stands at the beginning of the circuits that lead to one of these."""
        return origin_of(self.circuits(*ends))

    def place(self, *ends: str) -> str:
        """The place from whose board these are fed; empty for the intake."""
        for each in (*self.circuits(*ends), *self.controls(*ends)):
            if each.from_.startswith(BOARD):
                return each.from_.removeprefix(BOARD)
        return ""

    def controls(self, *ends: str) -> tuple[PlanCircuit, ...]:
        """Control circuits among those that lead to one of these."""
        return tuple(
            each for each in self.plan.circuits or () if each.role == "control" and each.to in ends
        )

    def boards(self) -> tuple[str, ...]:
        """Places from whose boards some circuit begins, in the order of the shop file."""
        named = {each.from_.removeprefix(BOARD) for each in self.plan.circuits or ()
                 if each.from_.startswith(BOARD)}  # fmt: skip
        return tuple(each.name for each in self.shop.places if each.name in named)

    def wiring_kind(self, each: PlanMotor) -> str:
        """How a motor is wired: by the contactor of three lines or two, a box, a drive, not."""
        kinds = {part.kind for part in self.parts(each.motor, each.way or "")}
        shared = {one.id: one.way for one in self.plan.equipment if one.id == each.equipment}
        motor = self.motors[each.motor]
        if each.way is None:
            return "none"
        way = shared.get(each.equipment or "")
        if way in ("rotary_converter", "electronic_converter"):
            return "three_lines"
        if way == "shared_drive":
            return "shared_drive"
        if kinds & set(DRIVES):
            return "drive"
        if each.way in ("static_converter", "capacitor_run"):
            return "own_box"
        if "motor_swap" in kinds or (each.way == "direct" and motor.phases == 1):
            return "two_lines"
        three = self.shop.supply.kind == "three_phase" or each.way == "utility_service"
        return "three_lines" if three else "none"


def there_already(
    of: ResidualCurrent | None, circuits: tuple[PlanCircuit, ...]
) -> ResidualCurrentDevice | None:
    """A residual-current device of the shop file; a rating it does not tell is what the plan's
    circuits take it for."""
    if of is None:
        return None
    taken = next((leak for each in circuits if (leak := each.residual_current) and leak.upstream),
                 None)  # fmt: skip
    rating = of.rating.number * 1e3 if of.rating else None if taken is None else taken.rating_ma
    kind = of.type or (None if taken is None else taken.type)
    if rating is None:
        return None
    return ResidualCurrentDevice(rating, kind or "AC", upstream=True)
