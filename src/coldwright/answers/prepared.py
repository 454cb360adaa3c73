"""A sheet made ready to be followed through its weather: records, forcing, control."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.design import refuse
from coldwright.answers.sheet_records import records
from coldwright.answers.steady_hour import hottest_instant, steady_at
from coldwright.errors import SheetInvalid
from coldwright.findings import Finding
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.cooler import operate
from coldwright.machine.day import PROBE_AIR, PROBE_CONTENTS, PROBE_OUTLET
from coldwright.machine.forcing import forcing_of
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.machine.rows import GAIN_W, MOISTURE, OTHER_K, OUTDOOR_K, OUTDOOR_WATER, SUN_W, WIND
from coldwright.machine.run import Control, Forcing, stopped
from coldwright.machine.sky import DAY_S, Sky, sky_of
from coldwright.machine.values import Values
from coldwright.sheet.check import check
from coldwright.sheet.models import Box, Room, Sheet

_PROBES = {"place": PROBE_AIR, "outlet": PROBE_OUTLET, "contents": PROBE_CONTENTS}


@dataclass
class Prepared:
    """Everything `machine.run` needs, for the nominal case (n = 1) or for tries."""

    sheet: Sheet
    sky: Sky
    coolers: Any
    off: Any
    places: Any
    forcing: Forcing
    control: Control
    limit_K: float
    findings: list[Finding]

    def finding(self, code: str, severity: Any, where: str, given: str, **words: str) -> Finding:
        """A finding with the line of its key."""
        return Finding(
            code, severity, where, given, words.get("allowed", ""), words.get("why", ""),
            words.get("action", ""), self.sheet.line(where), self.sheet.file,
        )  # fmt: skip


def settled_start(ready: Prepared) -> NDArray[np.float64]:
    """Start a run where the place would stand in the mean of its first day, the cooler running.

    A heavy place remembers its start for weeks; from here a repeating day soon repeats.

    Returns
    -------
    The mean weather in which the walls stand at the start, for `begin_run`.
    """
    clock, rows = ready.forcing.clock, ready.forcing.rows
    first = clock <= min(DAY_S, float(clock[-1]))
    span_s = float(clock[first][-1] - clock[first][0])
    mean: NDArray[np.float64] = np.asarray(
        np.trapezoid(rows[:, first], clock[first], axis=1) / max(span_s, 1.0)
    )
    places = ready.places.copy()
    places["outdoor_K"] = mean[:, OUTDOOR_K]
    places["outdoor_humidity_ratio"] = mean[:, OUTDOOR_WATER]
    places["wind_m_s"] = mean[:, WIND]
    places["sun_W"] = mean[:, SUN_W]
    places["gain_W"] = mean[:, GAIN_W]
    places["moisture_kg_s"] = mean[:, MOISTURE]
    for s in range(int(places["surfaces"][0])):
        places["surface"]["other_K"][:, s] = mean[:, OTHER_K + s]
    found = operate(
        ready.coolers, places, places["air_K"], places["humidity_ratio"], with_place=True
    )
    good = found["status"] == Status.SOLVED
    air_K = found["place_K"]
    thermostat = ready.sheet.cooler.thermostat
    if thermostat is not None:
        air_K = np.maximum(air_K, thermostat.air.value)
    ready.places["air_K"] = np.where(good, air_K, ready.places["air_K"])
    ready.places["humidity_ratio"] = np.where(
        good, found["place_humidity_ratio"], ready.places["humidity_ratio"]
    )
    return mean


def in_same_weather(ready: Prepared, sheet: Sheet) -> tuple[Any, Forcing]:
    """Nominal place and forcing of a changed sheet under the weather that is at hand."""
    values = Values(0)
    places = assemble_place(steady_at(sheet, ready.sky, hottest_instant(ready.sky)), values)
    return places, forcing_of(sheet, ready.sky, places, values)


def prepare(sheet: Sheet, tries: int, seed: int, *, with_cooler: bool = True) -> Prepared:
    """Assemble a sheet for its own weather.

    Raises
    ------
    SheetInvalid
        When findings allow no answer, or nothing is enclosed.
    """
    findings = check(sheet)
    refuse(findings)
    if not isinstance(sheet.place, Room | Box):
        raise SheetInvalid(
            [
                Finding(
                    "CW-PLACE-04", "stop", "place.kind", f"“{sheet.place.kind}”",
                    "“room” or “box”", "A day is followed in an enclosed place only", "",
                    sheet.line("place.kind"), sheet.file,
                )
            ]
        )  # fmt: skip
    sky = sky_of(sheet, Values(0))
    refuse(sky.findings)
    still = steady_at(sheet, sky, hottest_instant(sky))
    values = Values(tries, seed)
    if tries:
        sky = sky_of(sheet, values)
    coolers, places = records(still, values)
    thermostat = sheet.cooler.thermostat
    control = Control()
    keeps = False
    if thermostat is not None:
        proportional = thermostat.drive == "proportional"
        assert thermostat.band is not None or not proportional
        width = thermostat.band if proportional else thermostat.hysteresis
        control = Control(
            kind=2 if proportional else 1,
            hysteresis_K=float(np.mean(values(width))) if width is not None else 1.0,
            probe=_PROBES[thermostat.probe],
            least=0.0 if thermostat.minimum is None else thermostat.minimum.value,
            lag_s=thermostat.probe_lag.value,
        )
        keeps = thermostat.fans == "keep running"
    if not with_cooler:
        coolers = no_cooler(coolers)
        control = Control()
    goal = sheet.goal.air
    return Prepared(
        sheet=sheet,
        sky=sky,
        coolers=coolers,
        off=stopped(coolers, fans_keep_running=keeps or not with_cooler),
        places=places,
        forcing=forcing_of(sheet, sky, places, values),
        control=control,
        limit_K=np.inf if goal is None else goal.value,
        findings=[*findings, *sky.findings],
    )
