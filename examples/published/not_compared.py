"""Published coolers that were found and could not be compared, each with the reason."""

from __future__ import annotations

NOT_COMPARED: tuple[tuple[str, str, str], ...] = (
    (
        "Most heat of the refrigerator couple: 3.64 A and 12.83 W",
        "A. V. da Rosa, Fundamentals of Renewable Energy Processes, text beside a figure",
        "contradicts the same book's worked design: with its resistance of 0.0335 ohm the point is "
        "4.62 A and 16.1 W; 3.64 A needs 0.0426 ohm, and then it is 12.7 W",
    ),
    (
        "Radiant ceiling of 1.8 m by 0.6 m: over 60 W/m2, COP up to 0.9 at 5 V",
        "Liu, Zhang and Gong, Energy Conversion and Management 87 (2014) 559-565 (abstract)",
        "the abstract gives neither the modules nor their number, nor any temperature",
    ),
    (
        "Model room of 0.125 m3 with solar cells: 17 degC, COP above 0.4",
        "He et al., Applied Energy 107 (2013) 89-97 (abstract)",
        "walls, modules, sinks and weather are not in what could be read",
    ),
    (
        "A room made 1.3 to 3.9 K cooler by three modules in a duct",
        "Irshad and Algarni, ASHRAE conference 2019 (abstract)",
        "the room's walls and gains, the flows and the modules are not in what could be read",
    ),
    (
        "Portable solar box: 27 to 5 degC in 44 min, COP 0.16",
        "Abdul-Wahab et al., Renewable Energy 34 (2009) 30-34 (abstract)",
        "contents, walls and sinks are not in what could be read",
    ),
    (
        "Box with four bottles: 23 degC at 28 to 37 W, COP 0.044",
        "Mirmanto et al., Int. J. of Heat and Technology 37 (2019) 991-998 (abstract)",
        "the inner sink, which limits it, is not described in what could be read",
    ),
    (
        "Box with 19 L of water: plate 16.2 degC, air 24.3 degC, COP 0.01 to 0.76",
        "Mirmanto et al., ASTESJ 5 (2020) 325-333 (abstract)",
        "the COP runs over two decades and the state it belongs to is not in the abstract",
    ),
    (
        "Domestic refrigerators: COP 0.3 to 0.5 between 5 and 25 degC",
        "Min and Rowe 2006 (numbers from memory)",
        "the numbers could not be confirmed",
    ),
    (
        "End temperature of the plate on two stages: -40.7 degC in vacuum, 6.7 K warmer in air",
        "open laboratory journal, github.com/DmitryMyadzelets/epicx, logs of 2024-06-04",
        "heat along wires, nylon screws and gas is not described; the time constant is compared",
    ),
    (
        "Cold side measured independently of the hot side",
        "github.com/gqguan/TEC, ExpData.txt",
        "heat out less heat in equals volts times amperes within 0.3 % in every reading, so one "
        "heat was probably found from the other; the fit is compared, the balance is not",
    ),
)
