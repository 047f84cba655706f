"""Setting a template of ours with the fonts that are shipped: no other font, no clock, no network.

What goes in beside the template is data that the template reads; it is never part of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from phasewright.papers.font import FOLDER


def typeset(
    template: bytes,
    data: Mapping[str, str],
    form: Literal["pdf", "png"],
    *,
    ppi: float | None = None,
    standard: Literal["ua-1"] | None = None,
) -> bytes:
    """The PDF, or the picture of the one page [`ppi` dots an inch]; the same input gives the same
    bytes. Raises TypeError where a picture would have several pages."""
    import typst  # loaded where it is used: it is large

    made = typst.compile(
        template,
        font_paths=typst.Fonts(
            include_system_fonts=False, include_embedded_fonts=False, font_paths=[FOLDER]
        ),
        format=form,
        ppi=ppi,
        sys_inputs=dict(data),
        timestamp=0,
        pdf_standards=[] if standard is None else [standard],
    )
    if not isinstance(made, bytes):
        raise TypeError("a picture is of one page")
    return made
