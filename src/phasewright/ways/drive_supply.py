"""What a drive does to its supply, as figures: harmonics, link volts, switching on, leakage."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass, replace

from phasewright.electronics.drive import DriveInput, drive_output
from phasewright.electronics.harmonics import at_the_service
from phasewright.electronics.inrush import inrush, least_off_s
from phasewright.electronics.rectifier import Bridge
from phasewright.network.supply import Source
from phasewright.quantities.value import Value, exact, figure
from phasewright.tables.drives import leakage_ma, precharge_lasting_w, precharge_ohm
from phasewright.ways.figures import Figures, InrushFigures, LinkFigures, LinkVolts

_NONE = 1e-5
"""A harmonic below this share of the fundamental is what is left of settling: there is none."""


@dataclass(frozen=True, slots=True)
class SupplySide:
    """The drive's input at its highest load, seen from its supply.

    `harmonics_a` are rms phasors of harmonics 1 to 40 as in `BridgeState`. `link_v` is None where
    the link that the inverter draws from is another than the rectifier's (raised inside), `crest`
    where something else draws beside the drive. `switched_on` is None behind a transformer, whose
    own inrush is the greater one.
    """

    harmonics_a: tuple[complex, ...]
    thd: Value
    displacement_factor: Value
    crest: Value | None
    voltage_thd: Value
    link: LinkFigures
    link_v: LinkVolts | None
    output_v: Value | None
    switched_on: InrushFigures | None


def supply_side_of(
    taken: DriveInput, source: Source, drive_rating_w: float, doubler: bool = False
) -> SupplySide:  # fmt: skip
    """What a drive's input is at its supply, at the expected load with its spread."""
    state, lowest = taken.expected, taken.link_min_v
    return SupplySide(
        harmonics_a=state.harmonics_a,
        thd=taken.thd,
        displacement_factor=taken.displacement_factor,
        crest=taken.crest,
        voltage_thd=taken.voltage_thd,
        link=LinkFigures(
            exact(
                taken.capacitance_f * (0.5 if doubler else 1.0), "F",
                "common practice", "link capacitors makers fit; a doubler's two in series",
            ),
            figure(
                taken.ac_choke_h, "H", "electronics.drive.usual_choke_h",
                {"supply": (source.voltage_v, "V"), "frequency": (source.frequency_hz, "Hz"),
                 "drive rating": (drive_rating_w, "W")},
                "a share of the drive's rated impedance; 0 where none is fitted",
            ),
            figure(
                taken.dc_choke_h, "H", "ways.chokes.chosen",
                {"drive rating": (drive_rating_w, "W")},
                "0 where none is chosen: drives of this size have none inside (assumed)",
            ),
            taken.link_power_w,
        ),
        link_v=LinkVolts(taken.link_mean_v, lowest, taken.link_ripple_v),
        output_v=figure(
            drive_output(state).lowest_v, "V", "electronics.drive.drive_output",
            {"lowest link volts": (lowest.number, "V")}, lowest.source,
            low=lowest.low / math.sqrt(2.0), high=lowest.high / math.sqrt(2.0),
        ),
        switched_on=_switched_on(source, taken.capacitance_f, doubler),
    )  # fmt: skip


def behind_boost(side: SupplySide, source: Source, more: float) -> SupplySide:
    """Of a drive that raises its volts inside, settled at 1 / `more` of its watts on `more` times
    the impedance: the amps and the capacitor are `more` times those. The raised link is regulated
    and not computed here."""
    link = side.link
    return replace(
        side,
        harmonics_a=tuple(more * each for each in side.harmonics_a),
        link=replace(
            link,
            capacitance_f=link.capacitance_f.scaled(more),
            ac_choke_h=link.ac_choke_h.scaled(1.0 / more),
            dc_choke_h=link.dc_choke_h.scaled(1.0 / more),
            power_w=link.power_w.scaled(more),
        ),
        link_v=None,
        output_v=None,
        switched_on=_switched_on(source, link.capacitance_f.number * more),
    )


def behind_transformer(
    side: SupplySide, source: Source, current_a: float, volts_ratio: float
) -> SupplySide:
    """Of a drive behind a transformer, at the transformer's primary, where it draws `current_a`.

    The harmonics pass as they are; the fundamental takes the transformer's own with it, at the
    angle of the drive's. `volts_ratio` is secondary over primary: the link's own volts.
    """
    distortion = math.sqrt(sum(abs(each) ** 2 for each in side.harmonics_a[1:]))
    first = math.sqrt(max(0.0, current_a * current_a - distortion * distortion))
    own = abs(side.harmonics_a[0])
    harmonics = (side.harmonics_a[0] * first / own, *side.harmonics_a[1:])
    spectrum = at_the_service(source, [harmonics])
    before = side.voltage_thd.number
    link, square = side.link, volts_ratio * volts_ratio
    volts = side.link_v
    return replace(
        side,
        harmonics_a=harmonics,
        thd=side.thd.scaled(own / first),
        crest=None,
        voltage_thd=side.voltage_thd.scaled(spectrum.voltage_thd / before),
        link=replace(
            link,
            capacitance_f=link.capacitance_f.scaled(1.0 / square),
            ac_choke_h=link.ac_choke_h.scaled(square),
            dc_choke_h=link.dc_choke_h.scaled(square),
        ),
        link_v=None if volts is None else LinkVolts(
            *(each.scaled(volts_ratio) for each in (volts.mean, volts.lowest, volts.ripple))
        ),
        output_v=None if side.output_v is None else side.output_v.scaled(volts_ratio),
        switched_on=None,
    )  # fmt: skip


def with_supply_side(figures: Figures, side: SupplySide | None) -> Figures:
    """The figures with what the drive does to its supply."""
    if side is None:
        return figures
    least = _NONE * abs(side.harmonics_a[0])
    told = [each if abs(each) > least else 0j for each in side.harmonics_a]
    return replace(
        figures,
        link=side.link,
        harmonics_a=tuple(abs(each) for each in told),
        harmonics_deg=tuple(math.degrees(cmath.phase(each)) for each in told),
        input_current_thd=side.thd,
        input_displacement_factor=side.displacement_factor,
        input_crest_factor=side.crest,
        service_voltage_thd=side.voltage_thd,
        dc_link_v=side.link_v,
        undistorted_output_v=side.output_v,
        inrush=side.switched_on,
        leakage_ma=leakage_ma(),
    )


def _switched_on(
    source: Source, capacitance_f: float, doubler: bool = False
) -> InrushFigures:  # fmt: skip
    """Switching on through a usual charging resistor."""
    ohm, sheds = precharge_ohm(), precharge_lasting_w()
    bridge = Bridge(source, capacitance_f, 1.0, doubler=doubler)
    usual, hard = (inrush(bridge, each) for each in (ohm.number, ohm.low))
    slow = inrush(bridge, ohm.high)
    inputs = {
        "charging resistor": (ohm.number, "ohm"),
        "link capacitance": (bridge.capacitance_f, "F"),
        "supply voltage": (source.voltage_v, "V"),
    }
    where, words = "electronics.inrush.inrush", f"bridge switched on at rest; {ohm.source}"
    energies = [each.energy_j for each in (usual, hard, slow)]
    return InrushFigures(
        figure(usual.peak_a, "A", where, inputs, words, low=slow.peak_a, high=hard.peak_a),
        figure(usual.charge_s, "s", where, inputs, words, low=hard.charge_s, high=slow.charge_s),
        figure(
            least_off_s(usual.energy_j, sheds.number), "s", "electronics.inrush.least_off_s",
            {"energy": (usual.energy_j, "J"), "sheds for ever": (sheds.number, "W")}, sheds.source,
            low=least_off_s(min(energies), sheds.high), high=least_off_s(max(energies), sheds.low),
        ),
    )  # fmt: skip
