"""`coldwright equations`: every law, with range, limit of error, source and check."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json
from coldwright.faces.cli.page import Page, wrapped

if TYPE_CHECKING:
    from coldwright.answers.equations import Equation, Equations


def equations(
    name: Annotated[
        str,
        typer.Argument(
            metavar="[NAME]", help="One equation, a group of them, or a word to look for.",
            show_default=False,
        ),
    ] = "",
    as_json: of.AsJson = False,
    plain: of.Plain = False,
) -> None:  # fmt: skip
    """What is it based on? Every equation, with range, limit of error, source and check."""
    with answering(as_json=as_json, plain=plain):
        from coldwright.answers import equations as answer

        found = answer.run(answer.Inputs(name))
        if not found.equations:
            fail(_unknown(found), Exit.WRONG_USE, as_json=as_json)
        if as_json:
            put_json(found.to_json())
        else:
            put_equations(found, plain=plain)


def put_equations(found: Equations, *, plain: bool = False) -> None:
    """Show the list of all laws, or in full those that were asked for."""
    page = Page(plain=plain)
    if found.asked:
        for at, one in enumerate(found.equations):
            if at:
                page.line()
                page.rule()
            _put_law(page, one)
    else:
        _put_list(page, found)
    page.show()


def _put_list(page: Page, found: Equations) -> None:
    from coldwright.faces.cli.sections import put_next

    groups = list(dict.fromkeys(one.group for one in found.equations))
    page.text(
        f"The answers rest on {len(found.equations)} equations, in {len(groups)} groups. Each "
        "names its range, its limit of error, its source, and what it was checked against.",
        style="strong", indent=0,
    )  # fmt: skip
    for group in groups:
        page.heading(group.replace("_", " ").capitalize())
        for one in found.equations:
            if one.group == group:
                page.line("  ", one.name)
                page.text(f"{one.sentence} Error: {_error(one)}.", style="soft", indent=6)
    put_next(
        page,
        [
            (f"coldwright equations {found.equations[0].name}", "one equation in full"),
            (f"coldwright equations {groups[0]}", "a group in full"),
            ("coldwright equations humidity", "all that mention a word"),
        ],
    )


def _put_law(page: Page, one: Equation) -> None:
    page.line((one.name, "strong"), (f"  {one.group}", "soft"))
    page.text(one.sentence)
    if one.why:
        page.line()
        page.text(one.why)
    page.line()
    for paragraph in one.notes.split("\n\n"):
        page.text(paragraph)
    width = max(len(parameter.name) for parameter in one.parameters)
    page.line()
    for text, names in _described(one).items():
        # Names that are described together stand under each other, beside the text they share.
        rows = zip_longest(names, wrapped(text, page.width - 6 - width), fillvalue="")
        for name, row in rows:
            page.line(f"  {name:<{width}}  {row}")
    page.text(one.returns, indent=4 + width, first=f"  {'gives':<{width}}  ")
    page.line()
    for word, said in (
        ("Error", _error(one)),
        ("Source", one.source),
        ("Checked", one.checked_against),
    ):
        page.text(said, indent=11, first=f"  {word:<9}")
    page.line()
    for row in one.example.splitlines():
        page.line(("  " + row, "soft"))


def _described(one: Equation) -> dict[str, list[str]]:
    names: dict[str, list[str]] = {}
    for parameter in one.parameters:
        names.setdefault(parameter.text, []).append(parameter.name)
    return names


def _error(one: Equation) -> str:
    return one.error.replace(" %", "\u2009%")


def _unknown(found: Equations) -> str:
    near = f" Was {' or '.join(found.nearest)} meant?" if found.nearest else ""
    return f"No equation is called “{found.asked}”, and none mentions it.{near}"
