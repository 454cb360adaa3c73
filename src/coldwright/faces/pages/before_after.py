"""A change looked at before it is made: the figures as they are and as they would be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers import watts
from coldwright.faces.pages.markup import text
from coldwright.faces.pages.project import Project
from coldwright.quantities.glossary import display
from coldwright.report.labels import WATTS


def before_after(project: Project, changes: Mapping[str, object]) -> dict[str, Any]:
    """Both operating points, as numbers and as a table."""
    sheet, version = project.sheet()
    now = watts.run(watts.Inputs(sheet, 0)).values
    then = watts.run(watts.Inputs(sheet.changed(changes), 0)).values
    rows = []
    figures = {}
    for label in WATTS:
        if label.key not in now or label.key not in then:
            continue
        one, other = now[label.key].value, then[label.key].value
        figures[label.key] = {"before": one, "after": other}
        if one is None or other is None or display(label.key, one) == display(label.key, other):
            continue
        rows.append(
            f'<tr><th scope="row">{text(label.text.strip())}</th>'
            f'<td class="number">{text(display(label.key, one))}</td>'
            f'<td class="number"><b>{text(display(label.key, other))}</b></td></tr>'
        )
    head = (
        '<thead><tr><th scope="col">figure</th><th scope="col" class="number">before</th>'
        '<th scope="col" class="number">after</th></tr></thead>'
    )
    markup = f'<table class="figures">{head}<tbody>{"".join(rows)}</tbody></table>'
    return {"version": version, "figures": figures, "html": markup}
