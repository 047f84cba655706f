"""What a way of powering is to the rest of the house: a judgement of one motor.

The ten ways are equals and know nothing of each other. Each is a module with a `NAME` and a
function `judge(task, site) -> Judgement`; `catalogue.py` lists them.
"""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, field
from typing import Protocol

from phasewright.machines.connection import Link
from phasewright.machines.motor import Motor
from phasewright.quantities.codes import Verdict, WayName
from phasewright.quantities.finding import Reason
from phasewright.quantities.identity import Hashed, hashed_once
from phasewright.quantities.value import Value
from phasewright.shop.machine import Machine
from phasewright.ways.figures import Buy, Figures
from phasewright.ways.purchase import Item
from phasewright.ways.site import Site


@hashed_once
@dataclass(frozen=True, slots=True)
class Task(Hashed):
    """One motor of one machine that wants power; `siblings` are the machine's other motors."""

    machine: Machine
    motor: Motor
    siblings: tuple[Motor, ...] = ()


@dataclass(frozen=True, slots=True)
class Draw:
    """What something takes from the supply: fundamental watts and vars, and distortion amps.

    `distortion_a` is the rms of all harmonic currents together. Of the watts and vars,
    `balanced_w` and `balanced_var` are what a three-phase motor takes evenly from three lines,
    `neutral_w` and `neutral_var` what hangs between one line of three and the neutral; the rest
    hangs between lines 1 and 2.
    """

    power_w: float = 0.0
    reactive_var: float = 0.0
    distortion_a: float = 0.0
    balanced_w: float = 0.0
    balanced_var: float = 0.0
    neutral_w: float = 0.0
    neutral_var: float = 0.0

    @property
    def parts(self) -> tuple[float, ...]:
        """Every part of it, in the order of the fields."""
        return (
            self.power_w, self.reactive_var, self.distortion_a, self.balanced_w,
            self.balanced_var, self.neutral_w, self.neutral_var,
        )  # fmt: skip

    def with_other(self, other: Draw) -> Draw:
        """Both together; harmonics are added as if in phase, which is never too little."""
        return Draw(*(mine + its for mine, its in zip(self.parts, other.parts, strict=True)))

    def without(self, other: Draw) -> Draw:
        """What is left when `other`, a part of it, is taken out."""
        return Draw(*(mine - its for mine, its in zip(self.parts, other.parts, strict=True)))

    def current_a(self, voltage_v: float) -> float:
        """Rms current of the fullest line at this voltage between lines 1 and 2 [A].

        With three lines what hangs between lines 1 and 2 leads the balanced current by 30
        degrees in the one and lags it by 30 degrees in the other of them. What hangs on the
        neutral is added as if it all hung on the fullest line, which is never too little.
        """
        if not (self.balanced_w or self.balanced_var or self.neutral_w or self.neutral_var):
            fundamental = math.hypot(self.power_w, self.reactive_var) / voltage_v
            return math.hypot(fundamental, self.distortion_a)
        phase_v = voltage_v / math.sqrt(3.0)
        even = complex(self.balanced_w, -self.balanced_var) / (3.0 * phase_v)
        one = math.hypot(self.neutral_w, self.neutral_var) / phase_v
        left_w = self.power_w - self.balanced_w - self.neutral_w
        left_var = self.reactive_var - self.balanced_var - self.neutral_var
        between = complex(left_w, -left_var) / voltage_v
        turned = cmath.rect(1.0, math.pi / 6.0)
        fullest = max(abs(even + between * turned), abs(even + between / turned))
        return math.hypot(fullest + one, self.distortion_a)


@dataclass(frozen=True, slots=True)
class Service:
    """What a motor gets and takes under a way, at three loads: for money and for the supply.

    `unloaded`: turning free; `typical`: at its usual load (energy is counted with it);
    `demand`: at the highest load it may ask for steadily (the supply must bear it).
    """

    unloaded: Draw
    typical: Draw
    demand: Draw
    starting_current_a: float
    dip_ratio: float | None = None

    def mean_w(self, duty: float) -> float:
        """Watts it takes as a mean over its duty, the share of the time under load."""
        return duty * self.typical.power_w + (1.0 - duty) * self.unloaded.power_w


@dataclass(frozen=True, slots=True)
class Offer:
    """What a way asks and gives for one motor alone; the plan weighs offers.

    Where a way has variants, `words` names this one and `figures` and `link` are its own (None:
    those of the judgement). `idle_power_w` is taken as well while the machine's session goes on
    with nothing turning; `yearly_cost` is paid whatever turns (currency a year);
    `owner_h_per_hour` is the owner's own time at it for every hour the motor turns. A
    `last_resort` rests on a thing that may not be had for this machine (a motor that fits its
    flange, shaft and belt), or leaves the machine a good part of its torque short: the plan
    weighs it only where nothing else serves the motor.
    """

    service: Service
    buys: tuple[Buy, ...]
    items: tuple[Item, ...]
    labour_h: Value
    upkeep_h_per_year: float
    noise_dba: Value | None = None
    owned_item: int | None = None
    words: str = ""
    link: Link | None = None
    figures: Figures | None = None
    idle_power_w: float = 0.0
    yearly_cost: float = 0.0
    owner_h_per_hour: float = 0.0
    last_resort: bool = False


@dataclass(frozen=True, slots=True)
class Judgement:
    """The verdict of one way on one motor, with its reasons and, where it can be, its offers.

    The first offer is the one whose figures are given, unless an offer brings its own.
    """

    way: WayName
    verdict: Verdict
    link: Link | None = None
    reasons: tuple[Reason, ...] = ()
    conditions: tuple[Reason, ...] = ()
    figures: Figures = field(default_factory=Figures)
    offers: tuple[Offer, ...] = ()

    def figures_of(self, offer: Offer) -> Figures:
        """The figures that belong to one of its offers."""
        return self.figures if offer.figures is None else offer.figures

    def link_of(self, offer: Offer) -> Link | None:
        """The connection that belongs to one of its offers."""
        return self.link if offer.figures is None else offer.link


class Way(Protocol):
    """A module of one way of powering."""

    NAME: WayName

    def judge(self, task: Task, site: Site) -> Judgement: ...


def refused(way: WayName, *reasons: Reason, figures: Figures | None = None) -> Judgement:
    """A refusal with its reasons."""
    return Judgement(way, "refused", reasons=tuple(reasons), figures=figures or Figures())


def verdict_of(conditions: tuple[Reason, ...]) -> Verdict:
    """`suits` without conditions, else `with_conditions`."""
    return "with_conditions" if conditions else "suits"
