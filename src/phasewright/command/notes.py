"""Long words that several places of the screen share: numbered, and said once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from rich.console import Console
from rich.text import Text

from phasewright.command.screen import line
from phasewright.papers.plan_words import sentence

_LONG = 60


def numbered(said: Iterable[str]) -> dict[str, int]:
    """Long words that are said more than once, each with its number."""
    shared = [words for words, times in Counter(said).items() if times > 1 and len(words) > _LONG]
    return {words: number for number, words in enumerate(shared, start=1)}


def seen(said: Iterable[str], notes: Mapping[str, int]) -> Sequence[str]:
    """The numbers of those words that stand in the notes, to be read in a line of words."""
    return [f"({number})" for number in sorted({notes[words] for words in said if words in notes})]


def listed(console: Console, notes: Mapping[str, int]) -> None:
    """Print the notes."""
    for words, number in notes.items():
        line(console, sentence(words), mark=Text(f"({number})"))
