"""The verdict in changing weather: the hottest hour of the followed days, and the judged moment."""

from __future__ import annotations

from coldwright.answers.design import Design, Point
from coldwright.answers.scene import Scene
from coldwright.answers.value import Value
from coldwright.errors import SolverError
from coldwright.quantities.glossary import display

# The moment as if it lasted is told apart from the hottest hour where they differ by more [K].
_WORTH_SAYING_K = 0.2


def followed_values(scene: Scene, point: Point, values: dict[str, Value]) -> float | None:
    """Put the hottest hour of the followed weather in the place of the level at the worst moment.

    Walls and contents do not follow so fast, so the moment as if it lasted says too much. The
    tries are shifted as the nominal case is.

    Returns
    -------
    How far the hottest hour lies from the level [K], the cooler running; None in steady weather,
    and where the cooler cannot be followed (then the moment as if it lasted is all there is).
    """
    if scene.design.moment is None:
        return None
    try:
        stored_K = scene.hottest(scene.running)[0] - point.nominal["place_K"]
        stopped_K = scene.hottest(scene.fans_only())[0]
    except SolverError:
        return None
    values["place_air_K"] = _shifted(values["place_air_K"], stored_K)
    # Their intervals at the moment say little of what walls store: none is told.
    values["place_air_off_K"] = Value(scene.off_K)
    values["place_air_stopped_K"] = Value(stopped_K)
    return stored_K


def moment_judged(
    design: Design, scene: Scene | None, level_K: float, stored_K: float | None
) -> list[str]:
    """Which hour of a changing weather is judged, and which moment the heat load belongs to."""
    if design.moment is None:
        return []
    outdoor = display("place_air_K", float(design.place["outdoor_K"][0]))
    if scene is None or stored_K is None:
        return [
            f"Judged at the hottest moment of the weather, {clock_of(design)}, with {outdoor} "
            "outdoors; `coldwright day` follows the whole of it."
        ]
    apart = "" if scene.sheet.cooler.thermostat is None else " with the thermostat left out"
    line = (
        f"Judged by the hottest hour of {scene.stretch}, followed{apart}: sun, people, doors and "
        f"what walls and contents store. Heat load and watts are those of "
        f"{clock_of(design)}, with {outdoor} outdoors"
    )
    if abs(stored_K) >= _WORTH_SAYING_K:
        line += f"; if that moment lasted, it would level off at {display('place_air_K', level_K)}"
    return [f"{line}."]


def clock_of(design: Design) -> str:
    """Clock time of the judged moment, "15:50"; empty in steady weather."""
    if design.moment is None:
        return ""
    # A moment just before a switch is told by the switch.
    minutes = round(design.moment.clock_s % 86400.0 / 60.0) % 1440
    return f"{minutes // 60:02d}:{minutes % 60:02d}"


def _shifted(value: Value, by_K: float) -> Value:
    return Value(*(None if x is None else x + by_K for x in (value.value, value.low, value.high)))
