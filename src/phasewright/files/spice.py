"""A course as a SPICE netlist: the same run for any general circuit simulator, to check us by.

Resistors, inductors, capacitors and controlled sources only. A machine is its two-axis circuit: the
flux of its main path is the charge of a capacitor of one farad, its shaft a capacitor as large as
its inertia. Instants that follow from the run (start capacitor out, supply gone) are written
down as numbers. Supply current is i(v_supply), line volts v(n1) and v(n3) against line 2 (node 0),
speed of machine k v(w<k>) [rad/s], its line currents v(i1m<k>), v(i2m<k>), v(i3m<k>).
"""

from __future__ import annotations

import math

from phasewright.machines.circuit import Circuit
from phasewright.network.supply import Source
from phasewright.running.network import Between, LoadLaw
from phasewright.running.rows import friction_coefficients
from phasewright.starts.course import FOREVER, Course, Starter
from phasewright.starts.waves import LEAST_LEAKAGE, Waves, regular

ROOT3_HALF = repr(math.sqrt(0.75))
OPEN_S = "1e-9"
SWITCHING_S = "1e-6"
"""How long a switch takes in the netlist [s]."""


def netlist(waves: Waves, *, step_s: float = 2e-5, record_s: float = 0.0) -> str:
    """The netlist of a course that was run."""
    course = waves.course
    halves = waves.time_s[1] - waves.time_s[0] if len(waves.time_s) > 1 else 2.0 * waves.time_s[0]
    seconds = waves.time_s[-1] + 0.5 * halves
    lines = [
        "a three-line network in time",
        *_source(waves),
        *_bank(course),
        *_start(course, waves.dropped_s),
    ]
    for number in range(len(course.starters)):
        lines += _machine(number, waves)
    lines += [
        ".options reltol=1e-5 method=trap",
        f".tran {max(step_s, record_s)!r} {float(seconds)!r} 0 {step_s!r} uic",
        ".end",
        "",
    ]
    return "\n".join(lines)


def _source(waves: Waves) -> list[str]:
    course = waves.course
    source = regular(course)[0].source
    if course.three_lines:
        return _three_lines(source, course.phase_rad)
    w = 2.0 * math.pi * source.frequency_hz
    peak, degrees = math.sqrt(2.0) * source.voltage_v, math.degrees(course.phase_rad)
    lines = [f"v_supply s0 0 sin(0 {peak!r} {source.frequency_hz!r} 0 0 {degrees!r})"]
    at = "s0"
    if course.resistor is not None:
        ohm = course.resistor.ohm
        lines += [
            _instant("bridged", waves.bypassed_s),
            f"b_series s0 s1 i=v(s0,s1)*({1.0 / ohm!r}+1e4*v(bridged))",
        ]
        at = "s1"
    if waves.opened_s is not None:
        lines += [
            _instant("opened", waves.opened_s),
            _instant("returned", waves.returned_s),
            f"b_contactor {at} s2 i=v({at},s2)*({OPEN_S}+1e4*(1-v(opened)+v(returned)))",
        ]
        at = "s2"
    if source.reactance_ohm > 0.0:
        lines.append(f"r_supply {at} s3 {max(source.resistance_ohm, 1e-9)!r}")
        lines.append(f"l_supply s3 n1 {source.reactance_ohm / w!r}")
    else:
        lines.append(f"r_supply {at} n1 {max(source.resistance_ohm, 1e-9)!r}")
    return lines


def _three_lines(source: Source, phase_rad: float) -> list[str]:
    """A symmetrical source in star about a node of its own, each line behind half of the loop's
    impedance; line 2 is node 0, v_supply stands in line 1."""
    ohm = max(0.5 * source.resistance_ohm, 1e-9)
    henry = 0.25 * source.reactance_ohm / (math.pi * source.frequency_hz)
    peak, lines = math.sqrt(2.0 / 3.0) * source.voltage_v, []
    for line, node, turned in ((1, "n1", -30.0), (2, "0", -150.0), (3, "n3", 90.0)):
        degrees, name = math.degrees(phase_rad) + turned, "v_supply" if line == 1 else f"v_{line}"
        lines.append(f"{name} s{line} star sin(0 {peak!r} {source.frequency_hz!r} 0 0 {degrees!r})")
        end = f"t{line}" if henry > 0.0 else node
        lines.append(f"r_{line} s{line} {end} {ohm!r}")
        if henry > 0.0:
            lines.append(f"l_{line} {end} {node} {henry!r}")
    return lines


def _instant(name: str, at_s: float | None) -> str:
    """A node that stands at 0 V before an instant and at 1 V after it; None never comes."""
    if at_s is None or at_s >= FOREVER:
        return f"v_{name} {name} 0 0"
    if at_s <= 0.0:
        return f"v_{name} {name} 0 1"
    return f"v_{name} {name} 0 pulse(0 1 {at_s:.12g} {SWITCHING_S} {SWITCHING_S} {FOREVER!r})"


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
    ohm = max(start.resistance_ohm, 1e-4)
    lines = [
        _instant("joined", start.joins_s),
        _instant("dropped", dropped_s),
        f"b_start n3 c_s i=v(n3,c_s)*({OPEN_S}+{1.0 / ohm!r}*v(joined)*(1-v(dropped)))",
        f"c_start c_s n1 {start.capacitance_f!r} ic=0",
    ]
    if start.bleeder_ohm is not None:  # it counts once the capacitor is off
        lines.append(f"b_bleeder c_s n1 i=v(c_s,n1)*{1.0 / start.bleeder_ohm!r}*v(dropped)")
    return lines


def opened_of(waves: Waves) -> tuple[float | None, ...]:
    """When each machine's contactor opened in the run, by order or for want of volts [s]."""
    end = 2.0 * float(waves.time_s[-1]) - float(waves.time_s[-2:].mean())
    opened = []
    for starter, closed, released in zip(
        waves.course.starters, waves.closed_s, waves.released_s, strict=True
    ):
        ordered = None if closed is None or starter.opens_s > end else starter.opens_s
        times = [at for at in (ordered, released) if at is not None]
        opened.append(min(times, default=None))
    return tuple(opened)


def _machine(k: int, waves: Waves) -> list[str]:
    starter, opened_s = waves.course.starters[k], opened_of(waves)[k]
    z, turned = starter.machine.circuit, "-1*" if starter.machine.reversed else ""
    closed = f"(v(on{k})-v(off{k}))"
    excited = opened_s is not None and keeps_excited(starter.travelling_f)
    # behind its contactor a machine with its capacitors has nodes of its own
    n1, n3, on = (f"k1m{k}", f"k3m{k}", "1") if excited else ("n1", "n3", closed)
    v_a, v_b = f"{on}*(2*v({n1})-v({n3}))/3", f"{on}*(0-v({n3}))/{math.sqrt(3.0)!r}"
    lines = [
        f"* machine {k}: {starter.machine.name}",
        _instant(f"on{k}", waves.closed_s[k]),
        _instant(f"off{k}", opened_s),
        f"bua{k} ua{k} 0 v={v_a}",
        f"bub{k} ub{k} 0 v={turned}{v_b}",
        *_stator(k, starter, None if excited else opened_s),
        *_rotor(k, starter),
        *_travelling(k, starter, closed),
    ]
    iron = 1.0 / z.core_loss_ohm
    ia, ib = f"(i(via{k})+{iron!r}*{v_a})", f"({turned}i(vib{k})+{iron!r}*{v_b})"
    torque = f"1.5*{z.poles // 2}*(v(pa{k})*i(vib{k})-v(pb{k})*i(via{k}))"
    return [
        *lines,
        f"bi1{k} i1m{k} 0 v={ia}",
        f"bi3{k} i3m{k} 0 v=-0.5*{ia}-{ROOT3_HALF}*{ib}",
        f"bi2{k} i2m{k} 0 v=0-v(i1m{k})-v(i3m{k})",
        f"bl1{k} {n1} 0 i=v(i1m{k})",
        f"bl3{k} {n3} 0 i=v(i3m{k})",
        *_share(k, waves.course),
        f"bt{k} 0 w{k} i={torque}-({_drag(k, starter)})",
        f"cw{k} w{k} 0 {starter.inertia_kg_m2!r} ic={starter.speed_rad_s!r}",
        f"rw{k} w{k} 0 1e12",
    ]


def keeps_excited(c: Between) -> bool:
    """Whether capacitors close the path of a machine's currents once it is switched off."""
    return sum(farad > 0.0 for farad in (c.c12, c.c23, c.c31)) >= 2


def _stator(k: int, starter: Starter, opened_s: float | None) -> list[str]:
    """Stator and main path of both axes; a winding that is switched off lets no current pass."""
    z = starter.machine.circuit
    w0 = 2.0 * math.pi * z.frequency_hz
    siemens = 1.0 / z.stator_resistance_ohm
    lines = []
    for axis in "ab":
        ends, across = f"q{axis}{k} x{axis}{k}", f"v(q{axis}{k},x{axis}{k})"
        held = f"rs{axis}{k} {ends} {z.stator_resistance_ohm!r}"
        switched = f"bs{axis}{k} {ends} i={across}*(1e-6+{siemens!r}*(1-v(off{k})))"
        leakage = max(z.stator_leakage_ohm, LEAST_LEAKAGE * _unsaturated_ohm(z))
        lines += [
            f"vi{axis}{k} u{axis}{k} q{axis}{k} 0",
            held if opened_s is None else switched,
            f"ls{axis}{k} x{axis}{k} m{axis}{k} {leakage / w0!r}",
            f"bp{axis}{k} 0 p{axis}{k} i=v(m{axis}{k})",
            f"cp{axis}{k} p{axis}{k} 0 1 ic=0",
            f"rp{axis}{k} p{axis}{k} 0 1e9",
            f"bm{axis}{k} m{axis}{k} 0 i=v(p{axis}{k})*({_reluctance(k, z)})",
            f"rm{axis}{k} m{axis}{k} 0 1e6",
        ]
    return lines


def _rotor(k: int, starter: Starter) -> list[str]:
    """Every cage of both axes, with what its turning induces from the other axis."""
    z = starter.machine.circuit
    w0, p = 2.0 * math.pi * z.frequency_hz, z.poles // 2
    lines = []
    for axis, sign, other in (("a", "-1", "b"), ("b", "1", "a")):
        for n, cage in enumerate(z.cages):
            leak = cage.leakage_ohm / w0
            lines += [
                f"vr{axis}{k}c{n} e{axis}{k}c{n} f{axis}{k}c{n} 0",
                f"be{axis}{k}c{n} e{axis}{k}c{n} 0 "
                f"v={sign}*{p}*v(w{k})*({leak!r}*i(vr{other}{k}c{n})+v(p{other}{k}))",
                f"rr{axis}{k}c{n} f{axis}{k}c{n} g{axis}{k}c{n} {cage.resistance_ohm!r}",
                f"lr{axis}{k}c{n} g{axis}{k}c{n} m{axis}{k} {leak!r}",
            ]
    return lines


def _travelling(k: int, starter: Starter, closed: str) -> list[str]:
    """Capacitors behind the machine's contactor; a single one hangs on one line and is switched
    from the other, so that no part floats."""
    c, siemens = starter.travelling_f, f"({OPEN_S}+1e3*{closed})"
    if not keeps_excited(c):
        return [
            line
            for name, one, other, farad in (
                ("12", "n1", "0", c.c12), ("23", "n3", "0", c.c23), ("31", "n3", "n1", c.c31)
            )
            if farad > 0.0
            for line in (
                f"bk{k} {one} k1m{k} i=v({one},k1m{k})*{siemens}",
                f"ct{name}{k} k1m{k} {other} {farad!r} ic=0",
            )
        ]  # fmt: skip
    lines = [
        f"bk1{k} n1 k1m{k} i=v(n1,k1m{k})*{siemens}",
        f"bk3{k} n3 k3m{k} i=v(n3,k3m{k})*{siemens}",
    ]
    for name, nodes, farad in (
        ("12", f"k1m{k} 0", c.c12), ("23", f"0 k3m{k}", c.c23), ("31", f"k3m{k} k1m{k}", c.c31)
    ):  # fmt: skip
        if farad > 0.0:
            lines.append(f"ct{name}{k} {nodes} {farad!r} ic=0")
    return lines


def _share(k: int, course: Course) -> list[str]:
    """A node that stands at the share of its law that the load asks [V]."""
    name = course.starters[k].machine.name
    steps = sorted(
        (step for step in course.load_steps if step.machine == name), key=lambda step: step.at_s
    )
    lines, terms, before = [], "1", 1.0
    for n, step in enumerate(steps):
        lines.append(_instant(f"step{k}x{n}", step.at_s))
        terms += f"+({step.share - before!r})*v(step{k}x{n})"
        before = step.share
    return [*lines, f"bshare{k} share{k} 0 v={terms}"]


def _unsaturated_ohm(z: Circuit) -> float:
    return z.magnetising_ohm * (1.0 if z.saturation is None else 1.0 + z.saturation.k)


def _reluctance(k: int, z: Circuit) -> str:
    per_h = 2.0 * math.pi * z.frequency_hz / _unsaturated_ohm(z)
    law = z.saturation
    if law is None or law.k == 0.0:
        return repr(per_h)
    flux = f"sqrt(v(pa{k})*v(pa{k})+v(pb{k})*v(pb{k}))"
    knee = z.rated_flux_vs * law.k ** (-1.0 / law.s)
    return f"{per_h!r}*(1+(({flux})/{knee!r})^{law.s!r})"


def _drag(k: int, starter: Starter) -> str:
    a1, a2 = friction_coefficients(starter.machine.circuit)
    w = f"v(w{k})"
    asked = f"v(share{k})*({_asked(starter.machine.load, w)})"
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
