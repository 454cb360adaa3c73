"""What should I change? Each change solved anew, ranked by what it gains."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from coldwright.answers.change_sentences import gain_words, price_words, signed_W
from coldwright.answers.changes import Changes, Inputs, Option, run
from coldwright.faces.pages.markup import findings, opening, table, text
from coldwright.faces.pages.views.view import Progress, View
from coldwright.sheet.models import Sheet

_HEAD = [
    ("change", "text"), ("gain", "number"), ("net", "number"), ("from the plug", "number"),
    ("price", "number"), ("gain for each watt", "number"), ("best in 100 tries", "number"),
    ("then", "text"),
]  # fmt: skip


def answer(
    sheet: Sheet, _options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """What helps this design most."""
    progress("Solving the design with each change made …")
    found = run(Inputs(sheet))
    return _markup(found, sheet), found.to_json()


def _markup(found: Changes, sheet: Sheet) -> str:
    parts = [opening(found.headline, found.reasons)]
    if found.options:
        parts += [
            '<section class="card">',
            table(
                _HEAD, [_row(option, sheet) for option in found.options],
                caption="Changes that help, best first",
            ),
            "</section>",
        ]  # fmt: skip
    for heading, options in (
        ("One by one", found.options),
        ("Made together, solved anew", [each for each in (found.pair, found.triple) if each]),
        ("They help, but break a limit", found.over_limit),
        ("For something smaller than the place", found.smaller),
    ):
        if options:
            parts.append(f"<section><h2>{heading}</h2>")
            parts += [_full(option) for option in options]
            parts.append("</section>")
    if found.no_help:
        names = ", ".join(name for name, _ in found.no_help)
        parts.append(f'<p class="soft">These do not help here: {text(names)}.</p>')
    parts += ["<section><h2>Findings</h2>", findings(found.findings, empty="Nothing found."),
              "</section>"]  # fmt: skip
    return "".join(parts)


def _row(option: Option, sheet: Sheet) -> list[Any]:
    kelvin = None if option.gain_K is None else option.gain_K.value
    watts = None if option.gain_W is None else option.gain_W.value
    share = option.best_share
    per = option.gain_per_W
    return [
        " + ".join(option.names),
        (gain_words(option), watts if kelvin is None else kelvin),
        (signed_W(watts), watts),
        (signed_W(option.plug_W.value), option.plug_W.value),
        (price_words(option.price, sheet), "" if option.price is None else option.price),
        ("takes no more" if per is None else f"{per:.2g}", "" if per is None else per),
        ("" if share is None else f"{100 * share:.0f}", "" if share is None else share),
        option.verdict or "",
    ]


def _full(option: Option) -> str:
    """One change: what to do, what it asks, and a button that writes it into the sheet."""
    lines = [f"<p><b>{text(option.sentence)}</b></p>"]
    lines += [f"<p>{text(why)}</p>" for why in option.why]
    lines += [f"<p>Needs: {text(asks)}</p>" for asks in option.asks if asks]
    lines += [f'<p class="soft">Besides: {text("; ".join(option.effects))}.</p>'] * bool(
        option.effects
    )
    edits = json.dumps(option.edits)
    keys = "".join(
        f"<li><code>{text(key)} = {text(_written(value))}</code></li>"
        for key, value in option.edits.items()
    )
    return (
        f'<article class="change card" data-edits="{text(edits)}">{"".join(lines)}'
        f'<details><summary>What it writes</summary><ul class="keys">{keys}</ul></details>'
        '<p><button type="button" data-act="try">Before and after</button> '
        '<button type="button" data-act="write">Write it into the sheet</button> '
        '<span class="small soft" role="status"></span></p><div class="before-after"></div>'
        "</article>"
    )


def _written(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


VIEW = View("changes", "changes", "What should I change?", answer=answer)
