"""One line typed off a plate, told back: what was read, how it is linked, what is still asked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from phasewright.job.check import check, motors_of
from phasewright.job.texts import entries, rewritten, shop_of
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Connection
from phasewright.quantities.errors import UsageError
from phasewright.quantities.finding import Finding, Missing
from phasewright.quantities.text import listed
from phasewright.quantities.told import amount, spread
from phasewright.quantities.words import CONNECTION_WORDS
from phasewright.shop.model import Shop
from phasewright.shop.plate_line import read_plate_line

LINE_KEYS = (
    "kind", "power", "voltage", "current", "frequency", "speed", "power_factor", "efficiency",
    "service_factor", "leads", "connection", "code_letter", "insulation_class",
    "starting_current", "year", "phases", "capacitor",
)  # fmt: skip
"""Keys of a plate that a typed line can give."""
WORD_KINDS = {"dc": "DC", "slip_ring": "slip rings"}
"""Kinds of motor that a plate names in words; any other is told elsewhere and stays."""
_LABELS = {"power_factor": "cos φ", "efficiency": "eff", "service_factor": "SF",
           "code_letter": "code", "starting_current": "IA/IN", "insulation_class": "class",
           "year": "year"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SpeedTold:
    """One speed of a two-speed motor: which, how its winding lies in the frame, what to link."""

    name: str
    winding: str
    layout: str
    words: str


@dataclass(frozen=True, slots=True)
class PlateTold:
    """A plate as it was read: sentences, the link for this shop's supply, and what is asked.

    `taken` says what the motor is taken to be, `link_words` what to link in the terminal box;
    `leads` is how many ends it was told for, `delta` the kind of the winding; None: not known.
    """

    read: str
    taken: str
    connection: Connection
    link_words: str
    leads: int | None
    delta: bool | None
    notes: tuple[str, ...]
    asks: tuple[Missing, ...]
    findings: tuple[Finding, ...]
    speeds: tuple[SpeedTold, ...] = ()


def plate_changes(line: str, path: str, before: dict[str, Any]) -> dict[str, Any]:
    """What a line typed for the plate of the motor at `path` changes in the shop file.

    `before` is the plate as entries, an empty line a plate that cannot be read. Keys that a line
    can give and this one does not are taken away, all others stay. Raises QuantityError for a line
    that cannot be read.
    """
    read = read_plate_line(line).entries if line.strip() else {}
    gone = {
        f"{path}.plate.{key}": None for key in LINE_KEYS
        if key in before and key not in read and (key != "kind" or before[key] in WORD_KINDS)
    }  # fmt: skip
    return {f"{path}.plate.{key}": entry for key, entry in read.items()} | gone


def plate_entries(shop: Shop, path: str) -> dict[str, Any]:
    """The plate of the motor at `path` as entries; raises UsageError where there is none."""
    for place, machine in enumerate(shop.machines):
        for seat, _ in enumerate(machine.motors):
            if path == f"machines[{place}].motors[{seat}]":
                return dict(entries(machine, shop)["motors"][seat]["plate"])
    raise UsageError(f"there is no motor at {path}")


def plate_line(plate: dict[str, Any]) -> str:
    """A plate's entries as one line that reads back to them."""
    parts = []
    for key in LINE_KEYS:
        if key not in plate or (key == "capacitor" and not plate[key]):
            continue
        entry = plate[key]
        if key == "kind":
            parts += [WORD_KINDS[entry]] if entry in WORD_KINDS else []
        elif key == "leads":
            parts.append(f"{entry} leads")
        elif key == "phases":
            parts.append(f"{entry} ph")
        elif key == "capacitor":
            parts.append("40 µF")
        else:
            label = _LABELS.get(key)
            parts.append(f"{label} {entry}" if label else str(entry))
    return " ".join(parts)


def plate_told(text: str, path: str, line: str) -> PlateTold:
    """Read a line as the plate of the motor at `path` of a shop file, and judge that motor alone.

    Raises QuantityError for a line that cannot be read, ShopFileError for what contradicts.
    """
    read = read_plate_line(line)
    shop = shop_of(text)
    before = plate_entries(shop, path)
    _, shop = rewritten(text, plate_changes(line, path, before))
    motor = next(entry for entry in motors_of(shop) if entry.path == path)
    told = listed((_entry(k, read.entries[k]) for k in LINE_KEYS if k in read.entries), "and")
    unused = (f"Not used: {listed(read.unused, 'and')}.",) if read.unused else ()
    asks = tuple(
        fact for fact in check(shop).missing
        if fact.path.startswith(path) and fact.would_change
    )  # fmt: skip
    return PlateTold(
        read=f"Read: {told}." if told else "Nothing was read.",
        taken=_taken(motor),
        connection=motor.connection,
        link_words=_link_words(motor),
        leads=_leads(motor),
        delta=None if motor.link is None else motor.link.delta,
        notes=(*unused, *read.notes),
        asks=asks,
        findings=motor.findings,
        speeds=tuple(
            SpeedTold(speed.name, speed.winding, motor.layout or "unknown", speed.words)
            for speed in motor.speeds
        ),
    )


def _entry(key: str, entry: Any) -> str:
    if key in ("power", "voltage", "current", "frequency", "speed"):
        return str(entry)
    if key == "kind":
        return WORD_KINDS[entry]
    if key == "connection":
        return f"links {entry}"
    if key == "leads":
        return f"{entry} leads"
    if key == "starting_current":
        return f"{entry:g} times its amps at the start"
    if key == "phases":
        return "one phase" if entry == 1 else "three phases"
    if key == "capacitor":
        return "a capacitor on it"
    return f"{key.replace('_', ' ')} {entry}"


def _leads(motor: Motor) -> int | None:
    """Leads stamped, else the number that was taken."""
    if motor.plate.leads is not None:
        return motor.plate.leads
    taken = [fact.value.number for fact in motor.assumed if fact.field == "leads"]
    return int(taken[0]) if taken else None


def _taken(motor: Motor) -> str:
    """What the motor is taken to be, in one sentence."""
    if not motor.three_phase or motor.circuit is None:
        return " ".join(reason.words for reason in motor.reasons)
    parts = ["a three-phase motor"]
    if motor.power_w is not None:
        parts.append(f"of {spread(motor.power_w)} at the shaft")
    if motor.poles is not None:
        parts.append(f"with {motor.poles} poles")
    link = motor.link
    if link is not None:
        at = f"{CONNECTION_WORDS[link.connection]} for {amount(link.line_voltage_v, 'V')}"
        parts.append(at)
        if link.full_load_current_a is not None:
            parts.append(f"where it takes {amount(link.full_load_current_a, 'A')} at full load")
    words = f"{' '.join(parts[:3])}{', ' if len(parts) > 3 else ''}{', '.join(parts[3:])}"
    return f"Taken as {words}."


def _link_words(motor: Motor) -> str:
    if motor.link is not None:
        return motor.link.words
    return " ".join(reason.words for reason in motor.link_reasons)
