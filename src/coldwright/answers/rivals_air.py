"""Rivals without a machine that cools: nothing, shade and sealing, fans, wet pads."""

from __future__ import annotations

from typing import Any

import numpy as np

from coldwright.answers.first_aid import SEALING
from coldwright.answers.followed import HOUR_S, Numbers
from coldwright.answers.rival import Rival, advised, but
from coldwright.answers.scene import Scene
from coldwright.errors import NoSolution
from coldwright.machine.records import MAX_SURFACES
from coldwright.machine.rows import DOOR_M3_S, GAIN_W, OTHER_K, OUTDOOR_K, OUTDOOR_WATER
from coldwright.machine.safety import exhaust_advice
from coldwright.physics.air_balance import wet_bulb
from coldwright.physics.air_state import CP_AIR
from coldwright.physics.air_volume import specific_volume
from coldwright.physics.evaporation import evaporative_humidity, evaporative_outlet
from coldwright.quantities.glossary import display

# Invented but ordinary: a table fan, a window fan, a pad cooler (common practice, no source).
_TABLE_FAN_W, _TABLE_FAN_M_S, _TABLE_FAN_DB = 20.0, 0.8, 45.0
_WINDOW_FAN_W, _WINDOW_FAN_M3_S, _WINDOW_FAN_DB = 30.0, 250.0 / 3600.0, 50.0
_PAD_W, _PAD_M3_S, _PAD_EFFECTIVENESS, _PAD_DB = 60.0, 400.0 / 3600.0, 0.7, 55.0
# Less than this is no help worth naming [K].
_HELPS_K = 0.05


def nothing(scene: Scene) -> Rival:
    """The place left alone."""
    air, water = scene.hottest(scene.free)
    return Rival(
        "nothing", scene.reaches(air), air, scene.feels(air, water), 0.0, 0.0, 0.0, 0.0, 0.0,
        "to bear it", f"With nothing it comes to {display('place_air_K', air)}.",
    )  # fmt: skip


def first_aid(scene: Scene) -> Rival | None:
    """Shade, sealing and insulation: each apart, and of all combinations the one that helps most.

    What makes it worse (sealing where outdoors is cooler) is left out of it.
    """
    tried = scene.aided()
    if not tried:
        return None
    free_K, free_water = scene.hottest(scene.free)
    apart = [
        f"{some[0].name} {display('place_air_K', scene.hottest(hours, case)[0])}"
        for some, hours, case in tried
        if len(some) == 1
    ]
    levels = [scene.hottest(hours, case)[0] for _, hours, case in tried]
    # As little work as does nearly as much as all of it.
    able = [at for at, level in enumerate(levels) if level <= min(levels) + _HELPS_K]
    some, hours, case = tried[min(able, key=lambda at: (len(tried[at][0]), levels[at]))]
    air, water = scene.hottest(hours, case)
    what = "Tried alone: " + ", ".join(apart)
    asks = exhaust_advice(scene.sheet).asks if SEALING in {aid.name for aid in some} else ""
    if air > free_K - _HELPS_K:
        return Rival(
            "shade, sealing, insulation first", scene.reaches(free_K), free_K,
            scene.feels(free_K, free_water), 0.0, 0.0, 0.0, None, 0.0, "nothing: none of it helps",
            f"{what}. None of it helps: with nothing it is {display('place_air_K', free_K)}.",
        )  # fmt: skip
    names = [aid.name for aid in some]
    words = " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)
    if len(some) == 1 == len(tried):
        text = f"{words.capitalize()} would bring it to {display('place_air_K', air)}."
    else:
        text = f"{what}. Best is {words}: {display('place_air_K', air)}."
    return Rival(
        "shade, sealing, insulation first", scene.reaches(air), air, scene.feels(air, water), 0.0,
        0.0, 0.0, None, 0.0, f"{words}: a day's work", text + but(asks), caution=asks,
    )  # fmt: skip


def table_fan(scene: Scene) -> Rival | None:
    """Wind on the person; its electricity warms the place."""
    if scene.is_box:
        return None
    on = scene.needed()
    rows = scene.rows.copy()
    rows[on[scene.hour_of_row], GAIN_W] += _TABLE_FAN_W
    air, water = scene.hottest(scene.served(scene.ready.places, rows))
    felt = scene.feels(air, water, _TABLE_FAN_M_S)
    text = f"A {_TABLE_FAN_W:.0f}\u2009W fan leaves the air at {display('place_air_K', air)}"
    if felt is not None:
        text += f", and in its wind it feels like {display('place_air_K', felt)}"
    return Rival(
        "a table fan", scene.reaches(air), air, felt, _TABLE_FAN_W, _kWh(scene, on, _TABLE_FAN_W),
        _TABLE_FAN_DB, None, 0.0, "sitting in its wind", text + ".",
    )  # fmt: skip


def window_fan(scene: Scene) -> Rival | None:
    """Outdoor air, in the hours in which it is cooler than the place."""
    if scene.is_box:
        return None
    asks = advised(scene)
    needed = scene.needed()
    on = needed & (scene.free.outdoor_K < scene.free.air_K[0])
    places, rows = _aired(scene, on, _WINDOW_FAN_M3_S)
    air, water = scene.hottest(scene.served(places, rows))
    flow = display("hot_flow_m3_s", _WINDOW_FAN_M3_S)
    text = (
        f"{flow} of outdoor air by a {_WINDOW_FAN_W:.0f}\u2009W fan, while it is cooler than the "
        f"place, bring it to {display('place_air_K', air)}."
    )
    if not needed.any():
        text = "Outdoor air by a fan is not needed."
    elif not on.any():
        text = "Outdoor air by a fan does not help: it is never cooler than the place."
    return Rival(
        "outdoor air by a fan", scene.reaches(air), air, scene.feels(air, water),
        _WINDOW_FAN_W if on.any() else 0.0,
        _kWh(scene, on, _WINDOW_FAN_W), _WINDOW_FAN_DB, None, 0.0, "an open window",
        text + but(asks), caution=asks,
    )  # fmt: skip


def evaporative(scene: Scene) -> Rival | None:
    """Outdoor air through a wet pad: cooler, and moister."""
    if scene.is_box:
        return None
    pressure = scene.pressure_Pa
    outdoor_K, outdoor_water = scene.rows[:, OUTDOOR_K], scene.rows[:, OUTDOOR_WATER]
    bulb = wet_bulb(outdoor_K, outdoor_water, pressure)
    supply_K = np.asarray(evaporative_outlet(outdoor_K, bulb, _PAD_EFFECTIVENESS))
    supply_K = supply_K + _PAD_W / (_PAD_M3_S * 1.15 * 1006.0)
    supply_water = np.asarray(
        evaporative_humidity(outdoor_K, outdoor_water, pressure, _PAD_EFFECTIVENESS)
    )
    supply_K = np.where(np.isfinite(supply_water), supply_K, np.nan)
    number = scene.hour_of_row
    blown_K = np.array([supply_K[number == k].mean() for k in range(len(scene.wanted))])
    if not np.isfinite(blown_K).any():
        raise NoSolution(
            "CW-SOLVE-01", "Its law of evaporation holds for outdoor air from 0 to 50 °C."
        )
    # In an hour that its law does not reach (frost) it stands still.
    needed = scene.needed()
    on = needed & np.isfinite(blown_K) & (blown_K < scene.free.air_K[0])
    places, rows = _aired(scene, on, _PAD_M3_S)
    places, rows = _with_supply(places, rows, on[number], supply_K, supply_water)
    air, water = scene.hottest(scene.served(places, rows))
    volume = np.asarray(specific_volume(outdoor_K, outdoor_water, pressure))
    wetted = _PAD_M3_S / volume * (supply_water - outdoor_water)
    hourly_kg = [HOUR_S * wetted[number == k].mean() for k in np.flatnonzero(on)]
    used_kg = float(sum(hourly_kg)) / scene.days
    humidity = 100.0 * scene.humidity(air, water)
    text = (
        f"An evaporative cooler brings it to {display('place_air_K', air)} at "
        f"{humidity:.0f}\u2009% humidity and evaporates {used_kg:.0f}\u2009L a day."
    )
    if not needed.any():
        text = "An evaporative cooler is not needed."
    elif not on.any():
        text = "An evaporative cooler does not help: its air is never cooler than the place."
    return Rival(
        "an evaporative cooler", scene.reaches(air), air, scene.feels(air, water),
        _PAD_W if on.any() else 0.0, _kWh(scene, on, _PAD_W), _PAD_DB, None, used_kg,
        "water, an open window, clean pads", text,
    )  # fmt: skip


def _kWh(scene: Scene, on: Any, power_W: float) -> float:
    """For a day of the stretch, in the hours in which it runs."""
    return float(power_W * on.sum() * HOUR_S / 3.6e6 / scene.days)


def _aired(scene: Scene, on: Any, flow_m3_s: float) -> tuple[Any, Numbers]:
    """The place with at least this much outdoor air in some hours, and else what leaks in.

    A fan that blows in keeps other air out, and what it blows in leaves by the cracks: the larger
    of both flows counts, not their sum.
    """
    places, rows = scene.ready.places.copy(), scene.rows.copy()
    leak, counted_kg_s = scene.leaks()
    rows[:, DOOR_M3_S] = np.where(on[scene.hour_of_row], np.maximum(flow_m3_s, leak), leak)
    places["leak_area_m2"] = 0.0
    places["natural_m3_s"] = 0.0
    # A known heat loss counts no fan's air; what it counts of the leaks now comes in as air.
    places["loss_W_K"] -= CP_AIR * counted_kg_s.mean()
    places["counted_W_K"] = 0.0
    return places, rows


def _with_supply(
    places: Any, rows: Numbers, on: Any, supply_K: Numbers, supply_water: Numbers
) -> tuple[Any, Numbers]:
    """Treated air in the place of outdoor air, in some rows.

    The stepper knows one kind of incoming air, so what sees the real outdoors besides (windows,
    edges) becomes a plain surface.
    """
    number = int(places["surfaces"][0])
    if number < MAX_SURFACES:
        window = places["surface"][:, number]
        window["area_m2"] = places["loss_W_K"]
        window["u_W_m2K"] = 1.0
        window["layers"] = 0
        window["other_K"] = places["outdoor_K"]
        places["surfaces"] = number + 1
        places["loss_W_K"] = 0.0
        rows[:, OTHER_K + number] = rows[:, OUTDOOR_K]
    rows[on, OUTDOOR_K] = supply_K[on]
    rows[on, OUTDOOR_WATER] = supply_water[on]
    return places, rows
