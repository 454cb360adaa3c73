"""What the results are called in tables, and in which order they stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from coldwright.quantities.display import span_of_time
from coldwright.quantities.glossary import entry
from coldwright.report.figures import Figure, Interval, figure


@dataclass(frozen=True, slots=True)
class Label:
    """How a result is called in a table; without a key it leaves a gap between groups of rows.

    Parameters
    ----------
    key, text : str
        Name of the result in the answer, and what a person reads.
    needs : str
        A result that must be known and not nought for this row to say anything.
    """

    key: str = ""
    text: str = ""
    needs: str = ""


GAP = Label()

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


def verdict_labels(
    history: Mapping[str, Sequence[float]], *, followed: bool = False
) -> tuple[Label, ...]:
    """Rows of the verdict: of a place that is followed over time, or of one given state.

    With `followed` the place went through changing weather, and its hottest hour is told.
    """
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
    then = ", that moment lasting" if followed else ""
    return (
        Label(
            "place_air_K",
            "The place in its hottest hour" if followed else "The place levels off at",
        ),
        Label("goal_air_K", "Goal", needs="goal_air_K"),
        Label("place_air_at_limit_K", f"After {span_of_time(times[-1])}{then}"),
        Label("time_to_goal_s", f"Reaches the goal after{then}"),
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


def figure_groups(
    labels: Iterable[Label], values: Mapping[str, Interval], money: str = ""
) -> list[list[tuple[str, Figure]]]:
    """Rows with their figures, in groups; what the answer lacks, or says nothing, is left out.

    `money` is the currency of the prices.
    """
    groups: list[list[tuple[str, Figure]]] = [[]]
    for label in labels:
        value = values.get(label.key)
        if not label.key:
            groups.append([])
        elif value is not None and (
            not label.needs or _says_something(label.needs, values.get(label.needs))
        ):
            groups[-1].append((label.text, figure(label.key, value, money)))
    return [group for group in groups if group]


def _says_something(name: str, value: Interval | None) -> bool:
    """Whether a figure is more than nought as people read it."""
    if value is None:
        return False
    least = _LEAST.get(entry(name).kind, 0.0)
    held = (value.value, value.low, value.high)
    return any(number is not None and abs(number) > least for number in held)


# Half of the last digit that is worth showing, in SI.
_LEAST = {"heat": 0.05, "moisture_rate": 0.05 / 3.6e6}
