"""The state that the safety rules look at: the worst of the points that an answer has solved."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from coldwright.answers.value import known
from coldwright.machine.safety import State, exhausts
from coldwright.physics.air_state import humidity_ratio_saturated
from coldwright.sheet.models import Box, Room, Sheet

if TYPE_CHECKING:
    from coldwright.answers.design import Point

# Outdoor air enters as mass; the rules count its volume at about 20 °C [kg/m3].
_AIR_KG_M3 = 1.2


def worst_state(sheet: Sheet, place: Any, points: tuple[Point, ...]) -> State:
    """The worst over some solved points, at the nominal values and the bound of their tries."""
    pressure_Pa, outdoor_K = (float(place[name][0]) for name in ("pressure_Pa", "outdoor_K"))
    results = [point.results for point in points]
    share = None
    if sheet.power is not None and sheet.power.supply is not None:
        rated_W = sheet.power.supply.rated_power.value
        share = max(float((r["plug_W"] - r["supply_W"])[0]) for r in results) / rated_W
    dew = [known(point.nominal["dew_point_K"]) for point in points]
    enclosed = isinstance(sheet.place, Room | Box)
    return State(
        place_pressure_Pa=max(float(r["place_pressure_Pa"][0]) for r in results),
        hot_face_K=max(point.nominal["hot_face_K"] for point in points),
        hot_sink_K=max(point.nominal["hot_sink_K"] for point in points),
        cold_face_K=min(point.nominal["cold_face_K"] for point in points),
        cold_sink_K=min(point.nominal["cold_sink_K"] for point in points),
        dew_point_K=max((d for d in dew if d is not None), default=None),
        condensate_kg_s=max(point.nominal["condensate_kg_s"] for point in points),
        fog_ratio=max(float(r["fog_ratio"][0]) for r in results),
        supply_share=share,
        saturated=any(
            float(r["place_humidity_ratio"][0])
            > float(humidity_ratio_saturated(r["place_K"][0], pressure_Pa))
            for r in results
        ),
        hot_sink_high_K=_high(points, "hot_sink_K"),
        exhaust_K=max(point.nominal["hot_outlet_K"] for point in points),
        place_K=max(float(r["place_K"][0]) for r in results),
        outdoor_K=outdoor_K,
        exhaust_m3_s=_exhaust_m3_s(sheet, results),
        fresh_air_m3_s=_fresh_air_m3_s(sheet, results) if enclosed else None,
        plug_W=max(point.nominal["plug_power_W"] for point in points),
        array_V=max(point.nominal["voltage_V"] for point in points),
    )


def _high(points: tuple[Point, ...], name: str) -> float | None:
    bounds = [point.value(name).high for point in points]
    return max((bound for bound in bounds if bound is not None), default=None)


def _exhaust_m3_s(sheet: Sheet, results: list[Any]) -> float:
    if not exhausts(sheet):
        return 0.0
    again = sheet.cooler.hot_recirculation.value
    return max(float(r["hot_flow_m3_s"][0]) for r in results) * (1.0 - again)


def _fresh_air_m3_s(sheet: Sheet, results: list[Any]) -> float:
    """Outdoor air into the place [m3/s]: through gaps, and through either side of the cooler."""
    cooler = sheet.cooler
    through = []
    if cooler.cold_takes_from == "outdoors" and cooler.cold_sends_to == "place":
        through.append(("cold_flow_m3_s", cooler.cold_recirculation.value))
    if cooler.hot_takes_from == "outdoors" and cooler.hot_sends_to == "place":
        through.append(("hot_flow_m3_s", cooler.hot_recirculation.value))
    flows = [
        float(r["inflow_kg_s"][0]) / _AIR_KG_M3
        + sum(float(r[name][0]) * (1.0 - again) for name, again in through)
        for r in results
    ]
    return float(np.min(flows))
