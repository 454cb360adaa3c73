"""`coldwright new`: start a project folder, by a short dialogue or by options."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer

from coldwright.errors import PartMissing, QuantityError
from coldwright.faces.cli import options as of
from coldwright.faces.cli.exits import Exit, answering, fail, put_json

if TYPE_CHECKING:
    from coldwright.answers.new import New, Question


def _option(name: str, what: str) -> Any:
    return typer.Option(name, metavar="TEXT", help=what, show_default=False)


def new(
    folder: Annotated[
        str, typer.Argument(metavar="FOLDER", help="The folder to make.", show_default=False)
    ],
    kind: Annotated[
        str | None,
        typer.Option(
            "--kind", metavar="KIND", help="What is to be kept cool: room, box, open_air or plate.",
            show_default=False,
        ),
    ] = None,
    title: Annotated[str | None, _option("--title", "What it is called.")] = None,
    length: Annotated[str | None, _option("--length", 'Inner length, as in "1.8 m".')] = None,
    width: Annotated[str | None, _option("--width", "Inner width.")] = None,
    height: Annotated[str | None, _option("--height", "Inner height.")] = None,
    wall: Annotated[
        str | None, _option("--wall", "Material of the walls (coldwright parts materials).")
    ] = None,
    wall_thickness: Annotated[
        str | None, _option("--wall-thickness", 'Its thickness, as in "40 mm".')
    ] = None,
    outdoor_air: Annotated[
        str | None, _option("--outdoor-air", 'Air around it on a hot day, as in "34 degC".')
    ] = None,
    outdoor_humidity: Annotated[
        str | None, _option("--outdoor-humidity", 'Moisture of that air, as in "40 percent".')
    ] = None,
    air: Annotated[
        str | None, _option("--air", "Open air only: temperature of the air to be cooled.")
    ] = None,
    goal: Annotated[str | None, _option("--goal", 'Wanted temperature, as in "27 degC".')] = None,
    within: Annotated[str | None, _option("--within", 'Time for that, as in "60 min".')] = None,
    heat: Annotated[
        str | None, _option("--heat", 'Heat set free inside or at the plate, as in "70 W".')
    ] = None,
    combustion: Annotated[
        str | None,
        _option("--combustion", "What burns in the same air: none, sealed, open, not known."),
    ] = None,
    hot_air: Annotated[
        str | None, _option("--hot-air", "Where the hot side takes its air: outdoors, place.")
    ] = None,
    module: Annotated[
        str | None, _option("--module", "Module (coldwright parts modules).")
    ] = None,
    count: Annotated[str | None, _option("--count", "How many modules.")] = None,
    module_voltage: Annotated[
        str | None, _option("--module-voltage", 'Voltage across each, as in "7 V".')
    ] = None,
    cold_sink: Annotated[
        str | None, _option("--cold-sink", "Cold sink (coldwright parts sinks).")
    ] = None,
    cold_fan: Annotated[
        str | None, _option("--cold-fan", "Cold fan (coldwright parts fans).")
    ] = None,
    hot_sink: Annotated[str | None, _option("--hot-sink", "Hot sink.")] = None,
    hot_fan: Annotated[str | None, _option("--hot-fan", "Hot fan.")] = None,
    as_json: of.AsJson = False,
    plain: of.Plain = False,
) -> None:  # fmt: skip
    """Start a project: a folder with a design sheet that runs as it is. Nothing is overwritten.

    Without options, on a terminal, it asks; otherwise every option that is left out takes a
    default that suits the kind of place.
    """
    given = {
        name: value
        for name, value in locals().items()
        if name not in ("folder", "as_json", "plain") and value is not None
    }
    with answering(as_json=as_json, plain=plain):
        from coldwright.answers import new as answer

        try:
            if not given and not as_json and sys.stdin.isatty():
                given = _dialogue()
            made = answer.run(answer.Inputs(folder, **given))
        except answer.AnswersRefused as error:
            said = [f"--{key.replace('_', '-')}: {why}" for key, why in error.refused.items()]
            fail("\n".join(said), Exit.WRONG_USE, as_json=as_json)
        except answer.FolderTaken as error:
            fail(str(error), Exit.WRONG_USE, as_json=as_json)
        else:
            if as_json:
                put_json({"folder": made.folder, "files": made.files})
            else:
                put_new(made, plain=plain)


def put_new(made: New, *, plain: bool = False) -> None:
    """Say what was written, and what to do with it."""
    from coldwright.faces.cli.page import Page
    from coldwright.faces.cli.sections import put_next

    page = Page(plain=plain)
    page.text(f"{made.folder} is ready.", style="strong", indent=0)
    page.line()
    sheet, notes = made.files
    width = max(len(sheet), len(notes))
    page.line(f"  {sheet:<{width}}   ", ("the design sheet: change it with any editor", "soft"))
    page.line(f"  {notes:<{width}}   ", ("notes, and what to mind before building", "soft"))
    put_next(
        page,
        [
            (of.command_line("verdict", made.folder), "will it do, and why"),
            (of.command_line("check", made.folder), "what the sheet lacks and assumes"),
        ],
    )
    page.show()


def _dialogue() -> dict[str, str]:
    """Ask one question after the other; Enter takes what stands in brackets."""
    from coldwright.answers.new import KINDS, Question, questions

    typer.echo("Enter takes what stands in brackets; everything can be changed in the sheet later.")
    typer.echo()
    for name, words in KINDS.items():
        typer.echo(f"  {name:<10} {words}")
    which = Question("kind", "What is to be kept cool?", {}, words=tuple(KINDS))
    kind = _asked(which, "box")
    given = {"kind": kind}
    for question in questions(kind):
        if question.by_heart:
            given[question.key] = _asked(question, question.defaults[kind])
    typer.echo()
    return given


def _asked(question: Question, default: str) -> str:
    """Ask until the answer can be taken."""
    from coldwright.answers.new import accepted

    choice = f" ({', '.join(question.words)})" if question.words and question.key != "kind" else ""
    more = f" (coldwright parts {question.group} lists them)" if question.group else ""
    while True:
        text = str(typer.prompt(question.asks + choice + more, default=default))
        try:
            return accepted(question, text)
        except (QuantityError, PartMissing) as error:
            typer.echo(f"  {error}")
