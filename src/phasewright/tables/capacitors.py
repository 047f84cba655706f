"""Rules of thumb for capacitors of a motor on two lines: a check, never an answer."""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.tables.efficiency import W_PER_HP
from phasewright.tables.published import table
from phasewright.tables.sizes import MOTOR_SIZES_HP_W, next_size


@dataclass(frozen=True, slots=True)
class ThumbCapacitors:
    """What the rule of thumb gives for a load on a capacitor motor at 230 V 60 Hz."""

    motor_w: float
    run_f: float
    extra_start_f: float


def thumb_capacitors(load_w: float) -> ThumbCapacitors:
    """Motor size, run capacitance and the further one for the start, by the load's power.

    Hubert, example 6.3. Raises TableEnds where no standard motor is large enough.
    """
    of = table("capacitors", "hubert")
    motor_w = next_size(of.number("rating_over_load") * load_w, MOTOR_SIZES_HP_W, "motor")
    motor_hp = motor_w / W_PER_HP
    run_f = of.number("run_uf_per_hp") * motor_hp * 1e-6
    return ThumbCapacitors(
        motor_w, run_f, of.number("total_start_uf_per_hp") * motor_hp * 1e-6 - run_f
    )


def life_class_for(hours: float) -> str | None:
    """The lowest life class that lasts so many hours, or None where none does."""
    of = table("capacitors", "life_class")
    fitting = (name for name in ("D", "C", "B", "A") if of.number(name) >= hours)
    return next(fitting, None)


def life_hours(life_class: str) -> float:
    """Hours that a run capacitor of this class is made for."""
    return table("capacitors", "life_class").number(life_class)
