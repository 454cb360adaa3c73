"""JSON Schema of what `--json` prints, for programs that read the answers."""

from __future__ import annotations

from typing import Any

from coldwright.answers.watts import FIGURES
from coldwright.quantities.glossary import entry

_ALSO = {
    "watts": ("place_air_K", "sound_dB"),
    "verdict": (
        "place_air_K",
        "sound_dB",
        "price",
        "price_per_day",
        "goal_air_K",
        "place_air_off_K",
        "place_air_stopped_K",
        "place_air_at_limit_K",
        "time_to_goal_s",
        "load_at_goal_W",
        "cooling_at_goal_W",
        "plate_K",
    ),
}


def answer_schema(command: str) -> dict[str, Any]:
    """Schema (draft 2020-12) of the answer of `watts` or `verdict`."""
    number = {"type": ["number", "null"]}
    value = {
        "type": "object",
        "properties": {"value": number, "low": number, "high": number},
        "required": ["value", "low", "high"],
        "additionalProperties": False,
    }
    text, texts = {"type": "string"}, {"type": "array", "items": {"type": "string"}}
    finding = {
        "type": "object",
        "properties": {
            "code": {"type": "string", "pattern": "^CW-[A-Z]+-[0-9]{2}$"},
            "severity": {"enum": ["stop", "warning", "note"]},
            **dict.fromkeys(("where", "given", "allowed", "why", "action", "file"), text),
            "line": {"type": ["integer", "null"]},
        },
        "required": ["code", "severity", "where"],
    }
    properties: dict[str, Any] = {
        "title": text,
        "file": text,
        "headline": text,
        "reasons": texts,
        **{
            name: {"$ref": "#/$defs/value", "description": entry(name).description}
            for name in (*FIGURES, *_ALSO[command])
        },
        "ledger": {"type": "array", "items": _line("W")},
        "ledger_residual_W": {"type": "number"},
        "water_ledger": {"type": "array", "items": _line("kg_s")},
        "findings": {"type": "array", "items": finding},
        "assumptions": {"type": "object", "additionalProperties": text},
        "widest": {
            "type": "object",
            "additionalProperties": {
                "type": "array",
                "items": {
                    "type": "object",
                    "properties": {"input": text, "share": {"type": "number"}},
                    "required": ["input", "share"],
                },
            },
        },
        "tries": {"type": "integer"},
        "solved_tries": {"type": "integer"},
        "sources": texts,
    }
    if command == "watts":
        properties |= {
            "ratings": {"type": "array", "items": _rating()},
            "not_cooling": texts,
        }
    if command == "verdict":
        properties |= {
            "verdict": {"enum": ["yes", "no", "borderline", None]},
            "reached_tries": {"type": "integer"},
            "counted_tries": {"type": "integer"},
            "currency": text,
            "heat_load_W": {"type": "object", "additionalProperties": {"$ref": "#/$defs/value"}},
            "alternatives": {
                "type": "array",
                "items": {
                    "type": "object",
                    "properties": {
                        "name": text,
                        "place_air_K": {"$ref": "#/$defs/value"},
                        "sentence": text,
                    },
                    "required": ["name", "place_air_K", "sentence"],
                },
            },
            "judged_at": text
            | {"description": "Clock time of the judged moment in changing weather, else empty."},
            "history": {
                "type": "object",
                "additionalProperties": {"type": "array", "items": {"type": "number"}},
            },
        }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"Answer of coldwright {command}",
        "type": "object",
        "$defs": {"value": value},
        "properties": properties,
        "required": ["title", "headline", "reasons", *FIGURES, "ledger", "findings"],
        "additionalProperties": False,
    }


def _line(amount: str) -> dict[str, Any]:
    return {
        "type": "object",
        "properties": {
            "node": {"type": "string"},
            "what": {"type": "string"},
            amount: {"type": "number"},
        },
        "required": ["node", "what", amount],
        "additionalProperties": False,
    }


def _rating() -> dict[str, Any]:
    text, number = {"type": "string"}, {"type": "number"}
    keys = {
        "group": text,
        "what": text,
        "rated": number,
        "here": number,
        "unit": text | {"description": "Name of the glossary whose unit both figures have."},
        "remark": text,
    }
    return {
        "type": "object",
        "properties": keys,
        "required": list(keys),
        "additionalProperties": False,
    }
