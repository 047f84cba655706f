"""Cables the owner tells of: their way, what lies there, which length decides; farms and dust."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.plan.test_circuit_jobs import amps, job, tap

import phasewright
from phasewright.plan.circuit_jobs import motor_start
from phasewright.plan.circuit_laid import laid
from phasewright.plan.circuit_residual import residual_of
from phasewright.plan.circuit_runs import Run, cable_assumptions, run_to
from phasewright.plan.circuit_supply import Ground, Upstream, every_circuit_ma
from phasewright.plan.circuit_there import lengths_worth
from phasewright.quantities.value import exact, spread
from phasewright.shop.supply import Cable

MM2 = 1e-6


def metres(number):
    return exact(number, "m", "stated", "test")


def there(mm2, **more):
    run = Run(metres(12.0), conductor_m2=mm2 * MM2, path="machines[0].cable", **more)
    return laid(job(run=run))


def thin(found):
    return [each for each in found if each.rule == "circuit.cable_too_thin"]


def test_what_lies_there_is_used_where_it_serves():
    """Thicker than need be stays as it is; nothing is found."""
    bare, _ = laid(job(run=Run(metres(12.0))))
    kept, found = there(10.0)
    assert bare.conductor_m2 < 10.0 * MM2
    assert kept.conductor == "10 mm2"
    assert not thin(found)
    assert kept.voltage_drop.running.number < bare.voltage_drop.running.number


def test_what_is_too_thin_is_laid_anew_and_its_remedy_ends_the_finding():
    bare, _ = laid(job(run=Run(metres(12.0))))
    circuit, found = there(1.0)
    (finding,) = thin(found)
    assert circuit.conductor == bare.conductor
    assert finding.remedy.path == "machines[0].cable.conductor"
    assert finding.remedy.value == bare.conductor
    _, after = there(bare.conductor_m2 / MM2)
    assert not thin(after)


@pytest.mark.parametrize(("mm2", "length", "said"), [(1.5, 2.0, "for ever"), (4.0, 80.0, "loses")])
def test_the_check_that_fails_is_named(mm2, length, said):
    run = Run(metres(length), conductor_m2=mm2 * MM2, path="machines[0].cable")
    _, found = laid(job(run=run, design=amps(19.0)))
    assert said in thin(found)[0].words


def test_an_odd_size_counts_as_the_standard_size_it_is_at_least():
    """12 AWG, 3.31 mm2, is never taken for 4 mm2."""
    circuit, _ = laid(job(run=Run(metres(3.0), conductor_m2=3.31 * MM2)))
    assert circuit.conductor == "2.5 mm2"


def test_bunched_or_insulated_it_is_never_thinner():
    alone, _ = laid(job(run=Run(metres(6.0))))
    bunched, _ = laid(job(run=Run(metres(6.0), grouped=6)))
    in_wall, _ = laid(job(run=Run(metres(6.0), method="A2")))
    in_air, _ = laid(job(run=Run(metres(6.0), method="E")))
    assert bunched.grouped == 6
    assert bunched.conductor_m2 > alone.conductor_m2
    assert in_air.ampacity_a.number / in_air.conductor_m2 > (
        in_wall.ampacity_a.number / in_wall.conductor_m2
    )
    assert in_wall.conductor_m2 >= in_air.conductor_m2


def test_only_a_length_that_decides_is_asked_for():
    short = spread(12.0, 11.0, 13.0, "m", "assumed", "test")
    wide = spread(12.0, 3.0, 60.0, "m", "assumed", "test")
    path = "machines[0].cable"
    assert lengths_worth([job(run=Run(short, path=path))], laid) == ()
    assert lengths_worth([job(run=Run(wide))], laid) == ()
    assert lengths_worth([job(run=Run(replace(wide, origin="stated"), path=path))], laid) == ()
    (asked,) = lengths_worth([job(run=Run(wide, path=path))], laid)
    assert asked.path == "machines[0].cable.length"
    ends = [laid(job(run=Run(metres(end))))[0].conductor for end in (3.0, 60.0)]
    assert all(end in asked.would_change for end in ends)


def test_a_told_length_is_no_assumption():
    shop = phasewright.read("examples/cider-barn.shop.yaml")
    first, *rest = shop.machines
    told = replace(shop, machines=(replace(first, cable=Cable(length=metres(7.0))), *rest))
    paths = [each.path for each in cable_assumptions(told)]
    assert paths == [f"machines[{i}].cable.length" for i in range(1, len(shop.machines))]
    assert run_to(told, told.machines[0]).length.number == 7.0


def test_what_lies_at_a_machine_of_several_motors_is_none_of_their_circuits():
    shop = phasewright.read("examples/cider-barn.shop.yaml")
    several, one = shop.machine("Scratter"), shop.machine("Press")
    cable = Cable(conductor=exact(4.0 * MM2, "m2", "stated", "test"))
    assert run_to(shop, replace(several, cable=cable)).conductor_m2 is None
    assert run_to(shop, replace(one, cable=cable)).conductor_m2 == 4.0 * MM2


def on(shop, *, farm, dust, place="barn"):
    from phasewright.shop.supply import Place

    supply = replace(shop.supply, farm=farm)
    return replace(shop, supply=supply, places=(Place(name=place, dust=dust),))


@pytest.mark.parametrize(
    ("farm", "dust", "most"), [(None, False, None), (False, False, None), (True, False, 300.0),
                               (None, True, 300.0)],
)  # fmt: skip
def test_on_a_farm_and_in_dust_every_circuit_stands_behind_a_residual_device(farm, dust, most):
    shop = phasewright.read("examples/cider-barn.shop.yaml")
    assert every_circuit_ma(on(shop, farm=farm, dust=dust), "barn") == most
    nec = replace(on(shop, farm=farm, dust=dust), region="NEC")
    assert every_circuit_ma(nec, "barn") is None


def test_dust_is_that_of_its_own_place():
    shop = on(phasewright.read("examples/cider-barn.shop.yaml"), farm=None, dust=True)
    assert every_circuit_ma(shop, "") is None


def test_a_device_that_is_too_coarse_for_a_farm_gets_a_finer_one_behind_it():
    start = (motor_start(50.0, 0.1),)
    bare = tap("TN-S", None, Upstream(500.0, "A"))
    of_farm = replace(bare, ground=replace(bare.ground, every_circuit_ma=300.0))
    assert residual_of(job(tap=bare, starts=start)) is None
    own = residual_of(job(tap=of_farm, starts=start))
    assert not own.upstream
    assert own.rating_ma <= 300.0
    fine = Ground("line_2", "TN-S", True, None, Upstream(100.0, "A"), 300.0)
    assert residual_of(job(tap=replace(bare, ground=fine), design=amps(9.0))).upstream
