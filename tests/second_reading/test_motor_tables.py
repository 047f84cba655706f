"""Rows of the motor tables typed a second time from their sources, as text."""

from __future__ import annotations

import pytest

from phasewright.tables.currents import full_load_current_a
from phasewright.tables.efficiency import ie1_efficiency, nema_efficiency
from phasewright.tables.motors import part_load_no_load_ratio
from phasewright.tables.published import table
from phasewright.tables.starting import (
    code_letter_range,
    design_n_greatest_current_a,
    design_n_minimum,
    greatest_locked_current_a,
    mg1_minimum,
)

HP = 745.699872

# UK SI 2021/745 Sch. 16: coefficient, then 2, 4, 6, 8 poles
LARGE = {
    "IE2": "A 0.2972 0.0278 0.0148 2.1311; B -3.3454 -1.9247 -2.4978 -12.029; "
    "C 13.0651 10.4395 13.247 26.719; D 79.077 80.9761 77.5603 69.735",
    "IE3": "A 0.3569 0.0773 0.1252 0.7189; B -3.3076 -1.8951 -2.613 -5.1678; "
    "C 11.6108 9.2984 11.9963 15.705; D 82.2503 83.7025 80.4769 77.074",
    "IE4": "A 0.34 0.2412 0.3598 0.6556; B -3.0479 -2.3608 -3.2107 -4.7229; "
    "C 10.293 8.446 10.7933 13.977; D 84.8208 86.8321 84.107 80.247",
}
SMALL = {
    "IE2": "A 22.4864 17.2751 -15.9218 6.4855; B 27.7603 23.978 -30.258 9.4748; "
    "C 37.8091 35.5822 16.6861 36.852; D 82.458 84.9935 79.1838 70.762",
    "IE3": "A 6.8532 7.6356 -17.361 -0.5896; B 6.2006 4.8236 -44.538 -25.526; "
    "C 25.1317 21.0903 -3.0554 4.2884; D 84.0392 86.0998 79.1318 75.831",
    "IE4": "A -8.8538 8.432 -13.0355 -4.9735; B -20.3352 2.6888 -36.9497 -21.453; "
    "C 8.9002 14.6236 -4.3621 2.6653; D 85.0641 87.6153 82.0009 79.055",
}


@pytest.mark.parametrize(("name", "rows"), [("classes_large", LARGE), ("classes_small", SMALL)])
def test_efficiency_coefficients(name: str, rows: dict[str, str]) -> None:
    kept = table("efficiency", name).rows
    for efficiency_class, text in rows.items():
        columns = [[float(x) for x in part.split()[1:]] for part in text.split(";")]
        for place, poles in enumerate("2468"):
            assert kept[efficiency_class][poles] == [column[place] for column in columns]


def test_ie1_from_memory() -> None:
    four = (
        "0.75 72.1, 1.1 75.0, 1.5 77.2, 2.2 79.7, 3 81.5, 4 83.1, 5.5 84.7, 7.5 86.0, 11 87.6, "
        "15 88.7, 18.5 89.3, 22 89.9"
    )
    six = "70.0, 72.9, 75.2, 77.7, 79.7, 81.4, 83.1, 84.7, 86.4, 87.7, 88.6, 89.2"
    for pair, low in zip(four.split(", "), six.split(", "), strict=True):
        power_kw, percent = (float(entry) for entry in pair.split())
        assert 100.0 * ie1_efficiency(power_kw * 1e3, 4) == pytest.approx(percent)
        assert 100.0 * ie1_efficiency(power_kw * 1e3, 2) == pytest.approx(percent)
        assert 100.0 * ie1_efficiency(power_kw * 1e3, 6) == pytest.approx(float(low))


NEMA = {
    "nema_premium": "1 77.0/85.5/82.5; 1.5 84.0/86.5/87.5; 2 85.5/86.5/88.5; 3 86.5/89.5/89.5; "
    "5 88.5/89.5/89.5; 7.5 89.5/91.7/91.0; 10 90.2/91.7/91.0; 15 91.0/92.4/91.7; "
    "20 91.0/93.0/91.7; 25 91.7/93.6/93.0; 30 91.7/93.6/93.0",
    "nema_efficient": "1 75.5/82.5/80.0; 1.5 82.5/84.0/85.5; 2 84.0/84.0/86.5; 3 85.5/87.5/87.5; "
    "5 87.5/87.5/87.5; 7.5 88.5/89.5/89.5; 10 89.5/89.5/89.5; 15 90.2/91.0/90.2; 20 90.2/91.0/90.2",
}


@pytest.mark.parametrize("name", NEMA)
def test_nema_efficiencies(name) -> None:
    for entry in NEMA[name].split("; "):
        power_hp, numbers = entry.split()
        for poles, percent in zip((2, 4, 6), numbers.split("/"), strict=True):
            got = nema_efficiency(name, float(power_hp) * HP, poles)
            assert 100.0 * got == pytest.approx(float(percent))


def test_small_us_motors_in_their_printed_order_six_four_two() -> None:
    text = (
        "0.25 67.5/69.5/65.6; 0.33 71.4/73.4/69.5; 0.5 75.3/78.2/73.4; 0.75 81.7/81.1/76.8; "
        "1 82.5/83.5/77.0; 1.5 83.8/86.5/84.0"
    )
    for entry in text.split("; "):
        power_hp, numbers = entry.split()
        for poles, percent in zip((6, 4, 2), numbers.split("/"), strict=True):
            got = nema_efficiency("us_small", float(power_hp) * HP, poles)
            assert 100.0 * got == pytest.approx(float(percent))


def test_code_letters() -> None:
    text = (
        "A 0-3.14; B 3.15-3.54; C 3.55-3.99; D 4.0-4.49; E 4.5-4.99; F 5.0-5.59; G 5.6-6.29; "
        "H 6.3-7.09; J 7.1-7.99; K 8.0-8.99; L 9.0-9.99; M 10.0-11.19; N 11.2-12.49; "
        "P 12.5-13.99; R 14.0-15.99; S 16.0-17.99; T 18.0-19.99; U 20.0-22.39"
    )
    for entry in text.split("; "):
        letter, ends = entry.split()
        assert code_letter_range(letter) == tuple(float(end) for end in ends.split("-"))
    assert code_letter_range("V")[0] == 22.4


def test_greatest_locked_rotor_currents() -> None:
    three = (
        "0.5 hp 20; 0.75 25; 1 30; 1.5 40; 2 50; 3 64; 5 92; 7.5 127; 10 162; 15 232; 20 290; "
        "25 365; 30 435; 40 580; 50 725"
    )
    one = "0.5 hp 29.4; 0.75 41.4; 1 48; 1.5 60; 2 72; 3 102; 5 168; 7.5 240; 10 300"
    for text, phases in ((three, 3), (one, 1)):
        for entry in text.replace(" hp", "").split("; "):
            power_hp, current = (float(x) for x in entry.split())
            assert greatest_locked_current_a(power_hp, 230.0, phases) == current


def test_full_load_currents_of_the_code() -> None:
    single = (
        "1/4 5.8/3.2/2.9; 1/2 9.8/5.4/4.9; 3/4 13.8/7.6/6.9; 1 16/8.8/8; 1.5 20/11/10; "
        "2 24/13.2/12; 3 34/18.7/17; 5 56/30.8/28; 7.5 80/44/40; 10 100/55/50"
    )
    three = (
        "0.5 2.4/2.2/1.1; 0.75 3.5/3.2/1.6; 1 4.6/4.2/2.1; 1.5 6.6/6.0/3.0; 2 7.5/6.8/3.4; "
        "3 10.6/9.6/4.8; 5 16.7/15.2/7.6; 7.5 24.2/22/11; 10 30.8/28/14; 15 46.2/42/21; "
        "20 59.4/54/27; 25 74.8/68/34; 30 88/80/40; 40 114/104/52; 50 143/130/65"
    )
    at_200 = "2.5, 3.7, 4.8, 6.9, 7.8, 11, 17.5, 25.3, 32.2, 48.3, 62.1"
    for text, phases, volts in ((single, 1, (115, 208, 230)), (three, 3, (208, 230, 460))):
        for entry in text.split("; "):
            size, currents = entry.split()
            top, _, under = size.partition("/")
            power_hp = float(top) / float(under or 1)
            for volt, current in zip(volts, currents.split("/"), strict=True):
                assert full_load_current_a(power_hp, volt, phases) == float(current)
    sizes = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 20.0)
    for power_hp, current in zip(sizes, at_200.split(", "), strict=True):
        assert full_load_current_a(power_hp, 200.0) == float(current)


def test_least_torques_of_mg_1() -> None:
    locked = {
        4: "1 275, 1.5 250, 2 235, 3 215, 5 185, 7.5 175, 10 165, 15 160, 20 150, 25 150, 30 150, "
        "40 140, 50 140",
        2: "1.5 175, 2 170, 3 160, 5 150, 7.5 140, 10 135, 15 130, 20 130, 25 130, 30 130",
        6: "1 170, 1.5 165, 2 160, 3 155, 5 150, 7.5 150, 10 150, 15 140, 20 135",
    }
    pull_out = {
        4: "1 300, 1.5 280, 2 270, 3 250, 5 225, 7.5 215, 10 200, 30 200",
        2: "1.5 250, 2 240, 3 230, 5 215, 7.5 200, 20 200",
        6: "1 265, 1.5 250, 2 240, 3 230, 5 215, 7.5 205, 10 200, 15 200",
    }
    for poles, text in locked.items():
        for entry in text.split(", "):
            power_hp, percent = (float(x) for x in entry.split())
            assert 100.0 * mg1_minimum(power_hp, poles).locked == pytest.approx(percent)
    for poles, text in pull_out.items():
        for entry in text.split(", "):
            power_hp, percent = (float(x) for x in entry.split())
            assert 100.0 * mg1_minimum(power_hp, poles).breakdown == pytest.approx(percent)


def test_least_torques_of_design_n() -> None:
    rows = """
    0.7 1.8/1.2/2.0 | 1.9/1.3/2.0 | 1.7/1.2/1.8
    1.5 1.8/1.2/2.0 | 1.9/1.3/2.0 | 1.6/1.1/1.9
    2.2 1.7/1.1/2.0 | 1.8/1.2/2.0 | 1.6/1.1/1.9
    3.0 1.6/1.1/2.0 | 1.7/1.2/2.0 | 1.5/1.1/1.9
    5.5 1.5/1.0/2.0 | 1.6/1.1/2.0 | 1.5/1.1/1.9
    7.5 1.5/1.0/2.0 | 1.6/1.1/2.0 | 1.5/1.1/1.8
    11 1.4/1.0/2.0 | 1.5/1.1/2.0 | 1.4/1.0/1.8
    18.5 1.3/0.9/1.9 | 1.4/1.0/1.9 | 1.4/1.0/1.8
    """
    for line in rows.strip().splitlines():
        power_kw, rest = line.split(maxsplit=1)
        for poles, group in zip((2, 4, 6), rest.split(" | "), strict=True):
            got = design_n_minimum(float(power_kw) * 1e3, poles)
            expected = [float(x) for x in group.split("/")]
            assert [got.locked, got.pull_up, got.breakdown] == expected
    assert design_n_minimum(370.0, 2).locked == 1.9
    assert design_n_minimum(370.0, 4).locked == 2.0


def test_greatest_apparent_power_of_design_n() -> None:
    for power_kw, kva_per_kw in ((0.4, 13), (6.3, 13), (7.5, 12), (30.0, 11), (75.0, 10)):
        line_a = kva_per_kw * power_kw * 1e3 / (3.0**0.5 * 400.0)
        assert design_n_greatest_current_a(power_kw * 1e3, 400.0) == pytest.approx(line_a)


def test_no_load_current_of_the_part_load_model() -> None:
    text = "1 hp 0.521; 2 0.495; 3 0.473; 5 0.437; 7.5 0.405; 10 0.383; 15 0.355; 20 0.341"
    for entry in text.replace(" hp", "").split("; "):
        power_hp, share = (float(x) for x in entry.split())
        assert part_load_no_load_ratio(power_hp, 4) == pytest.approx(share, abs=5.1e-4)
