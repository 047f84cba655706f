"""The JSON Schema of the shop file for editors, made from the shop's frozen data classes."""

from __future__ import annotations

import json
from typing import Any

from phasewright.files.shop_words import wanted
from phasewright.quantities.kinds import KINDS
from phasewright.shop import keys
from phasewright.shop.keys import Shape, keys_of
from phasewright.shop.model import Shop

Schema = dict[str, Any]


def shop_schema() -> Schema:
    """JSON Schema (2020-12) of the shop file.

    It tells an editor the keys, the closed lists and the bounds of bare numbers; units and
    what facts must agree on are judged by the reader alone.
    """
    definitions: dict[str, Schema] = {}
    top = _part(Shop, definitions)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Phasewright shop file",
        **top,
        "$defs": dict(sorted(definitions.items())),
    }


def shop_schema_text() -> str:
    """The text of `docs/shop.schema.json`."""
    return json.dumps(shop_schema(), ensure_ascii=False, indent=1) + "\n"


def _part(made_of: type[Any], definitions: dict[str, Schema]) -> Schema:
    name = made_of.__name__
    if name not in definitions:
        definitions[name] = {}
        known = keys_of(made_of)
        definitions[name] = {
            "type": "object",
            "description": " ".join((made_of.__doc__ or "").split("\n\n")[0].split()),
            "properties": {
                key.name: _described(_shape(key.shape, definitions), key) for key in known.values()
            },
            "required": [key.name for key in known.values() if key.required],
            "additionalProperties": False,
        }
    return {"$ref": f"#/$defs/{name}"}


def _described(schema: Schema, key: keys.Key) -> Schema:
    words = "; ".join(words for words in (key.says, schema.get("description", "")) if words)
    return {**schema, "description": words} if words else schema


def _shape(shape: Shape, definitions: dict[str, Schema]) -> Schema:
    match shape:
        case keys.Part():
            part = _part(shape.made_of, definitions)
            return {"anyOf": [part, {"enum": list(shape.words)}]} if shape.words else part
        case keys.ListOf():
            rows = {
                "type": "array",
                "items": _shape(shape.item, definitions),
                "maxItems": shape.most,
            }
            if isinstance(shape.item, keys.Text | keys.Choice):
                return {"anyOf": [rows, _shape(shape.item, definitions)]}
            return rows
        case keys.Quantity():
            example = KINDS[shape.kind].example.split("'")[0]
            return {
                "type": "string",
                "pattern": "[^0-9., /+-]",
                "description": wanted(shape),
                "examples": [example],
            }
        case keys.Number():
            kind = "integer" if shape.whole else "number"
            bounds = {"minimum": shape.low, "maximum": shape.high}
            return {"type": kind, **bounds, "description": shape.what}
        case keys.Pair():
            number = {"type": "number", "minimum": shape.low, "maximum": shape.high}
            size = {"minItems": 2, "maxItems": 2}
            return {"type": "array", "items": number, **size, "description": shape.what}
        case _:
            return _word(shape, definitions)


def _word(
    shape: keys.Text | keys.Choice | keys.Flag | keys.Either, definitions: dict[str, Schema]
) -> Schema:
    match shape:
        case keys.Text():
            return {"type": "string", "maxLength": shape.longest}
        case keys.Choice():
            return {"enum": list(shape.options)}
        case keys.Flag():
            return {"type": "boolean"}
        case keys.Either():
            return {"anyOf": [_shape(shape.word, definitions), _shape(shape.number, definitions)]}
