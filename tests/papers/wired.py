"""Invented shops with plans put together by hand, so that every kind of circuit is wired."""

from __future__ import annotations

from dataclasses import replace

from filled_study import fill
from hypothesis import strategies as st

from phasewright.files.shop_file import read_text
from phasewright.papers.wiring.plan import wiring_of
from phasewright.plan.study import PlanEquipment, PlanMotor, PlanSide, Study
from phasewright.quantities.value import exact
from phasewright.ways.figures import (
    Buy,
    Figures,
    IdlerStartFigures,
    Part,
    RunCapacitance,
    TravellingCapacitance,
)

PLATES = {
    "six": "power: 2.2 kW, voltage: 230/400 V, current: 8.6/5.0 A, speed: 1430 rpm, leads: 6",
    "star_delta": "power: 4 kW, voltage: 230/400 V, current: 14.4/8.3 A, speed: 1440 rpm, leads: 6",
    "nine": "power: 1.5 kW, voltage: 230/460 V, current: 6/3 A, speed: 1720 rpm, leads: 9",
    "nine_star": "power: 1.5 kW, voltage: 230/460 V, current: 6/3 A, speed: 1720 rpm, leads: 9, connection: YY/Y",
    "three": "power: 0.75 kW, voltage: 230 V, current: 3.3 A, speed: 1400 rpm, leads: 3",
    "two_speed": "power: 1.5/2.2 kW, voltage: 230 V, speed: 1420/2840 rpm, leads: 6, connection: D/YY",
}
STARTERS = {"star_delta": "star_delta", "two_speed": "two_speed_switch"}


def shop_of(motors, region="IEC", supply="single_phase"):
    """A shop of one motor a machine: (name, plate, starter or None, control volts or None)."""
    hertz = 60 if region == "NEC" else 50
    text = (
        f"phasewright: 1\nshop: Invented yard\nregion: {region}\n"
        f"supply: {{kind: {supply}, voltage: 230 V, frequency: {hertz} Hz, service_rating: 60 A}}\n"
        "machines:\n"
    )
    for name, plate, starter, volts in motors:
        text += f"  - name: {name}\n"
        text += f"    starter: {starter}\n" if starter else ""
        text += f"    control: {{voltage: {volts} V}}\n" if volts else ""
        text += f"    motors:\n      - name: main\n        plate: {{{PLATES[plate]}, frequency: {hertz} Hz}}\n"
    return read_text(text)


def connection_of(plate, high=False):
    """What the plan would say of a motor that is linked for 230 V, or for 400 V."""
    if high:
        return {"six": "star", "star_delta": "star"}.get(plate, "high_voltage")
    return {"six": "delta", "star_delta": "delta", "three": "fixed", "two_speed": "fixed"}.get(
        plate, "low_voltage"
    )


OWN = ("battery inverter", "generator")
"""Sources that give 400 V in an IEC region, whatever the supply."""
ONLY_LOW = ("three", "two_speed")
"""Plates that know one voltage."""


def part(kind, rating=1.0, unit="", quantity=1):
    return Part(kind, rating, unit, quantity, 1.0, "invented")


def buy(kind, serves, *parts, rating=1500.0, unit="W"):
    return Buy(kind, rating, unit, 1, 0, "new", tuple(serves), 1.0, "invented", parts)


def farads(number):
    return exact(number, "F", "computed", "test")


def converter_figures(first, second, start=0.0, method="direct"):
    """Figures of a converter with these cans between 3 and 1, and 2 and 3."""
    ohms = exact(4.0, "ohm", "computed", "test") if method == "series_resistor" else None
    second_f = exact(1.0, "s", "computed", "test")
    return Figures(
        run_capacitance_f=RunCapacitance(farads(0.0), farads(sum(second)), farads(sum(first))),
        start_capacitance_f=farads(start),
        idler_start=IdlerStartFigures(method, True, second_f, second_f, second_f, ohms, None, None),
    )


def built_parts(first, second, start=0.0, method="direct"):
    """Parts of a converter built of an idler and these cans."""
    cans = [part("run_capacitor", can, "F") for can in (*first, *second)]
    return (
        part("idler_motor", 4000.0, "W"), *cans,
        *([part("start_capacitor", start, "F"), part("drop_out_relay")] if start else []),
        part("contactor", 14.3, "A"), part("overload_relay", 14.3, "A"),
        part("phase_sequence_relay"),
        *([part("start_resistor", 4000.0, "W")] if method == "series_resistor" else []),
    )  # fmt: skip


def equipment(id, way, serves, figures=None, rating=4000.0):
    return PlanEquipment(id, way, rating, "W", None, tuple(serves), figures or Figures(), None)


def plan_of(shop, plates, ways, things=(), buys=()):
    """A plan: `ways` names each motor's way and what it hangs on."""
    motors = tuple(
        PlanMotor(
            f"{machine.name}/main", way, thing,
            None if way is None
            else connection_of(plate, shop.region == "IEC" and (way == "utility_service" or thing in OWN)),
            exact(8.6, "A", "plate", "test") if way else None, figures,
        )
        for machine, plate, (way, thing, figures) in zip(shop.machines, plates, ways, strict=True)
    )  # fmt: skip
    bare = fill(PlanSide, full=False)
    return replace(
        bare, id="p1", title="A plan put together by hand", motors=motors,
        equipment=tuple(things), buys=tuple(buys),
    )  # fmt: skip


def study_of(*plans):
    return replace(fill(Study, full=False), plans=plans, others=())


def wired(shop, plan):
    return wiring_of(shop, study_of(plan), plan)


def drive_parts(choke=True):
    return (part("drive_per_motor", 2200.0, "W"), part("isolator"),
            *([part("ac_choke", 2200.0, "W")] if choke else []))  # fmt: skip


def on_converter(
    motors,
    cans=((30e-6, 60e-6), (20e-6,)),
    start=4e-4,
    method="series_resistor",
    region="IEC",
    travels=(),
):
    """A shop on a self-built converter; `travels`: cans that go with the first motor."""
    shop = shop_of(motors, region)
    ids = [f"{machine.name}/main" for machine in shop.machines]
    bank = buy("rotary_converter", ids, *built_parts(*cans, start, method))
    own = [
        buy("rotary_converter", (name,), part("contactor", 9.0, "A"), part("overload_relay"))
        for name in ids
    ]
    figures = [Figures() for _ in ids]
    if travels:
        first = TravellingCapacitance(ids[0], farads(0.0), farads(sum(travels)))
        figures[0] = Figures(travelling_capacitance_f=(first,))
        own[0] = replace(
            own[0], parts=(*own[0].parts, *(part("run_capacitor", f, "F") for f in travels))
        )
    thing = equipment("converter", "rotary_converter", ids, converter_figures(*cans, start, method))
    ways = [("rotary_converter", "converter", one) for one in figures]
    plan = plan_of(shop, [plate for _, plate, _, _ in motors], ways, (thing,), (bank, *own))
    return shop, plan


def on_drives(motors, region="IEC"):
    """A shop with a drive for every motor."""
    shop = shop_of(motors, region)
    ids = [f"{machine.name}/main" for machine in shop.machines]
    buys = [buy("drive_per_motor", (name,), *drive_parts()) for name in ids]
    ways = [("drive_per_motor", f"drive_per_motor {name}", Figures()) for name in ids]
    things = [equipment(f"drive_per_motor {name}", "drive_per_motor", (name,)) for name in ids]
    return shop, plan_of(shop, [plate for _, plate, _, _ in motors], ways, things, buys)


NAMES = st.text("abcdefghijklmnopqrstuvwyzäöß ", min_size=1, max_size=28).map(
    lambda text: ("M " + " ".join(text.split())).strip()
)
CANS = st.lists(st.sampled_from([3e-6, 12.5e-6, 30e-6, 60e-6]), max_size=7).map(tuple)


class Drawn:
    """A wiring that was drawn at random, told in few words."""

    def __init__(self, wiring):
        self.wiring = wiring

    def __repr__(self):
        return f"{self.wiring.region} {[unit.title for unit in self.wiring.units]}"


@st.composite
def machines(draw):
    """One to six motors of any plate, with or without a switch and a control supply of their own."""
    names = draw(st.lists(NAMES, min_size=1, max_size=6, unique=True))
    made = []
    for name in names:
        plate = draw(st.sampled_from(sorted(PLATES)))
        starter = STARTERS.get(plate) or draw(st.sampled_from([None, "reversing_drum", "direct"]))
        made.append((name, plate, starter, draw(st.sampled_from([None, 24, 110, 230]))))
    return made


@st.composite
def wirings(draw):
    """The wiring of a random shop with a plan that mixes what there is."""
    motors = draw(machines())
    region = draw(st.sampled_from(["IEC", "NEC"]))
    shop = shop_of(motors, region)
    ids = [f"{machine.name}/main" for machine in shop.machines]
    shared = draw(st.sampled_from(["built", "ready", "battery", "generator", "service", "drive"]))
    hung = [name for name in ids if draw(st.booleans())] or ids[:1]
    if shared in ("service", "battery", "generator") and region == "IEC":
        low = {f"{name}/main" for name, plate, _, _ in motors if plate in ONLY_LOW}
        hung = [name for name in hung if name not in low]
    first, second = draw(CANS), draw(CANS)
    start = draw(st.sampled_from([0.0, 4e-4]))
    method = draw(st.sampled_from(["direct", "series_resistor", "pony_motor"]))
    way, thing = {
        "built": ("rotary_converter", "converter"), "ready": ("rotary_converter", "converter"),
        "battery": ("electronic_converter", "battery inverter"),
        "generator": ("electronic_converter", "generator"),
        "service": ("utility_service", "three-phase service"),
        "drive": ("shared_drive", "shared drive"),
    }[shared]  # fmt: skip
    parts = {
        "built": built_parts(first, second, start, method),
        "ready": (part("rotary_converter", 4000.0, "W"), part("undervoltage_release")),
        "battery": (part("battery_inverter", 4000.0, "W"), part("battery", 5.0, "kWh")),
        "generator": (part("generator_used", 4000.0, "W"),), "drive": drive_parts(),
    }.get(shared, (part(way),))  # fmt: skip
    figures = converter_figures(first, second, start, method) if shared == "built" else None
    ways, buys, things = [], [buy(way, hung, *parts)], [equipment(thing, way, hung, figures)]
    for name in ids:
        if name in hung:
            ways.append((way, thing, Figures()))
            continue
        own = draw(st.sampled_from(["drive_per_motor", "static_converter", None]))
        ways.append((own, own and f"{own} {name}", Figures()))
        if own:
            buys.append(
                buy(
                    own,
                    (name,),
                    *(drive_parts(draw(st.booleans())) if "drive" in own else (part(own),)),
                )
            )
    plan = plan_of(shop, [plate for _, plate, _, _ in motors], ways, things, buys)
    return Drawn(wired(shop, plan))
