"""The ten ways of powering, in the order of the contract."""

from __future__ import annotations

from phasewright.ways import (
    capacitor_run,
    direct,
    drive_per_motor,
    electronic_converter,
    motor_swap,
    rotary_converter,
    shared_drive,
    static_converter,
    step_up_drive,
    utility_service,
)
from phasewright.ways.shared_source import SharedWay
from phasewright.ways.way import Way

CATALOGUE: tuple[Way, ...] = (
    drive_per_motor,
    shared_drive,
    rotary_converter,
    static_converter,
    capacitor_run,
    electronic_converter,
    step_up_drive,
    motor_swap,
    utility_service,
    direct,
)
SHARED: tuple[SharedWay, ...] = (
    shared_drive,
    rotary_converter,
    electronic_converter,
    utility_service,
)
"""The ways that a whole shop hangs on together, in the same order."""
SHARED_NAMES = frozenset(way.NAME for way in SHARED)
