"""The text of a new design sheet: every key with its unit and a word on what it means."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass

from coldwright.quantities.parsing import parse

_COMMENT_COLUMN = 44
# Sources up to about this are left alone by most codes; a converter and its wires stay simple.
_MOST_VOLTS = 36.0


@dataclass(frozen=True, slots=True)
class _Line:
    key: str
    value: str
    comment: str = ""
    off: bool = False


def sheet_text(kind: str, answers: Mapping[str, str]) -> str:
    """A whole design sheet in TOML; `answers` holds texts by the keys of the questions."""
    sun = [_Line("sun", '"0 W/m^2"', "on the plane of the windows")] if kind == "room" else []
    blocks = [
        _block("", [_Line("title", _quoted(answers["title"]))]),
        _goal(kind, answers),
        _block(
            "climate",
            [
                _Line("kind", '"steady"'),
                _Line("outdoor_air", _quoted(answers["outdoor_air"]),
                      "on the day that counts"),
                _Line("outdoor_humidity", _quoted(answers["outdoor_humidity"]),
                      "or outdoor_dew_point"),
                *sun,
                _Line("altitude", '"0 m"', "sets the pressure of the air"),
            ],
        ),
        *_PLACES[kind](answers),
        *_cooler(kind, answers),
        _POWER,
    ]  # fmt: skip
    return _OPENING + "\n".join(blocks)


def notes_text(kind: str, answers: Mapping[str, str]) -> str:
    """A page of notes that lies beside the sheet."""
    ask = "coldwright watts ." if kind == "open_air" else "coldwright verdict ."
    return f"""# {answers["title"]}

`sheet.toml` says what is to be built and where it stands. Every value in it is a text with its
unit; a tolerance may stand behind it, as in "34 degC +/- 1 K". Change it with any editor, then ask,
in this folder:

    coldwright check .      what is missing, wrong or unusual
    {ask:<24}will it do, and why
    coldwright watts .      where every watt goes

The parts named "typical" are invented: put the numbers of your own in their place.
`coldwright parts modules` and the like list what may stand there.

## What is known

- Measured, and with what:
- Read from a data sheet:
- Guessed:

## Before anything is built

Mains wiring is a licensed person's work, and local codes outrank whatever the program says. A
thermal cut-out belongs on every hot sink, a drain under every cold one. Air that a fan blows out
of a room is replaced from somewhere: where anything burns in that air, ask a professional first.
"""


def _goal(kind: str, answers: Mapping[str, str]) -> str:
    lines: list[_Line] = []
    if kind == "plate":
        lines.append(_Line("plate", _quoted(answers["goal"]), "temperature of the plate to hold"))
    elif kind != "open_air":
        lines += [
            _Line("air", _quoted(answers["goal"]), "temperature to reach and hold"),
            _Line("within", _quoted(answers["within"]), "after switching on"),
        ]
    lines += [
        _Line("max_plug_power", '"300 W"', "most power from the plug", off=True),
        _Line("max_sound", '"45 dB"', "A-weighted, at 1 m", off=True),
    ]
    return _block("goal", lines)


def _room(answers: Mapping[str, str]) -> list[str]:
    long, wide, high = (_metres(answers[key]) for key in ("length", "width", "height"))
    layer = _layer(answers)
    return [
        _block(
            "place",
            [
                _Line("kind", '"room"'),
                *_inside(answers),
                _Line("start_air", _quoted(answers["outdoor_air"]), "when it is switched on"),
                _Line("air_leakage", '"ordinary"',
                      "none, tight, ordinary, draughty"),
                _Line("combustion", _quoted(answers["combustion"]),
                      "appliances that burn: none, sealed, open"),
                _Line("contents",
                      '{ mass = "50 kg", specific_heat = "1200 J/kg/K", area = "4 m^2" }',
                      off=True),
            ],
        ),
        _surface("walls", 2.0 * (long + wide) * high, layer),
        _surface("roof", long * wide, layer, "up"),
        _surface("floor", long * wide, layer, "down"),
        _block(
            "# [[place.window]]",
            [
                _Line("name", '"window"', "take its area off the wall's", off=True),
                _Line("area", '"0.8 m^2"', off=True),
                _Line("u_value", '"2.8 W/m^2/K"', "5.7 for a single pane", off=True),
            ],
        ),
        *_gain(answers, "people and appliances"),
    ]  # fmt: skip


def _box(answers: Mapping[str, str]) -> list[str]:
    return [
        _block(
            "place",
            [
                _Line("kind", '"box"'),
                *_inside(answers),
                _Line("wall", f"[{_layer(answers)}]", "from the inside out"),
                _Line("start_air", _quoted(answers["outdoor_air"]), "when it is switched on"),
                _Line("air_leakage", '"tight"', "none, tight, ordinary, draughty"),
                _Line("lid_seal", '"0.05 W/K"', "what the seal lets through", off=True),
                _Line("contents",
                      '{ mass = "5 kg", specific_heat = "1500 J/kg/K", area = "0.3 m^2" }',
                      off=True),
            ],
        ),
        *_gain(answers, "what stands in it"),
    ]  # fmt: skip


def _open_air(answers: Mapping[str, str]) -> list[str]:
    return [
        _block(
            "place",
            [
                _Line("kind", '"open_air"', "no walls: only the air that is taken in counts"),
                _Line("air", _quoted(answers["air"]), "the air that is to be cooled"),
                _Line("humidity", '"50 percent"', "or dew_point"),
            ],
        )
    ]


def _plate(answers: Mapping[str, str]) -> list[str]:
    return [
        _block(
            "place",
            [
                _Line("kind", '"plate"'),
                _Line("heat", _quoted(answers["heat"]), "set free at the plate"),
                _Line("mass", '"0.3 kg"', "of the plate and what hangs on it"),
                _Line("area", '"100 cm^2"', "through which the air warms it too", off=True),
            ],
        )
    ]


_PLACES = {"room": _room, "box": _box, "open_air": _open_air, "plate": _plate}


def _cooler(kind: str, answers: Mapping[str, str]) -> list[str]:
    series, parallel = _layout(
        int(answers["count"]), parse(answers["module_voltage"], "voltage").value
    )
    hot_air = answers.get("hot_air", "outdoors")
    duct = "two ducts: the place keeps its own air"
    if hot_air == "place":
        duct = "one duct: outdoor air comes in for what leaves"
    elif kind != "room":
        duct = "the air around it"
    tables = [
        _block(
            "cooler",
            [
                _Line("hot_takes_from", _quoted(hot_air), duct),
                _Line("hot_sends_to", '"outdoors"'),
                _Line("run_at", f"{{ module_voltage = {_quoted(answers['module_voltage'])} }}",
                      "or voltage, current, module_power"),
                _Line("condensate", '"drained"'),
            ],
        ),
        _block(
            "cooler.modules",
            [
                _Line("part", _quoted(answers["module"]), "or ratings, legs, properties"),
                _Line("series", str(series), "modules in each string"),
                _Line("parallel", str(parallel), "strings"),
                _Line("cold_interface", '"thin paste"', 'or "0.02 K/W", for each module'),
                _Line("hot_interface", '"thin paste"'),
            ],
        ),
    ]  # fmt: skip
    for side in ("cold", "hot"):
        if f"{side}_sink" in answers:
            tables += [
                _block(f"cooler.{side}_sink", [_Line("part", _quoted(answers[f"{side}_sink"]))]),
                _block(f"cooler.{side}_fan", [_Line("part", _quoted(answers[f"{side}_fan"]))]),
            ]
    if kind == "room":
        tables.append(
            _block(
                "cooler.hot_duct",
                [
                    _Line("diameter", '"150 mm"'),
                    _Line("length", '"1 m"'),
                    _Line("kind", '"flexible aluminium"'),
                    _Line("fittings", '["entry", "elbow 90", "louvre"]'),
                    _Line("runs_through", '"place"', "its heat comes back"),
                ],
            )
        )
    return tables


def _inside(answers: Mapping[str, str]) -> list[_Line]:
    return [
        _Line("length", _quoted(answers["length"]), "inner sizes"),
        _Line("width", _quoted(answers["width"])),
        _Line("height", _quoted(answers["height"])),
    ]


def _gain(answers: Mapping[str, str], name: str) -> list[str]:
    if parse(answers["heat"], "heat").value == 0.0:
        return []
    lines = [_Line("name", _quoted(name)), _Line("heat", _quoted(answers["heat"]))]
    return [_block("[place.gain]", lines)]


def _surface(name: str, area_m2: float, layer: str, orientation: str = "") -> str:
    lines = [
        _Line("name", _quoted(name)),
        _Line("area", f'"{area_m2:.4g} m^2"'),
        _Line("other_side", '"outdoors"', 'outdoors, ground, or "26 degC" next door'),
        _Line("layers", f"[{layer}]", "from the inside out"),
    ]
    if orientation:
        lines.append(_Line("orientation", _quoted(orientation), "which way heat flows out"))
    return _block("[place.surface]", lines)


def _layer(answers: Mapping[str, str]) -> str:
    material, thickness = _quoted(answers["wall"]), _quoted(answers["wall_thickness"])
    return f"{{ material = {material}, thickness = {thickness} }}"


def _layout(count: int, volts: float) -> tuple[int, int]:
    """Modules in series and strings: the longest equal strings that stay below 36 V."""
    fitting = [n for n in range(1, count + 1) if count % n == 0 and n * volts <= _MOST_VOLTS]
    series = max(fitting, default=1)
    return series, count // series


def _metres(text: str) -> float:
    return parse(text, "length").value


def _block(table: str, lines: list[_Line]) -> str:
    head = table if table.startswith("#") else f"[{table}]"
    said = [head] if table else []
    for line in lines:
        text = f"{'# ' if line.off else ''}{line.key} = {line.value}"
        if line.comment:
            text = f"{text:<{_COMMENT_COLUMN}}  # {line.comment}"
        said.append(text)
    return "\n".join(said) + "\n"


def _quoted(text: str) -> str:
    # What JSON escapes is a subset of what TOML escapes, but for the delete sign.
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


_OPENING = """\
# A design sheet. Values carry their unit in the text: "34 degC", "60 mm", "80 m^3/h".
# A tolerance may stand behind a value: "34 degC +/- 1 K", "53 W +/- 10 %".
# Lines that begin with # are not read; take the sign away where one fits.

"""
_POWER = """\
# Without a supply, the power from the plug is the plain sum of the loads.
# [power.supply]
# voltage = "36 V"
# rated_power = "400 W"
# efficiency = 0.88
# located = "outside"                         # place, exhaust or outside: where its loss lands
"""
