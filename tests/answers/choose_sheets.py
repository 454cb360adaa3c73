"""Small sheets and lists for the tests of the search: a wine cupboard, and air that is given."""

from coldwright.sheet.file import read_text
from coldwright.sheet.parts_file import parts_of

CUPBOARD = """
title = "Wine cupboard"
[goal]
air = "16 degC"
max_plug_power = "70 W"
max_sound = "45 dB"
max_price = "160 EUR"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "40 percent"
[place]
kind = "box"
length = "50 cm"
width = "40 cm"
height = "60 cm"
start_air = "30 degC"
air_leakage = { ach50 = 2 }
combustion = "none"
wall = [{ material = "XPS", thickness = "50 mm" }]
[cooler]
cold_takes_from = "place"
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { voltage = "12 V" }
[cooler.modules]
part = "typical 127 couples 6 A"
series = 1
parallel = 1
cold_interface = "0.03 K/W"
hot_interface = "0.03 K/W"
[cooler.modules.spacer]
thickness = "4 mm"
area = "80 cm^2"
material = "PE foam"
screws = "4 x M4 steel, 20 mm"
[cooler.cold_sink]
part = "typical square 100 x 100 x 35"
[cooler.cold_fan]
part = "typical axial 80 mm quiet"
[cooler.hot_sink]
part = "typical square 120 x 120 x 50"
[cooler.hot_fan]
part = "typical axial 92 mm"
[limits]
hot_face = "75 degC"
[power.supply]
voltage = "12 V"
rated_power = "80 W"
efficiency = 0.86
price = "15 EUR"
[[power.wire]]
name = "modules"
length = "1 m"
size = "1.5 mm^2"
[price]
item = [{ name = "cupboard", price = "30 EUR" }]
"""

# A supply of one voltage and no converter: only the fans can be set.
FIXED = {
    "module": [{"part": "typical 127 couples 4 A"}],
    "sink": [{"part": "typical square 120 x 120 x 50"}, {"part": "typical long 150 x 100 x 40"}],
    "fan": [
        {"part": "typical axial 120 mm"},
        {"part": "typical axial 60 mm", "side": "hot"},
    ],
    "search": {
        "most_modules": 3, "stacks": False, "unequal_strings": True, "switched_groups": True,
        "keep_own": False,
    },
}  # fmt: skip
# A converter: the voltage is free.
FREE = {
    "sink": [{"part": "typical long 200 x 120 x 45", "side": "hot"}],
    "converter": [
        {"name": "step-down", "efficiency": "0.93", "rated_power": "100 W", "price": "8 EUR"}
    ],
    "search": {
        "most_modules": 4, "least_modules": 2, "stacks": False, "unequal_strings": False,
        "switched_groups": False,
    },
}  # fmt: skip

GIVEN_AIR = """
title = "Given air"
[goal]
max_plug_power = "40 W"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "20 percent"
[place]
kind = "open_air"
air = "25 degC"
humidity = "20 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { module_voltage = "8 V" }
[cooler.modules]
properties = { seebeck = "0.0513 V/K", resistance = "1.985 ohm", conductance = "0.5254 W/K" }
cold_interface = "0.05 K/W"
hot_interface = "0.05 K/W"
[cooler.cold_sink]
kind = "resistance"
value = "0.30 K/W"
at_flow = "50 m^3/h"
[cooler.cold_fan]
flow = "50 m^3/h"
power = "3 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.15 K/W"
at_flow = "100 m^3/h"
[cooler.hot_fan]
flow = "100 m^3/h"
power = "4 W"
"""


def cupboard(**changes):
    """The cupboard, with some keys changed ("goal.air" as goal__air)."""
    sheet = read_text(CUPBOARD)
    edits = {name.replace("__", "."): value for name, value in changes.items()}
    return sheet.changed(edits) if edits else sheet


def given_air(**changes):
    """The cooler in given air."""
    sheet = read_text(GIVEN_AIR)
    edits = {name.replace("__", "."): value for name, value in changes.items()}
    return sheet.changed(edits) if edits else sheet


def listed(data, **search):
    """A parts list, with some rules of the search changed."""
    return parts_of({**data, "search": {**data.get("search", {}), **search}})
