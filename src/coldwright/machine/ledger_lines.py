"""Lines of the ledger outside the modules and sinks: fans, electricity, exhaust, place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.machine.records import Condensate, End
from coldwright.physics.duct_heat import duct_heat_loss, duct_surface_heat
from coldwright.physics.moist_air import (
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_J_KG,
    ZERO_C_K,
    enthalpy,
    humid_heat,
    humidity_ratio_saturated,
    temperature_at_enthalpy,
)


@dataclass(frozen=True)
class Line:
    """One flow into a node (negative: out of it), for all cases."""

    node: str
    what: str
    amount: Any


def _sources(c: Any, p: Any, r: Any) -> tuple[Any, Any, Any, Any]:
    outdoors = c["cold_takes"] == End.OUTDOORS
    cold_K = np.where(outdoors, p["outdoor_K"], r["place_K"])
    cold_water = np.where(outdoors, p["outdoor_humidity_ratio"], r["place_humidity_ratio"])
    outdoors = c["hot_takes"] == End.OUTDOORS
    hot_K = np.where(outdoors, p["outdoor_K"], r["place_K"])
    hot_water = np.where(outdoors, p["outdoor_humidity_ratio"], r["place_humidity_ratio"])
    return cold_K, cold_water, hot_K, hot_water


def fan_lines(c: Any, p: Any, r: Any, n_cold: int, n_hot: int) -> list[Line]:
    """Fan heat by the stream's temperatures, on whichever side of the sink the fan stands."""
    cold_K, cold_water, hot_K, hot_water = _sources(c, p, r)
    lines: list[Line] = []
    if n_cold and np.any(r["cold_kg_s"] > 0.0):
        share = c["cold_recirculation"]
        outlet_K, outlet_water = r["cold_outlet_K"], r["cold_outlet_water"]
        in_K, in_water = _mixed(share, cold_K, cold_water, outlet_K, outlet_water)
        after = c["cold_fan"]["after_sink"] == 1
        last = n_cold - 1
        before_K = np.where(after, r["cold_out_K"][:, last], in_K)
        behind_K = np.where(after, outlet_K, r["cold_in_K"][:, 0])
        fan_water = np.where(after, r["cold_out_water"][:, last], in_water)
        rise_W = r["cold_kg_s"] * humid_heat(fan_water) * (behind_K - before_K)
        lines += [
            Line("cold fan", "electricity", r["cold_fan_W"]),
            Line("cold fan", "warms the air", -rise_W),
        ]
    if n_hot:
        share = c["hot_recirculation"]
        outlet_K = r["hot_outlet_K"]
        in_K, in_water = _mixed(share, hot_K, hot_water, r["exhaust_end_K"], r["hot_outlet_water"])
        after = c["hot_fan"]["after_sink"] == 1
        last = n_hot - 1
        before_K = np.where(after, r["hot_out_K"][:, last], in_K)
        behind_K = np.where(after, outlet_K, r["hot_in_K"][:, 0])
        fan_water = np.where(after, r["hot_out_water"][:, last], in_water)
        rise_W = r["hot_kg_s"] * humid_heat(fan_water) * (behind_K - before_K)
        lines += [
            Line("hot fan", "electricity", r["hot_fan_W"]),
            Line("hot fan", "warms the air", -rise_W),
        ]
    return lines


def _mixed(share: Any, fresh_K: Any, fresh_water: Any, again_K: Any, again_water: Any) -> Any:
    """Temperature and water of fresh air with this share of outlet air drawn in again."""
    water = fresh_water + share * (again_water - fresh_water)
    mixed_h = (1.0 - share) * enthalpy(fresh_K, fresh_water)
    mixed_h = mixed_h + np.where(share > 0.0, share * enthalpy(again_K, again_water), 0.0)
    return np.where(share > 0.0, temperature_at_enthalpy(mixed_h, water), fresh_K), water


def electric_lines(c: Any, r: Any, modules_W: Any, leads_W: Any) -> list[Line]:
    """Electricity from the plug to whatever takes it."""
    power = c["power"]
    converter_W = _lost(power, "converter", modules_W + leads_W)
    lines = [
        Line("electricity", "from the plug", r["plug_W"]),
        Line("electricity", "into the modules", -modules_W),
        Line("electricity", "lost in the wires", -leads_W),
        Line("electricity", "lost in the converter", -converter_W),
        Line("electricity", "into the fans", -(r["cold_fan_W"] + r["hot_fan_W"])),
        Line("electricity", "into pumps", -r["pumps_W"]),
        Line("electricity", "into the controller", -(power["controller_W"] - power["extra_W"])),
        Line("electricity", "lost in joints, fuses, switch and fan drives", -power["extra_W"]),
    ]
    supply_W = _lost(power, "supply", r["plug_W"] - r["supply_W"])
    lines.append(Line("electricity", "lost in the supply", -supply_W))
    return [line for line in lines if np.any(line.amount != 0.0)]


def _lost(power: Any, part: str, load_W: Any) -> Any:
    """Loss [W] of the supply or converter at this output, by its efficiency curve."""
    n = int(power[f"{part}_points"][0])
    if n == 0:
        return np.zeros_like(load_W)
    share = load_W / power[f"{part}_rated_W"]
    tables = zip(share, power[f"{part}_load"], power[f"{part}_efficiency"], strict=True)
    efficiency = np.array([np.interp(x, xs[:n], ys[:n]) for x, xs, ys in tables])
    return load_W * (1.0 / efficiency - 1.0)


def exhaust_lines(c: Any, p: Any, r: Any) -> list[Line]:
    """The hot stream from the fan to the end of its duct."""
    power = c["power"]
    rate_W_K = r["hot_kg_s"] * humid_heat(r["hot_outlet_water"])
    added_W = np.where(power["supply_at"] == End.EXHAUST, r["supply_W"], 0.0)
    added_W = added_W + np.where(power["converter_at"] == End.EXHAUST, r["converter_W"], 0.0)
    added_W = added_W + np.where(
        power["lead_at"] == End.EXHAUST, r["leads_W"] + power["controller_W"], 0.0
    )
    return [
        Line("exhaust", "what the supply and converter lose into it", added_W),
        Line("exhaust", "lost from the duct", -duct_heat_of_states(c, p, r)),
        Line(
            "exhaust",
            "carried out by the air",
            -rate_W_K * (r["exhaust_end_K"] - r["hot_outlet_K"]),
        ),
    ]


def duct_heat_of_states(c: Any, p: Any, r: Any) -> Any:
    """Heat [W] that the hot duct gives to its surroundings, by its own law."""
    duct = c["hot_duct"]
    around_K = np.where(duct["in_place"] == 1, r["place_K"], p["outdoor_K"])
    area_m2 = np.pi * duct["diameter_m"] * duct["length_m"]
    with np.errstate(divide="ignore", invalid="ignore"):
        per_W_K = area_m2 / (1.0 / duct["outer_W_m2K"] + duct["insulation_m2K_W"])
    rate_W_K = r["hot_kg_s"] * humid_heat(r["hot_outlet_water"])
    along_W = duct_heat_loss(r["exhaust_K"], around_K, per_W_K, rate_W_K)
    with np.errstate(invalid="ignore"):
        measured_W = duct_surface_heat(duct["outer_W_m2K"], area_m2, duct["surface_K"], around_K)
    found_W = np.where(np.isnan(duct["surface_K"]), along_W, measured_W)
    return np.where(area_m2 > 0.0, found_W, 0.0)


def losses_in_place(c: Any, r: Any) -> Any:
    """Electrical losses [W] that land in the place."""
    power = c["power"]
    total = np.where(power["supply_at"] == End.PLACE, r["supply_W"], 0.0)
    total = total + np.where(power["converter_at"] == End.PLACE, r["converter_W"], 0.0)
    return total + np.where(
        power["lead_at"] == End.PLACE, r["leads_W"] + power["controller_W"], 0.0
    )


def wall_heat(p: Any, s: int, air_K: Any) -> Any:
    """Steady heat [W] through surface `s` into the place."""
    surface = p["surface"][:, s]
    resistance = surface["film_in_m2K_W"] + surface["film_out_m2K_W"]
    resistance = resistance + surface["layer_m2K_W"].sum(axis=1)
    with np.errstate(divide="ignore"):
        u_W_m2K = np.where(surface["layers"] > 0, 1.0 / resistance, surface["u_W_m2K"])
    return u_W_m2K * surface["area_m2"] * (surface["other_K"] - air_K)


def counted_heat(p: Any, r: Any) -> Any:
    """Sensible heat [W] of the natural inflow that a known heat loss of the place counts."""
    warm_J_kgK = humid_heat(p["outdoor_humidity_ratio"])
    return r["counted_kg_s"] * warm_J_kgK * (p["outdoor_K"] - r["place_K"])


def place_lines(c: Any, p: Any, r: Any, liquid_W: Any) -> tuple[list[Line], list[Line]]:
    """Heat and water at the place's air."""
    air_K, air_water = r["place_K"], r["place_humidity_ratio"]
    place_h = enthalpy(air_K, air_water)
    outdoor_h = enthalpy(p["outdoor_K"], p["outdoor_humidity_ratio"])
    # Air that is drawn in again does not reach the place.
    cold_kg_s = (1.0 - c["cold_recirculation"]) * r["cold_kg_s"]
    hot_kg_s = (1.0 - c["hot_recirculation"]) * r["hot_kg_s"]
    heat = [
        Line("place", "walls", sum(wall_heat(p, s, air_K) for s in range(int(p["surfaces"][0])))),
        Line("place", "windows, edges and leaks", p["loss_W_K"] * (p["outdoor_K"] - air_K)),
        Line("place", "sun", p["sun_W"]),
        Line("place", "people and appliances", p["gain_W"]),
        Line(
            "place",
            "their moisture",
            p["moisture_kg_s"] * (LATENT_J_KG + CP_VAPOUR * (air_K - ZERO_C_K)),
        ),
        Line(
            "place",
            "outdoor air through the gaps",
            r["inflow_kg_s"] * (outdoor_h - place_h) - counted_heat(p, r),
        ),
        Line(
            "place",
            "cold air",
            cold_kg_s * (enthalpy(r["cold_outlet_K"], r["cold_outlet_water"]) - place_h),
        ),
        Line("place", "losses of supply, converter and wires", losses_in_place(c, r)),
    ]
    water = [
        Line("place", "people and appliances", p["moisture_kg_s"]),
        Line(
            "place",
            "outdoor air through the gaps",
            r["inflow_kg_s"] * (p["outdoor_humidity_ratio"] - air_water),
        ),
        Line("place", "cold air", cold_kg_s * (r["cold_outlet_water"] - air_water)),
    ]
    sends = np.where(c["hot_sends"] == End.PLACE, 1.0, 0.0)
    if np.any(sends > 0.0):
        hot_h = enthalpy(r["exhaust_end_K"], r["hot_outlet_water"])
        heat.append(Line("place", "hot air", sends * hot_kg_s * (hot_h - place_h)))
        water.append(
            Line("place", "hot air", sends * hot_kg_s * (r["hot_outlet_water"] - air_water))
        )
    in_place = np.where(c["hot_duct"]["in_place"] == 1, 1.0, 0.0)
    if np.any(in_place * c["hot_duct"]["diameter_m"] > 0.0):
        heat.append(Line("place", "hot duct", in_place * duct_heat_of_states(c, p, r)))
    stays = np.where(c["condensate"] == Condensate.STAYS, 1.0, 0.0)
    if np.any(stays > 0.0):
        heat.append(Line("place", "condensate that stays", stays * liquid_W))
        water.append(Line("place", "condensate that stays", stays * r["condensate_kg_s"]))
    saturated = humidity_ratio_saturated(air_K, p["pressure_Pa"])
    sweat_kg_s = p["sweat_kg_s"] * np.maximum(air_water - saturated, 0.0)
    if np.any(sweat_kg_s > 0.0):
        water.append(Line("place", "water on the walls", -sweat_kg_s))
        heat.append(
            Line("place", "water on the walls", -sweat_kg_s * CP_LIQUID * (air_K - ZERO_C_K))
        )
    return heat, water
