"""The pieces circuits are made of and how they are laid (`data/circuits.toml`)."""

from __future__ import annotations

import math
from functools import lru_cache

from phasewright.quantities.codes import Region
from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table
from phasewright.tables.sizes import next_size

FILE = "circuits"


def length_m(of: str) -> Value:
    """Length of a run nobody told, one way, with its spread: fixed, cord, beside, inside."""
    rows = table(FILE, "length")
    usual, low, high = rows.column(of)
    return spread(usual, low, high, "m", rows.origin, rows.words)


def usual_method() -> str:
    """Installation method taken where nothing is told (IEC 60364-5-52)."""
    return str(table(FILE, "laid").rows["method"])


def usual(name: str) -> float:
    """What is taken where nothing is told: bunched, ambient_c, fault_c."""
    return table(FILE, "laid").number(name)


def start_power_factor() -> float:
    """Power factor of a motor at standstill (common practice)."""
    return table(FILE, "start").column("power_factor")[0]


def start_s() -> float:
    """How long a start takes that was not computed (common practice) [s]."""
    return table(FILE, "start").column("seconds")[0]


def share_of_drop() -> float:
    """Share of the voltage drop of the whole installation that one circuit may take."""
    return table(FILE, "drop").number("of_the_whole")


def adiabatic_m2(joule_integral_a2s: float) -> float:
    """Least copper area a fault of this I squared t may heat: sqrt(I2t)/k, PVC [m2]."""
    return 1e-6 * math.sqrt(joule_integral_a2s) / table(FILE, "insulation_pvc").number("k")


def limited_a2s(curve: str | None, rating_a: float, fault_a: float) -> float:
    """What an energy-limiting breaker lets through at most; infinity where none is printed."""
    rows = table(FILE, "energy_limiting").rows["rows"]
    fits = (
        float(through)
        for most, of, fault, through in rows
        if of == curve and rating_a <= float(most) and fault_a <= float(fault)
    )
    return min(fits, default=math.inf)


def half_cycle_s() -> float:
    """How long a breaker far above its magnetic release lets a fault through (common practice)."""
    return table(FILE, "half_cycle").number("seconds")


def nec_protective_size(device_a: float) -> str:
    """AWG of the equipment grounding conductor behind a device (250.122); TableEnds above."""
    for most, size in table(FILE, "protective_nec").rows["rows"]:
        if device_a <= float(most):
            return str(size)
    raise TableEnds(f"no grounding conductor is printed for a device of {device_a:g} A")


def iec_protective_mm2(line_mm2: float) -> float:
    """Least area of a protective conductor of the line's metal (table 54.2) [mm2]."""
    rows = table(FILE, "protective_iec")
    same, constant = rows.number("same_to_mm2"), rows.number("constant_to_mm2")
    if line_mm2 <= same:
        return line_mm2
    return same if line_mm2 <= constant else line_mm2 / 2.0


def nec_small_conductor_a(size: str) -> float:
    """Largest device on a small conductor by 240.4(D); infinity for larger ones."""
    rows = table(FILE, "small_conductors_nec").rows["rows"]
    return next((float(amps) for name, amps in rows if name == size), math.inf)


def breaking_ka(fault_a: float, region: Region) -> float:
    """The least breaking capacity sold that bears this prospective current [kA]."""
    return next_size(fault_a / 1000.0, breaking_sizes_ka(region), "breaking capacity")


def breaking_sizes_ka(region: Region) -> tuple[float, ...]:
    """Breaking capacities sold, smallest first [kA]."""
    name = "breaking_nec" if region == "NEC" else "breaking_iec"
    return table(FILE, name).column("sizes")


@lru_cache(maxsize=8)
def residual_ratings_ma() -> tuple[float, ...]:
    """Ratings of residual-current devices, smallest first [mA]."""
    return table(FILE, "residual").column("sizes")


def residual(name: str) -> float:
    """Of residual-current devices: at_rating_s, at_five_s, socket_ma, socket_upto_a."""
    return table(FILE, "residual").number(name)


def electrode_ohm() -> Value:
    """An earth electrode nobody measured, with its spread."""
    rows = table(FILE, "electrode")
    ohm, low, high = rows.column("ohm")
    return spread(ohm, low, high, "ohm", rows.origin, rows.words)


def isolator_a(current_a: float, region: Region) -> float:
    """The least isolator sold for a current [A]."""
    return next_size(current_a, isolator_sizes_a(region), "isolator")


def isolator_sizes_a(region: Region) -> tuple[float, ...]:
    """Isolators sold, smallest first [A]."""
    name = "isolator_nec" if region == "NEC" else "isolator_iec"
    return table(FILE, name).column("sizes")


def nec_socket_a(current_a: float) -> float:
    """The least locking socket for a current [A]."""
    return next_size(current_a, table(FILE, "socket_nec").column("sizes"), "socket")


def capacitor_circuit(name: str) -> float:
    """Of capacitor branches: conductor (over its current), safe_v, within_s."""
    return table(FILE, "capacitor_circuit").number(name)


def control_va() -> Value:
    """What the coils and lamps of one machine hold on, with its spread [VA]."""
    rows = table(FILE, "control")
    usual_va, low, high = rows.column("held_va")
    return spread(usual_va, low, high, "VA", rows.origin, rows.words)


def control_pull_in() -> tuple[float, float]:
    """Volt-amperes a coil takes while it pulls in, and for how long [VA, s]."""
    rows = table(FILE, "control")
    return rows.number("pull_in_va"), rows.number("pull_in_s")


def phase_relay(name: str) -> float:
    """Of a phase relay: volts_share, unbalance_more, delay_s."""
    return table(FILE, "phase_relay").number(name)
