"""The JSON Schema of the design sheet, for editors that check and complete while one types."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from coldwright.sheet.models import Sheet

_DRAFT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """Schema of the sheet as TOML data: quantities are texts with description and examples."""
    schema = Sheet.model_json_schema(mode="validation")
    _loosen(schema)
    return {"$schema": _DRAFT, **schema, "title": "Design sheet of a thermoelectric air cooler"}


def write_schema(path: Path) -> None:
    """Write the schema to a file, in a form that stays the same from run to run."""
    text = json.dumps(json_schema(), indent=2, sort_keys=True, ensure_ascii=False)
    path.write_text(text + "\n", encoding="utf-8")


def _loosen(schema: Any) -> None:
    """Say what reading does beyond the models: ways of writing, and keys that a part supplies."""
    if isinstance(schema, list):
        for item in schema:
            _loosen(item)
        return
    if not isinstance(schema, dict):
        return
    # A table that names a part leaves out what tells its kinds apart: then several fit.
    if "oneOf" in schema:
        schema["anyOf"] = schema.pop("oneOf")
    properties = schema.get("properties", {})
    required = schema.get("required")
    if isinstance(properties, dict) and "part" in properties and required:
        schema["anyOf"] = [{"required": ["part"]}, {"required": required}]
        del schema["required"]
    for value in schema.values():
        _loosen(value)
