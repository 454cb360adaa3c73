"""One file per page: its question, its address, and how its answer is shown."""

from __future__ import annotations

from coldwright.faces.pages.views import (
    changes,
    choose,
    compare,
    day,
    faults,
    run_at,
    safety,
    sheet,
    verdict,
    watts,
    wiring,
)
from coldwright.faces.pages.views.view import View

VIEWS: tuple[View, ...] = (
    verdict.VIEW,
    day.VIEW,
    compare.VIEW,
    watts.VIEW,
    run_at.VIEW,
    changes.VIEW,
    choose.VIEW,
    wiring.VIEW,
    faults.VIEW,
    safety.VIEW,
    sheet.VIEW,
)
"""In the order of a person's questions."""
BY_NAME = {each.name: each for each in VIEWS}


def view(name: str) -> View:
    """The page of that name; `KeyError` where there is none."""
    return BY_NAME[name]
