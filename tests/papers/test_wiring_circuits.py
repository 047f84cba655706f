"""The plan's circuits joined to its wiring: what they give is taken over, nothing else is made up."""

from dataclasses import replace

import pytest
from filled_study import fill
from papers.wired import on_converter, on_drives, wired

from phasewright.circuits.installation import Device, Isolator, ProtectiveConductor
from phasewright.papers.wiring.check import faults
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.quantities.value import exact

LATHE, MILL = ("Lathe", "six", None, None), ("Mill", "six", None, None)


def circuit(role, from_, to, lines="1-2-3", **facts):
    bare = fill(PlanCircuit, full=False)
    volts = exact(230.0, "V", "stated", "test")  # what is filled in grows with every test before
    given = {
        "conductor": "2.5 mm2", "length_m": exact(9.0, "m", "stated", "test"), "voltage_v": volts,
        **facts,
    }  # fmt: skip
    return replace(bare, id=f"{from_} to {to}", role=role, from_=from_, to=to, lines=lines, **given)


def of_circuit(wiring, name):
    return [each for each in wiring.conductors if each.circuit == name]


def test_without_circuits_nothing_has_a_size():
    made = wired(*on_converter([LATHE]))
    assert not any(each.size or each.length_m or each.circuit for each in made.conductors)


def with_circuits(setup, *circuits):
    shop, plan = setup
    made = wired(shop, replace(plan, circuits=circuits))
    assert faults(made) == ()
    return made


def test_a_machines_circuit_gives_its_breaker_isolator_sizes_and_length():
    made = with_circuits(
        on_converter([LATHE, MILL]),
        circuit(
            "converter_to_machine", "converter", "Lathe/main",
            device=Device("breaker", 16.0, "C"), isolator=Isolator(20.0, 3),
            protective_conductor=ProtectiveConductor("4 mm2", 4e-6),
        ),
    )  # fmt: skip
    assert made.device("=M1-F1").specification == "C16 A"
    assert made.device("=M1-Q1").rating == 20.0
    assert made.device("=M2-F1").specification == ""
    own = of_circuit(made, "converter to Lathe/main")
    assert {each.unit for each in own} == {"=M1"}
    assert {each.size for each in own if each.potential != "PE"} == {"2.5 mm2"}
    assert {each.size for each in own if each.potential == "PE"} == {"4 mm2"}
    long = [each for each in own if each.length_m is not None]
    assert sorted(each.potential for each in long) == ["L1", "L2", "L3", "PE"]
    assert all(each.from_.startswith("=G1-X4:") for each in long)


def test_a_drives_lead_is_as_long_as_its_circuit_and_its_isolator_stands_at_the_motor():
    made = with_circuits(
        on_drives([LATHE]),
        circuit("drive_to_motor", "drive_per_motor Lathe/main", "Lathe/main", "drive output",
                isolator=Isolator(25.0, 3, early_break=True)),
    )  # fmt: skip
    assert (made.device("=M1-Q6").rating, made.device("=M1-Q1").rating) == (25.0, None)
    long = {each.potential for each in made.conductors if each.length_m}
    assert long == {"U", "V", "W", "PE", "screen"}


@pytest.mark.parametrize(
    ("to", "resistor"),
    [
        ("run capacitor 3-1", "=G1-R31"),
        ("run capacitor 2-3", "=G1-R23"),
        ("start capacitor", "=G1-Rs.1"),
    ],
)
def test_a_capacitor_branch_gives_the_ohms_that_discharge_it(to, resistor):
    feed = circuit("supply_to_converter", "supply", "converter", "1-2", conductor="10 mm2")
    branch = circuit(
        "capacitor_branch", "converter", to, "1-2",
        discharge_ohm=exact(150e3, "ohm", "computed", "test"),
    )  # fmt: skip
    made = with_circuits(on_converter([LATHE]), feed, branch)
    assert made.device(resistor).rating == 150e3
    assert {each.size for each in of_circuit(made, branch.id)} == {"2.5 mm2"}
    assert all("=G1-C" in each.from_ + each.to for each in of_circuit(made, branch.id))
    inside = [each for each in made.conductors if each.to.startswith(("=G1-F11", "=G1-M1"))]
    assert not any(each.size for each in inside)


def test_a_control_circuit_of_its_own_begins_at_the_intake():
    setup = on_converter([LATHE, MILL])
    made = with_circuits(
        setup, circuit("control", "supply", "Lathe controls", "control",
                       device=Device("breaker", 6.0, "B")),
    )  # fmt: skip
    first = [each for each in made.conductors if each.to.startswith("=M1-F3:")]
    assert {each.from_ for each in first} == {"=G0-X1:L1", "=G0-X1:L2"}
    assert made.device("=M1-F3").specification == "B6 A"
    assert {each.length_m for each in first} == {9.0}
    second = [each for each in made.conductors if each.to.startswith("=M2-F3:")]
    assert {each.from_ for each in second} == {"=G0-X1:L1", "=G0-X1:L2"}
    assert not any(each.size for each in second)
