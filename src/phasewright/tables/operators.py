"""Starting amps from which a country's network operators are asked (`data/operators.toml`)."""

from __future__ import annotations

from phasewright.tables.published import table, tables_of


def asked_from(country: str) -> float | None:
    """Starting amps a dwelling's single-phase supply may draw without asking; None: not known."""
    if country not in {each.name for each in tables_of("operators")}:
        return None
    return table("operators", country).number("starting_a")
