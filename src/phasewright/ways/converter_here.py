"""The rotary converters that could stand in a shop, and what every motor gets on each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from phasewright.machines.noise import level_at, motor_sound_power
from phasewright.quantities.codes import WayName
from phasewright.quantities.errors import NoOperatingPoint, TableEnds
from phasewright.quantities.finding import Finding, Reason
from phasewright.quantities.value import Value
from phasewright.rules.generated_line import (
    capacitor_voltage_class,
    over_excitation,
    owned_capacitor_volts,
)
from phasewright.rules.supply import start_dip
from phasewright.running.network import Connected
from phasewright.ways.cautions import DIRECTION_FIRST, GENERATED_LINE_LIVE, STORED_CHARGE
from phasewright.ways.conditions import demand_ratio, typical_ratio
from phasewright.ways.converter_design import Design, design, screened
from phasewright.ways.converter_drive_inside import has_drive_inside
from phasewright.ways.converter_parts import capacitor_class_v, least_volts, ways_to_have
from phasewright.ways.converter_serve import idler_heat_share, serve, starts_too_hard
from phasewright.ways.figures import Figures
from phasewright.ways.idlers import Idlers, idlers_of, is_owned, pair_for, power_of
from phasewright.ways.on_two_lines import Linked, linked
from phasewright.ways.shared_source import (
    Feeders,
    OwnStart,
    Said,
    Served,
    Shared,
    Work,
)
from phasewright.ways.site import Site
from phasewright.ways.travelling_capacitors import travelling_design
from phasewright.ways.turning_on_converter import OnConverter

ROTARY: WayName = "rotary_converter"
CONVERTER = "converter"
FIXED, TRAVELLING = 0, 1
"""The variants: one bank for all, or one for the idler alone and the rest with the motors."""
SAID = Said(
    idle="The idler alone takes",
    gives=(
        Reason(
            "original_controls",
            "the original switches and pumps work as they are; the next "
            "machine can be plugged in as well.",
        ),
    ),
    gives_up=(Reason("idler_hum", "An idler that turns, hums and takes energy while it is on."),),
    cautions=(STORED_CHARGE, GENERATED_LINE_LIVE, DIRECTION_FIRST),
)


SWITCHED = replace(
    SAID,
    gives=(
        *SAID.gives,
        Reason(
            "even_alone_and_loaded",
            "even lines with the converter alone as well as under load: it idles on less power, "
            "and its line 3 stays near the supply's volts.",
        ),
    ),
    gives_up=(
        *SAID.gives_up,
        Reason(
            "capacitors_with_machines",
            "Each machine needs its own capacitors with contactor and discharge resistor; without "
            "them it hangs on a bank that is too small for it.",
        ),
    ),
)


def shared(site: Site, work: Work) -> tuple[Shared, ...]:
    """Converters from the first size that serves anything to the second that serves all it can.

    A larger one costs more and loses more and gives nothing further, so it is left out; those
    round idlers the owner has are tried whatever their size.
    """
    each = enumerate(linked(task.motor) for task in work.tasks)
    able = {k: one for k, one in each if isinstance(one, Linked)}
    if not able:
        return ()
    direct = {k: one for k, one in able.items() if not has_drive_inside(work.tasks[k])}
    sets, reached = _workday(direct, work) if direct else (), work.reached(site)
    motors = tuple((one, reached[k][1]) for k, one in direct.items())
    fixed, travelling = Tried(), Tried()
    within = _serving(able, work.groups)
    for idlers in idlers_of(site):
        owned = is_owned(site, idlers)
        if fixed.ended and not owned:
            continue
        if direct == able and all(
            screened(site.source, power_of(idlers), one) for one in able.values()
        ):
            continue
        if motors and (owned or not travelling.ended):
            one = _tried(site, work, idlers, lambda of: travelling_design(site, of, motors))
            if owned or not any(_does_as_much(work, less, one) for less in travelling.found):
                travelling.add(one, within, owned=owned)
        fixed.add(
            _tried(site, work, idlers, lambda of: design(site.source, of, sets)),
            within, owned=owned,
        )  # fmt: skip
    return (*fixed.found, *travelling.found)


@dataclass(slots=True)
class Tried:
    """The sizes of one variant that serve anything, smallest first."""

    found: list[Shared] = field(default_factory=list)
    enough: int = 0
    ended: bool = False

    def add(
        self, one: Shared | None, serves_everything: Callable[[Shared], bool], *, owned: bool
    ) -> None:
        """Take a size in; a larger one is asked for until two serve all, or none any more.

        What the owner has is tried whatever its size, so it ends nothing.
        """
        self.found += [] if one is None else [one]
        if owned:
            return
        self.enough += one is not None and serves_everything(one)
        self.ended = self.ended or self.enough == 2 or (one is None and bool(self.found))


def _does_as_much(work: Work, smaller: Shared, larger: Shared | None) -> bool:
    """Whether a smaller converter serves every motor that the larger one does, and every set of
    them that turns together: then the larger one costs and idles more for nothing."""
    if larger is None:
        return False
    served = {k for k in range(len(work.tasks)) if larger.serves(k) is not None}
    if not smaller.serves_all(served):
        return False
    for hung in {tuple(sorted(group & served)) for group in work.groups} - {()}:
        together = smaller.turning(tuple(work.tasks[k] for k in hung))
        if together is None or not together.stands:
            return False
    return True


def _tried(
    site: Site, work: Work, idlers: Idlers, designed: Callable[[Idlers], Design | None]
) -> Shared | None:
    """What every motor gets on a converter of these idlers, or of two of half the size where the
    supply does not bear the start of one; None where it serves none."""
    try:
        of = designed(idlers)
        pair = None if of is None or not starts_too_hard(site, of) else pair_for(site, idlers)
        of = of if pair is None else designed(pair)
        if of is None:
            return None
        served = tuple(
            serve(task, there, of.met_by(task.motor.id)) for task, there in work.reached(site)
        )
        if not any(isinstance(one, Served) for one in served):
            return None
        return _shared(site, of, served, work.feeders())
    except (NoOperatingPoint, TableEnds):
        return None


def _shared(
    site: Site, of: Design, served: tuple[Served | tuple[Reason, ...], ...], feeders: Feeders
) -> Shared:
    figures = next(one.figures for one in served if isinstance(one, Served))
    return Shared(
        way=ROTARY,
        name=CONVERTER,
        rating=of.converter.idler_power_w,
        unit="W",
        hads=ways_to_have(site, of),
        served=served,
        turning=OnConverter(
            site.source, of.converter, feeders, idler_heat_share(site), site.surge_a
        ),
        said=SWITCHED if of.brings else SAID,
        idle_power_w=of.idle.supply_power_w,
        own_start=OwnStart(of.start.supply_a, of.start.dip_ratio),
        figures=Figures(
            idle_power_w=figures.idle_power_w,
            idler_power_w=figures.idler_power_w,
            run_capacitance_f=figures.run_capacitance_f,
            start_capacitance_f=figures.start_capacitance_f,
        ),
        circuit=of.converter.idler,
        design=of,
        noise_dba=_noise(of),
        findings=_findings(site, of),
        variant=TRAVELLING if of.brings else FIXED,
    )


def _noise(of: Design) -> Value | None:
    """Sound level 1 m from the idler, the part that this way of powering adds."""
    try:
        return level_at(
            tuple(motor_sound_power(each.power_w, each.poles) for each in of.idlers), 1.0
        )
    except TableEnds:
        return None


def _findings(site: Site, of: Design) -> tuple[Finding, ...]:
    volts = max(of.idle.line_voltages_v)
    return (
        *_left_on_the_shelf(site, of),
        *capacitor_voltage_class(volts, capacitor_class_v(volts), CONVERTER).findings,
        *over_excitation(max(each.flux_ratio for each in of.idle.machines), CONVERTER).findings,
        *start_dip(of.start.dip_ratio, CONVERTER).findings,
    )


def _left_on_the_shelf(site: Site, of: Design) -> list[Finding]:
    found: list[Finding] = []
    for place, part in enumerate(site.owned):
        if part.kind == "run_capacitor" and site.wiring_by_owner:
            volts = min((value.number for value in part.voltage), default=None)
            subject = f"your run capacitors, owned_parts[{place}]"
            found += owned_capacitor_volts(
                least_volts(of), volts, volts is not None, subject, f"owned_parts[{place}].voltage"
            ).findings
    return found


def _serving(
    able: dict[int, Linked], groups: tuple[frozenset[int], ...]
) -> Callable[[Shared], bool]:
    """Whether every motor that can hang on a converter may, with room for those beside it."""
    heaviest = max(
        sum(able[k].rated_w * typical_ratio(able[k].load) for k in group if k in able)
        for group in groups
    )
    return lambda on: on.serves_all(able) and heaviest <= on.rating


def _workday(able: dict[int, Linked], work: Work) -> tuple[tuple[Connected, ...], ...]:
    """The sets of motors the capacitors are tuned for: the heaviest alone at the highest load it
    may ask for, and the heaviest set that turns together at its usual loads; with the idler
    alone they span what a day asks for."""

    def weight(k: int) -> float:
        return able[k].rated_w * typical_ratio(able[k].load)

    def connected(k: int) -> Connected:
        return able[k].connected(typical_ratio(able[k].load))

    heaviest = max(sorted(able), key=weight)
    sets: list[tuple[Connected, ...]] = [
        (able[heaviest].connected(demand_ratio(able[heaviest].load)),)
    ]
    grouped = [tuple(sorted(k for k in group if k in able)) for group in work.groups]
    largest = max(grouped, key=lambda ks: (sum(map(weight, ks)), ks))
    if len(largest) > 1:
        sets.append(tuple(connected(k) for k in largest))
    return tuple(sets)
