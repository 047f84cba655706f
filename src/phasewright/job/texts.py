"""Shop files and result files as text, for a front end that keeps no files itself."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from phasewright.files import result_file, result_schema, shop_file, shop_schema, yaml_tree
from phasewright.files.shop_writing import entries_of
from phasewright.files.yaml_splice import changed
from phasewright.files.yaml_words import Entry
from phasewright.plan.study import Study
from phasewright.shop.machine import Machine
from phasewright.shop.model import Shop

MOST_BYTES = yaml_tree.MOST_BYTES
"""The largest shop file that is read."""


def shop_of(text: str, name: str = "the file") -> Shop:
    """The shop of a text; raises ShopFileError with every mistake in it."""
    return shop_file.read_text(text, name)


def text_of(raw: bytes, name: str = "the file") -> str:
    """The text of bytes; raises ShopFileError for what is no text in UTF-8 of modest size."""
    return yaml_tree.decoded(raw, name)


def rewritten(
    text: str, changes: Mapping[str, Entry | None], name: str = "the file"
) -> tuple[str, Shop]:
    """The text with some keys changed and every other letter as it was, and its shop.

    `changes` maps paths to what shall stand there, None takes away. Raises ShopFileError where
    the new text has mistakes, UsageError for a path that cannot be followed.
    """
    new = changed(text, changes, name)
    return new, shop_of(new, name)


def entries(part: Machine | Shop, shop: Shop) -> dict[str, Any]:
    """A part of a shop as entries of the shop file, what is at its default left out."""
    return entries_of(part, shop.region)


def result_text(study: Study) -> str:
    """The text of the result file."""
    return result_file.study_text(study)


def workings_text(study: Study) -> str:
    """The text of the file that tells where every figure comes from."""
    return result_file.workings_text(study)


def schemas() -> dict[str, dict[str, Any]]:
    """The JSON Schemas of the two files, by `shop` and `result`."""
    return {"shop": shop_schema.shop_schema(), "result": result_schema.result_schema()}
