"""Volts and amps stamped as ranges: every end is a number of its own."""

from __future__ import annotations

import pytest

from phasewright.quantities.errors import QuantityError
from phasewright.quantities.units import parse, parse_several


@pytest.mark.parametrize(
    ("text", "kind", "numbers"),
    [
        ("208-230/460 V", "voltage", (208.0, 230.0, 460.0)),
        ("220-240/380-415 V", "voltage", (220.0, 240.0, 380.0, 415.0)),
        ("220 \N{EN DASH} 240 V", "voltage", (220.0, 240.0)),
        ("9.2-8.4/4.2 A", "current", (9.2, 8.4, 4.2)),
    ],
)
def test_a_stamped_range_gives_both_its_ends(
    text: str, kind: str, numbers: tuple[float, ...]
) -> None:
    assert parse_several(text, kind) == pytest.approx(numbers)  # type: ignore[arg-type]


@pytest.mark.parametrize("text", ["208-230-240-250-260 V", "-230 V", "208- V", "2.2-3 kW"])
def test_what_is_no_range_is_refused(text: str) -> None:
    kind = "power" if "kW" in text else "voltage"
    with pytest.raises(QuantityError):
        parse_several(text, kind)  # type: ignore[arg-type]


def test_a_single_quantity_has_no_range() -> None:
    with pytest.raises(QuantityError):
        parse("208-230 V", "voltage")
