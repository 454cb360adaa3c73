"""Every fault that the program knows, in the order in which a person would ask."""

from __future__ import annotations

from coldwright.answers.fault import (
    cold_fan,
    drain_blocked,
    duct_blocked,
    hot_fan,
    module_open,
    module_shorted,
    power_fails,
    power_returns,
    reversed_leads,
    supply_high,
    supply_sags,
    thermostat,
)
from coldwright.answers.fault.kind import Fault

FAULTS: tuple[Fault, ...] = (
    hot_fan.FAULT,
    cold_fan.FAULT,
    duct_blocked.FAULT,
    module_open.FAULT,
    module_shorted.FAULT,
    supply_high.FAULT,
    supply_sags.FAULT,
    thermostat.FAULT,
    reversed_leads.FAULT,
    drain_blocked.FAULT,
    power_fails.FAULT,
    power_returns.FAULT,
)
