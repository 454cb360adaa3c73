"""Where do the watts go? The picture in which heat flows, the ledger, the figures."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.live import Live
from coldwright.faces.pages.markup import figures, findings, opening, table
from coldwright.faces.pages.views.view import View
from coldwright.quantities.glossary import display
from coldwright.report.labels import WATTS


def parts(live: Live, asked: Mapping[str, Any]) -> dict[str, Any]:
    """Everything on this page that changes with a knob."""
    from coldwright.faces.pages.picture import picture

    watts = live.watts
    return {
        "opening": opening(watts.headline, watts.reasons),
        "picture": picture(live, narrow=asked.get("narrow") is True),
        "figures": figures(WATTS, watts.values, watts.tries),
        "ledger": _ledger(live),
        "findings": findings(watts.findings, empty="Nothing found."),
    }


def _ledger(live: Live) -> str:
    rows = [
        (entry.node, entry.what, (display("heat_load_W", entry.W), entry.W))
        for entry in live.watts.ledger
    ]
    closes = display("heat_load_W", live.watts.ledger_residual_W)
    shown = table(
        [("at", "text"), ("what", "text"), ("heat into it", "number")],
        rows,
        caption="Every flow of heat into and out of each part, in watts",
        name="ledger-table",
    )
    return f'{shown}<p class="small soft">The ledger closes to {closes}.</p>'


VIEW = View("watts", "watts", "Where do the watts go?", parts=parts)
