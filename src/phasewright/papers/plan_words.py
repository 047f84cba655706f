"""The words in which a plan is told, the same on the screen, on the page and on paper."""

from __future__ import annotations

from phasewright.circuits.installation import Device, ResidualCurrentDevice
from phasewright.plan.circuit_prices import CircuitPart
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanSide, PlanStart, StartTrip, Study
from phasewright.quantities.codes import ON_A_DRIVE, WAYS, Severity
from phasewright.quantities.finding import Finding
from phasewright.quantities.told import amount, money
from phasewright.quantities.words import BROUGHT_WORDS, PLACE_WORDS, WAY_SHORT, WAY_WORDS
from phasewright.shop.machine import motor_id
from phasewright.shop.model import Shop
from phasewright.ways.figures import Buy, Figures, Part

WORST_FIRST: tuple[Severity, ...] = ("stop", "condition", "caution", "info")
OF_THE_MAINS = ("mains_high", "mains_low")
"""Rules on the volts that a motor sees without a drive."""
OWN_ON_A_DRIVE = {"overload_relay", "shared_place"}
"""Parts of a place on a shared drive."""
INSIDE = ("capacitor_branch", "control")
"""Roles of circuits inside a box."""
TRIPS = {"may_trip": "may trip", "trips": "trips", "not_judged": "not known"}


def chosen(study: Study) -> PlanSide | None:
    """The plan the answer names."""
    return next((plan for plan in study.plans if plan.id == study.answer.plan), None)


def what(buy: Buy) -> str:
    """What is bought: a thing by its way, or what a motor has of its own on a shared one."""
    if buy.kind == "shared_drive" and {part.kind for part in buy.parts} <= OWN_ON_A_DRIVE:
        return PLACE_WORDS
    return BROUGHT_WORDS if buy.unit == "F" else WAY_WORDS[buy.kind]


def bought(buy: Buy) -> str:
    """What is bought and how large, as a line of a list."""
    times = f"{buy.quantity} × " if buy.quantity != 1 else ""
    return f"{times}{what(buy)}, {amount(buy.rating, buy.unit)}"


def part_words(part: Part) -> str:
    """A part of a thing that is bought, as many as there are."""
    name = next((WAY_SHORT[way] for way in WAYS if way == part.kind), part.kind.replace("_", " "))
    if part.kind == "drive_per_motor":  # the piece itself, whoever shares it
        name = "drive"
    size = f", {amount(part.rating, part.unit)}" if part.unit else ""
    return f"{part.quantity} × {name}{size}"


def origins(buy: Buy) -> list[str]:
    """Where the prices of a buy come from."""
    return [buy.price_origin, *(part.price_origin for part in buy.parts)]


def findings_of(study: Study, plan: PlanSide | None) -> list[Finding]:
    """What concerns the plan or the shop itself, the worst first.

    What the mains does to a motor is left out where the plan gives the motor a drive's volts.
    """
    wanted: set[str] = set() if plan is None else set(plan.findings)
    motors = () if plan is None else plan.motors
    driven = {motor.motor for motor in motors if motor.way in ON_A_DRIVE}
    kept = [
        entry
        for entry in study.findings
        if entry.id in wanted
        or (entry.plan is None and not (entry.rule in OF_THE_MAINS and entry.subject in driven))
    ]
    return sorted(kept, key=lambda entry: WORST_FIRST.index(entry.severity))


def run_up_words(row: PlanStart) -> str:
    """The usual time of a start and the longest, where they differ as printed."""
    if not row.runs_up or row.time_s is None:
        return "does not"
    usual = f"{row.time_s.number:.2g}"
    longest = usual if row.time_high_s is None else f"{row.time_high_s.number:.2g}"
    return f"{usual} s" if usual == longest else f"{usual} to {longest} s"


def trip_words(of: StartTrip) -> str:
    """What a device does in a start."""
    return f"{of.device} ({of.kind.replace('_', ' ')}): {TRIPS.get(of.verdict, of.verdict)}"


def yours(row: PlanCircuit, key: str, words: str) -> str:
    """With a mark where it stands there already and is kept; `key` as in the shop file."""
    return f"{words}, yours" if key in row.there else words


def cable_words(row: PlanCircuit) -> str:
    """The live conductors of a circuit."""
    return "none is large enough" if row.conductor is None else f"{row.loaded} × {row.conductor}"


def device_words(of: Device | None) -> str:
    """An overcurrent device as it is marked."""
    if of is None:
        return ""
    return f"{of.curve}{of.rating_a:g}" if of.curve else f"{of.rating_a:g} A"


def residual_words(of: ResidualCurrentDevice | None) -> str:
    """A residual-current device as it is marked, and where it stands."""
    if of is None:
        return ""
    marked = f"{of.rating_ma:g} mA {of.type}"
    if of.upstream:
        return f"{marked}, yours"
    return f"{marked}, ahead" if of.at else marked


_CIRCUIT_PARTS = {
    "cable": "m of cable", "breaker_two_pole": "× breaker", "isolator": "× isolator",
    "plug_and_socket": "× plug and socket",
}  # fmt: skip


def circuit_parts_words(plan: PlanSide) -> list[tuple[str, float | None]]:
    """What the circuits of a plan are made of, like pieces together, each with its price."""
    found: dict[str, list[CircuitPart]] = {}
    for each in plan.circuit_parts or ():
        name = _CIRCUIT_PARTS.get(each.kind, "× residual-current device")
        found.setdefault(f"{name}, {each.size}", []).append(each)
    rows: list[tuple[str, float | None]] = []
    for name, parts in found.items():
        prices = [each.price.expected.number for each in parts if each.price is not None]
        count = sum(each.quantity for each in parts)
        rows.append((f"{count:g} {name}", sum(prices) if len(prices) == len(parts) else None))
    return sorted(rows, key=lambda row: row[0].split(" ", 1)[1])


def own_drives(plan: PlanSide) -> dict[str, str]:
    """Words for the ids of drives that serve one motor."""
    return {
        each.id: f"drive of {each.serves[0]}"
        for each in plan.equipment if each.id.startswith(f"{each.way} ")
    }  # fmt: skip


def lengths_words(rows: tuple[PlanCircuit, ...]) -> str:
    """How long the circuits are taken to be."""
    outer = [row for row in rows if row.role not in INSIDE]
    lengths = [row.length_m.number for row in outer or rows]
    least, most = min(lengths), max(lengths)
    return f"{least:g} m" if least == most else f"{least:g} to {most:g} m"


def key_figures(figures: Figures, currency: str | None) -> str:
    """What a way draws, gives and costs for a motor, in one line."""
    parts = []
    amps = figures.input_current_a
    if amps is not None:
        low, high = amount(amps.low, "A"), amount(amps.high, "A")
        parts.append(f"draws {low}" if low == high else f"draws {low} to {high}")
    if figures.usable_power_w is not None:
        parts.append(f"gives {amount(figures.usable_power_w.number, 'W')} for ever")
    if figures.starting_torque_ratio is not None:
        parts.append(f"{figures.starting_torque_ratio.number:.0%} of rated torque at standstill")
    if figures.price is not None:
        parts.append(f"about {money(figures.price.number, currency)} for this machine alone")
    return ", ".join(parts)


def sentence(words: str) -> str:
    """Words as a sentence, however short they are."""
    end = "" if words.endswith((".", "!", "?", ")")) else "."
    return words[:1].upper() + words[1:] + end


def about(path: str, shop: Shop) -> str:
    """Which machine or motor a path lies in; the supply where in none."""
    for place, machine in enumerate(shop.machines):
        if not path.startswith(f"machines[{place}]"):
            continue
        for seat, motor in enumerate(machine.motors):
            if path.startswith(f"machines[{place}].motors[{seat}]"):
                return machine.name if len(machine.motors) == 1 else motor_id(machine, motor)
        return machine.name
    return "the supply" if path.startswith("supply") else ""
