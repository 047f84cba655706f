"""How plates spell things: units, labels, link signs, and what is stamped and not used."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from phasewright.quantities.codes import Quantity
from phasewright.quantities.errors import QuantityError
from phasewright.quantities.kinds import KINDS

Found = tuple[str, Any]
SPELLING = str.maketrans(
    {
        "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ", "\u2212": "-", "\u03bc": "µ",
        "△": "Δ", "∆": "Δ", "▵": "Δ", "λ": "Y", "⅄": "Y", "Υ": "Y", "ϕ": "φ", "Φ": "φ", "ф": "φ",
        "～": "~", "∼": "~",
    }
)  # fmt: skip

_PLATE_KINDS: tuple[Quantity, ...] = (
    "power", "voltage", "current", "speed", "frequency", "capacitance",
)  # fmt: skip
_SKIPPED = ("mV", "kV", "KV", "kA", "kHz", "nF")
_MORE: dict[str, tuple[Quantity, str]] = {
    "u/min": ("speed", "rpm"), "tr/min": ("speed", "rpm"), "t/min": ("speed", "rpm"),
    "ampere": ("current", "A"), "amperes": ("current", "A"), "amp.": ("current", "A"),
    "cycles": ("frequency", "Hz"), "cy": ("frequency", "Hz"), "cps": ("frequency", "Hz"),
    "r.p.m.": ("speed", "rpm"), "rev": ("speed", "rpm"),
}  # fmt: skip


def _units() -> dict[str, tuple[Quantity, str]]:
    """Every unit a plate may show, in small letters: its kind and how the shop file writes it."""
    found: dict[str, tuple[Quantity, str]] = {}
    for kind in _PLATE_KINDS:
        first: dict[float, str] = {}
        for unit, factor in KINDS[kind].units.items():
            if unit not in _SKIPPED:
                found.setdefault(unit.casefold(), (kind, first.setdefault(factor, unit)))
    return {**found, **_MORE}


UNITS = _units()

STAMPED_VOLTS = re.compile(
    r"(?<![\w.])(?:Δ\s*([0-9]{2,4})|([0-9]{2,4})\s*[ΔD])\s*V?\s*/\s*"
    r"(?:Y\s*([0-9]{2,4})|([0-9]{2,4})\s*Y)\s*(?:V|volts?|VOLTS?)(?!\w)"
)
CONNECTION = re.compile(r"(?<![\w/])(?:Δ|D|YY|Y)(?:\s*/\s*(?:Δ|D|YY|Y))?(?![\w/.])")
_DECIMAL = r"([0-9]*[.,]?[0-9]+)"


def connection_of(match: re.Match[str]) -> Found:
    """The links as the shop file writes them."""
    stamp = re.sub(r"\s", "", match.group()).replace("Δ", "D")
    if stamp in ("D/D", "Y/Y", "YY/YY"):
        raise QuantityError(f"'{stamp}' names the same link twice", "write for example 'D/Y'")
    return "connection", stamp


def _number(key: str) -> Callable[[re.Match[str]], Found]:
    return lambda match: (key, float(match.group(1).replace(",", ".")))


def _hertz(match: re.Match[str]) -> Found:
    return "frequency", f"{match.group(1)} Hz"


def _letter(key: str) -> Callable[[re.Match[str]], Found]:
    return lambda match: (key, match.group(1).upper())


def _whole(key: str) -> Callable[[re.Match[str]], Found]:
    return lambda match: (key, int(match.group(1) or match.group(2)))


def _efficiency(match: re.Match[str]) -> Found:
    number = float(match.group(1).replace(",", "."))
    return "efficiency", round(number / 100, 6) if number > 1 else number


LABELLED: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Found]], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), read)
    for pattern, read in (
        (
            rf"(?<![\w.])(?:cos\s*(?:φ|phi|fi)?|p\.?f\.?|power\s+factor)\s*[:=]?\s*{_DECIMAL}"
            r"(?![\w.,/])",
            _number("power_factor"),
        ),
        (
            rf"(?<![\w.])(?:η|(?:nom\.?\s*)?eff(?:iciency)?\.?)\s*[:=]?\s*{_DECIMAL}"
            r"\s*%?(?![\w.,/])",
            _efficiency,
        ),
        (
            rf"(?<![\w.])(?:s\.?f\.?|service\s+factor)\s*[:=]?\s*{_DECIMAL}(?![\w.,/])",
            _number("service_factor"),
        ),
        (
            r"(?<!\w)(?:kva\s+)?code\s*(?:letter)?\s*[:=]?\s*([A-HJ-NPR-V])(?![\w/])",
            _letter("code_letter"),
        ),
        (
            r"(?<!\w)(?:(?:ins(?:ul(?:ation)?)?|iso(?:l)?)\.?\s*)?(?:cl(?:ass|\.)?|kl\.?)"
            r"\s*[:=]?\s*([AEBFH])(?![\w/])",
            _letter("insulation_class"),
        ),
        (
            r"(?<![\w./])([13])\s*(?:~|ph(?:ases?|\.)?(?!\w))"
            r"|(?<!\w)ph(?:ases?|\.)?\s*[:=]?\s*([13])(?![\w./])",
            _whole("phases"),
        ),
        (r"(?<![\w.,/])([2-9][0-9])\s*~(?!\s*[456]0(?![0-9]))", _hertz),
        (
            r"(?<!\w)(?:year|yr|made|built|bj|baujahr)\.?\s*[:=]?\s*((?:18|19|20)[0-9]{2})(?!\w)()",
            _whole("year"),
        ),
        (r"(?<![\w./])([0-9]{1,2})\s*(?:leads|wires|terminals)(?!\w)()", _whole("leads")),
    )
)
"""What stands beside its own word, whatever the unit."""

NOT_USED: tuple[re.Pattern[str], ...] = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"(?<!\w)IP\s*[0-9]{2}(?!\w)",
        r"(?<!\w)S[1-9](?!\w)",
        r"(?<!\w)IE[1-5](?!\w)",
        r"[0-9]+(?:[.,][0-9]+)?\s*(?:°\s*C|degC|°\s*F)(?:\s*(?:rise|amb\w*))?",
        r"[0-9]+(?:[.,][0-9]+)?\s*kg(?!\w)",
        r"(?<!\w)(?:no|nr|serial|type|typ|frame|fr|model|mod)\.?\s*[:=]?\s*[\w./-]*[0-9][\w./-]*",
    )
)
"""What plates show and no calculation here asks for."""
