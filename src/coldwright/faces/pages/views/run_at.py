"""What should I run it at? The curves over what is set, with the point on them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from coldwright.answers.live import Live
from coldwright.faces.pages.markup import opening, text
from coldwright.faces.pages.views.view import View
from coldwright.quantities.glossary import display, entry
from coldwright.quantities.units import conversion

_NAMES = {
    "place_air_K": "place", "cold_sink_K": "plate", "cold_outlet_K": "cold air leaves at",
    "cooling_W": "cold side takes out", "net_cooling_W": "net cooling",
    "plug_power_W": "from the plug", "cop_system": "COP, cooling", "cop_net": "COP, net cooling",
}  # fmt: skip
_KNOBS = {
    "voltage_V": "volts across the array", "current_A": "amperes through the array",
    "module_power_W": "watts into the modules", "duty": "share of the time",
    "pumped_W": "heat pumped",
}  # fmt: skip


def parts(live: Live, _asked: Mapping[str, Any]) -> dict[str, Any]:
    """Everything on this page that changes with a knob."""
    way = live.way
    if way is None:
        return {"opening": opening("The modules are off: there is nothing to set.", [])}
    level = live.level if live.level in way.curves else "cold_outlet_K"
    temperatures = [level, *(["cold_outlet_K"] if level != "cold_outlet_K" else [])]
    goal = [] if live.goal_K is None else [("goal", live.goal_K)]
    return {
        "opening": opening(*_sentences(live, level)),
        "temperature-plot": _plot(live, "How cold it gets", temperatures, goal),
        "heat-plot": _plot(
            live, "What it moves, and what it takes", ["cooling_W", "net_cooling_W", "plug_power_W"]
        ),
        "cop-plot": _plot(live, "What a watt moves", ["cop_system", "cop_net"]),
    }


def _sentences(live: Live, level: str) -> tuple[str, list[str]]:
    """What the curve says about where the knob stands."""
    assert live.way is not None
    way, name = live.way, live.level
    known = [
        (drive, number)
        for drive, number in zip(way.drive, way.curves[level], strict=True)
        if number is not None
    ]
    values = live.values
    now = display(way.axis, live.setting.drive)
    plug = display("plug_power_W", values["plug_power_W"].value)
    if not known:
        return f"At {now} it takes {plug}.", []
    best_drive, best = min(known, key=lambda pair: pair[1])
    here = values[level].value
    said = f"At {now} the {_NAMES[level]} is at {display(name, here)}, for {plug}."
    if level == "cold_outlet_K":
        said = f"At {now} the cold air leaves at {display(level, here)}, for {plug}."
    lines = []
    if here is not None and here - best > 0.05:
        more = "more" if best_drive > live.setting.drive else "less"
        lines.append(
            f"It would be coldest at {display(way.axis, best_drive)}, {here - best:.1f} K colder: "
            f"{more} than now."
        )
    else:
        lines.append("No other setting of this knob makes it noticeably colder.")
    cool = values["cooling_W"].value or 0.0
    top = max((n for n in way.curves["cooling_W"] if n is not None), default=0.0)
    watts = max((n for n in way.curves["plug_power_W"] if n is not None), default=0.0)
    power = values["plug_power_W"].value or 0.0
    if top > 0.0 and watts > 0.0:
        lines.append(
            f"That is {100 * cool / top:.0f} % of the most heat that it can take out, at "
            f"{100 * power / watts:.0f} % of the most it can take from the plug."
        )
    return said, lines


def _plot(
    live: Live, title: str, names: list[str], levels: list[tuple[str, float]] | None = None
) -> dict[str, Any]:
    """Data of one plot, in the units that people read."""
    assert live.way is not None
    way = live.way
    held = [name for name in names if name in way.curves]
    unit = entry(held[0]).display_unit
    factor, offset = conversion(unit, entry(held[0]).kind) if unit else (1.0, 0.0)
    x_unit = entry(way.axis).display_unit
    x_factor = conversion(x_unit, entry(way.axis).kind)[0] if x_unit else 1.0

    def scaled(number: float | None) -> float | None:
        return None if number is None else (number - offset) / factor

    curves = []
    for name in held:
        value = live.values.get(name)
        curves.append(
            {
                "name": _NAMES[name],
                "ys": [scaled(number) for number in way.curves[name]],
                "at": scaled(None if value is None else value.value),
                "shown": "" if value is None else display(name, value.value),
            }
        )
    return {
        "plot": {
            "title": text(title),
            "x": {"name": _KNOBS[way.axis], "unit": x_unit, "now": live.setting.drive / x_factor},
            "y": {"name": title, "unit": unit},
            "xs": [drive / x_factor for drive in way.drive],
            "curves": curves,
            "levels": [{"name": name, "y": scaled(number)} for name, number in levels or []],
        }
    }


VIEW = View("run_at", "run-at", "What should I run it at?", parts=parts)
