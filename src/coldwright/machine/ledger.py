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
from coldwright.machine.ledger_lines import (
    Line,
    electric_lines,
    exhaust_lines,
    fan_lines,
    place_lines,
)
from coldwright.machine.records import Condensate, Properties, SinkKind
from coldwright.physics.bismuth_telluride import (
    bismuth_telluride_conductivity,
    bismuth_telluride_resistivity,
    bismuth_telluride_seebeck,
)
from coldwright.physics.moist_air import (
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

    heat += fan_lines(c, p, r, n_cold, n_hot)
    heat += electric_lines(c, r, modules_W, electric_W)
    if n_hot:
        heat += exhaust_lines(c, p, r)
    if with_place:
        place_heat, place_water = place_lines(c, p, r, liquid_W)
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


def _largest_sum(lines: list[Line]) -> Any:
    sums: dict[str, Any] = defaultdict(float)
    for line in lines:
        sums[line.node] = sums[line.node] + line.amount
    largest: Any = 0.0
    for total in sums.values():
        largest = np.maximum(largest, np.abs(total))
    return largest
