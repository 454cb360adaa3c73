"""Does it make sense? Where the place levels off and when, against the goal, and why."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coldwright.answers.alternatives import Alternative, alternatives
from coldwright.answers.compare import best_alternative, scene_of
from coldwright.answers.design import SEED, TRIES, Design, Point, limits_kept
from coldwright.answers.fault.hot_fan_end import hot_fan_finding
from coldwright.answers.hottest_hour import clock_of, followed_values, moment_judged
from coldwright.answers.judge import Word, nothing_to_cool, starts_warmer, word_of
from coldwright.answers.laws import sources_of
from coldwright.answers.missed import missed
from coldwright.answers.prices import known_price, own_currency
from coldwright.answers.sentences import (
    cause_words,
    needless_headline,
    refusal_headline,
    verdict_headline,
)
from coldwright.answers.value import Value, in_ordinary_spaces, value_of
from coldwright.answers.verdict_reasons import verdict_reasons
from coldwright.answers.watts import Entry, WaterEntry, entries, point_values, water_entries
from coldwright.answers.wiring_advice import wiring_advice
from coldwright.errors import NoSolution
from coldwright.findings import Finding, worst_first
from coldwright.machine.cooler import operate
from coldwright.machine.outcome import heat_load
from coldwright.machine.pulldown import AIR_K, no_cooler, pull_down, step_times
from coldwright.machine.records import Drive, Status
from coldwright.sheet.models import OpenAir, Plate, Sheet

# Where the goal names no time, the pull-down is shown over this one [s].
_SHOWN_S = 3600.0
# "Never" is said only when the place has not arrived after this time [s].
_LONGEST_S = 14 * 86400.0


@dataclass(frozen=True)
class Inputs:
    """What the answer needs."""

    sheet: Sheet
    tries: int = TRIES
    """Tries for the intervals; 0 for none (then the nominal case alone decides)."""
    seed: int = SEED


@dataclass(frozen=True)
class Verdict:
    """The answer to "Does it make sense?"."""

    title: str
    file: str
    verdict: Word | None
    headline: str
    reasons: list[str]
    values: dict[str, Value]
    heat_load: list[tuple[str, Value]]
    alternatives: list[Alternative]
    reached: int
    tries: int
    solved: int
    counted: int
    """Tries that the share is told of: all but those of things that cannot be."""
    currency: str
    """Currency of the prices; empty where the sheet has none."""
    causes: dict[str, str]
    """What a cause of the heat load is called with this sheet, where it stands for several."""
    history: dict[str, list[float]]
    ledger: list[Entry]
    water_ledger: list[WaterEntry]
    ledger_residual_W: float
    findings: list[Finding]
    assumptions: dict[str, str]
    widest: dict[str, list[tuple[str, float]]]
    judged_at: str = ""
    """Clock time of the judged moment in changing weather; the place's air is then that of the
    hottest hour that is followed."""
    sources: list[str] = field(default_factory=list)

    @in_ordinary_spaces
    def to_json(self) -> dict[str, Any]:
        """One object, keys in SI by the glossary's names."""
        return {
            "title": self.title,
            "file": self.file,
            "verdict": self.verdict,
            "headline": self.headline,
            "reasons": self.reasons,
            **{name: value.to_json() for name, value in self.values.items()},
            "heat_load_W": {cause: value.to_json() for cause, value in self.heat_load},
            "alternatives": [each.to_json() for each in self.alternatives],
            "reached_tries": self.reached,
            "tries": self.tries,
            "solved_tries": self.solved,
            "counted_tries": self.counted,
            "judged_at": self.judged_at,
            "currency": self.currency,
            "history": self.history,
            "ledger": [asdict(entry) for entry in self.ledger],
            "ledger_residual_W": self.ledger_residual_W,
            "water_ledger": [asdict(entry) for entry in self.water_ledger],
            "findings": [asdict(finding) for finding in self.findings],
            "assumptions": self.assumptions,
            "widest": {
                name: [{"input": path, "share": share} for path, share in shares]
                for name, shares in self.widest.items()
            },
            "sources": self.sources,
        }


def run(inputs: Inputs) -> Verdict:
    """Judge the design against its goal.

    Raises
    ------
    SheetInvalid
        When findings allow no answer (an exhaust beside an open flame among them).
    NoSolution
        When the design has no steady state.
    """
    design = Design(inputs.sheet, inputs.tries, inputs.seed)
    point = design.solve(with_place=design.enclosed)
    values = point_values(design, point)
    values["price"] = Value(known_price(inputs.sheet))
    if inputs.sheet.price is not None and inputs.sheet.price.electricity is not None:
        values["price_per_day"] = _scaled(
            values["plug_power_W"], 86400.0 * inputs.sheet.price.electricity.value
        )
    if design.enclosed:
        return _of_place(inputs, design, point, values)
    return _of_state(inputs, design, point, values)


def _of_state(inputs: Inputs, design: Design, point: Point, values: dict[str, Value]) -> Verdict:
    """Open air has no verdict; a plate is judged by its steady temperature."""
    sheet = inputs.sheet
    word: Word | None = None
    reached = 0
    if isinstance(sheet.place, Plate):
        values["plate_K"] = values["cold_sink_K"]
        goal = sheet.goal.plate
        values["goal_air_K"] = Value(None if goal is None else goal.value)
        if goal is not None:
            word, reached = _judge(design, point, values, goal.value, None, None)
    elif isinstance(sheet.place, OpenAir):
        values["goal_air_K"] = Value(None)
    return _answer(inputs, design, [point], values, word, reached, [], [], {})


def _of_place(inputs: Inputs, design: Design, point: Point, values: dict[str, Value]) -> Verdict:
    sheet = inputs.sheet
    goal = sheet.goal.air
    within_s = _SHOWN_S if sheet.goal.within is None else sheet.goal.within.value
    absent, absent_tried = _at_rest(design)
    values["place_air_off_K"] = value_of(absent, absent_tried)
    stopped, stopped_tried = _stopped(design)
    values["place_air_stopped_K"] = value_of(stopped, stopped_tried, point.solved)
    values["goal_air_K"] = Value(None if goal is None else goal.value)
    scene = scene_of(design, sheet, point)
    level_K = point.nominal["place_K"]
    followed_K = None if scene is None else followed_values(scene, point, values)
    stored_K = followed_K or 0.0

    times = step_times(within_s)
    nominal, _ = pull_down(design.cooler, design.place, times)
    tried_air = None
    if design.coolers is not None:
        history, status = pull_down(design.coolers, design.places, times)
        if point.counted is not None and point.solved is not None:
            # A sink near the bound may pass it on the way down, where the air is thinner.
            for end in (Status.SINK_TOO_GOOD, Status.BAD_INPUT):
                late = point.counted & point.solved & (status == end)
                point.counted &= ~late
                point.reasons[end] = point.reasons.get(end, 0) + int(late.sum())
        tried_air = np.where((status == Status.SOLVED)[:, None], history[:, :, AIR_K], np.nan)
    values["place_air_at_limit_K"] = value_of(
        nominal[0, -1, AIR_K], None if tried_air is None else tried_air[:, -1], point.solved
    )

    word: Word | None = None
    reached = 0
    load: list[tuple[str, Value]] = []
    points = [point]
    if goal is not None:
        load = _load_at_goal(design, goal.value, values, points)
        word, reached = _judge(
            design, point, values, goal.value, nominal[0, :, AIR_K], tried_air, stored_K
        )
        _time_to_goal(design, point, values, goal.value, times, nominal, tried_air, stored_K)
    shown = {"time_s": times.tolist(), "place_air_K": nominal[0, :, AIR_K].tolist()}
    if tried_air is not None and np.isfinite(tried_air).any():
        low, high = np.nanpercentile(tried_air, [5, 95], axis=0)
        shown["place_air_low_K"], shown["place_air_high_K"] = low.tolist(), high.tolist()
    others = alternatives(design, None if goal is None else goal.value)
    return _answer(
        inputs, design, points, values, word, reached, load, others, shown,
        moment_judged(design, scene, level_K, followed_K), best_alternative(scene),
        followed=followed_K is not None,
    )  # fmt: skip


def _answer(
    inputs: Inputs,
    design: Design,
    points: list[Point],
    values: dict[str, Value],
    word: Word | None,
    reached: int,
    load: list[tuple[str, Value]],
    others: list[Alternative],
    shown: dict[str, list[float]],
    moment: list[str] | None = None,
    others_say: str = "",
    *,
    followed: bool = False,
) -> Verdict:
    sheet, point = inputs.sheet, points[0]
    own_findings = [*design.findings(*points), *wiring_advice(design, point)]
    findings = worst_first([*own_findings, *hot_fan_finding(design, point)])
    stops = [finding for finding in findings if finding.severity == "stop"]
    counted = 0 if point.counted is None else int(point.counted.sum())
    if needless := nothing_to_cool(design, values, followed=followed):
        findings = worst_first([*findings, needless])
    misses = missed(sheet, values) if word is not None else []
    tries = (reached, counted, inputs.tries)
    headline = verdict_headline(sheet, word, values, tries, misses, followed=followed)
    if needless and word is not None:
        own = headline if starts_warmer(design) else ""
        headline = needless_headline(sheet, values, own, followed=followed)
    causes = cause_words(sheet)
    named = [(causes.get(cause, cause), value) for cause, value in load]
    if stops:
        word = "no"
        headline = refusal_headline(stops)
    figures: dict[str, Any] = {}
    if point.tried is not None:
        figures = {
            name: point.tried[name] for name in ("cooling_W", "net_cooling_W", "plug_power_W")
        }
        if design.enclosed:
            figures["place_air_K"] = point.tried["place_K"]
        elif isinstance(sheet.place, Plate):
            figures["plate_K"] = point.tried["cold_sink_K"]
    return Verdict(
        title=sheet.title,
        file=sheet.file,
        verdict=word,
        headline=headline,
        reasons=[
            *(moment or []),
            *verdict_reasons(sheet, values, named, others),
            *([others_say] if others_say else []),
        ],
        values=values,
        heat_load=load,
        alternatives=others,
        reached=reached,
        tries=inputs.tries,
        solved=0 if point.solved is None else int(point.solved.sum()),
        counted=counted,
        currency=own_currency(sheet),
        causes=causes,
        history=shown,
        ledger=entries(point.book.heat),
        water_ledger=water_entries(point.book.water),
        ledger_residual_W=float(np.max(point.book.residual_W())),
        findings=findings,
        assumptions=sheet.assumptions(),
        widest={} if point.solved is None else design.widest_of(figures, point.solved),
        judged_at=clock_of(design) if followed else "",
        sources=sources_of(sheet),
    )


def _at_rest(design: Design) -> tuple[float, NDArray[Any] | None]:
    """Where the place stands with no cooler in it: nominal, and per try."""
    found: list[NDArray[Any]] = []
    for coolers, places in ((design.cooler, design.place), (design.coolers, design.places)):
        if coolers is None:
            return float(found[0][0]), None
        air, water = places["air_K"], places["humidity_ratio"]
        results = operate(no_cooler(coolers), places, air, water, with_place=True)
        found.append(np.where(results["status"] == Status.SOLVED, results["place_K"], np.nan))
    return float(found[0][0]), found[1]


def _stopped(design: Design) -> tuple[float, NDArray[Any] | None]:
    """Where the place stands with the modules switched off (open circuit), the fans running."""
    try:
        point = design.solve(with_place=True, changed={"group.drive": int(Drive.OFF)})
    except NoSolution:
        return np.nan, None
    return point.nominal["place_K"], None if point.tried is None else point.tried["place_K"]


def _load_at_goal(
    design: Design, goal_K: float, values: dict[str, Value], points: list[Point]
) -> list[tuple[str, Value]]:
    """Heat load by cause and net cooling with the place held at the goal."""
    try:
        held = design.solve(with_place=True, air=goal_K, held=True)
    except NoSolution:
        return []
    points.append(held)
    for name in ("net_cooling_W", "infiltration_sensible_W", "infiltration_latent_W"):
        values[name] = held.value(name)
    values["cop_net"] = held.value("cop_net")
    values["cooling_at_goal_W"] = held.value("cooling_W")
    nominal = heat_load(design.place, held.results)
    rows = []
    tried: dict[str, NDArray[Any]] = {}
    if design.coolers is not None:
        tried = dict(heat_load(design.places, held.tried_results))
    for cause, heat_W in nominal:
        rows.append((cause, value_of(heat_W[0], tried.get(cause), held.solved)))
    total = sum(heat_W[0] for _, heat_W in nominal)
    total_tried = sum(tried.values()) if tried else None
    values["load_at_goal_W"] = value_of(total, total_tried, held.solved)
    return rows


def _judge(
    design: Design,
    point: Point,
    values: dict[str, Value],
    goal_K: float,
    nominal_air: NDArray[Any] | None,
    tried_air: NDArray[Any] | None,
    stored_K: float = 0.0,
) -> tuple[Word, int]:
    """Count the tries that reach the goal in time, hold it, and keep every limit.

    In changing weather it is held in the hottest hour: `stored_K` from the level at the moment.
    """
    in_time = design.sheet.goal.within is not None
    price = values["price"].value
    key = "place_K" if nominal_air is not None else "cold_sink_K"

    def reaches(figures: dict[str, Any], air: NDArray[Any] | None, sound: Any) -> NDArray[np.bool_]:
        kept = limits_kept(design, figures, sound, price)
        kept &= figures[key] + stored_K <= goal_K
        if in_time and air is not None:
            coolest_K = np.nanmin(np.where(np.isnan(air), np.inf, air), axis=-1)
            kept &= coolest_K + min(stored_K, 0.0) <= goal_K
        return kept

    if point.tried is None or point.solved is None:
        figures = {name: np.atleast_1d(number) for name, number in point.nominal.items()}
        air = None if nominal_air is None else nominal_air[None, :]
        done = bool(reaches(figures, air, values["sound_dB"].value)[0])
        return ("yes" if done else "no"), int(done)
    good = reaches(point.tried, tried_air, design.sound_tried()) & point.solved
    return word_of(good, point.counted)


def _time_to_goal(
    design: Design,
    point: Point,
    values: dict[str, Value],
    goal_K: float,
    times: NDArray[Any],
    nominal: NDArray[Any],
    tried_air: NDArray[Any] | None,
    stored_K: float,
) -> None:
    """Time at which the place first is at the goal; None for never, and for never to stay.

    Nothing is said where it gets there only because the weather does not stay as it is.
    """
    level_K = point.nominal["place_K"]
    if level_K + stored_K > goal_K and nominal[0, 0, AIR_K] <= goal_K:
        values["time_to_goal_s"] = Value(None)
        return
    if level_K > goal_K >= level_K + stored_K:
        return
    first = float(crossing(times, nominal[:, :, AIR_K], goal_K)[0])
    if not np.isfinite(first) and point.nominal["place_K"] < goal_K:
        # It gets there, but later than the goal allows: look further, with coarser steps.
        long = np.concatenate([times, times[-1] + step_times(_LONGEST_S, 90, first_s=16.0)[1:]])
        further, _ = pull_down(design.cooler, design.place, long)
        first = float(crossing(long, further[:, :, AIR_K], goal_K)[0])
    tried = None
    if tried_air is not None and np.isfinite(first) and first <= times[-1]:
        tried = crossing(times, tried_air, goal_K)
    values["time_to_goal_s"] = value_of(first, tried, point.solved)


def _scaled(value: Value, factor: float) -> Value:
    low, high = value.low, value.high
    return Value(
        None if value.value is None else value.value * factor,
        None if low is None else low * factor,
        None if high is None else high * factor,
    )


def crossing(times: NDArray[Any], air: NDArray[Any], goal_K: float) -> NDArray[Any]:
    """First time [s] at which each row of `air`, shape (n, m), is at or below the goal; inf: never.

    Between two steps the curve is taken as straight.
    """
    below = air <= goal_K
    at = np.argmax(below, axis=1)
    found = np.full(len(air), np.inf)
    rows = np.flatnonzero(below.any(axis=1))
    k = at[rows]
    found[rows] = times[0]
    later = rows[k > 0]
    k = k[k > 0]
    above, under = air[later, k - 1], air[later, k]
    found[later] = times[k - 1] + (times[k] - times[k - 1]) * (above - goal_K) / (above - under)
    return found
