"""Rules over lines 1, 2, 3 where line 3 is generated: what may hang on it, and its volts."""

from __future__ import annotations

import math

from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.tables.published import table

ON_SUPPLY = "two lines"


@rule(
    "line3.control",
    source="coils on the generated line chatter and drop out",
    status="common practice",
    looks_at="machine",
)
def control_on_supply_lines(
    fed_from: str | None, has_control: bool | None, subject: str
) -> Findings:
    """Contactor coils and control transformers hang on lines 1 and 2 only.

    `has_control` is None where nobody told whether the machine has any.
    """
    if has_control is None:
        return found(
            "caution",
            subject,
            "whether it has contactor coils or a control transformer is not known: if it has, "
            "they must be fed from lines 1 and 2, for on the generated line they do not pull in, "
            "or chatter and drop out",
            found="not known",
            allowed=ON_SUPPLY,
            remedy=Remedy(
                "Follow the two wires of the coil; move them to lines 1 and 2 where they end on "
                "line 3.",
                "control.fed_from",
                ON_SUPPLY,
            ),
        )
    if not has_control:
        return None
    if fed_from == ON_SUPPLY:
        return KEPT
    where = fed_from or "not known"
    return found(
        "condition",
        subject,
        f"its control supply must come from lines 1 and 2 (now: {where}): on the generated line "
        "coils chatter and drop out",
        found=where,
        allowed=ON_SUPPLY,
        remedy=Remedy(
            "Move the control transformer's two leads to lines 1 and 2.",
            "control.fed_from",
            ON_SUPPLY,
        ),
    )


@rule(
    "nec.455.9",
    source="NFPA 70-2023, 455.9; common practice outside its reach",
    status="published",
    looks_at="machine",
)
def single_phase_loads_on_supply_lines(
    single_phase_loads: tuple[str, ...] | None, on_line_3: bool, subject: str
) -> Findings:
    """No single-phase load hangs on the generated line."""
    if not single_phase_loads:
        return None
    if not on_line_3:
        return KEPT
    named = ", ".join(single_phase_loads)
    return found(
        "stop",
        subject,
        f"{named} would hang on the generated line: single-phase loads go on lines 1 and 2",
        found=named,
        allowed="lines 1 and 2",
        remedy=Remedy("Wire them between lines 1 and 2."),
    )


@rule(
    "line3.rectifier",
    source="diodes, fuses and leads of a three-phase rectifier are sized for three equal lines",
    status="common practice",
    looks_at="machine",
)
def rectifier_on_generated_line(
    highest_a: float | None, equal_a: float | None, subject: str
) -> Findings:
    """A rectifier takes no more of any line than it would of three equal ones.

    Rms amps at the same watts: of its fullest line here, and of each of three equal lines.
    """
    if highest_a is None or equal_a is None:
        return None
    if not above(highest_a, equal_a):
        return KEPT
    return found(
        "condition",
        subject,
        f"its rectifier takes up to {highest_a:.3g} A of one line where three equal lines would "
        f"give {equal_a:.3g} A each: line 3 is soft, so lines 1 and 2 carry most of it",
        found=highest_a,
        allowed=equal_a,
        unit="A",
        remedy=Remedy(
            "Ask its maker whether it may be fed from lines 1 and 2 alone, and with how much less "
            "power; then leave line 3 to the motors. Else take a larger idler, or more capacitance "
            "on the lower pair that is switched with it; coils and controls go on lines 1 and 2."
        ),
    )


@rule(
    "line3.neutral",
    source="an idler's star point is no neutral",
    status="common practice",
    looks_at="machine",
)
def neutral(needs_neutral: bool | None, has_neutral: bool, subject: str) -> Findings:
    """A machine that needs a neutral gets a real one, never an idler's star point."""
    if not needs_neutral:
        return None
    if has_neutral:
        return KEPT
    return found(
        "condition",
        subject,
        "needs a neutral, and three lines made from two have none; an idler's star point is none",
        found="no neutral",
        allowed="its consumers fed from the supply, or a transformer with an earthed star point",
        remedy=Remedy("Find what uses the neutral and feed it from the supply, or take a "
                      "transformer with a star output.", "needs_neutral", "false"),
    )  # fmt: skip


@rule(
    "nec.240.85",
    body="NFPA 70",
    edition="2023",
    clause="240.85",
    status="published",
    looks_at="equipment",
)
def straight_rating(
    line_3_to_earth_v: float | None, subject: str, slash_rated: bool = True
) -> Findings:
    """A breaker of slash rating stands only where no line is above its lower volts to earth."""
    if line_3_to_earth_v is None:
        return None
    limit = table("protection", "slash_rating").number("volts")
    if not slash_rated or not above(line_3_to_earth_v, limit):
        return KEPT
    return found(
        "condition",
        subject,
        f"line 3 stands up to {line_3_to_earth_v:.0f} V from earth: three-pole breakers of "
        "straight rating (240 V), none of 120/240 V",
        found=line_3_to_earth_v,
        allowed=limit,
        unit="V",
        remedy=Remedy(
            "Read the breaker: one voltage and no slash.",
            "supply.converter_circuit.straight_breakers",
            "true",
        ),
    )


@rule(
    "capacitor.voltage_class",
    source="rated volts at least 1.1 times the highest idle line volts",
    status="common practice",
    looks_at="equipment",
)
def capacitor_voltage_class(
    highest_line_v: float | None, rated_v: float | None, subject: str
) -> Findings:
    """Run capacitors are rated for at least 1.1 times the highest line voltage at idle."""
    if highest_line_v is None or rated_v is None:
        return None
    least = table("limits", "capacitor").number("margin") * highest_line_v
    if not below(rated_v, least):
        return KEPT
    return found(
        "stop",
        subject,
        f"capacitors of {rated_v:.3g} V stand on {highest_line_v:.3g} V at idle: they need "
        f"{least:.4g} V",
        found=rated_v,
        allowed=least,
        unit="V",
        remedy=Remedy("Take the next higher voltage class."),
    )


@rule(
    "capacitor.owned_volts",
    source="rated volts at least 1.1 times the highest idle line volts",
    status="common practice",
    looks_at="equipment",
)
def owned_capacitor_volts(
    least_v: float | None, rated_v: float | None, told: bool, subject: str, path: str | None = None
) -> Findings:
    """An owned run capacitor is used where its volts are enough, else the owner is told.

    `told` is False where the owner gave no volts for it; `path` is theirs in the shop file.
    """
    if least_v is None:
        return None
    if told and rated_v is not None and not below(rated_v, least_v):
        return KEPT
    why = f"marked {rated_v:.3g} V" if told and rated_v is not None else "their volts not told"
    return found(
        "info",
        subject,
        f"{why}: they stay on the shelf, the run capacitors here need {least_v:.3g} V",
        found=rated_v,
        allowed=least_v,
        unit="V",
        remedy=None
        if path is None
        else Remedy(
            f"Take capacitors of {math.ceil(least_v)} V or more.", path, f"{math.ceil(least_v)} V"
        ),
    )


@rule(
    "converter.over_excitation",
    source="volts per hertz above 1.1 of the plate saturate the iron",
    status="common practice",
    looks_at="equipment",
)
def over_excitation(flux_ratio: float | None, subject: str) -> Findings:
    """The capacitors do not raise a machine's flux above 1.1 of rated, at any load."""
    if flux_ratio is None:
        return None
    limit = table("limits", "flux").number("condition")
    if not above(flux_ratio, limit):
        return KEPT
    return found(
        "condition",
        subject,
        f"its flux reaches {flux_ratio:.2f} of rated when the load stops: no-load current and "
        "heat rise, line 3 runs high",
        found=flux_ratio,
        allowed=limit,
        unit="",
        remedy=Remedy("Take less run capacitance, or switch a part of it with the machine."),
    )


@rule(
    "motor.unbalance",
    source="NEMA MG 1, 14.36 (5 % at most for continuous duty); IEC 60204-1, 4.3.2 (2 %)",
    status="from memory",
    looks_at="motor",
)
def unbalance(vuf: float | None, nema: float | None, electronics: bool, subject: str) -> Findings:
    """Voltage unbalance stays where the machine bears it: graded, not one limit for all.

    `vuf` negative over positive sequence, `nema` by magnitudes; both fractions.
    """
    if vuf is None or nema is None:
        return None
    of = table("limits", "unbalance")
    if electronics and above(vuf, of.number("electronics")):
        return found(
            "condition",
            subject,
            f"{vuf:.1%} negative sequence: its electronics are made for at most "
            f"{of.number('electronics'):.0%}",
            found=vuf,
            allowed=of.number("electronics"),
            unit="",
        )
    if above(nema, of.number("continuous")):
        return found(
            "condition",
            subject,
            f"{nema:.1%} voltage unbalance: no continuous duty above {of.number('continuous'):.0%}",
            found=nema,
            allowed=of.number("continuous"),
            unit="",
        )
    return KEPT


@rule(
    "machine.wrong_direction",
    source="no source",
    status="common practice",
    looks_at="machine",
)
def wrong_direction(harms: bool | None, proved: bool, subject: str, why: str = "") -> Findings:
    """Where the wrong direction does harm, it is proved before the machine is coupled."""
    if not harms:
        return None
    if proved:
        return KEPT
    return found(
        "caution",
        subject,
        "prove the direction of rotation with the belt off or the coupling open"
        + (f": {why}" if why else ""),
        found="direction not proved",
        allowed="direction proved",
    )
