"""Words: the nearest known one to a misspelt one, and lists as people say them."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that is most like this one, or None where none is alike.

    Case, hyphens, spaces and underscores make no difference.
    """
    plain = {_plain(name): name for name in known}
    found = get_close_matches(_plain(word[:100]), plain, n=1, cutoff=0.6)
    return plain[found[0]] if found else None


def listed(words: Iterable[str], joint: str = "or") -> str:
    """`a, b or c`."""
    *most, last = list(words)
    return f"{', '.join(most)} {joint} {last}" if most else last


def _plain(word: str) -> str:
    return word.casefold().replace("-", "_").replace(" ", "_")
