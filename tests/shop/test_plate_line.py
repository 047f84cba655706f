"""A plate typed in one line is read the same in whatever order and spelling it stands there."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.quantities.errors import QuantityError
from phasewright.quantities.units import parse_several
from phasewright.shop.plate_line import read_plate_line


def si(entries):
    """The quantities of some entries as plain numbers."""
    kinds = ("power", "voltage", "current", "speed", "frequency")
    return {kind: parse_several(entries[kind], kind) for kind in kinds if kind in entries}


@pytest.mark.parametrize(
    ("line", "entries"),
    [
        (
            "3 HP 220/440V 8.4/4.2A 1430 RPM 50Hz",
            {"power": "3 hp", "voltage": "220/440 V", "current": "8.4/4.2 A",
             "speed": "1430 rpm", "frequency": "50 Hz"},
        ),
        (
            "kW 2,2  V 220/380  A 8,6/5,0  Hz 50  cos φ 0,82  1430/min",
            {"power": "2.2 kW", "voltage": "220/380 V", "current": "8.6/5.0 A",
             "frequency": "50 Hz", "power_factor": 0.82, "speed": "1430 rpm"},
        ),
        (
            "1 1/2 HP 208-230/460 V 5.0-4.8/2.4 A 60 Hz 1725 rpm SF 1.15 code K class B 3 ph",
            {"power": "1 1/2 hp", "voltage": "208-230/460 V", "current": "5.0-4.8/2.4 A",
             "frequency": "60 Hz", "speed": "1725 rpm", "service_factor": 1.15,
             "code_letter": "K", "insulation_class": "B", "phases": 3},
        ),
        ("220Δ/380Y V 2.2kW", {"connection": "D/Y", "voltage": "220/380 V", "power": "2.2 kW"}),
        ("2.2 kW 380 V Y", {"connection": "Y", "voltage": "380 V", "power": "2.2 kW"}),
        ("0.75/1.5 kW 400 V 700/1400 rpm D/YY",
         {"power": "0.75/1.5 kW", "voltage": "400 V", "speed": "700/1400 rpm",
          "connection": "D/YY"}),
        ("220 V 8.4 A / 380 V 4.9 A 2.2 kW",
         {"voltage": "220/380 V", "current": "8.4/4.9 A", "power": "2.2 kW"}),
        ("2.2 kW / 3 HP 230 V", {"power": "2.2 kW", "voltage": "230 V"}),
        ("30 µF 1~ 230 V 1.5 kW",
         {"capacitor": True, "phases": 1, "voltage": "230 V", "power": "1.5 kW"}),
        ("3 HP 220/440V 8.4/4.2A 1430 RPM 50~ Δ/Y",
         {"power": "3 hp", "voltage": "220/440 V", "current": "8.4/4.2 A", "speed": "1430 rpm",
          "frequency": "50 Hz", "connection": "D/Y"}),
        ("3~ 60 ~ 2 hp", {"phases": 3, "frequency": "60 Hz", "power": "2 hp"}),
        ("2.2 kW made 1968 6 leads eff 81 %",
         {"power": "2.2 kW", "year": 1968, "leads": 6, "efficiency": 0.81}),
    ],
)  # fmt: skip
def test_lines_as_they_are_typed(line, entries):
    assert read_plate_line(line).entries == entries


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("2.2 kW 3 HP 230/400", "'230/400' has no unit"),
        ("2.2 kW V 230 A", "'V' stands without a number"),
        ("2.2 kW 1968", "'1968' has no unit"),
        ("1/2 HP 230 V", "can be read in two ways"),
        ("1,430 rpm 2.2 kW", "can be read in two ways"),
        ("2.2 kW 5.5 kW 1430 rpm", "power is told twice"),
        ("2.2 kW 8.6 A 5 A 3 A", "current is told twice"),
        ("2.2 kW 220/380 V 440 V", "voltage is told twice"),
        ("380Y/220Δ V 2.2 kW", "'V' stands without a number"),
        ("   ", "no plate in this line"),
        ("9 V " * 200, "no plate in this line"),
    ],
)
def test_what_is_left_over_or_contradicts_is_refused(line, words):
    with pytest.raises(QuantityError, match=words):
        read_plate_line(line)


def test_what_plates_show_and_nobody_needs_is_named_not_read():
    read = read_plate_line("2.2 kW IP44 S1 40 °C rise 112M frame 100L Nr. 4711")
    assert read.entries == {"power": "2.2 kW"}
    assert len(read.unused) == 6


def test_a_plate_for_two_frequencies_leaves_it_out_and_says_so():
    read = read_plate_line("2.2 kW 400 V 50/60 Hz 1430/1720 rpm")
    assert "frequency" not in read.entries
    assert "both" in read.notes[0]


SPELT = {
    "power": ("kW", "KW", "kw"),
    "voltage": ("V", "v", "volts", "VOLTS", "VAC"),
    "current": ("A", "a", "amps", "AMP", "Amp"),
    "speed": ("rpm", "RPM", "r/min", "min-1", "/min", "U/min"),
    "frequency": ("Hz", "HZ", "hz", "c/s"),
}
FACTOR = {"power": 1000.0}
DUAL = ("voltage", "current")
SETTINGS = settings(deadline=None, max_examples=200)


@st.composite
def plates(draw):
    """Numbers of a plate, and one way of printing them: order, spelling, comma, unit before."""
    tenths = st.integers(2, 990).map(lambda n: n / 10)
    low = draw(st.integers(100, 290))
    numbers = {
        "power": (draw(tenths),),
        "voltage": (float(low), float(draw(st.integers(low + 1, 690)))),
        "current": (draw(tenths), draw(tenths)),
        "speed": (float(draw(st.integers(200, 999))),),
        "frequency": (draw(st.sampled_from((50.0, 60.0))),),
    }
    comma, before = draw(st.booleans()), draw(st.booleans())
    gap, apart = draw(st.sampled_from((" ", ""))), draw(st.sampled_from(("  ", ", ", " ; ", " | ")))
    printed = []
    for kind, of in numbers.items():
        text = draw(st.sampled_from(("/", " / "))).join(f"{n:g}" for n in of)
        text = text.replace(".", ",") if comma else text
        unit = draw(st.sampled_from(SPELT[kind]))
        printed.append(f"{unit} {text}" if before else f"{text}{gap}{unit}")
    return numbers, apart.join(draw(st.permutations(printed)))


@SETTINGS
@given(plates())
def test_any_plate_in_any_order_is_read_the_same(plate):
    numbers, line = plate
    read = si(read_plate_line(line).entries)
    assert set(read) == set(numbers)
    for kind, of in numbers.items():
        assert read[kind] == pytest.approx([n * FACTOR.get(kind, 1.0) for n in of], rel=1e-12)


@SETTINGS
@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_words(line):
    try:
        read = read_plate_line(line)
    except QuantityError:
        return  # any other exception fails the test
    assert set(read.entries) <= {
            "power", "voltage", "current", "speed", "frequency", "capacitor", "connection",
            "power_factor", "efficiency", "service_factor", "code_letter", "insulation_class",
            "phases", "year", "leads",
        }  # fmt: skip
