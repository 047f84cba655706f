"""Code letters and greatest locked-rotor currents: NFPA 70-2023 430.7(B), 430.251(B); Hubert.

10 hp 230 V 162 A is 6.454 kVA/hp, letter H; Hubert 5.13: 150 hp 460 V letter G draws 1054.3 to
1186.1 A (0.1 %; the book's 746 W a horsepower cancels, kVA/hp is by the horsepower).
"""

from __future__ import annotations

import math

import pytest

from phasewright.quantities.errors import TableEnds
from phasewright.tables.starting import (
    code_letter,
    code_letter_current_a,
    code_letter_range,
    greatest_locked_current_a,
)

HP = 745.699872


def test_ten_horsepower_is_letter_h() -> None:
    kva_per_hp = math.sqrt(3.0) * 230.0 * 162.0 / 1000.0 / 10.0
    assert kva_per_hp == pytest.approx(6.454, rel=1e-3)
    assert code_letter(kva_per_hp) == "H"
    assert greatest_locked_current_a(10.0, 230.0) == 162.0


def test_hubert_5_13() -> None:
    value = code_letter_current_a("G", 150.0 * HP, 460.0)
    assert value.low == pytest.approx(1054.3, rel=1e-3)
    # the book's upper end is 6.3, where the next letter begins; the table prints 6.29
    assert value.high == pytest.approx(1186.1 * 6.29 / 6.30, rel=1e-3)
    assert value.low < value.number < value.high


def test_greatest_current_goes_inversely_with_voltage() -> None:
    assert greatest_locked_current_a(10.0, 460.0) == pytest.approx(81.0)
    assert greatest_locked_current_a(10.0, 200.0) == pytest.approx(186.3)
    assert round(greatest_locked_current_a(10.0, 208.0)) == 179


@pytest.mark.parametrize("letter", "ABCDEFGHJKLMNPRSTU")
def test_a_letter_s_own_middle_is_that_letter(letter: str) -> None:
    low, high = code_letter_range(letter)
    assert code_letter(low) == letter
    assert code_letter(0.5 * (low + high)) == letter
    assert code_letter(high) == letter


def test_v_has_no_upper_end_and_i_is_no_letter() -> None:
    assert code_letter(30.0) == "V"
    assert code_letter_range("V")[1] == math.inf
    with pytest.raises(TableEnds):
        code_letter_current_a("V", 10.0 * HP, 230.0)
    with pytest.raises(TableEnds):
        code_letter_range("I")
    with pytest.raises(TableEnds):
        code_letter(math.nan)
    with pytest.raises(TableEnds):
        greatest_locked_current_a(4.0, 230.0)
