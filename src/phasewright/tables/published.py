"""Reads the tables of this folder: every one says where it comes from and how sure it is.

A data file `data/<file>.toml` holds tables; each has `source` (an id of `data/sources.toml`),
`status` (one of `STATUSES`) and its rows. Nothing here is ever clamped: a lookup outside a table
raises `TableEnds`.
"""

from __future__ import annotations

import hashlib
import math
import tomllib
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from typing import Any, Literal, get_args

from phasewright.quantities.errors import TableEnds
from phasewright.quantities.value import Origin

Status = Literal["published", "from memory", "common practice", "invented", "derived", "assumed"]
STATUSES: tuple[Status, ...] = get_args(Status)

_ORIGINS: dict[str, Origin] = {
    "published": "table",
    "from memory": "table",
    "derived": "table",
    "common practice": "common practice",
    "invented": "assumed",
    "assumed": "assumed",
}


@dataclass(frozen=True, slots=True)
class Table:
    """One table of a data file: its provenance and its rows as read."""

    file: str
    name: str
    source: str
    status: Status
    rows: dict[str, Any]
    _columns: dict[str, tuple[float, ...]] = field(default_factory=dict, compare=False, repr=False)

    @property
    def origin(self) -> Origin:
        """What a `Value` taken from this table says about where it comes from."""
        return _ORIGINS[self.status]

    @property
    def words(self) -> str:
        """The provenance in words: title, edition and how sure it is."""
        about = source_rows()[self.source]
        edition = f", {about['edition']}" if about.get("edition") else ""
        return f"{about['title']}{edition} ({self.status})"

    def number(self, key: str) -> float:
        """A single number of the table."""
        return float(self.rows[key])

    def column(self, key: str) -> tuple[float, ...]:
        """A list of numbers of the table."""
        if key not in self._columns:
            self._columns[key] = tuple(float(entry) for entry in self.rows[key])
        return self._columns[key]


@cache
def _document(file: str) -> dict[str, Any]:
    text = (files("phasewright.tables") / "data" / f"{file}.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def source_rows() -> dict[str, dict[str, str]]:
    """Every source the tables may name: id -> title, edition."""
    return {str(key): dict(row) for key, row in _document("sources").items()}


@cache
def table(file: str, name: str) -> Table:
    """The table `name` of `data/<file>.toml`.

    Raises KeyError where the table is missing or its source is not listed, and ValueError where
    its status is none of `STATUSES`: both are faults of the data, met by a test over all tables.
    """
    rows = dict(_document(file)[name])
    source = str(rows.pop("source"))
    status = rows.pop("status")
    if source not in source_rows():
        raise KeyError(f"{file}.{name}: source {source!r} is not in sources.toml")
    if status not in STATUSES:
        raise ValueError(f"{file}.{name}: status {status!r} is none of {STATUSES}")
    return Table(file, name, source, status, rows)


def tables_of(file: str) -> tuple[Table, ...]:
    """All tables of one data file, in its order."""
    return tuple(table(file, name) for name in _document(file))


@cache
def data_files() -> tuple[str, ...]:
    """Names of all data files but the list of sources."""
    folder = files("phasewright.tables") / "data"
    names = (entry.name for entry in folder.iterdir() if entry.name.endswith(".toml"))
    return tuple(sorted(name[:-5] for name in names if name != "sources.toml"))


def pole_column(of: Table, poles: int) -> tuple[float, ...]:
    """The column of a table for this number of poles; raises TableEnds without one."""
    key = str(poles)
    if key not in of.rows:
        known = ", ".join(name for name in of.rows if name.isdigit())
        raise TableEnds(f"no figures for a {poles}-pole motor, only for {known} poles")
    return of.column(key)


def within(what: str, number: float, lowest: float, highest: float, unit: str) -> None:
    """Raises TableEnds unless the number lies within the table's range (a NaN does not)."""
    if not lowest <= number <= highest:
        raise TableEnds(
            f"{what}: {number:g} {unit} lies outside the table ({lowest:g} to {highest:g} {unit})"
        )


def between(
    at: float, points: tuple[float, ...], values: tuple[float, ...], what: str, unit: str
) -> float:
    """Linear in log(at) between the rows of a table whose `points` grow.

    Raises TableEnds outside the rows.
    """
    within(what, at, points[0], points[-1], unit)
    for low, high, left, right in zip(points, points[1:], values, values[1:], strict=False):
        if at <= high:
            share = math.log(at / low) / math.log(high / low)
            return left + share * (right - left)
    return values[-1]


@cache
def tables_digest() -> str:
    """A digest of every data file: answers made from other tables can be told apart."""
    whole = hashlib.sha256()
    for file in sorted(data_files()):
        whole.update(files("phasewright.tables").joinpath(f"data/{file}.toml").read_bytes())
    return whole.hexdigest()[:12]
