"""Circuits to be laid, made by hand for tests."""

from __future__ import annotations

from phasewright.network.supply import Source
from phasewright.plan.circuit_jobs import Job
from phasewright.plan.circuit_runs import Run
from phasewright.plan.circuit_supply import Ground, Tap
from phasewright.quantities.value import exact
from phasewright.ways.site import Limit, Site


def amps(number):
    return exact(number, "A", "stated", "test")


def metres(number):
    return Run(exact(number, "m", "stated", "test"))


def tap(earthing="TN-S", rod=None, upstream=None, region="IEC"):
    ohm = exact(0.3, "ohm", "stated", "test")
    site = Site(
        region=region, source=Source(230.0, 0.3, 0.2, 50.0),
        voltage_v=exact(230.0, "V", "stated", "t"), resistance_ohm=ohm, reactance_ohm=ohm,
        limit=Limit(amps(63.0), "", ""), others_a=amps(0.0),
    )  # fmt: skip
    electrode = None if rod is None else exact(rod, "ohm", "stated", "test")
    loop = complex(0.3, 0.2)
    return Tap(site, Ground("line_2", earthing, True, electrode, upstream), loop, loop, loop)


def job(**more):
    whole = {
        "role": "supply_to_machine", "source": "supply", "to": "Saw/blade", "lines": "1-2",
        "place": "", "kind": "motor", "voltage_v": 230.0, "design": amps(15.2),
        "run": metres(12.0), "tap": tap(), "region": "IEC",
    } | more  # fmt: skip
    return Job(**whole)
