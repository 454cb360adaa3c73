"""JSON Schema of what `wiring --json` prints, made of the answer's own types."""

from __future__ import annotations

import types
from dataclasses import fields, is_dataclass
from typing import Any, Union, get_args, get_origin, get_type_hints

from coldwright.answers.wiring import Wiring
from coldwright.findings import Finding

_PLAIN: dict[Any, dict[str, Any]] = {
    str: {"type": "string"},
    float: {"type": "number"},
    int: {"type": "integer"},
    type(None): {"type": "null"},
}
# Names in the JSON that differ from those of the answer.
_CALLED = {"cuts": "cutting_list"}


def wiring_schema() -> dict[str, Any]:
    """Schema (draft 2020-12) of the answer of `wiring`."""
    found = _table(Wiring)
    found["properties"] = {
        _CALLED.get(name, name): each for name, each in found["properties"].items()
    }
    found["required"] = [_CALLED.get(name, name) for name in found["required"]]
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Answer of coldwright wiring",
        **found,
    }


def _table(table: type) -> dict[str, Any]:
    hints = get_type_hints(table)
    names = [field.name for field in fields(table)]
    properties = {name: _of(hints[name]) for name in names}
    if table is Finding:
        properties["severity"] = {"enum": ["stop", "warning", "note"]}
    return {
        "type": "object",
        "properties": properties,
        "required": names,
        "additionalProperties": False,
    }


def _of(hint: Any) -> dict[str, Any]:
    if hint in _PLAIN:
        return _PLAIN[hint]
    origin, arguments = get_origin(hint), get_args(hint)
    if origin in (Union, types.UnionType):
        return {"anyOf": [_of(one) for one in arguments]}
    if origin is list:
        return {"type": "array", "items": _of(arguments[0])}
    if origin is tuple:
        return {"type": "array", "prefixItems": [_of(one) for one in arguments]}
    if origin is dict:
        return {"type": "object", "additionalProperties": _of(arguments[1])}
    if isinstance(hint, type) and is_dataclass(hint):
        return _table(hint)
    return {}
