"""A design with its solved states: what a change starts from and what it ends at."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from coldwright.answers.design import Design, Point, limits_kept
from coldwright.answers.hill import Hill, hill
from coldwright.answers.prices import known_price
from coldwright.findings import Finding
from coldwright.machine.cooler import operate
from coldwright.machine.pulldown import no_cooler
from coldwright.machine.records import Status
from coldwright.sheet.models import Goal, Limits, OpenAir, Plate, Sheet

# Points of the coarse hill: volts (or what is set), and each fan's speed.
_DRIVES, _SPEEDS = 31, 7


@dataclass
class Solved:
    """A sheet and where it stands, without tries; everything is solved when first asked for.

    Raises
    ------
    SheetInvalid, NoSolution
        As for the other answers, on the first figure asked for.
    """

    sheet: Sheet

    @cached_property
    def design(self) -> Design:
        """The records of the sheet."""
        return Design(self.sheet, 0, 0)

    @cached_property
    def point(self) -> Point:
        """The operating point, with the steady place where there is one."""
        return self.design.solve(with_place=self.design.enclosed)

    @property
    def level_K(self) -> float:
        """Where the place or the plate levels off; in open air the outlet of the cold side."""
        place = self.sheet.place
        if isinstance(place, OpenAir):
            return self.point.nominal["cold_outlet_K"]
        return self.point.nominal["cold_sink_K" if isinstance(place, Plate) else "place_K"]

    @cached_property
    def off_K(self) -> float:
        """Where an enclosed place stands with no cooler in it; else the given or outdoor air."""
        if not self.design.enclosed:
            place = self.sheet.place
            return place.air.value if isinstance(place, OpenAir) else self.outdoor_K
        places = self.design.place
        start = (places["air_K"], places["humidity_ratio"])
        found = operate(no_cooler(self.design.cooler), places, *start, with_place=True)
        if int(found["status"][0]) != Status.SOLVED:
            return self.outdoor_K
        return float(found["place_K"][0])

    @property
    def outdoor_K(self) -> float:
        """The outdoor air."""
        return float(self.design.place["outdoor_K"][0])

    @property
    def goal_K(self) -> float | None:
        """What the sheet wants the place or the plate to be."""
        goal = self.sheet.goal.plate if isinstance(self.sheet.place, Plate) else self.sheet.goal.air
        return None if goal is None else goal.value

    @cached_property
    def sound_dB(self) -> float | None:
        """Level of all fans at 1 m; None when no fan tells."""
        return self.design.sound().value

    @property
    def supply_share(self) -> float | None:
        """Load of the supply as a share of its rated power; None without a supply."""
        power = self.sheet.power
        if power is None or power.supply is None:
            return None
        result = self.point.results[0]
        return float(result["plug_W"] - result["supply_W"]) / power.supply.rated_power.value

    @cached_property
    def hill(self) -> Hill:
        """The hill over volts and both fan speeds, coarse."""
        return hill(self.design, _DRIVES, _SPEEDS)

    @cached_property
    def broken(self) -> list[str]:
        """Limits of the sheet that this design breaks, by their keys; "combustion" for an exhaust
        that must not run beside an open flame."""
        price = known_price(self.sheet)
        figures = {name: np.atleast_1d(number) for name, number in self.point.nominal.items()}
        found = []
        for part, name in _LIMITS:
            limit = getattr(getattr(self.sheet, part), name)
            if limit is None:
                continue
            alone = {"goal": Goal.model_construct(), "limits": Limits.model_construct()}
            alone[part] = alone[part].model_copy(update={name: limit})
            one = object.__new__(Design)
            one.sheet = self.sheet.model_copy(update=alone)
            if not limits_kept(one, figures, self.sound_dB, price).all():
                found.append(name)
        if getattr(self.sheet.place, "combustion", "none") == "open" and self.forbidden:
            found.append("combustion")
        return found

    @cached_property
    def findings(self) -> list[Finding]:
        """Everything that the program has to say about this design, worst first."""
        return self.design.findings(self.point)

    @property
    def forbidden(self) -> bool:
        """Whether a finding forbids to run it."""
        return any(each.severity == "stop" for each in self.findings)

    @property
    def cautions(self) -> list[str]:
        """Codes of its warnings and stops, worst first."""
        return list(dict.fromkeys(each.code for each in self.findings if each.severity != "note"))


_LIMITS = (
    *(("goal", name) for name in ("max_plug_power", "max_sound", "max_price")),
    *(("limits", name) for name in ("hot_face", "cold_face", "hot_sink", "cold_sink")),
    ("limits", "dew_point_margin"),
)
