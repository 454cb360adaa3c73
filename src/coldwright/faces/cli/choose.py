"""`coldwright choose`: what should I buy?"""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json
from coldwright.faces.cli.page import columns, joined, padded, shortened
from coldwright.faces.cli.search_bar import SearchBar

if TYPE_CHECKING:
    from coldwright.answers.choose import BeatenDesign, Candidate, Choose, FrontPoint
    from coldwright.faces.cli.page import Page

Parts = Annotated[
    str,
    typer.Option(
        "--parts", metavar="FILE", show_default=False,
        help="Your parts list (.toml or .csv); the typical parts of the library unless given.",
    ),
]  # fmt: skip
AimWord = Annotated[
    str,
    typer.Option(
        "--aim", metavar="AIM",
        help="What is best: coldest (unless given), net, cheapest, quietest or cop. The last three "
        "among designs that reach the goal.",
    ),
]  # fmt: skip
Most = Annotated[
    int,
    typer.Option(
        "--most", min=0, max=1_000_000_000, metavar="N", show_default=False,
        help="Most designs to solve. Unless given: all of up to two million, else 60000.",
    ),
]  # fmt: skip
Tries = Annotated[
    int,
    typer.Option(
        "--tries", min=0, max=20_000, metavar="N", callback=of.checked_tries,
        help="In how many tries the best designs are compared (100 to 20000, or 0 for none; 200 "
        "unless given).",
    ),
]  # fmt: skip
Resume = Annotated[bool, typer.Option("--resume", help="Go on where a stopped search ended.")]
StoreFile = Annotated[
    str,
    typer.Option(
        "--store", metavar="FILE", show_default=False,
        help="Where finished designs are kept; else in the sheet's folder until the search ends.",
    ),
]  # fmt: skip
Scheduler = Annotated[
    str,
    typer.Option(
        "--scheduler", metavar="ADDRESS", show_default=False,
        help="Solve on the workers of this scheduler, such as tcp://10.0.0.5:8786.",
    ),
]  # fmt: skip
OutFile = Annotated[
    str,
    typer.Option(
        "--out", metavar="FILE", show_default=False,
        help="Write every solved design into a new file (.csv or .parquet).",
    ),
]  # fmt: skip
WriteFolder = Annotated[
    str,
    typer.Option(
        "--write", metavar="FOLDER", show_default=False,
        help="Write the best design's sheet and bill of materials into a new folder.",
    ),
]  # fmt: skip
_TRIES = 200
_MANY_TRIES = 2000
# Kinds of part in the order of a bill, by what a person calls them.
_KINDS = {
    "module": "modules", "wiring": "wiring", "cold_sink": "cold sink", "hot_sink": "hot sink",
    "cold_fan": "cold fan", "hot_fan": "hot fan", "supply": "supply", "converter": "converter",
    "wire": "wire",
}  # fmt: skip
_TOLD_DIFFERENCES = 3


def choose(
    sheet: of.SheetPath,
    parts: Parts = "",
    aim: AimWord = "coldest",
    most: Most = 0,
    tries: Tries = _TRIES,
    seed: of.Seed = of.DEFAULT_SEED,
    no_intervals: of.NoIntervals = False,
    resume: Resume = False,
    store: StoreFile = "",
    scheduler: Scheduler = "",
    out: OutFile = "",
    write: WriteFolder = "",
    as_json: of.AsJson = False,
    plain: of.Plain = False,
) -> None:
    """What should I buy? The best designs from a parts list, with a bill of materials."""
    with answering(as_json=as_json, plain=plain):
        options = {
            "aim": aim.strip().lower(),
            "most": most or None,
            "tries": 0 if no_intervals else tries,
            "seed": seed,
            "resume": resume,
            "store": Path(store) if store else None,
            "scheduler": scheduler or None,
            "out": Path(out) if out else None,
            "write": Path(write) if write else None,
        }
        answer = _answer(sheet, parts, options, as_json)
        if as_json:
            put_json(answer.to_json())
        else:
            put_choose(answer, sheet, plain=plain)


def put_choose(answer: Choose, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, bill, the designs compared, the front, the beaten."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening, put_other_findings

    page = Page(plain=plain)
    put_opening(page, answer)
    if answer.best:
        _put_bill(page, answer, answer.best[0])
        _put_compared(page, answer)
    elif answer.nearest is not None:
        _put_nearest(page, answer)
    _put_front(page, answer)
    _put_beaten(page, answer)
    if answer.best:
        put_other_findings(page, answer.findings)
    if answer.written:
        steps = [
            (of.command_line("verdict", answer.written), "will this one do, and why"),
            (of.command_line("watts", answer.written), "where its watts go"),
        ]
    else:
        steps = [
            (of.command_line("changes", path), "what to change in the sheet's own design"),
            (of.command_line("parts", "sinks"), "the typical parts"),
        ]
        if answer.best:
            written = f"{of.command_line('choose', path)} --write FOLDER"
            steps[0] = (written, "the best design as a project of its own")
    put_next(page, steps)
    page.show()


def _put_bill(page: Page, answer: Choose, best: Candidate) -> None:
    money = answer.currency
    page.heading("What it is made of", f"prices in {money}; * stands in the sheet already")
    page.line()
    rows = []
    for line in best.bill:
        count = f"{line.count:g}{f' {line.unit}' if line.unit else ''}"
        rows.append(
            (
                count, line.what, f"{line.name}{' *' if line.own else ''}",
                _price(line.each) if line.count != 1 and line.each is not None else "",
                "" if line.what == "wire" and line.total is None else _price(line.total),
            )
        )  # fmt: skip
        if line.what == "modules":
            rows.append(("", "", best.parts["wiring"], "", ""))
    total = "not known" if best.price is None else _price(best.price)
    rows.append(("", "together", "", "", total))
    widths = [max(columns(row[at]) for row in rows) for at in range(5)]
    room = page.width - 2 - widths[0] - widths[1] - widths[3] - widths[4] - 8
    for row in rows:
        name = padded(shortened(row[2], room), min(widths[2], room))
        strong = "strong" if row[1] == "together" else ""
        page.line(
            f"  {padded(row[0], widths[0], right=True)}  ",
            (padded(row[1], widths[1]), strong or "soft"),
            f"  {name}  ",
            (padded(row[3], widths[3], right=True), "soft"),
            "  ",
            (padded(row[4], widths[4], right=True), strong),
        )


def _put_compared(page: Page, answer: Choose) -> None:
    """The best designs that differ in modules or sinks, side by side."""
    if len(answer.best) < 2:
        return
    note = ""
    if answer.tries:
        note = f"per 100 of {answer.tries:,} tries: best, within every limit"
    page.heading("The best and the next", note)
    page.line()
    head = ["", *_head(answer), "best", "within"]
    rows = []
    for at, one in enumerate(answer.best):
        figures = _figures(
            answer, _level(answer, one), _value(one, "net_cooling_W"),
            _value(one, "plug_power_W"), _value(one, "sound_dB"), one.price,
        )  # fmt: skip
        rows.append([str(at + 1), *figures, _of_100(one.best_share), _of_100(one.kept_share)])
    _put_table(page, head, rows)
    first = answer.best[0]
    page.line()
    page.text(f"{first.modules} x {first.parts['module']}, {first.parts['wiring']}; "
              f"{_sinks(first.parts)}", indent=5, first="  1  ")  # fmt: skip
    for at, one in enumerate(answer.best[1:], start=2):
        told = _different(one.parts, first.parts, one.modules, first.modules, most=9)
        page.text(f"as 1, but {told}", indent=5, first=f"  {at}  ")


def _put_nearest(page: Page, answer: Choose) -> None:
    nearest = answer.nearest
    assert nearest is not None
    page.heading("The nearest design")
    page.line()
    for kind, name in nearest["parts"].items():
        page.line("  ", (f"{_KINDS[kind]:<10}", "soft"), f"  {shortened(name, page.width - 14)}")


def _put_front(page: Page, answer: Choose) -> None:
    """A few designs of the front, from one end to the other."""
    if len(answer.front) < 2 or not answer.shown:
        return
    page.heading(
        "None of these is beaten in everything",
        f"{len(answer.shown)} of {len(answer.front):,} on the front",
    )
    page.line()
    head = ["", *_head(answer), "modules"]
    rows = []
    for letter, at in zip(_LETTERS, answer.shown, strict=False):
        one = answer.front[at]
        level = None if _by_net(answer) else one.level_K
        figures = _figures(answer, level, one.net_W, one.plug_W, one.sound_dB, one.price)
        rows.append([letter, *figures, _modules(one)])
    _put_table(page, head, rows, last_left=True)


def _put_beaten(page: Page, answer: Choose) -> None:
    if not answer.beaten:
        return
    page.heading("Why not another one")
    letters = dict(zip(answer.shown, _LETTERS, strict=False))
    for each in answer.beaten:
        page.line()
        by = each.beaten.by
        page.text(f"{_capital(_beaten_name(answer, each))}:", indent=4, first="  · ")
        reason = each.reason
        if by is not None:
            ahead = reason.partition(" is ")[2]
            reason = f"{_winner(answer.front[by], each, letters.get(by, ''))} is {ahead}"
        page.text(f"{reason}.", indent=4, first="    ")


def _winner(one: FrontPoint, each: BeatenDesign, letter: str) -> str:
    """The design that beats another: its letter, or in what it differs."""
    if letter:
        return letter
    told = _different(one.parts, each.parts, None, None, most=9)
    if told.count(",") + told.count(" and ") < _TOLD_DIFFERENCES:
        return f"the same with {told}"
    return _modules(one).strip()


def _beaten_name(answer: Choose, each: BeatenDesign) -> str:
    best = answer.best[0]
    count = each.parts["wiring"]
    told = _different(each.parts, best.parts, None, None, most=_TOLD_DIFFERENCES)
    return told or f"the same parts, {count}"


def _different(
    parts: dict[str, str],
    others: dict[str, str],
    count: int | None,
    other_count: int | None,
    *,
    most: int,
) -> str:
    """In what a design differs from another, the weightiest first."""
    told = []
    for kind, what in _KINDS.items():
        if parts[kind] == others[kind]:
            continue
        if kind == "wiring":
            told.append(parts[kind])
        elif kind == "module":
            told.append(f"{parts[kind]}")
        elif parts[kind] == "none":
            told.append(f"no {what}")
        else:
            told.append(f"{what} {parts[kind]}")
    if count is not None and count != other_count and parts["module"] != others["module"]:
        told[0] = f"{count} x {told[0]}"
    if len(told) > most:
        left = len(told) - most + 1
        told = [*told[: most - 1], f"{left} other parts"]
    return joined(told)


_LETTERS = "ABCDEFGHIJ"


def _head(answer: Choose) -> list[str]:
    level = ["net, W"] if _by_net(answer) else ["°C"]
    return [*level, "plug, W", "dB", answer.currency or "price"]


def _by_net(answer: Choose) -> bool:
    own = answer.best[0].figures if answer.best else answer.own
    return answer.aim == "net" or ("place_air_K" not in own and not _is_plate(answer))


def _is_plate(answer: Choose) -> bool:
    return bool(answer.front) and answer.front[0].parts["cold_sink"] == "the plate"


def _level(answer: Choose, one: Candidate) -> float | None:
    name = "place_air_K" if "place_air_K" in one.figures else "cold_sink_K"
    return None if _by_net(answer) else _value(one, name)


def _figures(
    answer: Choose,
    level_K: float | None,
    net_W: float | None,
    plug_W: float | None,
    sound_dB: float | None,
    price: float | None,
) -> list[str]:
    from coldwright.report.figures import plain

    first = _celsius(level_K)
    if _by_net(answer):
        first = "?" if net_W is None else plain(net_W, 1)
    return [
        first,
        "?" if plug_W is None else plain(plug_W, 0 if plug_W >= 99.5 else 1),
        "?" if sound_dB is None else plain(sound_dB, 1),
        "?" if price is None else _price(price),
    ]


def _celsius(level_K: float | None) -> str:
    from coldwright.report.figures import plain

    return "?" if level_K is None else plain(level_K - 273.15, 1)


def _put_table(
    page: Page, head: list[str], rows: list[list[str]], *, last_left: bool = False
) -> None:
    widths = [max(columns(row[at]) for row in (head, *rows)) for at in range(len(head))]
    last = len(head) - 1
    for number, row in enumerate((head, *rows)):
        cells = []
        for at, cell in enumerate(row):
            left = at == 0 or (last_left and at == last)
            if left and at == last:
                room = page.width - 2 - sum(widths[:last]) - 2 * last
                cells.append(shortened(cell, max(room, 8)))
            else:
                cells.append(padded(cell, widths[at], right=not left))
        page.line("  ", ("  ".join(cells), "soft" if number == 0 else ""))


def _modules(one: FrontPoint) -> str:
    name = one.parts["module"].removeprefix("typical ")
    return f"{one.modules:>2} x {name}, {one.drive_V:g} V"


def _sinks(parts: dict[str, str]) -> str:
    if parts["cold_sink"] == parts["hot_sink"]:
        return f"{parts['cold_sink']} on both sides"
    return f"cold sink {parts['cold_sink']}, hot sink {parts['hot_sink']}"


def _value(one: Candidate, name: str) -> float | None:
    held = one.figures.get(name)
    return None if held is None else held.value


def _price(price: float | None) -> str:
    if price is None:
        return "?"
    return f"{price:.0f}" if abs(price - round(price)) < 0.005 else f"{price:.2f}"


def _of_100(share: float | None) -> str:
    return "" if share is None else f"{100.0 * share:.0f}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _answer(path: str, parts: str, options: dict[str, Any], as_json: bool) -> Choose:
    from coldwright.faces.cli.waiting import COMPILING
    from coldwright.sheet.file import read

    design = read(path)
    listed = None
    if parts:
        from coldwright.sheet.parts_file import read_parts

        listed = read_parts(parts)
    from coldwright.answers.warm import is_warm

    bar = SearchBar()
    from coldwright.answers import choose as answer

    if not is_warm():
        bar.say(COMPILING)
    try:
        with bar.watching() as stop:
            return answer.run(
                answer.Inputs(design, listed, **options), report=bar.report, stop=stop
            )
    except answer.Stopped as stopped:
        kept = (
            f" What is finished is kept in {stopped.file}: go on with --resume."
            if stopped.file
            else ""
        )
        fail(f"{stopped}{kept}", Exit.INTERRUPTED, as_json=as_json)
    except answer.SearchError as error:
        fail(str(error), Exit.WRONG_USE, as_json=as_json)
