"""`coldwright check`: what a design sheet lacks, and what is assumed for it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json

if TYPE_CHECKING:
    from coldwright.answers.check import Check
    from coldwright.faces.cli.page import Page


def check(
    sheet: Annotated[
        str | None,
        typer.Argument(
            metavar="SHEET",
            help="The design sheet, or the project folder that holds it.",
            show_default=False,
        ),
    ] = None,
    as_json: of.AsJson = False,
    schema: Annotated[
        bool,
        typer.Option(
            "--schema",
            help="Print the JSON Schema of the design sheet, for editors that check and complete "
            "while one types. Needs no sheet.",
        ),
    ] = False,
    plain: of.Plain = False,
) -> None:
    """What does the sheet lack? Faults, gaps, slips of a unit, cautions, and what is assumed."""
    with answering(as_json=as_json, plain=plain):
        from coldwright.answers import check as answer

        if schema:
            put_json(answer.schema())
            return
        if sheet is None:
            fail("Name the design sheet that is to be checked.", Exit.WRONG_USE, as_json=as_json)
        found = answer.run(answer.Inputs(sheet))
        if as_json:
            failed = {"error": _UNREADABLE, "exit_code": int(Exit.BAD_SHEET)}
            put_json({**({} if found.reads else failed), **found.to_json()})
        else:
            put_check(found, sheet, plain=plain)
        if not found.reads:
            raise typer.Exit(Exit.BAD_SHEET)
        if found.stops:
            raise typer.Exit(Exit.STOPPED)


def put_check(found: Check, path: str, *, plain: bool = False) -> None:
    """Show the answer: sentence, findings, what is assumed, next step."""
    from coldwright.faces.cli.findings import put_findings
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next

    page = Page(plain=plain)
    if found.title:
        page.line((found.title, "soft"))
        page.line()
    page.text(_sentence(found), style="strong", indent=0)
    if found.findings:
        page.line()
        put_findings(page, found.findings, words=found.reads)
    if found.assumptions:
        page.heading("Assumed", "because the sheet does not say")
        _put_assumed(page, found.assumptions)
    if found.stops:
        put_next(page, [(of.command_line("check", path), "once more, when that is mended")])
    else:
        put_next(
            page,
            [
                (of.command_line("verdict", path), "will it do, and why"),
                (of.command_line("watts", path), "where every watt goes"),
            ],
        )
    page.show()


_UNREADABLE = "The sheet cannot be used."


def _sentence(found: Check) -> str:
    from coldwright.faces.cli.findings import counted, summary

    name = Path(found.file).name
    if not found.reads:
        stops = sum(one.severity == "stop" for one in found.findings)
        return f"{name} cannot be used: {counted(stops, 'fault')}."
    if found.stops:
        return f"{name} reads, but allows no answer yet: {summary(found.findings)}."
    if found.findings:
        return f"{name} is in order, with {summary(found.findings)}."
    return f"{name} is in order: {counted(found.given, 'value')} given, nothing to remark."


def _put_assumed(page: Page, assumed: dict[str, str]) -> None:
    from coldwright.faces.cli.page import columns, padded, shortened

    width = min(max(columns(path) for path in assumed), page.width - 26)
    for path, text in assumed.items():
        room = page.width - width - 4
        page.line(f"  {padded(shortened(path, width), width)}  ", (shortened(text, room), "soft"))
