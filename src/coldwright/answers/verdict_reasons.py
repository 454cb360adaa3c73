"""Why the verdict is what it is: at most five lines, the weightiest first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coldwright.answers.sentences import (
    from_the_plug,
    infiltration,
    watts_reasons,
    with_interval,
)
from coldwright.answers.value import Value
from coldwright.quantities.display import span_of_time
from coldwright.quantities.glossary import display
from coldwright.quantities.notations import currency
from coldwright.sheet.models import OpenAir, Plate, Sheet

if TYPE_CHECKING:
    from coldwright.answers.alternatives import Alternative


def verdict_reasons(
    sheet: Sheet,
    values: dict[str, Value],
    load: list[tuple[str, Value]],
    others: list[Alternative],
) -> list[str]:
    """The lines under the verdict."""
    if isinstance(sheet.place, Plate):
        return _plate(sheet, values)
    if isinstance(sheet.place, OpenAir):
        return watts_reasons(sheet, values)
    lines: list[str] = []
    if sheet.cooler.hot_sends_to == "place":
        plug = display("plug_power_W", values["plug_power_W"].value)
        lines.append(
            f"Both sides stand in one place: what the cold side takes out comes back through the "
            f"hot side together with {plug} of electricity. Only the spot in the cold stream is "
            "cooler."
        )
    net = values["net_cooling_W"]
    total = values.get("load_at_goal_W")
    if total is not None and total.value is not None and net.value is not None:
        lines.append(
            f"At the goal {with_interval('heat_load_W', total)} come in and the cooler takes out "
            f"{with_interval('net_cooling_W', net)} net."
        )
        lines += _causes(load)
    taken = infiltration(values)
    cooling_W = values.get("cooling_at_goal_W", values["cooling_W"]).value
    if taken >= 0.5 and cooling_W is not None:
        flow = display("hot_flow_m3_s", values["hot_flow_m3_s"].value)
        at_goal = "At the goal the exhaust" if load else "The exhaust"
        lines.append(
            f"{at_goal} blows {flow} out of the place; the outdoor air that replaces it brings "
            f"{display('cooling_W', taken)} back in. The cold side takes out "
            f"{display('cooling_W', cooling_W)}."
        )
    elif taken <= -0.5:
        lines.append(_takes_out(values))
    off = values.get("place_air_off_K")
    level = values.get("place_air_K")
    if off is not None and off.value is not None and level is not None and level.value is not None:
        drop_K = off.value - level.value
        does = f"{'lowers' if drop_K >= 0 else 'raises'} it by {abs(drop_K):.1f}\u2009K"
        if abs(drop_K) < 0.05:
            does = "makes no difference"
        lines.append(
            f"Without any cooler it would be {display('place_air_off_K', off.value)} there, so "
            f"the cooler {does}, for "
            f"{display('plug_power_W', values['plug_power_W'].value)} {from_the_plug(sheet)}."
        )
    cost = values.get("price_per_day")
    if cost is not None and cost.value is not None and sheet.price is not None:
        assert sheet.price.electricity is not None
        money = f"{cost.value:.2f}\u2009{currency(sheet.price.electricity.text)}".strip("\u2009")
        lines.append(
            f"Running all day costs {money} in electricity, at {sheet.price.electricity.text}."
        )
    at_limit = values.get("place_air_at_limit_K")
    if sheet.goal.within is not None and at_limit is not None:
        lines.append(
            f"After {span_of_time(sheet.goal.within.value)} it is at "
            f"{with_interval('place_air_at_limit_K', at_limit)}."
        )
    lines += _limits(sheet, values)
    lines += [other.sentence for other in others]
    return lines


def _takes_out(values: dict[str, Value]) -> str:
    """Outdoor air that helps, by its warmth, by its dryness, or by both."""
    warmth = values["infiltration_sensible_W"].value or 0.0
    moisture = values["infiltration_latent_W"].value or 0.0
    start = "The outdoor air that replaces the exhaust takes"
    if warmth <= -0.5 and moisture <= 0.5:
        dry = ", being drier too" if moisture <= -0.5 else ""
        return (
            f"{start} {display('cooling_W', -warmth - min(moisture, 0.0))} out as well, because "
            f"the place is hotter than outdoors{dry}: a fan alone would do that."
        )
    if warmth <= -0.5:
        return (
            f"{start} {display('cooling_W', -warmth)} out as well, because the place is hotter "
            f"than outdoors, but its moisture brings {display('cooling_W', moisture)} in."
        )
    brings = f", and brings {display('cooling_W', warmth)} of warmth in" if warmth >= 0.5 else ""
    return (
        f"{start} {display('cooling_W', -moisture)} of moisture's heat out, because outdoors is "
        f"drier{brings}."
    )


def _causes(load: list[tuple[str, Value]]) -> list[str]:
    """The three weightiest causes: what comes in, and what goes out by itself."""
    causes = sorted(load, key=lambda row: -abs(row[1].value or 0.0))[:3]
    told = [(cause, value.value) for cause, value in causes if abs(value.value or 0.0) >= 0.5]
    into = [f"{cause} {display('heat_load_W', heat)}" for cause, heat in told if heat and heat > 0]
    out = [f"{cause} {display('heat_load_W', -heat)}" for cause, heat in told if heat and heat < 0]
    lines = [f"What comes in: {', '.join(into)}"] if into else []
    lines += [f"{'what' if into else 'What'} goes out by itself: {', '.join(out)}"] if out else []
    return [f"{'; '.join(lines)}."] if lines else []


def _plate(sheet: Sheet, values: dict[str, Value]) -> list[str]:
    face = display("hot_face_K", values["hot_face_K"].value)
    return [
        f"The modules take {with_interval('cooling_W', values['cooling_W'])} from the plate over "
        f"a lift of {display('lift_K', values['lift_K'].value)}; their hot faces are at {face}.",
        f"That takes {with_interval('plug_power_W', values['plug_power_W'])} "
        f"{from_the_plug(sheet)}, a COP of {display('cop_system', values['cop_system'].value)}.",
    ]


def _limits(sheet: Sheet, values: dict[str, Value]) -> list[str]:
    """Limits of the sheet that the nominal design passes."""
    lines = []
    goal = sheet.goal
    plug, sound, price = values["plug_power_W"], values["sound_dB"], values["price"]
    if goal.max_plug_power is not None and (plug.value or 0.0) > goal.max_plug_power.value:
        lines.append(
            f"It takes {display('plug_power_W', plug.value)}; the limit is "
            f"{goal.max_plug_power.text}."
        )
    if goal.max_sound is not None and (sound.value or 0.0) > goal.max_sound.value:
        lines.append(
            f"It makes {display('sound_dB', sound.value)} at 1\u2009m; the limit is "
            f"{goal.max_sound.text}."
        )
    if goal.max_price is not None and (price.value or 0.0) > goal.max_price.value:
        cost = f"{price.value:.0f}\u2009{currency(goal.max_price.text)}".strip("\u2009")
        lines.append(f"Its known parts cost {cost}; the limit is {goal.max_price.text}.")
    return lines
