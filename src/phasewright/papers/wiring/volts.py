"""The check of volts: what hangs on what, by the volts at which the wiring's sources stand.

Volts between two conductors are known where both belong to one system (the supply with the line
that is generated beside it, or a source of its own) and both are fed in that position of the
switches; what is not known is not judged here.
"""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.wiring.hanging import HOLDS
from phasewright.papers.wiring.model import Device, Wiring
from phasewright.papers.wiring.nets import Nets
from phasewright.papers.wiring.windings import winding_volts
from phasewright.quantities.finding import Reason
from phasewright.quantities.units import format as shown

Potentials = dict[str, tuple[str, complex]]
"""System and volts by net."""
BEARS = (0.8, 1.2)
"""Between which shares of its volts a device that has no coil serves: inputs of drives and sockets
are made for a band, 200 to 250 V as one (IEC 60309-1, from memory), and the next band is far."""
WRONG_LINK = 3.0**0.25
"""By what ratio a winding's volts may miss its plate's: half way, in ratios, to those of the next
link, which is wrong by the root of three or by two."""
FEEDS = {
    "plug_and_socket": (("1", "3"), ("3", "5")),
    "phase_sequence_relay": (("L1", "L2"), ("L2", "L3"), ("L3", "L1")),
    "drive": (("L1", "L2"), ("L2", "L3")),
    "power_transformer": (("P1", "P2"),),
    "control_transformer": (("P1", "P2"),),
    "electronic_source": (("P1", "P2"),),
    "lamp": (("X1", "X2"),),
    "pony_motor": (("U1", "U2"), ("T1", "T4")),
}
"""Between which terminals a device of a kind must see the volts it is made for."""
CAPACITORS = ("run_capacitor", "start_capacitor")


def potentials(wiring: Wiring, closed: Nets) -> Potentials:
    """The volts of every net at which a source with known volts stands."""
    found: Potentials = {}
    for device in wiring.devices:
        for terminal, real, imaginary in device.phasors_v:
            system = device.system or device.id
            found.setdefault(closed.of(device.at(terminal)), (system, complex(real, imaginary)))
    return found


def between(at: Potentials, closed: Nets, device: Device, one: str, other: str) -> float | None:
    """Volts between two terminals of a device, where they are known."""
    first, second = (at.get(closed.of(device.at(end))) for end in (one, other))
    if first is None or second is None or first[0] != second[0]:
        return None
    return abs(first[1] - second[1])


def wrong_volts(wiring: Wiring, closed: Nets) -> Iterator[Reason]:
    """Coils, loads, capacitors and windings that see other volts than they are made for."""
    at = potentials(wiring, closed)
    for device in wiring.devices:
        yield from _coil(device, at, closed)
        yield from _fed(device, at, closed)
        if device.kind in CAPACITORS:
            yield from _capacitor(device, at, closed)
        if device.kind in ("motor", "idler"):
            yield from _winding(device, at, closed)


def _coil(device: Device, at: Potentials, closed: Nets) -> Iterator[Reason]:
    if device.coil is None or device.rated_v is None:
        return
    volts = between(at, closed, device, *device.coil)
    if volts is not None and not _holds(volts, device.rated_v):
        yield Reason(
            "coil_volts",
            f"The coil of {device.id} is for {_v(device.rated_v)} and hangs on {_v(volts)}.",
        )


def _fed(device: Device, at: Potentials, closed: Nets) -> Iterator[Reason]:
    if device.rated_v is None:
        return
    for one, other in FEEDS.get(device.kind, ()):
        if one not in device.terminals or other not in device.terminals:
            continue
        volts = between(at, closed, device, one, other)
        if volts is not None and not _holds(volts, device.rated_v, BEARS):
            yield Reason(
                "device_volts",
                f"{device.id} ({device.words}) is for {_v(device.rated_v)} and sees {_v(volts)} "
                f"between {one} and {other}.",
            )


def _holds(volts: float, rated_v: float, within: tuple[float, float] = HOLDS) -> bool:
    low, high = within
    return low <= volts / rated_v <= high


def _capacitor(device: Device, at: Potentials, closed: Nets) -> Iterator[Reason]:
    """Its class must bear the highest volts across it: those of the lines, and those computed."""
    if device.rated_v is None:
        return
    known = [between(at, closed, device, *device.terminals[:2]), device.sees_v]
    most = max((each for each in known if each is not None), default=0.0)
    if most > device.rated_v:
        yield Reason(
            "capacitor_volts",
            f"{device.id} is of the {_v(device.rated_v)} class and sees {_v(most)}.",
        )


def _winding(device: Device, at: Potentials, closed: Nets) -> Iterator[Reason]:
    systems = {net[0] for end in device.terminals if (net := at.get(closed.of(device.at(end))))}
    if len(systems) != 1:
        return
    fed = {net: volts for net, (_, volts) in at.items()}

    def node(end: str) -> str:
        return closed.of(device.at(end)) if end in device.terminals else f"{device.id} {end}"

    if device.winding_v is not None:
        worst = max(
            winding_volts(device.windings, fed, node), key=lambda v: abs(v - device.winding_v)  # type: ignore[operator]
        )  # fmt: skip
        if not 1.0 / WRONG_LINK <= worst / device.winding_v <= WRONG_LINK:
            yield Reason(
                "link_volts",
                f"As {device.id} is linked a winding made for {_v(device.winding_v)} sees "
                f"{_v(worst)}.",
            )
    elif device.rated_v is not None:
        live = [volts for end in device.terminals if (volts := fed.get(node(end))) is not None]
        worst = max((abs(one - other) for one in live for other in live), default=0.0)
        if worst and not 1.0 / WRONG_LINK <= worst / device.rated_v <= WRONG_LINK:
            yield Reason(
                "link_volts",
                f"{device.id} is made for {_v(device.rated_v)} between its lines and sees "
                f"{_v(worst)}.",
            )


def _v(volts: float) -> str:
    return shown(volts, "V")
