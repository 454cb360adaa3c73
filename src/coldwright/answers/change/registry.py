"""Every change that the program knows, in the order in which several of them are made.

What the volts and fan speeds shall be is asked last, of the design that the others have made.
"""

from __future__ import annotations

from coldwright.answers.change import (
    cold_fan,
    cold_sink,
    condensate,
    dual_duct,
    duct_insulated,
    duct_shorter,
    duct_straighter,
    duct_wider,
    hot_fan,
    hot_outlet,
    hot_sink,
    insulation,
    interface,
    leakage,
    lid_seal,
    more_modules,
    recirculation,
    rewired,
    screws,
    setting,
    shade,
    smaller_box,
    spacer,
    spot,
    spreader,
    supply_out,
    water_loop,
)
from coldwright.answers.change.kind import Change

CHANGES: tuple[Change, ...] = (
    # Where the air comes from and goes to.
    hot_outlet.CHANGE,
    duct_shorter.CHANGE,
    duct_wider.CHANGE,
    duct_straighter.CHANGE,
    duct_insulated.CHANGE,
    dual_duct.CHANGE,
    recirculation.CHANGE,
    condensate.CHANGE,
    # The place.
    leakage.CHANGE,
    insulation.CHANGE,
    lid_seal.CHANGE,
    shade.CHANGE,
    supply_out.CHANGE,
    # The machine.
    water_loop.CHANGE,
    hot_sink.CHANGE,
    cold_sink.CHANGE,
    spreader.CHANGE,
    hot_fan.CHANGE,
    cold_fan.CHANGE,
    interface.CHANGE,
    spacer.CHANGE,
    screws.CHANGE,
    more_modules.CHANGE,
    rewired.CHANGE,
    setting.CHANGE,
    # Something smaller.
    spot.CHANGE,
    smaller_box.CHANGE,
)
