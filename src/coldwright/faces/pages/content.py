"""What a page shows of the live answer: the strip, the knobs, and the parts of its view."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from coldwright.answers.design import Design
from coldwright.answers.knobs import Knob, Setting, edits, setting_of
from coldwright.answers.live import Inputs, Live, run
from coldwright.faces.pages.project import Project
from coldwright.faces.pages.settings import asks, setting_from
from coldwright.faces.pages.strip import strip
from coldwright.faces.pages.views import BY_NAME
from coldwright.quantities.glossary import entry
from coldwright.quantities.units import conversion
from coldwright.sheet.models import Sheet


@dataclass(frozen=True)
class Content:
    """One moment of the live answer, ready to be put into a page."""

    version: str
    strip: str
    knobs: list[dict[str, Any]]
    parts: dict[str, Any]
    counts: dict[str, int]
    """How many findings each page has."""

    def to_json(self) -> dict[str, Any]:
        """One object."""
        return {
            "version": self.version,
            "strip": self.strip,
            "knobs": self.knobs,
            "parts": self.parts,
            "counts": self.counts,
        }


def live_content(project: Project, asked: Mapping[str, Any], tries: int) -> Content:
    """Solve what a page asks for and make its markup."""
    sheet, version = project.sheet()
    found = run(Inputs(sheet, _wanted(sheet, asked), tries))
    view = BY_NAME.get(str(asked.get("view", ""))[:40])
    parts = {} if view is None or view.parts is None else view.parts(found, asked)
    return Content(version, strip(found), shown_knobs(found), parts, counts(found))


def with_setting(sheet: Sheet, asked: Mapping[str, Any]) -> dict[str, str]:
    """Edits of the sheet that an address asks for by its knobs."""
    if not asks(asked):
        return {}
    now = setting_of(Design(sheet, 0, 0))
    return edits(sheet, now, setting_from(asked, now))


def _wanted(sheet: Sheet, asked: Mapping[str, Any]) -> Setting | None:
    if not asks(asked):
        return None
    return setting_from(asked, setting_of(Design(sheet, 0, 0)))


def shown_knobs(live: Live) -> list[dict[str, Any]]:
    """The knobs in the units that people read."""
    return [_shown(knob, live.setting) for knob in live.knobs]


def counts(live: Live) -> dict[str, int]:
    """Stops and warnings of each page."""
    return {
        view.name: sum(
            found.severity != "note" and found.code.startswith(view.codes)
            for found in live.watts.findings
        )
        for view in BY_NAME.values()
        if view.codes
    }


_WORDS = {"drive": "modules", "cold_speed": "cold fan", "hot_speed": "hot fan"}
_KEYS = {"drive": "drive", "cold_speed": "cold", "hot_speed": "hot"}


def _shown(knob: Knob, setting: Setting) -> dict[str, Any]:
    unit = "%" if knob.axis in ("ratio", "duty") else entry(knob.axis).display_unit
    factor = 0.01 if unit == "%" else conversion(unit, entry(knob.axis).kind)[0]
    return {
        "key": _KEYS[knob.name],
        "label": _WORDS[knob.name],
        "unit": unit,
        "factor": factor,
        "least": knob.least,
        "most": knob.most,
        "step": knob.step,
        "now": knob.now,
        "at": getattr(setting, knob.name),
    }
