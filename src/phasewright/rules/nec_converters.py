"""NEC article 455 beyond the sizes of a converter's supply: plate, marking, switching, loads.

The sizes (455.6(A), 455.7, 455.8(C)) stand in phase_converters.py, single-phase loads (455.9) in
generated_line.py.
"""

from __future__ import annotations

from phasewright.quantities.codes import Buyable
from phasewright.quantities.finding import Remedy
from phasewright.rules.families import nec
from phasewright.rules.register import Findings, at_least, at_most, must
from phasewright.tables.protection import share
from phasewright.tables.sizes import BREAKERS_NEC_A, next_size


@nec("455.4", "equipment")
def nameplate(
    converter: bool, origin: Buyable | None, subject: str, has_plate: bool | None = None
) -> Findings:
    """A phase converter has a plate with its volts, frequency, amps and loads.

    One that was built at home has none until its builder makes it one.
    """
    if not converter or (origin is None and has_plate is None):
        return None
    return must(
        origin != "self_built" if has_plate is None else has_plate, "condition", subject,
        "a converter built at home has no plate: input and output volts, hertz, single-phase full-"
        "load amps, least and largest single load, largest total load, three-phase amps, maker; "
        "an inspector may refuse it",
        found_words="no plate", allowed_words="a plate with seven items",
        remedy=Remedy("Make the plate from the figures here, and ask the inspector first.",
                      "supply.converter_circuit.plate", "true"),
    )  # fmt: skip


@nec("455.6(B)", "installation")
def marked(makes_line_3: bool | None, marked: bool | None, subject: str) -> Findings:
    """The manufactured phase is marked wherever its conductors can be got at, the same all over."""
    if not makes_line_3:
        return None
    return must(
        marked, "stop", subject,
        "the generated line is not marked where it ends: somebody will take it for a supply line",
        found_words="not marked", allowed_words="one mark at every end",
        remedy=Remedy("One colour or tag at every terminal of line 3, and a note at the board."),
    )  # fmt: skip


@nec("455.7(B)", "circuit")
def fixed_loads_device(
    device_a: float | None, ampacity_a: float | None, sized_by_loads: bool, subject: str
) -> Findings:
    """Where the supply conductors were sized by the loads, their device goes by their ampacity.

    The next standard rating is permitted.
    """
    if not sized_by_loads or ampacity_a is None:
        return None
    most = next_size(ampacity_a, BREAKERS_NEC_A, "breaker by NEC 240.6(A)")
    return at_most(
        device_a, most, "stop", subject,
        f"its device of {{found:.3g}} A protects no conductor of {ampacity_a:.3g} A: "
        "{allowed:.3g} A at most",
        unit="A", remedy=Remedy("Fit that rating.", None, most, "A"),
    )  # fmt: skip


@nec("455.8(A)", "equipment")
def disconnect_in_sight(converter: bool, in_sight: bool | None, subject: str) -> Findings:
    """What cuts off a converter's supply stands in sight of it and within reach."""
    if not converter:
        return None
    return must(
        in_sight, "stop", subject, "no disconnect stands in sight of the converter",
        found_words="out of sight", allowed_words="in sight",
        remedy=Remedy("A disconnect beside the converter."),
    )  # fmt: skip


@nec("455.8(C)(2)", "equipment")
def horsepower_disconnect(
    switch_locked_a: float | None, largest_locked_a: float | None, others_a: float, subject: str,
    voltage_out_over_in: float = 1.0,
) -> Findings:  # fmt: skip
    """A disconnect rated in horsepower opens twice the locked-rotor amps of the largest motor.

    With the full-load amps of what else may run, and of loads that are no motors.
    """
    if largest_locked_a is None:
        return None
    least = share("nec_455", "horsepower_switch") * (largest_locked_a + others_a)
    return at_least(
        switch_locked_a, least * voltage_out_over_in, "stop", subject,
        "the disconnect opens {found:.4g} A of locked-rotor current and must open {allowed:.4g} A",
        unit="A", remedy=Remedy("A switch of more horsepower, or a breaker."),
    )  # fmt: skip


@nec("455.20", "equipment")
def static_disconnect(
    static: bool, loads: int, in_sight: bool | None, own_disconnects: bool, subject: str
) -> Findings:
    """A static converter's disconnect serves its load as well only for one load in sight."""
    if not static or own_disconnects:
        return None
    fits = None if in_sight is None and loads < 2 else loads < 2 and bool(in_sight)
    return must(
        fits, "stop", subject,
        "the static converter's disconnect cannot serve for its loads: more than one, or out of "
        "sight",
        found_words="one disconnect for all", allowed_words="one load in sight of it",
        remedy=Remedy("A disconnect of its own at every machine."),
    )  # fmt: skip


@nec("455.21", "equipment")
def loads_wait(rotary: bool, waits: bool | None, subject: str) -> Findings:
    """Nothing gets power from a rotary converter before that has started."""
    if not rotary:
        return None
    return must(
        waits, "stop", subject,
        "machines could be switched on before the converter has run up: they would stand and burn",
        found_words="outlets live at once", allowed_words="outlets wait for the converter",
        remedy=Remedy("An outlets' contactor that the converter's relay closes when it runs."),
    )  # fmt: skip


@nec("455.22", "equipment")
def loads_drop_out(rotary: bool, drops_out: bool | None, subject: str) -> Findings:
    """When the supply fails, what hangs on a rotary converter drops out."""
    if not rotary:
        return None
    return must(
        drops_out, "stop", subject,
        "machines stay connected when the supply fails: they would start by themselves, all at "
        "once, on a converter that stands still",
        found_words="stay connected", allowed_words="drop out",
        remedy=Remedy("A magnetic starter or contactor for every machine, or one for all."),
    )  # fmt: skip


@nec("455.23", "circuit")
def capacitors_ahead_of_overload(added: bool, ahead: bool | None, subject: str) -> Findings:
    """Capacitors added for a motor hang on the line side of its overload relay."""
    if not added:
        return None
    return must(
        ahead, "stop", subject,
        "the capacitors that go with the motor hang behind its overload relay: the relay no longer "
        "sees what the motor takes",
        found_words="behind the relay", allowed_words="ahead of it",
        remedy=Remedy("Wire them between contactor and overload relay."),
    )  # fmt: skip
