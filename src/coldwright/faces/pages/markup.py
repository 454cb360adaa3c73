"""Small pieces of a page: escaped text, findings, a table of figures, numbers."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from html import escape
from typing import Any

from coldwright.findings import Finding
from coldwright.quantities.display import THIN_SPACE
from coldwright.report.figures import Interval, figure
from coldwright.report.labels import Label, figure_groups

_MARKS = {"stop": "▲", "warning": "△", "note": "•"}


def text(anything: object) -> str:
    """Any text, safe inside an element or a quoted attribute."""
    return escape(str(anything), quote=True)


def opening(headline: str, reasons: Sequence[str]) -> str:
    """The sentence that answers, and why."""
    lines = "".join(f"<p>{text(reason)}</p>" for reason in reasons)
    return f'<h1>{text(headline)}</h1><div class="reasons">{lines}</div>'


def findings(found: Sequence[Finding], *, empty: str = "") -> str:
    """Each finding as a sentence with its sign, and softly where it stands."""
    if not found:
        return f'<p class="soft">{text(empty)}</p>' if empty else ""
    return f'<ul class="findings">{"".join(_finding(each) for each in found)}</ul>'


def _finding(found: Finding) -> str:
    bare = replace(found, where="", line=None, file="").sentence()
    sentence = bare.removesuffix(f"[{found.code}]").strip()
    word = "" if found.severity == "note" else f"<b>{found.severity.capitalize()}:</b> "
    where = text(found.where)
    if found.line is not None:
        where = f'<a href="/sheet#line-{found.line}">{where}, line {found.line}</a>'
    place = " · ".join(part for part in (where, text(found.code)) if part)
    return (
        f'<li class="finding {found.severity}"><span class="mark" aria-hidden="true">'
        f"{_MARKS[found.severity]}</span><div>{word}{text(sentence)}"
        f'<div class="small soft">{place}</div></div></li>'
    )


def figures(
    labels: Iterable[Label], values: Mapping[str, Interval], tries: int = 0, money: str = ""
) -> str:
    """The narrow table of figures with their intervals."""
    groups = figure_groups(labels, values, money)
    if not groups:
        return ""
    has_span = any(one.span for group in groups for _, one in group)
    head = ""
    if has_span:
        many = f", of {tries:,}" if tries else ""
        head = (
            '<thead><tr><th scope="col"><span class="hidden">figure</span></th>'
            '<th scope="col" class="number"><span class="hidden">value</span></th>'
            f'<th scope="col" class="span">in 90 of 100 tries{many}</th></tr></thead>'
        )
    bodies = []
    for group in groups:
        rows = "".join(
            f'<tr><th scope="row">{text(name.strip())}</th>'
            f'<td class="number"><b>{text(one.text)}</b></td>'
            f'<td class="span">{text(one.span.replace(" to ", "–"))}</td></tr>'
            for name, one in group
        )
        bodies.append(f"<tbody>{rows}</tbody>")
    return f'<table class="figures">{head}{"".join(bodies)}</table>'


def number(name: str, value: Interval | None) -> str:
    """A figure with its unit, as a person reads it."""
    return "not known" if value is None else text(figure(name, value).text)


def simple_figures(rows: Iterable[tuple[str, str]], values: Mapping[str, Interval]) -> str:
    """Figures under names of one's own; what the answer lacks is left out."""
    return figures([Label(key, name) for key, name in rows], values)


def bars(rows: Sequence[tuple[str, float]], unit: str = "W") -> str:
    """Amounts with a bar each: filled for what comes in, hatched for what goes out."""
    largest = max((abs(amount) for _, amount in rows), default=0.0)
    digits = 0 if largest >= 20.0 else 1 if largest >= 2.0 else 2
    lines = []
    for name, amount in rows:
        if largest == 0.0 or round(amount, digits) == 0.0:
            continue
        kind = "in" if amount > 0.0 else "out"
        shown = f"{amount:.{digits}f}".replace("-", "−")
        lines.append(
            f'<tr><th scope="row">{text(name)}</th><td class="number"><b>{shown}{THIN_SPACE}{unit}'
            f'</b></td><td class="bar-cell"><span class="bar {kind}" '
            f'style="width:{100.0 * abs(amount) / largest:.1f}%"></span>'
            f"{'' if kind == 'in' else ' takes heat away'}</td></tr>"
        )
    return f'<table class="bars"><tbody>{"".join(lines)}</tbody></table>'


def plot(
    title: str,
    x: tuple[str, str],
    y: tuple[str, str],
    xs: Sequence[float],
    curves: Sequence[tuple[str, Sequence[float | None]]],
    levels: Sequence[tuple[str, float]] = (),
) -> str:
    """A plot that the page draws: names and units of both axes, curves, levels."""
    data = {
        "title": title,
        "x": {"name": x[0], "unit": x[1], "now": None},
        "y": {"name": title, "unit": y[1]},
        "xs": list(xs),
        "curves": [{"name": name, "ys": list(ys), "at": None, "shown": ""} for name, ys in curves],
        "levels": [{"name": name, "y": number} for name, number in levels],
    }
    return f'<figure class="card" data-plot="{text(json.dumps(data))}"></figure>'


def table(
    head: Sequence[tuple[str, str]],
    rows: Iterable[Sequence[Any]],
    *,
    caption: str,
    name: str = "",
    row_class: Sequence[str] = (),
) -> str:
    """A table that can be sorted and filtered.

    Parameters
    ----------
    head
        Title and kind of each column: "text", "number" or "html" (markup made here).
    rows
        One cell for each column; a cell may be a pair of what is shown and what is sorted by.
    caption
        What the table shows, for those who cannot see it.
    """
    heads = "".join(
        f'<th scope="col" class="{kind}"{_sortable(kind)}>{text(title)}</th>'
        for title, kind in head
    )
    body = []
    for at, row in enumerate(rows):
        kind_of_row = f' class="{row_class[at]}"' if at < len(row_class) and row_class[at] else ""
        cells = "".join(
            _cell(cell, kind, first=column == 0)
            for column, (cell, (_, kind)) in enumerate(zip(row, head, strict=True))
        )
        body.append(f"<tr{kind_of_row}>{cells}</tr>")
    identity = f' id="{text(name)}"' if name else ""
    return (
        f'<div class="scroll"><table class="rows"{identity} data-sortable>'
        f'<caption class="hidden">{text(caption)}</caption><thead><tr>{heads}</tr></thead>'
        f"<tbody>{''.join(body)}</tbody></table></div>"
    )


def _sortable(kind: str) -> str:
    return ' data-sort="number"' if kind == "number" else ' data-sort="text"'


def _cell(cell: Any, kind: str, *, first: bool) -> str:
    by = ""
    if isinstance(cell, tuple):
        cell, key = cell
        by = f' data-by="{text(key)}"'
    shown = cell if kind == "html" else text(cell)
    if first:
        return f'<th scope="row" class="{kind}"{by}>{shown}</th>'
    return f'<td class="{kind}"{by}>{shown}</td>'
