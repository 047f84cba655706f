"""What a motor may give for ever on a converter and on two lines.

Source: computed reference tables (2.2 kW motor on per-unit copies of the 4 kW idler; static
running with one capacitor), each by independent methods; printed to two digits.
"""

from __future__ import annotations

import pytest
from reference_machines import (
    M2K2,
    M4K0,
    NO_LOAD,
    TOWN,
    constant,
    network,
    rated_torque,
    scaled,
    uf,
)  # fmt: skip

from phasewright.machines.circuit import Circuit
from phasewright.machines.performance import at_torque, rated
from phasewright.network.balance import balancing_capacitances
from phasewright.network.supply import Source
from phasewright.running.network import Between
from phasewright.running.usable import stays_cool, usable

T22 = rated_torque(2200, 1445)


@pytest.mark.parametrize(
    ("ratio", "bank", "relay", "winding", "loss"),
    [(1.0, (0, 0), 0.38, 0.21, 0.66), (1.0, (3, 83), 0.74, 0.67, 0.89),
     (1.5, (39, 52), 0.69, 0.56, 0.84), (1.5, (15, 105), 0.80, 0.74, 0.92),
     (2.0, (0, 0), 0.39, 0.27, 0.72), (2.0, (27, 125), 0.83, 0.78, 0.94),
     (3.0, (78, 104), 0.79, 0.69, 0.91), (3.0, (53, 163), 0.87, 0.83, 0.96)],
)  # fmt: skip
def test_torque_for_ever_on_a_converter(
    ratio: float, bank: tuple[int, int], relay: float, winding: float, loss: float
) -> None:
    idler = ("idler", scaled(M4K0, 0.55 * ratio), NO_LOAD)
    shop = network(TOWN, uf(0, *bank), idler, ("motor", M2K2, constant(T22)))
    found = usable(shop, "motor")
    assert found.by_relay is not None
    assert found.by_winding is not None
    assert found.by_total_loss is not None
    assert found.by_relay.highest == pytest.approx(relay, abs=0.011)
    assert found.by_winding.highest == pytest.approx(winding, abs=0.011)
    assert found.by_total_loss.highest == pytest.approx(loss, abs=0.011)
    assert found.by_hot_spot is not None
    assert found.by_winding.highest <= found.by_hot_spot.highest <= found.by_total_loss.highest
    assert found.torque_ratio == min(found.by_relay.highest, found.by_heat, 1.0)


def test_too_much_capacitance_forbids_light_load_and_then_everything() -> None:
    some = usable(network(TOWN, uf(0, 0, 110), ("motor", M2K2, NO_LOAD)), "motor")
    assert some.by_relay is None
    assert some.by_winding is not None
    assert some.by_winding.lowest == pytest.approx(0.27, abs=0.011)
    assert some.by_winding.highest == pytest.approx(0.44, abs=0.011)
    assert some.torque_ratio == 0.0
    none = usable(network(TOWN, uf(0, 0, 140), ("motor", M2K2, NO_LOAD)), "motor")
    assert none.by_winding is None
    assert none.by_total_loss is None


def test_a_higher_relay_setting_lets_more_pass_until_heat_governs() -> None:
    shop = network(
        TOWN, uf(0, 27, 125), ("idler", scaled(M4K0, 1.1), NO_LOAD), ("motor", M2K2, NO_LOAD)
    )
    low, high = (usable(shop, "motor", relay_a=amps) for amps in (7.0, 9.0))
    assert low.by_relay is not None
    assert high.by_relay is not None
    assert low.by_relay.highest < high.by_relay.highest
    assert low.governing == "relay"
    assert high.governing == "hot spot"
    assert low.by_heat == high.by_heat


def test_a_star_winding_carries_the_line_current() -> None:
    shop = network(
        TOWN, uf(0, 27, 125), ("idler", scaled(M4K0, 1.1), NO_LOAD), ("motor", M2K2, NO_LOAD)
    )
    star = usable(shop, "motor", windings="star")
    assert star.by_winding is not None
    assert star.by_relay is not None
    assert star.by_winding.highest == pytest.approx(star.by_relay.highest, abs=0.01)


def test_a_stiff_balanced_line_gives_the_whole_plate() -> None:
    # at rated load the power factor is above 0.5 and no pair of capacitors balances: an
    # inductor would. A big idler makes the sum's power factor low enough.
    big = ("idler", scaled(M4K0, 3.0), NO_LOAD)
    stiff = Source(230.0, 0.0, 0.0, 50.0)
    motor, idler = rated(M2K2), _idle(big[1])
    need = balancing_capacitances(
        motor.input_power_w + idler[0], motor.reactive_power_var + idler[1], 230.0, 50.0
    )
    assert need.c23_f > 0
    bank = Between(0.0, need.c23_f, need.c31_f)
    balanced = network(stiff, bank, big, ("motor", M2K2, constant(T22)))
    found = usable(balanced, "motor")
    assert found.by_total_loss is not None
    assert found.by_total_loss.highest == pytest.approx(1.0, abs=0.003)


def _idle(circuit: Circuit) -> tuple[float, float]:
    point = at_torque(circuit, 0.0)
    return point.input_power_w, point.reactive_power_var


@pytest.mark.parametrize("idler", [0.8, 1.1, 1.65])
def test_one_torque_is_cool_exactly_up_to_what_heat_allows(idler: float) -> None:
    machine = ("idler", scaled(M4K0, idler), NO_LOAD)
    shop = network(TOWN, uf(0, 27, 90), machine, ("motor", M2K2, constant(T22)))
    heat = usable(shop, "motor").by_heat
    assert 0.3 < heat < 1.1
    assert stays_cool(shop, "motor", heat - 0.005, windings="delta")
    assert not stays_cool(shop, "motor", heat + 0.005, windings="delta")
