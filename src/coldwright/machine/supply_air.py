"""Whether the air that an exhaust is said to take can come in through the gaps of the place."""

from __future__ import annotations

from typing import Any

from coldwright.findings import Finding
from coldwright.machine.safety import exhausts, flame_stop
from coldwright.physics.leakage import power_law_pressure
from coldwright.quantities.glossary import display
from coldwright.sheet.models import Box, Room, Sheet

# Fans of this kind give 50 to 200 Pa (common practice): above the first the flow that is given is
# doubtful, above the second no such fan moves it.
DOUBTFUL_PA, IMPOSSIBLE_PA = 100.0, 500.0


def supply_air(sheet: Sheet, cooler: Any, place: Any) -> list[Finding]:
    """Findings on a given exhaust flow that the gaps of the place do not let through.

    `cooler` and `place` are the nominal records. A fan with a curve needs no such rule: its flow
    falls until its pressure suffices.
    """
    fan = cooler["hot_fan"][0]
    if not isinstance(sheet.place, Room | Box) or not exhausts(sheet) or fan["given_flow"] != 1:
        return []
    leak = float(place["leak_m3_s_Pan"][0])
    if not leak > 0.0:
        return []
    fresh_m3_s = float(fan["flow_m3_s"] * fan["speed"] * (1.0 - cooler["hot_recirculation"][0]))
    pressure_Pa = float(power_law_pressure(fresh_m3_s, leak, place["leak_exponent"][0]))
    if not pressure_Pa > DOUBTFUL_PA:
        return []
    impossible = pressure_Pa > IMPOSSIBLE_PA
    where = "cooler.hot_fan.flow"
    limit = IMPOSSIBLE_PA if impossible else DOUBTFUL_PA
    flow = display("hot_flow_m3_s", fresh_m3_s)
    given = (
        f"An exhaust of {flow} would lower the pressure in the place by more than "
        f"{display('pressure', limit)}"
    )
    found = [
        Finding(
            "CW-COOLER-09",
            "stop" if impossible else "warning",
            where,
            given,
            "",
            "Fans of this kind give 50 to 200 Pa, so this flow "
            + ("is impossible" if impossible else "will hardly be reached"),
            "a larger opening in place.air_leakage, the fan's curve instead of a flow, or "
            'hot_takes_from = "outdoors" (two ducts)',
            sheet.line(where),
            sheet.file,
        )
    ]
    if impossible and sheet.place.combustion == "open":
        found.insert(0, flame_stop(sheet, given))
    return found
