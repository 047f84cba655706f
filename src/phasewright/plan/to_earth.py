"""How far the three lines of a plan's converter stand from earth, and what an owner does with it.

`supply.earthed` decides it. Where that is not told the higher of both kinds of supply counts;
where nothing is earthed the lines float and no figure stands.
"""

from __future__ import annotations

from phasewright.network.earth import earthed_by, highest_to_earth, volts_to_earth
from phasewright.quantities.codes import Earthed, Region
from phasewright.quantities.finding import Finding
from phasewright.quantities.value import Value, figure
from phasewright.rules.generated_line import straight_rating
from phasewright.shop.supply import Supply

Volts = tuple[float, float, float]
CONVERTER = "converter"
NEVER = (
    "Never tie line 3 to earth or to the neutral, and take no neutral from it or from the idler's "
    "star point; mark it wherever it ends, and isolate all poles"
)


def earthed_of(supply: Supply) -> Earthed:
    """The earthed point as told, else as the volts to earth show it; the centre of a split-phase
    supply is one even where it is not told."""
    if supply.earthed not in (None, "unknown"):
        return supply.earthed
    read = supply.volts_to_earth
    if read is not None:
        point = earthed_by(read.line_1.number, read.line_2.number, supply.voltage.number)
        if point is not None:
            return "line_2" if point == "line_1" else point
    return "centre" if supply.kind == "split_phase" else "unknown"


def lines_to_earth(supply: Supply, line_voltages_v: Volts) -> tuple[Value, Value, Value] | None:
    """Volts of lines 1, 2, 3 to earth; None where the supply floats."""
    volts = _to_earth(supply, line_voltages_v)
    if volts is None:
        return None
    inputs = {f"v{pair}": (v, "V") for pair, v in zip((12, 23, 31), line_voltages_v, strict=True)}
    words = "triangle of the line volts (Apollonius)"
    if earthed_of(supply) == "unknown":
        words += "; the earthed point is not known, so the higher of line 2 and centre"
    one, two, three = (figure(v, "V", "network.earth.volts_to_earth", inputs, words) for v in volts)
    return one, two, three


def earth_findings(
    supply: Supply, region: Region, idle_v: Volts, running_v: tuple[Volts, ...]
) -> tuple[Finding, ...]:
    """What a meter shows to earth with the idler alone and with every set that turns, and what
    may never be done with line 3."""
    idle = _to_earth(supply, idle_v)
    if idle is None:
        return (_told("no line of this supply is earthed, so what a meter shows to earth says "
                      f"nothing: measure line to line. {NEVER}"),)  # fmt: skip
    of_3 = [idle[2], *(volts[2] for each in running_v if (volts := _to_earth(supply, each)))]
    known = earthed_of(supply) != "unknown"
    stand = "stand" if known else "stand, which of its wires is earthed not being known, up to"
    words = (
        f"with the idler alone lines 1, 2 and 3 {stand} {idle[0]:.0f}, {idle[1]:.0f} and "
        f"{idle[2]:.0f} V from earth, line 3 {min(of_3):.0f} to {max(of_3):.0f} V as machines run"
    )
    if known:
        words += (
            "; a meter that shows much less on line 3 shows no harmless oddity but a line that is "
            "too low: measure lines 2-3 and 3-1 under load"
        )
    told = _told(f"{words}. {NEVER}{_neutral(supply)}", idle[2])
    if region == "NEC":
        there = supply.converter_circuit
        straight = there is not None and there.straight_breakers is True
        return told, *straight_rating(max(of_3), CONVERTER, not straight).findings
    return (told,)


def source_findings(supply: Supply, running_v: tuple[Volts, ...]) -> tuple[Finding, ...]:
    """The same for a source that makes three equal lines: its maker decides where they stand."""
    through = None if not running_v else _to_earth(supply, running_v[0])
    if through is None:
        return ()
    one, two, three = through
    return (
        Finding(
            "line3.to_earth:electronic source", "line3.to_earth", "info", "electronic source",
            "how far its three lines stand from earth is its maker's doing: where lines 1 and 2 "
            f"pass through it, {one:.0f}, {two:.0f} and {three:.0f} V; where its output is "
            "isolated, what its maker has earthed there. Ask before breakers are chosen, and "
            "earth none of its lines yourself",
            found=three, unit="V", source="geometry of the three line volts",
        ),
    )  # fmt: skip


def _neutral(supply: Supply) -> str:
    if earthed_of(supply) != "line_2":
        return ""
    return ": line 2 is the supply's neutral, the other two are not"


def _to_earth(supply: Supply, line_voltages_v: Volts) -> Volts | None:
    match earthed_of(supply):
        case "line_2" | "centre" as point:
            return volts_to_earth(line_voltages_v, point)
        case "unknown":
            return highest_to_earth(line_voltages_v)
        case _:
            return None


def _told(words: str, volts: float | None = None) -> Finding:
    rule = "line3.to_earth"
    return Finding(
        f"{rule}:{CONVERTER}", rule, "info", CONVERTER, words,
        found=volts, unit=None if volts is None else "V",
        source="geometry of the three line volts; marking: NFPA 70-2023, 455.6(B)",
    )  # fmt: skip
