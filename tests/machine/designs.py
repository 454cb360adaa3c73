"""Random designs as record arrays: every kind of part, place and drive, in batches of one layout.

The compiled solver and the ledger read records; these are filled here without the sheet, so that a
hundred thousand of them take seconds. Within a batch everything varies that may vary between the
cases of one call; what the ledger reads from the first case only (numbers of parts, stages, which
sink a group stands on, tables' lengths) is drawn once per batch.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from coldwright.machine.records import (
    COOLER,
    PLACE,
    Condensate,
    Drive,
    End,
    Properties,
    SinkKind,
)
from coldwright.physics.moist_air import humidity_ratio_from_relative

PLACES = ("open air", "enclosed", "held", "given air", "plate")


@dataclass(frozen=True)
class Batch:
    """Many cases of one layout, and how they are to be solved."""

    kind: str
    coolers: Any
    places: Any
    air_K: Any
    water: Any
    with_place: bool
    held: bool

    def take(self, kept: Any) -> Batch:
        """The same batch with fewer cases."""
        return Batch(
            self.kind, self.coolers[kept], self.places[kept], self.air_K[kept], self.water[kept],
            self.with_place, self.held,
        )  # fmt: skip


def random_batch(rng: np.random.Generator, count: int, kind: str | None = None) -> Batch:
    """`count` random designs of one random layout; `kind` is one of `PLACES`."""
    kind = kind or str(rng.choice(PLACES, p=[0.3, 0.35, 0.1, 0.1, 0.15]))
    enclosed = kind in ("enclosed", "held", "given air")
    places = _places(rng, count, enclosed)
    coolers = _coolers(rng, count, kind == "plate", places)
    air_K = places["air_K"].copy()
    if kind == "held":
        air_K = places["outdoor_K"] + rng.uniform(-12.0, 5.0, count)
    return Batch(
        kind,
        coolers,
        places,
        air_K,
        places["humidity_ratio"].copy(),
        with_place=kind in ("enclosed", "held"),
        held=kind == "held",
    )


def plain_cooler(count: int) -> Any:
    """Coolers of one module between two one-number sinks with given flows; everything else off."""
    c = np.zeros(count, dtype=COOLER)
    c["pressure_Pa"] = 101325.0
    c["groups"] = c["cold_sinks"] = c["hot_sinks"] = 1
    group = c["group"][:, 0]
    group["series"] = group["parallel"] = group["stages"] = 1
    group["seebeck"], group["resistance"], group["conductance"] = 0.0513333, 1.984889, 0.525412
    group["second_voltage_V"] = np.nan
    group["cold_interface_K_W"] = group["hot_interface_K_W"] = 0.05
    group["drive"], group["drive_value"] = int(Drive.VOLTAGE), 8.0
    for side, resistance_K_W, flow_m3_s in (("cold", 0.15, 80 / 3600), ("hot", 0.10, 150 / 3600)):
        sink = c[f"{side}_sink"][:, 0]
        sink["resistance_K_W"], sink["reference_flow_m3_s"] = resistance_K_W, flow_m3_s
        sink["flow_exponent"] = 0.5
        sink["conductance_ratio"] = sink["pressure_ratio"] = 1.0
        fan = c[f"{side}_fan"]
        fan["given_flow"], fan["flow_m3_s"], fan["speed"] = 1, flow_m3_s, 1.0
        duct = c[f"{side}_duct"]
        duct["surface_K"], duct["friction_factor_ratio"], duct["outer_W_m2K"] = np.nan, 1.0, 1.0
    c["hot_takes"] = c["hot_sends"] = int(End.OUTDOORS)
    c["power"]["lead_at"] = int(End.OUTDOORS)
    return c


def plain_place(count: int, *, enclosed: bool = False) -> Any:
    """Places at 25 °C and outdoors at 35 °C, 3 g/kg, without walls, leaks or gains."""
    p = np.zeros(count, dtype=PLACE)
    p["enclosed"] = int(enclosed)
    p["pressure_Pa"] = 101325.0
    p["air_K"], p["outdoor_K"] = 298.15, 308.15
    p["humidity_ratio"] = p["outdoor_humidity_ratio"] = 0.003
    p["leak_exponent"] = 0.65
    p["volume_m3"] = 10.0
    return p


def _places(rng: np.random.Generator, n: int, enclosed: bool) -> Any:
    p = np.zeros(n, dtype=PLACE)
    p["pressure_Pa"] = rng.uniform(70e3, 103e3, n)
    p["outdoor_K"] = rng.uniform(268.0, 318.0, n)
    p["air_K"] = np.clip(p["outdoor_K"] + rng.uniform(-15.0, 10.0, n), 274.0, 320.0)
    for air, water in (("outdoor_K", "outdoor_humidity_ratio"), ("air_K", "humidity_ratio")):
        p[water] = humidity_ratio_from_relative(p[air], rng.uniform(0.02, 1.0, n), p["pressure_Pa"])
    p["leak_exponent"] = rng.uniform(0.5, 0.8, n)
    if not enclosed:
        return p
    p["enclosed"] = 1
    p["volume_m3"] = _log(rng, 0.02, 100.0, n)
    side_m2 = p["volume_m3"] ** (2.0 / 3.0)
    p["surfaces"] = surfaces = int(rng.integers(0, 5))
    for s in range(surfaces):
        surface = p["surface"][:, s]
        surface["area_m2"] = side_m2 * rng.uniform(0.3, 3.0, n)
        surface["other_K"] = np.where(
            rng.random(n) < 0.7, p["outdoor_K"], p["outdoor_K"] + rng.uniform(-15.0, 15.0, n)
        )
        surface["film_in_m2K_W"] = rng.uniform(0.1, 0.17, n)
        surface["film_out_m2K_W"] = rng.uniform(0.0, 0.13, n)
        surface["layers"] = rng.integers(0, 4, n)
        surface["u_W_m2K"] = _log(rng, 0.1, 6.0, n)
        for layer in range(3):
            present = surface["layers"] > layer
            surface["layer_m2K_W"][:, layer] = np.where(present, _log(rng, 0.01, 4.0, n), 0.0)
            surface["layer_J_m2K"][:, layer] = np.where(present, _log(rng, 1e3, 3e5, n), 0.0)
            surface["layer_volumes"][:, layer] = np.where(present, rng.integers(1, 6, n), 0)
    # Every place loses some heat, else none of them levels off.
    p["loss_W_K"] = _log(rng, 0.2, 20.0, n)
    p["sun_W"] = _some(rng, n, 0.4, 0.0, 300.0)
    p["gain_W"] = _some(rng, n, 0.5, -50.0, 200.0)
    p["moisture_kg_s"] = _some(rng, n, 0.5, 0.0, 5e-5)
    p["leak_m3_s_Pan"] = _log(rng, 1e-5, 0.02, n)
    by_area = rng.random(n) < 0.6
    p["leak_area_m2"] = np.where(by_area, p["leak_m3_s_Pan"] * 0.9, 0.0)
    p["natural_m3_s"] = np.where(by_area, 0.0, p["volume_m3"] / 3600.0 * rng.uniform(0, 2.0, n))
    # A few places have no gap at all.
    sealed = rng.random(n) < 0.1
    for way in ("leak_m3_s_Pan", "leak_area_m2", "natural_m3_s"):
        p[way] = np.where(sealed, 0.0, p[way])
    # In every seventh the loss counts the air through the gaps.
    p["counted_W_K"][::7] = p["loss_W_K"][::7]
    p["stack_coefficient"] = rng.choice([0.000145, 0.000290, 0.000435], n)
    p["wind_coefficient"] = rng.uniform(3e-5, 5e-4, n)
    p["wind_m_s"] = _some(rng, n, 0.7, 0.0, 8.0)
    p["contents_J_K"] = _some(rng, n, 0.6, 1e3, 1e6)
    p["contents_W_K"] = np.where(p["contents_J_K"] > 0.0, _log(rng, 0.5, 300.0, n), 0.0)
    p["buffer_kg"] = _some(rng, n, 0.4, 0.1, 300.0)
    p["buffer_kg_s"] = np.where(p["buffer_kg"] > 0.0, _log(rng, 1e-4, 0.1, n), 0.0)
    p["sweat_kg_s"] = 3.0 * 6.0 * side_m2 / 1006.0
    return p


def _coolers(rng: np.random.Generator, n: int, plate: bool, places: Any) -> Any:
    c = np.zeros(n, dtype=COOLER)
    c["pressure_Pa"] = places["pressure_Pa"]
    groups = int(rng.choice([1, 1, 1, 2, 3]))
    cold_sinks = 1 if plate else int(rng.integers(1, groups + 1))
    hot_sinks = int(rng.integers(1, groups + 1))
    c["groups"], c["cold_sinks"], c["hot_sinks"] = groups, cold_sinks, hot_sinks
    c["cold_recirculation"] = 0.0 if plate else _some(rng, n, 0.25, 0.01, 0.6)
    c["hot_recirculation"] = _some(rng, n, 0.25, 0.01, 0.6)
    c["condensate"] = rng.choice([int(way) for way in Condensate], n)
    c["cold_takes"] = rng.choice([End.PLACE, End.OUTDOORS], n, p=[0.85, 0.15])
    c["hot_takes"] = rng.choice([End.PLACE, End.OUTDOORS], n)
    c["hot_sends"] = rng.choice([End.PLACE, End.OUTDOORS], n, p=[0.3, 0.7])
    c["spacer_W_K"] = _some(rng, n, 0.7, 0.0, 1.0)
    # How many modules there are sets the size of sinks and fans.
    for g in range(groups):
        _group(rng, c["group"][:, g], n, g % cold_sinks, g % hot_sinks)
    modules = sum(c["group"][:, g]["series"] * c["group"][:, g]["parallel"] for g in range(groups))
    size = np.maximum(np.asarray(modules), 1.0) ** 0.5
    if plate:
        sink = c["cold_sink"][:, 0]
        sink["kind"] = int(SinkKind.PLATE_LOAD)
        sink["conductance_ratio"] = sink["pressure_ratio"] = 1.0
        sink["load_W"] = _some(rng, n, 0.8, 0.0, 20.0) * modules
        sink["load_conductance_W_K"] = _some(rng, n, 0.6, 0.0, 2.0)
        sink["load_surroundings_K"] = places["outdoor_K"] + rng.uniform(-5.0, 5.0, n)
        sink["pump_heat_W"] = _some(rng, n, 0.3, 0.0, 8.0)
        c["cold_fan"]["speed"] = 1.0
    else:
        _fan(rng, c["cold_fan"], n, size)
        for s in range(cold_sinks):
            _sink(rng, c["cold_sink"][:, s], n, c["cold_fan"], size, places["pressure_Pa"])
    _fan(rng, c["hot_fan"], n, 1.6 * size)
    for s in range(hot_sinks):
        _sink(rng, c["hot_sink"][:, s], n, c["hot_fan"], 1.6 * size, places["pressure_Pa"])
    _duct(rng, c["cold_duct"], n, places)
    _duct(rng, c["hot_duct"], n, places)
    _power(rng, c["power"], n)
    return c


def _group(rng: np.random.Generator, g: Any, n: int, cold_sink: int, hot_sink: int) -> None:
    g["series"] = rng.integers(1, 9, n)
    g["parallel"] = rng.integers(1, 4, n)
    g["cold_sink"], g["hot_sink"] = cold_sink, hot_sink
    g["stages"] = stages = int(rng.choice([1, 1, 2]))
    own = stages == 2 and rng.random() < 0.4
    for prefix, contact in (("", "resistance_contact_ohm"), ("second_", "second_contact_ohm")):
        kind = rng.choice([Properties.CONSTANT, Properties.BISMUTH_TELLURIDE])
        g[prefix + "properties"] = int(kind)
        if kind == Properties.CONSTANT:
            # A figure of merit from poor to as good as any material that is sold.
            g[prefix + "seebeck"] = rng.uniform(0.02, 0.06, n)
            g[prefix + "resistance"] = _log(rng, 0.7, 5.0, n)
            merit = rng.uniform(1e-3, 3e-3, n)
            g[prefix + "conductance"] = (
                g[prefix + "seebeck"] ** 2 / g[prefix + "resistance"] / merit
            )
        else:
            couples, slender_m = rng.uniform(60, 200, n), _log(rng, 4e-4, 2e-3, n)
            g[prefix + "seebeck"] = 2.0 * couples
            g[prefix + "resistance"] = 2.0 * couples / slender_m
            g[prefix + "conductance"] = 2.0 * couples * slender_m
            g[contact] = _some(rng, n, 0.7, 0.0, 0.1)
    g["second_voltage_V"] = rng.uniform(0.5, 12.0, n) if own else np.nan
    g["between_K_W"] = _some(rng, n, 0.8, 0.0, 0.1)
    for side in ("cold", "hot"):
        g[f"{side}_interface_K_W"] = _some(rng, n, 0.95, 0.002, 0.3)
    g["footprint_m2"] = rng.uniform(4e-4, 2.5e-3, n)
    drive = rng.choice([int(way) for way in Drive], n, p=[0.07, 0.35, 0.2, 0.12, 0.16, 0.1])
    volts, amperes = rng.uniform(-2.0, 15.5, n), rng.uniform(-1.0, 6.0, n)
    value = np.zeros(n)
    for way, amount in (
        (Drive.VOLTAGE, volts * g["series"]),
        (Drive.CHOPPED, volts * g["series"]),
        (Drive.CURRENT, amperes * g["parallel"]),
        (Drive.POWER, _log(rng, 0.01, 60.0, n) * g["series"] * g["parallel"]),
        (Drive.PUMPED, _log(rng, 0.1, 20.0, n) * g["series"] * g["parallel"]),
    ):
        value = np.where(drive == way, amount, value)
    g["drive"], g["drive_value"] = drive, value
    g["duty"] = rng.uniform(0.05, 1.0, n)
    g["lead_ohm"] = _some(rng, n, 0.7, 0.0, 0.2)


def _fan(rng: np.random.Generator, fan: Any, n: int, size: Any) -> None:
    free_m3_s = _log(rng, 15.0, 120.0, n) / 3600.0 * size
    fan["given_flow"] = rng.random(n) < 0.4
    fan["flow_m3_s"] = free_m3_s * 0.6
    fan["speed"] = np.where(rng.random(n) < 0.01, 0.0, rng.uniform(0.15, 1.2, n))
    fan["points"] = points = int(rng.integers(2, 6))
    most_Pa = _log(rng, 10.0, 300.0, n)
    shape = np.sort(rng.uniform(0.05, 1.0, (n, points)), axis=1)[:, ::-1]
    # Some curves have a dip on the way down, as axial fans do.
    dip = (rng.random(n) < 0.2)[:, None] & (np.arange(points) == 1)
    shape = np.where(dip, shape * 0.6, shape)
    shape[:, -1] = np.where(rng.random(n) < 0.9, 0.0, 0.02)
    share = np.sort(rng.uniform(0.05, 0.95, (n, points)), axis=1) + np.arange(points) * 0.02
    share[:, 0] = 0.0
    fan["curve_flow_m3_s"][:, :points] = share / share[:, -1:] * free_m3_s[:, None]
    fan["curve_pressure_Pa"][:, :points] = shape * most_Pa[:, None]
    fan["power_W"] = _some(rng, n, 0.8, 0.5, 40.0) * size / 2.0
    fan["after_sink"] = rng.random(n) < 0.5


def _sink(
    rng: np.random.Generator, sink: Any, n: int, fan: Any, size: Any, pressure_Pa: Any
) -> None:
    kinds = [int(SinkKind.RESISTANCE), int(SinkKind.PLATE_FIN), int(SinkKind.TABLE)]
    sink["kind"] = rng.choice(kinds, n)
    sink["correlation"] = rng.random(n) < 0.1
    flow_m3_s = fan["flow_m3_s"]
    sink["reference_flow_m3_s"] = flow_m3_s
    # Times what no sink can beat, 1/(m cp); a few ask for more than can be.
    times = np.where(rng.random(n) < 0.02, 0.9, rng.uniform(1.2, 6.0, n))
    sink["resistance_K_W"] = times / (flow_m3_s * 1200.0 * pressure_Pa / 101325.0)
    sink["flow_exponent"] = rng.uniform(0.3, 0.8, n)
    across_m = rng.uniform(0.05, 0.15, n) * size
    sink["gap_m"] = rng.uniform(1.5e-3, 6e-3, n)
    sink["fin_thickness_m"] = rng.uniform(0.3e-3, 2e-3, n)
    sink["channels"] = np.ceil(across_m / (sink["gap_m"] + sink["fin_thickness_m"])) + 1
    sink["fin_height_m"] = rng.uniform(0.01, 0.06, n)
    sink["length_m"] = rng.uniform(0.05, 0.15, n) * size
    sink["fin_conductivity_W_mK"] = rng.choice([130.0, 200.0, 390.0], n)
    fins = sink["kind"] == SinkKind.PLATE_FIN
    spread = fins & (rng.random(n) < 0.8)
    sink["base_area_m2"] = np.where(spread, across_m * sink["length_m"], 0.0)
    sink["base_thickness_m"] = rng.uniform(2e-3, 12e-3, n)
    sink["base_conductivity_W_mK"] = sink["fin_conductivity_W_mK"]
    sink["points"] = points = int(rng.integers(1, 6))
    share = np.sort(rng.uniform(0.2, 1.8, (n, points)), axis=1) + np.arange(points) * 0.01
    sink["table_flow_m3_s"][:, :points] = share * flow_m3_s[:, None]
    units = rng.uniform(0.3, 2.5, (n, 1))
    sink["table_conductance_W_K"][:, :points] = units * (share**0.5) * flow_m3_s[:, None] * 1200.0
    sink["table_pressure_Pa"][:, :points] = (
        _log(rng, 1.0, 60.0, n)[:, None] * share**1.7 * (rng.random(n) < 0.8)[:, None]
    )
    sink["pressure_Pa_s2_m6"] = np.where(fins, 0.0, _some(rng, n, 0.7, 1.0, 60.0) / flow_m3_s**2)
    water = (sink["kind"] == SinkKind.RESISTANCE) & (rng.random(n) < 0.3)
    sink["water_W_K"] = np.where(water, _log(rng, 10.0, 200.0, n), 0.0)
    sink["block_K_W"] = np.where(water, _log(rng, 0.005, 0.2, n), 0.0)
    sink["pump_heat_W"] = np.where(water, rng.uniform(0.0, 15.0, n), 0.0)
    sink["heat_capacity_J_K"] = _log(rng, 100.0, 5000.0, n)
    sink["conductance_ratio"] = rng.uniform(0.85, 1.15, n)
    sink["pressure_ratio"] = rng.uniform(0.85, 1.15, n)


def _duct(rng: np.random.Generator, duct: Any, n: int, places: Any) -> None:
    present = rng.random(n) < 0.5
    duct["diameter_m"] = np.where(present, rng.uniform(0.06, 0.2, n), 0.0)
    duct["length_m"] = _log(rng, 0.2, 8.0, n)
    duct["roughness_m"] = _log(rng, 1e-5, 4e-3, n)
    duct["loss_coefficient"] = rng.uniform(0.0, 6.0, n)
    duct["friction_factor_ratio"] = rng.uniform(0.9, 3.0, n)
    duct["extra_Pa_s2_m6"] = _some(rng, n, 0.3, 0.0, 20.0) / 0.03**2
    duct["in_place"] = rng.random(n) < 0.5
    duct["insulation_m2K_W"] = _some(rng, n, 0.4, 0.1, 2.0)
    duct["outer_W_m2K"] = rng.uniform(3.0, 20.0, n)
    measured = present & (rng.random(n) < 0.1)
    duct["surface_K"] = np.where(measured, places["air_K"] + rng.uniform(0, 15.0, n), np.nan)


def _power(rng: np.random.Generator, power: Any, n: int) -> None:
    for part in ("converter", "supply"):
        points = int(rng.choice([0, 1, 3, 4]))
        power[f"{part}_points"] = points
        load = np.sort(rng.uniform(0.0, 1.0, (n, points)), axis=1) + np.arange(points) * 0.01
        power[f"{part}_load"][:, :points] = load
        power[f"{part}_efficiency"][:, :points] = rng.uniform(0.6, 0.97, (n, points))
        power[f"{part}_rated_W"] = _log(rng, 50.0, 1500.0, n)
        power[f"{part}_at"] = rng.choice([int(end) for end in End], n)
    power["controller_W"] = _some(rng, n, 0.4, 0.0, 5.0)
    power["lead_at"] = rng.choice([int(end) for end in End], n)


def _log(rng: np.random.Generator, low: float, high: float, n: int) -> Any:
    """Spread evenly over the decades."""
    return np.exp(rng.uniform(np.log(low), np.log(high), n))


def _some(rng: np.random.Generator, n: int, share: float, low: float, high: float) -> Any:
    """Zero, but for this share of the cases, which lie evenly within the ends."""
    return np.where(rng.random(n) < share, rng.uniform(low, high, n), 0.0)
