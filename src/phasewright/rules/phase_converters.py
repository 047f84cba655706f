"""Article 455 of the National Electrical Code: circuits of phase converters.

Sizes are computed by `converter_needs`; the rules compare what is installed with them.
"""

from __future__ import annotations

from dataclasses import dataclass

from phasewright.circuits.cables import Laid
from phasewright.quantities.errors import UsageError
from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, below, found, rule
from phasewright.rules.remedies import thicker
from phasewright.tables.protection import share
from phasewright.tables.sizes import BREAKERS_NEC_A, next_size
from phasewright.tables.starting import greatest_locked_current_a


@dataclass(frozen=True, slots=True)
class ConverterNeeds:
    """What 455.6, 455.7 and 455.8 ask of one converter's supply side, in amperes."""

    conductor_a: float
    device_most_a: float
    device_standard_a: float
    disconnect_a: float


def variable_loads(nameplate_input_a: float) -> ConverterNeeds:
    """Needs where loads vary: 125 % of nameplate input amps, disconnect 115 %.

    `device_standard_a` is the standard rating at or next above 125 % (the code lets it step up).
    """
    most = share("nec_455", "variable") * nameplate_input_a
    return ConverterNeeds(
        conductor_a=most,
        device_most_a=most,
        device_standard_a=next_size(most, BREAKERS_NEC_A, "breaker by NEC 240.6(A)"),
        disconnect_a=share("nec_455", "disconnect") * nameplate_input_a,
    )


def fixed_load_conductor_a(
    three_phase_full_load_a: tuple[float, ...], voltage_out_over_in: float = 1.0
) -> float:
    """Supply conductors for fixed loads: 250 % of the loads' sum, times the voltage ratio."""
    return share("nec_455", "fixed") * sum(three_phase_full_load_a) * voltage_out_over_in


@dataclass(frozen=True, slots=True)
class SupplyConductors:
    """What 455.6(A) asks of a converter's supply conductors by either of its rules, in amperes.

    The rule for fixed loads serves only where the loads are fixed and it asks for less.
    """

    variable_a: float
    fixed_a: float

    @property
    def fixed_is_less(self) -> bool:
        """Whether the rule for fixed loads would govern, were the loads fixed."""
        return self.fixed_a < self.variable_a


def supply_conductors(
    nameplate_input_a: float,
    three_phase_full_load_a: tuple[float, ...],
    voltage_out_over_in: float = 1.0,
) -> SupplyConductors:
    """Both rules of 455.6(A): of nameplate input amps, and of the amps of the loads served."""
    return SupplyConductors(
        variable_a=variable_loads(nameplate_input_a).conductor_a,
        fixed_a=fixed_load_conductor_a(three_phase_full_load_a, voltage_out_over_in),
    )


def horsepower_switch_a(
    largest_hp: float, others_full_load_a: float, line_voltage_v: float = 230.0
) -> float:
    """Least locked-rotor rating of a horsepower-rated disconnect (455.8(C)(2))."""
    largest = greatest_locked_current_a(largest_hp, line_voltage_v)
    return share("nec_455", "horsepower_switch") * (largest + others_full_load_a)


@rule(
    "nec.455.6",
    body="NFPA 70",
    edition="2023",
    clause="455.6(A)",
    status="published",
    looks_at="circuit",
)
def converter_conductors(
    ampacity_a: float | None,
    nameplate_input_a: float | None,
    subject: str,
    fixed_loads_a: tuple[float, ...] | None = None,
    voltage_out_over_in: float = 1.0,
    laid: Laid | None = None,
) -> Findings:
    """Conductors that feed a converter carry 125 % of its nameplate input amps.

    For fixed loads 250 % of their full-load sum serves where that is less.
    """
    if ampacity_a is None or nameplate_input_a is None:
        return None
    if fixed_loads_a is None:
        least = variable_loads(nameplate_input_a).conductor_a
    else:
        needs = supply_conductors(nameplate_input_a, fixed_loads_a, voltage_out_over_in)
        least = min(needs.variable_a, needs.fixed_a)
    if not below(ampacity_a, least):
        return KEPT
    return found(
        "stop",
        subject,
        f"the converter's supply conductors carry {ampacity_a:.3g} A and need {least:.4g} A",
        found=ampacity_a,
        allowed=least,
        unit="A",
        remedy=thicker(least, laid)(),
    )


@rule(
    "nec.455.7",
    body="NFPA 70",
    edition="2023",
    clause="455.7",
    status="published",
    looks_at="circuit",
)
def converter_overcurrent(
    device_a: float | None, nameplate_input_a: float | None, subject: str
) -> Findings:
    """The converter's breaker is at most 125 % of nameplate input, or the next standard size."""
    if device_a is None or nameplate_input_a is None:
        return None
    needs = variable_loads(nameplate_input_a)
    if not above(device_a, needs.device_standard_a):
        return KEPT
    return found(
        "stop",
        subject,
        f"a device of {device_a:.3g} A is more than the {needs.device_standard_a:.3g} A allowed "
        f"for {nameplate_input_a:.3g} A of nameplate input",
        found=device_a,
        allowed=needs.device_standard_a,
        unit="A",
        remedy=Remedy("Fit the standard rating.", None, needs.device_standard_a, "A"),
    )


@rule(
    "nec.455.8",
    body="NFPA 70",
    edition="2023",
    clause="455.8",
    status="published",
    looks_at="circuit",
)
def converter_disconnect(
    disconnect_a: float | None,
    nameplate_input_a: float | None,
    subject: str,
    fixed_loads_a: tuple[float, ...] | None = None,
    voltage_out_over_in: float = 1.0,
) -> Findings:
    """A disconnect in sight of the converter is rated 115 % of its greatest input amps.

    For fixed loads a breaker or switch of 250 % of their full-load sum serves.
    """
    if disconnect_a is None or nameplate_input_a is None:
        return None
    if not nameplate_input_a > 0.0:
        raise UsageError("a converter's nameplate input current must be above zero")
    least = variable_loads(nameplate_input_a).disconnect_a
    if fixed_loads_a is not None:
        fixed = sum(fixed_loads_a) * voltage_out_over_in
        least = min(least, share("nec_455", "disconnect_fixed") * fixed)
    if not below(disconnect_a, least):
        return KEPT
    return found(
        "stop",
        subject,
        f"the converter's disconnect is rated {disconnect_a:.3g} A and needs {least:.4g} A",
        found=disconnect_a,
        allowed=least,
        unit="A",
        remedy=Remedy("Fit the next larger disconnect."),
    )
