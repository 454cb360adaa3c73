"""Who signed off which step of the safety check list: the file `safety.toml` beside the sheet.

Signatures are only ever added at the end of the file, so remarks and order stay, and an earlier
signature is never lost. Each holds for the design as it was: `state_of` says which that is.
"""

from __future__ import annotations

import datetime
import hashlib
import json
import os
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from coldwright.errors import OutputError, SheetError
from coldwright.sheet.file import SIGNED_NAME, decoded, file_bytes, replace_file
from coldwright.sheet.models import Sheet
from coldwright.sheet.shown import printable

LONGEST_NAME = 200
# What may change without the machine becoming another one.
_NO_PART_OF_THE_MACHINE = {"format", "title", "notes", "goal", "price", "instrument"}
_OPENING = """\
# Steps of the safety check list that were signed off: coldwright safety SHEET --sign ITEM --by NAME
# Signatures are added at the end. Remarks of your own may stand anywhere and are kept.
# A signature holds for the design as it was (state); when the design changes, it is asked again.
format = 1
"""


@dataclass(frozen=True, slots=True)
class Signature:
    """One step signed off: by whom, when, for which sheet and which state of it."""

    item: str
    by: str
    on: datetime.datetime
    sheet: str
    state: str


def signed_file(sheet: Sheet) -> Path:
    """The file of signatures that belongs to a sheet."""
    return Path(sheet.file).parent / SIGNED_NAME


def state_of(sheet: Sheet) -> str:
    """A short mark of the design: another one as soon as any value of the machine is written anew.

    Title, notes, goal, prices and instruments are left out, remarks and layout too.
    """
    machine = {k: held for k, held in sheet.data.items() if k not in _NO_PART_OF_THE_MACHINE}
    text = json.dumps(machine, sort_keys=True, ensure_ascii=True, default=str)
    return hashlib.sha256(text.encode("ascii")).hexdigest()[:16]


def read_signatures(file: Path) -> list[Signature]:
    """All signatures of a file, in its order; none where there is no such file.

    Raises
    ------
    SheetError
        When the file cannot be read or is damaged, with its line where that is known.
    """
    if not os.path.lexists(file):
        return []
    return _signatures(decoded(file_bytes(file), file), file)


def add_signatures(file: Path, signed: Iterable[Signature]) -> None:
    """Add signatures at the end of a file, in one step; what stands there is not touched.

    Raises
    ------
    SheetError
        When the file is damaged, or somebody changed it meanwhile: nothing is written then.
    OutputError
        When the folder or the file cannot be written.
    """
    before = file_bytes(file) if os.path.lexists(file) else None
    text = _OPENING if before is None else decoded(before, file)
    held = [] if before is None else _signatures(text, file)
    new = list(signed)
    after = text if text.endswith("\n") or not text else text + "\n"
    after += "".join(_written(one) for one in new)
    try:
        complete = _signatures(after, file) == held + new
    except SheetError:
        complete = False
    if not complete:
        raise SheetError(
            "Signatures cannot be added at its end. Write them as [[signed]] tables, nothing "
            "behind them.",
            str(file),
        )
    mark = b"\xef\xbb\xbf" if before is not None and before.startswith(b"\xef\xbb\xbf") else b""
    try:
        if before is None:
            _create(file, after.encode("utf-8"))
        else:
            _require_writable(file)
            replace_file(file, before, mark + after.encode("utf-8"))
    except OSError as error:
        raise OutputError(
            f"{file}: the signature cannot be written ({error.strerror}). Nothing is signed off."
        ) from None


def _create(file: Path, content: bytes) -> None:
    """A new file, whole or not at all."""
    with open(file, "xb") as opened:
        try:
            opened.write(content)
            opened.flush()
            os.fsync(opened.fileno())
        except OSError:
            file.unlink()
            raise


def _require_writable(file: Path) -> None:
    """A file that its owner made read-only is not to be replaced, though its folder would let."""
    with open(file, "r+b"):
        pass


def _written(one: Signature) -> str:
    def quoted(text: str) -> str:
        # What JSON escapes is a subset of what TOML escapes, but for the delete sign.
        return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")

    return (
        f"\n[[signed]]\nitem = {quoted(one.item)}\nby = {quoted(one.by)}\n"
        f"on = {one.on.isoformat(timespec='seconds')}\nsheet = {quoted(one.sheet)}\n"
        f"state = {quoted(one.state)}\n"
    )


def _signatures(text: str, file: Path) -> list[Signature]:
    try:
        data = tomllib.loads(text)
    except (ValueError, RecursionError) as error:
        raise SheetError(
            f"The list of signatures is damaged: {printable(str(error))[:200]}. Mend it, or move "
            "it away and sign again.",
            str(file),
        ) from None
    if data.get("format") != 1:
        raise SheetError(
            "The list of signatures does not begin with format = 1. Mend it, or move it away and "
            "sign again.",
            str(file),
        )
    rows = data.get("signed", [])
    if not isinstance(rows, list):
        raise _no_signature(1, file)
    return [_signature(row, at, file) for at, row in enumerate(rows, 1)]


def _signature(row: Any, at: int, file: Path) -> Signature:
    if not isinstance(row, dict):
        raise _no_signature(at, file)
    texts = {name: row.get(name) for name in ("item", "by", "sheet", "state")}
    on = row.get("on")
    if not all(isinstance(text, str) and text for text in texts.values()):
        raise _no_signature(at, file)
    if not isinstance(on, datetime.datetime):
        raise _no_signature(at, file)
    return Signature(**texts, on=on)  # type: ignore[arg-type]


def _no_signature(at: int, file: Path) -> SheetError:
    return SheetError(
        f"Signature {at} is damaged: it needs item, by, on (date and time), sheet and state. "
        "Mend it, or move the file away and sign again.",
        str(file),
    )
