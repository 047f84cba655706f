"""Hours of work a job takes, at an owner's pace. Common practice, no source."""

from __future__ import annotations

from functools import lru_cache

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Value, spread
from phasewright.tables.published import table

_SCALE = {"kW": 1e-3, "m": 1.0, "": 1.0}


@lru_cache(maxsize=1024)
def hours(job: str, rating: float = 0.0) -> Value:
    """Hours for one job; `rating` in watts or metres for the jobs that grow with it.

    Raises TableEnds for an unknown job or a negative rating.
    """
    of = table("labour", "jobs")
    if job not in of.rows:
        raise TableEnds(f"no hours for {job!r}; known: {', '.join(of.rows)}")
    if not rating >= 0.0:
        raise TableEnds(f"hours for {job!r}: {rating:g} is no rating")
    row = of.rows[job]
    number = (
        float(row["base"]) + float(row.get("slope", 0.0)) * rating * _SCALE[row.get("unit", "")]
    )
    low = float(row["low"]) if "low" in row else number * float(row["low_share"])
    high = float(row["high"]) if "high" in row else number * float(row["high_share"])
    return spread(number, low, high, "h", of.origin, f"{row['what']}: {of.words}")


def jobs() -> tuple[str, ...]:
    """Every job that has hours."""
    return tuple(table("labour", "jobs").rows)


def electrician_share() -> float:
    """An electrician's hours over the owner's for the same job."""
    return table("labour", "rates").number("electrician_share")


def compare_rate() -> float:
    """An hour's rate to compare plans with, in the units of the price curves."""
    return table("labour", "rates").number("compare_rate")


def waiting_weeks(way: str) -> Value:
    """Weeks from asking to having, where somebody else does the work."""
    of = table("labour", "waiting")
    if way not in of.rows:
        raise TableEnds(f"no waiting time for {way!r}")
    number, low, high = of.column(way)
    return spread(number, low, high, "weeks", of.origin, of.words)
