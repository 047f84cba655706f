"""Windings that the supply's volts do not fit: refused with the volts, the torque, and what helps.

Common practice and arithmetic, no source: torque goes with the square of volts.
"""

import pytest
from stories.judged import codes, judged, motor, words

LINES = ("drive_per_motor", "rotary_converter", "static_converter", "capacitor_run")


@pytest.mark.parametrize("way", LINES)
@pytest.mark.parametrize(
    ("shop", "machine"),
    [
        ("gear_lathes", "Star only"), ("one_outlet", "Two speeds"), ("pole_changing", "Mill"),
        ("dough", "Mixer"), ("star_delta", "Mill"), ("tuned_0_75", "High only"),
    ],
)  # fmt: skip
def test_a_winding_for_the_high_voltage_only_is_refused_on_the_low_one(shop, machine, way):
    of = judged(shop, f"{machine}/main", way)
    assert of.verdict == "refused"
    assert codes(of.reasons) == {"volts_too_low"}


def test_the_refusal_says_where_full_flux_ends_and_what_torque_is_left():
    """400 V winding on 230 V: 230/400 x 50 Hz is 28.75 Hz; (230/400) squared is a third."""
    said = words(judged("pole_changing", "Mill/main", "drive_per_motor").reasons)
    assert "28.8 Hz" in said
    assert "33%" in said


def test_star_inside_offers_a_winder_or_a_higher_voltage():
    said = words(judged("gear_lathes", "Star only/main", "rotary_converter").reasons)
    assert "star point" in said
    assert "higher voltage" in said


def test_the_same_lathe_marked_for_both_is_kept_and_driven_in_delta():
    of = judged("gear_lathes", "Marked for both/main", "drive_per_motor")
    assert of.verdict == "with_conditions"
    assert of.link.connection == "delta"


def test_four_terminals_get_no_connection_but_a_measurement():
    of = motor("four_terminals", "Sharpener/main")
    assert of.link is None
    for way in LINES:
        said = words(judged("four_terminals", "Sharpener/main", way).reasons)
        assert "resistance of every pair" in said
        assert "star point" in said


def test_a_star_delta_starter_proves_delta_at_the_high_voltage():
    of = motor("star_delta", "Mill/main")
    assert "star_delta_starter" in codes(of.link_reasons)


def test_other_kinds_of_motor_are_named_not_guessed():
    for way in (*LINES, "direct"):
        of = judged("direct_current", "Mill/main", way)
        assert of.verdict == "refused"
        assert codes(of.reasons) == {"dc_motor" if way == "direct" else "motor_kind_dc"}
    assert "motor_kind_slip_ring" in codes(
        judged("direct_current", "Slip rings/main", LINES[0]).conditions
    )
    assert "motor_kind_slip_ring" in codes(
        judged("direct_current", "Slip rings/main", LINES[1]).conditions
    )
