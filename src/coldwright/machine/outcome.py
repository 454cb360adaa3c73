"""What a solved cooler achieves, by the names and definitions of the JSON answer."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.machine.ledger import stage_of_states
from coldwright.machine.ledger_lines import (
    counted_heat,
    duct_heat_of_states,
    losses_in_place,
    wall_heat,
)
from coldwright.machine.records import End, SinkKind
from coldwright.physics.infiltration import infiltration_latent, infiltration_sensible
from coldwright.physics.moist_air import (
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_J_KG,
    ZERO_C_K,
    dew_point,
    enthalpy,
    humid_heat,
)


def outcome(coolers: Any, places: Any, results: Any) -> dict[str, Any]:
    """Every figure of a solved operating point, shape (n,) each, NaN where there is none.

    Heat that lands in the place, infiltration and net cooling are stated for the place's air in
    `results` (its level-off, a held goal, or given air). Signs are kept: a net that heats is
    negative.
    """
    c, p, r = coolers, places, results
    n_cold, n_hot = int(c["cold_sinks"][0]), int(c["hot_sinks"][0])
    groups = int(c["groups"][0])
    plate = n_cold > 0 and int(c["cold_sink"]["kind"][0, 0]) == SinkKind.PLATE_LOAD
    nothing = np.full(len(c), np.nan)
    found: dict[str, Any] = {}

    current = sum(r["module_A"][:, g] * c["group"]["parallel"][:, g] for g in range(groups))
    found["current_A"] = current
    found["voltage_V"] = r["module_V"][:, 0] * c["group"]["series"][:, 0]
    found["module_power_W"] = r["modules_W"]
    found["plug_power_W"] = r["plug_W"]
    found["pumped_W"] = sum(_pumped(c, r, g) for g in range(groups))

    if plate:
        sink = c["cold_sink"][:, 0]
        found["cooling_W"] = sink["load_W"] + sink["load_conductance_W_K"] * (
            sink["load_surroundings_K"] - r["cold_surface_K"][:, 0]
        )
        found["cooling_sensible_W"] = found["cooling_W"]
        found["cooling_latent_W"] = np.zeros(len(c))
        for name in ("cold_outlet_K", "cold_outlet_humidity_ratio", "cold_flow_m3_s"):
            found[name] = nothing
    else:
        total: Any = 0.0
        sensible: Any = 0.0
        for s in range(n_cold):
            in_K, in_water = r["cold_in_K"][:, s], r["cold_in_water"][:, s]
            out_K, out_water = r["cold_out_K"][:, s], r["cold_out_water"][:, s]
            total = total + r["cold_kg_s"] * (enthalpy(in_K, in_water) - enthalpy(out_K, out_water))
            sensible = sensible + r["cold_kg_s"] * humid_heat(in_water) * (in_K - out_K)
        # Fog gives its heat of condensation to the stream: the thermometer sees it.
        fog_rise_K = r["cold_outlet_air_K"] - r["cold_outlet_K"]
        sensible = sensible - r["cold_kg_s"] * humid_heat(r["cold_in_water"][:, 0]) * fog_rise_K
        found["cooling_W"] = total
        found["cooling_sensible_W"] = sensible
        found["cooling_latent_W"] = total - sensible
        found["cold_outlet_K"] = r["cold_outlet_air_K"]
        found["cold_outlet_humidity_ratio"] = r["cold_outlet_humidity_ratio"]
        found["cold_flow_m3_s"] = r["cold_flow_m3_s"]
    rejected: Any = 0.0
    for s in range(n_hot):
        rejected = rejected + r["hot_kg_s"] * (
            enthalpy(r["hot_out_K"][:, s], r["hot_out_water"][:, s])
            - enthalpy(r["hot_in_K"][:, s], r["hot_in_water"][:, s])
        )
    found["heat_rejected_W"] = rejected
    found["hot_outlet_K"] = r["hot_outlet_K"]
    found["hot_flow_m3_s"] = r["hot_flow_m3_s"]
    found["cold_sink_K"] = r["cold_base_K"][:, :n_cold].mean(axis=1)
    found["hot_sink_K"] = r["hot_base_K"][:, :n_hot].mean(axis=1)
    # Of several groups, the ones that limits look at.
    found["cold_face_K"] = r["cold_face_K"][:, :groups].min(axis=1)
    found["hot_face_K"] = r["hot_face_K"][:, :groups].max(axis=1)
    found["lift_K"] = (r["hot_face_K"] - r["cold_face_K"])[:, :groups].max(axis=1)
    found["condensate_kg_s"] = r["condensate_kg_s"]
    with np.errstate(invalid="ignore"):
        found["dew_point_K"] = (
            nothing if plate else dew_point(r["cold_in_water"][:, 0], c["pressure_Pa"])
        )

    added_kg_s = r["inflow_kg_s"] - r["natural_kg_s"]
    # Air that the cooler blows in holds natural infiltration off: then less comes in than without.
    states = (
        np.abs(added_kg_s),
        p["outdoor_K"],
        r["place_K"],
        p["outdoor_humidity_ratio"],
        r["place_humidity_ratio"],
    )
    sign = np.sign(added_kg_s)
    found["infiltration_sensible_W"] = sign * infiltration_sensible(*states)
    found["infiltration_latent_W"] = sign * infiltration_latent(states[0], states[3], states[4])
    found["net_cooling_W"] = found["cooling_W"] if plate else -heat_into_place(c, p, r)
    found["cop_module"] = _ratio(found["pumped_W"], r["modules_W"])
    found["cop_system"] = _ratio(found["cooling_W"], r["plug_W"])
    found["cop_net"] = _ratio(found["net_cooling_W"], r["plug_W"])
    return found


def heat_into_place(c: Any, p: Any, r: Any) -> Any:
    """Heat [W] that the cooler brings into the place, its exhaust's infiltration included."""
    place_h = enthalpy(r["place_K"], r["place_humidity_ratio"])
    # Air that is drawn in again does not reach the place.
    fresh_kg_s = (1.0 - c["cold_recirculation"]) * r["cold_kg_s"]
    heat = fresh_kg_s * (enthalpy(r["cold_outlet_K"], r["cold_outlet_water"]) - place_h)
    hot_h = enthalpy(r["exhaust_end_K"], r["hot_outlet_water"])
    fresh_kg_s = (1.0 - c["hot_recirculation"]) * r["hot_kg_s"]
    heat = heat + np.where(c["hot_sends"] == End.PLACE, fresh_kg_s * (hot_h - place_h), 0.0)
    heat = heat + np.where(c["hot_duct"]["in_place"] == 1, duct_heat_of_states(c, p, r), 0.0)
    heat = heat + losses_in_place(c, r)
    outdoor_h = enthalpy(p["outdoor_K"], p["outdoor_humidity_ratio"])
    heat = heat + (r["inflow_kg_s"] - r["natural_kg_s"]) * (outdoor_h - place_h)
    stays = np.where(c["condensate"] == 1, r["condensate_kg_s"], 0.0)
    return heat + stays * CP_LIQUID * (r["liquid_K"] - ZERO_C_K)


def heat_load(p: Any, r: Any) -> list[tuple[str, Any]]:
    """What warms the place at the air of `r`, by cause [W], the cooler apart; shape (n,) each."""
    air_K, water = r["place_K"], r["place_humidity_ratio"]
    vapour_h = LATENT_J_KG + CP_VAPOUR * (air_K - ZERO_C_K)
    outdoor_h = enthalpy(p["outdoor_K"], p["outdoor_humidity_ratio"])
    walls = sum((wall_heat(p, s, air_K) for s in range(int(p["surfaces"][0]))), np.zeros(len(p)))
    return [
        ("through the walls", walls),
        ("windows, edges and leaks", p["loss_W_K"] * (p["outdoor_K"] - air_K)),
        ("sun", p["sun_W"]),
        ("people and appliances", p["gain_W"] + p["moisture_kg_s"] * vapour_h),
        (
            "outdoor air by itself",
            r["natural_kg_s"] * (outdoor_h - enthalpy(air_K, water)) - counted_heat(p, r),
        ),
    ]


def _pumped(c: Any, r: Any, group: int) -> Any:
    g = c["group"][:, group]
    states = (r["cold_face_K"], r["middle_hot_K"], r["module_A"], r["module_A2"])
    each_W, _, _ = stage_of_states(g, "", *(state[:, group] for state in states))
    return each_W * g["series"] * g["parallel"]


def pumped_by_group(c: Any, r: Any, group: int) -> float:
    """Heat into the cold faces of one group [W], of the first case."""
    return float(np.ravel(_pumped(c, r, group))[0])


def _ratio(above: Any, below: Any) -> Any:
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(below > 0.0, above / below, np.nan)
