"""The design sheet: its text, with what is wrong at the line."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.live import Live
from coldwright.faces.pages.markup import findings, text
from coldwright.faces.pages.views.view import View


def parts(live: Live, _asked: Mapping[str, Any]) -> dict[str, Any]:
    """What the program says of the sheet as it stands in the file."""
    assumed = live.watts.assumptions
    rows = "".join(f"<li><code>{_code(key, value)}</code></li>" for key, value in assumed.items())
    return {
        "sheet-findings": findings(live.watts.findings, empty="Nothing found."),
        "assumed": f'<ul class="keys">{rows}</ul>' if rows else "<p>Nothing is assumed.</p>",
    }


def _code(key: str, value: str) -> str:
    return f"{text(key)} = {text(value)}"


VIEW = View("sheet", "sheet", "The design sheet", parts=parts, knobs=False)
