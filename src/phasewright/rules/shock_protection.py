"""Protection against electric shock: IEC 60364-4-41, and the generated line's earth fault."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec
from phasewright.rules.register import Findings, at_least, at_most, must, rule
from phasewright.tables.circuits import residual
from phasewright.tables.clauses import disconnection_by_voltage_s, limit

_RESIDUAL = Remedy(
    "A residual-current device of 30 mA at the beginning of the circuit.",
    "supply.residual_current.rating", 0.03, "A",
)  # fmt: skip


@iec("60364-4-41", "411.3.2", "circuit")
def disconnection_time(
    disconnects_s: float | None, earthing: str | None, to_earth_v: float | None, final: bool,
    subject: str,
) -> Findings:  # fmt: skip
    """A fault to earth is cut off in the time that the volts to earth and the earthing allow.

    An earthing nobody told of counts as TT, which asks for the shorter time. `final`: it feeds
    machines or sockets and no further board.
    """
    if disconnects_s is None or to_earth_v is None:
        return None
    most = disconnection_by_voltage_s(earthing or "TT", to_earth_v, final)
    return at_most(
        disconnects_s, most, "condition", subject,
        "a fault to earth would be cut off after {found:.2g} s, and {allowed:.2g} s are allowed",
        unit="s", remedy=_RESIDUAL,
    )  # fmt: skip


@iec("60364-4-41", "411.3.3", "circuit")
def sockets_protected(socket_a: float | None, residual_ma: float | None, subject: str) -> Findings:
    """A socket up to 32 A stands behind a residual-current device of 30 mA or less.

    `socket_a` is None where there is no socket, `residual_ma` None where there is no device.
    """
    largest = residual("socket_upto_a")
    if socket_a is None or socket_a > largest:
        return None
    most = residual("socket_ma")
    if residual_ma is None:
        return must(
            False, "condition", subject,
            f"its socket has no residual-current device; up to {largest:.0f} A "
            f"it needs one of {most:.0f} mA",
            found_words="none", allowed_words=f"{most:.0f} mA", remedy=_RESIDUAL,
        )  # fmt: skip
    return at_most(
        residual_ma, most, "condition", subject,
        "its socket stands behind a residual-current device of {found:.0f} mA: {allowed:.0f} mA "
        "protect a hand",
        unit="mA", remedy=_RESIDUAL,
    )  # fmt: skip


@iec("60364-4-41", "411.5.3", "circuit")
def electrode_and_device(
    electrode_ohm: float | None, residual_ma: float | None, earthing: str | None, subject: str
) -> Findings:
    """On an electrode of its own, its ohms times the device's amps stay at 50 V or less."""
    if electrode_ohm is None or residual_ma is None or earthing != "TT":
        return None
    volts, touch = electrode_ohm * residual_ma / 1000.0, limit("touch", "volts")
    return at_most(
        volts, touch, "condition", subject,
        f"metal may stand at {{found:.3g}} V before its {residual_ma:.0f} mA device trips on an "
        f"electrode of {electrode_ohm:.3g} ohm; {{allowed:.0f}} V are allowed",
        unit="V",
        remedy=Remedy(
            f"A device of {1000.0 * touch / electrode_ohm:.0f} mA or less, or a deeper electrode.",
            "supply.residual_current.rating", touch / electrode_ohm, "A",
        ),
    )  # fmt: skip


@iec("60364-4-41", "411.6.3", "installation")
def insulation_watched(earthed: str | None, watched: bool | None, subject: str) -> Findings:
    """Where no supply conductor is earthed, something watches the insulation.

    `earthed`: `none` is such a supply.
    """
    if earthed != "none":
        return None
    return must(
        watched, "condition", subject,
        "no conductor of this supply is earthed, so a first fault trips nothing and stays unseen "
        "until the second one",
        found_words="nothing watches", allowed_words="an insulation monitor",
        remedy=Remedy(
            "An insulation monitoring device that can be heard or seen.",
            "supply.insulation_monitor", "true",
        ),
    )  # fmt: skip


@rule(
    "line3.earth_fault", status="common practice", looks_at="circuit",
    source="computed: what drives an earth fault of line 3 is the idler; TN and TT alike",
)  # fmt: skip
def line_3_cleared(
    earth_fault_a: float | None, magnetic_a: float | None, residual_trips: bool, subject: str
) -> Findings:
    """An earth fault of the generated line is cut off at once, by its breaker or by a
    residual-current device that sees it.

    `magnetic_a`: amps at which the breaker surely trips at once; `residual_trips`: a device
    sees this fault and trips in time.
    """
    if earth_fault_a is None or magnetic_a is None:
        return None
    if residual_trips:
        return ()
    return at_least(
        earth_fault_a, magnetic_a, "stop", subject,
        "a fault of line 3 to earth draws {found:.3g} A, for the idler and not the street drives "
        "it, and the breaker needs {allowed:.3g} A to trip at once: it would stay live",
        unit="A",
        remedy=Remedy(
            "A residual-current device of 30 mA that covers the converter's outlets: ahead of the "
            "converter, or behind its transformer where it has one."
        ),
    )  # fmt: skip


@rule(
    "residual.sees", status="common practice", looks_at="circuit",
    source="what flows back to a transformer's own output does not pass a device ahead of it",
)  # fmt: skip
def residual_sees(isolated: bool | None, ahead: bool | None, subject: str) -> Findings:
    """Behind an isolating transformer stands a residual-current device of its own.

    `isolated`: the circuit hangs on an isolating transformer; `ahead`: its only device stands
    ahead of that.
    """
    if not isolated or ahead is None:
        return None
    return must(
        not ahead, "stop", subject,
        "its residual-current device stands ahead of an isolating transformer and sees nothing of "
        "a fault behind it",
        found_words="ahead of the transformer", allowed_words="behind the transformer",
        remedy=Remedy("Earth one point of the output and set a device behind it."),
    )  # fmt: skip


@rule(
    "residual.not_defeated", status="common practice", looks_at="installation",
    source="a device that protects people is never taken out to stop it tripping",
)  # fmt: skip
def residual_kept(there: bool, kept: bool | None, subject: str) -> Findings:
    """A residual-current device that is there stays, and no earth is taken off to calm it.

    `kept` is False where a plan takes it out or leads a circuit round it.
    """
    if not there:
        return None
    return must(
        kept, "stop", subject,
        "the residual-current device that is there would be taken out or led round",
        found_words="led round", allowed_words="kept",
        remedy=Remedy(
            "Keep it; spread the drives over devices of their own, or take one of a type that "
            "suits them."
        ),
    )  # fmt: skip
