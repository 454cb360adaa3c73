"""What misses the goal although the place gets cold enough: time, a limit of power, a hot face."""

from __future__ import annotations

from collections.abc import Iterator

from coldwright.answers.value import Value
from coldwright.quantities.display import span_of_time
from coldwright.quantities.glossary import display
from coldwright.quantities.parsing import Quantity
from coldwright.sheet.models import Plate, Sheet


def missed(sheet: Sheet, values: dict[str, Value]) -> list[str]:
    """Why a design that levels off within its goal still misses it, as the sheet's own values say.

    Parameters
    ----------
    values : dict of str to Value
        Figures of the verdict by their names; those that are not known miss nothing.

    Returns
    -------
    list of str
        Clauses such as "the hot face reaches 62.0 °C (limit 60 degC)"; empty where the place does
        not get cold enough, and where nothing is missed.
    """
    plate = isinstance(sheet.place, Plate)
    goal = sheet.goal.plate if plate else sheet.goal.air
    level_K = values["plate_K" if plate else "place_air_K"].value
    if goal is None or level_K is None or level_K > goal.value:
        return []
    return [*_too_late(sheet, values, goal.value), *_beyond_limits(sheet, values)]


def _too_late(sheet: Sheet, values: dict[str, Value], goal_K: float) -> Iterator[str]:
    within, then = sheet.goal.within, values.get("place_air_at_limit_K")
    if within is None or then is None or then.value is None or then.value <= goal_K:
        return
    yield (
        f"after the {span_of_time(within.value)} allowed it is still at "
        f"{display('place_air_K', then.value)}"
    )


def _beyond_limits(sheet: Sheet, values: dict[str, Value]) -> Iterator[str]:
    goal, limits = sheet.goal, sheet.limits
    highest: tuple[tuple[str, str, Quantity | None], ...] = (
        ("hot_face_K", "the hot face reaches", limits.hot_face),
        ("hot_sink_K", "the hot sink reaches", limits.hot_sink),
        ("plug_power_W", "it takes", goal.max_plug_power),
        ("sound_dB", "it makes", goal.max_sound),
        ("price", "its known parts cost", goal.max_price),
    )
    lowest: tuple[tuple[str, str, Quantity | None], ...] = (
        ("cold_face_K", "the cold face falls to", limits.cold_face),
        ("cold_sink_K", "the cold sink falls to", limits.cold_sink),
    )
    for sign, rows in ((1.0, highest), (-1.0, lowest)):
        for name, clause, limit in rows:
            value = values[name].value if name in values else None
            if limit is not None and value is not None and sign * (value - limit.value) > 0.0:
                yield f"{clause} {display(name, value)} (limit {limit.text})"
    sink_K, dew_K = values["cold_sink_K"].value, values["dew_point_K"].value
    margin = limits.dew_point_margin
    if margin is None or sink_K is None or dew_K is None or sink_K - dew_K >= margin.value:
        return
    yield f"the cold sink is {sink_K - dew_K:.1f}\u2009K above the dew point (limit {margin.text})"
