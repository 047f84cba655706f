"""Farms and horticulture (IEC 60364-7-705), and places where dust or stock burns (-4-42)."""

from __future__ import annotations

from phasewright.quantities.finding import Remedy
from phasewright.rules.families import iec
from phasewright.rules.register import Findings, at_most, must
from phasewright.tables.clauses import limit


def farm_residual_ma(socket_a: float | None) -> float:
    """Residual-current device a circuit of a farm needs: 30 mA sockets to 32 A, 100, else 300."""
    if socket_a is None:
        return limit("farms", "everything_ma")
    small = socket_a <= limit("farms", "sockets_most_a")
    return limit("farms", "sockets_ma" if small else "larger_sockets_ma")


def _device(residual_ma: float | None, most_ma: float, subject: str, what: str) -> Findings:
    remedy = Remedy(f"A residual-current device of {most_ma:.0f} mA or less.", None, most_ma, "mA")
    if residual_ma is None:
        return must(
            False, "condition", subject, f"{what}: it has no residual-current device",
            found_words="none", allowed_words=f"{most_ma:.0f} mA", remedy=remedy,
        )  # fmt: skip
    return at_most(
        residual_ma, most_ma, "condition", subject,
        f"{what}: its residual-current device of {{found:.0f}} mA may be of {{allowed:.0f}} mA at "
        "most",
        unit="mA", remedy=remedy,
    )  # fmt: skip


@iec("60364-7-705", "705.411.1", "circuit", status="published")
def farm_circuit(
    farm: bool | None, socket_a: float | None, residual_ma: float | None, subject: str
) -> Findings:
    """On a farm every circuit stands behind a residual-current device.

    30 mA for sockets up to 32 A, 100 mA for larger ones, 300 mA for everything else.
    """
    if not farm:
        return None
    return _device(residual_ma, farm_residual_ma(socket_a), subject, "it is on a farm")


@iec("60364-4-42", "422.3.9", "circuit")
def fire_protection(dusty: bool | None, residual_ma: float | None, subject: str) -> Findings:
    """Where dust or stock burns, a circuit's leak to earth is cut off at 300 mA."""
    if not dusty:
        return None
    most = limit("fire", "residual_ma")
    return _device(residual_ma, most, subject, "a leak to earth may set dust alight")
