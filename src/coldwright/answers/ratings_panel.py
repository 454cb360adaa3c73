"""The module's printed ratings against what it gives here, and what is no cooling at all."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from coldwright.answers.design import Design, Point
from coldwright.machine.outcome import pumped_by_group
from coldwright.quantities.glossary import display


@dataclass(frozen=True)
class RatingRow:
    """One rating of a group's modules beside its value at the operating point."""

    group: str
    what: str
    rated: float
    here: float
    unit: str
    """Glossary name that both are shown with."""
    remark: str

    def to_json(self) -> dict[str, Any]:
        """The object of the JSON answer."""
        return {
            "group": self.group,
            "what": self.what,
            "rated": self.rated,
            "here": self.here,
            "unit": self.unit,
            "remark": self.remark,
        }


def ratings_panel(design: Design, point: Point) -> list[RatingRow]:
    """Rows for every group that is known by ratings; empty for others."""
    rows: list[RatingRow] = []
    groups = design.sheet.cooler.modules
    for number, modules in enumerate(groups):
        ratings = modules.ratings
        if ratings is None:
            continue
        count = modules.series * modules.parallel
        name = modules.name or ("modules" if len(groups) == 1 else f"modules {number + 1}")
        results = point.results
        lift_K = float(results["hot_face_K"][0, number] - results["cold_face_K"][0, number])
        pumped_W = pumped_by_group(design.cooler, results, number) / count
        current_A = float(results["module_A"][0, number])
        voltage_V = float(results["module_V"][0, number])
        if ratings.max_heat is not None:
            share = pumped_W / ratings.max_heat.value
            rows.append(
                RatingRow(
                    name, "heat moved by one module", ratings.max_heat.value, pumped_W,
                    "pumped_W",
                    f"{100 * share:.0f} % of the rating, which holds at no lift and full current",
                )
            )  # fmt: skip
            total = ratings.max_heat.value * count
            rows.append(
                RatingRow(
                    name, f"heat moved by all {count}", total, pumped_W * count, "pumped_W",
                    f"adding up ratings would promise {display('pumped_W', total)}",
                )
            )  # fmt: skip
        share = lift_K / ratings.max_difference.value
        rows.append(
            RatingRow(
                name, "lift", ratings.max_difference.value, lift_K, "lift_K",
                f"{100 * share:.0f} % of the rating, which holds at no heat",
            )
        )  # fmt: skip
        rows.append(
            RatingRow(name, "current", ratings.max_current.value, current_A, "current_A", "")
        )
        rows.append(
            RatingRow(name, "voltage", ratings.max_voltage.value, voltage_V, "voltage_V", "")
        )
    return rows


def not_cooling(design: Design, point: Point) -> list[str]:
    """What is often taken for the cooling and is not: ratings, watts in, a cold outlet."""
    found = point.nominal
    cooling_W, power_W = found["cooling_W"], found["module_power_W"]
    lines = []
    rated_W = [
        modules.ratings.max_heat.value * modules.series * modules.parallel
        for modules in design.sheet.cooler.modules
        if modules.ratings is not None and modules.ratings.max_heat is not None
    ]
    if rated_W and len(rated_W) == len(design.sheet.cooler.modules):
        lines.append(
            f"Ratings do not add up to cooling: {display('pumped_W', sum(rated_W))} would be "
            f"promised, {display('pumped_W', found['pumped_W'])} are moved."
        )
    if power_W > 0.0:
        lines.append(
            f"Watts into the modules are not cooling: {display('module_power_W', power_W)} go in, "
            f"the cold side takes out {display('cooling_W', cooling_W)}."
        )
    if design.sheet.place.kind == "plate":
        return lines
    colder_K = float(point.results["cold_in_K"][0, 0]) - found["cold_outlet_K"]
    if colder_K > 0.0:
        lines.append(
            f"A cold outlet is not a capacity: the air leaves {display('lift_K', colder_K)} colder "
            f"than it comes in, and only with its flow of "
            f"{display('cold_flow_m3_s', found['cold_flow_m3_s'])} does that say how much."
        )
    return lines
