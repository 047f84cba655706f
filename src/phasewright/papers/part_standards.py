"""The standard a part is to be made by, by what it is and by region.

Numbers are from memory: they are to be checked before they are quoted in an order. A kind that
has no product standard of its own has none here.
"""

from __future__ import annotations

from phasewright.quantities.codes import Region

STANDARDS: dict[str, tuple[str, str]] = {
    "strip": ("IEC 60947-7-1", "UL 1059"),
    "breaker": ("IEC 60898-1 or 60947-2", "UL 489"),
    "fuse": ("IEC 60269", "UL 248"),
    "residual_current_device": ("IEC 61008-1, 61009-1 or 62423", "UL 943"),
    "isolator": ("IEC 60947-3", "UL 98 or 60947-4-1"),
    "contactor": ("IEC 60947-4-1", "UL 60947-4-1"),
    "overload_relay": ("IEC 60947-4-1", "UL 60947-4-1"),
    "motor": ("IEC 60034-1", "NEMA MG 1"),
    "idler": ("IEC 60034-1", "NEMA MG 1"),
    "pony_motor": ("IEC 60034-1", "NEMA MG 1"),
    "run_capacitor": ("IEC 60252-1", "UL 810"),
    "start_capacitor": ("IEC 60252-2", "UL 810"),
    "drive": ("IEC 61800-5-1 and 61800-3", "UL 61800-5-1"),
    "choke": ("IEC 60076-6", "UL 508"),
    "power_transformer": ("IEC 61558-1", "UL 5085"),
    "control_transformer": ("IEC 61558-2-2", "UL 5085"),
    "stop_button": ("IEC 60947-5-1", "UL 508"),
    "start_button": ("IEC 60947-5-1", "UL 508"),
    "emergency_stop": ("IEC 60947-5-5, ISO 13850", "UL 508, NFPA 79"),
    "speed_selector": ("IEC 60947-5-1", "UL 508"),
    "reversing_switch": ("IEC 60947-3", "UL 508"),
    "star_delta_switch": ("IEC 60947-3", "UL 508"),
    "motor_selector": ("IEC 60947-3", "UL 508"),
    "drop_out_relay": ("IEC 60947-5-1", "UL 508"),
    "phase_sequence_relay": ("IEC 60947-5-1", "UL 508"),
    "safety_relay": ("IEC 60947-5-1, ISO 13849-1", "UL 508"),
    "lamp": ("IEC 60947-5-1", "UL 508"),
    "electronic_source": ("IEC 62477-1", "UL 1012"),
    "generator": ("ISO 8528", "UL 2200"),
    "battery": ("IEC 62619", "UL 1973"),
    "plug_and_socket": ("IEC 60309-1", "UL 1682"),
}
"""By kind of device: the standard in region IEC, and in region NEC; all from memory."""


def standard_of(kind: str, region: Region) -> str:
    """The standard of a kind of device; empty for one that has none of its own."""
    found = STANDARDS.get(kind)
    return "" if found is None else found[0 if region == "IEC" else 1]
