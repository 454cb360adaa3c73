"""What does a day (or a year) look like? The place and its cooler through changing weather."""

from __future__ import annotations

import datetime
from dataclasses import asdict, dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.day_sentences import day_headline, day_reasons
from coldwright.answers.design import SEED
from coldwright.answers.energy import Season, money, seasons
from coldwright.answers.holding import Holding, holding
from coldwright.answers.prepared import Prepared, prepare, settled_start
from coldwright.answers.value import Value, in_ordinary_spaces, value_of
from coldwright.findings import Finding, worst_first
from coldwright.machine.day import (
    BIN_COLUMNS,
    S_ABOVE,
    S_AIR,
    S_CONDENSATE,
    S_CONTENTS,
    S_HEAT,
    S_MAX,
    S_MIN,
    S_OUTDOOR,
    S_PLUG,
    S_RUNNING,
    S_TIME,
    S_WATER,
    S_WATERS,
)
from coldwright.machine.place import AIR_J
from coldwright.machine.place_lines import HEAT_NAMES, HEATS, WATER_NAMES
from coldwright.machine.run import M_SWITCHES, State, begin_run, run_days
from coldwright.machine.sky import DAY_S
from coldwright.physics.air_state import relative_humidity
from coldwright.sheet.models import Sheet

TRIES = 100
# A day is called periodic when the place's store of heat changes the air by less than this [K].
_SETTLED_K = 0.02
_MOST_DAYS = 30
# A year without a leap day stands for every year, as in weather files.
_ANY_YEAR = 2025


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the intervals of the totals; 0 for none."""
    seed: int = SEED
    days: int | None = None
    """Days to follow; None: a repeating day until it repeats, a weather file to its end."""
    step_s: float = 30.0
    bin_s: float = 3600.0
    with_cooler: bool = True


@dataclass(frozen=True)
class Day:
    """The answer: hourly series of the last day (or of the whole stretch), and totals."""

    title: str
    file: str
    headline: str
    reasons: list[str]
    weather: str
    first_day: str
    """Day on which the series begins, as "07-14"; empty in steady weather."""
    days_followed: float
    """How long was followed until the shown stretch ended [days]."""
    series: dict[str, list[float]]
    """One number per hour: start_s, place_air_K (mean, low, high), relative_humidity, outdoor_K,
    plug_J, condensate_kg, running_share, contents_K."""
    heat_J: dict[str, list[float]]
    """Heat into the place's air per hour, by what brings it."""
    water_kg: dict[str, list[float]]
    totals: dict[str, Value]
    worst_hour_s: float
    seasons: list[Season]
    """Electricity by season, of a run of most of a year."""
    holding: list[Holding]
    findings: list[Finding]
    assumptions: dict[str, str]
    ledger_residual: float
    """Imbalance of heat over the whole stretch, relative to all that flowed."""
    tries: int

    def date(self, clock_s: float) -> datetime.date | None:
        """Day of a clock time of the series (its year does not count); None in steady weather."""
        if not self.first_day:
            return None
        month, day = (int(part) for part in self.first_day.split("-"))
        first = datetime.date(_ANY_YEAR, month, day)
        return first + datetime.timedelta(days=int(clock_s // DAY_S))

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, SI."""
        return {
            "title": self.title,
            "file": self.file,
            "headline": self.headline,
            "reasons": self.reasons,
            "weather": self.weather,
            "first_day": self.first_day,
            "days_followed": self.days_followed,
            "series": self.series,
            "heat_J": self.heat_J,
            "water_kg": self.water_kg,
            "totals": {name: value.to_json() for name, value in self.totals.items()},
            "worst_hour_s": self.worst_hour_s,
            "seasons": [each.to_json() for each in self.seasons],
            "holding": [each.to_json() for each in self.holding],
            "findings": [asdict(finding) for finding in self.findings],
            "assumptions": self.assumptions,
            "ledger_residual": self.ledger_residual,
            "tries": self.tries,
        }


def run(inputs: Inputs) -> Day:
    """Follow the design through its weather.

    Raises
    ------
    SheetInvalid
        When findings allow no answer, or the place is not a room or box.
    SolverError
        When a step cannot be solved.
    ReadingError
        When the weather file cannot be read.
    """
    nominal = prepare(inputs.sheet, 0, inputs.seed, with_cooler=inputs.with_cooler)
    followed = _follow(nominal, inputs)
    bins, days = followed.bins, followed.days
    tried = None
    if inputs.tries > 0:
        many = prepare(inputs.sheet, inputs.tries, inputs.seed, with_cooler=inputs.with_cooler)
        # Intervals need no fine steps: half a minute against two changes totals by 0.1 %.
        other = _follow(many, inputs, coarse=True, days=days)
        tried = totals_of(other.bins, other.switches)
    totals = {
        name: value_of(numbers[0], None if tried is None else tried[name])
        for name, numbers in totals_of(bins, followed.switches).items()
    }
    totals["hottest_sink_K"] = Value(float(followed.hottest_K[0]))
    money(inputs.sheet, nominal.sky, totals, _by_day(bins[0]))
    series = _series(bins[0], nominal)
    if not inputs.with_cooler:
        # Nothing is there to run, whatever the schedule allows.
        totals["running_share"] = totals["switchings_per_day"] = Value(0.0)
        series["running_share"] = [0.0] * len(series["start_s"])
    worst = int(np.argmax(bins[0, :, S_AIR] / bins[0, :, S_TIME]))
    held = []
    if inputs.with_cooler:
        lowest_K = totals["place_lowest_K"].value or 0.0
        hottest = int(np.argmax(series["outdoor_K"]))
        from_start_s = series["start_s"][hottest] - nominal.sky.day_start_s
        if nominal.forcing.period_s > 0.0:
            from_start_s %= nominal.forcing.period_s
        held = holding(inputs.sheet, nominal, lowest_K, from_start_s)
    # A day that repeats has no date of its own beyond the first.
    first_day = None if nominal.forcing.period_s > 0.0 else nominal.sky.first_day
    by_season = seasons(inputs.sheet, series["start_s"], series["plug_J"], first_day)
    findings = worst_first([*nominal.findings, *_cycles(inputs.sheet, nominal, totals)])
    if _repeats(nominal, inputs) and days >= _MOST_DAYS:
        findings.append(
            nominal.finding(
                "CW-DAY-01", "warning", "",
                f"After {_MOST_DAYS} days the day still does not repeat",
                why="The place is so heavy that it remembers its start, and its temperatures can "
                "be off by a kelvin or more",
                action="--days with a larger number",
            )
        )  # fmt: skip
    shown_days = float(bins[0, :, S_TIME].sum() / DAY_S)
    return Day(
        title=inputs.sheet.title,
        file=inputs.sheet.file,
        headline=day_headline(inputs.sheet, totals, shown_days, nominal.sky.name),
        reasons=day_reasons(
            inputs.sheet,
            series,
            totals,
            shown_days,
            worst,
            held,
            first_day=first_day,
            by_season=by_season,
        ),
        weather=nominal.sky.name,
        first_day="" if first_day is None else f"{first_day:%m-%d}",
        days_followed=days,
        series=series,
        heat_J={n: bins[0, :, S_HEAT + j].tolist() for j, n in enumerate(HEAT_NAMES)},
        water_kg={n: bins[0, :, S_WATERS + j].tolist() for j, n in enumerate(WATER_NAMES)},
        totals=totals,
        worst_hour_s=float(series["start_s"][worst]),
        seasons=by_season,
        holding=held,
        findings=findings,
        assumptions=inputs.sheet.assumptions(),
        ledger_residual=followed.residual,
        tries=inputs.tries,
    )


def _repeats(ready: Prepared, inputs: Inputs) -> bool:
    """Whether a day is followed until it repeats: then its start must not matter."""
    return ready.forcing.period_s > 0.0 and inputs.days is None


@dataclass(frozen=True)
class _Followed:
    """A run: its last state, and the sums of the stretch that is shown."""

    state: State
    bins: NDArray[np.float64]
    hottest_K: NDArray[np.float64]
    switches: NDArray[np.float64]
    residual: float
    days: float


def _follow(
    ready: Prepared, inputs: Inputs, *, coarse: bool = False, days: float | None = None
) -> _Followed:
    """Run to the end of the weather, or until a repeating day repeats."""
    place = ready.sheet.place
    told = inputs.days is not None or getattr(place, "start_air", None) is not None
    mean = None if told and not _repeats(ready, inputs) else settled_start(ready)
    state = begin_run(ready.coolers, ready.places, ready.forcing, mean)
    step_s = 120.0 if coarse else inputs.step_s

    def on(until_s: float) -> _Followed:
        stores, switches = state.stores.copy(), state.memory[:, M_SWITCHES].copy()
        bins, hottest_K = run_days(
            ready.coolers, ready.off, ready.places, ready.forcing, ready.control, state,
            until_s=until_s, step_s=step_s, bin_s=inputs.bin_s, limit_K=ready.limit_K,
        )  # fmt: skip
        heat = bins[0, :, S_HEAT : S_HEAT + HEATS]
        change = state.stores[0, AIR_J] - stores[0, AIR_J]
        residual = abs(heat.sum() - change) / max(np.abs(heat).sum(), 1.0)
        since = state.memory[:, M_SWITCHES] - switches
        return _Followed(state, bins, hottest_K, since, float(residual), until_s / DAY_S)

    if ready.forcing.period_s == 0.0:
        length = ready.sky.length_s
        return on(length if inputs.days is None else min(length, inputs.days * DAY_S))
    if inputs.days is not None:
        return on(inputs.days * DAY_S)
    if days is not None:
        if days > 1:
            on((days - 1) * DAY_S)
        return on(days * DAY_S)
    last = None
    for day in range(1, _MOST_DAYS + 1):
        found = on(day * DAY_S)
        means = found.bins[0, :, S_AIR] / found.bins[0, :, S_TIME]
        if last is not None and np.abs(means - last).max() < _SETTLED_K:
            break
        last = means
    return found


def totals_of(
    bins: NDArray[np.float64], switches: NDArray[np.float64]
) -> dict[str, NDArray[np.float64]]:
    """Totals of the shown stretch per case, shape (n,): keys as in the JSON answer."""
    assert bins.shape[2] == BIN_COLUMNS
    time_s = bins[:, :, S_TIME].sum(axis=1)
    days = time_s / DAY_S
    sums = bins.sum(axis=1)
    # What the cold air takes out of the place, and what the exhaust and own heat put back.
    cold = -sums[:, S_HEAT + HEAT_NAMES.index("cold air")]
    return {
        "place_mean_K": sums[:, S_AIR] / time_s,
        "place_highest_K": bins[:, :, S_MAX].max(axis=1),
        "place_lowest_K": bins[:, :, S_MIN].min(axis=1),
        "plug_per_day_J": sums[:, S_PLUG] / days,
        "plug_J": sums[:, S_PLUG],
        "cold_air_per_day_J": cold / days,
        "condensate_per_day_kg": sums[:, S_CONDENSATE] / days,
        "running_share": sums[:, S_RUNNING] / time_s,
        "above_goal_per_day_s": sums[:, S_ABOVE] / days,
        "above_goal_s": sums[:, S_ABOVE],
        "switchings_per_day": switches / days,
    }


def _series(bins: NDArray[np.float64], ready: Prepared) -> dict[str, list[float]]:
    time_s = bins[:, S_TIME]
    ends = np.cumsum(time_s)
    air = bins[:, S_AIR] / time_s
    water = bins[:, S_WATER] / time_s
    return {
        # Sums of steps: rounded, so that midnight is midnight.
        "start_s": np.round(ready.sky.day_start_s + ends - time_s, 3).tolist(),
        "place_air_K": air.tolist(),
        "place_lowest_K": bins[:, S_MIN].tolist(),
        "place_highest_K": bins[:, S_MAX].tolist(),
        "relative_humidity": np.asarray(
            relative_humidity(air, water, ready.sky.pressure_Pa)
        ).tolist(),
        "outdoor_K": (bins[:, S_OUTDOOR] / time_s).tolist(),
        "contents_K": (bins[:, S_CONTENTS] / time_s).tolist(),
        "plug_J": bins[:, S_PLUG].tolist(),
        "condensate_kg": bins[:, S_CONDENSATE].tolist(),
        "running_share": (bins[:, S_RUNNING] / time_s).tolist(),
    }


def _by_day(bins: NDArray[np.float64]) -> NDArray[np.float64]:
    """Electricity of each whole day of the stretch [J], shape (d,); less than a day is stretched
    to one."""
    each_J: NDArray[np.float64]
    ends_s = np.cumsum(bins[:, S_TIME])
    so_far_J = np.cumsum(bins[:, S_PLUG])
    days = int(ends_s[-1] / DAY_S + 1e-6)
    if days == 0:
        each_J = so_far_J[-1:] * (DAY_S / ends_s[-1])
        return each_J
    at_J = np.interp(DAY_S * np.arange(days + 1), [0.0, *ends_s], [0.0, *so_far_J])
    each_J = np.diff(at_J)
    return each_J


def _cycles(sheet: Sheet, ready: Prepared, totals: dict[str, Value]) -> list[Finding]:
    """Many switchings a day tire the joints of the modules."""
    count = totals["switchings_per_day"].value or 0.0
    if sheet.cooler.thermostat is None or count < 2 * 48:
        return []
    return [
        ready.finding(
            "CW-MODULE-06", "warning", "cooler.thermostat",
            f"The modules are switched {count / 2:.0f} times a day",
            allowed="a few dozen at most",
            why="Every swing strains the solder of the legs; life falls with the number of swings "
            "and faster with their size",
            action='a larger hysteresis, more mass, or drive = "proportional"',
        )
    ]  # fmt: skip
