"""The strip that stands on every page: the live answer in eight figures."""

from __future__ import annotations

from dataclasses import dataclass

from coldwright.answers.live import Live
from coldwright.answers.value import Value
from coldwright.faces.pages.markup import text
from coldwright.quantities.notations import currency
from coldwright.report.figures import figure
from coldwright.sheet.models import Sheet

_LEVELS = {
    "place_air_K": "place",
    "cold_sink_K": "plate",
    "cold_outlet_K": "cold air leaves at",
}


@dataclass(frozen=True)
class Item:
    """One figure of the strip."""

    key: str
    label: str
    value: str
    beside: str = ""
    """The interval, or a word."""
    tone: str = ""
    title: str = ""


def items(live: Live) -> list[Item]:
    """The eight figures, in the order a person asks for them."""
    values = live.values
    level = values.get(live.level)
    found = [_item("level", _LEVELS[live.level], live.level, level)]
    if live.goal_K is not None:
        missed = level is None or level.value is None or level.value > live.goal_K
        goal = figure("goal_air_K", Value(live.goal_K, None, None))
        found.append(Item("goal", "goal", goal.text, "not reached" if missed else "reached"))
    found.append(_item("net", "net cooling", "net_cooling_W", values["net_cooling_W"]))
    found.append(_item("plug", "from the plug", "plug_power_W", values["plug_power_W"]))
    found.append(_item("cop", "COP, net", "cop_net", values["cop_net"]))
    found.append(_item("sound", "noise at 1 m", "sound_dB", values["sound_dB"]))
    price = "not known" if live.price is None else f"{live.price:.0f} {_money(live.sheet)}".strip()
    found.append(Item("price", "known parts", price))
    problem = live.problem or "none found"
    found.append(
        Item(
            "problem", "main problem", problem, tone="alarm" if live.problem else "",
            title=live.problem_code,
        )
    )  # fmt: skip
    return found


def strip(live: Live) -> str:
    """Markup of the strip."""
    return "".join(_markup(item) for item in items(live))


def _item(key: str, label: str, name: str, value: Value | None) -> Item:
    if value is None or (value.value is None and value.low is None):
        return Item(key, label, "not known")
    one = figure(name, value)
    return Item(key, label, one.text, one.span.replace(" to ", "–"))


def _markup(item: Item) -> str:
    mark = '<span aria-hidden="true">▲ </span>' if item.tone == "alarm" else ""
    beside = f' <span class="beside">{text(item.beside)}</span>' if item.beside else ""
    title = f' title="{text(item.title)}"' if item.title else ""
    return (
        f'<div class="item {item.tone}" data-key="{item.key}"{title}><dt>{text(item.label)}</dt>'
        f"<dd>{mark}<b>{text(item.value)}</b>{beside}</dd></div>"
    )


def _money(sheet: Sheet) -> str:
    cooler = sheet.cooler
    for part in (*cooler.modules, *cooler.hot_sink, cooler.hot_fan, cooler.cold_fan):
        price = getattr(part, "price", None)
        if price is not None:
            return currency(price.text)
    return ""
