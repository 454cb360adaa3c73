"""The modules' printed ratings beside what they do here, and what is no cooling at all."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from coldwright.faces.cli.page import Page, columns, padded
from coldwright.quantities.glossary import display

if TYPE_CHECKING:
    from coldwright.answers.ratings_panel import RatingRow

_HEAD = ("", "rated", "here")


def put_ratings(page: Page, ratings: Sequence[RatingRow], not_cooling: Sequence[str]) -> None:
    """One row for each rating with its remark below it; then what is not to be taken for it."""
    if ratings:
        page.heading("What the modules are rated, and what they do here")
        page.line()
        several = len({row.group for row in ratings}) > 1
        names = [f"{row.group}: {row.what}" if several else row.what for row in ratings]
        rows = [
            (_capital(name), display(row.unit, row.rated), display(row.unit, row.here))
            for name, row in zip(names, ratings, strict=True)
        ]
        widths = [max(columns(line[at]) for line in (_HEAD, *rows)) for at in range(3)]
        _put_row(page, _HEAD, widths, head=True)
        for line, row in zip(rows, ratings, strict=True):
            _put_row(page, line, widths)
            if row.remark:
                page.text(f"{row.remark}.", style="soft", indent=6, first="      ")
    if not_cooling:
        page.heading("Not to be taken for the cooling")
        page.line()
        for sentence in not_cooling:
            page.text(sentence, indent=4, first="  △ ")


def _put_row(
    page: Page, row: tuple[str, str, str], widths: Sequence[int], *, head: bool = False
) -> None:
    name, rated, here = (padded(cell, widths[at], right=at > 0) for at, cell in enumerate(row))
    page.line(f"  {name}  ", (f"{rated}  ", "soft"), (here, "soft" if head else "strong"))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
