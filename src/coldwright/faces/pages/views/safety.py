"""What can hurt? Cautions with their sources, and a check list to sign."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby
from typing import Any

from coldwright.answers.safety import Inputs, Step, run
from coldwright.faces.pages.markup import findings, opening, text
from coldwright.faces.pages.views.view import Progress, View
from coldwright.sheet.models import Sheet

_STATUS = {"open": "open", "signed": "signed", "design changed": "signed for another design"}


def answer(
    sheet: Sheet, _options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """Cautions and check list."""
    progress("Going through the rules …")
    found = run(Inputs(sheet))
    parts = [
        opening(found.headline, found.remarks),
        "<section><h2>What to mind in this design</h2>",
        findings([each.finding for each in found.cautions], empty="No rule has anything to say."),
        "</section>",
    ]
    for stage, steps in groupby(found.steps, key=lambda step: step.stage):
        parts.append(f'<section><h2>{text(stage)}</h2><ul class="steps">')
        parts += [_step(step) for step in steps]
        parts.append("</ul></section>")
    if found.licensed:
        parts.append(
            '<section><h2>Only a licensed person may do or test this</h2><ul class="steps">'
        )
        parts += [_step(step) for step in found.licensed]
        parts.append("</ul></section>")
    parts.append(
        '<p class="soft">Sign what is done with <code>coldwright safety --sign CODE --by NAME'
        "</code>; local codes and a licensed person decide what a build must have.</p>"
    )
    return "".join(parts), found.to_json()


def _step(step: Step) -> str:
    by = f", {text(step.by)}" if step.by else ""
    return (
        f'<li class="step {text(step.status)}"><b>{text(step.text)}</b> {text(step.why)}'
        f'<div class="small soft">{text(step.code)} · {text(step.source)} · '
        f"{_STATUS.get(step.status, step.status)}{by}</div></li>"
    )


VIEW = View("safety", "safety", "What can hurt?", below="wiring", answer=answer,
            codes=("CW-SAFE",))  # fmt: skip
