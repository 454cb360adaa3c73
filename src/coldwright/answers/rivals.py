"""The rivals, one function each: every one serves the same place under the same rules."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from coldwright.answers.design import Design
from coldwright.answers.holding import ice_per_day_kg
from coldwright.answers.prices import known_price
from coldwright.answers.rival import Rival, advised, but
from coldwright.answers.scene import Scene, absent
from coldwright.errors import NoSolution
from coldwright.machine.assemble_cooler import assemble_cooler
from coldwright.machine.assemble_place import assemble_place
from coldwright.machine.records import MAX_SURFACES
from coldwright.machine.safety import exhaust_advice, exhausts
from coldwright.machine.values import Values
from coldwright.physics.air_balance import wet_bulb
from coldwright.physics.air_state import enthalpy, relative_humidity
from coldwright.physics.air_volume import specific_volume
from coldwright.physics.compressor import EU_MINIMUM
from coldwright.physics.evaporation import evaporative_humidity, evaporative_outlet
from coldwright.physics.jet import jet_centre_difference, jet_velocity
from coldwright.quantities.glossary import display
from coldwright.sheet.check_air import sealed
from coldwright.sheet.models import Box

DAY_S = 86400.0
# Invented but ordinary: a table fan, a window fan, a pad cooler (common practice, no source).
_TABLE_FAN_W, _TABLE_FAN_M_S = 20.0, 0.8
_WINDOW_FAN_W, _WINDOW_FAN_M3_S = 30.0, 250.0 / 3600.0
_PAD_W, _PAD_M3_S, _PAD_EFFECTIVENESS = 60.0, 400.0 / 3600.0, 0.7
# By how much a compressor unit warms the air it blows out (common practice, no source) [K].
_CONDENSER_RISE_K = 15.0
# Small compressor boxes move one to three watts per watt (common practice, no source).
_BOX_COP = 1.5
# Where a person sits in the jet, and the jet's mouth where the sheet names no fan size [m].
_DISTANCE_M, _MOUTH_M, _JET_FACTOR = 0.5, 0.10, 5.7


def _nothing(scene: Scene) -> Rival:
    text = f"With nothing it levels off at {display('place_air_K', scene.off_K)}."
    return Rival(
        "nothing", scene.reaches(scene.off_K), scene.off_K,
        scene.feels(scene.off_K, scene.off_water), 0.0, 0.0, None, 0.0, 0.0, "to bear it", text,
    )  # fmt: skip


def _table_fan(scene: Scene) -> Rival | None:
    if scene.is_box:
        return None
    places = scene.design.place.copy()
    places["gain_W"] += _TABLE_FAN_W
    found = absent(scene.design.cooler, places)
    air, water = float(found["place_K"][0]), float(found["place_humidity_ratio"][0])
    felt = scene.feels(air, water, _TABLE_FAN_M_S)
    text = f"A {_TABLE_FAN_W:.0f}\u2009W fan leaves the air at {display('place_air_K', air)}"
    if felt is not None:
        text += f", and in its wind it feels like {display('place_air_K', felt)}"
    return Rival(
        "a table fan", scene.reaches(air), air, felt, _TABLE_FAN_W,
        _TABLE_FAN_W * DAY_S / 3.6e6, 45.0, None, 0.0, "a place in its wind", text + ".",
    )  # fmt: skip


def _window_fan(scene: Scene) -> Rival | None:
    if scene.is_box:
        return None
    asks = advised(scene)
    places = scene.design.place.copy()
    places["leak_area_m2"] = 0.0
    places["counted_W_K"] = 0.0  # a fan's air no heat loss counts
    places["natural_m3_s"] = _WINDOW_FAN_M3_S
    found = absent(scene.design.cooler, places)
    air = float(found["place_K"][0])
    flow = display("hot_flow_m3_s", _WINDOW_FAN_M3_S)
    return Rival(
        "outdoor air by a fan", scene.reaches(air), air,
        scene.feels(air, float(found["place_humidity_ratio"][0])), _WINDOW_FAN_W,
        _WINDOW_FAN_W * DAY_S / 3.6e6, 50.0, None, 0.0, "an open window",
        f"{flow} of outdoor air by a {_WINDOW_FAN_W:.0f}\u2009W fan bring it to "
        f"{display('place_air_K', air)}.{but(asks)}",
        caution=asks,
    )  # fmt: skip


def _evaporative(scene: Scene) -> Rival | None:
    if scene.is_box:
        return None
    place = scene.design.place
    outdoor_K = float(place["outdoor_K"][0])
    outdoor_water = float(place["outdoor_humidity_ratio"][0])
    pressure = float(place["pressure_Pa"][0])
    bulb = float(wet_bulb(outdoor_K, outdoor_water, pressure))
    supply_K = float(evaporative_outlet(outdoor_K, bulb, _PAD_EFFECTIVENESS))
    supply_water = float(
        evaporative_humidity(outdoor_K, outdoor_water, pressure, _PAD_EFFECTIVENESS)
    )
    if not np.isfinite([supply_K, supply_water]).all():
        raise NoSolution(
            "CW-SOLVE-01", "Its law of evaporation holds for outdoor air from 0 to 50 °C."
        )
    places = _with_supply(place, supply_K, supply_water, _PAD_M3_S, _PAD_W)
    found = absent(scene.design.cooler, places)
    air, water = float(found["place_K"][0]), float(found["place_humidity_ratio"][0])
    volume = float(specific_volume(outdoor_K, outdoor_water, pressure))
    used_kg = _PAD_M3_S / volume * (supply_water - outdoor_water) * DAY_S
    humidity = 100.0 * min(float(relative_humidity(air, water, pressure)), 1.0)
    return Rival(
        "an evaporative cooler", scene.reaches(air), air, scene.feels(air, water), _PAD_W,
        _PAD_W * DAY_S / 3.6e6, 55.0, None, used_kg, "water, an open window, clean pads",
        f"An evaporative cooler brings it to {display('place_air_K', air)} at "
        f"{humidity:.0f}\u2009% humidity and evaporates {used_kg:.0f}\u2009L a day if it never "
        "stops.",
    )  # fmt: skip


def _ice(scene: Scene) -> Rival | None:
    if scene.goal_K is None or scene.mean_load_W is None or scene.goal_K <= 273.15:
        return None
    mass = ice_per_day_kg(max(scene.mean_load_W, 0.0), scene.goal_K)
    return Rival(
        "ice", True, scene.goal_K, None, 0.0, 0.0, 0.0, None, mass,
        f"{mass:.1f} kg of ice a day",
        f"Ice holds the goal with {mass:.1f}\u2009kg a day.",
    )  # fmt: skip


def _first_aid(scene: Scene) -> Rival | None:
    """Shade, sealing and insulation, before any machine."""
    sheet = scene.sheet
    place = sheet.place
    changes: dict[str, Any] = {}
    did = []
    for number, window in enumerate(place.window):  # type: ignore[union-attr]
        if window.shaded_share.value < 0.8:
            changes[f"place.window[{number}].shaded_share"] = "80 percent"
            did.append("shade")
    for number, surface in enumerate(place.surface):  # type: ignore[union-attr]
        if surface.u_value is not None and surface.other_side == "outdoors":
            changes[f"place.surface[{number}].u_value"] = (
                f"{surface.u_value.value / 1.5:.5f} W/m^2/K"
            )
            did.append("insulation")
    if isinstance(place, Box) and place.wall is not None and len(place.wall) == 1:
        thickness = place.wall[0].thickness
        if thickness is not None:
            changes["place.wall.thickness"] = f"{1.5 * thickness.value:.5f} m"
            did.append("half as much insulation again")
    leakage = place.air_leakage  # type: ignore[union-attr]
    advice = exhaust_advice(sheet)
    if not advice.offered:
        pass  # a flame needs the air that comes through the gaps
    elif leakage in ("draughty", "ordinary"):
        changes["place.air_leakage"] = "ordinary" if leakage == "draughty" else "tight"
        did.append("sealing")
    elif not isinstance(leakage, str) and leakage.area is not None:
        changes["place.air_leakage"] = {"area": f"{leakage.area.value / 2.0:.7f} m^2"}
        did.append("sealing")
    if not did:
        return None
    changed = sheet.changed(changes)
    values = Values(0)
    found = absent(assemble_cooler(changed, values), assemble_place(changed, values))
    air = float(found["place_K"][0])
    words = " and ".join(dict.fromkeys(did))
    asks = advice.asks if "sealing" in did else ""
    return Rival(
        "shade, sealing, insulation first", scene.reaches(air), air,
        scene.feels(air, float(found["place_humidity_ratio"][0])), 0.0, 0.0, 0.0, None, 0.0,
        f"{words}: a day's work",
        f"{words.capitalize()} alone bring it to {display('place_air_K', air)}.{but(asks)}",
        caution=asks,
    )  # fmt: skip


def _refrigerator(scene: Scene) -> Rival | None:
    """What a box that a compressor cools would take; rooms are served by air conditioners."""
    if not scene.is_box or scene.load_W is None or scene.mean_load_W is None:
        return None
    worst = max(scene.load_W, 0.0) / _BOX_COP
    kwh = max(scene.mean_load_W, 0.0) / _BOX_COP * DAY_S / 3.6e6
    return Rival(
        "a small compressor in its place", True, scene.goal_K, None, worst, kwh, 35.0, None, None,
        "buying one",
        f"A small compressor with a COP of {_BOX_COP:g} would hold the goal with "
        f"{display('plug_power_W', worst)}, {kwh:.2f}\u2009kWh a day.",
    )  # fmt: skip


def _compressor(kind: str, name: str, *, exhausts: bool) -> Callable[[Scene], Rival | None]:
    def make(scene: Scene) -> Rival | None:
        if scene.is_box or scene.load_W is None or scene.mean_load_W is None:
            return None
        assert scene.goal_K is not None
        asks = advised(scene) if exhausts else ""
        if exhausts and sealed(scene.sheet.place):  # type: ignore[arg-type]
            raise NoSolution(
                "CW-SOLVE-01", "No air can come into the place for what its exhaust takes out."
            )
        rating = EU_MINIMUM[kind].ordinary
        worst, share = _unit_W(scene, rating, exhausts)
        if worst is None or share is None:
            return Rival(
                name, False, None, None, None, None, None, None, None, "a duct",
                f"{name[:1].upper()}{name[1:]}, at the regulation's least efficiency never gets "
                "there: its exhaust lets in more than it moves.",
            )  # fmt: skip
        kwh = share * max(scene.mean_load_W, 0.0) / rating * DAY_S / 3.6e6
        return Rival(
            name, True, scene.goal_K, None, worst, kwh,
            65.0 - 8.0, None, 0.0, "a duct" if exhausts else "a hole in the wall",
            f"{name[:1].upper()}{name[1:]}, at the regulation's least efficiency holds the goal "
            f"with {display('plug_power_W', worst)} at the worst hour, {kwh:.1f}\u2009kWh a day."
            + but(asks),
            caution=asks,
        )  # fmt: skip

    return make


def _unit_W(scene: Scene, rating: float, exhausts: bool) -> tuple[float | None, float | None]:
    """Electrical power at the worst moment [W], and cooling per watt of load.

    A single duct blows the heat out with air of the place; what replaces it is load again, by the
    same rule as for the thermoelectric machine.
    """
    assert scene.load_W is not None
    share = 1.0
    if exhausts:
        place = scene.design.place
        outdoor_h = float(enthalpy(place["outdoor_K"][0], place["outdoor_humidity_ratio"][0]))
        inside_h = float(enthalpy(scene.goal_K, scene.held_water))
        # Air blown out per watt of heat rejected: 1 / (cp rise).
        back = (1.0 + 1.0 / rating) * (outdoor_h - inside_h) / (1006.0 * _CONDENSER_RISE_K)
        if back >= 1.0:
            return None, None
        share = 1.0 / (1.0 - back)
    return max(scene.load_W, 0.0) * share / rating, share


def _this(scene: Scene) -> Rival:
    point = scene.point
    air = point.nominal["place_K"]
    plug = point.nominal["plug_power_W"]
    sound = scene.design.sound().value
    # What is never advised is not hidden: the sheet asks about this one.
    asks = exhaust_advice(scene.sheet).asks if exhausts(scene.sheet) else ""
    return Rival(
        "this cooler", scene.reaches(air), air,
        scene.feels(air, float(point.results["place_humidity_ratio"][0])), plug,
        plug * DAY_S / 3.6e6, sound, known_price(scene.sheet),
        point.nominal["condensate_kg_s"] * DAY_S, "building it",
        f"This cooler brings it to {display('place_air_K', air)} with "
        f"{display('plug_power_W', plug)}.{but(asks)}",
        caution=asks,
    )  # fmt: skip


def _at_the_person(scene: Scene) -> Rival | None:
    """Its cold air aimed at somebody half a metre away."""
    point = scene.point
    outlet_K = point.nominal.get("cold_outlet_K")
    if scene.is_box or outlet_K is None or not np.isfinite(outlet_K):
        return None
    fan = scene.sheet.cooler.cold_fan
    mouth = _MOUTH_M if fan is None or fan.diameter is None else fan.diameter.value
    area = np.pi / 4.0 * mouth**2
    flow = point.nominal["cold_flow_m3_s"]
    air = point.nominal["place_K"]
    drop = float(jet_centre_difference(air - outlet_K, area, _DISTANCE_M, _JET_FACTOR))
    speed = min(float(jet_velocity(flow, area, _DISTANCE_M, _JET_FACTOR)), flow / area)
    spot_K = air - drop
    felt = scene.feels(spot_K, float(point.results["place_humidity_ratio"][0]), min(speed, 3.0))
    text = (
        f"Aimed at a person {100 * _DISTANCE_M:.0f}\u2009cm away, its air arrives at "
        f"{display('place_air_K', spot_K)} and {speed:.1f}\u2009m/s"
    )
    if felt is not None:
        text += f" and feels like {display('place_air_K', felt)}"
    return Rival(
        "this cooler, aimed at the person", None, air, felt, point.nominal["plug_power_W"],
        point.nominal["plug_power_W"] * DAY_S / 3.6e6, scene.design.sound().value,
        known_price(scene.sheet), None, "sitting in its jet", text + ".",
    )  # fmt: skip


def _smaller_box(scene: Scene) -> Rival | None:
    """The same machine on a 100 litre box of 50 mm foam that stands in the place."""
    if isinstance(scene.sheet.place, Box) or scene.goal_K is None:
        return None
    box = scene.sheet.changed(
        {
            "place": {
                "kind": "box", "length": "0.5 m", "width": "0.5 m", "height": "0.4 m",
                "wall": {"material": "XPS", "thickness": "50 mm"}, "combustion": "none",
            },
            "climate.outdoor_air": f"{scene.off_K - 273.15:.4f} degC",
            "cooler.hot_takes_from": "outdoors",
            "cooler.hot_sends_to": "outdoors",
        }
    )  # fmt: skip
    try:
        point = Design(box, 0, scene.design.seed).solve(with_place=True)
    except NoSolution:
        return None
    air = point.nominal["place_K"]
    return Rival(
        "this cooler on a 100 L box", scene.reaches(air), air, None,
        point.nominal["plug_power_W"], point.nominal["plug_power_W"] * DAY_S / 3.6e6,
        scene.design.sound().value, known_price(scene.sheet), None,
        "cooling the goods instead of the place",
        f"On a box of 100\u2009L with 50\u2009mm of foam in the same place it would come to "
        f"{display('place_air_K', air)}.",
    )  # fmt: skip


RIVALS: dict[str, Callable[[Scene], Rival | None]] = {
    "nothing": _nothing,
    "shade, sealing, insulation first": _first_aid,
    "a table fan": _table_fan,
    "outdoor air by a fan": _window_fan,
    "an evaporative cooler": _evaporative,
    "ice": _ice,
    "this cooler": _this,
    "this cooler, aimed at the person": _at_the_person,
    "this cooler on a 100 L box": _smaller_box,
    "a small compressor in its place": _refrigerator,
    "a compressor unit, one duct": _compressor(
        "single duct", "a compressor unit, one duct", exhausts=True
    ),
    "a compressor unit, through the wall": _compressor(
        "double duct", "a compressor unit, through the wall", exhausts=False
    ),
}


def _with_supply(place: Any, air_K: float, water: float, flow_m3_s: float, fan_W: float) -> Any:
    """The place with a supply of treated outdoor air that keeps all other air out.

    The stepper knows one kind of incoming air, so the treated air takes the outdoor air's place
    in the leakage, and what sees the real outdoors (windows, edges) becomes a plain surface.
    """
    places = place.copy()
    number = int(places["surfaces"][0])
    if number < MAX_SURFACES:
        window = places["surface"][:, number]
        window["area_m2"] = places["loss_W_K"]
        window["u_W_m2K"] = 1.0
        window["layers"] = 0
        window["other_K"] = places["outdoor_K"]
        places["surfaces"] = number + 1
        places["loss_W_K"] = 0.0
    places["outdoor_K"] = air_K + fan_W / (flow_m3_s * 1.15 * 1006.0)
    places["outdoor_humidity_ratio"] = water
    places["leak_area_m2"] = 0.0
    places["counted_W_K"] = 0.0  # a fan's air no heat loss counts
    places["natural_m3_s"] = flow_m3_s
    return places
