"""Earthing and protective conductors: IEC 60364-5-54, IEC 60204-1 tests, NEC article 250."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec, nec
from phasewright.rules.register import Findings, at_least, at_most, must, rule
from phasewright.tables.circuits import iec_protective_mm2, nec_protective_size
from phasewright.tables.clauses import electrode_conductor_size, limit
from phasewright.tables.sizes import awg_mm2


def _copper(least: str, path: str | None) -> Remedy:
    """Copper of the least area that a clause names."""
    area = f"{limit('protective_conductor', least):g} mm2"
    return Remedy(f"{area} of copper.", path, area)


@iec("60364-5-54", "543.1", "circuit")
def protective_conductor(
    area_mm2: float | None, line_mm2: float | None, adiabatic_mm2: float | None, subject: str
) -> Findings:
    """A protective conductor bears the earth fault: as computed, or by the line's area.

    Copper beside copper. `adiabatic_mm2`: the least area the computed fault asks for.
    """
    if area_mm2 is None or line_mm2 is None:
        return None
    least = iec_protective_mm2(line_mm2) if adiabatic_mm2 is None else adiabatic_mm2
    return at_least(
        area_mm2, least, "condition", subject,
        "its earth conductor of {found:.3g} mm2 is too thin for an earth fault: {allowed:.3g} mm2",
        unit="mm2", remedy=Remedy("A cable with that earth core.", None, least, "mm2"),
    )  # fmt: skip


@iec("60364-5-54", "543.1.3", "circuit")
def separate_protective_conductor(
    area_mm2: float | None, separate: bool | None, guarded: bool, subject: str
) -> Findings:
    """An earth conductor that is no part of the cable is thick enough not to be torn off.

    `guarded`: it lies in a pipe or is else kept from blows.
    """
    if not separate:
        return None
    name = "separate_protected_mm2" if guarded else "separate_open_mm2"
    return at_least(
        area_mm2, limit("protective_conductor", name), "condition", subject,
        "an earth wire of its own of {found:.3g} mm2 tears: {allowed:.3g} mm2",
        unit="mm2", remedy=_copper(name, None),
    )  # fmt: skip


@iec("60364-5-54", "544.1", "installation")
def bonding(area_mm2: float | None, subject: str) -> Findings:
    """Pipes and steel of a building are bonded by 6 mm2 of copper or more."""
    return at_least(
        area_mm2, limit("protective_conductor", "bonding_least_mm2"), "condition", subject,
        "its main bonding of {found:.3g} mm2 is thinner than {allowed:.3g} mm2",
        unit="mm2", remedy=_copper("bonding_least_mm2", "supply.bonding_conductor"),
    )  # fmt: skip


@iec("60204-1", "18.2", "machine")
def earth_continuity(
    measured_ohm: float | None, most_ohm: float | None, subject: str, *, bare_metal: bool = True
) -> Findings:
    """Before power, the way from every metal part of a machine to its earth terminal is measured.

    `most_ohm`: what its earth conductor has by length and area. A machine without metal that can
    be touched needs none.
    """
    if not bare_metal or most_ohm is None:
        return None
    if measured_ohm is None:
        return must(
            False, "caution", subject,
            "before it is powered for the first time its earth must be measured, from its metal "
            f"to the board: at most {most_ohm:.2g} ohm",
            found_words="not measured", allowed_words=f"{most_ohm:.2g} ohm",
            remedy=Remedy("Cut off, meter from bare metal to the earth bar, lead and plug joined."),
        )  # fmt: skip
    return at_most(
        measured_ohm, most_ohm, "condition", subject,
        "its earth measures {found:.2g} ohm where its conductor has {allowed:.2g} ohm: a bad "
        "joint; no power before it is mended",
        unit="ohm", remedy=Remedy("Clean and tighten every joint of the earth; measure again."),
    )  # fmt: skip


@iec("60204-1", "18.3", "machine")
def insulation_resistance(
    measured_ohm: float | None, subject: str, *, wanted: bool = False
) -> Findings:
    """Between power conductors and earth 1 Mohm or more are measured at 500 V.

    Electronics, capacitors and suppressors are taken off first; an old winding gets 250 V first.
    `wanted`: where it is not measured, that is asked for.
    """
    if wanted and measured_ohm is None:
        return must(
            False, "caution", subject,
            "before it is powered for the first time its insulation must be measured",
            found_words="not measured", allowed_words="1 Mohm at 500 V",
            remedy=Remedy("Every lead to the frame with an insulation tester of 500 V, drives and "
                          "capacitors taken off; an old winding 250 V first."),
        )  # fmt: skip
    return at_least(
        measured_ohm, limit("machine_tests", "insulation_ohm"), "condition", subject,
        "its insulation measures {found:.3g} ohm; {allowed:.0e} ohm at 500 V are the least",
        unit="ohm",
        remedy=Remedy(
            "Dry it out, measure again, else have it rewound.", "insulation_resistance", "1 Mohm"
        ),
    )  # fmt: skip


@rule(
    "line3.bonded", status="common practice", looks_at="installation",
    source="line 3 is live to earth: a bond is a short circuit over the idler",
)  # fmt: skip
def line_3_bonded(bonded: bool | None, subject: str) -> Findings:
    """Line 3 is tied neither to earth nor to the neutral; nor is the idler's star point."""
    return must(
        None if bonded is None else not bonded, "stop", subject,
        "line 3 or the idler's star point would be tied to earth or to the neutral: a short "
        "circuit that the idler feeds",
        found_words="tied to earth", allowed_words="tied to nothing",
        remedy=Remedy("Take the bond off; only the frame is earthed."),
    )  # fmt: skip


@iec("61800-5-1", "4.3.5.5.2", "equipment")
def leaks_to_earth(
    leakage_ma: float | None, fixed: bool | None, earth_mm2: float | None, subject: str
) -> Findings:
    """A drive that leaks more than 3.5 mA is wired in fixed, with an earth that cannot be lost.

    That is 10 mm2 of copper, or a second earth conductor; `earth_mm2`: all of them together.
    """
    if leakage_ma is None or fixed is None:
        return None
    most = limit("leakage_of_equipment", "most_ma")
    sure = (
        fixed and earth_mm2 is not None and earth_mm2 >= limit("leakage_of_equipment", "earth_mm2")
    )
    if sure:
        return ()
    return at_most(
        leakage_ma, most, "condition", subject,
        "it leaks {found:.2g} mA to earth; above {allowed:.2g} mA no plug, and an earth that one "
        "break does not take away",
        unit="mA",
        remedy=Remedy(
            "Wire it in fixed, with a second earth conductor or 10 mm2.",
            *(("circuit.protective_conductor", "10 mm2") if fixed else ("connects_by", "fixed")),
        ),
    )  # fmt: skip


@rule(
    "line3.marked", status="common practice", looks_at="installation",
    source="whoever opens a box later must see which line is generated",
)  # fmt: skip
def line_3_marked(makes_line_3: bool | None, marked: bool | None, subject: str) -> Findings:
    """The generated line is marked wherever its conductors can be got at, the same all over."""
    if not makes_line_3:
        return None
    return must(
        marked, "stop", subject,
        "the generated line is not marked where it ends: somebody will take it for a supply line",
        found_words="not marked", allowed_words="one mark at every end",
        remedy=Remedy("One colour or tag at every terminal of line 3, and a note at the board."),
    )  # fmt: skip


@nec("250.122", "circuit")
def grounding_conductor(
    size_mm2: float | None, device_a: float | None, line_mm2: float | None, subject: str
) -> Findings:
    """The equipment grounding conductor goes by its device; never thicker than the lines'.

    Copper. Areas in mm2, of AWG sizes.
    """
    if size_mm2 is None or device_a is None:
        return None
    size = nec_protective_size(device_a)
    least = awg_mm2(size) if line_mm2 is None else min(awg_mm2(size), line_mm2)
    return at_least(
        size_mm2, least, "stop", subject,
        f"behind {device_a:.3g} A its grounding conductor must be {size} AWG",
        unit="mm2", remedy=Remedy(f"{size} AWG copper."),
    )  # fmt: skip


@nec("250.30(A)(1)", "equipment")
def separately_derived(isolates: bool | None, bonded_once: bool | None, subject: str) -> Findings:
    """The output of an isolating transformer is grounded and bonded at one point, and only one."""
    if not isolates:
        return None
    return must(
        bonded_once, "stop", subject,
        "its output is a system of its own: nothing would trip at an earth fault before one point "
        "of it is grounded and bonded",
        found_words="not bonded", allowed_words="bonded at one point",
        remedy=Remedy("A system bonding jumper at the transformer or its first disconnect."),
    )  # fmt: skip


@nec("250.66", "equipment")
def electrode_conductor(
    size_mm2: float | None, line_size: str | None, subject: str, *, wanted: bool = False
) -> Findings:
    """The conductor to the grounding electrode goes by the largest line conductor ahead.

    Of the service, or of a system derived in the shop. `wanted`: where one of the two is not
    told, it is asked for.
    """
    if wanted and (size_mm2 is None or line_size is None):
        return must(
            False, "caution", subject, "read the size of the wire to the grounding electrode",
            found_words="not read", allowed_words="by table 250.66",
            remedy=Remedy("Copper lines in from the street up to 2 AWG: 8 AWG; to 1/0: 6; to 3/0: "
                          "4; larger ones by the code's table."),
        )  # fmt: skip
    if size_mm2 is None or line_size is None:
        return None
    size = electrode_conductor_size(line_size)
    return at_least(
        size_mm2, awg_mm2(size), "stop", subject,
        f"for lines of {line_size} AWG the grounding electrode conductor must be {size} AWG",
        unit="mm2",
        remedy=Remedy(f"{size} AWG copper.", "supply.electrode_conductor", f"{size} AWG"),
    )  # fmt: skip
