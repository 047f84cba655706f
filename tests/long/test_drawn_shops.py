"""Two hundred small random shops of a fixed seed: a whole, finite, valid answer to each.

`make long` studies ten thousand, larger ones among them. In four parts, so that two run at once.
"""

import pytest
from long.drawn_shops import drawn
from long.whole_answer import faults

FIRST, PARTS, SHOPS = 20_000, 4, 200
pytestmark = pytest.mark.whole


def small(seed):
    return drawn(seed, most=2, most_motors=1)


@pytest.mark.parametrize("part", range(PARTS))
def test_every_drawn_shop_has_a_whole_answer(part):
    seed, studied, wrong = FIRST + 10_000 * part, 0, {}
    while studied < SHOPS // PARTS:
        shop = small(seed)
        if shop is not None:
            studied += 1
            if found := faults(shop):
                wrong[seed] = found[:3]
        seed += 1
    assert wrong == {}


def test_the_same_seed_gives_the_same_shop_and_seeds_differ():
    assert small(7) == small(7)
    shops = [small(seed) for seed in range(100)]
    valid = [shop for shop in shops if shop is not None]
    assert len(valid) > 90
    assert len({repr(shop) for shop in valid}) == len(valid)
    assert {shop.supply.kind for shop in valid} >= {"single_phase", "split_phase", "generator"}
