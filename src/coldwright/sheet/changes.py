"""Another sheet with a few keys changed, for "what if" questions."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Any

from coldwright.errors import QuantityError, SheetInvalid
from coldwright.findings import Finding
from coldwright.quantities.parsing import Quantity, parse
from coldwright.sheet.file import from_data
from coldwright.sheet.lines import nearest_line, steps
from coldwright.sheet.models import Sheet
from coldwright.sheet.tables import Table


def changed(sheet: Sheet, changes: Mapping[str, Any]) -> Sheet:
    """The sheet with other values at some key paths; see `Sheet.changed`."""
    known = sheet.quantities()
    data = copy.deepcopy(sheet.data)
    supplied = dict(sheet.supplied)
    for path, value in changes.items():
        if _is_value(known, path, value) and not _stands_in(data, path):
            supplied[path] = value
        else:
            _set_in(data, path, value)
    new = from_data(data, name=sheet.file, lines=sheet.lines)
    # What a part of the library supplies stands in no file: it is changed in the read sheet.
    known = new.quantities()
    supplied = {path: text for path, text in supplied.items() if path in known}
    faults = []
    for path, text in supplied.items():
        try:
            read = parse(text, known[path].kind)
            new = _with_quantity(new, path, replace(read, path=path, usual=known[path].usual))
        except QuantityError as error:
            line = nearest_line(sheet.lines, path)
            faults.append(
                Finding(
                    "CW-UNIT-01", "stop", path, error.given, error.allowed, error.why,
                    error.action, line, sheet.file,
                )
            )  # fmt: skip
    if faults:
        raise SheetInvalid(faults, sheet.file)
    new.remember(data, sheet.file, sheet.lines, supplied)
    return new


def _is_value(known: Mapping[str, Quantity], path: str, value: object) -> bool:
    return path in known and isinstance(value, str | int | float)


def _stands_in(data: Any, path: str) -> bool:
    at = data
    for step in steps(path):
        if isinstance(at, list) and isinstance(step, str):
            at = at[0] if at else None
        if isinstance(step, int) and isinstance(at, dict):
            continue
        try:
            at = at[step]
        except (KeyError, IndexError, TypeError):
            return False
    return True


def _set_in(data: Any, path: str, value: object) -> None:
    walk = steps(path)
    at = data
    for step, following in pairwise(walk):
        if isinstance(step, int):
            at = at[step] if isinstance(at, list) else at
            continue
        if isinstance(at, list):
            at = at[0]
        if not isinstance(at.get(step), dict | list):
            at[step] = [] if isinstance(following, int) else {}
        at = at[step]
    last = walk[-1]
    if isinstance(at, list) and isinstance(last, str):
        at = at[0]
    if value is None:
        at.pop(last, None)
    else:
        at[last] = value


def _with_quantity(value: Any, path: str, quantity: Quantity) -> Any:
    """A copy of a part of the sheet in which the quantity at a path is another one."""
    if isinstance(value, Quantity):
        return quantity if value.path == path else value
    if isinstance(value, tuple):
        return tuple(_with_quantity(item, path, quantity) for item in value)
    if isinstance(value, Table):
        held = {name: _with_quantity(inner, path, quantity) for name, inner in value}
        return value.model_copy(update=held)
    return value
