"""Reading a design sheet from a file or a project folder, and writing changes back into it."""

from __future__ import annotations

import os
import re
import stat
import tempfile
import tomllib
from collections.abc import Mapping
from contextlib import suppress
from itertools import pairwise
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from coldwright.errors import SheetError, SheetInvalid
from coldwright.sheet.faults import findings_of
from coldwright.sheet.lines import key_lines, steps
from coldwright.sheet.models import Sheet

SIZE_LIMIT = 2_000_000
"""Bytes; a larger file is refused before it is read."""
_LINE_LIMIT = 20_000
_SHEET_NAME = "sheet.toml"
SIGNED_NAME = "safety.toml"
"""What was signed off in a project folder: beside the sheet, and no sheet itself."""


def read(path: str | os.PathLike[str]) -> Sheet:
    """Read a design sheet.

    Parameters
    ----------
    path
        The file, or a project folder that holds ``sheet.toml`` or one single ``.toml`` file.

    Raises
    ------
    SheetError
        When there is no such file, or it is no text in TOML: with path and line.
    SheetInvalid
        When the text is TOML but no design sheet: with every fault at once.
    """
    file = sheet_file(path)
    return read_text(decoded(file_bytes(file), file), name=str(file))


def read_text(text: str, name: str = "") -> Sheet:
    """Read a design sheet from a text; ``name`` is what messages call it."""
    longest = max(map(len, text.split("\n")), default=0)
    if longest > _LINE_LIMIT:
        raise SheetError(f"A line of {longest} characters is no line of a design sheet.", name)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _syntax_error(error, text, name) from None
    except (ValueError, RecursionError, OverflowError) as error:
        reason = "nested too deeply" if isinstance(error, RecursionError) else "cannot be read"
        raise SheetError(f"The text is not a design sheet: it is {reason}.", name) from None
    if not data:
        raise SheetError(
            "The file is empty. A design sheet needs at least [climate], [place] and [cooler].",
            name,
        )
    return from_data(data, name=name, lines=key_lines(text))


def from_data(
    data: dict[str, Any], *, name: str = "", lines: dict[str, int] | None = None
) -> Sheet:
    """A design sheet from plain TOML data; raises `SheetInvalid` with every fault at once."""
    lines = lines or {}
    try:
        sheet = Sheet.model_validate(data)
    except ValidationError as error:
        errors = error.errors(include_url=False)
        raise SheetInvalid(findings_of(errors, Sheet, data, lines=lines, file=name), name) from None
    sheet.remember(data, name, lines)
    return sheet


def sheet_file(path: str | os.PathLike[str]) -> Path:
    """The sheet's file that a path means: itself, or the sheet in that project folder."""
    given = Path(path)
    try:
        is_folder = given.is_dir()
    except (OSError, ValueError):
        raise SheetError("There is no such file.", str(given)) from None
    if not is_folder:
        return given
    if (given / _SHEET_NAME).exists():
        return given / _SHEET_NAME
    sheets = sorted(
        found
        for found in given.glob("*.toml")
        if not found.name.startswith(".") and found.name != SIGNED_NAME
    )
    if len(sheets) == 1:
        return sheets[0]
    if not sheets:
        raise SheetError(f"The folder holds no design sheet ({_SHEET_NAME}).", str(given))
    names = ", ".join(found.name for found in sheets[:5])
    raise SheetError(
        f"The folder holds several sheets ({names}). Name the file, or call one {_SHEET_NAME}.",
        str(given),
    )


def write_back(path: str | os.PathLike[str], changes: Mapping[str, object]) -> None:
    """Change some keys of a sheet's file, and nothing else: comments and order stay.

    The file is replaced in one step, and only if it still is what was read.

    Parameters
    ----------
    path
        The file or the project folder.
    changes
        New value for each key path; None removes the key. A value is what TOML holds: text,
        number, list, table.

    Raises
    ------
    SheetError
        When the file cannot be read or written, or somebody changed it meanwhile.
    SheetInvalid
        When the changed sheet would not be valid; the file is then left as it was.
    """
    file = sheet_file(path).resolve()
    before = file_bytes(file)
    text = decoded(before, file)
    read_text(text, name=str(file))
    after = with_changes(text, changes, name=str(file))
    read_text(after, name=str(file))
    bom = b"\xef\xbb\xbf" if before.startswith(b"\xef\xbb\xbf") else b""
    replace_file(file, before, bom + after.encode("utf-8"))


def with_changes(text: str, changes: Mapping[str, object], name: str = "") -> str:
    """The text of a sheet with some keys changed, comments and order kept."""
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    newline = "\r\n" if "\r\n" in text else "\n"
    try:
        document = tomlkit.parse(text)
        for path, value in changes.items():
            _set(document, path, value)
        written = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, IndexError, TypeError, ValueError, AttributeError) as error:
        raise SheetError(f"The change cannot be written into this sheet: {error}", name) from None
    if newline == "\r\n":
        written = re.sub(r"(?<!\r)\n", "\r\n", written)
    return written


def _set(document: Any, path: str, value: object) -> None:
    import tomlkit

    walk = steps(path)
    at = document
    for step, following in pairwise(walk):
        if isinstance(step, int):
            at = at[step] if isinstance(at, list) else at
            continue
        if isinstance(at, list):
            at = at[0]
        if step not in at:
            at[step] = [] if isinstance(following, int) else tomlkit.table()
        at = at[step]
    last = walk[-1]
    if isinstance(at, list) and isinstance(last, str):
        at = at[0]
    if value is None:
        del at[last]
        return
    old = at[last] if isinstance(last, int) or last in at else None
    at[last] = _quoted_alike(old, value)


def _quoted_alike(old: object, value: object) -> object:
    """Keep the quotes of the old text ('...' or "...") and the comment behind it."""
    import tomlkit
    from tomlkit.items import Item, String

    literal = (
        isinstance(old, String)
        and old.as_string().startswith("'")
        and isinstance(value, str)
        and "'" not in value
        and value.isprintable()
    )
    if isinstance(value, str):
        item: Item = tomlkit.string(value, literal=literal)
    else:
        item = tomlkit.item(value)
    if isinstance(old, Item):
        item.trivia.comment_ws = old.trivia.comment_ws
        item.trivia.comment = old.trivia.comment
        item.trivia.trail = old.trivia.trail
    return item


def replace_file(file: Path, before: bytes, after: bytes) -> None:
    """Put other bytes into a file in one step, if it still holds what was read (`SheetError`)."""
    try:
        mode = stat.S_IMODE(file.stat().st_mode)
        handle, beside = tempfile.mkstemp(prefix=f".{file.name}.", dir=file.parent)
    except OSError as error:
        raise SheetError(f"It cannot be written: {error.strerror}.", str(file)) from None
    try:
        with os.fdopen(handle, "wb") as new:
            new.write(after)
            new.flush()
            os.fsync(new.fileno())
        Path(beside).chmod(mode)
        if file_bytes(file) != before:
            raise SheetError("Somebody changed the file meanwhile; nothing was written.", str(file))
        Path(beside).replace(file)
    except OSError as error:
        raise SheetError(f"It cannot be written: {error.strerror}.", str(file)) from None
    finally:
        with suppress(OSError):
            Path(beside).unlink()


def file_bytes(file: Path) -> bytes:
    """What a file of a project holds; `SheetError` where it is none, or far too large."""
    # Not blocking, so that a pipe without a writer cannot hold the program up.
    try:
        handle = os.open(file, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0))
    except (OSError, ValueError) as error:
        raise SheetError(_why_not_opened(error), str(file)) from None
    about = os.fstat(handle)
    if not stat.S_ISREG(about.st_mode):
        os.close(handle)
        raise SheetError("It is no ordinary file.", str(file))
    with os.fdopen(handle, "rb") as opened:
        if about.st_size > SIZE_LIMIT:
            raise SheetError(
                f"The file has {about.st_size / 1e6:.1f} MB; a design sheet has at most "
                f"{SIZE_LIMIT / 1e6:.0f} MB.",
                str(file),
            )
        try:
            held = opened.read(SIZE_LIMIT + 1)
        except OSError:
            raise SheetError("The file cannot be read.", str(file)) from None
    if len(held) > SIZE_LIMIT:
        raise SheetError("The file grew beyond the size of a design sheet.", str(file))
    return held


def _why_not_opened(error: Exception) -> str:
    if isinstance(error, FileNotFoundError):
        return "There is no such file."
    if isinstance(error, PermissionError):
        return "The file may not be read."
    return "The file cannot be opened."


def decoded(held: bytes, file: Path) -> str:
    """Those bytes as text in UTF-8; `SheetError` with the line where they are not."""
    for mark, called in _MARKS.items():
        if held.startswith(mark):
            raise SheetError(f"The file is written in {called}. Save it as UTF-8.", str(file))
    try:
        text = held.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = held.count(b"\n", 0, error.start) + 1
        raise SheetError(
            "The file is not written in UTF-8 (perhaps in an old encoding such as Latin-1). "
            "Save it as UTF-8.",
            str(file),
            line,
        ) from None
    if "\x00" in text:
        line = text.count("\n", 0, text.index("\x00")) + 1
        raise SheetError("The file is no text, or is written in UTF-16.", str(file), line)
    return text


_MARKS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}
_WHERE = re.compile(r"\s*\(at line (\d+), column \d+\)|\s*\(at end of document\)")


_NAMES = re.compile(r"\(('[^)]*')(?:,)?\)")


def _dotted(names: re.Match[str]) -> str:
    return ".".join(re.findall(r"'([^']*)'", names[1]))


def _syntax_error(error: Exception, text: str, name: str) -> SheetError:
    found = _WHERE.search(str(error))
    what = _NAMES.sub(_dotted, _WHERE.sub("", str(error))).strip()[:200]
    if found is None:
        return SheetError(f"{what}.", name)
    line = int(found[1]) if found[1] else text.count("\n") + 1
    return SheetError(f"{what}. {_syntax_hint(what, text, line)}".strip(), name, line)


def _syntax_hint(what: str, text: str, line: int) -> str:
    rows = text.split("\n")
    row = rows[line - 1].strip() if 0 < line <= len(rows) else ""
    if "overwrite" in what.lower() or "twice" in what.lower():
        return "Is the key or the table written a second time?"
    if re.match(r"[\w.\"'-]+\s*=\s*[-+\d.,]+\s*[A-Za-z%°µ]", row):
        return 'Values with a unit stand in quotes, as in "40 mm".'
    if re.match(r"[\w.-]+\s*=\s*[A-Za-z]", row):
        return 'Words stand in quotes, as in "place".'
    if re.match(r"[\w.-]+\s*:", row):
        return 'A key is followed by "=", not by ":".'
    return ""
