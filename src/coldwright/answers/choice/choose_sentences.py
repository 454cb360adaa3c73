"""What the search found, in sentences."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from coldwright.answers.choice.beaten import Beaten
from coldwright.answers.choice.wanted import Wanted
from coldwright.machine.search import Aim
from coldwright.quantities.display import THIN_SPACE
from coldwright.quantities.glossary import display
from coldwright.sheet.models import OpenAir, Plate, Sheet

if TYPE_CHECKING:
    from coldwright.answers.choice.told import Candidate, Choose

LIMIT_WORDS = {
    "no steady state": "a steady state at all",
    "goal": "the goal",
    "max_plug_power": "the limit of power from the plug",
    "max_sound": "the limit of sound",
    "max_price": "the limit of price",
    "hot_face": "the limit of the hot face",
    "cold_face": "the limit of the cold face",
    "hot_sink": "the limit of the hot sink",
    "cold_sink": "the limit of the cold sink",
    "dew_point_margin": "the margin to the dew point",
    "supply rating": "what the supply can give",
    "converter rating": "what the converter can give",
    "module rating": "what the modules are rated for",
    "fuse": "what the fuse of the wire lets through",
    "under-pressure": "the under-pressure allowed beside an open flame",
}
# Less net cooling is none.
LEAST_NET_W = 0.05
_WORDS = {
    "room": "do not fit on their sinks",
    "stock": "are more than there are in stock",
    "voltage": "get a voltage that they cannot use",
    "price": "cost more than the limit",
}


HOPELESS = (
    "No design of these parts cools on balance: what the cold side takes comes back with the heat "
    "of the hot side, the fans or the air that is drawn in."
)


def choose_headline(answer: Choose, sheet: Sheet, aim: Aim, wanted: Wanted) -> str:
    """The sentence that answers."""
    if not answer.best:
        return _nothing(answer, sheet, wanted)
    best = answer.best[0]
    money = "" if best.price is None else f", for {_money(best.price, answer.currency)}"
    power = display("plug_power_W", best.figures["plug_power_W"].value)
    level = _level(best, sheet)
    modules = _modules(best)
    if aim == Aim.COLDEST:
        own = _own_level(answer, sheet)
        held = best.figures[_level_name(sheet)].value
        apart = ""
        if own is not None and held is not None:
            apart = f", {_kelvins(own - held)} than the sheet's own design"
        return f"Coldest with {modules}: {level}{apart}, {power} from the plug{money}."
    if aim == Aim.NET:
        net = display("net_cooling_W", best.figures["net_cooling_W"].value)
        return f"Most net cooling with {modules}: {net} for {power} from the plug{money}."
    if aim == Aim.CHEAPEST:
        price = "price not known" if best.price is None else _money(best.price, answer.currency)
        return f"Cheapest with {modules}: {price}; {level}, {power} from the plug."
    if aim == Aim.QUIETEST:
        sound = display("sound_dB", best.figures["sound_dB"].value)
        return f"Quietest with {modules}: {sound}; {level}, {power} from the plug{money}."
    cop = best.figures["cop_net"].value
    shown = "not known" if cop is None else f"{cop:.2f}"
    return f"Best net COP with {modules}: {shown}; {level}, {power} from the plug{money}."


def choose_reasons(answer: Choose, sheet: Sheet, wanted: Wanted) -> list[str]:
    """What the best one is, how it stands to goal and limits, how much was seen."""
    reasons = []
    if answer.best:
        best = answer.best[0]
        reasons.append(_how_run(best))
        reached = _against_goal(best, sheet)
        if reached:
            reasons.append(reached)
        if best.kept_share is not None:
            reasons.append(_in_tries(best, answer, wanted))
    reasons.append(_seen(answer))
    odd = _fan_volts(answer)
    if odd:
        reasons.append(odd)
    room = _room(wanted)
    if room and answer.best:
        reasons.append(room)
    reasons += answer.notes
    return reasons


def beaten_reason(one: Beaten, aim: Aim, by_net: bool) -> str:
    """Why a design is not the answer."""
    if one.breaks == ["goal"]:
        return f"{_better(one.ahead['cost'], aim)}, but misses the goal"
    if one.breaks:
        better = _better(one.ahead["cost"], aim)
        what = listed([LIMIT_WORDS[name] for name in one.breaks])
        return f"{better}, but breaks {what}"
    ahead = []
    if by_net and one.ahead.get("net_W", 0.0) >= 0.5:
        ahead.append(f"{_figure(one.ahead['net_W'])} W more")
    elif not by_net and one.ahead.get("level_K", 0.0) >= 0.05:
        ahead.append(f"{_figure(one.ahead['level_K'])} K colder")
    for name, unit, word, least in (
        ("plug_W", "W", "less", 0.5),
        ("sound_dB", "dB", "quieter", 0.5),
        ("price", "", "cheaper", 0.5),
    ):
        if one.ahead.get(name, 0.0) >= least:
            amount = f"{_figure(one.ahead[name])} {unit}".strip()
            ahead.append(f"{amount} {word}")
    told = ", ".join(ahead) or "as good in everything"
    return f"another one is {told}"


def count_words(number: int) -> str:
    """A count that may be astronomically large: "12,480", "149 thousand million"."""
    if number < 10_000_000:
        return f"{number:,}"
    millions = number / 1e6
    if millions < 1e4:
        return f"{millions:,.0f} million"
    thousands = millions / 1e3
    if thousands < 1e7:
        return f"{thousands:,.0f} thousand million"
    return f"10 to the power of {math.log10(number):.0f}"


def listed(words: list[str]) -> str:
    """Words as a list in a sentence."""
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def _nothing(answer: Choose, sheet: Sheet, wanted: Wanted) -> str:
    needs = f" and reaches {wanted.needs}" if wanted.needs else ""
    if answer.nearest is None:
        return f"No design of these parts has a steady state that keeps every limit{needs}."
    what = listed([LIMIT_WORDS[name] for name in answer.nearest["breaks"]])
    figures = answer.nearest["figures"]
    level = display("temperature", figures["level_K"])
    where = "" if isinstance(sheet.place, OpenAir) else f" with {level}"
    return f"No design of these parts keeps every limit{needs}; the nearest{where} misses {what}."


def _modules(best: Candidate) -> str:
    stacked = any(line.what == "second stage" for line in best.bill)
    noun = "two-stage stack" if stacked else "module"
    return f"{best.modules} {noun}{'' if best.modules == 1 else 's'}"


def _how_run(best: Candidate) -> str:
    volts = display("voltage", best.drive_V)
    each = best.figures["current_A"].value
    amps = "" if each is None else f" and {display('current', each)}"
    speeds = f"hot fan at {best.hot_speed:.2f}"
    if best.parts["cold_fan"] != "none":
        speeds = f"cold fan at {best.cold_speed:.2f}, {speeds} of full speed"
    return f"Run it at {volts}{amps} for the whole array; {speeds}."


def _against_goal(best: Candidate, sheet: Sheet) -> str:
    goal = sheet.goal.plate if isinstance(sheet.place, Plate) else sheet.goal.air
    if goal is None or isinstance(sheet.place, OpenAir):
        return ""
    level = best.figures[_level_name(sheet)].value
    assert level is not None
    told = display("temperature", goal.value)
    if level <= goal.value:
        return f"That is {_figure(goal.value - level)}{THIN_SPACE}K below the goal of {told}."
    return (
        f"The goal of {told} is not reached: {_figure(level - goal.value)}{THIN_SPACE}K too warm."
    )


def _in_tries(best: Candidate, answer: Choose, wanted: Wanted) -> str:
    needs = f" and reaches {wanted.needs}" if wanted.needs else ""
    kept = f"it keeps every limit{needs} in {_of_100(best.kept_share)} of 100 tries"
    if best.best_share is None:
        return f"{kept[0].upper()}{kept[1:]}, within the tolerances of the sheet."
    others = len(answer.best)
    return (
        f"Best in {_of_100(best.best_share)} of 100 tries among the {others} designs compared; "
        f"{kept}."
    )


def _fan_volts(answer: Choose) -> str:
    """Fans that the chosen supply does not suit: something must stand between them."""
    supply_V = answer.fan_volts.get("supply")
    if supply_V is None:
        return ""
    odd = [
        f"{side} fan ({display('voltage', volts)})"
        for side, volts in answer.fan_volts.items()
        if side != "supply" and abs(volts - supply_V) > 0.1 * supply_V
    ]
    if not odd:
        return ""
    need = "need" if len(odd) > 1 else "needs"
    return (
        f"On a supply of {display('voltage', supply_V)} the {listed(odd)} {need} a step-down or a "
        "supply apart, which is not in the bill."
    )


def _seen(answer: Choose) -> str:
    total = count_words(answer.combinations)
    if answer.whole:
        ruled = {name: count for name, count in answer.ruled_out.items() if count}
        told = f"All {count_words(answer.solved)} designs that can be built were solved"
        if not ruled:
            return f"{told}, each at its best setting."
        why = ", ".join(f"{count_words(count)} {_WORDS[name]}" for name, count in ruled.items())
        return f"{told}, of {total} combinations: {why}."
    share = 100.0 * answer.solved / answer.combinations
    digits = max(0, -math.floor(math.log10(max(share, 1e-15)))) if share < 10.0 else 0
    shown = f"{share:.{digits}f}{THIN_SPACE}%"
    swap = "a longer search may find a better one"
    if not answer.best:
        swap = "a longer search may find one"
    elif answer.unimproved:
        swap = "no exchange of one part makes this one better"
    return (
        f"Of {total} combinations {count_words(answer.solved)} were solved ({shown}), those that "
        f"an optimiser asked for; {swap}."
    )


def _room(wanted: Wanted) -> str:
    told = []
    words = {
        "plug_power_W": ("plug power", "W", 1.0),
        "sound_dB": ("sound", "dB", 0.1),
        "hot_face_K": ("hot face", "K", 0.5),
        "place_air_K": ("goal", "K", 0.05),
        "plate_K": ("goal", "K", 0.05),
    }
    for name, (word, unit, least) in words.items():
        room = wanted.room.get(name, 0.0)
        if room >= least:
            told.append(f"{word} {_figure(room)}{THIN_SPACE}{unit}")
    if not told:
        return ""
    return (
        f"Room was kept for the tolerances, so that limits hold in 90 of 100 tries: "
        f"{', '.join(told)}."
    )


def _better(gain: float, aim: Aim) -> str:
    amount = _figure(gain)
    return {
        Aim.COLDEST: f"{amount}{THIN_SPACE}K colder",
        Aim.NET: f"{amount}{THIN_SPACE}W more net cooling",
        Aim.CHEAPEST: f"{amount} cheaper",
        Aim.QUIETEST: f"{amount}{THIN_SPACE}dB quieter",
        Aim.COP: f"net COP {amount} higher",
    }[aim]


def _level_name(sheet: Sheet) -> str:
    if isinstance(sheet.place, OpenAir):
        return "cold_outlet_K"
    return "cold_sink_K" if isinstance(sheet.place, Plate) else "place_air_K"


def _level(best: Candidate, sheet: Sheet) -> str:
    value = display("temperature", best.figures[_level_name(sheet)].value)
    if isinstance(sheet.place, OpenAir):
        return f"air at {value} from the cold side"
    what = "the plate" if isinstance(sheet.place, Plate) else f"the {_noun(sheet)}"
    return f"{what} at {value}"


def _noun(sheet: Sheet) -> str:
    return "box" if sheet.place.kind == "box" else "room"


def _own_level(answer: Choose, sheet: Sheet) -> float | None:
    held = answer.own.get(_level_name(sheet))
    return None if held is None else held.value


def _kelvins(colder_K: float) -> str:
    if abs(colder_K) < 0.05:
        return "no colder"
    word = "colder" if colder_K > 0.0 else "warmer"
    return f"{_figure(abs(colder_K))}{THIN_SPACE}K {word}"


def _money(price: float, currency: str) -> str:
    return f"{price:.0f}{THIN_SPACE}{currency}".strip()


def _of_100(share: float | None) -> str:
    return "?" if share is None else f"{100.0 * share:.0f}"


def _figure(number: float) -> str:
    digits = 0 if abs(number) >= 9.95 else 1 if abs(number) >= 0.95 else 2
    return f"{number:.{digits}f}"
