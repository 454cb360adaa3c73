"""Where a fault begins: the running machine of a design, nominal or in its tries."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import Design, Point
from coldwright.machine.cooler import operate
from coldwright.machine.faults import as_volts, modules_without_lift
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.machine.values import Values
from coldwright.sheet.models import Sheet


@dataclass
class Start:
    """Records and solved states of a running machine, one row per case."""

    sheet: Sheet
    coolers: Any
    """Driven as a supply is: by volts or amperes, never by a wish for watts or heat."""
    places: Any
    results: Any
    values: Values
    kept: NDArray[np.int64] | None = None
    """Which tries the rows are; None: the nominal case."""
    held_K: float = 0.0
    """Temperature at which a thermostat holds the place; 0: it levels off by itself."""

    def vary(self, name: str, limit: float) -> Any:
        """Factors around 1 within a limit, one per row; the same tries for every fault."""
        found = self.values.factor(f"fault: {name}", limit)
        return found if self.kept is None or np.ndim(found) == 0 else found[self.kept]

    @property
    def enclosed(self) -> bool:
        """Whether the place has a balance of its own."""
        return bool(self.places["enclosed"][0] == 1)

    @cached_property
    def rested(self) -> Any:
        """Places as they stand after a long stop: at the air that no cooler cools."""
        places = self.places.copy()
        if self.enclosed:
            found = operate(
                no_cooler(self.coolers), places, places["air_K"], places["humidity_ratio"],
                with_place=True,
            )  # fmt: skip
            solved = found["status"] == Status.SOLVED
            places["air_K"] = np.where(solved, found["place_K"], places["air_K"])
            water = np.where(solved, found["place_humidity_ratio"], places["humidity_ratio"])
            places["humidity_ratio"] = water
            places["contents_K"] = 0.0
        return places

    @cached_property
    def switch_on_A(self) -> NDArray[np.float64]:
        """Current of the array [A] in the first moment after a long stop: no lift yet."""
        return modules_without_lift(self.coolers, self.rested["air_K"])

    @property
    def running_A(self) -> NDArray[np.float64]:
        """Current of the array [A] in the running state."""
        parallel = self.coolers["group"]["parallel"]
        return np.asarray(np.abs((self.results["module_A"] * parallel).sum(axis=1)))

    @property
    def string_A(self) -> NDArray[np.float64]:
        """Largest current of one string [A] in the running state."""
        return np.asarray(np.abs(self.results["module_A"]).max(axis=1))


def starts(design: Design, point: Point, held_K: float = 0.0) -> tuple[Start, Start | None]:
    """The nominal start of a solved design, and its tries."""
    nominal = Start(
        design.sheet, as_volts(design.cooler, point.results), design.place, point.results,
        design.values, held_K=held_K,
    )  # fmt: skip
    if design.coolers is None:
        return nominal, None
    many = operate(
        design.coolers, design.places, design.places["air_K"], design.places["humidity_ratio"],
        with_place=design.enclosed,
    )  # fmt: skip
    kept = np.flatnonzero(many["status"] == Status.SOLVED)
    if len(kept) < 20:
        return nominal, None
    volts = as_volts(design.coolers[kept], many[kept])
    tried = Start(design.sheet, volts, design.places[kept], many[kept], design.varied, kept, held_K)
    return nominal, tried
