"""Speeds and connection as stamped; `voltages` gathers volts and amps."""

from __future__ import annotations

from phasewright.shop.plate import Plate

TWO_FREQUENCIES = 1.27
"""Two stamped speeds closer than this are one motor on 50 and 60 Hz."""
DAHLANDER = {"D/YY", "YY/D", "Y/YY"}


def speeds_of(plate: Plate) -> tuple[float, ...]:
    """Stamped speeds [rpm] that differ by more than the two frequencies of one motor would."""
    numbers = [value.number for value in plate.speed]
    if len(numbers) == 2 and max(numbers) / min(numbers) < TWO_FREQUENCIES:
        return (numbers[0],)
    return tuple(numbers)


def two_speed_stamp(stamp: str | None) -> bool:
    """True for stamps that only a pole-changing winding has."""
    return plain_stamp(stamp) in {"D/YY", "YY/D"}


def plain_stamp(stamp: str | None) -> str:
    """A stamped connection in the letters D and Y."""
    text = (stamp or "").upper().replace(" ", "").replace("\N{GREEK CAPITAL LETTER DELTA}", "D")
    return text.replace("STAR", "Y").replace("DELTA", "D").replace("WYE", "Y")
