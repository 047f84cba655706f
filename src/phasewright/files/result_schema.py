"""The JSON Schema of the result file, made from the frozen data classes of the study."""

from __future__ import annotations

import json
import types
import typing
from dataclasses import Field, fields, is_dataclass
from typing import Any, Literal, get_args, get_origin

from phasewright.plan.study import Study
from phasewright.quantities.finding import Assumed
from phasewright.quantities.plain import may_be_null, name_of
from phasewright.quantities.value import Origin, Value

Schema = dict[str, Any]


def result_schema() -> Schema:
    """JSON Schema (2020-12) of `study.json`."""
    return schema_of(Study, "Phasewright result file")


def schema_of(made_of: type[Any], title: str) -> Schema:
    """JSON Schema (2020-12) of a file that holds one of the frozen data classes."""
    definitions: dict[str, Schema] = {}
    top = _of(made_of, definitions)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": title,
        **top,
        "$defs": dict(sorted(definitions.items())),
    }


def result_schema_text() -> str:
    """The text of `docs/result.schema.json`."""
    return json.dumps(result_schema(), ensure_ascii=False, indent=1) + "\n"


def _of(kind: Any, definitions: dict[str, Schema]) -> Schema:
    simple: dict[Any, Schema] = {
        float: {"type": "number"},
        Value: {"type": "number"},
        int: {"type": "integer"},
        bool: {"type": "boolean"},
        str: {"type": "string"},
        type(None): {"type": "null"},
    }
    if kind in simple:
        return simple[kind]
    origin = get_origin(kind)
    if origin is Literal:
        return {"enum": list(get_args(kind))}
    if origin is types.UnionType or origin is typing.Union:
        return _union([_of(part, definitions) for part in get_args(kind)])
    if origin is tuple:
        return _row(get_args(kind), definitions)
    if origin is dict:
        return {"type": "object", "additionalProperties": _of(get_args(kind)[1], definitions)}
    if is_dataclass(kind):
        return _record(kind, definitions)
    raise TypeError(f"{kind} has no place in a result file")


def _union(parts: list[Schema]) -> Schema:
    distinct = [part for place, part in enumerate(parts) if part not in parts[:place]]
    return distinct[0] if len(distinct) == 1 else {"anyOf": distinct}


def _row(parts: tuple[Any, ...], definitions: dict[str, Schema]) -> Schema:
    if len(parts) == 2 and parts[1] is Ellipsis:
        return {"type": "array", "items": _of(parts[0], definitions)}
    return {
        "type": "array",
        "prefixItems": [_of(part, definitions) for part in parts],
        "minItems": len(parts),
        "maxItems": len(parts),
    }


def _record(kind: Any, definitions: dict[str, Schema]) -> Schema:
    name = kind.__name__
    if name not in definitions:
        definitions[name] = {}
        definitions[name] = _assumed() if kind is Assumed else _fields(kind, definitions)
    return {"$ref": f"#/$defs/{name}"}


def _fields(kind: Any, definitions: dict[str, Schema]) -> Schema:
    hints = typing.get_type_hints(kind)
    properties: dict[str, Schema] = {}
    required = []
    for entry in fields(kind):
        allowed, needed = _field(entry, hints[entry.name], definitions)
        properties[name_of(entry)] = allowed
        if needed:
            required.append(name_of(entry))
    schema: Schema = {"type": "object"}
    written = (kind.__doc__ or "").strip()
    if written and not written.startswith(f"{kind.__name__}("):
        schema["description"] = " ".join(written.split())
    return {**schema, "properties": properties, "required": required, "additionalProperties": False}


def _field(entry: Field[Any], hint: Any, definitions: dict[str, Schema]) -> tuple[Schema, bool]:
    parts = get_args(hint) if get_origin(hint) in (types.UnionType, typing.Union) else (hint,)
    if type(None) not in parts or may_be_null(entry):
        return _of(hint, definitions), True
    given = [_of(part, definitions) for part in parts if part is not type(None)]
    return _union(given), False


def _assumed() -> Schema:
    number = {"type": "number"}
    text = {"type": "string"}
    properties: dict[str, Schema] = {
        "field": text, "path": text, "value": number, "unit": text, "low": number,
        "high": number, "origin": {"enum": list(get_args(Origin))}, "source": text,
    }  # fmt: skip
    return {
        "type": "object",
        "description": "A fact the owner did not give and what was taken in its place.",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }
