"""What every sheet is made from, and how figures are written on it."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.papers.designations import Designations
from phasewright.papers.wiring.model import DeviceKind, Wiring
from phasewright.plan.reading_study import ReadingExpected
from phasewright.plan.study import PlanMotor, PlanSide, Study
from phasewright.quantities.codes import WAYS
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.units import format as shown
from phasewright.shop.model import Shop

_MEGA, _PARTS = 1e6, 0.1
_UNITS = {kind.si for kind in KINDS.values()}
BY_CODE = "Local codes and the makers' own papers come first, and licensed work stays licensed."


@dataclass(frozen=True, slots=True)
class Paper:
    """A shop, its answer, the plan the sheets are of, and the wiring of that plan, by whose
    designations things are named; without it they go without."""

    shop: Shop
    study: Study
    plan: PlanSide
    wiring: Wiring | None = None

    def at(self, subject: str, *kinds: DeviceKind) -> str:
        """The designations of a subject's devices of these kinds, as the drawings have them; of a
        motor, or "" of what is shared. Empty without a wiring."""
        return " ".join(Designations(self.wiring).of(subject, *kinds))

    def devices_in(self, circuit: str, *kinds: DeviceKind) -> str:
        """The designations of the devices of these kinds in a circuit."""
        return " ".join(Designations(self.wiring).in_circuit(circuit, *kinds))

    def guard(self, circuit: str) -> str:
        """The designation of the device that guards a circuit."""
        found = Designations(self.wiring).in_circuit(circuit, "breaker", "fuse")
        return found[0] if found else ""

    @property
    def served(self) -> tuple[PlanMotor, ...]:
        """The motors the plan powers."""
        return tuple(each for each in self.plan.motors if each.way is not None)

    @property
    def converter(self) -> bool:
        """True where an idler makes the third line."""
        return any(each.way == "rotary_converter" for each in self.plan.equipment)

    @property
    def generates(self) -> bool:
        """True where a third line is made with capacitors."""
        ways = ("rotary_converter", "static_converter", "capacitor_run")
        return any(each.way in ways for each in self.served)

    @property
    def drives(self) -> tuple[PlanMotor, ...]:
        """The motors on drives."""
        return tuple(each for each in self.served if each.figures.settings)

    @property
    def own_source(self) -> str:
        """What to know of an electronic source, battery or generator; empty without one."""
        names = [each.id for each in self.plan.equipment if each.way == "electronic_converter"]
        if not names:
            return ""
        return (
            f"The {', '.join(names)} may feed its lines while the supply is off, and holds charge "
            "after it is stopped: switch it off, isolate its battery if it has one, wait as marked."
        )

    @property
    def readings(self) -> tuple[ReadingExpected, ...]:
        """What a meter should show, in the order of the work."""
        return self.plan.readings_expected or ()

    def amount(self, number: float, unit: str, digits: int = 3) -> str:
        """A number as an owner reads it, wires by gauge in an NEC region."""
        if unit == "s":
            return f"{number:.{digits}g} s"
        if unit == "ohm" and number >= _MEGA:
            return f"{number / _MEGA:.{digits}g} Mohm"
        if unit == "A" and _PARTS <= abs(number) < 1.0:
            return f"{number:.{digits}g} A"  # relays and clamps are marked in amps
        if unit in _UNITS:
            return shown(number, unit, digits, region=self.shop.region)
        return f"{number:.{digits}g} {unit}".rstrip()

    def money(self, number: float) -> str:
        """An amount of money in the shop's currency."""
        return f"{number:,.0f} {self.study.currency or ''}".rstrip()

    def expected(self, of: ReadingExpected) -> str:
        """A reading as it is to be expected: `237 V (224 to 249 V)`, `at least 1 Mohm`."""
        low, high = self.amount(of.low, of.unit), self.amount(of.high, of.unit)
        if of.limit:
            return f"at most {high}" if of.low == 0.0 else f"at least {low}"
        if of.code in ("start_seconds", "ramp_seconds") and of.low == 0.0:
            return f"at once, under {high}"
        return self.within(of.value.number, of.low, of.high, of.unit)

    def within(self, number: float, low: float, high: float, unit: str) -> str:
        """A number with its bounds: `237 V (224 to 249 V)`."""
        first, last = self.amount(low, unit), self.amount(high, unit)
        of = last.rpartition(" ")[2]
        if " " in last and first.endswith(f" {of}"):
            first = first.removesuffix(f" {of}")
        return f"{self.amount(number, unit)} ({first} to {last})"

    def named(self, id: str) -> str:
        """An id of circuit or equipment as it is said: `drive of Press/pump`."""
        for way in WAYS:
            said = "drive" if way == "drive_per_motor" else way.replace("_", " ")
            id = id.replace(f"{way} ", f"{said} of ")
        return id
