"""NEC clauses of places, panels and marks: 110.15, 210.8, 409."""

from __future__ import annotations

import math

from phasewright.circuits.cables import Laid
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import nec
from phasewright.rules.register import Findings, at_least, at_most, must
from phasewright.rules.remedies import thicker
from phasewright.tables.clauses import limit
from phasewright.tables.sizes import BREAKERS_NEC_A


@nec("110.15", "installation")
def high_leg_marked(
    centre_earthed_delta: bool | None, marked: bool | None, subject: str
) -> Findings:
    """Of a four-wire delta the line with the higher volts to ground is orange wherever it ends.

    A converter on a centre-earthed supply makes such a line; its own clause is 455.6(B).
    """
    if not centre_earthed_delta:
        return None
    return must(
        marked, "stop", subject,
        "the high leg, 208 V to ground, is not marked: somebody will hang a 120 V load on it",
        found_words="not marked", allowed_words="orange at every end",
        remedy=Remedy("Orange tape or insulation at every terminal of that line."),
    )  # fmt: skip


@nec("210.8", "circuit")
def ground_fault_interrupter(
    receptacle_a: float | None, line_voltage_v: float, to_ground_v: float | None, phases: int,
    garage_or_outbuilding: bool | None, protected: bool | None, subject: str, *,
    dwelling: bool = True, machine: str | None = None,
) -> Findings:  # fmt: skip
    """A receptacle of 125 to 250 V in a garage or accessory building stands behind a 5 mA device.

    At most 150 V to ground; in a dwelling on single-phase circuits of any size, else up to 50 A
    single-phase and 100 A three-phase. Where the place is not told it is taken as one of them.
    `machine`: where in the shop file what is plugged in stands.
    """
    if receptacle_a is None or to_ground_v is None or garage_or_outbuilding is False:
        return None
    if line_voltage_v > limit("nec_210_8", "most_v") or to_ground_v > limit(
        "nec_210_8", "to_ground_v"
    ):
        return None
    single = limit("nec_210_8", "single_phase_most_a")
    most = single if phases == 1 else limit("nec_210_8", "three_phase_most_a")
    if (dwelling and phases != 1) or (not dwelling and receptacle_a > most):
        return None
    return must(
        protected, "condition", subject,
        "its receptacle in a garage or outbuilding needs a 5 mA ground-fault device, which drives "
        "and converters trip: wire it in fixed",
        found_words="a receptacle", allowed_words="wired in fixed, or a 5 mA device ahead",
        remedy=Remedy("Wire it in fixed, with a disconnect.",
                      None if machine is None else f"{machine}.connects_by", "fixed"),
    )  # fmt: skip


@nec("409.20", "circuit")
def panel_conductors(
    ampacity_a: float | None, heating_a: float, full_load_a: tuple[float, ...] | None,
    subject: str, laid: Laid | None = None,
) -> Findings:  # fmt: skip
    """Conductors to a control panel carry 125 % of heaters and of the largest motor, and the rest.

    `full_load_a`: of all motors and apparatus that may work at the same time; None where it is
    no panel.
    """
    if full_load_a is None or (not full_load_a and not heating_a):
        return None
    largest = max(full_load_a, default=0.0)
    least = limit("nec_409", "heating") * heating_a + sum(full_load_a)
    least += (limit("nec_409", "largest") - 1.0) * largest
    return at_least(
        ampacity_a, least, "stop", subject,
        "the panel's supply conductors carry {found:.3g} A and need {allowed:.4g} A",
        unit="A", remedy=thicker(least, laid),
    )  # fmt: skip


def panel_most_a(largest_branch_a: float, heating_a: float = 0.0, others_a: float = 0.0) -> float:
    """Largest standard device ahead of a panel: largest branch device, heaters at 125 %, the rest.

    The standard rating at or next below (409.21(C), 430.62).
    """
    most = largest_branch_a + limit("nec_409", "heating") * heating_a + others_a
    return max((each for each in BREAKERS_NEC_A if each <= most * (1 + 1e-9)), default=most)


@nec("409.21(C)", "circuit")
def panel_device(
    device_a: float | None, largest_branch_a: float | None, heating_a: float,
    others_a: float, subject: str,
) -> Findings:  # fmt: skip
    """The device ahead of a panel is at most its largest branch device and the other loads.

    Heaters count 125 %; the standard rating at or next below serves.
    """
    if largest_branch_a is None:
        return None
    most = largest_branch_a + limit("nec_409", "heating") * heating_a + others_a
    standard = panel_most_a(largest_branch_a, heating_a, others_a)
    return at_most(
        device_a, most, "stop", subject,
        "the device ahead of the panel is {found:.3g} A and may be {allowed:.4g} A",
        unit="A", remedy=Remedy("Fit the standard rating below.", None, standard, "A"),
    )  # fmt: skip


@nec("409.22(A)", "circuit")
def panel_short_circuit(
    rating_ka: float | None, fault_a: float | None, panel: bool, subject: str,
    machine: str | None = None,
) -> Findings:  # fmt: skip
    """A control panel stands only where the fault current is within its short-circuit rating.

    `machine`: where in the shop file its machine stands.
    """
    if not panel or fault_a is None:
        return None
    path = None if machine is None else f"{machine}.panel.short_circuit_rating"
    enough = f"{math.ceil(fault_a / 1000.0):d} kA"
    words = "A current-limiting fuse ahead, or a panel of a higher rating."
    if rating_ka is None:
        return must(
            False, "condition", subject,
            f"its panel is marked with no short-circuit rating; {fault_a:.0f} A are available",
            found_words="not marked", allowed_words=f"{fault_a:.0f} A",
            remedy=Remedy("Ask its builder, or have it rated from its parts.", path, enough),
        )  # fmt: skip
    return at_least(
        1000.0 * rating_ka, fault_a, "stop", subject,
        "its panel bears {found:.0f} A of fault current, and {allowed:.0f} A are available",
        unit="A", remedy=Remedy(words, path, enough),
    )  # fmt: skip
