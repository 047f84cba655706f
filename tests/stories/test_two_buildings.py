"""A yard with a barn on a feeder of its own: relations between its cable and the answer.

Resistances by hand from IEC 60228 (10 mm2 copper 1.83 ohm, 4 mm2 4.61 ohm a kilometre at 20 °C)
and 0.393 % a kelvin; what a cable carries from IEC 60364-5-52 (10 mm2 PVC in a duct in the ground,
two loaded conductors: 60 A, three: 50 A; from memory).
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from stories.yard import barn, choice, facts, fed, feeder, judged, moved, yard

from phasewright.files.result_file import workings
from phasewright.job.check import check
from phasewright.job.study import study
from phasewright.network.impedance import supply_impedance
from phasewright.plan.answer import answer
from phasewright.plan.facts import facts_of
from phasewright.plan.missing import missing_of
from phasewright.plan.places import sites_of
from phasewright.plan.search import solve
from phasewright.quantities.value import exact
from phasewright.shop.supply import Place
from phasewright.tables.sizes import DRIVE_OUTPUT_A as SIZES_A
from phasewright.tables.sizes import DRIVE_SIZES_W as SIZES_W
from phasewright.ways.on_converter import hang
from phasewright.ways.on_two_lines import linked, standstill
from phasewright.ways.shared_source import Served
from phasewright.ways.site_of import site_of

SAW, FAN, LATHE = "Bandsaw/wheel", "Extractor/fan", "Lathe/spindle"
ALONE = ("static_converter", "capacitor_run")
COPPER_AT_40 = 1.0 + 0.00393 * 20.0


def intake_of(shop):
    return site_of(shop, supply_impedance(shop.supply, shop.region))


def celsius(number):
    return exact(number, "°C", "stated", "test")


@pytest.fixture(scope="module")
def whole():
    return answer(yard(), quick=True).to_dict()


# the impedance


def test_the_barn_has_the_supply_and_its_cable_there_and_back():
    (there,), intake = sites_of(yard()), intake_of(yard())
    own = 2.0 * 60.0 * 1.83e-3 * COPPER_AT_40
    assert there.source.resistance_ohm - intake.source.resistance_ohm == pytest.approx(own)
    assert there.resistance_ohm.high - intake.resistance_ohm.high == pytest.approx(
        2.0 * 60.0 * 1.83e-3 * (1.0 + 0.00393 * 50.0)
    )
    assert there.source.reactance_ohm > intake.source.reactance_ohm


def test_warm_air_raises_the_cables_resistance_and_lowers_what_it_carries():
    usual, warm = (
        sites_of(barn(ambient=celsius(air), feeder=replace(feeder(60.0, 10.0), method="C")))[0]
        for air in (25.0, 45.0)
    )
    ohm = [of.source.resistance_ohm for of in (usual, warm)]
    more = 2.0 * 60.0 * 1.83e-3 * 0.00393 * 15.0
    assert ohm[1] - ohm[0] == pytest.approx(more)
    amps = [of.feeder.current_a.number for of in (usual, warm)]
    assert amps == pytest.approx([63.0, 63.0 * 0.79])


def test_the_ground_stays_cool():
    (of,) = sites_of(barn(ambient=celsius(45.0)))
    assert of.feeder.current_a.number == 60.0
    assert of.feeder_three.current_a.number == 50.0


def test_aluminium_carries_less_and_drops_more():
    copper, aluminium = (
        sites_of(barn(feeder=feeder(60.0, 25.0, material=metal)))[0]
        for metal in ("copper", "aluminium")
    )
    assert aluminium.feeder.current_a.number < copper.feeder.current_a.number
    # 99 A of copper; IEC 60364-5-52 gives 77 A for aluminium in a duct in the ground (from memory)
    assert aluminium.feeder.current_a.low < 77.0 < aluminium.feeder.current_a.high
    assert aluminium.source.resistance_ohm > copper.source.resistance_ohm


# a longer or a thinner feeder


LADDERS = [("none", "short", "usual", "long", "longest"), ("usual", "thin", "longest")]


@pytest.mark.parametrize("ladder", LADDERS)
@pytest.mark.parametrize("motor", [SAW, FAN])
def test_a_longer_or_thinner_feeder_never_helps_a_start(ladder, motor):
    """The verdict of the two ways without an idler; the capacitors are chosen anew each time."""
    for way in ALONE:
        found = [judged(facts(name), motor, way) for name in ladder]
        dips = [each.figures.voltage_dip_ratio.number for each in found]
        assert dips == sorted(dips)
        assert dips[-1] > dips[0]
        refusals = [any(r.code == "does_not_start" for r in each.reasons) for each in found]
        assert refusals == sorted(refusals)


@pytest.mark.parametrize("ladder", LADDERS)
@pytest.mark.parametrize("motor", [SAW, FAN])
def test_with_the_same_things_it_never_dips_less_nor_heaves_more(ladder, motor):
    """The same capacitors, and the same converter in the barn, behind every cable."""
    of = facts()
    task = next(unit.task for unit in of.units if unit.id == motor)
    one = linked(task.motor)
    design = next(on.design for on in of.shared if on.way == "rotary_converter")
    alone, hung = [], []
    for name in ladder:
        source = facts(name).site_at("barn").source
        alone.append(standstill(source, one, 20e-6, 100e-6))
        hung.append(hang(source, design.converter, one, 0.5, 0.8))
    for starts, heave in (
        (alone, [each.torque_ratio for each in alone]),
        (hung, [each.starting_torque_ratio for each in hung]),
    ):
        dips = [each.dip_ratio for each in starts]
        assert dips == sorted(dips)
        assert dips[0] < dips[-1]
        assert heave == sorted(heave, reverse=True)


def test_a_machine_at_the_intake_does_not_feel_the_barns_cable():
    short, long = (facts(name) for name in ("short", "longest"))
    for way in (*ALONE, "drive_per_motor"):
        one, other = (judged(of, LATHE, way) for of in (short, long))
        assert one.verdict == other.verdict
        assert one.figures.price.number == other.figures.price.number
        if way in ALONE:
            dips = [each.figures.voltage_dip_ratio.number for each in (one, other)]
            assert dips[0] == dips[1]


def test_a_feeder_too_thin_for_the_motor_is_named():
    of = facts_of(barn(feeder=replace(feeder(20.0, 1.5), method="A2")))
    found = judged(of, SAW, "drive_per_motor")
    assert found.verdict == "refused"
    assert found.reasons[0].code == "supply_too_small"
    assert "the feeder of the barn leaves 14.0 A" in found.reasons[0].words


def test_no_larger_feeder_makes_a_set_refused_and_no_smaller_one_lets_it_pass():
    """A set that a thin cable bears, a thick one of the same volts lost bears too."""
    thin, thick = (choice(facts_of(barn(feeder=feeder(length, area))))
                   for length, area in ((20.0, 1.5), (20.0, 16.0)))  # fmt: skip
    for option in range(len(thin.options)):
        if thin.options[option] in thick.options and not thin.options[option].shared:
            other = thick.options.index(thin.options[option])
            if thin.admission(0, ((0, option), (1, option))):
                assert thick.admission(0, ((0, other), (1, other)))


# sets


def test_a_set_must_fit_the_feeder_of_its_place():
    of = facts()
    chosen = choice(of)
    drive = next(k for k, option in enumerate(chosen.options) if option.way == "drive_per_motor")
    both = ((0, drive), (1, drive))
    assert [unit.place for unit in of.units] == ["barn", "barn", ""]
    taken = chosen.admission.feeder_a(0, both, "barn")
    assert taken == pytest.approx(chosen.admission.supply_a(0, both))
    assert chosen.admission(0, both)
    site = of.site_at("barn")
    for share, passes in ((1.001, True), (0.999, False)):
        limit = replace(site.feeder, current_a=exact(share * taken, "A", "stated", "test"))
        tight = choice(replace(of, places=(replace(site, feeder=limit),)))
        assert tight.admission(0, both) is passes
        assert tight.admission(0, ((2, drive),))


def test_adding_load_never_makes_a_refused_set_pass():
    of = facts("thin")
    site = of.site_at("barn")
    limits = {
        name: replace(getattr(site, name), current_a=exact(17.0, "A", "stated", "test"))
        for name in ("feeder", "feeder_three")
    }
    tight = choice(replace(of, places=(replace(site, **limits),)))
    every = [
        [k for k in range(len(tight.options)) if tight.ledger.service(u, tight.options[k], state)]
        for u in range(2)
        for state in tight.states[:1]
    ]
    refused = 0
    for state in range(len(tight.states)):
        for one in every[0]:
            alone = tight.admission(state, ((0, one),))
            for other in every[1]:
                beside = tight.admission(state, ((1, other),))
                if not (alone and beside):
                    refused += 1
                    assert not tight.admission(state, ((0, one), (1, other)))
    assert refused


# what is shared


def test_what_is_shared_stands_at_the_intake_or_where_machines_stand():
    of = facts()
    rotary = [on for on in of.shared if on.way == "rotary_converter"]
    assert {on.place for on in rotary} == {"", "barn"}
    for on in of.shared:
        hung = {of.units[k].id for k in range(3) if isinstance(on.served[k], Served)}
        if on.place == "barn":
            assert hung <= {SAW, FAN}
            assert on.served[2][0].code == "stands_elsewhere"
        if on.phases is not None:
            assert on.place == ""
    assert any(isinstance(on.served[2], Served) for on in rotary if on.place == "")


def test_a_converter_in_the_barn_is_the_one_of_a_shop_that_is_only_the_barn():
    only = replace(yard(), machines=tuple(m for m in yard().machines if m.place == "barn"))
    here = [on for on in facts().shared if on.way == "rotary_converter" and on.place == "barn"]
    there = [on for on in facts_of(only).shared if on.way == "rotary_converter"]
    assert [on.rating for on in here] == [on.rating for on in there]
    for one, other in zip(here, there, strict=True):
        assert one.own_start == other.own_start
        assert one.design == other.design
        assert other.place == "barn"


def test_over_the_feeder_of_a_thing_at_the_intake_run_the_motors_own_line_amps():
    of = facts()
    chosen = choice(of)
    state = next(
        k for k, s in enumerate(chosen.states)
        if s.way == "rotary_converter" and of.shared[s.shared].place == ""
        and all(isinstance(one, Served) for one in of.shared[s.shared].served[:2])
    )  # fmt: skip
    on = next(k for k, option in enumerate(chosen.options) if option.way == "rotary_converter")
    for units in ((0,), (1,), (0, 1)):
        running = tuple((unit, on) for unit in units)
        turning = chosen.admission.turning(state, units)
        ids = {of.units[unit].id for unit in units}
        lines = [m.line_currents_a for m in turning.lines.machines if m.name in ids]
        most = max(sum(amps) for amps in zip(*lines, strict=True))
        assert chosen.admission.feeder_a(state, running, "barn") == pytest.approx(most)
        limit = chosen.admission.feeder_limit(state, running, of.site_at("barn"))
        assert limit.current_a.number == 50.0
    assert chosen.admission.feeder_a(state, ((2, on),), "barn") == 0.0


def test_one_place_costs_no_more_candidates_than_no_place():
    none = facts_of(moved(fed("usual"), ""))
    one = facts_of(moved(fed("none"), "barn"))
    assert len(one.shared) == len(none.shared)
    assert {on.place for on in one.shared if on.phases is None} == {"barn"}


# the answer


def without_place(circuit):
    """A circuit without the name of its place."""
    here = {k: v for k, v in circuit.items() if k != "place"}
    return {k: v.replace("supply barn", "supply") if isinstance(v, str) else v
            for k, v in here.items()}  # fmt: skip


def figures_of(result):
    """The result without the names of places and without what is told of them."""
    result = {**result}
    for key in ("made", "places", "missing", "findings", "supply", "assumed", "sources"):
        result.pop(key)
    result["plans"] = [
        {
            **{k: v for k, v in plan.items() if k not in ("findings", "voltage_dip")},
            "dip": plan.get("voltage_dip", {}).get("ratio"),
            "equipment": [
                {k: v for k, v in one.items() if k != "place"} for one in plan["equipment"]
            ],
            "circuits": [without_place(each) for each in plan["circuits"]],
            "circuit_parts": [without_place(each) for each in plan["circuit_parts"]],
        }
        for plan in result["plans"]
    ]
    return result


def test_a_feeder_of_no_length_is_no_place():
    plain = replace(yard().places[0], dust=False, electrode=None, residual_current=None)
    bare = replace(yard(), places=(replace(plain, feeder=feeder(0.0, 10.0)),))
    with_place, without = (
        answer(shop, quick=True).to_dict() for shop in (bare, replace(moved(bare, ""), places=()))
    )
    assert figures_of(with_place) == figures_of(without)
    (side,) = with_place["places"]
    assert side["impedance_ohm"] == with_place["supply"]["impedance_ohm"]
    assert "limit_a" not in side


def without_earth(result):
    """Without what an electrode and a device of the barn's own change (circuits with what they cost,
    faults of line 3),
    and without harmonics and effects on the network: those of a barn are told at the intake, ahead
    of the cable, and there each drive has the cable to itself."""
    result = figures_of(result)
    for plan in result["plans"]:
        plan.pop("circuits")
        for key in ("circuit_parts", "circuits_cost", "network_effects", "purchase_with_circuits",
                    "lifetime_cost_with_circuits"):  # fmt: skip
            plan.pop(key, None)
        for case in plan["cases"]:
            case.pop("harmonics", None)
        for each in (*plan["motors"], *plan["equipment"]):
            each.get("figures", {}).pop("line3_earth_fault_a", None)
            each.get("figures", {}).pop("circuit_rating_a", None)
    return result


def test_all_machines_in_the_barn_are_as_with_the_cable_ahead_of_the_whole_shop():
    place = replace(yard().places[0], dust=False)
    in_barn = moved(replace(yard(), places=(place,)), "barn")
    ahead = replace(
        moved(yard(), ""), places=(), supply=replace(yard().supply, feeder=place.feeder)
    )
    one, other = (answer(shop, quick=True).to_dict() for shop in (in_barn, ahead))
    assert without_earth(one) == without_earth(other)
    assert one["places"][0]["impedance_ohm"] == other["supply"]["impedance_ohm"]
    assert one["supply"]["impedance_ohm"]["r"] < other["supply"]["impedance_ohm"]["r"]
    assert "the barn" in one["plans"][0]["voltage_dip"]["where"]


def test_order_and_names_of_places_change_no_figure(whole):
    unused = Place(name="attic", feeder=feeder(500.0, 1.5))
    (place,) = yard().places
    other = replace(
        yard(),
        places=(unused, replace(place, name="Zwinger")),
        machines=tuple(
            replace(m, place="Zwinger" if m.place else "") for m in yard().machines
        ),
    )  # fmt: skip
    found = answer(other, quick=True).to_dict()
    assert [side["name"] for side in found["places"]] == ["Zwinger"]
    assert [p["lifetime_cost"] for p in found["plans"]] == [
        p["lifetime_cost"] for p in whole["plans"]
    ]
    assert found["places"][0] | {"name": "barn"} == whole["places"][0]


def test_the_answer_tells_its_places(whole):
    (side,) = whole["places"]
    ohm = side["impedance_ohm"]
    assert side["fault_current_a"] == pytest.approx(
        230.0 / (ohm["r"] ** 2 + ohm["x"] ** 2) ** 0.5, rel=1e-6
    )
    assert side["limit_a"] in (60.0, 50.0)
    assert 0.0 < side["headroom_a"] < side["limit_a"]
    assert side["fault_current_a"] < whole["supply"]["fault_current_a"]
    shared = [
        (one.get("place"), plan["title"])
        for plan in whole["plans"]
        for one in plan["equipment"]
        if one["way"] in ("rotary_converter", "electronic_converter")
    ]
    assert shared
    for place, title in shared:
        assert ("in the barn" if place == "barn" else "at the intake") in title


def test_every_figure_of_a_place_opens_its_working():
    told = workings(study(yard(), quick=True))
    for pointer in ("impedance_ohm/r", "impedance_ohm/x", "fault_current_a", "limit_a",
                    "headroom_a"):  # fmt: skip
        working = told[f"/places/0/{pointer}"]
        assert working["inputs"]
        assert working["source"]


def test_what_must_run_over_the_feeder_as_three_lines_is_a_condition(whole):
    """The finding stands with every plan that hangs a motor of the barn on a thing elsewhere."""
    for plan in whole["plans"]:
        hung = {
            one
            for each in plan["equipment"]
            if each["way"] in ("rotary_converter", "electronic_converter", "utility_service")
            and each.get("place") != "barn"
            for one in each["serves"]
        }
        told = any(f.endswith("place.third_conductor:barn") for f in plan["findings"])
        assert told == bool(hung & {SAW, FAN})


# the air and the dust


def test_height_and_warmth_leave_less_of_motors_and_drives():
    high = exact(2500.0, "m", "stated", "test")
    usual = facts()
    for changes, share in (({"altitude": high}, 0.85), ({"ambient": celsius(50.0)}, 0.80)):
        of = facts_of(barn(**changes))
        one, other = (judged(each, SAW, "drive_per_motor") for each in (usual, of))
        before, after = (each.figures.usable_power_w.number for each in (one, other))
        assert after < before
        # 1 % a 100 m, 2 % a kelvin: of the drive's own amps so much is left
        rating, amps = other.figures.drive_rating_w.number, other.figures.drive_rating_a.number
        assert rating >= one.figures.drive_rating_w.number
        assert amps == pytest.approx(share * dict(zip(SIZES_W, SIZES_A, strict=True))[rating])
        spare = [judged(each, SAW, "capacitor_run").figures.usable_by_heat_w.number
                 for each in (usual, of)]  # fmt: skip
        assert spare[1] < spare[0]


def test_usual_air_changes_nothing():
    told = barn(ambient=celsius(30.0), altitude=exact(900.0, "m", "stated", "test"))
    one, other = facts(), facts_of(told)
    for way in (*ALONE, "drive_per_motor", "rotary_converter"):
        assert judged(one, SAW, way).figures == judged(other, SAW, way).figures


def test_dust_asks_for_a_closed_box_and_warns_of_a_hot_idler():
    dusty, clean = facts(), facts_of(barn(dust=False))
    boxed, bare = (judged(of, SAW, "drive_per_motor") for of in (dusty, clean))
    # 60 + 15 a kW, an illustrative price
    assert boxed.figures.price.number - bare.figures.price.number == pytest.approx(
        60.0 + 15.0 * boxed.figures.drive_rating_w.number / 1000.0
    )
    assert any(c.code == "dust_tight" for c in boxed.conditions)
    rotary = [judged(of, SAW, "rotary_converter") for of in (dusty, clean)]
    assert [any(c.code == "idler_in_dust" for c in each.conditions) for each in rotary] == [
        True, False,
    ]  # fmt: skip
    at_intake = [judged(of, LATHE, "drive_per_motor").figures for of in (dusty, clean)]
    assert at_intake[0] == at_intake[1]


def test_frost_is_told_and_changes_no_figure():
    cold = facts_of(barn(ambient=celsius(-15.0)))
    one, other = (judged(of, SAW, "drive_per_motor") for of in (facts(), cold))
    assert one.figures == other.figures
    assert any("freezes" in each.words for each in other.reasons)


# questions


def asked(shop):
    chosen = choice(facts_of(shop))
    return {each.path for each in missing_of(chosen, solve(chosen.problem))}


def test_a_place_without_a_feeder_is_asked_about():
    assert not any("feeder" in path for path in asked(yard()))
    assert "places[0].feeder" in asked(barn(feeder=None))
    half = replace(feeder(60.0, 10.0), conductor=None)
    assert "places[0].feeder.conductor" in asked(barn(feeder=half))
    assert "places[0].feeder" not in asked(replace(barn(feeder=None), machines=(
        yard().machines[2],)))  # fmt: skip


def test_a_residual_current_device_of_the_place_counts_for_what_stands_there():
    key = "supply.residual_current"
    assert key in asked(yard())  # the lathe at the intake has none
    assert key not in asked(moved(yard(), "barn"))


def test_what_of_a_feeder_is_not_known_is_told():
    half = replace(feeder(60.0, 10.0), conductor=None)
    told = answer(barn(feeder=half), quick=True)
    assert any(each.id == "place.feeder_not_known:barn" for each in told.findings)
    large = answer(barn(feeder=feeder(60.0, 300.0)), quick=True)
    assert any(each.id == "place.feeder_limit_not_known:barn" for each in large.findings)
    assert large.places[0].limit_a is None


def test_a_feeder_of_which_it_is_not_told_how_it_is_laid_is_an_assumption():
    how = "places[0].feeder.method"
    bare = barn(feeder=replace(feeder(60.0, 10.0), method=None))
    told = {each.path: each.value for each in check(bare).assumed}
    # 10 mm2 with two loaded conductors: A2 43, D1 60, E 70 A
    assert (told[how].low, told[how].number, told[how].high) == (43.0, 60.0, 70.0)
    assert how not in {each.path for each in check(yard()).assumed}
