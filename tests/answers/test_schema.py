"""The schema names every key that an answer has, and no key is missing from it."""

from __future__ import annotations

import pytest

from coldwright.answers import verdict, watts
from coldwright.answers.schema import answer_schema
from coldwright.sheet.file import read_text

SHEET = """
[place]
kind = "box"
length = "0.5 m"
width = "0.4 m"
height = "0.4 m"
wall = { material = "XPS", thickness = "50 mm" }
[goal]
air = "18 degC"
within = "4 h"
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "40 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { module_voltage = "7 V" }
[cooler.modules]
part = "typical 127 couples 6 A"
[cooler.cold_sink]
kind = "resistance"
value = "0.4 K/W"
[cooler.cold_fan]
flow = "40 m^3/h"
power = "2 W"
[cooler.hot_sink]
kind = "resistance"
value = "0.3 K/W"
[cooler.hot_fan]
flow = "80 m^3/h"
power = "3 W"
[price]
electricity = "0.3 EUR/kWh"
"""


@pytest.mark.parametrize(("command", "answer"), [("watts", watts), ("verdict", verdict)])
def test_schema_and_answer_have_the_same_keys(command, answer):
    found = answer.run(answer.Inputs(read_text(SHEET, "box.toml"), tries=50)).to_json()
    schema = answer_schema(command)
    unknown = set(found) - set(schema["properties"])
    assert not unknown
    assert set(schema["required"]) <= set(found)
    for name in ("cooling_W", "plug_power_W", "place_air_K"):
        assert set(found[name]) == {"value", "low", "high"}
