"""Random design sheets as text: every shape that a person may write, in many units.

Most are such as people draw up; some ask for what cannot be, which the tool must say cleanly.
"""

from __future__ import annotations

import random

MODULES = [
    "typical 127 couples 6 A", "typical 127 couples 3 A", "typical 71 couples 6 A",
    "typical 127 couples 15 A", "typical 199 couples 6 A", "typical 31 couples 9 A",
]  # fmt: skip
COLD_SINKS = ["typical cold sink 100 x 100", "typical square 120 x 120 x 50",
              "typical long 300 x 140 x 38", "typical water loop 240 mm"]  # fmt: skip
HOT_SINKS = ["typical hot sink 200 x 200", "typical long 300 x 200 x 75",
             "typical tower with heat pipes", "typical water loop 120 mm"]  # fmt: skip
FANS = ["typical axial 120 mm", "typical axial 140 mm", "typical axial 172 mm strong",
        "typical blower 97 mm", "typical duct fan 125 mm"]  # fmt: skip
DUCTS = ["typical 125 mm flexible aluminium, 1.5 m", "typical 150 mm flexible plastic, 1.5 m",
         "typical 160 mm spiral steel, 1 m"]  # fmt: skip
FOAMS = ["EPS", "XPS", "PIR", "mineral wool", "cork board"]
BOARDS = ["plywood", "softwood", "gypsum board", "brick", "concrete", "steel sheet"]


def random_sheet(seed: int) -> str:
    """The text of one random sheet."""
    rng = random.Random(seed)
    place = rng.choice(["room", "room", "box", "box", "open_air", "open_air", "plate"])
    groups = rng.choice([1, 1, 1, 2, 3])
    cold_sinks = 1 if place == "plate" else rng.randint(1, groups)
    hot_sinks = rng.randint(1, groups)
    parts = [
        f'title = "Sheet {seed}"',
        _goal(rng, place),
        _climate(rng),
        {"room": _room, "box": _box, "open_air": _open_air, "plate": _plate}[place](rng),
        _cooler(rng, place),
        *(_modules(rng, groups, g, cold_sinks, hot_sinks) for g in range(groups)),
    ]
    if place != "plate":
        parts += _side(rng, "cold", cold_sinks, COLD_SINKS)
    parts += _side(rng, "hot", hot_sinks, HOT_SINKS)
    if rng.random() < 0.5:
        parts.append(_power(rng))
    if rng.random() < 0.4:
        parts.append(f'[limits]\nhot_face = "{rng.randint(60, 100)} degC"')
    return "\n".join(parts) + "\n"


def _temperature(rng: random.Random, low: float, high: float) -> str:
    celsius = rng.uniform(low, high)
    return rng.choice(
        [f'"{celsius:.1f} degC"', f'"{celsius * 1.8 + 32:.1f} degF"', f'"{celsius + 273.15:.2f} K"']
    )


def _flow(rng: random.Random, low: float, high: float) -> str:
    m3_h = rng.uniform(low, high)
    return rng.choice(
        [f'"{m3_h:.0f} m^3/h"', f'"{m3_h / 1.699:.0f} CFM"', f'"{m3_h / 3.6:.1f} L/s +/- 10 %"']
    )


def _goal(rng: random.Random, place: str) -> str:
    if place == "plate":
        return f"[goal]\nplate = {_temperature(rng, -10, 30)}"
    if place == "open_air":
        return ""
    return f'[goal]\nair = {_temperature(rng, 12, 28)}\nwithin = "{rng.randint(10, 300)} min"'


def _climate(rng: random.Random) -> str:
    moisture = rng.choice(
        [f'outdoor_humidity = "{rng.randint(5, 95)} percent"',
         f"outdoor_dew_point = {_temperature(rng, -15, 9)}", ""]
    )  # fmt: skip
    lines = ["[climate]", 'kind = "steady"', f"outdoor_air = {_temperature(rng, 10, 42)}", moisture]
    if rng.random() < 0.4:
        lines.append(f'sun = "{rng.randint(0, 900)} W/m^2"')
    if rng.random() < 0.4:
        lines.append(f'altitude = "{rng.randint(0, 2500)} m"')
    if rng.random() < 0.3:
        lines.append(f"ground = {_temperature(rng, 5, 20)}")
    return "\n".join(lines)


def _enclosed(rng: random.Random, sides: tuple[float, float, float]) -> list[str]:
    long, wide, high = sides
    leak = rng.choice(
        [
            '"none"',
            '"tight"',
            '"ordinary"',
            '"draughty"',
            f"{{ ach50 = {rng.uniform(0.5, 20):.1f} }}",
            f'{{ area = "{rng.uniform(2, 300):.0f} cm^2" }}',
            f'{{ natural = "{rng.uniform(0.05, 3):.2f} 1/h" }}',
        ]
    )
    lines = [
        f'length = "{long:.2f} m"', f'width = "{100 * wide:.0f} cm"',
        f'height = "{high / 0.3048:.2f} ft"', f"air_leakage = {leak}",
        f'combustion = "{rng.choice(["none", "none", "sealed", "open", "not known"])}"',
    ]  # fmt: skip
    if rng.random() < 0.7:
        lines.append(f"start_air = {_temperature(rng, 15, 38)}")
    if rng.random() < 0.5:
        lines.append(f'start_humidity = "{rng.randint(20, 90)} percent"')
    if rng.random() < 0.4:
        lines.append(
            f'contents = {{ mass = "{rng.uniform(1, 100):.1f} kg", '
            f'specific_heat = "1200 J/kg/K", area = "{rng.uniform(0.2, 8):.2f} m^2" }}'
        )
    elif rng.random() < 0.3:
        lines.append(f'contents = {{ water = "{rng.uniform(0.3, 30):.1f} L", area = "0.5 m^2" }}')
    if rng.random() < 0.3:
        lines.append('moisture_buffer = { material = "wood", area = "2 m^2" }')
    return lines


def _gains(rng: random.Random, most: int) -> list[str]:
    lines = []
    for number in range(rng.randint(0, 2)):
        lines += ["[[place.gain]]", f'name = "gain {number}"']
        lines.append(
            rng.choice(
                [f"people = {rng.randint(1, most)}", f'heat = "{rng.randint(1, 40 * most)} W"',
                 f'moisture = "{rng.randint(1, 30 * most)} g/h"',
                 'animals = 1\nactivity = "cat"']
            )
        )  # fmt: skip
    return lines


def _room(rng: random.Random) -> str:
    sides = rng.uniform(1.2, 5.0), rng.uniform(1.2, 4.0), rng.uniform(2.0, 3.0)
    lines = ["[place]", 'kind = "room"', *_enclosed(rng, sides)]
    area_m2 = 2 * (sides[0] * sides[1] + sides[0] * sides[2] + sides[1] * sides[2])
    if rng.random() < 0.3:
        return "\n".join([*lines, f'heat_loss = "{rng.uniform(5, 60):.1f} W/K"', *_gains(rng, 2)])
    number = rng.randint(1, 4)
    for k in range(number):
        lines += ["[[place.surface]]", f'name = "surface {k}"',
                  f'area = "{area_m2 / number:.2f} m^2"']  # fmt: skip
        other_side = rng.choice(['"outdoors"', '"ground"', _temperature(rng, 15, 30)])
        lines.append(f"other_side = {other_side}")
        if rng.random() < 0.3:
            lines.append(f'u_value = "{rng.uniform(0.2, 3):.2f} W/m^2/K"')
        else:
            layers = ", ".join(
                f'{{ material = "{rng.choice(FOAMS + BOARDS)}", '
                f'thickness = "{rng.randint(6, 120)} mm" }}'
                for _ in range(rng.randint(1, 4))
            )
            lines.append(f"layers = [{layers}]")
        if rng.random() < 0.2:
            lines.append('absorptance = 0.6\nsun = "300 W/m^2"')
    if rng.random() < 0.4:
        lines += ["[[place.window]]", 'name = "window"', f'area = "{rng.uniform(0.2, 2):.2f} m^2"',
                  'u_value = "2.8 W/m^2/K"', f"shaded_share = {rng.random():.2f}"]  # fmt: skip
    return "\n".join([*lines, *_gains(rng, 2)])


def _box(rng: random.Random) -> str:
    sides = tuple(rng.uniform(0.25, 0.9) for _ in range(3))
    lines = ["[place]", 'kind = "box"', *_enclosed(rng, sides)]
    wall = [f'{{ material = "{rng.choice(FOAMS)}", thickness = "{rng.randint(20, 120)} mm" }}']
    if rng.random() < 0.6:
        wall.append(f'{{ material = "{rng.choice(BOARDS[:3])}", thickness = "6 mm" }}')
    lines.append(f"wall = [{', '.join(wall)}]")
    if rng.random() < 0.4:
        lines.append('lid_seal = "0.05 W/K"')
    if rng.random() < 0.3:
        lines += ["[[place.leak]]", 'name = "cable"', 'conductance = "0.01 W/K"', "count = 2"]
    return "\n".join([*lines, *_gains(rng, 1)])


def _open_air(rng: random.Random) -> str:
    moisture = rng.choice(
        [f'humidity = "{rng.randint(10, 90)} percent"', "", 'dew_point = "5 degC"']
    )
    return f'[place]\nkind = "open_air"\nair = {_temperature(rng, 15, 40)}\n{moisture}'


def _plate(rng: random.Random) -> str:
    lines = ["[place]", 'kind = "plate"', f'heat = "{rng.uniform(0, 30):.1f} W"']
    if rng.random() < 0.5:
        lines.append(f'area = "{rng.uniform(10, 300):.0f} cm^2"')
    if rng.random() < 0.5:
        lines.append(f"air = {_temperature(rng, 15, 35)}")
    if rng.random() < 0.5:
        lines.append('mass = "0.3 kg"')
    return "\n".join(lines)


def _cooler(rng: random.Random, place: str) -> str:
    ends = ["place", "outdoors"]
    takes = "outdoors" if place == "plate" else rng.choice(ends)
    lines = [
        "[cooler]", f'hot_takes_from = "{takes}"',
        f'hot_sends_to = "{rng.choice(["outdoors", "outdoors", takes])}"',
        f"run_at = {_run_at(rng)}",
        f'condensate = "{rng.choice(["drained", "stays in the place", "onto the hot sink"])}"',
    ]  # fmt: skip
    if rng.random() < 0.15:
        lines.append('cold_takes_from = "outdoors"')
    lines += [
        f"{name} = {rng.choice([0.3, 0.6, 0.8, 1.0])}"
        for name in ("cold_fan_speed", "hot_fan_speed")
        if rng.random() < 0.4
    ]
    lines += [
        f'{name} = "{rng.randint(1, 40)} %"'
        for name in ("cold_recirculation", "hot_recirculation")
        if rng.random() < 0.2
    ]
    return "\n".join(lines)


def _run_at(rng: random.Random) -> str:
    return rng.choice(
        [
            f'{{ module_voltage = "{rng.uniform(1, 13):.1f} V" }}',
            f'{{ voltage = "{rng.uniform(3, 48):.1f} V +/- 2 %" }}',
            f'{{ current = "{rng.uniform(0.3, 6):.2f} A" }}',
            f'{{ module_current = "{rng.uniform(0.3, 5):.2f} A" }}',
            f'{{ module_power = "{rng.uniform(2, 200):.0f} W" }}',
            f'{{ pumped = "{rng.uniform(1, 60):.0f} W" }}',
            f'{{ chopped = {{ rail = "{rng.choice([12, 24])} V", '
            f"duty = {rng.uniform(0.2, 1):.2f} }} }}",
        ]
    )


def _description(rng: random.Random) -> str:
    amperes, volts = rng.uniform(3, 9), rng.uniform(3.5, 16)
    heat = f', max_heat = "{3.68 * amperes * volts / 6.0:.0f} W"' if rng.random() < 0.5 else ""
    return rng.choice(
        [
            f'part = "{rng.choice(MODULES)}"',
            'properties = { seebeck = "0.0513 V/K", resistance = "1.985 ohm +/- 5 %", '
            'conductance = "0.5254 W/K" }',
            f'ratings = {{ max_current = "{amperes:.1f} A", max_voltage = "{volts:.1f} V", '
            f'max_difference = "{rng.uniform(62, 70):.0f} K"{heat} }}',
            f'legs = {{ couples = {rng.choice([31, 71, 127])}, leg_length = "1.6 mm", '
            'leg_size = "1.4 mm" }',
        ]
    )


def _modules(rng: random.Random, groups: int, g: int, cold: int, hot: int) -> str:
    lines = ["[cooler.modules]" if groups == 1 else "[[cooler.modules]]", _description(rng)]
    lines += [f"series = {rng.randint(1, 4)}", f"parallel = {rng.randint(1, 3)}"]
    lines += [f"cold_sink_number = {g % cold + 1}", f"hot_sink_number = {g % hot + 1}"]
    for side in ("cold", "hot"):
        joint = rng.choice(['"0.02 K/W"', '"thin paste"', '"pad 1 mm"', '"0.05 +/- 0.02 K/W"'])
        lines.append(f"{side}_interface = {joint}")
    if rng.random() < 0.4:
        lines.append(
            'spacer = { thickness = "20 mm", area = "150 cm^2", material = "XPS", '
            'screws = "4 x M4 steel, 30 mm" }'
        )
    if rng.random() < 0.2:
        own = rng.random() < 0.5
        wired = ', wired = "own supply", run_at = { voltage = "8 V" }' if own else ""
        lines += ["stages = 2", f"second = {{ {_description(rng)}{wired} }}"]
    if groups > 1 and rng.random() < 0.3:
        lines.append(f"run_at = {_run_at(rng)}")
    return "\n".join(lines)


def _side(rng: random.Random, side: str, sinks: int, parts: list[str]) -> list[str]:
    most = 150.0 if side == "cold" else 300.0
    given = rng.random() < 0.5
    found = []
    for _ in range(sinks):
        head = f"[cooler.{side}_sink]" if sinks == 1 else f"[[cooler.{side}_sink]]"
        found.append(f"{head}\n{_sink(rng, parts, side)}")
    lines = [f"[cooler.{side}_fan]"]
    if given:
        lines += [f"flow = {_flow(rng, 0.5 * most, most)}", f'power = "{rng.randint(2, 20)} W"']
    elif rng.random() < 0.4:
        lines.append(f'part = "{rng.choice(FANS)}"')
    else:
        pressure = rng.randint(40, 200)
        lines += [
            f'curve = [["0 m^3/h", "{pressure} Pa"], ["{0.6 * most:.0f} m^3/h", '
            f'"{0.6 * pressure:.0f} Pa"], ["{most:.0f} m^3/h", "0 Pa"]]',
            f'power = "{rng.randint(2, 30)} W"', f'sound_at_1m = "{rng.randint(30, 55)} dB"',
        ]  # fmt: skip
    if not any(line.startswith("part") for line in lines):
        lines.append(f'position = "{rng.choice(["before sink", "after sink"])}"')
    found.append("\n".join(lines))
    if side == "hot" and rng.random() < 0.5:
        if rng.random() < 0.5:
            found.append(f'[cooler.hot_duct]\npart = "{rng.choice(DUCTS)}"')
        else:
            found.append(
                f'[cooler.hot_duct]\ndiameter = "{rng.choice([100, 125, 150])} mm"\n'
                f'length = "{rng.uniform(0.3, 4):.1f} m"\nkind = "smooth plastic"\n'
                'fittings = ["entry", "elbow 90", "louvre"]\n'
                f'runs_through = "{rng.choice(["place", "outdoors"])}"'
            )
    return found


def _sink(rng: random.Random, parts: list[str], side: str) -> str:
    better = 1.0 if side == "cold" else 0.5
    return rng.choice(
        [
            f'part = "{rng.choice(parts)}"',
            'kind = "plate_fin"\nbase = ["150 mm", "120 mm", "6 mm"]\n'
            f'fin_height = "{rng.randint(20, 50)} mm"\nfin_thickness = "1 mm"\n'
            f'fin_gap = "{rng.uniform(2, 5):.1f} mm"\n'
            f'correlation = "{rng.choice(["stephan"] * 7 + ["teertstra"])}"',
            f'kind = "resistance"\nvalue = "{better * rng.uniform(0.1, 0.5):.2f} K/W"\n'
            f'at_flow = "100 m^3/h"\nmass = "{rng.uniform(0.3, 3):.1f} kg"',
            'kind = "table"\nrows = [["30 m^3/h", "0.6 K/W", "4 Pa"], '
            '["80 m^3/h", "0.3 K/W", "18 Pa"], ["200 m^3/h", "0.18 K/W", "80 Pa"]]',
            'kind = "water_loop"\nblock_resistance = "0.03 K/W"\nwater_flow = "2 L/min"\n'
            'pump_power = "6 W"\n'
            'radiator = { conductance = "18 W/K", at_flow = "120 m^3/h", pressure_drop = "20 Pa" }',
        ]
    )


def _power(rng: random.Random) -> str:
    ends = ["place", "exhaust", "outside"]
    lines = [
        "[power.supply]", 'voltage = "48 V"', f'rated_power = "{rng.choice([100, 300, 650])} W"',
        f"efficiency = {rng.choice(['0.88', '[[0.2, 0.84], [0.5, 0.9], [1.0, 0.88]]'])}",
        f'located = "{rng.choice(ends)}"',
    ]  # fmt: skip
    if rng.random() < 0.5:
        lines += ["[power.converter]", "efficiency = 0.92", f'located = "{rng.choice(ends)}"']
    if rng.random() < 0.5:
        size = rng.choice(["2.5 mm^2", "14 AWG", "1.5 mm^2"])
        lines += ["[[power.wire]]", 'name = "modules"', 'length = "1.2 m"', f'size = "{size}"']
    return "\n".join(lines)
