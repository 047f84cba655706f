"""The first step of every job: the shop file read."""

from __future__ import annotations

from os import PathLike
from pathlib import Path

from phasewright.files import shop_file, yaml_tree
from phasewright.shop.model import Shop


def read(path: str | PathLike[str]) -> Shop:
    """The shop written in a shop file; raises ShopFileError with every mistake."""
    return shop_file.read(Path(path))


def text(path: str | PathLike[str]) -> str:
    """The text of a shop file, its mistakes not looked for; raises ShopFileError where it is no
    readable text of modest size."""
    return yaml_tree.load(Path(path))
