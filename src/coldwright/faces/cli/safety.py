"""`coldwright safety`: what can hurt, a check list to sign, and what a licensed person does."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json

if TYPE_CHECKING:
    from collections.abc import Sequence

    from coldwright.answers.safety import Caution, Safety, Step
    from coldwright.faces.cli.page import Page

List = Annotated[
    Path | None,
    typer.Option(
        "--list", metavar="FILE.md",
        help="Write the check list to a new Markdown file, with boxes and lines to sign.",
    ),
]  # fmt: skip
Print = Annotated[
    bool, typer.Option("--print", help="Only the check list, as plain text for a printer.")
]
Sign = Annotated[
    list[str] | None,
    typer.Option(
        "--sign", metavar="ITEM",
        help="Sign off a step, by its code, in safety.toml beside the sheet; may be repeated. "
        "When the design changes it is asked again.",
        show_default=False,
    ),
]  # fmt: skip
By = Annotated[
    str | None,
    typer.Option("--by", metavar="NAME", help="Who signs; needed with --sign.", show_default=False),
]


def safety(
    sheet: of.SheetPath,
    as_json: of.AsJson = False,
    list_file: List = None,
    as_print: Print = False,
    sign: Sign = None,
    by: By = None,
    plain: of.Plain = False,
) -> None:
    """How do I build and run it without harm? Cautions, a check list, and what others must do."""
    with answering(as_json=as_json, plain=plain):
        if bool(sign) != (by is not None):
            fail(
                "--sign names the step and --by who signs it: give both.",
                Exit.WRONG_USE, as_json=as_json,
            )  # fmt: skip
        if list_file is not None:
            from coldwright.report.check_list import check_page

            check_page(list_file)
        answer = _answer(sheet, sign or [], by or "")
        if list_file is not None:
            from coldwright.report.check_list import write_check_list

            write_check_list(answer, list_file)
        if as_json:
            put_json(answer.to_json())
        elif as_print:
            put_check_list(answer)
        else:
            put_safety(answer, sheet, plain=plain, signed=sign or [])


def put_safety(
    answer: Safety, path: str, *, plain: bool = False, signed: Sequence[str] = ()
) -> None:
    """Show the answer: sentence, cautions, check list, what a licensed person does, next step."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next

    page = Page(plain=plain)
    if answer.title:
        page.line((answer.title, "soft"))
        page.line()
    page.text(answer.headline, style="strong", indent=0)
    page.text(answer.defers, indent=0)
    if signed:
        page.line()
        page.text(f"Signed: {', '.join(signed)}, in {answer.signed_file}.", indent=0)
    for remark in answer.remarks:
        page.line()
        page.text(remark, style="hot", indent=2, first="△ ")
    _put_cautions(page, answer.cautions)
    _put_steps(page, answer)
    first = next((step.code for step in answer.steps if step.status != "signed"), "")
    command = of.command_line("safety", path)
    steps = [
        (f"{command} --print", "the list on paper"),
        (of.command_line("verdict", path), "will it do, and why"),
    ]
    if first:
        steps.insert(0, (f'{command} --sign {first} --by "Your Name"', "sign a step off"))
    put_next(page, steps)
    page.show()


def put_check_list(answer: Safety) -> None:
    """Only the list, with boxes and lines to sign, for paper."""
    from coldwright.faces.cli.page import Page

    page = Page(plain=True)
    page.text(f"Safety check list: {answer.title or answer.file}", indent=0)
    page.text(f"{answer.defers} State of the design: {answer.state}", indent=0)
    for remark in answer.remarks:
        page.text(remark, indent=0)
    _put_cautions(page, answer.cautions)
    _put_steps(page, answer, on_paper=True)
    page.show()


def _put_cautions(page: Page, cautions: Sequence[Caution]) -> None:
    """The findings, worst first, each with where it comes from."""
    from coldwright.faces.cli.findings import put_findings, summary

    if not cautions:
        return
    page.heading("What to mind in this design", summary([one.finding for one in cautions]))
    page.line()
    for one in cautions:
        put_findings(page, [one.finding])
        page.text(f"Source: {one.source}", style="soft", indent=4)


def _put_steps(page: Page, answer: Safety, *, on_paper: bool = False) -> None:
    for stage, steps in groupby(answer.steps, key=lambda step: step.stage):
        page.heading(stage)
        page.line()
        for step in steps:
            _put_step(page, step, on_paper)
    page.heading("Only a licensed person may do or test this")
    page.line()
    for step in answer.licensed:
        _put_step(page, step, on_paper)


_HABIT = "common practice"
_BOXES = {"signed": "[x]", "open": "[ ]", "design changed": "[?]"}


def _put_step(page: Page, step: Step, on_paper: bool) -> None:
    page.text(step.text, indent=6, first=f"  {_BOXES[step.status]} ")
    page.text(step.why, style="soft", indent=6)
    if step.source != _HABIT:
        page.text(f"Source: {step.source}", style="soft", indent=6)
    said = {
        "open": "",
        "signed": f"signed by {step.by}, {step.on[:10]}",
        "design changed": f"the design changed since {step.by} signed it, {step.on[:10]}",
    }[step.status]
    page.text(" · ".join(part for part in (step.code, said) if part), style="link", indent=6)
    if on_paper and step.status != "signed":
        page.line("      Name ____________________________   Date ______________")
        page.line()


def _answer(path: str, signed: Sequence[str], by: str) -> Safety:
    from coldwright.faces.cli.waiting import computing
    from coldwright.sheet.file import read

    design = read(path)
    with computing("Trying every safety rule ..."):
        from coldwright.answers import safety as answer

        if signed:
            answer.sign(design, signed, by)
        return answer.run(answer.Inputs(design))
