"""Shops told otherwise and motors on their drives, for the tests of stopping."""

from __future__ import annotations

import json
import math

from stories.judged import judged, tasks
from stories.moved import shop_of, tree_of

from phasewright.ways.drive_in_time import on_this_drive

OWN = "drive_per_motor"


def story(name="wide_bandsaw", machine=0, wants=None, load=None, **keys):
    """A story's shop with one machine told otherwise."""
    tree = tree_of(name)
    of = tree["machines"][machine]
    of.update(keys)
    motor = of["motors"][0]
    if load is not None:
        motor["load"] = load
    if wants is not None:
        motor["wants"] = wants
    return shop_of(json.loads(json.dumps(tree)))


def lathe(**keys):
    """The bench lathe, one motor."""
    return story("bench_lathe", **keys)


def figures(shop, motor="Bandsaw/main", way=OWN):
    return judged(shop, motor, way).figures


def case(shop="wide_bandsaw", motor="Slow stop/main"):
    """A task, its motor on its drive as judged, and its site."""
    of, site = tasks(shop)
    task, found = of[motor], judged(shop, motor, OWN)
    circuit = task.motor.circuit_at(found.link)
    amps, watts = found.figures.drive_rating_a.number, found.figures.drive_rating_w.number
    return task, on_this_drive(task.motor, circuit, amps, watts, site.source.voltage_v), site


def shaft_j(on):
    return 0.5 * on.inertia_kg_m2 * (4 * math.pi * on.circuit.frequency_hz / on.circuit.poles) ** 2
