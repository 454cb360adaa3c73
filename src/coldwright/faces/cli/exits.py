"""How a command ends: the exit codes, and the one place that turns errors into messages."""

from __future__ import annotations

import errno
import json
import os
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import asdict
from enum import IntEnum
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import typer

from coldwright.errors import (
    ColdwrightError,
    NoSolution,
    OutputError,
    QuantityError,
    ReadingError,
    SheetError,
    SheetInvalid,
    SolverError,
)
from coldwright.faces.cli.page import Page

if TYPE_CHECKING:
    from coldwright.findings import Finding


class Exit(IntEnum):
    """What a script that calls the command learns from its exit code."""

    ANSWERED = 0
    STOPPED = 1
    WRONG_USE = 2
    BAD_SHEET = 3
    NO_SOLUTION = 4
    FAULT = 5
    INTERRUPTED = 130


MEANINGS: dict[Exit, str] = {
    Exit.ANSWERED: "There is an answer, whatever it says: a “no” is an answer too.",
    Exit.STOPPED: "`check` read the sheet and found something that stops the work.",
    Exit.WRONG_USE: "The command was called in a way it does not know; nothing was read or "
    "written. This is also how `new` ends when the folder is taken, and `parts` and "
    "`equations` when nothing has that name, and any command that is to write a picture, a table "
    "or its answer where it cannot.",
    Exit.BAD_SHEET: "The sheet, or its weather file, cannot be read or has faults: all of them are "
    "listed with their lines.",
    Exit.NO_SOLUTION: "The sheet is in order, but the design has no steady state. The reason is "
    "printed.",
    Exit.FAULT: "The program failed: an answer could not be trusted, so none is shown. Please "
    "report it with the sheet.",
    Exit.INTERRUPTED: "Stopped with Ctrl-C.",
}
"""What each code means; the reference page is made of this."""


@contextmanager
def answering(*, as_json: bool = False, plain: bool = False) -> Iterator[None]:
    """Run a command's body; every error ends as one message and an exit code."""
    try:
        yield
    except SheetInvalid as error:
        _say_invalid(error, as_json, plain)
        raise typer.Exit(Exit.BAD_SHEET) from None
    except SheetError as error:
        fail(str(error), Exit.BAD_SHEET, as_json=as_json)
    except ReadingError as error:
        fail(str(error), Exit.BAD_SHEET, as_json=as_json)
    except (QuantityError, OutputError) as error:
        fail(str(error), Exit.WRONG_USE, as_json=as_json)
    except NoSolution as error:
        fail(f"This design has no steady state. {error}", Exit.NO_SOLUTION, as_json=as_json)
    except SolverError as error:
        fail(f"The answer cannot be trusted: {error}. {_REPORT}", Exit.FAULT, as_json=as_json)
    except ColdwrightError as error:
        fail(str(error), Exit.FAULT, as_json=as_json)
    except (KeyboardInterrupt, typer.Abort):
        fail("Stopped.", Exit.INTERRUPTED, as_json=as_json)
    except MemoryError:
        fail("There is not enough memory for so many tries.", Exit.FAULT, as_json=as_json)
    except BrokenPipeError:
        # The reader of the pipe (head, less) has seen enough; what is left must go nowhere.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        raise typer.Exit(Exit.ANSWERED) from None
    except OSError as error:
        if error.errno not in _UNWRITABLE:
            fail(f"{_fault(error)} {_REPORT}", Exit.FAULT, as_json=as_json)
        # What is left of the answer must go nowhere, or the interpreter tries it again at its end.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        fail(f"The answer cannot be written: {error.strerror}.", Exit.WRONG_USE)
    except typer.Exit:
        raise
    except Exception as error:  # noqa: BLE001 - the last line: a fault is a message, no traceback
        fail(f"{_fault(error)} {_REPORT}", Exit.FAULT, as_json=as_json)


def fail(
    message: str,
    code: Exit,
    *,
    as_json: bool = False,
    findings: Iterable[Finding] = (),
) -> NoReturn:
    """Say one message on standard error (or as JSON on standard output) and end the command."""
    if as_json:
        put_json(
            {
                "error": message,
                "exit_code": int(code),
                "findings": [asdict(found) for found in findings],
            }
        )
    else:
        page = Page(stream=sys.stderr)
        for part in message.split("\n"):
            page.text(_short(part), indent=0)
        page.show()
    raise typer.Exit(code)


def put_json(data: Any) -> None:
    """Write one JSON object to standard output; a number that is none is a fault, not "NaN"."""
    from coldwright.quantities.display import ordinary_spaces

    data = ordinary_spaces(data)
    text = json.dumps(data, ensure_ascii=not _takes_utf8(), indent=2, allow_nan=False)
    sys.stdout.write(text + "\n")
    sys.stdout.flush()


def _short(text: str) -> str:
    """A message that fits a screen even when a name in it is absurdly long."""
    return text if len(text) <= 1000 else f"{text[:200]} … {text[-200:]}"


def _takes_utf8() -> bool:
    return (getattr(sys.stdout, "encoding", None) or "").lower().replace("-", "") == "utf8"


def _say_invalid(error: SheetInvalid, as_json: bool, plain: bool) -> None:
    from coldwright.faces.cli.findings import counted, put_findings

    if as_json:
        put_json(
            {
                "error": "The sheet cannot be used.",
                "exit_code": int(Exit.BAD_SHEET),
                "findings": [asdict(found) for found in error.findings],
            }
        )
        return
    page = Page(plain=plain, stream=sys.stderr)
    path = error.path or next((found.file for found in error.findings if found.file), "")
    name = Path(path).name if path else "The sheet"
    stops = [found for found in error.findings if found.severity == "stop"]
    page.line((f"{name} cannot be used: {counted(len(stops), 'fault')}.", "strong"))
    page.line()
    put_findings(page, error.findings, words=len(stops) < len(error.findings))
    page.show()


# A full disk or quota, a device that fails, a file that may not grow.
_UNWRITABLE = {errno.ENOSPC, errno.EIO, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
_REPORT = "This is a fault of the program, not of the design. Please report it with the sheet."


def _fault(error: Exception) -> str:
    """Where it went wrong, in one line that a report can quote."""
    at = error.__traceback__
    while at is not None and at.tb_next is not None:
        at = at.tb_next
    where = ""
    if at is not None:
        where = f" in {Path(at.tb_frame.f_code.co_filename).name} line {at.tb_lineno}"
    return f"{type(error).__name__}{where}: {' '.join(str(error).split())[:300]}."
