"""All rules over an installation: every circuit and the whole, by the family of its region."""

from __future__ import annotations

from dataclasses import replace

from phasewright.circuits.installation import Circuit, Installation
from phasewright.quantities.finding import Finding
from phasewright.rules import over_iec, over_nec
from phasewright.rules.drives import nothing_opens_behind
from phasewright.rules.isolation import (
    input_drops_out,
    isolator_carries,
    sequence_proved,
    socket_carries,
    socket_voltage,
)
from phasewright.rules.of_circuit import (
    ahead_of,
    at_end,
    fed_by,
    generated,
    hangs_on_generated,
    magnetic_a,
    number,
    rating_a,
    residual_trips,
)
from phasewright.rules.register import Ruling
from phasewright.rules.shock_protection import line_3_cleared, residual_sees
from phasewright.rules.supply import voltage_drop


def rulings(installation: Installation) -> tuple[Ruling, ...]:
    """What every rule says that applies to a circuit or to the whole."""
    said = [each for circuit in installation.circuits for each in of_one(circuit, installation)]
    family = over_nec if installation.region == "NEC" else over_iec
    said += (each for each in family.of_whole(installation) if each.applies)
    return tuple(said)


def of_one(circuit: Circuit, installation: Installation) -> tuple[Ruling, ...]:
    """What every rule says that applies to one circuit of an installation."""
    family = over_nec if installation.region == "NEC" else over_iec
    both = (*_any(circuit, installation), *family.of_circuit(circuit, installation))
    return tuple(_of(circuit, ruling) for ruling in both if ruling.applies)


def findings(installation: Installation) -> tuple[Finding, ...]:
    """What the rules found, the worst first and else in the order of the circuits."""
    found = [each for ruling in rulings(installation) for each in ruling.findings]
    return tuple(sorted(found, key=lambda each: _WORST.index(each.severity)))


_WORST = ("stop", "condition", "caution", "info")


def allowed(installation: Installation) -> bool:
    """Whether no rule forbids the installation: such a plan may be offered."""
    return not any(
        each.severity == "stop" for ruling in rulings(installation) for each in ruling.findings
    )


def _of(circuit: Circuit, ruling: Ruling) -> Ruling:
    """The ruling with its findings told of the circuit they were found on."""
    if not ruling.findings:
        return ruling
    named = (replace(each, circuit=circuit.id) for each in ruling.findings)
    return replace(ruling, findings=tuple(named))


def _any(c: Circuit, i: Installation) -> tuple[Ruling, ...]:
    """Rules of no family: common practice of converters, drives, sockets and switches."""
    end, behind = at_end(c, i), fed_by(c, i)
    makes_line_3 = end is not None and end.generates_line3
    socket, isolator, device = c.socket, c.isolator, rating_a(c.device)
    line_3 = number(c.earth_fault_a) if generated(c, i) else None
    isolated = behind is not None and behind.isolates
    drop = None if c.voltage_drop is None else c.voltage_drop.running
    return (
        nothing_opens_behind(c.switches if c.lines == "drive output" else None, c.id),
        line_3_cleared(line_3, magnetic_a(c.device), residual_trips(c), c.id),
        residual_sees(isolated, ahead_of(behind, c, i), c.id),
        input_drops_out(makes_line_3, c.undervoltage_release, c.id),
        sequence_proved(hangs_on_generated(c, i), c.phase_relay is not None, c.id),
        isolator_carries(
            None if isolator is None else isolator.rating_a,
            number(c.design_current_a),
            c.id,
            i.region,
        ),
        socket_voltage(None if socket is None else socket.voltage_v, c.voltage_v, c.id),
        socket_carries(None if socket is None else socket.rating_a, device, c.id),
        voltage_drop(drop, i.region, c.id),
    )
