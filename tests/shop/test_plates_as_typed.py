"""Plates as people type them: each expected reading was written down by hand from the plate."""

import pytest

from phasewright.quantities.errors import QuantityError
from phasewright.quantities.units import parse_several
from phasewright.shop.plate_line import read_plate_line

HP_W, PS_W = 745.7, 735.5
"""One mechanical and one metric horsepower [W], to four figures."""
W = {"hp": HP_W, "PS": PS_W, "kW": 1000.0}


def plate(power=None, volts=None, amps=None, rpm=None, hz=None, **more):
    """What a plate says, in SI; a power as (number, unit)."""
    found = {"voltage": volts, "current": amps, "speed": rpm, "frequency": hz}
    if power is not None:
        *numbers, unit = power
        found["power"] = tuple(number * W[unit] for number in numbers)
    return {
        key: value if isinstance(value, tuple) else (value,)
        for key, value in found.items() if value is not None
    } | {key: (value,) for key, value in more.items()}  # fmt: skip


PLATES = [
    ("3 HP 220/440V 8.4/4.2A 1430 RPM 50~ Δ/Y",
     plate((3, "hp"), (220, 440), (8.4, 4.2), 1430, 50, connection="D/Y")),
    ("PS 3 V 220/380 A 8,6/5,0 cosφ 0,82 n 1420 f 50",
     plate((3, "PS"), (220, 380), (8.6, 5.0), 1420, 50, power_factor=0.82)),
    ("2,2 kW Y/Δ 380/220 V 5,0/8,6 A 1430 min-1 50 Hz",
     plate((2.2, "kW"), (380, 220), (5.0, 8.6), 1430, 50, connection="Y/D")),
    ("4P 2.2kW 400V 4.9A 1430rpm", plate((2.2, "kW"), 400, 4.9, 1430)),
    ("1.5 kW S6-40% 230/400V 6.1/3.5A 2840/min cosφ 0,85",
     plate((1.5, "kW"), (230, 400), (6.1, 3.5), 2840, power_factor=0.85)),
    ("2.2kW 230/400V 8.6/5A 1425rpm class F IP55",
     plate((2.2, "kW"), (230, 400), (8.6, 5), 1425, insulation_class="F")),
    ("5 HP 230/460V 14/7A 60Hz 1745RPM SF 1.15 code H",
     plate((5, "hp"), (230, 460), (14, 7), 1745, 60, service_factor=1.15, code_letter="H")),
    ("7.5HP 230/460 V 20/10 A 1760 RPM 60 CY 12 leads",
     plate((7.5, "hp"), (230, 460), (20, 10), 1760, 60, leads=12)),
    ("3hp 208-230/460v 9.2-8.8/4.4a 1740rpm 60hz sf1.15 code k ins b",
     plate((3, "hp"), (208, 230, 460), (9.2, 8.8, 4.4), 1740, 60, service_factor=1.15,
           code_letter="K", insulation_class="B")),
    ("O,75 kW 230/400V 3,4/2,OA 1390 U/min", plate((0.75, "kW"), (230, 400), (3.4, 2.0), 1390)),
    ("3~Mot 2.2kW 400VΔ 4.9A 1430/min",
     plate((2.2, "kW"), 400, 4.9, 1430, phases=3, connection="D")),
    ("3~ Mot. XY 90L 1,5 kW 230/400 V Δ/Y 5,9/3,4 A cosφ 0,81 1420/min 50Hz IP55 Th.Cl.F",
     plate((1.5, "kW"), (230, 400), (5.9, 3.4), 1420, 50, phases=3, connection="D/Y",
           power_factor=0.81, insulation_class="F")),
    ("Typ D 112M-4 4 kW 400/690 V 8.5/4.9 A 50 Hz 1440 min-1 cos 0.83",
     plate((4, "kW"), (400, 690), (8.5, 4.9), 1440, 50, power_factor=0.83)),
    ("V 220-380 A 8.6-5 kW 2.2 RPM 1430", plate((2.2, "kW"), (220, 380), (8.6, 5), 1430)),
    ("2 HP 3PH 60 CYCLE 1725 RPM 220/440 VOLTS 5.6/2.8 AMPS",
     plate((2, "hp"), (220, 440), (5.6, 2.8), 1725, 60, phases=3)),
    ("1/2 HP 230/460 V 2.2/1.1 A 1725 rpm", plate((0.5, "hp"), (230, 460), (2.2, 1.1), 1725)),
    ("1.5/2.2 kW 400 V 3.9/4.9 A 1420/2840 rpm 50 Hz Δ/YY",
     plate((1.5, 2.2, "kW"), 400, (3.9, 4.9), (1420, 2840), 50, connection="D/YY")),
    ("0.37 kW 230V 2.1A 1380rpm 1~ 16µF",
     plate((0.37, "kW"), 230, 2.1, 1380, phases=1, capacitor=True)),
    ("3 PHASE 10 H.P. 415 VOLTS 14.2 AMPS 1440 R.P.M. 50 CYCLES",
     plate((10, "hp"), 415, 14.2, 1440, 50, phases=3)),
    ("kW 4 / HP 5.5 V 400 A 8.2", plate((4, "kW"), 400, 8.2)),
    ("380 V 5 A Y 2,2 kW 1400 UpM", plate((2.2, "kW"), 380, 5, 1400, connection="Y")),
    ("PN 3,0 kW UN 400 V IN 6,4 A nN 1455 1/min fN 50 Hz cosφN 0,83",
     plate((3, "kW"), 400, 6.4, 1455, 50, power_factor=0.83)),
    ("400V D 50Hz 1.1kW 2.5A 1445 rpm cosphi 0.78 IE3 84.1%",
     plate((1.1, "kW"), 400, 2.5, 1445, 50, connection="D", power_factor=0.78,
           efficiency=0.841)),
    ("10 PK 380 V 15 A", plate((10, "PS"), 380, 15)),
    ("220Δ / 380Y V 8,3 / 4,8 A 2.2 kW",
     plate((2.2, "kW"), (220, 380), (8.3, 4.8), connection="D/Y")),
    ("230D/400Y V 4.8/2.8A 1.1KW 1390rpm",
     plate((1.1, "kW"), (230, 400), (4.8, 2.8), 1390, connection="D/Y")),
    ("25 H.P. 550 V 3 PH 60 CY 25 A 1165 RPM 40C rise",
     plate((25, "hp"), 550, 25, 1165, 60, phases=3)),
    ("HP 3 VOLTS 230/460 AMPS 8.6/4.3 RPM 1725 PH 3 CY 60 FR 182T TEMP RISE 40°C HRS 24 SER NO 12345",
     plate((3, "hp"), (230, 460), (8.6, 4.3), 1725, 60, phases=3)),
    ("2.2kw, 400v, 4.9amps, 1430 r.p.m, 6 terminals",
     plate((2.2, "kW"), 400, 4.9, 1430, leads=6)),
    ("8.4A 220V 50Hz", plate(None, 220, 8.4, None, 50)),
    ("5 HP 230/460V 14/7A eff 87.5 pf 81",
     plate((5, "hp"), (230, 460), (14, 7), efficiency=0.875, power_factor=0.81)),
    ("3 ch 220/380 v 8,8/5,1 a 1430 t/mn", plate((3, "PS"), (220, 380), (8.8, 5.1), 1430)),
    ("Δ 230 V 8.6 A / Y 400 V 5.0 A 2.2 kW",
     plate((2.2, "kW"), (230, 400), (8.6, 5.0), connection="D/Y")),
    ("2,2kW-220/380V-8,6/5A-1430rpm", plate((2.2, "kW"), (220, 380), (8.6, 5), 1430)),
    ("kW: 2,2 V: 400 A: 4,9 n: 1430 Hz: 50", plate((2.2, "kW"), 400, 4.9, 1430, 50)),
    ("three phase 3 hp 230/460 volts star 9-lead",
     plate((3, "hp"), (230, 460), phases=3, connection="Y", leads=9)),
    ("Drehstrommotor 5,5 kW 380/660 V VDE 0530 n 1440 Baujahr 1962",
     plate((5.5, "kW"), (380, 660), None, 1440, phases=3, year=1962)),
    ("delta/star 220/380V 3kW IA/IN 6,1",
     plate((3, "kW"), (220, 380), connection="D/Y", starting_current=6.1)),
    ("2 HP 180 VDC 9 A 1750 RPM SHUNT", plate((2, "hp"), 180, 9, 1750, kind="dc")),
    ("Schleifringläufer 11 kW 220/380 V 41/23,7 A 1440/min",
     plate((11, "kW"), (220, 380), (41, 23.7), 1440, kind="slip_ring")),
    ("Δ400V 6,6A 3kW", plate((3, "kW"), 400, 6.6, connection="D")),
    ("1 1/2 HP 115/230V 1PH 1725RPM", plate((1.5, "hp"), (115, 230), None, 1725, phases=1)),
]  # fmt: skip
ASKED = [
    ("5.5 CV 220/380 15,2/8,8 A 1440 tr/mn", "'220/380' has no unit"),
    ("220 380 V 8.6 5.0 A 2.2 kW", "'220' has no unit"),
    ("1430", "'1430' has no unit"),
    ("4 kW 400 V 8.4 A 2900 rpm Cl. B 1962", "write 'made 1962' for a year"),
    ("1,430 rpm 3 hp", "in two ways"),
    ("1/2 HP 230 V", "in two ways"),
    ("2.2 kW 230/400V D/Y 50Hz 8.6/5A // 2.64 kW 460V Y 60Hz 5A", "the one row of the plate"),
]


def si(entries):
    kinds = ("power", "voltage", "current", "speed", "frequency")
    return {
        key: parse_several(entry, key) if key in kinds else (entry,)
        for key, entry in entries.items()
    }  # fmt: skip


@pytest.mark.parametrize(("line", "says"), PLATES, ids=[line for line, _ in PLATES])
def test_a_plate_is_read_as_it_stands_there(line, says):
    read = si(read_plate_line(line).entries)
    assert set(read) == set(says)
    for key, numbers in says.items():
        if isinstance(numbers[0], str | bool):
            assert read[key] == numbers
        else:
            assert read[key] == pytest.approx(numbers, rel=1e-4), key


@pytest.mark.parametrize(("line", "words"), ASKED, ids=[line for line, _ in ASKED])
def test_what_cannot_be_known_is_asked_in_words(line, words):
    with pytest.raises(QuantityError, match=words):
        read_plate_line(line)


def test_what_was_read_in_another_way_than_typed_is_said():
    assert "nought" in read_plate_line("O,75 kW 230 V").notes[0]
    assert "S6-40%" in read_plate_line("2.2 kW S6-40%").notes[0]
