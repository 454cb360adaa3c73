"""The ledger: every watt and every gram followed from where it enters a node to where it leaves.

Each line is computed here from the solved *states* by the law of that line, apart from the solver,
over all cases at once. Nothing is a remainder: at every node the lines must add up to nothing, and
they do only if the states solve the equations.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.errors import LedgerError
from coldwright.machine.records import Condensate, End, Properties, SinkKind
from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_conductivity,
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
)
from coldwright.physics.duct_heat import duct_heat_loss, duct_surface_heat
from coldwright.physics.moist_air import (
    CP_LIQUID,
    CP_VAPOUR,
    LATENT_J_KG,
    ZERO_C_K,
    enthalpy,
    humid_heat,
    humidity_ratio_saturated,
    liquid_enthalpy,
)
from coldwright.physics.thermoelectric import cold_side_heat, hot_side_heat

# Largest imbalance of a node, relative to the largest of plug power, any line, and 1 W.
ALLOWED = 1e-8


@dataclass(frozen=True)
class Line:
    """One flow into a node (negative: out of it), for all cases."""

    node: str
    what: str
    amount: Any


@dataclass(frozen=True)
class Ledger:
    """Heat [W] and water [kg/s] per node, and how far each is from balancing."""

    heat: list[Line]
    water: list[Line]
    plug_W: Any

    def residual_W(self) -> Any:
        """Largest imbalance of any node [W], per case."""
        return _largest_sum(self.heat)

    def water_residual_kg_s(self) -> Any:
        """Largest imbalance of water of any node [kg/s], per case."""
        return _largest_sum(self.water)

    def relative_residual(self) -> Any:
        """Residual over max(plug power, largest line, 1 W), heat and water (as latent heat)."""
        scale = np.maximum(np.abs(self.plug_W), 1.0)
        for line in self.heat:
            scale = np.maximum(scale, np.abs(line.amount))
        return np.maximum(self.residual_W(), self.water_residual_kg_s() * LATENT_J_KG) / scale

    def require_closed(self) -> None:
        """Raise `LedgerError` where any case does not close: such a result is no result."""
        worst = np.max(self.relative_residual(), initial=0.0)
        if not worst <= ALLOWED:
            raise LedgerError(
                f"the heat balance does not close: {worst:.1e} of the largest flow "
                f"(allowed {ALLOWED:.0e})",
                residual_W=float(np.max(self.residual_W())),
            )


def ledger(coolers: Any, places: Any, results: Any, *, with_place: bool) -> Ledger:
    """Follow heat and water through solved cases (`status` SOLVED), all of one layout.

    Parameters
    ----------
    coolers, places, results
        Record arrays of equal shape (n,); the numbers of sinks and groups are those of the first.
    with_place
        Whether the place's own balance was solved and is to be followed too.
    """
    heat: list[Line] = []
    water: list[Line] = []
    first = coolers[0]
    c, p, r = coolers, places, results
    n_cold, n_hot, groups = int(first["cold_sinks"]), int(first["hot_sinks"]), int(first["groups"])
    electric_W: Any = 0.0
    modules_W: Any = 0.0
    into_cold: Any = [0.0] * n_cold
    out_hot: Any = [0.0] * n_hot

    for g in range(groups):
        group = c["group"][:, g]
        count = group["series"] * group["parallel"]
        name = f"modules {g + 1}" if groups > 1 else "modules"
        cold_K, hot_K = r["cold_face_K"][:, g], r["hot_face_K"][:, g]
        mean_A, square_A2 = r["module_A"][:, g], r["module_A2"][:, g]
        two = int(group["stages"][0]) == 2
        first_hot_K = r["middle_hot_K"][:, g] if two else hot_K
        pumped_W, first_W, power_W = stage_of_states(
            group, "", cold_K, first_hot_K, mean_A, square_A2
        )
        out_W = first_W
        if two:
            second_A = r["second_A"][:, g]
            own = ~np.isnan(group["second_voltage_V"])
            second_A2 = np.where(own, second_A * second_A, square_A2)
            middle_K = r["middle_cold_K"][:, g]
            second_W, out_W, second_power_W = stage_of_states(
                group, "second_", middle_K, hot_K, second_A, second_A2
            )
            heat.append(
                Line(name + ", between the stages", "from the first stage", count * first_W)
            )
            heat.append(
                Line(name + ", between the stages", "into the second stage", -count * second_W)
            )
            heat += _conduction(
                name + ", joint of the stages",
                first_hot_K - middle_K,
                group["between_K_W"],
                first_W,
                count,
            )
            power_W = power_W + second_power_W
        heat.append(Line(name, "heat into the cold faces", count * pumped_W))
        heat.append(Line(name, "electricity", count * power_W))
        heat.append(Line(name, "heat out of the hot faces", -count * out_W))
        if two:
            heat.append(Line(name, "passed between the stages", count * (first_W - second_W)))
        s, h = int(group["cold_sink"][0]), int(group["hot_sink"][0])
        heat += _conduction(
            name + ", cold joint",
            r["cold_base_K"][:, s] - cold_K,
            r["cold_interface_K_W"][:, g],
            pumped_W,
            count,
        )
        heat += _conduction(
            name + ", hot joint",
            hot_K - r["hot_base_K"][:, h],
            r["hot_interface_K_W"][:, g],
            out_W,
            count,
        )
        into_cold[s] = into_cold[s] + count * pumped_W
        out_hot[h] = out_hot[h] + count * out_W
        modules_W = modules_W + count * power_W
        total_A2 = square_A2 * group["parallel"] ** 2
        electric_W = electric_W + total_A2 * group["lead_ohm"]

    spacer_W = c["spacer_W_K"] * (
        (r["hot_base_K"][:, 0] - r["cold_base_K"][:, 0]) if n_cold and n_hot else 0.0
    )
    liquid_W: Any = 0.0
    for s in range(n_cold):
        sink = c["cold_sink"][:, s]
        name = "cold sink" if n_cold == 1 else f"cold sink {s + 1}"
        surface_K = r["cold_surface_K"][:, s]
        if int(sink["kind"][0]) == SinkKind.PLATE_LOAD:
            given_W = sink["load_W"]
            gained_W = sink["load_conductance_W_K"] * (sink["load_surroundings_K"] - surface_K)
            heat.append(Line(name, "given load", given_W))
            heat.append(Line(name, "from the surroundings", gained_W))
            through_W = given_W + gained_W
        else:
            taken_W, drop_W, water_kg_s, drained_W = _cold_contact(c, r, s)
            heat.append(Line(name + ", air", "fall of the air's enthalpy", drop_W))
            heat.append(Line(name + ", air", "heat into the sink", -taken_W))
            heat.append(Line(name + ", air", "drained water", -drained_W))
            heat.append(Line(name, "heat from the air", taken_W))
            liquid_W = liquid_W + drained_W
            mass = r["cold_kg_s"]
            water.append(Line(name, "in the air that comes in", mass * r["cold_in_water"][:, s]))
            water.append(Line(name, "in the air that leaves", -mass * r["cold_out_water"][:, s]))
            water.append(Line(name, "condensate", -water_kg_s))
            through_W = taken_W
        pump_W = sink["pump_heat_W"]
        if np.any(pump_W > 0):
            heat.append(Line(name, "pump", pump_W))
        heat += _conduction(
            name + ", water block",
            surface_K - r["cold_base_K"][:, s],
            sink["block_K_W"],
            through_W + pump_W,
            1.0,
        )
        if s == 0:
            heat.append(Line(name, "through spacer and screws", spacer_W))
        heat.append(Line(name, "heat into the modules", -into_cold[s]))

    evaporated_W = np.where(c["condensate"] == Condensate.ONTO_HOT_SINK, 1.0, 0.0)
    for s in range(n_hot):
        sink = c["hot_sink"][:, s]
        name = "hot sink" if n_hot == 1 else f"hot sink {s + 1}"
        surface_K = r["hot_surface_K"][:, s]
        in_K, in_water = r["hot_in_K"][:, s], r["hot_in_water"][:, s]
        out_K, out_water = r["hot_out_K"][:, s], r["hot_out_water"][:, s]
        rate_W_K = r["hot_kg_s"] * humid_heat(in_water)
        given_W = (
            rate_W_K * -np.expm1(-r["hot_conductance_W_K"][:, s] / rate_W_K) * (surface_K - in_K)
        )
        drip_W: Any = 0.0
        wet_W: Any = 0.0
        if s == 0:
            vapour_h = LATENT_J_KG + CP_VAPOUR * (surface_K - ZERO_C_K)
            wet_W = evaporated_W * r["condensate_kg_s"] * vapour_h
            drip_W = evaporated_W * liquid_W
        heat.append(Line(name, "heat from the modules", out_hot[s]))
        if s == 0:
            heat.append(Line(name, "through spacer and screws", -spacer_W))
            if np.any(evaporated_W > 0):
                heat.append(Line(name, "condensate that drips on it", drip_W))
                heat.append(Line(name, "vapour from it", -wet_W))
        pump_W = sink["pump_heat_W"]
        if np.any(pump_W > 0):
            heat.append(Line(name, "pump", pump_W))
        heat.append(Line(name, "heat into the air", -given_W))
        heat += _conduction(
            name + ", water block",
            r["hot_base_K"][:, s] - surface_K,
            sink["block_K_W"],
            given_W + wet_W - drip_W - pump_W,
            1.0,
        )
        rise_W = r["hot_kg_s"] * (enthalpy(out_K, out_water) - enthalpy(in_K, in_water))
        heat.append(Line(name + ", air", "heat from the sink", given_W))
        if s == 0 and np.any(evaporated_W > 0):
            heat.append(Line(name + ", air", "vapour", wet_W))
        heat.append(Line(name + ", air", "rise of the air's enthalpy", -rise_W))
        water.append(Line(name, "in the air that comes in", r["hot_kg_s"] * in_water))
        if s == 0:
            water.append(
                Line(name, "condensate that evaporates", evaporated_W * r["condensate_kg_s"])
            )
        water.append(Line(name, "in the air that leaves", -r["hot_kg_s"] * out_water))

    heat += _fans(c, p, r, n_cold, n_hot)
    heat += _electric(c, r, modules_W, electric_W)
    if n_hot:
        heat += _exhaust(c, p, r)
    if with_place:
        place_heat, place_water = _place(c, p, r, liquid_W)
        heat += place_heat
        water += place_water
    return Ledger(heat, water, r["plug_W"])


def stage_of_states(
    group: Any, prefix: str, cold_K: Any, hot_K: Any, mean_A: Any, square_A2: Any
) -> tuple[Any, Any, Any]:
    """Heat in, heat out, electrical power of one module's stage, by the laws of the module."""
    mean_K = 0.5 * (cold_K + hot_K)
    S, R, K = (group[prefix + name] for name in ("seebeck", "resistance", "conductance"))
    contact_ohm = group[f"{prefix}contact_ohm" if prefix else "resistance_contact_ohm"]
    if int(group[prefix + "properties"][0]) == Properties.BISMUTH_TELLURIDE:
        S = S * bismuth_telluride_seebeck(mean_K)
        R = R * bismuth_telluride_resistivity(mean_K) + contact_ohm
        K = K * bismuth_telluride_conductivity(mean_K)
    extra_W = 0.5 * (square_A2 - mean_A * mean_A) * R
    in_W = cold_side_heat(mean_A, cold_K, hot_K, S, R, K) - extra_W
    out_W = hot_side_heat(mean_A, cold_K, hot_K, S, R, K) + extra_W
    power_W = mean_A * S * (hot_K - cold_K) + square_A2 * R
    return in_W, out_W, power_W


def _conduction(
    node: str, difference_K: Any, resistance_K_W: Any, through_W: Any, count: Any
) -> list[Line]:
    """A joint: what its own resistance lets through against what arrives; none where R is 0."""
    present = resistance_K_W > 0.0
    if not np.any(present):
        return []
    safe = np.where(present, resistance_K_W, 1.0)
    own_W = np.where(present, difference_K / safe, through_W)
    return [
        Line(node, "conducted", count * own_W),
        Line(node, "passed on", -count * through_W),
    ]


def _cold_contact(c: Any, r: Any, s: int) -> tuple[Any, Any, Any, Any]:
    """By the surface's temperature: heat into the sink; fall of enthalpy; water; its enthalpy."""
    mass = r["cold_kg_s"]
    in_K, in_water = r["cold_in_K"][:, s], r["cold_in_water"][:, s]
    out_K, out_water = r["cold_out_K"][:, s], r["cold_out_water"][:, s]
    surface_K = r["cold_surface_K"][:, s]
    bypass = np.exp(-r["cold_conductance_W_K"][:, s] / (mass * humid_heat(in_water)))
    saturated = humidity_ratio_saturated(surface_K, c["pressure_Pa"])
    water_kg_s = mass * (1.0 - bypass) * np.maximum(in_water - saturated, 0.0)
    after_K = surface_K + bypass * (in_K - surface_K)
    after_water = in_water - (1.0 - bypass) * np.maximum(in_water - saturated, 0.0)
    drained_W = water_kg_s * liquid_enthalpy(surface_K)
    taken_W = mass * (enthalpy(in_K, in_water) - enthalpy(after_K, after_water)) - drained_W
    drop_W = mass * (enthalpy(in_K, in_water) - enthalpy(out_K, out_water))
    return taken_W, drop_W, water_kg_s, drained_W


def _sources(c: Any, p: Any, r: Any) -> tuple[Any, Any, Any, Any]:
    outdoors = c["cold_takes"] == End.OUTDOORS
    cold_K = np.where(outdoors, p["outdoor_K"], r["place_K"])
    cold_water = np.where(outdoors, p["outdoor_humidity_ratio"], r["place_humidity_ratio"])
    outdoors = c["hot_takes"] == End.OUTDOORS
    hot_K = np.where(outdoors, p["outdoor_K"], r["place_K"])
    hot_water = np.where(outdoors, p["outdoor_humidity_ratio"], r["place_humidity_ratio"])
    return cold_K, cold_water, hot_K, hot_water


def _fans(c: Any, p: Any, r: Any, n_cold: int, n_hot: int) -> list[Line]:
    """Fan heat by the stream's temperatures, on whichever side of the sink the fan stands."""
    cold_K, cold_water, hot_K, hot_water = _sources(c, p, r)
    lines: list[Line] = []
    if n_cold and np.any(r["cold_kg_s"] > 0.0):
        share = c["cold_recirculation"]
        outlet_K, outlet_water = r["cold_outlet_K"], r["cold_outlet_water"]
        in_K = np.where(share > 0, cold_K + share * (outlet_K - cold_K), cold_K)
        in_water = np.where(share > 0, cold_water + share * (outlet_water - cold_water), cold_water)
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
        in_K = np.where(share > 0, hot_K + share * (outlet_K - hot_K), hot_K)
        after = c["hot_fan"]["after_sink"] == 1
        last = n_hot - 1
        before_K = np.where(after, r["hot_out_K"][:, last], in_K)
        behind_K = np.where(after, outlet_K, r["hot_in_K"][:, 0])
        fan_water = np.where(after, r["hot_out_water"][:, last], hot_water)
        rise_W = r["hot_kg_s"] * humid_heat(fan_water) * (behind_K - before_K)
        lines += [
            Line("hot fan", "electricity", r["hot_fan_W"]),
            Line("hot fan", "warms the air", -rise_W),
        ]
    return lines


def _electric(c: Any, r: Any, modules_W: Any, leads_W: Any) -> list[Line]:
    power = c["power"]
    converter_W = _lost(power, "converter", modules_W + leads_W)
    lines = [
        Line("electricity", "from the plug", r["plug_W"]),
        Line("electricity", "into the modules", -modules_W),
        Line("electricity", "lost in the wires", -leads_W),
        Line("electricity", "lost in the converter", -converter_W),
        Line("electricity", "into the fans", -(r["cold_fan_W"] + r["hot_fan_W"])),
        Line("electricity", "into pumps", -r["pumps_W"]),
        Line("electricity", "into the controller", -power["controller_W"]),
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


def _exhaust(c: Any, p: Any, r: Any) -> list[Line]:
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


def _place(c: Any, p: Any, r: Any, liquid_W: Any) -> tuple[list[Line], list[Line]]:
    air_K, air_water = r["place_K"], r["place_humidity_ratio"]
    place_h = enthalpy(air_K, air_water)
    outdoor_h = enthalpy(p["outdoor_K"], p["outdoor_humidity_ratio"])
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
        Line("place", "outdoor air through the gaps", r["inflow_kg_s"] * (outdoor_h - place_h)),
        Line(
            "place",
            "cold air",
            r["cold_kg_s"] * (enthalpy(r["cold_outlet_K"], r["cold_outlet_water"]) - place_h),
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
        Line("place", "cold air", r["cold_kg_s"] * (r["cold_outlet_water"] - air_water)),
    ]
    sends = np.where(c["hot_sends"] == End.PLACE, 1.0, 0.0)
    if np.any(sends > 0.0):
        hot_h = enthalpy(r["exhaust_end_K"], r["hot_outlet_water"])
        heat.append(Line("place", "hot air", sends * r["hot_kg_s"] * (hot_h - place_h)))
        water.append(
            Line("place", "hot air", sends * r["hot_kg_s"] * (r["hot_outlet_water"] - air_water))
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


def _largest_sum(lines: list[Line]) -> Any:
    sums: dict[str, Any] = defaultdict(float)
    for line in lines:
        sums[line.node] = sums[line.node] + line.amount
    largest: Any = 0.0
    for total in sums.values():
        largest = np.maximum(largest, np.abs(total))
    return largest
