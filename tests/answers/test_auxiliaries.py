"""What pumps and fans take of a small cooler's power."""

from __future__ import annotations

import pytest

from coldwright.answers import watts
from coldwright.sheet.file import read_text

# One module, a quiet fan of 0.9 W, a pump of 4 W and a radiator fan on the hot side.
SMALL = """
[climate]
kind = "steady"
outdoor_air = "30 degC"
outdoor_humidity = "30 percent"
[place]
kind = "open_air"
air = "25 degC"
humidity = "30 percent"
[cooler]
hot_takes_from = "outdoors"
hot_sends_to = "outdoors"
run_at = { module_voltage = "6 V" }
[cooler.modules]
part = "typical 127 couples 6 A"
series = 1
parallel = 1
cold_interface = "0.03 K/W"
hot_interface = "0.03 K/W"
[cooler.cold_sink]
part = "typical small 80 x 80 x 25"
[cooler.cold_fan]
part = "typical axial 80 mm quiet"
[cooler.hot_sink]
kind = "water_loop"
block_resistance = "0.03 K/W"
water_flow = "1.5 L/min"
pump_power = "4 W"
radiator = { resistance = "0.08 K/W", at_flow = "100 m^3/h", pressure_drop = "15 Pa" }
[cooler.hot_fan]
part = "typical axial 120 mm"
"""


def share_of_the_rest(text: str) -> float:
    """Part of the plug power that does not go to the modules."""
    found = watts.run(watts.Inputs(read_text(text, "small.toml"), 0)).values
    return 1.0 - found["module_power_W"].value / found["plug_power_W"].value


@pytest.mark.practice  # by hand: 7.4 W of pump and fans beside 6 V times about 2 A of the module
def test_pumps_and_fans_are_a_large_share_of_a_small_coolers_power():
    at_half = share_of_the_rest(SMALL)
    assert 0.25 < at_half < 0.5
    # The gentler the module is driven for its COP, the more they count.
    gentle = share_of_the_rest(SMALL.replace('"6 V"', '"4 V"'))
    full = share_of_the_rest(SMALL.replace('"6 V"', '"12 V"'))
    assert gentle > 0.45
    assert full < 0.2
