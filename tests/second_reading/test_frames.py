"""Powers by frame, typed a second time (EN 50347 and NEMA MG 1, from memory)."""

from __future__ import annotations

import pytest

from phasewright.tables.frames import frames
from phasewright.tables.published import table

IEC = (
    "56/9 0.06-0.09, 63/11 0.12-0.18, 71/14 0.25-0.37, 80/19 0.55-0.75, 100/28 2.2-3, 112/28 4-4, 160/42 11-15, "
    "180/48 18.5-22, 200/55 30-30, 225/60 37-45"
)
NEMA = (
    "48 0.25-0.5, 56 0.5-1.5, 143 1-1, 145 1.5-2, 182 3-3, 184 5-5, 213 7.5-7.5, 215 10-10, "
    "254 15-15, 256 20-20"
)


def test_iec_frames() -> None:
    rows = {
        (row[0], row[1]): (row[2], row[3]) for row in table("motors", "iec_frames").rows["rows"]
    }
    for entry in IEC.split(", "):
        frame, powers = entry.split()
        height, shaft = (int(x) for x in frame.split("/"))
        low, high = (float(x) for x in powers.split("-"))
        assert rows[height, shaft] == (low, high)
    # both lengths of a height together: 90S 1.1, 90L 1.5; 132S 5.5, 132M 7.5
    assert rows[90, 24] == (1.1, 1.5)
    assert rows[132, 38] == (5.5, 7.5)
    assert len(rows) == 12


def test_nema_frames() -> None:
    rows = {row[0]: (row[1], row[2]) for row in table("motors", "nema_frames").rows["rows"]}
    for entry in NEMA.split(", "):
        frame, powers = entry.split()
        low, high = (float(x) for x in powers.split("-"))
        assert rows[int(frame)] == (low, high)
    assert len(rows) == 10


def test_heights_and_shafts_of_nema_frames() -> None:
    """Quarters of an inch in the first two of three figures; shafts typed again (from memory)."""
    heights = {frame.name: frame.height_mm for frame in frames("NEC")}
    shafts = {frame.name: frame.shaft_mm for frame in frames("NEC")}
    assert heights["56"] == heights["143"] == pytest.approx(88.9)
    assert heights["184"] == pytest.approx(114.3)
    assert heights["215"] == pytest.approx(133.35)
    assert heights["256"] == pytest.approx(158.75)
    eighths = {"48": 4, "56": 5, "143": 7, "182": 9, "213": 11, "254": 13}
    for name, count in eighths.items():
        assert shafts[name] == pytest.approx(25.4 * count / 8.0)
