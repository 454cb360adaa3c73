"""The sentences of the answers: what is so and why, in plain words with the numbers."""

from __future__ import annotations

from collections.abc import Sequence

from coldwright.answers.value import Value
from coldwright.findings import Finding
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, OpenAir, Plate, Room, Sheet


def watts_headline(sheet: Sheet, values: dict[str, Value]) -> str:
    """The one sentence on top of `watts`."""
    net_W, cooling_W = values["net_cooling_W"].value, values["cooling_W"].value
    plug_W = values["plug_power_W"].value
    if net_W is None or cooling_W is None or plug_W is None:
        return "The operating point is not known."
    if isinstance(sheet.place, Plate):
        return (
            f"The modules take {_watts(cooling_W)} from the plate for {_watts(plug_W)} "
            f"{from_the_plug(sheet)}."
        )
    taken = infiltration(values)
    if sheet.cooler.hot_sends_to == "place":
        return f"Both sides stand in one place: it is heated by {_watts(-net_W)}."
    if cooling_W <= 0.0:
        return f"The cold side warms its air by {_watts(-cooling_W)}."
    if net_W < 0.0 and taken > 0.0:
        return (
            f"The modules take {_watts(cooling_W)} out of the air, but the exhaust lets more "
            "heat in."
        )
    if taken > 0.1 * cooling_W:
        return (
            f"The exhaust lets in {_share(taken / cooling_W)} of the {_watts(cooling_W)} that the "
            "cold side takes out of the air."
        )
    return (
        f"{_watts(cooling_W)} leave the air through the cold sink, for {_watts(plug_W)} "
        f"{from_the_plug(sheet)}."
    )


def watts_reasons(sheet: Sheet, values: dict[str, Value]) -> list[str]:
    """Two or three lines of reason under the headline."""
    lines = []
    rejected, module_W = values["heat_rejected_W"].value, values["module_power_W"].value
    pumped_W = values["pumped_W"].value
    if rejected is not None and module_W is not None and pumped_W is not None:
        lift = display("lift_K", values["lift_K"].value)
        lines.append(
            f"The modules lift {_watts(pumped_W)} over {lift} with {_watts(module_W)} of "
            f"electricity; {_watts(rejected)} must leave through the hot sink."
        )
    net = values["net_cooling_W"]
    taken = infiltration(values)
    if not isinstance(sheet.place, Plate) and net.value is not None:
        own_W = (values["cooling_W"].value or 0.0) - taken - net.value
        parts = []
        if abs(taken) >= 0.5:
            verb = "let in by" if taken > 0 else "saved by"
            parts.append(f"{_watts(abs(taken))} {verb} the exhaust's replacement air")
        if own_W >= 0.5:
            where = "air" if isinstance(sheet.place, OpenAir) else "place"
            parts.append(f"{_watts(own_W)} of the cooler's own heat that lands in the {where}")
        if parts:
            end = "" if isinstance(sheet.place, OpenAir) else " for the place"
            lines.append(f"Net of {' and '.join(parts)}, {_watts(net.value)} remain{end}.")
    condensate = values["condensate_kg_s"].value
    if condensate is not None and condensate > 1e-7:
        latent_W = values["cooling_latent_W"].value or 0.0
        lines.append(
            f"{_watts(latent_W)} of the cooling go into {condensate * 3.6e6:.0f} g/h of water "
            "that condenses."
        )
    if isinstance(sheet.place, OpenAir):
        outlet = values["cold_outlet_K"].value
        if outlet is not None:
            lines.append(
                f"The air leaves at {display('cold_outlet_K', outlet)}. A cold outlet is not a "
                "large cooling capacity: capacity is flow times what the air loses."
            )
    return lines


def verdict_headline(
    sheet: Sheet,
    verdict: str | None,
    values: dict[str, Value],
    tries: tuple[int, int, int],
    missed: list[str],
    *,
    followed: bool = False,
) -> str:
    """The one sentence on top of `verdict`, `followed` through changing weather or not.

    `tries`: how many reach the goal, count, were made; `missed`: what fails where it is cold
    enough.
    """
    place = _place_word(sheet)
    if isinstance(sheet.place, OpenAir):
        return (
            "In open air there is no place to judge; this is what the cooler does in the given air."
        )
    does, when = _levels(followed)
    if verdict is None:
        at = values["plate_K"] if isinstance(sheet.place, Plate) else values["place_air_K"]
        given = "no goal for its temperature is given"
        return f"The {place} {does} {with_interval('place_air_K', at)}{when}; {given}."
    at = values["plate_K"] if isinstance(sheet.place, Plate) else values["place_air_K"]
    level = with_interval("place_air_K", at)
    goal_K = values["goal_air_K"].value
    goal = display("goal_air_K", goal_K)
    if at.value is not None and at.value != goal_K and display("goal_air_K", at.value) == goal:
        # Two temperatures that read alike and are not: one digit more tells them apart.
        level = display("place_air_K", at.value, digits=2)
        goal = display("goal_air_K", goal_K, digits=2)
    reached, count, made = tries
    counted = f" ({reached:,} of {count:,} tries)" if made else ""
    if count < made:
        counted = f" ({reached:,} of {count:,} tries; {made - count:,} more cannot be)"
    word = {"yes": "Yes", "no": "No"}.get(verdict, "Borderline")
    if missed and verdict != "yes":
        # Cold enough, and yet it misses: the reason belongs beside the word.
        reason = " and ".join(missed[:2])
        return f"{word}: {reason}{counted}. It {does} {level}{when}; the goal is {goal}."
    return f"{word}: the {place} {does} {level}{when}; the goal is {goal}{counted}."


def _levels(followed: bool) -> tuple[str, str]:
    """What a place does in steady weather, or in weather that it is followed through."""
    return ("comes to", " in its hottest hour") if followed else ("levels off at", "")


def needless_headline(
    sheet: Sheet, values: dict[str, Value], own: str, *, followed: bool = False
) -> str:
    """The sentence on top where the goal is kept without any cooler.

    `own` is what it says where the place starts warmer and has to get there in time.
    """
    start = "Nothing to cool in the end" if own else "Nothing to cool"
    does, when = _levels(followed)
    off = (
        f"{start}: without any cooler the {_place_word(sheet)} {does} "
        f"{display('place_air_off_K', values['place_air_off_K'].value)}{when}"
    )
    if own:
        return f"{off}. {own}"
    return (
        f"{off}, and the goal is {display('goal_air_K', values['goal_air_K'].value)}; with this "
        f"one it would be {with_interval('place_air_K', values['place_air_K'])}."
    )


def refusal_headline(stops: Sequence[Finding]) -> str:
    """The one sentence on top of `verdict` for a design that must not be built like this."""
    codes = {found.code for found in stops}
    said = (why for code, why in _REFUSED.items() if code in codes)
    return f"No: {next(said, 'it must not be built like this')}."


# The first that applies is said.
_REFUSED = {
    "CW-SAFE-01": "this exhaust must not run beside an open flame",
    "CW-SAFE-10": "this exhaust and the other fans must not run beside an open flame",
    "CW-SAFE-07": "foam must not touch a sink that gets so hot",
    "CW-SAFE-21": "a supply must not stand inside foam",
    "CW-SAFE-27": "the mains inlet must not be loaded like this",
    "CW-SAFE-28": "the switch cannot break direct current",
}


def with_interval(name: str, value: Value) -> str:
    """Number with its interval in brackets."""
    text = display(name, value.value)
    if value.low is None or value.high is None:
        return text
    # A dash between two numbers of which one is negative reads like a third sign.
    between = " to " if value.low < 0.0 and not name.endswith("_K") else "–"
    return f"{text} ({_bare(name, value.low)}{between}{_bare(name, value.high)})"


def cause_words(sheet: Sheet) -> dict[str, str]:
    """Causes of the heat load as this sheet has them, where they stand for several things."""
    place = sheet.place
    if not isinstance(place, Room | Box):
        return {}
    parts = [
        word
        for word, held in (
            ("by the given heat loss", place.heat_loss is not None),
            ("windows", bool(place.window)),
            ("edges", isinstance(place, Box) and place.wall is not None),
            ("heat bridges", bool(place.leak)),
            ("lid seal", isinstance(place, Box) and place.lid_seal is not None),
        )
        if held
    ]
    if not parts:
        return {}
    words = parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"
    return {"windows, edges and leaks": words}


def infiltration(values: dict[str, Value]) -> float:
    """Heat [W] that the exhaust's replacement air brings in, sensible and latent."""
    return (values["infiltration_sensible_W"].value or 0.0) + (
        values["infiltration_latent_W"].value or 0.0
    )


def from_the_plug(sheet: Sheet) -> str:
    """Where the electricity comes from."""
    if sheet.power is not None and sheet.power.battery is not None and sheet.power.supply is None:
        return "from the battery"
    return "from the plug"


def _place_word(sheet: Sheet) -> str:
    if isinstance(sheet.place, Plate):
        return "plate"
    return (
        "box"
        if isinstance(sheet.place, Box)
        else "room"
        if isinstance(sheet.place, Room)
        else "air"
    )


def _bare(name: str, value: float) -> str:
    text = display(name, value)
    return text.rsplit("\u2009", 1)[0]


def _watts(value: float) -> str:
    # Below a milliwatt stands only what rounding leaves of zero.
    return display("cooling_W", value if abs(value) >= 1e-3 else 0.0)


def _share(share: float) -> str:
    for limit, word in ((0.2, "a tenth"), (0.3, "a quarter"), (0.42, "a third"), (0.58, "half")):
        if share < limit:
            return word
    return f"{100 * share:.0f}\u2009%"
