"""Sizes as a region names them."""

from __future__ import annotations

from phasewright.tables.sizes import motor_size


def test_a_motors_power_is_named_as_its_region_names_it() -> None:
    assert motor_size(7.5 * 745.69987, "NEC") == "7.5 hp"
    assert motor_size(4000.0, "IEC") == "4 kW"
