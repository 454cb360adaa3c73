"""The safety check list as a page to print: Markdown in a new file, or plain lines."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from coldwright.answers.safety import Safety, Step
from coldwright.errors import OutputError


def check_page(path: Path) -> None:
    """Raise `OutputError` when no list could be written to `path`."""
    if path.suffix.lower() not in (".md", ".markdown"):
        raise OutputError(f"{path}: a check list is written as Markdown, with the ending .md.")
    if path.exists():
        raise OutputError(f"{path} exists already; nothing is overwritten.")
    if not path.absolute().parent.is_dir():
        raise OutputError(f"{path}: there is no such folder.")


def write_check_list(answer: Safety, path: Path) -> None:
    """Write the list as Markdown.

    Raises
    ------
    OutputError
        When the file exists already or cannot be written.
    """
    check_page(path)
    try:
        with open(path, "x", encoding="utf-8", newline="\n") as opened:
            opened.write(as_markdown(answer))
    except OSError as error:
        raise OutputError(f"{path}: it cannot be written ({error.strerror}).") from None


def as_markdown(answer: Safety) -> str:
    """The list as Markdown: cautions, steps with boxes and lines to sign, what others must do."""
    return "\n".join(_lines(answer)) + "\n"


def _lines(answer: Safety) -> Iterator[str]:
    yield f"# Safety check list: {_inline(answer.title or Path(answer.file).name)}"
    yield ""
    yield f"{answer.defers} State of the design: {answer.state}."
    if answer.cautions:
        yield from ("", "## What to mind in this design", "")
        for one in answer.cautions:
            found = one.finding
            told = " ".join(_sentence(part) for part in (_claim(one.finding), found.why) if part)
            helps = f" What helps: {found.action}." if found.action else ""
            yield f"- **{found.severity.capitalize()}.** {_inline(told)}{_inline(helps)}"
            yield f"  Source: {one.source}. [{found.code}]"
    for stage, steps in groupby(answer.steps, key=lambda step: step.stage):
        yield from ("", f"## {stage}", "")
        for step in steps:
            yield from _step(step)
    yield from ("", "## Only a licensed person may do or test this", "")
    for step in answer.licensed:
        yield from _step(step)


def _step(step: Step) -> Iterator[str]:
    box = "x" if step.status == "signed" else " "
    yield f"- [{box}] **{step.code}** {step.text} {step.why}"
    yield f"  Source: {step.source}."
    if step.status == "signed":
        yield f"  Signed by {_inline(step.by)}, {step.on}."
    else:
        again = f" (signed by {_inline(step.by)} for an earlier design)" if step.by else ""
        yield f"  Name ____________________  Date ____________{again}"


def _claim(found: object) -> str:
    given, allowed = getattr(found, "given", ""), getattr(found, "allowed", "")
    return f"{given} is not {allowed}" if allowed else given


def _sentence(text: str) -> str:
    return text if text.endswith((".", "?", "!")) else f"{text}."


def _inline(text: str) -> str:
    """Text of a person, without signs that Markdown would take for its own."""
    return "".join(f"\\{sign}" if sign in "\\`*_[]<>#|" else sign for sign in text)
