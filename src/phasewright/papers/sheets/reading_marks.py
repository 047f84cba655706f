"""At which device of the drawings a reading is taken: its designations."""

from __future__ import annotations

from phasewright.papers.designations import SHARED
from phasewright.papers.sheets.paper import Paper
from phasewright.plan.reading_study import ReadingExpected

AT_MOTOR = ("earth_continuity", "insulation", "winding_ohms")
AT_DRIVE = ("dc_link_volts", "drive_no_load_amps")
AT_OUTLET = ("line_volts", "line_volts_ratio", "volts_to_earth")
INTAKE = "intake"


def marks_of(of: Paper, reading: ReadingExpected) -> str:
    """The designations of the device, empty without a wiring and where none is meant."""
    subject, code = reading.subject, reading.code
    if code in AT_MOTOR:
        return of.at(subject, "motor")
    if code in AT_DRIVE:
        return of.at(subject, "drive") or of.at("", "drive")
    if code in AT_OUTLET:
        return _outlets(of)
    if code == "supply_volts":
        return of.at(INTAKE, "strip").rpartition(" ")[2]
    if code == "supply_amps_together":
        return of.at(INTAKE, "breaker")
    if code == "earth_loop":
        return of.guard(subject)
    if code == "residual_test":
        return of.at(INTAKE, "residual_current_device") if subject == "supply" else of.devices_in(
            subject, "residual_current_device"
        )  # fmt: skip
    if code == "capacitor_discharge":
        return of.devices_in(subject, "run_capacitor", "start_capacitor")
    if code in ("line_amps", "no_load_amps", "winding_warm_ratio"):
        return of.at(subject, "motor") or of.at("", "idler")
    if code == "capacitor_volts":
        return of.at(subject, "run_capacitor")
    return _feed(of, subject) if code == "supply_amps" else ""


def _feed(of: Paper, subject: str) -> str:
    """What guards the feed of a motor's own equipment, or of what is shared."""
    shares = any(m.motor == subject and m.way == "rotary_converter" for m in of.plan.motors)
    own = "" if shares else of.at(subject, "breaker")
    return (own or of.at("", "breaker")).partition(" ")[0]


def _outlets(of: Paper) -> str:
    """The strip of what is shared on which the machines hang."""
    if of.wiring is None:
        return ""
    feeds = (
        rail.terminal.partition(":")[0]
        for unit in of.wiring.units if unit.id != SHARED
        for band in unit.bands for rail in band.rails
    )  # fmt: skip
    return next((strip for strip in feeds if strip.startswith(f"{SHARED}-")), "")
