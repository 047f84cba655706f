"""What only the finished installation shows: rules to be confirmed before it is used.

Nothing that is computed says whether a line is marked or an earth measured. So these rules are
asked as if it were not, and what they then say is a thing to do and to tick off; no judgement
of the plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from phasewright.circuits.installation import Circuit, Installation
from phasewright.rules.capacitors import capacitor_device, shaft_at_rest
from phasewright.rules.earthing import (
    bonding,
    earth_continuity,
    electrode_conductor,
    insulation_resistance,
    line_3_bonded,
    line_3_marked,
    separately_derived,
)
from phasewright.rules.isolation import disconnect_in_sight, earth_through_lead, lockable
from phasewright.rules.machines_60204 import no_restart
from phasewright.rules.nec_converters import disconnect_in_sight as converter_in_sight
from phasewright.rules.nec_converters import loads_drop_out, marked, static_disconnect
from phasewright.rules.nec_places import high_leg_marked
from phasewright.rules.of_circuit import awg, mm2
from phasewright.rules.register import Ruling, words_of
from phasewright.rules.shock_protection import residual_kept
from phasewright.tables.clauses import limit

_MACHINES = ("outlet_to_machine", "converter_to_machine", "supply_to_machine", "drive_to_motor")


@dataclass(frozen=True, slots=True)
class Confirm:
    """A rule to be confirmed on site: what must hold, of what, how to bring it about."""

    rule: str
    subject: str
    words: str
    how: str | None
    source: str


def to_confirm(installation: Installation) -> tuple[Confirm, ...]:
    """Every rule that only the finished installation can answer, once a subject."""
    found: dict[tuple[str, str], Confirm] = {}
    rulings = (
        *_of_building(installation), *_of_line_3(installation), *_of_circuits(installation)
    )  # fmt: skip
    for ruling in rulings:
        for each in ruling.findings:
            how = None if each.remedy is None else each.remedy.words
            told = Confirm(each.rule, each.subject, words_of(each.rule), how, each.source)
            found.setdefault((each.rule, each.subject), told)
    return tuple(found.values())


def _of_building(i: Installation) -> Iterator[Ruling]:
    """Of earth electrode and bonding, which no plan changes: what nobody told is looked at."""
    if not i.circuits:
        return
    if i.region != "NEC":
        if i.bonding_conductor_m2 is None:
            yield bonding(0.0, "supply")
        return
    rod, line = mm2(i.electrode_conductor_m2), awg(i.service_conductor_m2)
    if rod is None or line is None:
        yield electrode_conductor(rod, line, "supply", wanted=True)
    if i.high_leg:
        yield high_leg_marked(True, False, "supply")


def _of_line_3(i: Installation) -> Iterator[Ruling]:
    """Of the generated line, and of what is there already."""
    nec = i.region == "NEC"
    for each in i.equipment:
        if each.isolates and nec:
            yield separately_derived(True, False, each.id)
        if not each.generates_line3:
            continue
        if each.tied is None:
            yield line_3_bonded(True, each.id)
        if each.line_3_marked is None:
            yield marked(True, False, each.id) if nec else line_3_marked(True, False, each.id)
        if nec:
            yield converter_in_sight(True, False, each.id)
            yield loads_drop_out(each.kind == "rotary_converter", False, each.id)
            static = each.kind == "static_converter"
            yield static_disconnect(static, len(each.serves), False, False, each.id)
    for c in i.circuits:
        if c.role == "capacitor_branch":
            yield shaft_at_rest(c.capacitance_f, False, c.source)
            if nec and c.device is None and c.fused is None:
                yield capacitor_device(False, bool(c.behind_overload), c.source)
    if i.upstream_residual is not None:
        yield residual_kept(True, False, "supply")


def _of_circuits(i: Installation) -> Iterator[Ruling]:
    for c in i.circuits:
        if c.role in _MACHINES:
            yield from _of_machine(c, i)


def _of_machine(c: Circuit, i: Installation) -> Iterator[Ruling]:
    """Of whatever a circuit ends at."""
    for name in c.feeds:
        if i.region == "NEC":
            yield disconnect_in_sight(False, False, name)
        else:
            yield lockable(False, False, name)
            yield no_restart(c.role != "drive_to_motor", False, name)
            if c.motor is not None and c.motor.insulation_ohm is None:
                yield insulation_resistance(None, name, wanted=True)
        yield earth_through_lead(c.role == "outlet_to_machine", False, name)
        yield earth_continuity(None, limit("earth_joints", "ohm"), name)
