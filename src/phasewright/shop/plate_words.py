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
        "～": "~", "∼": "~", ":": " ", "=": " ",
    }
)  # fmt: skip
RESPELT: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(pattern), made)
    for pattern, made in (
        (r"(?i)(?<!\w)(?:delta|mesh|triangle|dreieck)(?!\w)", "Δ"),
        (r"(?i)(?<!\w)(?:star|wye|étoile|etoile|stern)(?!\w)", "Y"),
        (r"(?i)(?<=[0-9])(\s*V)\.?\s*D\.?C\.?(?!\w)", r"\1 DC"),
        (r"(?<!\w)d/y(?!\w)", "D/Y"),
        (r"(?<!\w)y/d(?!\w)", "Y/D"),
        (r"(?<=[0-9])(\s*V)([YΔD])(?!\w)", r"\1 \2"),  # 400VΔ
        (r"Δ(?=[0-9]+(?:[.,][0-9]+)?\s*V)", "Δ "),  # Δ400V
        (r"(?<!\w)Y(?=[0-9]{2,4}\s*V)", "Y "),
    )
)
"""Links in words or close to a number, and how they are then written."""
NOUGHT = re.compile(
    r"(?<![^\W\d_])[Oo](?=[.,][0-9])|(?<=[0-9][.,])[Oo](?![^\W\d_]{3})"
    r"|(?<=[0-9])[Oo](?=[0-9]|\s*(?:V|A|Hz|kW|HP|hp|rpm)(?!\w))"
)
"""The letter O where only a nought can stand."""

_PLATE_KINDS: tuple[Quantity, ...] = (
    "power", "voltage", "current", "speed", "frequency", "capacitance",
)  # fmt: skip
_SKIPPED = ("mV", "kV", "KV", "kA", "kHz", "nF")
_MORE: dict[str, tuple[Quantity, str]] = {
    "u/min": ("speed", "rpm"), "tr/min": ("speed", "rpm"), "t/min": ("speed", "rpm"),
    "ampere": ("current", "A"), "amperes": ("current", "A"), "amp.": ("current", "A"),
    "upm": ("speed", "rpm"), "t/mn": ("speed", "rpm"), "tr/mn": ("speed", "rpm"),
    "tours/min": ("speed", "rpm"), "giri/min": ("speed", "rpm"), "obr/min": ("speed", "rpm"),
    "omw/min": ("speed", "rpm"), "ot/min": ("speed", "rpm"), "v/min": ("speed", "rpm"),
    "r.p.m": ("speed", "rpm"), "rev.": ("speed", "rpm"),
    "pk": ("power", "PS"), "hk": ("power", "PS"), "c.v.": ("power", "PS"),
    "p.s.": ("power", "PS"), "bhp": ("power", "hp"), "b.h.p.": ("power", "hp"),
    "cycle": ("frequency", "Hz"), "cycles": ("frequency", "Hz"), "cy": ("frequency", "Hz"),
    "cps": ("frequency", "Hz"),
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


def _share(match: re.Match[str]) -> float:
    """A share as it is stamped, or in per cent."""
    number = float(match.group(1).replace(",", "."))
    return round(number / 100, 6) if number > 1 else number


def _power_factor(match: re.Match[str]) -> Found:
    return "power_factor", _share(match)


def _speed(match: re.Match[str]) -> Found:
    return "speed", f"{match.group(1)} rpm"


def _hertz(match: re.Match[str]) -> Found:
    return "frequency", f"{match.group(1)} Hz"


def _letter(key: str) -> Callable[[re.Match[str]], Found]:
    return lambda match: (key, match.group(1).upper())


def _whole(key: str) -> Callable[[re.Match[str]], Found]:
    return lambda match: (key, int(match.group(1) or match.group(2)))


def _efficiency(match: re.Match[str]) -> Found:
    return "efficiency", _share(match)


LABELLED: tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Found]], ...] = tuple(
    (re.compile(pattern, re.IGNORECASE), read)
    for pattern, read in (
        (
            rf"(?<![\w.])(?:cos\.?\s*(?:φ|phi|fi)?\s*n?|p\.?f\.?|power\s+factor)\s*{_DECIMAL}"
            r"\s*%?(?![\w.,/])",
            _power_factor,
        ),
        (
            rf"(?<![\w.])(?:η|(?:nom\.?\s*)?eff(?:iciency)?\.?)\s*{_DECIMAL}"
            r"\s*%?(?![\w.,/])",
            _efficiency,
        ),
        (rf"(?<!\w)IE[1-5]\s*-?\s*{_DECIMAL}\s*%", _efficiency),
        (
            rf"(?<!\w)I(?:[as]|st)\s*/\s*I[nr]?\s*{_DECIMAL}(?![\w.,/])",
            _number("starting_current"),
        ),
        (
            r"(?<!\w)n[nr]?\s+([0-9]{3,4})(?:\s*(?:rpm|r/min|min-1|1/min|/min))?(?![\w.,/])",
            _speed,
        ),
        (r"(?<!\w)fn?\s+([2-9][0-9])(?:\s*hz)?(?![\w.,/])", _hertz),
        (
            rf"(?<![\w.])(?:s\.?f\.?|service\s+factor)\s*[:=]?\s*{_DECIMAL}(?![\w.,/])",
            _number("service_factor"),
        ),
        (
            r"(?<!\w)(?:kva\s+)?code\s*(?:letter)?\s*[:=]?\s*([A-HJ-NPR-V])(?![\w/])",
            _letter("code_letter"),
        ),
        (
            r"(?<!\w)(?:(?:ins(?:ul(?:ation)?)?|iso(?:l)?)\.?\s*-?\s*(?:cl(?:ass|\.)?|kl\.?)?"
            r"|(?:th\.?\s*)?(?:cl(?:ass|\.)?|kl\.?|wkl\.?))"
            r"\s*([AEBFH])(?![\w/])",
            _letter("insulation_class"),
        ),
        (
            r"(?<![\w./])([13])\s*-?\s*(?:~|ph(?:ases?|asig|\.)?(?!\w)|fas\w*)"
            r"|(?:(?<!\w)ph(?:ases?|\.)?|~)\s*([13])(?![\w./,]|\s*(?:kW|HP|V|A)(?!\w))",
            _whole("phases"),
        ),
        (
            r"(?<!\w)(?:d\.?c\.?|gleichstrom\w*|courant continu|corrente continua)(?!\w)",
            lambda match: ("kind", "dc"),
        ),
        (
            r"(?<!\w)(?:slip[ -]?rings?|schleifring\w*|wound[ -]rotor|bagues)(?!\w)",
            lambda match: ("kind", "slip_ring"),
        ),
        (
            r"(?<!\w)(?:three[ -]?phase|triphas\w*|tri[fp]h?asic\w*|trifas\w*|drehstrom\w*)"
            r"(?!\w)",
            lambda match: ("phases", 3),
        ),
        (
            r"(?<!\w)(?:single[ -]?phase|monophas\w*|monofas\w*|einphas\w*|wechselstrom\w*)"
            r"(?!\w)",
            lambda match: ("phases", 1),
        ),
        (r"(?<![\w.,/])([2-9][0-9])\s*~(?!\s*[456]0(?![0-9]))", _hertz),
        (
            r"(?<!\w)(?:year|yr|made|built|bj|baujahr)\.?\s*[:=]?\s*((?:18|19|20)[0-9]{2})(?!\w)()",
            _whole("year"),
        ),
        (r"(?<![\w./])([0-9]{1,2})\s*-?\s*(?:leads?|wires?|terminals?)(?!\w)()", _whole("leads")),
    )
)
"""What stands beside its own word, whatever the unit."""

NOT_USED: tuple[re.Pattern[str], ...] = tuple(
    re.compile(pattern, re.IGNORECASE)
    for pattern in (
        r"(?<!\w)IP\s*[0-9]{2}(?!\w)",
        r"(?<!\w)S[1-9](?:\s*-?\s*[0-9]{1,3}\s*(?:%|min(?!\w)))?(?!\w)",
        r"(?<!\w)IE[1-5](?!\w)",
        r"(?<!\w)2p\s*[0-9]{1,2}(?!\w)|(?<![\w.,/])[0-9]{1,2}\s*-?\s*(?:poles?|polig|pôles|p)(?!\w)",
        r"[0-9]+(?:[.,][0-9]+)?\s*(?:°\s*C?|degC|°\s*F|C(?=\s*(?:rise|amb)))(?:\s*(?:rise|amb\w*))?",
        r"(?<!\w)(?:hrs?|hours|time|duty|rating)\.?\s*(?:[0-9]{1,2}(?![\w.,/])|cont\w*)",
        r"(?<!\w)(?:VDE|DIN|IEC|EN|NF|BS|IS|NEMA|CSA)\s*(?:[A-Z]{1,2}\s*)?[0-9][\w./-]*",
        r"(?<!\w)(?:N?DE|brg|bearings?)\.?\s*[0-9]{4}[\w-]*",
        r"[0-9]+(?:[.,][0-9]+)?\s*kg(?!\w)",
        r"(?<!\w)(?:no|nr|serial|type|typ|frame|fr|model|mod)\.?\s*(?:[A-Z]{1,4}\s+)?"
        r"[\w./-]*[0-9][\w./-]*",
    )
)
"""What plates show and no calculation here asks for."""
