"""How wide words are in the font that paper and pictures are set in (DejaVu Sans).

Source: the font's own tables, as the OpenType specification lays them out (head, hhea, hmtx, cmap
format 4). Where a browser has another font it is narrower as a rule: DejaVu Sans is a wide one.
"""

from __future__ import annotations

import functools
import struct
from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).parent / "fonts"
FAMILY = "DejaVu Sans"


@dataclass(frozen=True, slots=True)
class Metrics:
    """Of a font whose em is 1: how far letters reach above and below their line, and how wide
    each is; `missing` is the width of a letter the font does not have."""

    ascent: float
    descent: float
    widths: dict[str, float]
    missing: float


def width_of(words: str, size: float) -> float:
    """Width of a line of words at a size, in the unit of the size."""
    found = metrics()
    return size * sum(found.widths.get(letter, found.missing) for letter in words)


@functools.cache
def metrics() -> Metrics:
    """The measures of the font that is shipped."""
    data = (FOLDER / "DejaVuSans.ttf").read_bytes()
    tables = tables_at(data)
    em = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    ascent, descent = struct.unpack_from(">hh", data, tables["hhea"] + 4)
    count = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    advances = struct.unpack_from(">" + "Hh" * count, data, tables["hmtx"])[::2]
    widths = {
        chr(code): advances[min(glyph, count - 1)] / em
        for code, glyph in glyphs_of(data, letter_map(data, tables["cmap"])).items()
    }
    return Metrics(ascent / em, -descent / em, widths, advances[0] / em)


def tables_at(data: bytes) -> dict[str, int]:
    """Where each table of the font begins."""
    count = struct.unpack_from(">H", data, 4)[0]
    rows = (struct.unpack_from(">4sLLL", data, 12 + 16 * at) for at in range(count))
    return {tag.decode("ascii"): offset for tag, _, offset, _ in rows}


def letter_map(data: bytes, cmap: int) -> int:
    """Where the map from letters to glyphs begins that has format 4."""
    count = struct.unpack_from(">H", data, cmap + 2)[0]
    for at in range(count):
        start = cmap + int(struct.unpack_from(">HHL", data, cmap + 4 + 8 * at)[2])
        if struct.unpack_from(">H", data, start)[0] == 4:
            return start
    raise ValueError("the font has no map of letters in format 4")


def glyphs_of(data: bytes, start: int) -> dict[int, int]:
    """Glyph of every letter (by its number) of a map of format 4."""
    twice = struct.unpack_from(">H", data, start + 6)[0]
    segments = twice // 2

    def column(at: int, kind: str) -> tuple[int, ...]:
        return struct.unpack_from(f">{segments}{kind}", data, at)

    ends = column(start + 14, "H")
    begins = column(start + 16 + twice, "H")
    deltas = column(start + 16 + 2 * twice, "h")
    offsets_at = start + 16 + 3 * twice
    offsets = column(offsets_at, "H")
    found: dict[int, int] = {}
    for segment, (begin, end) in enumerate(zip(begins, ends, strict=True)):
        for code in range(begin, min(end, 0xFFFE) + 1):
            glyph = code
            if offsets[segment]:
                place = offsets_at + 2 * segment + offsets[segment] + 2 * (code - begin)
                glyph = struct.unpack_from(">H", data, place)[0]
                if glyph == 0:
                    continue
            found[code] = (glyph + deltas[segment]) & 0xFFFF
    return found
