"""What else would do? Fans, ice, shade, a compressor, side by side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.compare import Inputs, run
from coldwright.answers.rival import Rival
from coldwright.faces.pages.markup import findings, opening, table, text
from coldwright.faces.pages.views.view import Progress, View
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Sheet

_HEAD = [
    ("way", "text"), ("holds the goal", "text"), ("place", "number"), ("feels like", "number"),
    ("from the plug", "number"), ("kWh a day", "number"), ("noise", "number"),
    ("water a day", "number"), ("what it asks of you", "text"),
]  # fmt: skip


def answer(
    sheet: Sheet, _options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """Other means for the same place."""
    progress("Following the place with each way of cooling it …")
    found = run(Inputs(sheet))
    felt = "".join(f"<p>{text(each.sentence)}</p>" for each in found.comfort)
    parts = [
        opening(found.headline, [*found.reasons, *found.basis]),
        '<section class="card">',
        table(
            _HEAD, [_row(row) for row in found.rows],
            caption="Ways of cooling the place, side by side",
            row_class=["own" if row.name == "this cooler" else "" for row in found.rows],
        ),
        "</section>",
        f"<section><h2>The person</h2>{felt}</section>" if felt else "",
        "<section><h2>One by one</h2>",
        "".join(f"<p>{text(row.sentence)}</p>" for row in found.rows),
        "</section><section><h2>Findings</h2>",
        findings(found.findings, empty="Nothing found."),
        "</section>",
    ]  # fmt: skip
    return "".join(parts), found.to_json()


def _row(row: Rival) -> list[Any]:
    holds = {True: "yes", False: "no", None: "another thing"}[row.reached]
    water = row.water_kg_per_day
    return [
        row.name, holds, _figure("place_air_K", row.place_air_K),
        _figure("place_air_K", row.feels_like_K), _figure("plug_power_W", row.plug_W),
        ("not known" if row.kWh_per_day is None else f"{row.kWh_per_day:.2f}", row.kWh_per_day),
        _figure("sound_dB", row.noise_dB),
        ("" if not water else f"{water:.1f} kg", water), row.asks,
    ]  # fmt: skip


def _figure(name: str, number: float | None) -> tuple[str, Any]:
    return ("" if number is None else display(name, number), "" if number is None else number)


VIEW = View(
    "compare", "compare", "What else would do?", below="verdict", answer=answer,
    codes=("CW-PERSON",),
)  # fmt: skip
