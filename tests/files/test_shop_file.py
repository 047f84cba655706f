"""Reading a shop file: what comes out, and the whole message of every mistake."""

import dataclasses
import json
import subprocess
import sys

import pytest
from files.shop_mistakes import MISTAKES
from files.shop_texts import EXAMPLES, FULL, data
from hypothesis import given, settings
from hypothesis import strategies as st

from phasewright.files.shop_file import read, read_text
from phasewright.quantities.errors import ShopFileError
from phasewright.quantities.value import exact
from phasewright.shop.check import cautions
from phasewright.shop.keys import keys_of
from phasewright.shop.machine import motor_id
from phasewright.shop.model import Shop


def test_every_quantity_is_in_si_with_its_origin_and_place():
    shop = read_text(FULL, "f")
    plate = shop.machines[0].motors[0].plate
    at = "machines[0].motors[0].plate"
    assert plate.power == (exact(2200.0, "W", "plate", f"{at}.power"),)
    assert [volts.number for volts in plate.voltage] == [230.0, 400.0]
    assert plate.shaft_height == exact(0.09, "m", "measured", f"{at}.shaft_height")
    assert shop.supply.voltage == exact(230.0, "V", "stated", "supply.voltage")
    assert shop.supply.loop_impedance == exact(0.35, "ohm", "measured", "supply.loop_impedance")
    assert shop.supply.heater_test.current.origin == "measured"
    assert shop.places[0].ambient.unit == "°C"
    assert shop.machines[0].motors[0].wants.speed == (0.5, 1.2)
    assert shop.machines[0].motors[1].plate.two_speed
    assert shop.wishes.labour == "own"
    assert shop.owned_parts[2].capacitance.number == 5e-5
    assert shop.name == "Every key"
    assert shop.place("barn") is shop.places[0]


def test_what_is_not_given_is_none_or_empty():
    plate = read_text(FULL).machine("Press").motor("ram").plate
    assert plate.power == ()
    assert plate.frequency is None
    assert plate.power_factor is None


def test_every_given_key_knows_its_line():
    shop = read_text(FULL, "f")
    lines = FULL.splitlines()
    for path, line in shop.lines.items():
        last = path.rpartition(".")[2]
        word = "-" if last.endswith("]") else f"{last}:"
        assert word in lines[line - 1] or last.endswith("]"), path
    assert shop.gives("supply.feeder.length")
    assert not shop.gives("supply.surge")
    assert lines[shop.lines["machines[1].motors[0].plate"] - 1].strip().startswith("- {name: ram")


def test_motors_are_listed_with_their_paths():
    shop = read_text(FULL)
    found = [(path, motor_id(machine, motor)) for path, machine, motor in shop.each_motor()]
    assert found == [
        ("machines[0].motors[0]", "Scratter/mill"),
        ("machines[0].motors[1]", "Scratter/pump"),
        ("machines[1].motors[0]", "Press/ram"),
    ]


@pytest.mark.parametrize("example", EXAMPLES, ids=lambda path: path.name)
def test_the_examples_read(example):
    shop = read(example)
    assert shop.machines
    assert cautions(shop) == ()
    assert hash(shop) == hash(read(example))


def test_an_unusual_frequency_is_accepted_with_a_word():
    (caution,) = cautions(
        read_text(FULL.replace("  frequency: 50 Hz\n  meas", "  frequency: 42 Hz\n  meas"))
    )
    assert caution.severity == "caution"
    assert caution.words.startswith("A supply of 42 Hz is unusual")


def told(text: str) -> list[str]:
    with pytest.raises(ShopFileError) as refusal:
        read_text(text, "f")
    return [str(mistake) for mistake in refusal.value.mistakes]


@pytest.mark.parametrize(
    ("found", "instead", "messages"), MISTAKES, ids=lambda part: str(part)[:40]
)
def test_the_whole_message(found, instead, messages):
    assert FULL.count(found) == 1
    assert sorted(told(FULL.replace(found, instead))) == sorted(messages)


SPLIT = FULL.replace("kind: single_phase", "kind: split_phase")


def test_split_phase_wants_the_volts_between_the_lines_and_no_earthed_line():
    low = SPLIT.replace("voltage: 230 V\n", "voltage: 120 V\n").replace(
        "earthed: line_2", "earthed: centre"
    )
    low = low.replace("low: 236 V, high: 251 V", "low: 118 V, high: 122 V")
    low = low.replace("unloaded: 238 V, loaded: 233 V", "unloaded: 120 V, loaded: 118 V")
    assert told(low) == [
        "f:9: supply.voltage: 120 V is the voltage from one line to the centre; with split_phase "
        "the voltage between the two lines; write '240 V' if that is what the meter shows "
        "between them"
    ]
    assert told(SPLIT) == [
        "f:7: supply.earthed: line_2 cannot be earthed where the centre is; centre, none or "
        "unknown with split_phase; write kind: single_phase for a supply of line and neutral"
    ]


def test_a_heater_test_without_a_drop_is_a_reading_like_any_other():
    shop = read_text(FULL.replace("loaded: 233 V", "loaded: 238 V"))
    assert shop.supply.heater_test.loaded.number == 238.0


def test_an_endless_list_is_refused_and_not_walked():
    names = ", ".join(["lamp"] * 1001)
    assert told(FULL.replace("[original controls]", f"[{names}]")) == [
        "f:93: wishes.keep: a list of 1001 items; at most 1000"
    ]


def test_a_value_where_keys_or_a_list_belong_is_refused():
    assert told(FULL.replace("keep: [original controls]", "keep: {a: b}")) == [
        "f:93: wishes.keep: keys and values; a list of some text, at most 200 letters in one line"
    ]
    assert told(FULL.replace("labour: own", "labour: [own]")) == [
        "f:88: wishes.labour: a list; own, or an amount of money an hour (from 0 to 100000)"
    ]


def test_no_machine_is_no_shop():
    text = FULL[: FULL.index("machines:")] + "machines: []\n"
    assert told(text) == ["f:27: machines: there is no machine; a shop has at least one machine"]


TOGETHER = (
    "region: IEC", "currency: GBP", "{low: 236 V, high: 251 V}", "can_wait: true",
    "    hours_per_year: 120", "    runs_with: [Press]", "          leads: 6", "torque: 0.9",
    "    chance: 0.7\n", "  labour: own", "input_phases: 1", "price: 240",
)  # fmt: skip


def test_all_mistakes_are_told_at_once_in_the_order_of_the_lines():
    text, wanted = FULL, []
    for begin in TOGETHER:
        found, instead, messages = next(row for row in MISTAKES if row[0] == begin)
        text = text.replace(found, instead)
        wanted += messages
    assert told(text) == wanted
    assert len(wanted) == len(TOGETHER)


def test_a_mistake_is_not_told_twice_over():
    text = FULL.replace("{name: ram, plate: {current: 4 A}}", "{name: ram, plate: {current: 4 kg}}")
    assert told(text) == [
        "f:84: machines[1].motors[0].plate.current: '4 kg' is not a current; "
        "write for example '14.5 A'"
    ]


def test_words_are_read_whatever_their_case_and_hyphens():
    shop = read_text(FULL.replace("kind: single_phase", "kind: Single Phase"))
    assert shop.supply.kind == "single_phase"
    assert read_text(FULL.replace("can_wait: true", "can_wait: yes")).supply.other_loads[1].can_wait


def test_the_same_facts_in_other_units_are_the_same_shop():
    other = FULL
    for ours, theirs in [
        ("2.2 kW\n", "2200 W\n"), ("0.35 ohm", "350 milliohm"), ("25 m,", "2500 cm,"),
        ("50 uF", "50000 nF"), ("9 kVA", "9000 VA"), ("30 mA", "0.03 A"), ("4 s", "4000 ms"),
        ("30 °C", "303.15 K"), ("0.15 kg m2", "1500 kg cm2"), ("8.6/5.0 A", "8,6 / 5,0 A"),
    ]:  # fmt: skip
        assert ours in other
        other = other.replace(ours, theirs)
    assert read_text(other) == read_text(FULL)


@settings(deadline=None, max_examples=60)
@given(st.randoms(use_true_random=False))
def test_the_order_of_keys_changes_nothing(random):
    def shuffled(part):
        if isinstance(part, dict):
            keys = list(part)
            random.shuffle(keys)
            return {key: shuffled(part[key]) for key in keys}
        return [shuffled(item) for item in part] if isinstance(part, list) else part

    assert read_text(json.dumps(shuffled(data(FULL)), ensure_ascii=False)) == read_text(FULL)


@settings(deadline=None, max_examples=150)
@given(st.data())
def test_any_damage_is_read_or_told_never_a_crash(data):
    start = data.draw(st.integers(0, len(FULL)))
    length = data.draw(st.integers(0, 12))
    instead = data.draw(st.text(alphabet="a1:,-[]{}#&*!|>'\"%@`\n\t é²", max_size=6))
    try:
        shop = read_text(FULL[:start] + instead + FULL[start + length :], "f")
    except ShopFileError as error:
        refusal = error
    else:
        assert dataclasses.is_dataclass(shop)
        return
    assert refusal.mistakes
    assert all(mistake.found and mistake.allowed for mistake in refusal.mistakes)


def test_every_key_of_every_class_has_a_shape():
    names = set()

    def walk(kind):
        for key in keys_of(kind).values():
            names.add(key.name)
            shape = getattr(key.shape, "item", key.shape)
            if made_of := getattr(shape, "made_of", None):
                walk(made_of)

    walk(Shop)
    assert {"runs_with", "loop_impedance", "standing_per_year", "never_above"} <= names
    assert "lines" not in keys_of(Shop)
    assert "file" not in keys_of(Shop)


def test_reading_needs_no_numbers_library_and_little_time(tmp_path):
    program = (
        "import sys, time; begun = time.process_time()\n"
        "from phasewright.files.shop_file import read\n"
        f"read({str(EXAMPLES[0])!r})\n"
        "print(time.process_time() - begun, {'numpy', 'scipy', 'numba'} & set(sys.modules))"
    )
    runs = [
        subprocess.run(
            [sys.executable, "-c", program], check=True, capture_output=True, text=True
        ).stdout.split(maxsplit=1)
        for _ in range(3)
    ]
    assert {heavy.strip() for _, heavy in runs} == {"set()"}
    assert min(float(seconds) for seconds, _ in runs) < 0.25
