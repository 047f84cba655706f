"""Isolation and switching: IEC 60364-5-53, IEC 60204-1, NEC 430 part IX, sockets and outlets."""

from __future__ import annotations

from phasewright.quantities.codes import Region
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec, nec
from phasewright.rules.register import Findings, at_least, must, rule
from phasewright.rules.remedies import larger_isolator
from phasewright.tables.clauses import limit


@iec("60364-5-53", "537.2", "circuit")
def isolates_all(poles: int | None, conductors: int, subject: str) -> Findings:
    """Every circuit can be isolated, all live conductors at once.

    `poles` is None where there is no isolator; `conductors` are those not at earth potential,
    line 3 among them.
    """
    if poles is None:
        return None
    return at_least(
        poles, conductors, "condition", subject,
        "its isolator opens {found:.0f} conductors of {allowed:.0f}: the rest stays live, line 3 "
        "above all while the idler spins",
        unit="poles", remedy=Remedy("An isolator with a pole for each.", None, conductors, "poles"),
    )  # fmt: skip


@iec("60364-5-53", "536.4", "circuit")
def residual_selective(
    upstream_ma: float | None, downstream_ma: float | None, subject: str, *,
    upstream_delayed: bool = False,
) -> Findings:  # fmt: skip
    """Of two residual-current devices in series the first is delayed and three times as coarse."""
    if upstream_ma is None or downstream_ma is None:
        return None
    least = limit("selectivity", "ratio") * downstream_ma
    words = (
        f"a device of {{found:.0f}} mA ahead of one of {downstream_ma:.0f} mA: either may trip, "
        "and the lights with it"
    )
    of = "supply.residual_current"
    words_of = f"A delayed device (type S) of {least:.0f} mA or more ahead."
    remedy = Remedy(words_of, f"{of}.rating", f"{least:g} mA")
    ranked = at_least(upstream_ma, least, "caution", subject, words, unit="mA", remedy=remedy)
    if ranked or upstream_delayed:
        return ranked
    return must(
        False, "caution", subject, words.format(found=upstream_ma),
        found_words="not delayed", allowed_words="delayed (type S)",
        remedy=Remedy(words_of, f"{of}.delayed", "true"),
    )  # fmt: skip


@iec("60204-1", "5.3", "machine")
def lockable(isolator: bool | None, lockable: bool | None, subject: str) -> Findings:
    """Every machine has a disconnecting device of its own that can be locked open.

    A plug that stays in sight serves as one; then the rule does not apply (`isolator` None).
    """
    if isolator is None:
        return None
    return must(
        bool(isolator and lockable), "condition", subject,
        "whoever works at it must be able to lock it off: it has no isolator that can be locked",
        found_words="none to lock", allowed_words="an isolator that can be locked open",
        remedy=Remedy("A lockable isolator at the machine."),
    )  # fmt: skip


@rule(
    "isolator.rating", status="common practice", looks_at="circuit",
    source="a switch carries what flows through it",
)  # fmt: skip
def isolator_carries(
    rating_a: float | None, current_a: float | None, subject: str, region: Region = "IEC"
) -> Findings:
    """The isolator's rating is no less than the circuit's current."""
    return at_least(
        rating_a, current_a, "stop", subject,
        "its isolator of {found:.3g} A must carry {allowed:.3g} A",
        unit="A", remedy=larger_isolator(current_a or 0.0, region),
    )  # fmt: skip


@rule(
    "socket.voltage", status="common practice", looks_at="circuit",
    source="IEC 60309: blue for 200 to 250 V, red for 380 to 480 V; patterns that do not mate",
)  # fmt: skip
def socket_voltage(socket_v: float | None, line_voltage_v: float | None, subject: str) -> Findings:
    """A socket's pattern is that of the volts it gives, so that no other machine can be plugged in.

    `socket_v`: volts its pattern stands for.
    """
    if socket_v is None or line_voltage_v is None:
        return None
    fits = abs(socket_v - line_voltage_v) <= 0.15 * socket_v
    return must(
        fits, "stop", subject,
        f"a socket for {socket_v:.0f} V on {line_voltage_v:.0f} V: a machine linked for the other "
        "voltage could be plugged in",
        found_words=f"{socket_v:.0f} V pattern", allowed_words=f"{line_voltage_v:.0f} V pattern",
        remedy=Remedy("Blue 9 h for three lines of 200 to 250 V, red 6 h for 400 V only."),
    )  # fmt: skip


@rule(
    "socket.rating", status="common practice", looks_at="circuit",
    source="a plug carries what flows through it and stands behind a device of its own rating",
)  # fmt: skip
def socket_carries(socket_a: float | None, device_a: float | None, subject: str) -> Findings:
    """A socket stands behind no more than its own rating."""
    return at_least(
        socket_a, device_a, "stop", subject,
        "a socket of {found:.0f} A stands behind a device of {allowed:.0f} A",
        unit="A", remedy=Remedy("The next larger pattern, or the smaller device."),
    )  # fmt: skip


@rule(
    "socket.earth_core", status="common practice", looks_at="circuit",
    source="a lead on a converter's outlet is as good as its earth",
)  # fmt: skip
def earth_through_lead(by_plug: bool | None, earth_core: bool | None, subject: str) -> Findings:
    """What is plugged into a converter's outlet has its earth through plug and lead."""
    if not by_plug:
        return None
    return must(
        earth_core, "stop", subject, "its plug or lead has no earth core",
        found_words="no earth", allowed_words="an earth core, measured",
        remedy=Remedy("A lead with an earth core of the size of its lines."),
    )  # fmt: skip


@rule(
    "converter.input_drops_out", status="common practice", looks_at="circuit",
    source="a spinning idler with its capacitors keeps the pins of a pulled plug live",
)  # fmt: skip
def input_drops_out(makes_line_3: bool | None, drops_out: bool | None, subject: str) -> Findings:
    """What makes line 3 is fed through a contactor that drops out, and stays out, without supply.

    So the pins of a pulled plug and the dead mains are not fed from the idler.
    """
    if not makes_line_3:
        return None
    return must(
        drops_out, "stop", subject,
        "without an input contactor that drops out, a pulled plug's pins and the dead mains stay "
        "live from the spinning idler",
        found_words="no drop-out", allowed_words="an input contactor with undervoltage release",
        remedy=Remedy("An input contactor held in by the supply it switches."),
    )  # fmt: skip


@rule(
    "converter.sequence_proved", status="common practice", looks_at="equipment",
    source="the idler's direction fixes the sequence; started backward, all machines run backward",
)  # fmt: skip
def sequence_proved(makes_line_3: bool | None, proved: bool | None, subject: str) -> Findings:
    """A phase-sequence relay keeps the outlets dead until three lines stand in the right order."""
    if not makes_line_3:
        return None
    return must(
        proved, "condition", subject,
        "nothing keeps the outlets dead while the idler stands, runs up or runs backward",
        found_words="not proved", allowed_words="outlets behind a phase-sequence relay",
        remedy=Remedy("A phase-sequence and undervoltage relay in the outlets' contactor."),
    )  # fmt: skip


@nec("430.102(B)", "motor")
def disconnect_in_sight(in_sight: bool | None, controller_lockable: bool, subject: str) -> Findings:
    """A disconnect stands in sight of the motor and of what it drives.

    Not where a lockable controller disconnect may stand in its place (in sight is impracticable
    or adds a hazard), which the caller tells.
    """
    if controller_lockable:
        return None
    return must(
        in_sight, "stop", subject,
        "no disconnect stands in sight of the motor and its machine",
        found_words="out of sight", allowed_words="in sight (50 ft at most)",
        remedy=Remedy("A disconnect at the machine; behind a drive one with an early-break "
                      "contact to the drive's enable."),
    )  # fmt: skip


@nec("430.110(A)", "motor")
def disconnect_rating(rating_a: float | None, full_load_a: float | None, subject: str) -> Findings:
    """A motor's disconnect is rated 115 % of its full-load current or more."""
    if full_load_a is None:
        return None
    least = limit("nec_430", "disconnect") * full_load_a
    return at_least(
        rating_a, least, "stop", subject,
        "its disconnect of {found:.3g} A must be rated {allowed:.4g} A",
        unit="A", remedy=larger_isolator(least, "NEC"),
    )  # fmt: skip


@nec("430.128", "circuit")
def drive_disconnect(rating_a: float | None, rated_input_a: float | None, subject: str) -> Findings:
    """A drive's disconnect is rated 115 % of its rated input current or more."""
    if rated_input_a is None:
        return None
    least = limit("nec_430", "disconnect") * rated_input_a
    return at_least(
        rating_a, least, "stop", subject,
        "the drive's disconnect of {found:.3g} A must be rated {allowed:.4g} A",
        unit="A", remedy=larger_isolator(least, "NEC"),
    )  # fmt: skip
