"""The network block: written from a course and read back to an equal one; hostile files refused."""

from __future__ import annotations

import copy
import json
import math
from dataclasses import replace

import jsonschema
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from reference_machines import I4A, K15, M2K2, M4K0

from phasewright.files.result_schema import schema_of
from phasewright.files.start_network import network_block, read_network, read_network_text
from phasewright.files.start_shape import NetworkShape
from phasewright.network.supply import Source
from phasewright.quantities.errors import ShopFileError
from phasewright.running.network import Between, Connected, LoadLaw
from phasewright.starts.course import (
    FOREVER,
    WHEN_SETTLED,
    WITH_THE_LAST,
    Course,
    Drop,
    LoadStep,
    StartBranch,
    Starter,
    StartResistor,
)

CHECK = jsonschema.Draft202012Validator(schema_of(NetworkShape, "network"))
volts, ohms = st.floats(1.0, 1e4), st.floats(0.0, 100.0)
seconds = st.floats(0.0, 50.0)
instants = seconds | st.just(FOREVER)
banks = st.builds(Between, *[st.floats(0.0, 1e-2)] * 3)
names = st.text("abc/ öß,\"'\\", min_size=1, max_size=12)


@st.composite
def starters(draw, name: str) -> Starter:
    law = LoadLaw(
        draw(st.sampled_from(["none", "constant", "fan", "viscous"])),
        draw(st.floats(0.0, 100.0)), draw(st.floats(1.0, 400.0)),
    )  # fmt: skip
    circuit = draw(st.sampled_from([M4K0, M2K2, I4A, K15]))
    closes = draw(seconds | st.sampled_from([WHEN_SETTLED, FOREVER]))
    return Starter(
        Connected(name, circuit, law, draw(st.booleans())),
        draw(st.floats(1e-6, 50.0)),
        closes_s=closes,
        opens_s=draw(st.just(FOREVER) | st.floats(51.0, 99.0)),
        speed_rad_s=draw(st.floats(-300.0, 300.0)),
        breakaway_nm=draw(st.floats(0.0, 50.0)),
        point_on_wave=draw(st.floats(0.0, 1.0)),
        travelling_f=draw(banks),
        releases_below_v=draw(st.floats(0.0, 300.0)),
    )


@st.composite
def together(draw, made: list[Starter]) -> tuple[Starter, ...]:
    """Some of those behind a machine that waits close together with it."""
    for at in range(1, len(made)):
        if made[at - 1].closes_s in (WHEN_SETTLED, WITH_THE_LAST) and draw(st.booleans()):
            made[at] = replace(made[at], closes_s=WITH_THE_LAST)
    return tuple(made)


@st.composite
def courses(draw) -> Course:
    known = draw(st.lists(names, min_size=1, max_size=3, unique=True))
    drops = st.one_of(
        st.just(Drop()),
        st.builds(Drop, st.just("speed"), st.floats(0.1, 1.0), st.sampled_from(known)),
        st.builds(Drop, st.just("time"), seconds),
        st.builds(Drop, st.just("volts"), volts),
    )
    branch = st.builds(
        StartBranch, st.floats(1e-6, 1e-2), ohms, st.none() | st.floats(1.0, 1e6), drops, seconds
    )
    three = draw(st.booleans())
    lost = FOREVER if three else draw(instants)
    return Course(
        source=Source(draw(volts), draw(ohms), draw(ohms), draw(st.floats(10.0, 100.0))),
        capacitance_f=draw(banks),
        starters=draw(together([draw(starters(name)) for name in known])),
        seconds=draw(st.floats(0.01, 30.0)),
        start=draw(st.none() | branch),
        three_lines=three,
        resistor=None
        if three
        else draw(
            st.none()
            | st.builds(StartResistor, st.floats(0.1, 50.0), instants | st.just(WHEN_SETTLED))
        ),
        conductance_s=draw(banks),
        phase_rad=draw(st.floats(-7.0, 7.0)),
        lost_s=lost,
        returns_s=draw(st.just(FOREVER) | st.floats(51.0, 99.0)) if lost < FOREVER else FOREVER,
        load_steps=tuple(
            draw(
                st.lists(
                    st.builds(LoadStep, st.sampled_from(known), seconds, st.floats(0.0, 3.0)),
                    max_size=2,
                )
            )
        ),
        stops_when_settled=draw(st.booleans()),
        steps_per_cycle=2 * draw(st.integers(20, 100)),
    )


@given(courses())
@settings(max_examples=80, deadline=None)
def test_a_course_comes_back_equal(course):
    block = network_block(course)
    CHECK.validate(block)
    assert read_network_text(json.dumps(block)) == course
    assert read_network_text(json.dumps({"verdict": {}, "network": block})) == course


PLAIN = Course(
    source=Source(230.0, 0.25, 0.15, 50.0),
    capacitance_f=Between(0.0, 47.5e-6, 63e-6),
    starters=(Starter(Connected("idler", I4A, LoadLaw("none")), 0.0125),
              Starter(Connected("Saw/motor", M2K2, LoadLaw("fan", 14.5, 151.0)), 0.05, closes_s=1.0)),
    seconds=2.0,
    start=StartBranch(300e-6, drop=Drop("speed", 0.85, "idler")),
)  # fmt: skip


def mistakes(text: str) -> dict[str, tuple[str, str, str]]:
    with pytest.raises(ShopFileError) as told:
        read_network_text(text, "net.json")
    return {m.path: (m.found, m.allowed, m.remedy) for m in told.value.mistakes}


def test_every_mistake_is_told_at_once_with_its_path_and_what_to_do():
    tree = network_block(PLAIN)
    tree["source"]["voltage_v"] = "230 V"
    tree["source"]["frequncy_hz"] = tree["source"].pop("frequency_hz")
    tree["source"]["lost_s"] = "nevr"
    tree["machines"][0]["poles"] = 3
    tree["machines"][0]["equivalent_circuit"]["cages"] = []
    tree["machines"][0]["equivalent_circuit"]["saturation"]["flux_vs"] = 3.0
    tree["machines"][1]["id"] = "idler"
    tree["machines"][1]["inertia_kg_m2"] = 0
    tree["machines"][1]["reversed"] = "no"
    tree["start_branch"]["drop_out"]["time_s"] = 1.0
    tree["steps_per_cycle"] = 101
    found = mistakes(json.dumps(tree))
    assert set(found) == {
        "source.voltage_v", "source.frequncy_hz", "source.frequency_hz", "source.lost_s",
        "machines[0].poles", "machines[0].equivalent_circuit.cages",
        "machines[0].equivalent_circuit.saturation.flux_vs", "machines[1].id",
        "machines[1].inertia_kg_m2", "machines[1].reversed", "start_branch.drop_out.time_s",
        "steps_per_cycle",
    }  # fmt: skip
    assert "without a unit" in found["source.voltage_v"][2]
    assert "did you mean 'frequency_hz'?" in found["source.frequncy_hz"][2]
    assert "did you mean 'never'?" in found["source.lost_s"][2]
    assert found["source.frequency_hz"][0] == "is missing"


def test_names_are_compared_where_the_machines_can_be_read():
    tree = network_block(PLAIN)
    tree["load_steps"] = [{"machine": "Sew/motor", "at_s": 1.0, "share": 2.0}]
    tree["start_branch"]["drop_out"]["machine"] = "idlr"
    found = mistakes(json.dumps(tree))
    assert found["load_steps[0].machine"][2] == "did you mean 'Saw/motor'?"
    assert found["start_branch.drop_out.machine"][2] == "did you mean 'idler'?"


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("seconds", 3600.0), ("seconds", math.pi * 1e300), ("seconds", True), ("seconds", [1]),
        ("steps_per_cycle", 100_000), ("machines", []), ("machines", {}),
        ("machines", [network_block(PLAIN)["machines"][0]] * 101), ("source", None),
        ("start_branch", []), ("start_resistor", {"ohm": 0, "bypass_s": "never"}),
    ],
)  # fmt: skip
def test_what_no_computer_bears_or_no_key_allows_is_refused(path, value):
    tree = network_block(PLAIN)
    tree[path] = value
    if path == "steps_per_cycle":
        tree["seconds"] = 100.0
    assert mistakes(json.dumps(tree))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no JSON"), ("{", "no JSON"), ("[1, 2]", "a list"), ("3", "an object"),
        ("[" * 200_000, "nested"), ('{"a": ' * 200_000, "nested"), ('{"seconds": NaN}', "NaN"),
        ('{"seconds": ' + "9" * 6000 + "}", "seconds"), ('{"\\u0000": 1}', "no key"),
        ('{"seconds": 1, "seconds": 2}', "more than once"), ('{"seconds": -Infinity}', "-Infinity"),
        ('{"network": {"verdict": 1}}', "network.source"),
    ],
)  # fmt: skip
def test_hostile_texts_are_refused_in_words(text, words):
    with pytest.raises(ShopFileError, match=words) as told:
        read_network_text(text, "net.json")
    assert all(len(str(mistake)) < 1500 for mistake in told.value.mistakes)


@given(st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(
        ["source", "machines", "seconds", "voltage_v", "id", "load", "network", "x"]), inner, max_size=4),
    max_leaves=20,
))  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_any_tree_is_read_or_refused(tree):
    with pytest.raises(ShopFileError):
        read_network_text(json.dumps(tree))


KEYS = [("source", "resistance_ohm"), ("machines", 0, "poles"), ("machines", 1, "load"),
        ("machines", 0, "equivalent_circuit", "cages", 0, "leakage_ohm"), ("start_branch", "drop_out")]  # fmt: skip


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("wrong", ["a text", True, -1e9, [], {"x": 1}, 1e99])
def test_each_wrong_value_is_told_where_it_stands(key, wrong):
    tree = copy.deepcopy(network_block(PLAIN))
    holder = tree
    for part in key[:-1]:
        holder = holder[part]
    holder[key[-1]] = wrong
    path = "".join(f"[{p}]" if isinstance(p, int) else f".{p}" for p in key).lstrip(".")
    assert any(found.startswith(path) for found in mistakes(json.dumps(tree)))


def test_keys_that_may_be_left_out_may_be_null():
    tree = network_block(PLAIN)
    tree["start_resistor"] = None
    tree["machines"][1]["equivalent_circuit"]["saturation"] = None
    tree["start_branch"]["bleeder_ohm"] = None
    assert read_network_text(json.dumps(tree)) == PLAIN


def test_a_rotor_without_an_inertia_of_its_own_has_that_of_the_shaft():
    tree = network_block(PLAIN)
    del tree["machines"][1]["equivalent_circuit"]["inertia_kg_m2"]
    machine = read_network_text(json.dumps(tree)).starters[1]
    assert machine.machine.circuit.inertia_kg_m2 == machine.inertia_kg_m2 == 0.05


def test_a_file_that_is_not_there_or_no_text(tmp_path):
    with pytest.raises(ShopFileError, match="cannot be read"):
        read_network(tmp_path / "none.json")
    (tmp_path / "binary.json").write_bytes(b"\x00\x01")
    with pytest.raises(ShopFileError, match="not plain text"):
        read_network(tmp_path / "binary.json")
    (tmp_path / "large.json").write_text(" " * 1_000_001)
    with pytest.raises(ShopFileError, match="larger than 1 MB"):
        read_network(tmp_path / "large.json")


def test_together_with_the_last_needs_one_that_waits():
    tree = network_block(PLAIN)
    tree["machines"][1]["closes_s"] = "with_the_last"
    assert set(mistakes(json.dumps(tree))) == {"machines[1].closes_s"}
    tree["machines"][0]["closes_s"] = "when_settled"
    assert read_network_text(json.dumps(tree)).starters[1].closes_s == WITH_THE_LAST


def test_waiting_is_a_word():
    course = replace(
        PLAIN, starters=(PLAIN.starters[0], replace(PLAIN.starters[1], closes_s=WHEN_SETTLED))
    )
    block = network_block(course)
    assert block["machines"][1]["closes_s"] == "when_settled"
    assert block["machines"][1]["opens_s"] == "never"


def test_a_source_of_three_lines_is_a_number_and_goes_without_resistor_and_loss():
    tree = network_block(replace(PLAIN, three_lines=True))
    assert tree["source"]["lines"] == 3
    assert network_block(PLAIN)["source"]["lines"] == 2
    tree["source"]["lost_s"] = 1.0
    tree["start_resistor"] = {"ohm": 1.0, "bypass_s": "when_settled"}
    assert set(mistakes(json.dumps(tree))) == {"source.lost_s", "start_resistor"}
    tree["source"]["lines"] = 4
    assert "source.lines" in mistakes(json.dumps(tree))
