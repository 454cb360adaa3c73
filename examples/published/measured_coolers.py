"""Whole coolers in papers of which only the abstract's numbers are known: the order of size.

None of these papers states, where it could be read, the sinks, joints and flows that a design sheet
needs. One cooler stands in for all of them, the four modules of `whole_cooler`, and one rule for
the voltage where the paper states none: half of the modules' rating.
"""

from __future__ import annotations

from comparison import MEASURED, Case, Row, finish
from solved import Solved, solve
from whole_cooler import MODULE, sheet_text

from coldwright.physics.thermoelectric import module_power

HALF_OF_RATED_V = 15.4 / 2.0
NOTE = "a stand-in cooler: only the order of size is compared"


def run(place_C: float, outdoor_C: float, voltage_V: float, humidity: str = "10 percent") -> Solved:
    """The stand-in between two airs."""
    return solve(
        sheet_text(),
        {
            "place.air": f"{place_C} degC",
            "place.humidity": humidity,
            "climate.outdoor_air": f"{outdoor_C} degC",
            "climate.outdoor_humidity": humidity,
            "cooler.run_at": {"module_voltage": f"{voltage_V} V"},
        },
    )


def cop(found: Solved) -> float:
    """Heat pumped over the power of the modules."""
    return found.pumped_W / found.power_W


def rooms() -> list[Case]:
    """Air conditioners."""
    most_K = run(25.0, 35.0, 2.19)
    none_K = run(25.0, 25.0, 1.5)
    house = run(25.0, 35.0, HALF_OF_RATED_V)
    three_W = 3.0 * module_power(1.0, 285.0, 315.0, *MODULE[:2])
    return [
        Case(
            "A chamber cooled against 7 K",
            "Zhao and Tan, Energy 68 (2014) 658-666 (abstract): mean COP 0.87, at most 1.22",
            MEASURED,
            (Row("COP", (0.6, 1.5), cop(run(25.0, 32.0, HALF_OF_RATED_V))),),
            note=NOTE,
        ),
        Case(
            "A passive house with 15 modules, air to air",
            "Diaz de Garayo, Martinez and Astrain 2021-22 (abstracts of two simulations): 405 W, "
            "COP 0.5 to 1.7",
            "a published simulation",
            (
                Row("cooling per module [W]", (15.0, 45.0), house.pumped_W / 4.0),
                Row("COP", (0.5, 1.7), cop(house)),
            ),
            note=NOTE,
        ),
        Case(
            "A heat pump with a COP of 4.4",
            "Performance evaluation and optimization of air-to-air thermoelectric heat pump "
            "system, preprint (abstract)",
            MEASURED,
            (
                Row("best COP against 10 K: never that high", (0.0, 4.4), cop(most_K)),
                Row("COP at 1.5 V between equal airs: possible", (4.4, 20.0), cop(none_K)),
            ),
            note="such a COP belongs to almost no difference of the airs and almost no heat",
        ),
        Case(
            "Three modules said to run at 1 A and to take 29.2 W at a COP of 0.34",
            "Thermal comfort study of a compact thermoelectric air conditioner, "
            "J. Electron. Mater. 2010 (abstract)",
            "a statement that cannot hold as it stands",
            (Row("three modules at 1 A and 30 K of lift: at most [W]", (0.0, 48.0), three_W),),
            note="29.2 W at 0.34 are 85.9 W, but 1 A into three modules of 16 V is at most 48 W: "
            "it cannot be their current, or the fans are in it",
        ),
    ]


def boxes() -> list[Case]:
    """Boxes, and water from air."""
    wet = run(30.0, 30.0, 12.0, "80 percent")
    kWh_L = wet.power_W / (float(wet.states["condensate_kg_s"]) * 3.6e6)
    return [
        Case(
            "A box held 14.7 K below the surroundings",
            "Atik and Yildiz, Energy Sources A 34 (2012) 645-653 (abstract): COP 0.58",
            MEASURED,
            (Row("COP", (0.3, 0.8), cop(run(20.3, 35.0, HALF_OF_RATED_V))),),
            note=NOTE,
        ),
        Case(
            "Water from humid air at 12 V",
            "an Indonesian condensation study of 2024 (abstract): 3.74 kWh per litre at best; "
            "small units 1.5 to 6",
            MEASURED,
            (Row("electricity per litre [kWh]", (1.5, 6.0), kWh_L),),
            note=NOTE + "; air of 30 degC and 80 % is a guess, fans are not counted",
        ),
    ]


def cases() -> list[Case]:
    """All comparisons of this file."""
    return [*rooms(), *boxes()]


if __name__ == "__main__":
    finish(cases())
