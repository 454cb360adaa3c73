"""A chosen design as a new project folder, and all solved designs as a table."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.choice.beaten import names_of
from coldwright.answers.choice.edits import Line
from coldwright.answers.choice.engine import Engine
from coldwright.answers.choice.faults import SearchError
from coldwright.answers.choice.options import AXES, Options
from coldwright.answers.choice.store import Store
from coldwright.sheet.models import Sheet

_FIGURES = ("drive_V", "cold_speed", "hot_speed", "level_K", "net_W", "plug_W", "sound_dB",
            "hot_face_K", "price")  # fmt: skip
COLUMNS = (*AXES, "modules", *_FIGURES, "breaks", "on_front")
"""Columns of the table of designs."""


def new_folder(folder: Path, sheet: Sheet, text: str, bill: list[Line], currency: str) -> Path:
    """Write a sheet and its bill of materials into a folder that does not exist yet.

    Raises
    ------
    SearchError
        When something of that name is there already, or it cannot be written.
    """
    try:
        folder.mkdir(parents=True)
    except FileExistsError:
        raise SearchError(f"{folder} is there already; nothing was written.") from None
    except OSError as error:
        raise SearchError(f"{folder} cannot be made: {error.strerror}.") from None
    try:
        (folder / "sheet.toml").write_text(text, encoding="utf-8")
        weather = sheet.weather_path
        if weather is not None and weather.is_file() and not Path(weather.name).is_absolute():
            target = folder / str(getattr(sheet.climate, "file", weather.name))
            target.parent.mkdir(parents=True, exist_ok=True)
            if not target.exists():
                shutil.copyfile(weather, target)
        with (folder / "bill.csv").open("w", encoding="utf-8", newline="") as file:
            rows = csv.writer(file)
            rows.writerow(("count", "unit", "what", "name", f"each, {currency}", "total", "have"))
            for line in bill:
                rows.writerow(
                    (
                        f"{line.count:g}", line.unit, line.what, line.name,
                        "" if line.each is None else f"{line.each:.2f}",
                        "" if line.total is None else f"{line.total:.2f}",
                        "yes" if line.own else "",
                    )
                )  # fmt: skip
    except OSError as error:
        raise SearchError(f"{folder}: it cannot be written: {error.strerror}.") from None
    return folder


def write_designs(
    file: Path, options: Options, engine: Engine, store: Store, front: NDArray[Any]
) -> int:
    """Every solved design as a row: its parts, its best setting, its figures, what it breaks.

    Parameters
    ----------
    file
        A new file whose name ends in ``.csv`` or ``.parquet``; the latter needs pyarrow.

    Raises
    ------
    SearchError
        When the name ends otherwise, the file is there already, or it cannot be written.
    """
    on_front = set(front["flat"].tolist())
    batches = (_columns(options, engine, kept, on_front) for kept in store.batches())
    try:
        if file.suffix.lower() == ".parquet":
            return _parquet(file, batches)
        return _csv(file, batches)
    except FileExistsError:
        raise SearchError(f"{file} is there already; nothing was written.") from None
    except OSError as error:
        raise SearchError(f"{file} cannot be written: {error.strerror}.") from None


def check_out(file: Path) -> None:
    """Refuse at once what `write_designs` would refuse after a long search."""
    if file.suffix.lower() not in (".csv", ".parquet"):
        raise SearchError(f"{file}: the name must end in .csv or .parquet.")
    if file.exists():
        raise SearchError(f"{file} is there already; nothing was done.")
    if not file.resolve().parent.is_dir():
        raise SearchError(f"{file}: there is no such folder.")
    if file.suffix.lower() == ".parquet":
        _pyarrow()


def _columns(
    options: Options, engine: Engine, kept: NDArray[Any], on_front: set[int]
) -> dict[str, Any]:
    parts = engine.grid.parts(kept["flat"])
    table: dict[str, Any] = {
        name: np.array([option.name for option in options.axes[name]], dtype=object)[parts[name]]
        for name in AXES
    }
    table["modules"] = engine.grid.count[parts["wiring"]]
    for name in _FIGURES:
        numbers = kept[name].astype(float)
        # Beyond the sixth digit there is only the rounding of the store.
        numbers = np.round(numbers, 4)
        table[name] = np.where(np.isfinite(numbers), numbers, np.nan)
    names = {each: "; ".join(names_of(each)) for each in np.unique(kept["broken"]).tolist()}
    table["breaks"] = np.array([names[each] for each in kept["broken"].tolist()], dtype=object)
    table["on_front"] = np.array([each in on_front for each in kept["flat"].tolist()])
    return table


def _csv(file: Path, batches: Iterator[dict[str, Any]]) -> int:
    count = 0
    with file.open("x", encoding="utf-8", newline="") as opened:
        rows = csv.writer(opened)
        rows.writerow(COLUMNS)
        for table in batches:
            columns = [
                ["" if held != held else held for held in table[name].tolist()]
                for name in COLUMNS
            ]  # fmt: skip
            rows.writerows(zip(*columns, strict=True))
            count += len(columns[0])
    return count


def _parquet(file: Path, batches: Iterator[dict[str, Any]]) -> int:
    pyarrow, parquet = _pyarrow()
    count = 0
    writer = None
    with file.open("xb") as opened:
        for table in batches:
            made = pyarrow.table({name: pyarrow.array(table[name]) for name in COLUMNS})
            if writer is None:
                writer = parquet.ParquetWriter(opened, made.schema)
            writer.write_table(made)
            count += made.num_rows
        if writer is not None:
            writer.close()
    return count


def _pyarrow() -> tuple[Any, Any]:
    try:
        import pyarrow  # type: ignore[import-not-found, import-untyped, unused-ignore]
        import pyarrow.parquet as parquet  # type: ignore[import-not-found, import-untyped, unused-ignore]
    except ImportError:
        raise SearchError(
            "Parquet needs the optional library: install coldwright[data], or name a .csv file."
        ) from None
    return pyarrow, parquet
