"""The design sheet as a whole: what the person means to build. Data, no calculation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any, Literal

from pydantic import Field, PrivateAttr, model_validator

from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models_air import (
    Duct,
    DuctInsulation,
    Fan,
    Filter,
    Fitting,
    Grille,
    PlateFinSink,
    Radiator,
    ResistanceSink,
    Sink,
    TableSink,
    WaterLoop,
)
from coldwright.sheet.models_climate import (
    Climate,
    DesignDay,
    Goal,
    SteadyClimate,
    WeatherFile,
)
from coldwright.sheet.models_control import SetBack, Thermostat
from coldwright.sheet.models_cooler import (
    Ceramic,
    Chopped,
    Cooler,
    Legs,
    Limits,
    Modules,
    Properties,
    Ratings,
    RunAt,
    Screws,
    SecondStage,
    Spacer,
)
from coldwright.sheet.models_inside import Contents, Door, Gain, MoistureBuffer
from coldwright.sheet.models_place import (
    AirLeakage,
    Box,
    Layer,
    Leak,
    Leakage,
    OpenAir,
    Place,
    Plate,
    Room,
    Surface,
    Window,
)
from coldwright.sheet.models_power import (
    Battery,
    Build,
    Converter,
    Efficiency,
    Instrument,
    Mains,
    Panel,
    Power,
    Price,
    PricedItem,
    Stock,
    Supply,
)
from coldwright.sheet.models_safety import Safety
from coldwright.sheet.models_wiring import (
    Controller,
    Derating,
    FanDrive,
    Inlet,
    Inrush,
    Joint,
    MainsFuse,
    Switch,
    Wire,
)
from coldwright.sheet.tables import Many, Table, children

__all__ = [
    "AirLeakage",
    "Battery",
    "Box",
    "Build",
    "Ceramic",
    "Chopped",
    "Climate",
    "Contents",
    "Controller",
    "Converter",
    "Cooler",
    "Derating",
    "DesignDay",
    "Door",
    "Duct",
    "DuctInsulation",
    "Efficiency",
    "Fan",
    "FanDrive",
    "Filter",
    "Fitting",
    "Gain",
    "Goal",
    "Grille",
    "Inlet",
    "Inrush",
    "Instrument",
    "Joint",
    "Layer",
    "Leak",
    "Leakage",
    "Legs",
    "Limits",
    "Mains",
    "MainsFuse",
    "Modules",
    "MoistureBuffer",
    "OpenAir",
    "Panel",
    "Place",
    "Plate",
    "PlateFinSink",
    "Power",
    "Price",
    "PricedItem",
    "Properties",
    "Radiator",
    "Ratings",
    "ResistanceSink",
    "Room",
    "RunAt",
    "Safety",
    "Screws",
    "SecondStage",
    "SetBack",
    "Sheet",
    "Sink",
    "Spacer",
    "SteadyClimate",
    "Stock",
    "Supply",
    "Surface",
    "Switch",
    "Table",
    "TableSink",
    "Thermostat",
    "WaterLoop",
    "WeatherFile",
    "Window",
    "Wire",
]


class Sheet(Table):
    """One design: the whole of a design sheet, every quantity knowing its own key path."""

    format: Literal[1] = 1
    """Format of the file; sheets of every released format still open."""
    title: str = ""
    """What the design is called."""
    notes: str = ""
    """Anything a reader should know."""
    goal: Goal = Field(default_factory=Goal)
    """What the person wants."""
    climate: Climate
    """The weather, or what surrounds the box."""
    place: Place
    """What is kept cool."""
    cooler: Cooler
    """The machine."""
    limits: Limits = Field(default_factory=Limits)
    """What must not be passed."""
    power: Power | None = None
    """What feeds the cooler."""
    instrument: Many[Instrument] = ()
    """What measures the finished cooler."""
    build: Build | None = None
    """How it is built."""
    safety: Safety | None = None
    """What the safety rules ask."""
    price: Price | None = None
    """What things cost."""

    _file: str = PrivateAttr(default="")
    _lines: dict[str, int] = PrivateAttr(default_factory=dict)
    _data: dict[str, Any] = PrivateAttr(default_factory=dict)
    _supplied: dict[str, Any] = PrivateAttr(default_factory=dict)

    @model_validator(mode="after")
    def _place_paths(self) -> Sheet:
        _put_paths(self, "")
        return self

    def quantities(self) -> dict[str, Quantity]:
        """Every quantity of the sheet by its key path, such as ``cooler.hot_fan.power``.

        Entries of lists carry their place in brackets, from 0: ``place.surface[0].area``,
        ``cooler.cold_fan.curve[1][0]``. A key that may hold one table or several
        (``cooler.modules``) has brackets only where there are several.
        """
        return {found.path: found for found in _quantities(self)}

    def assumptions(self) -> dict[str, str]:
        """What the program assumed because the sheet does not say it: path to text."""
        return dict(_assumptions(self, ""))

    def line(self, path: str) -> int | None:
        """Line of the file on which a key stands; else that of the table it would stand in."""
        from coldwright.sheet.lines import nearest_line

        return nearest_line(self._lines, path)

    @property
    def file(self) -> str:
        """Name of the file the sheet was read from; empty if it was read from nowhere."""
        return self._file

    @property
    def weather_path(self) -> Path | None:
        """The weather file that the climate names, from the sheet's own folder; else None."""
        name = self.climate.file if isinstance(self.climate, WeatherFile) else None
        return None if name is None else Path(self._file).parent / name

    def changed(self, changes: Mapping[str, Any]) -> Sheet:
        """Another sheet in which some keys hold something else.

        Parameters
        ----------
        changes
            New value for each key path: a text with its unit, a word, a number, a table, or
            None to leave the key out. ``{"cooler.run_at": {"current": "5 A"}}``.

        Raises
        ------
        SheetInvalid
            When the changed sheet is not a valid one.
        """
        from coldwright.sheet.changes import changed

        return changed(self, changes)

    def remember(
        self,
        data: dict[str, Any],
        file: str,
        lines: dict[str, int],
        supplied: dict[str, Any] | None = None,
    ) -> None:
        """Keep what the file said and where; only the reader of files calls this."""
        self._data, self._file, self._lines = data, file, lines
        self._supplied = supplied or {}

    @property
    def supplied(self) -> dict[str, Any]:
        """Changes to values that stand in no file because a library part supplies them."""
        return self._supplied

    @property
    def data(self) -> dict[str, Any]:
        """What stood in the file, as plain TOML data; do not change it."""
        return self._data

    @property
    def lines(self) -> dict[str, int]:
        """Line of each key path in the file."""
        return self._lines


def _put_paths(value: Any, path: str) -> Any:
    # Models are frozen for everybody else; here the sheet is still being made.
    if isinstance(value, Quantity):
        return value.at(path)
    if isinstance(value, Table):
        for name, one_or_many, child in children(value):
            below = f"{path}.{name}" if path else name
            if one_or_many and len(child) == 1:
                value.__dict__[name] = (_put_paths(child[0], below),)
            else:
                value.__dict__[name] = _put_paths(child, below)
        return value
    if isinstance(value, tuple):
        return tuple(_put_paths(item, f"{path}[{place}]") for place, item in enumerate(value))
    return value


def _quantities(value: Any) -> Iterator[Quantity]:
    if isinstance(value, Quantity):
        yield value
    elif isinstance(value, Table):
        for _, _, child in children(value):
            yield from _quantities(child)
    elif isinstance(value, tuple):
        for item in value:
            yield from _quantities(item)


def _assumptions(value: Any, path: str) -> Iterator[tuple[str, str]]:
    if isinstance(value, Quantity):
        if value.assumed:
            yield value.path, value.text
    elif isinstance(value, Table):
        for name, one_or_many, child in children(value):
            below = f"{path}.{name}" if path else name
            if isinstance(child, str | int | float):
                silent = name in _PLAIN or child == "" or name in value.idle()
                if name not in value.model_fields_set and not silent:
                    yield below, str(child)
            elif one_or_many and len(child) == 1:
                yield from _assumptions(child[0], below)
            else:
                yield from _assumptions(child, below)
    elif isinstance(value, tuple):
        for place, item in enumerate(value):
            yield from _assumptions(item, f"{path}[{place}]")


# Left-out keys of the file's own form, which assume nothing about the design.
_PLAIN = {
    "format", "title", "notes", "name", "count", "stages", "cold_sink_number", "hot_sink_number",
}  # fmt: skip
