"""One motor on one generator: what it gets and burns, or why it must not hang there."""

from __future__ import annotations

from functools import lru_cache

from phasewright.machines.noise import power_of, pressure_at
from phasewright.quantities.finding import Reason
from phasewright.tables.own_sources import (
    fuel_price,
    generator_reactance,
    generator_sound_at_7_m,
)
from phasewright.ways.asked import Asked, condition, refusal, told
from phasewright.ways.balanced import Balanced
from phasewright.ways.balanced_asks import asked_on_three_lines, on_lines
from phasewright.ways.electronic_serve import NAME
from phasewright.ways.generator_figures import figures_of
from phasewright.ways.generator_source import Generator, deepest_hold
from phasewright.ways.line_start import as_linked, line_starts
from phasewright.ways.shared_source import Served
from phasewright.ways.site import Site
from phasewright.ways.way import Draw, Service, Task

BACKFEED = Reason(
    "never_into_the_mains",
    "Nothing that a generator feeds may ever be joined to the mains: a changeover switch in all "
    "poles, the neutral with them, or a circuit that knows no mains; what it feeds backwards kills "
    "the linesman. It is a separate source whose neutral is earthed by itself (NFPA 70, 250.30; "
    "IEC 60364-5-551): a licensed installer's work.",
)


@lru_cache(maxsize=2048)
def serve(task: Task, site: Site, of: Generator) -> Served | tuple[Reason, ...]:
    """This motor on this generator: what it gets, or every reason why it must not be."""
    one = on_lines(task, NAME, of.line_voltage_v, of.frequency_hz)
    if isinstance(one, tuple):
        return one
    borne, starts = _of_size(one, of) + _of_start(one, of), None
    if not borne.refusals and of.starts_straight_on(task, one):
        starts = line_starts(of.lines, as_linked(one))
    asked = asked_on_three_lines(task, one, NAME, starts, has_neutral=True, behind_converter=True)
    asked += borne + _of_fuel(one, site, of) + _of_noise(site)
    asked += Asked(conditions=(BACKFEED,))
    if asked.refusals:
        return asked.refusals
    service = Service(
        unloaded=Draw(of.burnt_w(one.unloaded.input_power_w)),
        typical=Draw(of.burnt_w(one.typical.input_power_w)),
        demand=Draw(of.burnt_w(one.highest.input_power_w)),
        starting_current_a=0.0,
    )
    return Served(
        one.link, one.circuit.rated_current_a, service, asked.conditions,
        figures_of(one, site, of, starts), asked.told,
    )  # fmt: skip


def _of_size(one: Balanced, of: Generator) -> Asked:
    kw = of.rating_w / 1000.0
    steady = max(one.highest.current_a, one.circuit.rated_current_a)
    if steady > of.output_a or one.highest.input_power_w > of.rating_w:
        return refusal(
            "generator_too_small",
            f"It takes {steady:.1f} A and {one.highest.input_power_w / 1000.0:.2g} kW; a generator "
            f"of {kw:g} kW gives {of.output_a:.1f} A.",
        )
    return Asked()


def _of_start(one: Balanced, of: Generator) -> Asked:
    """The dip behind its transient reactance against what a closed contactor bears."""
    (dip,), spread, hold = of.start_dips([one]), generator_reactance(), deepest_hold()
    kw = of.rating_w / 1000.0
    if dip > hold:
        return refusal(
            "start_dips_too_deep",
            f"Its start pulls a generator of {kw:g} kW down by {dip:.0%}; beyond {hold:.0%} a "
            "closed contactor may let go and chatter: a larger generator, or a star-delta or soft "
            "starter.",
        )
    whole = told(
        "generator_dip", f"Its start pulls a generator of {kw:g} kW down by about {dip:.0%}."
    )
    (worst,) = of.start_dips([one], spread.high)
    if worst > hold:
        whole += condition(
            "reactance_not_known",
            f"Its start pulls the generator down by {dip:.0%}, by {worst:.0%} where its transient "
            f"reactance is {spread.high:.2g} rather than {spread.number:.2g} of its rating: ask "
            "for it, or try the start first.",
        )
    left, wanted = (1.0 - dip) ** 2 * one.starting_ratio, one.load.breakaway_torque.number
    if left < wanted:
        whole += condition(
            "start_eased",
            f"In the dip it gives {left:.0%} of rated torque; the machine usually needs "
            f"{wanted:.0%} to break away: start it empty.",
        )
    return whole + condition("one_by_one", "Start motors on it one after another, never two.")


def _of_fuel(one: Balanced, site: Site, of: Generator) -> Asked:
    litre = fuel_price(site.region, site.fuel_price)
    hour = of.litres_per_h(one.typical.input_power_w)
    said = (
        f"{litre.number:g} a litre as you say"
        if litre.sure
        else f"{litre.number:g} a litre ({litre.low:g} to {litre.high:g}, assumed)"
    )
    return told(
        "burns_fuel",
        f"At its usual load it burns {hour:.1f} l an hour, {of.litres_per_h(0.0):.1f} l running "
        f"empty, counted at {said}.",
    )


def _of_noise(site: Site) -> Asked:
    """What is printed for 7 m over open ground, against the quiet that is wished for."""
    level, quiet = generator_sound_at_7_m(), site.quiet
    words = f"{level.number:.0f} dB(A) at 7 m ({level.low:.0f} to {level.high:.0f})"
    if quiet is None or quiet.level is None or quiet.distance is None:
        return told("generator_is_loud", f"{words}: ask the neighbours.")
    away = quiet.distance.number
    at = [pressure_at(power_of(each, 7.0), away) for each in (level.low, level.number)]
    wished = f"{quiet.level.number:.0f} dB(A) at {away:g} m are wished for"
    if at[0] > quiet.level.number:
        return refusal("too_loud", f"{wished}; even a silenced one makes {at[0]:.0f} dB(A) there.")
    if at[1] > quiet.level.number:
        return condition(
            "silenced_set",
            f"{wished}: only a silenced one, which makes about {at[0]:.0f} dB(A) there.",
        )
    return told("generator_is_loud", f"{words}; {wished}.")
