"""Powers by frame, typed a second time (EN 50347 and NEMA MG 1, from memory)."""

from __future__ import annotations

from phasewright.tables.published import table

IEC = (
    "63/11 0.12-0.18, 71/14 0.25-0.37, 80/19 0.55-0.75, 100/28 2.2-3, 112/28 4-4, 160/42 11-15, "
    "180/48 18.5-22"
)
NEMA = "143 1-1, 145 1.5-2, 182 3-3, 184 5-5, 213 7.5-7.5, 215 10-10, 254 15-15, 256 20-20"


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
    assert len(rows) == 9


def test_nema_frames() -> None:
    rows = {row[0]: (row[1], row[2]) for row in table("motors", "nema_frames").rows["rows"]}
    for entry in NEMA.split(", "):
        frame, powers = entry.split()
        low, high = (float(x) for x in powers.split("-"))
        assert rows[int(frame)] == (low, high)
    assert len(rows) == 8
