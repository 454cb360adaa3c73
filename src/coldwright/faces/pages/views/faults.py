"""What if something fails? Each fault followed in time, and what catches it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.fault.followed import Followed
from coldwright.answers.fault.words import in_time
from coldwright.answers.fault_sentences import consequence, fault_paragraph
from coldwright.answers.faults import Faults, Inputs, run
from coldwright.faces.pages.markup import findings, opening, table, text
from coldwright.faces.pages.views.view import Progress, View
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Sheet

_HEAD = [
    ("fault", "text"), ("what it does", "text"), ("after", "number"),
    ("hottest face ends at", "number"), ("place, warmer by", "number"), ("caught by", "text"),
]  # fmt: skip


def answer(
    sheet: Sheet, _options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """Every fault."""
    progress("Following each fault in time …")
    found = run(Inputs(sheet))
    return _markup(found), found.to_json()


def _markup(found: Faults) -> str:
    told = [each for each in found.followed if not each.refused]
    parts = [opening(found.headline, found.reasons)]
    parts += [
        '<section class="card">',
        table(_HEAD, [_row(each) for each in told], caption="Fault, consequence, caught by"),
        '<p class="small soft">▲ burns or destroys, △ hurts or spoils.</p></section>',
        "<section><h2>One by one</h2>",
    ]  # fmt: skip
    for each in told:
        is_open = " open" if each.name in found.worst[:2] else ""
        said = text(" ".join(fault_paragraph(each)))
        parts.append(
            f'<details class="fault"{is_open}><summary>{text(_capital(each.name))}</summary>'
            f"<p>{said}</p></details>"
        )
    parts.append("</section><section><h2>What to fit</h2><ul>")
    parts += [
        f"<li><b>{text(_capital(guard.key))}</b>{': ' if guard.set_to else ''}"
        f"{text(guard.set_to)}. {text(guard.why)}. {text(_capital(guard.fit))}.</li>"
        for guard in found.guards
    ]
    parts.append("</ul></section>")
    refused = [each for each in found.followed if each.refused]
    if refused:
        lines = "".join(f"<li>{text(one.name)}: {text(one.said)}</li>" for one in refused)
        parts.append(f"<section><h2>Not followed</h2><ul>{lines}</ul></section>")
    parts += ["<section><h2>Findings</h2>", findings(found.findings, empty="Nothing found."),
              "</section>"]  # fmt: skip
    return "".join(parts)


def _row(one: Followed) -> list[Any]:
    what, at_s = consequence(one)
    face_K = one.figures["hot_face_K"].value
    ends = "no end" if one.ends == "runs away" or face_K is None else display("hot_face_K", face_K)
    rise_K = None if one.place_rise_K is None else one.place_rise_K.value
    first = one.caught_by
    guard = "nothing" if first is None else first.guard
    if first is not None and not one.in_time:
        guard += ", too late"
    mark = "▲ " if one.harm >= _RUINS else "△ " if one.harm >= _HURTS else ""
    return [
        f"{mark}{one.name}", what,
        ("" if at_s is None else in_time(at_s), "" if at_s is None else at_s),
        (ends, "" if face_K is None else face_K),
        ("" if rise_K is None else f"{rise_K:+.1f} K".replace("-", "−"),
         "" if rise_K is None else rise_K),
        guard,
    ]  # fmt: skip


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


# How bad it is to pass a limit, as the answer counts it.
_RUINS, _HURTS = 4, 2


VIEW = View("faults", "faults", "What if something fails?", below="wiring", answer=answer,
            codes=("CW-FAULT",))  # fmt: skip
