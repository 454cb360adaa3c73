"""How do I power and wire it? Currents, drops, wires, fuses, and where every loss lands."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.wiring import Inputs, Wiring, run
from coldwright.answers.wiring_runs import Run
from coldwright.faces.pages.markup import bars, findings, opening, table, text
from coldwright.faces.pages.views.view import Progress, View
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Sheet

_RUNS = [
    ("to", "text"), ("length", "number"), ("size", "text"), ("current", "number"),
    ("may carry", "number"), ("drop", "number"), ("heat", "number"), ("fuse", "text"),
    ("sizes that protect it", "text"), ("colours", "text"), ("labels", "text"),
]  # fmt: skip
_CUTS = [
    ("size", "text"), ("kind", "text"), ("colour", "text"), ("label", "text"),
    ("length", "number"), ("pieces", "number"),
]  # fmt: skip
_CAUTION = (
    "Mains can kill. What carries it is bought finished, or made and tested by a licensed person; "
    "local codes decide. Pull the plug, and wait for the capacitors, before anything is touched."
)


def answer(
    sheet: Sheet, _options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """The power chain."""
    progress("Following the power chain …")
    found = run(Inputs(sheet))
    return _markup(found), found.to_json()


def _markup(found: Wiring) -> str:
    parts = [
        opening(found.headline, found.reasons),
        f'<p class="caution"><span aria-hidden="true">▲</span> {_CAUTION}</p>',
    ]
    if found.runs:
        parts += [
            '<section class="card"><h2>The wires</h2>',
            table(_RUNS, [_run(each) for each in found.runs], caption="Every run of wire"),
            "</section>",
        ]
    heat = [(f"{each.part}, {each.located}", each.W) for each in found.heat]
    parts += ['<div class="columns"><section><h2>Where the losses land</h2>', bars(heat),
              "</section>"]  # fmt: skip
    if found.cuts:
        cuts = [
            [cut.size, cut.strands, cut.colour, cut.label, (f"{cut.length_m:.2f} m", cut.length_m),
             str(cut.pieces)]
            for cut in found.cuts
        ]  # fmt: skip
        parts += ["<section><h2>To cut</h2>", table(_CUTS, cuts, caption="Cutting list"),
                  "</section>"]  # fmt: skip
    parts.append("</div>")
    notes = "".join(
        f"<li>{text(each.plus)} and {text(each.minus)}: {text(each.standard)}. "
        f"{text(each.note)}</li>"
        for each in found.colours
    )
    if notes:
        parts.append(f"<section><h2>Colours</h2><ul>{notes}</ul></section>")
    parts += ["<section><h2>Findings</h2>", findings(found.findings, empty="Nothing found."),
              "</section>"]  # fmt: skip
    return "".join(parts)


def _run(run_: Run) -> list[Any]:
    allowed = "not known" if run_.allowed_A is None else display("current", run_.allowed_A)
    fuse = "none" if run_.fuse_A is None else f"{run_.fuse_A:g} A, {run_.fuse_standard or 'blade'}"
    sizes = ", ".join(f"{size:g} A" for size in run_.fuse_sizes_A) or "none"
    return [
        run_.feeds, (f"{run_.length_m:g} m", run_.length_m), run_.size,
        (display("current", run_.running_A), run_.running_A), (allowed, run_.allowed_A or ""),
        (f"{100 * run_.drop_share:.1f} %", run_.drop_share),
        (display("power", run_.heat_W), run_.heat_W), fuse, sizes,
        f"{run_.plus} / {run_.minus}", f"{run_.label_plus} / {run_.label_minus}",
    ]  # fmt: skip


VIEW = View(
    "wiring", "wiring", "How do I power and wire it?", answer=answer,
    codes=("CW-POWER", "CW-WIRE", "CW-FUSE", "CW-SWITCH", "CW-DRIVE", "CW-NET", "CW-MAINS"),
)  # fmt: skip
