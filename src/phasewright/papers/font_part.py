"""A part of the font for the page: the letters that nearly every shop is told in.

The whole font is thrice what a first visit may load. Glyphs keep their numbers; those that are not
wanted are empty, and tables that only a layout engine reads are left out.
Source: OpenType specification, version 1.9 (tables head, loca, glyf, cmap format 4, checksums).
"""

from __future__ import annotations

import functools
import struct
from collections.abc import Iterable

from phasewright.papers.font import FOLDER, glyphs_of, letter_map, tables_at

LETTERS = ((0x20, 0x24F), (0x370, 0x3FF), (0x1E80, 0x1E85), (0x2010, 0x2044), (0x2070, 0x209C),
           (0x20A0, 0x20BF), (0x2126, 0x2126), (0x2190, 0x2193), (0x2200, 0x2265),
           (0x25A0, 0x25FF))  # fmt: skip
"""First and last of each run: Latin, Greek, signs of the trade, arrows, shapes."""
_KEPT = ("OS/2", "cvt ", "fpgm", "head", "hhea", "hmtx", "maxp", "name", "prep")
_MORE, _WORDS, _SCALE, _TWO_SCALES, _MATRIX = 0x20, 0x01, 0x08, 0x40, 0x80


@functools.cache
def plain_letters() -> bytes:
    """The part of DejaVu Sans with `LETTERS`, as a TrueType file."""
    data = (FOLDER / "DejaVuSans.ttf").read_bytes()
    return part_of(data, {code for begin, end in LETTERS for code in range(begin, end + 1)})


def part_of(data: bytes, letters: set[int]) -> bytes:
    """The part of a TrueType font that has these letters (by their numbers), of those it has."""
    at = tables_at(data)
    sizes = _sizes(data)
    map_of = {
        code: glyph
        for code, glyph in glyphs_of(data, letter_map(data, at["cmap"])).items()
        if code in letters
    }
    outlines = _outlines(data, at)
    wanted, ahead = {0}, [0, *map_of.values()]
    while ahead:
        glyph = ahead.pop()
        wanted.add(glyph)
        ahead += [part for part in _parts(outlines[glyph]) if part not in wanted]
    glyf, places = bytearray(), [0]
    for number, outline in enumerate(outlines):
        if number in wanted:
            glyf += outline + b"\0" * (-len(outline) % 4)
        places.append(len(glyf))
    tables = {tag: data[at[tag] : at[tag] + sizes[tag]] for tag in _KEPT if tag in at}
    head = bytearray(tables["head"])
    struct.pack_into(">L", head, 8, 0)  # the checksum of the whole, found last
    struct.pack_into(">h", head, 50, 1)  # places in four bytes each
    tables |= {
        "head": bytes(head),
        "cmap": _map(map_of),
        "glyf": bytes(glyf),
        "loca": struct.pack(f">{len(places)}L", *places),
        "post": struct.pack(">LLhhLLLLL", 0x30000, 0, 0, 0, 0, 0, 0, 0, 0),  # no names of glyphs
    }
    return _file(tables)


def _sizes(data: bytes) -> dict[str, int]:
    count = struct.unpack_from(">H", data, 4)[0]
    rows = (struct.unpack_from(">4sLLL", data, 12 + 16 * at) for at in range(count))
    return {tag.decode("ascii"): size for tag, _, _, size in rows}


def _outlines(data: bytes, at: dict[str, int]) -> list[bytes]:
    """Every glyph as it stands in the font."""
    count = struct.unpack_from(">H", data, at["maxp"] + 4)[0]
    if struct.unpack_from(">h", data, at["head"] + 50)[0]:
        places = struct.unpack_from(f">{count + 1}L", data, at["loca"])
    else:
        halves = struct.unpack_from(f">{count + 1}H", data, at["loca"])
        places = tuple(2 * half for half in halves)
    whole = at["glyf"]
    return [data[whole + places[k] : whole + places[k + 1]] for k in range(count)]


def _parts(outline: bytes) -> Iterable[int]:
    """Glyphs that a glyph is put together from."""
    if len(outline) < 10 or struct.unpack_from(">h", outline)[0] >= 0:
        return
    at, more = 10, True
    while more:
        flags, glyph = struct.unpack_from(">HH", outline, at)
        yield glyph
        at += 8 if flags & _WORDS else 6
        at += 2 * bool(flags & _SCALE) + 4 * bool(flags & _TWO_SCALES) + 8 * bool(flags & _MATRIX)
        more = bool(flags & _MORE)


def _map(map_of: dict[int, int]) -> bytes:
    """The table from letters to glyphs, format 4: runs in which both grow together."""
    runs: list[list[int]] = []
    for code in sorted(map_of):
        glyph = map_of[code]
        if runs and code == runs[-1][1] + 1 and glyph - code == runs[-1][2]:
            runs[-1][1] = code
        else:
            runs.append([code, code, glyph - code])
    runs.append([0xFFFF, 0xFFFF, 1])
    count = len(runs)
    power = 1 << (count.bit_length() - 1)
    search = struct.pack(
        ">HHHH", 2 * count, 2 * power, power.bit_length() - 1, 2 * count - 2 * power
    )
    columns = [
        struct.pack(f">{count}H", *(run[1] for run in runs)),
        b"\0\0",
        struct.pack(f">{count}H", *(run[0] for run in runs)),
        struct.pack(f">{count}H", *(run[2] & 0xFFFF for run in runs)),
        b"\0\0" * count,
    ]
    body = search + b"".join(columns)
    return struct.pack(">HHHHL", 0, 1, 3, 1, 12) + struct.pack(">HHH", 4, 6 + len(body), 0) + body


def _sum(data: bytes) -> int:
    padded = data + b"\0" * (-len(data) % 4)
    words: tuple[int, ...] = struct.unpack(f">{len(padded) // 4}L", padded)
    return sum(words) & 0xFFFFFFFF


def _file(tables: dict[str, bytes]) -> bytes:
    """A font file of these tables, its checksums right."""
    count = len(tables)
    power = 1 << (count.bit_length() - 1)
    rows, body, place = b"", b"", 12 + 16 * count
    head = 0
    for tag in sorted(tables):
        table = tables[tag]
        if tag == "head":
            head = place
        rows += struct.pack(">4sLLL", tag.encode("ascii"), _sum(table), place, len(table))
        body += table + b"\0" * (-len(table) % 4)
        place += len(table) + -len(table) % 4
    search = (16 * power, power.bit_length() - 1, 16 * count - 16 * power)
    whole = bytearray(struct.pack(">LHHHH", 0x10000, count, *search) + rows + body)
    struct.pack_into(">L", whole, head + 8, (0xB1B0AFBA - _sum(bytes(whole))) & 0xFFFFFFFF)
    return bytes(whole)
