"""A thing told by being itself, so that a cache need not hash a deep frozen tree."""

from __future__ import annotations

from typing import Generic, TypeVar

T = TypeVar("T")


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
