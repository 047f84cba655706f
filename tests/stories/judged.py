"""The ways of one motor of a shop file of this folder, judged without weighing plans."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from phasewright.files.shop_file import read
from phasewright.job.study import study
from phasewright.network.impedance import supply_impedance
from phasewright.plan.facts import motors_of
from phasewright.plan.units import units_of
from phasewright.ways.catalogue import CATALOGUE
from phasewright.ways.site_of import site_of

HERE = Path(__file__).parent


@cache
def tasks(shop):
    """Tasks of the motors and the site, of a shop by the name of its file or of a shop read."""
    of = read(HERE / f"{shop}.shop.yaml") if isinstance(shop, str) else shop
    site = site_of(of, supply_impedance(of.supply, of.region))
    units = units_of(of, {motor.id: motor for motor in motors_of(of)})
    return {unit.id: unit.task for unit in units}, site


@cache
def judged(shop, motor, way):
    """The judgement of a way, by the names of shop file, motor and way."""
    of, site = tasks(shop)
    return next(each for each in CATALOGUE if way == each.NAME).judge(of[motor], site)


@cache
def studied(shop):
    """The result file's tree of a whole shop, a quick study."""
    of = read(HERE / f"{shop}.shop.yaml") if isinstance(shop, str) else shop
    return study(of, quick=True).to_dict()


def told_of(shop, rule, plan=None):
    """Findings of a rule in a studied shop."""
    return [
        each for each in studied(shop)["findings"]
        if each["rule"] == rule and plan in (None, each.get("plan"))
    ]  # fmt: skip


def motor(shop, name):
    return tasks(shop)[0][name].motor


def codes(reasons):
    return {reason.code for reason in reasons}


def words(reasons):
    return " ".join(reason.words for reason in reasons)


def within(value, low, high):
    """Whether a figure lies in a range the trade would expect."""
    return low <= value.number <= high
