"""The two rule families: how a clause of each is registered, and which editions are meant."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec

from phasewright.rules.register import Findings, LooksAt, Ruling, rule
from phasewright.tables.published import Status

P = ParamSpec("P")

EDITIONS = {
    "IEC 60034-1": "2022", "IEC 60034-26": "2006", "IEC 60204-1": "2016",
    "IEC 60364-4-41": "2005+A1:2017", "IEC 60364-4-42": "2010+A1:2014",
    "IEC 60364-4-43": "2008", "IEC 60364-5-52": "2009", "IEC 60364-5-53": "2019",
    "IEC 60364-5-54": "2011", "IEC 60364-7-705": "2006", "IEC 60898-1": "2015",
    "IEC 61000-3-3": "2013+A2:2021", "IEC 61000-3-11": "2017", "IEC 61800-5-1": "2007",
    "NEMA MG 1": "2016", "NFPA 70": "2023",
}  # fmt: skip
"""Years of issue, from memory but that of NFPA 70."""


def _id(clause: str) -> str:
    """A clause as a part of an id: 240.4(D) is 240.4_d."""
    return clause.lower().replace("(", "_").replace(")", "")


def iec(
    number: str, clause: str, looks_at: LooksAt, *, status: Status = "from memory"
) -> Callable[[Callable[P, Findings]], Callable[P, Ruling]]:
    """Registers a clause of an IEC standard, as `iec("60364-4-41", "411.3.2", "circuit")`."""
    body = f"IEC {number}"
    return rule(
        f"iec.{number.replace('-', '_')}.{_id(clause).replace('.', '_')}",
        status=status, looks_at=looks_at, body=body, edition=EDITIONS[body],
        clause=clause.replace("_", " "),
    )  # fmt: skip


def nec(
    clause: str, looks_at: LooksAt, *, status: Status = "published"
) -> Callable[[Callable[P, Findings]], Callable[P, Ruling]]:
    """Registers a section of the National Electrical Code, as `nec("240.4(D)", "circuit")`."""
    return rule(
        f"nec.{_id(clause)}", status=status, looks_at=looks_at,
        body="NFPA 70", edition=EDITIONS["NFPA 70"], clause=clause,
    )  # fmt: skip
