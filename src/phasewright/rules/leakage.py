"""Standing leakage to earth of drives, and the residual-current devices it goes through."""

from __future__ import annotations

from phasewright.quantities.codes import ResidualType
from phasewright.quantities.finding import Remedy
from phasewright.rules.register import KEPT, Findings, above, found, rule
from phasewright.tables.circuits import residual_ratings_ma
from phasewright.tables.limits import standing_leakage_share

EARTH_CONDUCTOR_MA = 10.0


@rule(
    "leakage.share",
    source="standing leakage up to 30 % of a residual-current device's rating",
    status="common practice",
    looks_at="circuit",
)
def standing_leakage(
    leakage_ma: float | None, rating_ma: float | None, subject: str, path: str | None = None
) -> Findings:
    """The leakage of all drives behind one residual-current device leaves it room to hold in.

    `path` is that of its rating in the shop file.
    """
    if leakage_ma is None or rating_ma is None:
        return None
    most = standing_leakage_share() * rating_ma
    if not above(leakage_ma, most):
        return KEPT
    return found(
        "condition",
        subject,
        f"drives leak about {leakage_ma:.2g} mA to earth through it for good; with more than "
        f"{most:.2g} mA it may trip without a fault when something is switched on",
        found=leakage_ma,
        allowed=most,
        unit="mA",
        remedy=Remedy(
            "Give drives a residual-current device of their own, or few to each; keep leads short. "
            "Never take out an earth or a device to stop it tripping.",
            *_coarser(leakage_ma, path),
        ),
    )


def _coarser(leakage_ma: float, path: str | None) -> tuple[str | None, str | None]:
    """The finest rating sold that leaves room for so much, and where it is told."""
    borne = (ma for ma in residual_ratings_ma() if leakage_ma <= standing_leakage_share() * ma)
    finest = min(borne, default=None)
    return (None, None) if path is None or finest is None else (path, f"{finest:g} mA")


@rule(
    "leakage.device_type",
    source="IEC 60364-5-53 and IEC 62423: direct current and mixed frequencies blind type AC",
    status="from memory",
    looks_at="circuit",
)
def device_type(
    drives: int, type: ResidualType | None, subject: str, path: str | None = None
) -> Findings:
    """No residual-current device of type AC stands ahead of a drive.

    `path` is that of its type in the shop file.
    """
    if type is None or drives < 1:
        return None
    if type != "AC":
        return KEPT
    return found(
        "condition",
        subject,
        "it is of type AC: the current a drive lets to earth can keep it from tripping at all",
        found=type,
        allowed="A, F or B, as the drive's maker says",
        remedy=Remedy(
            "Have it changed for the type the drive's maker asks for: type F is usual for drives "
            "fed by one phase, type B where the maker says so.",
            path,
            None if path is None else "F",
        ),
    )


@rule(
    "leakage.earth_conductor",
    source="IEC 60364-5-54, 543.7: above 10 mA a reinforced protective conductor",
    status="from memory",
    looks_at="circuit",
)
def earth_conductor(leakage_ma: float | None, subject: str) -> Findings:
    """A protective conductor that carries more than 10 mA for good is reinforced or doubled."""
    if leakage_ma is None:
        return None
    if not above(leakage_ma, EARTH_CONDUCTOR_MA):
        return KEPT
    return found(
        "condition",
        subject,
        f"about {leakage_ma:.2g} mA flow to earth for good: if that conductor breaks, everything "
        "metal behind it stands under voltage",
        found=leakage_ma,
        allowed=EARTH_CONDUCTOR_MA,
        unit="mA",
        remedy=Remedy("Use 10 mm2 copper, or a second earth conductor of its own terminal."),
    )
