"""What the results are called in tables, and in which order they stand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from coldwright.faces.cli.figures import span_of_time
from coldwright.faces.cli.table import GAP, Label

_COOLING = (
    Label("cooling_W", "Cold side takes out of the air"),
    Label("cooling_sensible_W", "  of it, to lower the temperature", needs="cooling_latent_W"),
    Label("cooling_latent_W", "  of it, to condense water", needs="cooling_latent_W"),
    Label("infiltration_sensible_W", "Exhaust lets in, as heat", needs="infiltration_sensible_W"),
    Label("infiltration_latent_W", "Exhaust lets in, as moisture", needs="infiltration_latent_W"),
    Label("net_cooling_W", "Net cooling"),
)

WATTS: tuple[Label, ...] = (
    *_COOLING,
    Label("heat_rejected_W", "Hot side gives to its air"),
    GAP,
    Label("plug_power_W", "From the plug"),
    Label("module_power_W", "Into the modules"),
    Label("voltage_V", "Voltage of the array"),
    Label("current_A", "Current of the array"),
    Label("cop_module", "COP of the modules"),
    Label("cop_system", "COP, cooling over plug power"),
    Label("cop_net", "COP, net cooling over plug power"),
    GAP,
    Label("place_air_K", "Air of the place"),
    Label("dew_point_K", "Its dew point"),
    Label("cold_outlet_K", "Cold air leaves at"),
    Label("cold_sink_K", "Cold sink"),
    Label("cold_face_K", "Cold face"),
    Label("hot_face_K", "Hot face"),
    Label("lift_K", "Lift across the modules"),
    Label("hot_sink_K", "Hot sink"),
    Label("hot_outlet_K", "Hot air leaves at"),
    GAP,
    Label("cold_flow_m3_s", "Air through the cold side"),
    Label("hot_flow_m3_s", "Air through the hot side"),
    Label("condensate_kg_s", "Water condensed", needs="condensate_kg_s"),
    Label("sound_dB", "Sound at 1 m"),
)

_COST = (
    Label("plug_power_W", "From the plug"),
    Label("cop_net", "COP, net cooling over plug power"),
    Label("sound_dB", "Sound at 1 m"),
    Label("price", "Price of the known parts", needs="price"),
    Label("price_per_day", "Electricity for a day", needs="price_per_day"),
)


def verdict_labels(history: Mapping[str, Sequence[float]]) -> tuple[Label, ...]:
    """Rows of the verdict: of a place that is followed over time, or of one given state."""
    times = history.get("time_s", ())
    if not times:
        return (
            Label("plate_K", "The plate levels off at", needs="plate_K"),
            Label("goal_air_K", "Goal", needs="goal_air_K"),
            GAP,
            Label("cooling_W", "Cold side takes out"),
            Label("net_cooling_W", "Net cooling"),
            *_COST,
            GAP,
            Label("cold_outlet_K", "Cold air leaves at", needs="cold_outlet_K"),
            Label("cold_face_K", "Cold face"),
            Label("hot_face_K", "Hot face"),
            Label("lift_K", "Lift across the modules"),
        )
    return (
        Label("place_air_K", "The place levels off at"),
        Label("goal_air_K", "Goal", needs="goal_air_K"),
        Label("place_air_at_limit_K", f"After {span_of_time(times[-1])}"),
        Label("time_to_goal_s", "Reaches the goal after"),
        Label("place_air_off_K", "Without any cooler"),
        Label("place_air_stopped_K", "With the modules stopped"),
        GAP,
        Label("load_at_goal_W", "Heat to remove at the goal"),
        Label("net_cooling_W", "Net cooling at the goal"),
        Label("cooling_at_goal_W", "Cold side takes out at the goal"),
        *_COST,
    )


WIDEST: dict[str, str] = {
    "place_air_K": "Air of the place",
    "plate_K": "Plate",
    "net_cooling_W": "Net cooling",
    "cooling_W": "Cold side",
}
"""Results of which it is said what widens their interval: the first two that an answer has."""
