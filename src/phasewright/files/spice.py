"""A course as a SPICE netlist: the same run for any general circuit simulator, to check us by.

Resistors, inductors, capacitors and controlled sources only. A machine is its two-axis circuit: the
flux of its main path is the charge of a capacitor of one farad, its shaft a capacitor as large as
its inertia. Instants that follow from the run (start capacitor out, supply gone) are written
down as numbers. Supply current is i(v_supply), line volts v(n1) and v(n3) against line 2 (node 0),
speed of machine k v(w<k>) [rad/s], its line currents v(i1m<k>), v(i2m<k>), v(i3m<k>).
"""

from __future__ import annotations

import math

from phasewright.quantities.errors import UsageError
from phasewright.running.network import LoadLaw
from phasewright.running.rows import friction_coefficients
from phasewright.starts.course import FOREVER, Course, Starter
from phasewright.starts.waves import Waves

ROOT3_HALF = repr(math.sqrt(0.75))
OPEN_S = "1e-9"
SWITCHING_S = "1e-6"
"""How long a switch takes in the netlist [s]."""


def netlist(waves: Waves, *, step_s: float = 2e-5, record_s: float = 0.0) -> str:
    """The netlist of a course that was run.

    Raises UsageError where a machine is switched off or the supply comes back: those are not
    written down yet.
    """
    course = waves.course
    if any(starter.opens_s < course.seconds for starter in course.starters) or (
        course.returns_s < course.seconds
    ):
        raise UsageError("a machine switched off and a supply that returns have no netlist yet")
    seconds = waves.time_s[-1] + 0.5 * (waves.time_s[1] - waves.time_s[0])
    lines = [
        "a three-line network in time",
        *_source(course, waves.opened_s),
        *_bank(course),
        *_start(course, waves.dropped_s),
    ]
    for number, starter in enumerate(course.starters):
        lines += _machine(number, starter)
    lines += [
        ".options reltol=1e-5 method=trap",
        f".tran {max(step_s, record_s)!r} {float(seconds)!r} 0 {step_s!r} uic",
        ".end",
        "",
    ]
    return "\n".join(lines)


def _source(course: Course, opened_s: float | None) -> list[str]:
    source = course.source
    w = 2.0 * math.pi * source.frequency_hz
    peak, degrees = math.sqrt(2.0) * source.voltage_v, math.degrees(course.phase_rad)
    lines = [f"v_supply s0 0 sin(0 {peak!r} {source.frequency_hz!r} 0 0 {degrees!r})"]
    at = "s0"
    if course.resistor is not None:
        bridged, ohm = course.resistor.bypass_s, course.resistor.ohm
        lines += [
            _instant("bridged", bridged),
            f"b_series s0 s1 i=v(s0,s1)*({1.0 / ohm!r}+1e4*v(bridged))",
        ]
        at = "s1"
    if opened_s is not None:
        lines += [
            _instant("opened", opened_s),
            f"b_contactor {at} s2 i=v({at},s2)*({OPEN_S}+1e4*(1-v(opened)))",
        ]
        at = "s2"
    if source.reactance_ohm > 0.0:
        lines.append(f"r_supply {at} s3 {max(source.resistance_ohm, 1e-9)!r}")
        lines.append(f"l_supply s3 n1 {source.reactance_ohm / w!r}")
    else:
        lines.append(f"r_supply {at} n1 {max(source.resistance_ohm, 1e-9)!r}")
    return lines


def _instant(name: str, at_s: float) -> str:
    """A node that stands at 0 V before an instant and at 1 V after it."""
    if at_s <= 0.0:
        return f"v_{name} {name} 0 1"
    if at_s >= FOREVER:
        return f"v_{name} {name} 0 0"
    return f"v_{name} {name} 0 pulse(0 1 {at_s!r} {SWITCHING_S} {SWITCHING_S} {FOREVER!r})"


def _bank(course: Course) -> list[str]:
    c, g = course.capacitance_f, course.conductance_s
    lines = [f"r_open n3 0 {1.0 / float(OPEN_S)!r}"]
    for name, nodes, farad, siemens in (
        ("12", "n1 0", c.c12, g.c12), ("23", "0 n3", c.c23, g.c23), ("31", "n3 n1", c.c31, g.c31)
    ):  # fmt: skip
        if farad > 0.0:
            lines.append(f"c{name} {nodes} {farad!r} ic=0")
        if siemens > 0.0:
            lines.append(f"r{name} {nodes} {1.0 / siemens!r}")
    return lines


def _start(course: Course, dropped_s: float | None) -> list[str]:
    start = course.start
    if start is None:
        return []
    end = FOREVER if dropped_s is None else dropped_s
    ohm = max(start.resistance_ohm, 1e-4)
    return [
        _instant("joined", start.joins_s),
        _instant("dropped", end),
        f"b_start n3 c_s i=v(n3,c_s)*({OPEN_S}+{1.0 / ohm!r}*v(joined)*(1-v(dropped)))",
        f"c_start c_s n1 {start.capacitance_f!r} ic=0",
    ]


def _machine(k: int, starter: Starter) -> list[str]:
    machine = starter.machine
    z = machine.circuit
    w0, p = 2.0 * math.pi * z.frequency_hz, z.poles // 2
    turned = "-1*" if machine.reversed else ""
    on = f"v(on{k})"
    volts = {"a": f"{on}*(2*v(n1)-v(n3))/3", "b": f"{turned}{on}*(0-v(n3))/{math.sqrt(3.0)!r}"}
    other = {"a": ("-1", "b"), "b": ("1", "a")}
    flux = f"sqrt(v(pa{k})*v(pa{k})+v(pb{k})*v(pb{k}))"
    lines = [f"* machine {k}: {machine.name}", _instant(f"on{k}", starter.closes_s)]
    for axis in "ab":
        sign, across = other[axis]
        lines += [
            f"bu{axis}{k} u{axis}{k} 0 v={volts[axis]}",
            f"vi{axis}{k} u{axis}{k} q{axis}{k} 0",
            f"rs{axis}{k} q{axis}{k} x{axis}{k} {z.stator_resistance_ohm!r}",
            f"ls{axis}{k} x{axis}{k} m{axis}{k} {z.stator_leakage_ohm / w0!r}",
            f"bp{axis}{k} 0 p{axis}{k} i=v(m{axis}{k})",
            f"cp{axis}{k} p{axis}{k} 0 1 ic=0",
            f"rp{axis}{k} p{axis}{k} 0 1e9",
            f"bm{axis}{k} m{axis}{k} 0 i=v(p{axis}{k})*({_reluctance(starter, flux)})",
            f"rm{axis}{k} m{axis}{k} 0 1e6",
        ]
        for n, cage in enumerate(z.cages):
            leak = cage.leakage_ohm / w0
            lines += [
                f"vr{axis}{k}c{n} e{axis}{k}c{n} f{axis}{k}c{n} 0",
                f"be{axis}{k}c{n} e{axis}{k}c{n} 0 "
                f"v={sign}*{p}*v(w{k})*({leak!r}*i(vr{across}{k}c{n})+v(p{across}{k}))",
                f"rr{axis}{k}c{n} f{axis}{k}c{n} g{axis}{k}c{n} {cage.resistance_ohm!r}",
                f"lr{axis}{k}c{n} g{axis}{k}c{n} m{axis}{k} {leak!r}",
            ]
    ia, ib = f"i(via{k})", f"{turned}i(vib{k})"
    iron = 1.0 / z.core_loss_ohm
    va, vb = volts["a"], f"{on}*(0-v(n3))/{math.sqrt(3.0)!r}"
    lines += [
        f"bi1{k} i1m{k} 0 v={ia}+{iron!r}*{va}",
        f"bi3{k} i3m{k} 0 v=-0.5*({ia}+{iron!r}*{va})-{ROOT3_HALF}*({ib}+{iron!r}*{vb})",
        f"bi2{k} i2m{k} 0 v=0-v(i1m{k})-v(i3m{k})",
        f"bl1{k} n1 0 i=v(i1m{k})",
        f"bl3{k} n3 0 i=v(i3m{k})",
        f"bt{k} 0 w{k} i=1.5*{p}*(v(pa{k})*i(vib{k})-v(pb{k})*i(via{k}))-({_drag(k, starter)})",
        f"cw{k} w{k} 0 {starter.inertia_kg_m2!r} ic={starter.speed_rad_s!r}",
        f"rw{k} w{k} 0 1e12",
    ]
    return lines


def _reluctance(starter: Starter, flux: str) -> str:
    z = starter.machine.circuit
    w0 = 2.0 * math.pi * z.frequency_hz
    if z.saturation is None or z.saturation.k == 0.0:
        return repr(w0 / z.magnetising_ohm)
    law = z.saturation
    lu = (1.0 + law.k) * z.magnetising_ohm / w0
    knee = z.rated_flux_vs * law.k ** (-1.0 / law.s)
    return f"(1+(({flux})/{knee!r})^{law.s!r})/{lu!r}"


def _drag(k: int, starter: Starter) -> str:
    a1, a2 = friction_coefficients(starter.machine.circuit)
    w = f"v(w{k})"
    asked = _asked(starter.machine.load, w)
    if starter.breakaway_nm > 0.0:
        slow = f"min(max({w},-1),1)"
        more = f"max(0,{starter.breakaway_nm!r}-abs({asked}))"
        asked = f"{asked}+{more}*{slow}*max(0,1-0.1*abs({w}))"
    return f"{a1!r}*{w}+{a2!r}*{w}*abs({w})+{asked}"


def _asked(load: LoadLaw, w: str) -> str:
    if load.kind == "constant":
        return f"{load.torque_nm!r}*min(max({w},-1),1)"
    if load.kind == "fan":
        return f"{load.torque_nm / load.speed_rad_s**2!r}*{w}*abs({w})"
    if load.kind == "viscous":
        return f"{load.torque_nm / load.speed_rad_s!r}*{w}"
    return "0"
