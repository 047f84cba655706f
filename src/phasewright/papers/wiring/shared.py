"""What makes three lines for several motors: a converter, an inverter, a generator."""

from __future__ import annotations

from dataclasses import replace

from phasewright.papers.wiring.banks import Can, cans_of, parted
from phasewright.papers.wiring.converter import BuiltConverter, Idler, built_converter
from phasewright.papers.wiring.draft import Draft
from phasewright.papers.wiring.job import Job
from phasewright.papers.wiring.ready import Box, generator, ready_box
from phasewright.papers.wiring.terminals import BOXES, TerminalBox
from phasewright.plan.study import PlanEquipment
from phasewright.quantities.units import format as shown
from phasewright.tables.own_sources import own_line_v
from phasewright.tables.shared_sources import electronic_output_v
from phasewright.ways.figures import Buy, IdlerStartFigures, RunCapacitance

Rails = tuple[tuple[str, str], ...]
GENERATOR, BATTERY = "generator", "battery inverter"
ITSELF = ("rotary_converter", "undervoltage_release", "start_resistor", "phase_sequence_relay")
"""Parts of a ready-made converter that are told elsewhere on its sheet."""


def shared_source(draft: Draft, job: Job, each: PlanEquipment, pair: Rails) -> Rails:
    """Write the unit of a source; the rails of its outlets."""
    buy = job.shared_buy(each)
    kinds = () if buy is None else tuple(part.kind for part in buy.parts)
    if each.way == "rotary_converter" and buy is not None and "idler_motor" in kinds:
        return built_converter(draft, _built(job, each, buy), pair)
    box = Box(
        _words(each), each.way == "rotary_converter", _line_v(job, each),
        neutral=each.id in (GENERATOR, BATTERY), origin=job.origin(each.id),
        proved=any(c.phase_relay is not None and c.from_ == each.id
                   for c in job.plan.circuits or ()),
        proof_priced="phase_sequence_relay" in kinds, inside=_inside(buy),
        battery_kwh=None if buy is None else next(
            (part.rating for part in buy.parts if part.kind == "battery"), None
        ),
    )  # fmt: skip
    if each.id == GENERATOR:
        return generator(draft, replace(box, generates=False), pair[-1], GENERATOR)
    return ready_box(draft, box, pair)


def _words(each: PlanEquipment) -> str:
    words = f"{each.id} of {shown(each.rating, each.unit)}" if each.unit else each.id
    return words[0].upper() + words[1:]


def _line_v(job: Job, each: PlanEquipment) -> float:
    """Volts between its lines, whatever motor hangs on them."""
    supply_v = job.shop.supply.voltage.number
    if each.way == "rotary_converter":
        return supply_v
    if each.id in (GENERATOR, BATTERY):
        return own_line_v(job.shop.region)
    return electronic_output_v(supply_v)


def _inside(buy: Buy | None) -> str:
    """What is bought new for the inside of a ready-made converter."""
    if buy is None or not any(part.kind == "rotary_converter" for part in buy.parts):
        return ""
    words = [
        f"{part.quantity} {part.kind.replace('_', ' ')}"
        + (f" of {shown(part.rating, part.unit)}" if part.unit == "F" else "")
        for part in buy.parts
        if part.kind not in ITSELF
    ]
    resistor = ["a start resistor that its maker fits and bridges"] if any(
        part.kind == "start_resistor" for part in buy.parts
    ) else []  # fmt: skip
    return ", ".join([*words, *resistor])


def _built(job: Job, each: PlanEquipment, buy: Buy) -> BuiltConverter:
    figures = each.figures
    run = figures.run_capacitance_f
    start = _idler_start(job, each)
    banks: tuple[tuple[Can, ...], tuple[Can, ...]] = ((), ())
    if isinstance(run, RunCapacitance):
        banks = parted(cans_of(buy.parts), run.c31.number, run.c23.number)
    relays = [part.rating for part in buy.parts if part.kind == "overload_relay"]
    idlers = [
        part for part in buy.parts if part.kind == "idler_motor" for _ in range(part.quantity)
    ]
    settings = [*relays, *[None] * len(idlers)]
    contactors = [part.rating for part in buy.parts if part.kind == "contactor"]
    method = "direct" if start is None else start.method
    kinds = {part.kind for part in buy.parts}
    return BuiltConverter(
        _words(each),
        tuple(
            Idler(part.rating, settings[k], _idler_box(job))
            for k, part in enumerate(idlers)
        ),
        banks,
        tuple(
            Can(part.rating, owned=part.owned)
            for part in buy.parts if part.kind == "start_capacitor" for _ in range(part.quantity)
        ),
        "series_resistor" if "start_resistor" in kinds
        else "pony_motor" if "pony_motor" in kinds or method == "pony_motor" else "direct",
        None if start is None or start.resistor_ohm is None else start.resistor_ohm.number,
        max(contactors, default=None),
        job.origin(each.id),
    )  # fmt: skip


def _idler_start(job: Job, each: PlanEquipment) -> IdlerStartFigures | None:
    """How its idler is started: told of the converter, or of the motors on it."""
    served = [one.figures for one in job.plan.motors if one.motor in each.serves]
    told = (figures.idler_start for figures in (each.figures, *served))
    return next((start for start in told if start is not None), None)


def _idler_box(job: Job) -> TerminalBox:
    """An idler is linked for the supply's own volts: six ends in delta, or nine for the low
    voltage in star, as such idlers are sold (common practice, no source)."""
    if job.shop.region == "NEC":
        return replace(BOXES["9", False, "low_voltage"], words="nine leads, low voltage")
    return replace(BOXES["6", True, "delta"], words="six ends, delta")
