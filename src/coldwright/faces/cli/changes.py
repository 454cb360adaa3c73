"""`coldwright changes`: what should I change?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import answering, put_json
from coldwright.faces.cli.page import columns, padded

if TYPE_CHECKING:
    from coldwright.answers.changes import Changes, Option
    from coldwright.answers.value import Value
    from coldwright.faces.cli.page import Page

Tries = Annotated[
    int,
    typer.Option(
        "--tries", min=0, max=20_000, metavar="N", callback=of.checked_tries,
        help="How many tries the intervals come from (100 to 20000, or 0 for no intervals; 200 "
        "unless given): in each, the sheet's values vary within their tolerances.",
    ),
]  # fmt: skip
_TRIES = 200
_MANY_TRIES = 1000
# So many changes are told with what they ask and what to write into the sheet.
_IN_FULL = 3


def changes(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    tries: Tries = _TRIES,
    seed: of.Seed = of.DEFAULT_SEED,
    no_intervals: of.NoIntervals = False,
    plain: of.Plain = False,
) -> None:
    """What should I change? Changes to this design, each solved anew, ranked by what it gains."""
    with answering(as_json=as_json, plain=plain):
        answer = _answer(sheet, 0 if no_intervals else tries, seed)
        if as_json:
            put_json(answer.to_json())
        else:
            put_changes(answer, sheet, plain=plain)


def put_changes(answer: Changes, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, reasons, a table, the first in full, what is best together."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next, put_opening

    page = Page(plain=plain)
    put_opening(page, answer)
    _put_table(page, answer)
    for option in answer.options[:_IN_FULL]:
        page.heading(_capital(option.names[0]), f"then: {option.verdict}" if option.verdict else "")
        _put_full(page, option)
    together = [each for each in (answer.pair, answer.triple) if each is not None]
    if together:
        page.heading("Made together", "solved anew, not added up")
        for option in together:
            page.line()
            _put_brief(page, option)
    for heading, options in (
        ("These help, but not within the limits", answer.over_limit),
        ("If something smaller will do", answer.smaller),
    ):
        if options:
            page.heading(heading)
            for option in options:
                page.line()
                _put_brief(page, option)
    _put_rest(page, answer)
    put_next(
        page,
        [
            (of.command_line("verdict", path), "will it do, and why"),
            (of.command_line("watts", path), "where every watt goes"),
        ],
    )
    page.show()


def _put_table(page: Page, answer: Changes) -> None:
    """One row for each change that helps."""
    if not answer.options:
        return
    in_open_air = answer.options[0].gain_K is None
    head = (
        "",
        "gain W" if in_open_air else "gain K",
        "",
        "net, W",
        "plug, W",
        "price",
        "then",
    )
    rows = [_row(option, in_open_air) for option in answer.options]
    shown = [at for at in range(len(head)) if any(row[at] for row in rows)]
    if in_open_air:
        shown.remove(head.index("net, W"))
    widths = {at: max(columns(row[at]) for row in (head, *rows)) for at in shown}
    note = f"of {answer.seen} designs solved"
    if answer.tries:
        note += f"; between: the middle 90\u2009% of {answer.tries:,} tries"
    page.heading("One change at a time", note)
    page.line()
    for number, row in enumerate((head, *rows)):
        cells = [padded(row[at], widths[at], right=0 < at < len(head) - 1) for at in shown]
        name, figures = cells[0], "  ".join(cells[1:])
        page.line(f"  {name}  ", (figures, "soft" if number == 0 else "strong"))
    if any(option.price is None for option in answer.options):
        page.line(("  ? price not known", "soft"))


def _row(option: Option, in_open_air: bool) -> tuple[str, ...]:
    gained = option.gain_W if in_open_air else option.gain_K
    digits = _digits(gained)
    return (
        option.names[0],
        _number(gained.value if gained else None, digits),
        _span(gained, digits),
        "" if option.gain_W is None else _watts(option.gain_W.value),
        _watts(option.plug_W.value),
        "?" if option.price is None else f"{option.price:.4g}",
        option.verdict or "",
    )


def _put_full(page: Page, option: Option) -> None:
    _put_brief(page, option)
    page.text(option.why[0], indent=6, first="      ")
    for key, value in option.edits.items():
        page.text(f"{key} = {written(value)}", style="soft", indent=8, first="      ")


def _put_brief(page: Page, option: Option) -> None:
    page.text(option.sentence, indent=4, first="  · ")
    if len(option.names) > 1 and option.verdict is not None:
        page.text(f"Then: {option.verdict}.", indent=6, first="      ")
    if option.asks:
        needs = "; ".join(dict.fromkeys(option.asks))
        page.text(f"Needs: {needs}.", indent=6, first="      ")
    if option.effects:
        page.text(f"Besides: {'; '.join(option.effects)}.", indent=6, first="      ")


def _put_rest(page: Page, answer: Changes) -> None:
    """What does not help here, and what cannot be done."""
    nothing = [name for name, gain in answer.no_help if abs(gain) < _HARDLY]
    worse = [(name, gain) for name, gain in answer.no_help if gain <= -_HARDLY]
    some = [(name, gain) for name, gain in answer.no_help if gain >= _HARDLY]
    if answer.no_help:
        page.heading("These do not help here")
        page.line()
    unit = "W" if answer.options and answer.options[0].gain_K is None else "K"
    word = "less" if unit == "W" else "warmer"
    if worse:
        told = (
            f"{name} ({_number(-gain, 1 if -gain >= 0.95 else 2)}\u2009{unit} {word})"
            for name, gain in worse
        )
        page.text(f"Worse: {', '.join(told)}.", indent=4, first="  · ")
    hardly = [*(name for name, _ in some), *nothing]
    if hardly:
        page.text(f"Hardly any difference: {', '.join(hardly)}.", indent=4, first="  · ")
    for name, reason in answer.refused:
        page.text(f"Cannot be: {name}. {reason}", indent=4, first="  · ")


_HARDLY = 0.05


def written(value: Any) -> str:
    """A new value as it stands in a sheet; None for a key to be left out."""
    if value is None:
        return "(left out)"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        inner = ", ".join(f"{key} = {written(held)}" for key, held in value.items())
        return f"{{ {inner} }}"
    if isinstance(value, Sequence):
        return f"[{', '.join(written(held) for held in value)}]"
    return f"{value}"


def _digits(value: Value | None) -> int:
    number = abs(value.value or 0.0) if value is not None else 0.0
    return 0 if number >= 9.95 else 1 if number >= 0.95 else 2


def _number(number: float | None, digits: int) -> str:
    from coldwright.report.figures import plain

    return "not known" if number is None else plain(number, digits)


def _span(value: Value | None, digits: int) -> str:
    if value is None or value.low is None or value.high is None:
        return ""
    return f"{_number(value.low, digits)}–{_number(value.high, digits)}"


def _watts(number: float | None) -> str:
    shown = _number(number, 0 if abs(number or 0.0) >= 9.95 else 1)
    nought = not shown.strip("0.")
    return "0" if nought else f"{'+' if (number or 0.0) > 0.0 else ''}{shown}"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _answer(path: str, tries: int, seed: int) -> Changes:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    from coldwright.answers import changes as answer

    with computing("Trying out the changes ...", many=tries >= _MANY_TRIES):
        return answer.run(answer.Inputs(design, tries, seed))
