"""Both speeds of a two-speed motor read and fitted, each as a motor of its own."""

from __future__ import annotations

from dataclasses import replace

from phasewright.machines.connection import link_for
from phasewright.machines.link import Link
from phasewright.machines.notes import Notes
from phasewright.machines.reading import Reading, Where, read_plate
from phasewright.machines.two_speed import Speed, SpeedPlate, TwoSpeed
from phasewright.machines.two_speed_drive import with_drive
from phasewright.quantities.errors import NotComputable
from phasewright.quantities.finding import Reason
from phasewright.shop.machine import Load as ShopLoad
from phasewright.shop.machine import Machine

RELINK = (
    "A two-speed winding: its ends change the number of poles, not the voltage; it cannot be "
    "relinked for a lower voltage."
)


def read_two_speeds(
    two: TwoSpeed, machine: Machine, load: ShopLoad, where: Where, notes: Notes
) -> tuple[Reading, tuple[Speed, ...]]:
    """The reading of the more powerful speed, and both speeds (none where one has no circuit).

    What is taken or questioned about the weaker speed is noted under its own name. Raises
    NotComputable where the stronger speed's plate contradicts itself.
    """
    plain = replace(machine, starter=None)
    strong = _told(read_plate(two.strong.plate, plain, load, where, notes), two.strong, where)
    readings: list[Reading] = []
    for each in two.speeds:
        if each is two.strong:
            readings.append(strong)
            continue
        readings.append(_weaker(each, plain, load, where, notes))
    low = _speed(two.speeds[0], readings[0])
    high = _speed(two.speeds[1], readings[1])
    if low is None or high is None:
        return strong, tuple(one for one in (low, high) if one is not None)
    return strong, with_drive((low, high), where.supply_voltage_v, two.layout)


def _weaker(
    of: SpeedPlate, machine: Machine, load: ShopLoad, where: Where, notes: Notes
) -> Reading:
    """The reading of the weaker speed; without a circuit, and told so, where its figures
    contradict or no table reaches it."""
    own = Notes(notes.subject, notes.path)
    try:
        reading = _told(read_plate(of.plate, machine, load, where, own), of, where)
    except NotComputable as refusal:
        _left_out(of, f"{refusal}.", notes)
        return Reading((), None, ())
    if reading.computed is None:
        _left_out(of, " ".join(each.words for each in reading.reasons), notes)
    _pass_on(own, of, notes)
    return reading


def _left_out(of: SpeedPlate, why: str, notes: Notes) -> None:
    notes.ask(
        "speed_not_computed", "caution",
        f"{of.name.capitalize()} speed: {why} It is left out.",
        key="plate.speed",
    )  # fmt: skip


def _told(reading: Reading, of: SpeedPlate, where: Where) -> Reading:
    """The links in the words of this speed."""

    def told(link: Link) -> Link:
        return replace(link, words=of.words, winder="rewind")

    links = tuple(told(link) for link in reading.links)
    link = None if reading.link is None else told(reading.link)
    at = None if reading.at is None else told(reading.at)
    kept = [r for r in reading.link_reasons if r.code != "one_voltage"]
    if reading.turns is not None and link is None:
        # the same verdict again, now that the link knows what a winder could make of it
        _, kept_again = link_for(
            links, where.supply_voltage_v, where.frequency_hz, reading.turns.frequency_hz.number
        )
        kept = list(kept_again)
    return replace(
        reading, links=links, link=link, at=at,
        link_reasons=(Reason("two_speed", RELINK), *kept),
    )  # fmt: skip


def _pass_on(own: Notes, of: SpeedPlate, notes: Notes) -> None:
    """Questions about the weaker speed, told as such, and its defaults under the same names."""
    for finding in own.findings:
        if finding.severity == "info" or finding.rule in {each.rule for each in notes.findings}:
            continue
        notes.findings.append(
            replace(
                finding, id=f"{finding.id}:{of.name}",
                words=f"{of.name.capitalize()} speed: {finding.words}",
            )
        )  # fmt: skip
    notes.assumed += own.assumed


def _speed(of: SpeedPlate, reading: Reading) -> Speed | None:
    turns, at, computed = reading.turns, reading.at, reading.computed
    if turns is None or at is None or computed is None:
        return None
    fitted = computed.fitted
    return Speed(
        name=of.name,
        winding=of.winding,
        words=of.words,
        line_voltage_v=at.line_voltage_v,
        power_w=of.power_taken or computed.point.power_w,
        speed_rpm=turns.speed_rpm,
        poles=turns.poles,
        synchronous_speed_rpm=turns.synchronous_speed_rpm,
        full_load_current_a=computed.point.current_a,
        locked_rotor_current_a=fitted.locked_current_a,
        rated_nm=fitted.rated_nm,
        locked_nm=fitted.locked_nm,
        breakdown_nm=fitted.breakdown_nm,
        circuit=fitted.circuit,
        link=reading.link,
        link_reasons=reading.link_reasons,
    )
