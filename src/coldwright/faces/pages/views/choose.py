"""What should I buy? The best designs from the typical parts."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from coldwright.answers.choice.told import Candidate, FrontPoint
from coldwright.answers.choose import Choose, Inputs, run
from coldwright.faces.pages.markup import findings, opening, table, text
from coldwright.faces.pages.views.view import Progress, View
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Sheet

AIMS = {
    "coldest": "the coldest place",
    "net": "the most net cooling",
    "cheapest": "the cheapest that reaches the goal",
    "quietest": "the quietest that reaches the goal",
    "cop": "the least electricity that reaches the goal",
}
MOST = ("2000", "20000", "60000", "500000")


def answer(
    sheet: Sheet, options: Mapping[str, str], progress: Progress
) -> tuple[str, dict[str, Any]]:
    """A search over the parts."""
    aim = options.get("aim", "coldest")
    wanted = options.get("most", MOST[0])

    def report(done: int, of: int, said: str) -> None:
        progress(f"{said} {done:,} of {of:,} designs", min(1.0, done / of) if of else None)

    with TemporaryDirectory() as folder:
        store = Path(folder) / "search.sqlite"
        inputs = Inputs(
            sheet, aim=aim if aim in AIMS else "coldest",
            most=int(wanted if wanted in MOST else MOST[0]), store=store,
        )  # fmt: skip
        found = run(inputs, report)
    return _markup(found), found.to_json()


def _markup(found: Choose) -> str:
    parts = [opening(found.headline, found.reasons)]
    if found.best:
        parts += [_bill(found, found.best[0]), _compared(found)]
    if len(found.front) > 1:
        parts += ["<section><h2>None of these is beaten in everything</h2>", _front(found),
                  "</section>"]  # fmt: skip
    if found.beaten:
        lines = "".join(f"<li>{text(each.reason)}</li>" for each in found.beaten)
        parts.append(f"<section><h2>Why not another one</h2><ul>{lines}</ul></section>")
    parts += ["<section><h2>Findings</h2>", findings(found.findings, empty="Nothing found."),
              "</section>"]  # fmt: skip
    return "".join(parts)


def _bill(found: Choose, best: Candidate) -> str:
    rows = [
        [line.what, f"{line.count:g}{f' {line.unit}' if line.unit else ''}",
         f"{line.name}{' (in the sheet already)' if line.own else ''}",
         _price(line.each), _price(line.total)]
        for line in best.bill
    ]  # fmt: skip
    rows.append(["together", "", "", ("", ""), _price(best.price)])
    money = found.currency
    head = [("part", "text"), ("count", "number"), ("name", "text"),
            (f"each, {money}", "number"), (f"in all, {money}", "number")]  # fmt: skip
    made = table(head, rows, caption="Bill of materials")
    return f'<section class="card"><h2>What it is made of</h2>{made}</section>'


def _compared(found: Choose) -> str:
    if len(found.best) < 2:
        return ""
    head = [("design", "text"), *_FIGURES, ("best in 100 tries", "number"),
            ("keeps every limit", "number")]  # fmt: skip
    rows = []
    for at, one in enumerate(found.best):
        level = one.figures.get("place_air_K") or one.figures.get("cold_sink_K")
        numbers = [
            None if level is None else level.value,
            *(one.figures[name].value if name in one.figures else None
              for name in ("net_cooling_W", "plug_power_W", "sound_dB")),
        ]  # fmt: skip
        rows.append(
            [f"{at + 1}: {one.modules} x {one.parts['module']}, {one.parts['wiring']}",
             *_figures(numbers, one.price), _share(one.best_share), _share(one.kept_share)]
        )  # fmt: skip
    made = table(head, rows, caption="The best designs side by side")
    return f"<section><h2>The best and the next</h2>{made}</section>"


def _front(found: Choose) -> str:
    head = [("modules", "text"), *_FIGURES, ("hot sink", "text"), ("cold sink", "text")]
    rows = [_of_front(one) for one in found.front[:200]]
    return table(head, rows, caption="Designs that no other one beats in everything")


def _of_front(one: FrontPoint) -> list[Any]:
    numbers = [one.level_K, one.net_W, one.plug_W, one.sound_dB]
    return [
        f"{one.modules} x {one.parts['module']}", *_figures(numbers, one.price),
        one.parts.get("hot_sink", ""), one.parts.get("cold_sink", ""),
    ]  # fmt: skip


_FIGURES = [
    ("gets to", "number"), ("net", "number"), ("from the plug", "number"), ("noise", "number"),
    ("price", "number"),
]  # fmt: skip
_NAMES = ("place_air_K", "net_cooling_W", "plug_power_W", "sound_dB")


def _figures(numbers: list[float | None], price: float | None) -> list[Any]:
    shown: list[Any] = [
        ("not known" if number is None else display(name, number), "" if number is None else number)
        for name, number in zip(_NAMES, numbers, strict=True)
    ]
    return [*shown, _price(price)]


def _price(price: float | None) -> tuple[str, Any]:
    return ("not known", "") if price is None else (f"{price:.2f}", price)


def _share(share: float | None) -> tuple[str, Any]:
    return ("", "") if share is None else (f"{100 * share:.0f} of 100", share)


VIEW = View(
    "choose", "choose", "What should I buy?", below="changes", answer=answer,
    options={"aim": "coldest", "most": MOST[0]},
)  # fmt: skip
