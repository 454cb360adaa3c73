"""Rivals that hold a place by machine or by ice, and this cooler itself."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from coldwright.answers.followed import HOUR_S, Numbers, follow
from coldwright.answers.holding import ice_per_day_kg
from coldwright.answers.prepared import prepare
from coldwright.answers.prices import known_price
from coldwright.answers.rival import Rival, advised, but
from coldwright.answers.scene import Scene
from coldwright.answers.spot import spot_of
from coldwright.errors import NoSolution
from coldwright.machine.day import S_CONDENSATE, S_PLUG
from coldwright.machine.rows import ALLOWED, OTHER_K, OUTDOOR_K, OUTDOOR_WATER, SET_K
from coldwright.machine.run import Forcing
from coldwright.machine.safety import exhaust_advice
from coldwright.machine.safety import exhausts as takes_air_out
from coldwright.machine.sky import DAY_S
from coldwright.physics.air_state import enthalpy
from coldwright.physics.compressor import EU_MINIMUM, EU_SOUND_POWER_DB
from coldwright.quantities.glossary import display
from coldwright.sheet.check_air import sealed

KWH_J = 3.6e6
# By how much a compressor unit warms the air it blows out (common practice, no source) [K].
_CONDENSER_RISE_K = 15.0
# Small compressor boxes move one to three watts per watt, at such a sound (common practice, no
# source).
_BOX_COP, _BOX_DB = 1.5, 35.0
# Sound power less this is the pressure level at 1 m over a floor.
_POWER_TO_1M_DB = 8.0
_ICE_KG = 5.0


def ice(scene: Scene) -> Rival | None:
    """As much as the worst day melts, its water drained at the goal's temperature."""
    load_W = scene.worst_day_W
    if scene.goal_K is None or load_W is None or scene.goal_K <= 273.15:
        return None
    mass = ice_per_day_kg(load_W, scene.goal_K)
    text = f"Ice holds the goal with {mass:.1f}\u2009kg on the worst day"
    if mass > 0.0:
        each_s = DAY_S / mass
        text += (
            f": each kilogram holds {display('time', each_s)}, {_ICE_KG:.0f}\u2009kg hold "
            f"{display('time', _ICE_KG * each_s)}"
        )
    return Rival(
        "ice", _held(scene), scene.goal_K, None, 0.0, 0.0, 0.0, None, mass,
        f"bringing {mass:.1f} kg of ice a day", text + ".",
    )  # fmt: skip


def this_cooler(scene: Scene) -> Rival:
    """The design as the sheet runs it: its hours, its thermostat."""
    hours = scene.own
    air, water = scene.hottest(hours)
    plug = scene.point.nominal["plug_power_W"]
    kwh = float(hours.per_day(S_PLUG)[0]) / KWH_J
    reached = scene.reaches(air, switched=True)
    more = "."
    if reached is False and (always_K := scene.always_on_K()) is not None:
        more = f"; always on it would hold {display('place_air_K', always_K)}."
    # What is never advised is not hidden: the sheet asks about this one.
    cautious = exhaust_advice(scene.sheet).asks if takes_air_out(scene.sheet) else ""
    return Rival(
        "this cooler", reached, air, scene.feels(air, water), plug, kwh,
        scene.design.sound().value, known_price(scene.sheet),
        float(hours.per_day(S_CONDENSATE)[0]), "building it",
        f"This cooler brings it to {display('place_air_K', air)} with "
        f"{display('plug_power_W', plug)}, {kwh:.2f}\u2009kWh a day{more}{but(cautious)}",
        caution=cautious,
    )  # fmt: skip


def at_the_person(scene: Scene) -> Rival | None:
    """Its cold air aimed at somebody, as far away as the sheet says."""
    spot = spot_of(scene)
    if spot is None:
        return None
    own = this_cooler(scene)
    felt = scene.feels(spot.air_K, spot.humidity_ratio, min(spot.velocity_m_s, 3.0))
    text = (
        f"Aimed at a person {100 * spot.distance_m:.0f}\u2009cm away, its air arrives at "
        f"{display('place_air_K', spot.air_K)} and {spot.velocity_m_s:.1f}\u2009m/s"
    )
    if felt is not None:
        text += f" and feels like {display('place_air_K', felt)}"
    return Rival(
        "this cooler, aimed at the person", None, own.place_air_K, felt, own.plug_W,
        own.kWh_per_day, own.noise_dB, own.price, own.water_kg_per_day, "sitting in its jet",
        text + ".", serves_place=False,
    )  # fmt: skip


def smaller_box(scene: Scene) -> Rival | None:
    """The same machine on a 100 litre box of 50 mm foam that stands in the place left alone."""
    if scene.is_box or scene.goal_K is None:
        return None
    box = scene.sheet.changed(
        {
            "place": {
                "kind": "box", "length": "0.5 m", "width": "0.5 m", "height": "0.4 m",
                "wall": {"material": "XPS", "thickness": "50 mm"}, "combustion": "none",
            },
            "climate": {
                "kind": "steady", "outdoor_air": f"{scene.off_K - 273.15:.4f} degC",
                "outdoor_humidity": "50 percent",
            },
            "cooler.hot_takes_from": "outdoors",
            "cooler.hot_sends_to": "outdoors",
        }
    )  # fmt: skip
    ready = prepare(box, 0, scene.design.seed)
    clock, around = scene.ready.forcing.clock, scene.rows
    rows = np.zeros_like(around)
    rows[:, OUTDOOR_K] = _along(scene, scene.free.air_K[0])
    rows[:, OUTDOOR_WATER] = _along(scene, scene.free.water[0])
    rows[:, SET_K], rows[:, ALLOWED] = around[:, SET_K], around[:, ALLOWED]
    for s in range(int(ready.places["surfaces"][0])):
        rows[:, OTHER_K + s] = rows[:, OUTDOOR_K]
    ready = replace(
        ready,
        sky=scene.ready.sky,
        forcing=Forcing(clock, rows[None, :, :], scene.ready.forcing.period_s),
    )
    hours = follow(ready)
    air, _ = scene.hottest(hours)
    own = scene.point.nominal["plug_power_W"]
    kwh = float(hours.per_day(S_PLUG)[0]) / KWH_J
    text = (
        f"On a box of 100\u2009L with 50\u2009mm of foam in the same place it would hold "
        f"{display('place_air_K', air)} with {kwh:.2f}\u2009kWh a day"
    )
    text += "; that serves goods, not the people here" if scene.has_people else ""
    reached = None if scene.has_people else scene.reaches(air, switched=True)
    return Rival(
        "this cooler on a 100 L box", reached, air, None, own, kwh, scene.design.sound().value,
        known_price(scene.sheet), None, "cooling the goods instead of the place", text + ".",
        serves_place=False,
    )  # fmt: skip


def refrigerator(scene: Scene) -> Rival | None:
    """What a box that a compressor cools would take; rooms are served by air conditioners."""
    if not scene.is_box or scene.held_W is None:
        return None
    worst = float(scene.held_W[scene.wanted].max()) / _BOX_COP
    kwh = float(scene.held_W.mean()) / _BOX_COP * DAY_S / KWH_J
    return Rival(
        "a small compressor in its place", _held(scene), scene.goal_K, None, worst, kwh, _BOX_DB,
        None, None, "buying one",
        f"A small compressor with a COP of {_BOX_COP:g} would hold the goal with "
        f"{display('plug_power_W', worst)}, {kwh:.2f}\u2009kWh a day.",
    )  # fmt: skip


def compressor(
    kind: str, name: str, word: str, *, exhausts: bool
) -> Callable[[Scene], Rival | None]:
    """A unit of a regulation's least efficiency that is large enough."""

    def make(scene: Scene) -> Rival | None:
        if scene.is_box or scene.held_W is None:
            return None
        caution = advised(scene) if exhausts else ""
        if exhausts and sealed(scene.sheet.place):  # type: ignore[arg-type]
            raise NoSolution(
                "CW-SOLVE-01", "No air can come into the place for what its exhaust takes out."
            )
        rating = EU_MINIMUM[kind].ordinary
        asks = "buying it, a duct" if exhausts else "buying it, a hole in the wall"
        noise = EU_SOUND_POWER_DB - _POWER_TO_1M_DB
        share = _drawn_in(scene, rating) if exhausts else np.ones(len(scene.held_W))
        running = scene.held_W > 0.0
        if not (share[running] > 0.0).all():
            return Rival(
                name, False, None, None, None, None, noise, None, None, asks,
                f"A {word} of the regulation's least efficiency never gets there: its exhaust "
                "lets in more than it moves.",
            )  # fmt: skip
        taken_W = np.where(running, scene.held_W * share / rating, 0.0)
        worst, kwh = float(taken_W[scene.wanted].max()), float(taken_W.mean()) * DAY_S / KWH_J
        return Rival(
            name, _held(scene), scene.goal_K, None, worst, kwh, noise, None, 0.0, asks,
            f"A {word} of the regulation's least efficiency holds the goal with "
            f"{display('plug_power_W', worst)} at the worst hour, {kwh:.2f}\u2009kWh a day."
            + but(caution),
            caution=caution,
        )  # fmt: skip

    return make


def _drawn_in(scene: Scene, rating: float) -> Numbers:
    """Cooling per watt of load in each hour, shape (k,); nought or less where it never gets there.

    A single duct blows the heat out with air of the place; what replaces it is load again, by the
    same rule as for the thermoelectric machine.
    """
    assert scene.held_water is not None
    assert scene.most_K is not None
    number = scene.hour_of_row
    hours = range(len(scene.wanted))
    outdoor_K = np.array([scene.rows[number == k, OUTDOOR_K].mean() for k in hours])
    outdoor_water = np.array([scene.rows[number == k, OUTDOOR_WATER].mean() for k in hours])
    hourly_h = np.asarray(enthalpy(outdoor_K, outdoor_water))
    # Whatever cools it also dries it, to the outdoor air's moisture at least.
    inside_h = np.asarray(enthalpy(scene.most_K, np.minimum(scene.held_water, outdoor_water)))
    # Air blown out per watt of heat rejected: 1 / (cp rise). Where outdoors is cooler it helps, but
    # a unit does not run backwards.
    back = (1.0 + 1.0 / rating) * (hourly_h - inside_h) / (1006.0 * _CONDENSER_RISE_K)
    return np.where(back < 1.0, 1.0 / (1.0 - np.minimum(back, 0.999)), 0.0)


def _held(scene: Scene) -> bool | None:
    """Whether what is held in the hours that count meets the goal."""
    assert scene.most_K is not None
    return scene.reaches(float(scene.most_K[scene.wanted].max()))


def _along(scene: Scene, hourly: Numbers) -> Numbers:
    """Hourly means as straight lines between the middles of the hours, along the rows."""
    middles = HOUR_S * (np.arange(len(hourly)) + 0.5)
    period = scene.ready.forcing.period_s
    clock = scene.ready.forcing.clock
    if period > 0.0:
        return np.interp(clock, middles, hourly, period=period)
    return np.interp(clock, middles, hourly)
