"""Series and maps as CSV: one header row of names with units, SI, never over an existing file."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Sequence
from pathlib import Path

from coldwright.answers.day import Day
from coldwright.answers.tune import Tune
from coldwright.errors import OutputError
from coldwright.quantities.glossary import GLOSSARY

# Units of names that are in no glossary, by how they end.
_ENDS = {"_K": "K", "_J": "J", "_kg": "kg", "_s": "s", "_W": "W", "_dB": "dB"}


def write_day(day: Day, path: Path) -> None:
    """Hourly series of a day, its heat by cause [J] and its water by cause [kg].

    Columns are called as in the JSON answer, with the unit in brackets: "place_air_K [K]",
    "heat_J: walls [J]".

    Raises
    ------
    OutputError
        When the file exists already or cannot be written.
    """
    columns = {f"{name} [{_unit(name)}]": values for name, values in day.series.items()}
    columns |= {f"heat_J: {name} [J]": values for name, values in day.heat_J.items()}
    columns |= {f"water_kg: {name} [kg]": values for name, values in day.water_kg.items()}
    _write(path, list(columns), zip(*columns.values(), strict=True))


def write_map(tune: Tune, path: Path) -> None:
    """Every point of the hill, one row each: what is set, whether it is allowed, every figure.

    Raises
    ------
    OutputError
        When the file exists already or cannot be written.
    """
    names = sorted(tune.maps)
    head = [f"{tune.axis} set [{_unit(tune.axis)}]", "cold_speed [1]", "hot_speed [1]",
            "allowed [1]", *(f"{name} [{_unit(name)}]" for name in names)]  # fmt: skip
    rows = (
        [
            drive, cold, hot, float(tune.allowed[i, j, k]),
            *(tune.maps[name][i, j, k] for name in names),
        ]
        for i, drive in enumerate(tune.drive)
        for j, cold in enumerate(tune.cold_speed)
        for k, hot in enumerate(tune.hot_speed)
    )  # fmt: skip
    _write(path, head, rows)


def check_table(path: Path) -> None:
    """Raise `OutputError` when no table could be written to `path`, before anything is computed."""
    if path.exists():
        raise OutputError(f"{path}: is there already; nothing was overwritten")
    if not path.parent.is_dir():
        raise OutputError(f"{path}: there is no folder {path.parent}")


def _write(path: Path, head: Sequence[str], rows: Iterable[Sequence[float]]) -> None:
    try:
        with path.open("x", newline="", encoding="utf-8") as file:
            writer = csv.writer(file)
            writer.writerow(head)
            writer.writerows([_cell(value) for value in row] for row in rows)
    except FileExistsError:
        raise OutputError(f"{path}: is there already; nothing was overwritten") from None
    except OSError as error:
        raise OutputError(f"{path}: cannot be written ({error.strerror})") from error


def _cell(value: float) -> str:
    # Empty where nothing is known; else every digit that counts, so that it reads back the same.
    return "" if value != value else repr(float(value))


def _unit(name: str) -> str:
    found = GLOSSARY.get(name)
    if found is not None:
        return found.si_unit or "1"
    return next((unit for end, unit in _ENDS.items() if name.endswith(end)), "1")
