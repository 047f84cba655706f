"""Things told by being themselves, and things that are hashed once, so that caches are quick."""

from __future__ import annotations

from collections.abc import Hashable
from functools import lru_cache
from typing import Any, Generic, TypeVar

T = TypeVar("T")
C = TypeVar("C", bound=type[Any])
MOST_SAME = 1024


class Same(Generic[T]):
    """Equal only where it holds the very same object; a cache that keeps it keeps that alive.

    For frozen things only: what a cache says of one must stay true.
    """

    __slots__ = ("it",)

    def __init__(self, it: T) -> None:
        self.it = it

    def __hash__(self) -> int:
        return id(self.it)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and other.it is self.it


def the_same(one: T) -> T:
    """The first of all frozen things that are equal to this one, so that what is kept by identity
    is found again, and equals are told by one look, when a shop is read anew after a change.

    The last `MOST_SAME` are known.
    """
    found: T = _first(one)  # type: ignore[assignment]
    return found


@lru_cache(maxsize=MOST_SAME)
def _first(one: Hashable) -> Hashable:
    return one


class Hashed:
    """The base of what is `hashed_once`: room for the hash, which is no field."""

    __slots__ = ("_hash",)


def hashed_once(frozen: C) -> C:
    """A frozen data class with `Hashed` as its base, whose deep trees are hashed once each: a cache
    that is asked hundreds of times then goes through the tree one time."""
    reckon: Any = frozen.__hash__

    def kept(self: Any) -> int:
        try:
            known: int = self._hash
        except AttributeError:
            known = reckon(self)
            object.__setattr__(self, "_hash", known)
        return known

    setattr(frozen, "__hash__", kept)  # noqa: B010 - a class is given a method
    return frozen
