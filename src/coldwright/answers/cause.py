"""What causes that a design has no steady state: the part and the law, from its own records."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.cooler import COLDEST_MEAN_K, HOTTEST_MEAN_K
from coldwright.machine.frame import MOST_FAN_RISE_K, set_flows
from coldwright.machine.records import FRAME, Properties, SinkKind, Status
from coldwright.machine.walk import COLDEST_PLACE_K, HOTTEST_K
from coldwright.physics.moist_air import humid_heat, humidity_ratio_saturated, specific_volume
from coldwright.quantities.glossary import display

# What a number of the record is called that no law has a value for.
_OF_PLACE = {
    "pressure_Pa": "the air pressure at this altitude",
    "outdoor_humidity_ratio": "the moisture of the outdoor air",
    "humidity_ratio": "the moisture of the place's air at the start",
    "loss_W_K": "the heat leak of walls, edges, windows and seals",
    "sun_W": "the sun through the windows",
    "gain_W": "what people and appliances give off",
    "moisture_kg_s": "the moisture of people and appliances",
    "leak_m3_s_Pan": "the air leakage",
    "leak_area_m2": "the air leakage",
}
_OF_GROUP = ("seebeck", "resistance", "conductance")
_OF_SINK = {"resistance_K_W": "thermal resistance", "reference_flow_m3_s": "air flow"}


def cause_of(status: Status, cooler: Any, place: Any, result: Any) -> str:
    """The sentence that names the cause, or "" where only the general reason is known.

    `cooler`, `place` and `result` are records of one case (arrays of one).
    """
    unknown = [words for name, words in _OF_PLACE.items() if not np.isfinite(place[name][0])]
    if unknown:
        return f"No law has a value for {unknown[0]}: a number of the sheet behind it cannot be."
    part = _unknown_part(cooler[0])
    if part:
        return f"No law has a value for {part}: a number of the sheet behind it cannot be."
    if status == Status.NO_FLOW:
        return _no_flow(cooler[0], place[0])
    if status == Status.SINK_TOO_GOOD:
        return _too_good(cooler[0], place[0])
    if status == Status.OUT_OF_RANGE:
        return _beyond(cooler[0], place[0], result[0])
    return ""


def _unknown_part(cooler: Any) -> str:
    for g in range(int(cooler["groups"])):
        if not all(np.isfinite(cooler["group"][g][name]) for name in _OF_GROUP):
            return "the modules' properties (no module has these ratings)"
    for side in ("cold", "hot"):
        for s in range(int(cooler[f"{side}_sinks"])):
            for name, words in _OF_SINK.items():
                if not np.isfinite(cooler[f"{side}_sink"][s][name]):
                    return f"the {side} sink's {words}"
    return ""


def _flows(cooler: Any, place: Any) -> Any:
    """Flows and conductances at the place's own air."""
    frame = np.zeros(1, dtype=FRAME)[0]
    cold = _source(place, cooler["cold_takes"] == 1)
    hot = _source(place, cooler["hot_takes"] == 1)
    set_flows(cooler, place, *cold, *hot, frame)
    return frame


def _source(place: Any, outdoors: bool) -> tuple[float, float]:
    if outdoors:
        return float(place["outdoor_K"]), float(place["outdoor_humidity_ratio"])
    return float(place["air_K"]), float(place["humidity_ratio"])


def _no_flow(cooler: Any, place: Any) -> str:
    frame = _flows(cooler, place)
    takes_out = cooler["hot_takes"] == 0 and cooler["hot_sends"] == 1 and place["enclosed"] == 1
    for side in ("cold", "hot"):
        if int(cooler[f"{side}_sinks"]) == 0:
            continue
        fan = cooler[f"{side}_fan"]
        flow_m3_s = float(frame[f"{side}_flow_m3_s"])
        fan_W = float(frame[f"{side}_fan_W"])
        if not fan["speed"] > 0.0:
            return f"The {side} fan stands still: its speed is 0."
        if flow_m3_s > 0.0:
            rate_W_K = flow_m3_s * 1.2 * 1006.0
            if fan_W >= MOST_FAN_RISE_K * rate_W_K:
                return (
                    f"The {side} fan's {display('plug_power_W', fan_W)} would warm the "
                    f"{display('hot_flow_m3_s', flow_m3_s)} that it moves by more than "
                    f"{MOST_FAN_RISE_K:.0f} K."
                )
        if side == "hot" and takes_out and not place["leak_m3_s_Pan"] > 0.0:
            return (
                "No air can come into the place for what the exhaust takes out of it: it is sealed."
            )
    return ""


def _too_good(cooler: Any, place: Any) -> str:
    frame = _flows(cooler, place)
    for side in ("cold", "hot"):
        air = _source(place, cooler[f"{side}_takes"] == 1)
        for s in range(int(cooler[f"{side}_sinks"])):
            sink = cooler[f"{side}_sink"][s]
            if sink["kind"] == SinkKind.PLATE_LOAD:
                continue
            if np.isnan(frame[f"{side}_conductance_W_K"][s]):
                flow_m3_s = float(sink["reference_flow_m3_s"])
                volume = specific_volume(*air, cooler["pressure_Pa"])
                limit = float(volume / (flow_m3_s * humid_heat(air[1]))) if flow_m3_s > 0.0 else 0.0
                if sink["kind"] == SinkKind.TABLE or not limit > 0.0:
                    return f"The {side} sink's numbers are better than any sink can be."
                return (
                    f"The {side} sink is given "
                    f"{display('thermal_resistance', float(sink['resistance_K_W']))}, but at "
                    f"{display('hot_flow_m3_s', flow_m3_s)} no sink is below "
                    f"{display('thermal_resistance', limit)}: the air cannot leave hotter than the "
                    "base."
                )
    return ""


def _beyond(cooler: Any, place: Any, result: Any) -> str:
    if result["place_K"] > 0.0:
        for g in range(int(cooler["groups"])):
            found = _beyond_modules(cooler["group"][g], result, g)
            if found:
                return found
        for s in range(int(cooler["cold_sinks"])):
            surface_K = float(result["cold_surface_K"][s])
            if not np.isfinite(humidity_ratio_saturated(surface_K, cooler["pressure_Pa"])):
                return f"The cold sink would be at {display('temperature', surface_K)}."
        place_K = float(result["place_K"])
        if not np.isfinite(humidity_ratio_saturated(place_K, cooler["pressure_Pa"])):
            return f"The place itself would be at {display('temperature', place_K)}."
        hottest_K = float(max(result["hot_outlet_K"], result["exhaust_K"]))
        return f"The hot air would leave at {display('temperature', hottest_K)}."
    frame = _flows(cooler, place)
    for side in ("cold", "hot"):
        for s in range(int(cooler[f"{side}_sinks"])):
            sink = cooler[f"{side}_sink"][s]
            if sink["kind"] == SinkKind.PLATE_FIN and np.isnan(frame[f"{side}_conductance_W_K"][s]):
                flow = display("hot_flow_m3_s", float(frame[f"{side}_flow_m3_s"]))
                return f"The {side} sink takes {flow}, more air than its correlation covers."
    coldest = display("temperature", COLDEST_PLACE_K)
    return (
        f"On the way to rest the place gets colder than {coldest} or far moister than air can be, "
        "or a part of the cooler colder still."
    )


def _beyond_modules(group: Any, result: Any, g: int) -> str:
    hot_K, cold_K = float(result["hot_face_K"][g]), float(result["cold_face_K"][g])
    if hot_K > HOTTEST_K:
        return f"The hot face would be at {display('temperature', hot_K)}."
    first_hot_K = float(result["middle_hot_K"][g])
    stages = [("", 0.5 * (cold_K + first_hot_K), group["properties"])]
    if group["stages"] == 2:
        second_K = 0.5 * (float(result["middle_cold_K"][g]) + hot_K)
        stages.append((" of the second stage", second_K, group["second_properties"]))
    for which, mean_K, properties in stages:
        outside = not COLDEST_MEAN_K <= mean_K <= HOTTEST_MEAN_K
        if properties == Properties.BISMUTH_TELLURIDE and outside:
            return (
                f"The modules' legs{which} would be at {display('temperature', mean_K)} in the "
                f"mean of both faces; the data of bismuth telluride reach from "
                f"{COLDEST_MEAN_K:.0f} to {HOTTEST_MEAN_K:.0f} K."
            )
    return ""
