"""The whole shop as a single-line diagram, made from the power columns of the wiring."""

from __future__ import annotations

from collections.abc import Iterator

from phasewright.papers.wiring.model import Band, Column, Element, Rail, Unit, Wiring

SHOP = "=A0"
ASIDE = ("Control", "Earth", "Neutral", "Proof", "Choke in the link")
"""Bands that carry no power to anything, by how their titles begin."""


def single_line(wiring: Wiring) -> Unit:
    """One line for all conductors of a column; bands of the same strip stand together."""
    strips: dict[str, list[Column]] = {}
    carried: dict[str, list[str]] = {}
    for unit in wiring.units:
        for band in unit.bands:
            if not _power(band):
                continue
            strip = band.rails[0].terminal.partition(":")[0]
            for column in band.columns:
                lines = [band.rails[k].potential for k in column.rails]
                count = sum(potential not in ("PE", "screen") for potential in lines)
                elements = tuple(_one_line(wiring, column, str(count)))
                if elements:
                    strips.setdefault(strip, []).append(Column((0,), elements))
                    carried.setdefault(strip, []).extend(
                        each for each in lines
                        if each not in ("PE", "screen", *carried.get(strip, ()))
                    )  # fmt: skip
    bands = tuple(
        Band(
            f"From {strip}",
            (Rail(f"{strip}:", "lines " + ", ".join(carried[strip])),),
            tuple(columns),
        )
        for strip, columns in sorted(strips.items(), key=_from_the_intake)
    )
    return Unit(SHOP, "The whole shop in one line", "shop", bands)


def _from_the_intake(of: tuple[str, list[Column]]) -> tuple[bool, bool, str]:
    """The intake, the boards of other places, what is shared, the motors' own."""
    unit = of[0].partition("-")[0]
    return not unit.startswith("=G"), unit == "=G1", of[0]


def _power(band: Band) -> bool:
    return not band.control and not band.title.startswith(ASIDE)


def _one_line(wiring: Wiring, column: Column, count: str) -> Iterator[Element]:
    """The column's devices in one conductor; what stands across it is named once, at its end."""
    across = False
    cans = [
        each.device for each in column.elements
        if each.how == "across" and wiring.device(each.device).kind != "discharge_resistor"
    ]  # fmt: skip
    for element in column.elements:
        if element.how == "across":
            if not across and cans:
                yield Element(cans[0], "bank", "end", (0,), ("",), tuple(cans[1:]), (count,))
                across = True
        elif element.how == "beside" or across:
            continue
        elif element.how == "end" and element.shape in ("sequence", "measuring"):
            return
        elif element.shape != "overload_pole":
            legs = (0,)
            outs = ("",) if element.outs else ()
            yield Element(element.device, element.shape, element.how, legs, ("",), outs, (count,))
