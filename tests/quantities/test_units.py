"""Reading and printing quantities: every form, every refusal with its whole message."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.quantities.codes import Quantity
from phasewright.quantities.errors import PhasewrightError, QuantityError
from phasewright.quantities.kinds import KINDS
from phasewright.quantities.units import format as printed
from phasewright.quantities.units import parse, parse_several, spelt

READ = [
    ("2.2 kW", "power", 2200.0),
    ("2.2kW", "power", 2200.0),
    ("2.2 KW", "power", 2200.0),
    ("550 W", "power", 550.0),
    ("1e3 W", "power", 1000.0),
    ("1 hp", "power", 745.6998715822702),
    ("1 HP", "power", 745.6998715822702),
    ("1 1/2 hp", "power", 1.5 * 745.6998715822702),
    ("1-1/2 HP", "power", 1.5 * 745.6998715822702),
    ("1 PS", "power", 735.49875),
    ("1 cv", "power", 735.49875),
    ("25 kVA", "apparent_power", 25000.0),
    ("230 V", "voltage", 230.0),
    ("230 V", "voltage", 230.0),
    ("0.4 kV", "voltage", 400.0),
    ("14.5 A", "current", 14.5),
    ("14,5 A", "current", 14.5),
    ("30 mA", "current", 0.03),
    ("1.2 kA", "current", 1200.0),
    ("25 m", "length", 25.0),
    ("80 ft", "length", 24.384),
    ("90 mm", "length", 0.09),
    ("2.5 in", "length", 0.0635),
    ("10 mm2", "area", 1e-5),
    ("10 mm²", "area", 1e-5),
    ("0.35 ohm", "resistance", 0.35),
    ("0,355 Ω", "resistance", 0.355),
    ("350 milliohm", "resistance", 0.35),
    ("350 mΩ", "resistance", 0.35),
    ("350 mohm", "resistance", 0.35),
    ("30 uF", "capacitance", 3e-5),
    ("30 µF", "capacitance", 3e-5),
    ("30 μF", "capacitance", 3e-5),
    ("30 MFD", "capacitance", 3e-5),
    ("470 nF", "capacitance", 4.7e-7),
    ("1430 rpm", "speed", 1430.0),
    ("1430 r/min", "speed", 1430.0),
    ("1430 min-1", "speed", 1430.0),
    ("0.15 kg m2", "inertia", 0.15),
    ("0.15 kg·m²", "inertia", 0.15),
    ("0.15 kg m²", "inertia", 0.15),
    ("1 lb ft2", "inertia", 0.45359237 * 0.3048**2),
    ("1 lb·ft²", "inertia", 0.45359237 * 0.3048**2),
    ("30 °C", "temperature", 30.0),
    ("30 degC", "temperature", 30.0),
    ("50 °F", "temperature", 10.0),
    ("300 K", "temperature", 26.85),
    ("-5 °C", "temperature", -5.0),
    ("−5 °C", "temperature", -5.0),
    ("50 Hz", "frequency", 50.0),
    ("4 s", "time", 4.0),
    ("250 ms", "time", 0.25),
    ("2 min", "time", 120.0),
    ("45 dB", "sound", 45.0),
    ("45 dB(A)", "sound", 45.0),
]


@pytest.mark.parametrize(("text", "kind", "number"), READ)
def test_is_read_as_it_is_meant(text, kind, number):
    assert parse(text, kind) == pytest.approx(number, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "kind", "numbers"),
    [
        ("230/400 V", "voltage", (230.0, 400.0)),
        ("230 / 400 V", "voltage", (230.0, 400.0)),
        ("8.6/5.0 A", "current", (8.6, 5.0)),
        ("8,6/5,0 A", "current", (8.6, 5.0)),
        ("1.5/2.2 kW", "power", (1500.0, 2200.0)),
        ("3/4 kW", "power", (3000.0, 4000.0)),
        ("1420/2840 rpm", "speed", (1420.0, 2840.0)),
        ("5 A", "current", (5.0,)),
    ],
)
def test_two_values_keep_the_order_of_the_plate(text, kind, numbers):
    assert parse_several(text, kind) == numbers


# Areas of the American wire gauge in mm2 as handbooks print them (from memory).
@pytest.mark.parametrize(
    ("gauge", "mm2"),
    list(
        {
            "14": 2.08,
            "12": 3.31,
            "10": 5.26,
            "8": 8.37,
            "6": 13.3,
            "4": 21.2,
            "2": 33.6,
            "1/0": 53.5,
            "2/0": 67.4,
            "3/0": 85.0,
            "4/0": 107.2,
        }.items()
    ),
)
def test_wire_gauges_are_those_of_the_handbooks(gauge, mm2):
    assert parse(f"{gauge} AWG", "area") * 1e6 == pytest.approx(mm2, rel=3e-3)
    assert parse(f"AWG {gauge}", "area") == parse(f"{gauge} AWG", "area")


def test_250_kcmil_is_127_mm2():
    assert parse("250 kcmil", "area") * 1e6 == pytest.approx(126.7, rel=1e-3)


REFUSED = [
    ("2.2 kg", "power", "'2.2 kg' is not a power; write for example '2.2 kW'"),
    ("3 mW", "power", "'3 mW' is not a power; write for example '2.2 kW'"),
    ("2.2 kVA", "power", "'2.2 kVA' is not a power; write for example '2.2 kW'"),
    ("2.2", "power", "'2.2' has no unit; write a power with its unit, for example '2.2 kW'"),
    ("kW", "power", "'kW' is not a power; write for example '2.2 kW'"),
    ("", "power", "'' is not a power; write for example '2.2 kW'"),
    ("NaN kW", "power", "'NaN kW' is not a power; write for example '2.2 kW'"),
    ("inf kW", "power", "'inf kW' is not a power; write for example '2.2 kW'"),
    ("10² kW", "power", "'10² kW' is not a power; write for example '2.2 kW'"),
    ("1½ hp", "power", "'1½ hp' is not a power; write for example '2.2 kW'"),
    ("1e308 kW", "power", "'1e308 kW' is not credible here; between 0.01 W and 10000 kW"),
    ("1e999 kW", "power", "'1e999 kW' is not credible here; between 0.01 W and 10000 kW"),
    ("-2 kW", "power", "'-2 kW' is not credible here; between 0.01 W and 10000 kW"),
    ("0 kW", "power", "'0 kW' is not credible here; between 0.01 W and 10000 kW"),
    (
        "1/2 hp",
        "power",
        "'1/2 hp' can be read in two ways; "
        "write '0.5 hp' for the fraction, or '1.0/2.0 hp' for two speeds",
    ),
    (
        "1,500 rpm",
        "speed",
        "'1,500 rpm' can be read in two ways: 1500 or 1.500; "
        "write it without a comma, with a decimal point where one is meant",
    ),
    (
        "1.500 rpm",
        "speed",
        "'1.500 rpm' can be read in two ways: 1500 or 1.500; write '1500 rpm' if that is meant",
    ),
    (
        "1,234.5 W",
        "power",
        "'1,234.5 W' has more than one point or comma in a number; "
        "write it without separators, with one decimal point",
    ),
    (
        "1 500 rpm",
        "speed",
        "'1 500 rpm' has a space or a sign inside the number; "
        "write the number in one piece, for example '1430 rpm'",
    ),
    (
        "30 mF",
        "capacitance",
        "'30 mF' can be read in two ways: old cans print mF for microfarads; "
        "write '30 uF' if the microfarad is meant",
    ),
    ("1/2/3 V", "voltage", "'1/2/3 V' gives 3 values; write one or two"),
    ("230/ V", "voltage", "'230/ V' is not a voltage; write for example '230 V'"),
    (
        "8.5 AWG",
        "area",
        "'8.5 AWG' is not a conductor size; write for example '10 mm2' or '8 AWG'",
    ),
    (
        "5/0 AWG",
        "area",
        "'5/0 AWG' is no wire gauge; write 40 to 1, or 1/0, 2/0, 3/0, 4/0, as '8 AWG'",
    ),
    ("9" * 90 + " A", "current", f"'{'9' * 80}…' is too long; write for example '14.5 A'"),
    ("١٢ V", "voltage", "'١٢ V' is not a voltage; write for example '230 V'"),
]


@pytest.mark.parametrize(("text", "kind", "message"), REFUSED)
def test_is_refused_in_words(text, kind, message):
    with pytest.raises(QuantityError) as refusal:
        parse_several(text, kind)
    assert str(refusal.value) == message
    assert isinstance(refusal.value, ValueError)
    assert isinstance(refusal.value, PhasewrightError)


def test_two_values_are_refused_where_one_is_wanted():
    with pytest.raises(QuantityError) as refusal:
        parse("230/400 V", "voltage")
    assert str(refusal.value) == "'230/400 V' gives 2 values; write one value, for example '230 V'"


def test_what_is_written_into_a_shop_file_is_short_and_never_ambiguous():
    hp = parse("1 hp", "power")
    assert spelt((2200.0,), "power") == "2.2 kW"
    assert spelt((2 * hp,), "power", "NEC") == "2 hp"
    assert spelt((hp / 2, hp), "power", "NEC") == "0.5/1 hp"
    assert spelt((hp, 2 * hp), "power", "NEC") != "1/2 hp"
    assert spelt((1.234,), "speed") == "1.2340 rpm"
    assert spelt((parse("8 AWG", "area"),), "area") == "8 AWG"
    assert spelt((8.6, 5.0), "current") == "8.6/5 A"


def test_the_bounds_of_the_caller_hold_and_are_told():
    assert parse("400 kW", "power", low=5, high=4e5) == 4e5
    with pytest.raises(QuantityError, match=r"^'401 kW' is not credible here; between 5 W and"):
        parse("401 kW", "power", low=5, high=4e5)


@pytest.mark.parametrize(
    ("number", "kind", "text"),
    [
        (2200.0, "power", "2.2 kW"),
        (550.0, "W", "550 W"),
        (8.6, "A", "8.6 A"),
        (0.03, "current", "30 mA"),
        (47.5e-6, "capacitance", "47.5 µF"),
        (1425.0, "speed", "1425 rpm"),
        (1e-5, "area", "10 mm2"),
        (0.35, "ohm", "350 milliohm"),
        (5.0, "ohm", "5 ohm"),
        (999.97, "W", "1 kW"),
        (123456.0, "W", "123 kW"),
        (0.0, "length", "0 mm"),
        (-5.0, "temperature", "-5 °C"),
    ],
)
def test_is_printed_as_an_owner_reads_it(number, kind, text):
    assert printed(number, kind) == text


def test_a_conductor_is_printed_by_gauge_where_the_region_has_gauges():
    area = parse("8 AWG", "area")
    assert printed(area, "area", region="NEC") == "8 AWG"
    assert printed(area, "area", region="IEC") == "8.37 mm2"
    assert printed(1e-5, "area", region="NEC") == "10 mm2"


@pytest.mark.parametrize("number", [math.nan, math.inf, -math.inf])
def test_what_is_no_number_is_not_printed(number):
    with pytest.raises(QuantityError, match="is not a finite number"):
        printed(number, "power")


def test_an_unknown_kind_is_refused():
    with pytest.raises(QuantityError, match="'furlong' is no kind of quantity"):
        printed(1.0, "furlong")


kinds = st.sampled_from(sorted(KINDS))


def numbers(kind: Quantity) -> st.SearchStrategy[float]:
    of = KINDS[kind]
    low = max(of.low, 1e-9) if of.low >= 0 else of.low
    return st.floats(low * (1 + 1e-9) if low > 0 else low, min(of.high, 1e7), allow_nan=False)


@settings(deadline=None, max_examples=400)
@given(st.data(), kinds, st.integers(3, 9))
def test_what_is_printed_reads_back_to_the_rounding(data, kind, digits):
    number = data.draw(numbers(kind))
    again = parse(printed(number, kind, digits), kind, low=-1e300, high=1e300)
    assert again == pytest.approx(number, rel=0.51 * 10 ** (1 - digits), abs=1e-15)


@settings(deadline=None, max_examples=400)
@given(st.data(), kinds, st.sampled_from(["IEC", "NEC"]))
def test_what_a_shop_file_is_written_with_reads_back_exactly(data, kind, region):
    pair = tuple(data.draw(st.lists(numbers(kind), min_size=1, max_size=2)))
    if kind == "area":
        pair = pair[:1]
    again = parse_several(spelt(pair, kind, region), kind, low=-1e300, high=1e300)
    assert again == pytest.approx(pair, rel=1e-13, abs=0.0 if kind != "temperature" else 1e-11)
    if kind != "area":  # what was read once is kept to the last bit
        assert parse_several(spelt(again, kind, region), kind, low=-1e300, high=1e300) == again


@settings(deadline=None, max_examples=300)
@given(st.text(max_size=30), kinds)
def test_any_text_is_read_or_refused_with_words(text, kind):
    try:
        found = parse_several(text, kind)
    except QuantityError as error:
        refusal = error
    else:
        assert all(KINDS[kind].low <= number <= KINDS[kind].high for number in found)
        return
    assert refusal.found
    assert refusal.allowed


@settings(deadline=None, max_examples=200)
@given(st.integers(0, 99), st.integers(0, 9999), kinds)
def test_a_decimal_comma_is_never_read_as_something_else(whole, part, kind):
    unit = next(iter(KINDS[kind].units))
    for tail in (f"{part:01d}", f"{part:02d}", f"{part:03d}", f"{part:04d}"):
        try:
            number = parse(f"{whole},{tail} {unit}", kind, low=-1e300, high=1e300)
        except QuantityError:
            continue
        assert number == parse(f"{whole}.{tail}0000 {unit}", kind, low=-1e300, high=1e300)
