"""What `changes` says in words: one sentence for each change, its side effects, and the sum."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from coldwright.answers.change.amounts import sheet_currency
from coldwright.answers.change.kind import Variant
from coldwright.answers.change.solved import Solved
from coldwright.answers.change_search import Made
from coldwright.answers.sentences import from_the_plug
from coldwright.answers.value import Value
from coldwright.findings import CATALOGUE
from coldwright.quantities.glossary import display
from coldwright.sheet.models import OpenAir, Plate, Sheet

if TYPE_CHECKING:
    from coldwright.answers.change_tries import Tried
    from coldwright.answers.changes import Option

_BROKEN = {
    "max_plug_power": "over the limit of power",
    "max_sound": "over the limit of sound",
    "max_price": "over the limit of price",
    "hot_face": "hot face over its limit",
    "cold_face": "cold face below its limit",
    "hot_sink": "hot sink over its limit",
    "cold_sink": "cold sink below its limit",
    "dew_point_margin": "nearer to the dew point than allowed",
    "combustion": "not to be run beside an open flame",
}
_HELP_MOST = 3
# Changes of side effects that are worth a word.
_SOUND_DB, _FACE_K, _CONDENSATE_KG_S, _SUPPLY = 0.5, 3.0, 5.0 / 3.6e6, 0.1


def change_sentence(option: Option, sheet: Sheet) -> str:
    """ "Take the hot air from outdoors: 2.4 K colder (1.9–3.0), +178 W net, ..."."""
    parts = [gain_words(option)]
    if option.gain_K is not None and option.gain_W is not None:
        net_W = option.gain_W.value
        parts.append("net not known" if net_W is None else f"{signed_W(net_W)} net")
    parts.append(f"{signed_W(option.plug_W.value)} {from_the_plug(sheet)}")
    parts.append(price_words(option.price, sheet))
    sentence = f"{' + '.join(option.does)}: {', '.join(parts)}"
    if option.best_share is not None and option.best_share >= 0.005:
        sentence += f"; best in {100.0 * option.best_share:.0f} of 100 tries"
    return f"{sentence}."


def what_to_do(variants: Sequence[Variant]) -> list[str]:
    """What to do, one for each change made together."""
    anew = any(variant.sets_drive for variant in variants)
    return [
        variant.does if anew or not variant.run_at else f"{variant.does}, {variant.run_at}"
        for variant in variants
    ]


def gain_words(option: Option) -> str:
    """ "2.4 K colder (1.9–3.0)"; in open air "+30 W net (20–40)"."""
    if option.gain_K is None:
        assert option.gain_W is not None
        small = abs(option.gain_W.value or 0.0) < 9.5
        return f"{signed_W(option.gain_W.value)} net{_interval(option.gain_W, 1 if small else 0)}"
    value = option.gain_K
    number = value.value or 0.0
    digits = kelvin_digits(number)
    word = "colder" if number >= 0.0 else "warmer"
    shown = value if number >= 0.0 else _turned(value)
    return f"{abs(number):.{digits}f}\u2009K {word}{_interval(shown, digits)}"


def kelvin_digits(kelvin: float) -> int:
    """Digits after the point that a gain is worth."""
    return 1 if abs(kelvin) >= 0.95 else 2


def signed_W(watts: float | None) -> str:
    """ "+178 W", "−3 W", "0 W"."""
    if watts is None:
        return "not known"
    number = round(watts) if abs(watts) >= 9.5 else round(watts, 1)
    if number == 0.0:
        return "0\u2009W"
    sign = "+" if number > 0.0 else "−"
    return f"{sign}{abs(number):g}\u2009W"


def price_words(price: float | None, sheet: Sheet) -> str:
    """ "price not known", "nothing to buy", "60 EUR"."""
    if price is None:
        return "price not known"
    if price == 0.0:
        return "nothing to buy"
    return f"{price:.4g}\u2009{sheet_currency(sheet)}"


def changes_headline(options: list[Option]) -> str:
    """The sentence on top: which changes help most."""
    if not options:
        return "None of the changes that the program knows helps this design."
    best = options[:_HELP_MOST]
    named = [f"{each.names[0]} ({_short_gain(each)})" for each in best]
    if len(named) == 1:
        return f"One change helps: {named[0]}."
    count = {2: "Two", 3: "Three"}[len(named)]
    return f"{count} changes help most: {', '.join(named[:-1])} and {named[-1]}."


def changes_reasons(
    sheet: Sheet, base: Tried, options: list[Option], pair: Option | None, triple: Option | None
) -> list[str]:
    """The lines under it: where the design stands, why the first helps, what more brings."""
    lines = [_standing(sheet, base)]
    if options:
        lines.append(f"{_capital(options[0].names[0])}: {_small(options[0].why[0])}")
    lines += _cheap(options, sheet_currency(sheet))
    for words, together in (("two", pair), ("three", triple)):
        if together is not None:
            end = f"; then: {together.verdict}" if together.verdict is not None else ""
            names = f"{', '.join(together.names[:-1])} and {together.names[-1]}"
            lines.append(f"The best {words} together, {names}: {gain_words(together)}{end}.")
    return lines


def _cheap(options: list[Option], money: str) -> list[str]:
    """What gains for nothing, and what gains most for its power and for its price."""
    lines = []
    free = [each.names[0] for each in options if each.price == 0.0]
    if free:
        lines.append(f"Nothing to buy: {', '.join(free)}.")
    for ratio, words in (("gain_per_W", "watt more"), ("gain_per_price", money)):
        valued = [each for each in options if getattr(each, ratio) is not None]
        if len(valued) > 1 or (valued and ratio == "gain_per_price"):
            most = max(valued, key=lambda each: getattr(each, ratio))
            unit = "W" if most.gain_K is None else "K"
            lines.append(
                f"Most for each {words}: {most.names[0]}, {getattr(most, ratio):.2g}\u2009{unit}."
            )
    return lines


def effects_of(made: Made, start: Solved) -> list[str]:
    """Side effects of a change: sound, water, supply, hot face, limits, new warnings."""
    after = made.solved
    now, then = start.point.nominal, after.point.nominal
    found = []
    if start.sound_dB is not None and after.sound_dB is not None:
        louder = after.sound_dB - start.sound_dB
        if abs(louder) >= _SOUND_DB:
            found.append(
                f"{'louder' if louder > 0 else 'quieter'}: "
                f"{start.sound_dB:.0f} to {after.sound_dB:.0f}\u2009dB"
            )
    before, rate = now["condensate_kg_s"], then["condensate_kg_s"]
    if abs(rate - before) >= _CONDENSATE_KG_S:
        found.append(
            f"{'more' if rate > before else 'less'} water: "
            f"{before * 3.6e6:.0f} to {rate * 3.6e6:.0f}\u2009g/h"
        )
    if start.supply_share is not None and after.supply_share is not None:
        share = after.supply_share
        if abs(share - start.supply_share) >= _SUPPLY or share > 1.0 >= start.supply_share:
            found.append(
                f"supply at {100 * share:.0f}\u2009% of its rating, "
                f"was {100 * start.supply_share:.0f}\u2009%"
            )
    hotter = then["hot_face_K"] - now["hot_face_K"]
    if abs(hotter) >= _FACE_K:
        found.append(
            f"hot face {abs(hotter):.0f}\u2009K {'hotter' if hotter > 0 else 'cooler'}: "
            f"{display('hot_face_K', then['hot_face_K'])}"
        )
    found += [_BROKEN[name] for name in made.breaks]
    new = [code for code in after.cautions if code not in start.cautions]
    if new:
        found.append(f"new: {'; '.join(CATALOGUE[code].title for code in new)}")
    return found


def _standing(sheet: Sheet, base: Tried) -> str:
    """Where the sheet's own design stands."""
    if isinstance(sheet.place, OpenAir):
        net = display("net_cooling_W", base.nominal["surplus_W"])
        return f"As the sheet has it, the net cooling is {net}."
    place = "plate" if isinstance(sheet.place, Plate) else sheet.place.kind
    level = display("place_air_K", base.nominal["level_K"])
    goal = sheet.goal.plate if isinstance(sheet.place, Plate) else sheet.goal.air
    if goal is None:
        return f"As the sheet has it, the {place} levels off at {level}."
    wanted = display("goal_air_K", goal.value)
    return (
        f"As the sheet has it, the {place} levels off at {level}; the goal is {wanted}: "
        f"{base.verdict}."
    )


def _short_gain(option: Option) -> str:
    if option.gain_K is None:
        return f"{signed_W(None if option.gain_W is None else option.gain_W.value)}"
    kelvin = option.gain_K.value or 0.0
    return f"{kelvin:.{kelvin_digits(kelvin)}f}\u2009K"


def _interval(value: Value, digits: int) -> str:
    if value.low is None or value.high is None:
        return ""
    low, high = (f"{bound:.{digits}f}".replace("-", "−") for bound in (value.low, value.high))
    return f" ({low}–{high})"


def _turned(value: Value) -> Value:
    high = None if value.low is None else -value.low
    low = None if value.high is None else -value.high
    return Value(None if value.value is None else -value.value, low, high)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _small(text: str) -> str:
    return text[:1].lower() + text[1:]
