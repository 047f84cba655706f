"""Invented yards put together by hand, each for circuits that few shops have."""

from __future__ import annotations

from dataclasses import replace

from filled_study import fill
from papers.wired import (
    buy,
    converter_figures,
    drive_parts,
    equipment,
    farads,
    part,
    plan_of,
    study_of,
)

from phasewright.circuits.installation import (
    Device,
    Isolator,
    PhaseRelay,
    ResidualCurrentDevice,
    Socket,
)
from phasewright.files.shop_file import read_text
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.circuit_study import PlanCircuit
from phasewright.plan.study import PlanMotor
from phasewright.quantities.value import exact
from phasewright.ways.figures import (
    BrakeResistorFigures,
    EmergencyStopFigures,
    Figures,
    StoppingFigures,
)

PLATE = "power: 2.2 kW, voltage: 230/400 V, current: 8.6/5.0 A, speed: 1430 rpm, leads: 6"


def shop_of(*machines, supply="kind: single_phase", more=""):
    """A shop of one voltage: (name, further keys of the machine, names of its motors)."""
    text = (
        "phasewright: 1\nshop: Invented yard\nregion: IEC\nsupply: "
        f"{{{supply}, voltage: 230 V, frequency: 50 Hz, service_rating: 60 A}}\n{more}machines:\n"
    )
    for name, keys, *motors in machines:
        text += f"  - name: {name}\n" + "".join(f"    {key}\n" for key in keys) + "    motors:\n"
        for motor in motors or ["main"]:
            text += f"      - name: {motor}\n        plate: {{{PLATE}, frequency: 50 Hz}}\n"
    return read_text(text)


def owned(shop):
    """Motors of the machines that are there."""
    return [
        f"{m.name}/{motor.name}" for m in shop.machines if m.have == "owned" for motor in m.motors
    ]


def planned(shop, ways, things=(), buys=(), circuits=None, high=False):
    """A plan by motor in the order of the file: (way, equipment, figures)."""
    names = owned(shop)
    bare = plan_of(replace(shop, machines=()), [], [], things, buys)
    motors = tuple(
        fill_motor(name, *way, connection="star" if high else "delta")
        for name, way in zip(names, ways, strict=True)
    )
    plan = replace(bare, motors=motors, circuits=circuits)
    return wiring_of(shop, study_of(plan), plan)


def fill_motor(name, way, thing, figures, connection):
    """A motor as built, its overload relay set to its plate."""
    return PlanMotor(name, way, thing, connection, exact(8.6, "A", "plate", "test"), figures)


def seconds(number):
    return exact(number, "s", "computed", "test")


def stopping(category):
    """What the plan says of a drive's stop."""
    return Figures(
        emergency_stop=EmergencyStopFigures(category, f"A stop of category {category}."),
        stopping=StoppingFigures("ramp", seconds(3.0)),
    )


def circuit(role, from_, to, lines="1-2", volts=230.0, **facts):
    """A circuit of a plan with these facts and no others."""
    given = {
        "conductor": "2.5 mm2", "length_m": exact(9.0, "m", "stated", "test"),
        "device": Device("breaker", 16.0, "C"), "voltage_v": exact(volts, "V", "stated", "test"),
        **facts,
    }  # fmt: skip
    return replace(
        fill(PlanCircuit, full=False), id=f"{from_} to {to}", role=role, from_=from_, to=to,
        lines=lines, **given,
    )  # fmt: skip


def on_contactors(shop, circuits=None, source="converter", way="rotary_converter", high=False):
    """Every motor on one source."""
    names = owned(shop)
    parts = {
        "converter": (part("rotary_converter", 4000.0, "W"), part("undervoltage_release")),
        "battery inverter": (part("battery_inverter", 6e3, "W"), part("battery", 5.0, "kWh")),
    }[source]  # fmt: skip
    thing = equipment(source, way, names)
    ways = [(way, source, Figures())] * len(names)
    return planned(shop, ways, (thing,), (buy(way, names, *parts),), circuits, high)


def on_drive(shop, figures, *more, circuits=None):
    """The first motor on a drive of its own with further parts; the others on it too, plainly."""
    names = owned(shop)
    buys = [
        buy("drive_per_motor", (name,), *drive_parts(), *(more if k == 0 else ()))
        for k, name in enumerate(names)
    ]
    things = [equipment(f"drive_per_motor {name}", "drive_per_motor", (name,)) for name in names]
    ways = [
        ("drive_per_motor", f"drive_per_motor {name}", figures if k == 0 else Figures())
        for k, name in enumerate(names)
    ]
    return planned(shop, ways, things, buys, circuits)


SPRING = ["brake: {kind: spring_electric, coil: 180 V, fed_from: motor terminals}"]
INJECTION = ["brake: {kind: dc_injection, fed_from: two lines}"]


def brakes_on_lines():
    """A spring brake whose coil needs a rectifier, one on the lines' own volts, a DC unit."""
    own = ["brake: {kind: spring_electric, coil: 230 V}"]
    return on_contactors(shop_of(("Hoist", SPRING), ("Lathe", own), ("Saw", INJECTION)))


def brake_on_own_lines():
    """A spring brake of 230 V on a source that gives 400 V between its lines."""
    own = ["brake: {kind: spring_electric, coil: 230 V}"]
    source = ("battery inverter", "electronic_converter")
    return on_contactors(shop_of(("Hoist", own)), None, *source, high=True)


def whole_drive():
    """A drive with resistor, link choke, output choke and a spring brake; category 1."""
    figures = replace(
        stopping(1),
        brake_resistor=BrakeResistorFigures(
            *(exact(x, unit, "computed", "test") for x, unit in
              ((60.0, "ohm"), (40.0, "ohm"), (300.0, "W"), (2e3, "W"), (0.1, "")))
        ),
    )  # fmt: skip
    more = (part("brake_resistor", 500.0, "W"), part("dc_choke", 2e-3, "H"),
            part("output_choke", 2200.0, "W"))  # fmt: skip
    return on_drive(shop_of(("Saw", SPRING)), figures, *more)


def drum_by_ramp():
    """A drum moved to a drive whose emergency stop is of category 1."""
    return on_drive(shop_of(("Mill", ["starter: reversing_drum"])), stopping(1))


def one_stop_for_two():
    """A machine of two motors, one on a drive, one on a contactor: one head stops both."""
    shop = shop_of(("Press", [], "pump", "feed"))
    thing = equipment("converter", "rotary_converter", ("Press/pump",))
    drive = equipment("drive_per_motor Press/feed", "drive_per_motor", ("Press/feed",))
    buys = (
        buy("rotary_converter", ("Press/pump",), part("rotary_converter", 4000.0, "W")),
        buy("drive_per_motor", ("Press/feed",), *drive_parts()),
    )
    ways = [("rotary_converter", "converter", Figures()),
            ("drive_per_motor", "drive_per_motor Press/feed", stopping(1))]  # fmt: skip
    return planned(shop, ways, (thing, drive), buys)


def two_idlers_and_pony():
    """A converter of two idlers, the first turned up by a pony motor; two start cans."""
    shop = shop_of(("Lathe", []))
    cans = [part("run_capacitor", f, "F") for f in (40e-6, 30e-6)]
    idlers = [part(kind, 14.3 if "relay" in kind or kind == "contactor" else 4e3, unit)
              for kind, unit in (("idler_motor", "W"), ("contactor", "A"), ("overload_relay", "A"))
              for _ in range(2)]  # fmt: skip
    parts = (*idlers, *cans, part("start_capacitor", 2e-4, "F", 2), part("bleeder", 1.0, "", 2),
             part("drop_out_relay"), part("phase_sequence_relay"), part("pony_motor"))  # fmt: skip
    thing = equipment("converter", "rotary_converter", ("Lathe/main",),
                      converter_figures((40e-6,), (30e-6,), 4e-4, "pony_motor"))  # fmt: skip
    branch = circuit(
        "capacitor_branch", "converter", "start capacitor", volts=250.0, device=None,
        discharge_ohm=exact(150e3, "ohm", "computed", "test"), capacitance_f=farads(4e-4),
    )  # fmt: skip
    return planned(
        shop, [("rotary_converter", "converter", Figures())], (thing,),
        (buy("rotary_converter", ("Lathe/main",), *parts),), (branch,),
    )  # fmt: skip


LEAK = ResidualCurrentDevice(30.0, "A")


def plugs():
    """A machine of two motors, each with a plug on the converter, and a proof of the sequence."""
    socket = Socket(16.0, "blue 3P+E 9 h", 3, 230.0)
    relay = PhaseRelay(200.0, 0.05, 2.0)
    circuits = []
    for motor in ("pump", "feed"):
        circuits += [
            circuit("converter_to_outlet", "converter", "Press socket", "1-2-3", socket=socket,
                    residual_current=LEAK, isolator=Isolator(20.0, 3), phase_relay=relay),
            circuit("outlet_to_machine", "Press socket", f"Press/{motor}", "1-2-3",
                    conductor="1.5 mm2", device=None, length_m=exact(4.0, "m", "stated", "test")),
        ]  # fmt: skip
    circuits.append(circuit("control", "supply", "Press controls", "control",
                            device=Device("breaker", 6.0, "B"), residual_current=LEAK))  # fmt: skip
    return on_contactors(shop_of(("Press", ["connects_by: plug"], "pump", "feed")), tuple(circuits))


def with_neutral():
    """A machine that needs a neutral on a battery inverter that brings one."""
    circuits = (
        circuit("supply_to_converter", "supply", "battery inverter", isolator=Isolator(20.0, 2)),
        circuit("converter_to_machine", "battery inverter", "Lathe/main", "1-2-3", 400.0,
                isolator=Isolator(20.0, 3), residual_current=LEAK),
    )  # fmt: skip
    return on_contactors(
        shop_of(("Lathe", ["needs_neutral: true"])), circuits, "battery inverter",
        "electronic_converter", high=True,
    )  # fmt: skip


def two_buildings():
    """The converter and its machine in another building, on a feeder with a residual device."""
    more = (
        "places:\n  - {name: shed, feeder: {length: 40 m, conductor: 10 mm2, breaker: C32}, electrode: 60 ohm, "
        "residual_current: {rating: 300 mA, type: A}}\n"
    )
    circuits = (
        circuit("supply_to_converter", "supply shed", "converter", isolator=Isolator(20.0, 2)),
        circuit("converter_to_machine", "converter", "Saw/main", "1-2-3"),
        circuit("control", "supply shed", "Saw controls", "control"),
    )  # fmt: skip
    return on_contactors(shop_of(("Saw", ["place: shed"]), more=more), circuits)


def behind_transformer():
    """A motor for 400 V on a drive behind a transformer, with what stands behind that."""
    shop = shop_of(("Saw", []))
    name = "transformer Saw/main"
    parts = (part("three_phase_input_drive", 2200.0, "W"), part("isolator"),
             part("isolating_transformer", 4000.0, "VA"), part("ac_choke", 2e-3, "H"),
             part("breaker_two_pole", 16.0, "A"), part("residual_current_b"))  # fmt: skip
    circuits = (
        circuit("supply_to_transformer", "supply", name, isolator=Isolator(20.0, 2)),
        circuit("transformer_to_drive", name, "step_up_drive Saw/main", volts=400.0,
                isolator=Isolator(20.0, 2), residual_current=ResidualCurrentDevice(30.0, "B")),
        circuit("drive_to_motor", "step_up_drive Saw/main", "Saw/main", "drive output", 400.0,
                device=None, isolator=Isolator(20.0, 3, early_break=True)),
    )  # fmt: skip
    return planned(
        shop, [("step_up_drive", "step_up_drive Saw/main", Figures())],
        (equipment("step_up_drive Saw/main", "step_up_drive", ("Saw/main",)),),
        (buy("step_up_drive", ("Saw/main",), *parts),), circuits, high=True,
    )  # fmt: skip


def with_a_machine_to_come():
    """A machine that may come in two years."""
    coming = ["have: planned", "year: 2", "chance: 0.7"]
    return on_contactors(shop_of(("Saw", []), ("Planer", coming)))


SPECIAL = {
    made.__name__.replace("_", " "): made()
    for made in (brakes_on_lines, brake_on_own_lines, whole_drive, drum_by_ramp, one_stop_for_two, two_idlers_and_pony,
                 plugs, with_neutral, two_buildings, behind_transformer, with_a_machine_to_come)
}  # fmt: skip
