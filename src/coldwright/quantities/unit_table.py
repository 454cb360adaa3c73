"""The units of this trade by exact definition: word -> factor to SI and dimension.

Source: BIPM, "The International System of Units", 9th ed. (2019), tables 4, 7 and 8; NIST SP 811
(2008), appendix B, for inch, foot, pound, BTU (International Table), US gallon, ton of
refrigeration, horsepower and the columns of water and mercury.
"""

from __future__ import annotations

import math

Dimension = tuple[int, int, int, int, int, int, int, int]
"""Powers of metre, kilogram, second, ampere, kelvin, price, angle, level."""


NO_DIMENSION: Dimension = (0, 0, 0, 0, 0, 0, 0, 0)


def _dimension(**powers: int) -> Dimension:
    m, kg, s, a, k, price, angle, level = (
        powers.get(name, 0) for name in ("m", "kg", "s", "A", "K", "price", "angle", "level")
    )
    return m, kg, s, a, k, price, angle, level


_LENGTH = _dimension(m=1)
_AREA = _dimension(m=2)
_VOLUME = _dimension(m=3)
_MASS = _dimension(kg=1)
_TIME = _dimension(s=1)
_PRESSURE = _dimension(kg=1, m=-1, s=-2)
_ENERGY = _dimension(kg=1, m=2, s=-2)
_POWER = _dimension(kg=1, m=2, s=-3)
_VOLTAGE = _dimension(kg=1, m=2, s=-3, A=-1)
_OHM = _dimension(kg=1, m=2, s=-3, A=-2)
_KELVIN = _dimension(K=1)
PRICE = _dimension(price=1)
_ANGLE = _dimension(angle=1)

_BTU_IT_J = 1055.05585262
_GALLON_US_M3 = 231 * 0.0254**3
_POUND_KG = 0.45359237

_PLAIN_UNITS: dict[str, tuple[float, Dimension]] = {
    "m": (1.0, _LENGTH),
    "g": (1e-3, _MASS),
    "s": (1.0, _TIME),
    "A": (1.0, _dimension(A=1)),
    "K": (1.0, _KELVIN),
    "W": (1.0, _POWER),
    "J": (1.0, _ENERGY),
    "N": (1.0, _dimension(kg=1, m=1, s=-2)),
    "V": (1.0, _VOLTAGE),
    "VA": (1.0, _POWER),
    "Pa": (1.0, _PRESSURE),
    "Hz": (1.0, _dimension(s=-1)),
    "ohm": (1.0, _OHM),
    "F": (1.0, _dimension(kg=-1, m=-2, s=4, A=2)),
    "L": (1e-3, _VOLUME),
    "l": (1e-3, _VOLUME),
    "Wh": (3600.0, _ENERGY),
    "Ah": (3600.0, _dimension(A=1, s=1)),
    "bar": (1e5, _PRESSURE),
}
_PREFIXES = {"G": 1e9, "M": 1e6, "k": 1e3, "h": 1e2, "c": 1e-2, "d": 1e-1, "m": 1e-3}
_PREFIXES |= {"u": 1e-6, "n": 1e-9}
_PREFIXED = {
    "G": "W Pa J Hz ohm Wh", "M": "W Pa J Hz ohm Wh", "k": "m g W J N V VA Pa Hz ohm Wh A",
    "h": "Pa", "c": "m L l", "d": "m L l", "n": "m s V A F", "u": "m g s A V W L l ohm F",
    "m": "m g s A K W J N V Pa Hz ohm L l Wh Ah bar F",
}  # fmt: skip
COMMON: dict[str, tuple[float, Dimension]] = _PLAIN_UNITS | {
    prefix + word: (_PREFIXES[prefix] * _PLAIN_UNITS[word][0], _PLAIN_UNITS[word][1])
    for prefix, words in _PREFIXED.items()
    for word in words.split()
}
COMMON |= {
    "kg": (1.0, _MASS),
    "t": (1000.0, _MASS),
    "lb": (_POUND_KG, _MASS),
    "oz": (_POUND_KG / 16, _MASS),
    "min": (60.0, _TIME),
    "h": (3600.0, _TIME),
    "hr": (3600.0, _TIME),
    "sec": (1.0, _TIME),
    "d": (86400.0, _TIME),
    "day": (86400.0, _TIME),
    "in": (0.0254, _LENGTH),
    "inch": (0.0254, _LENGTH),
    "inches": (0.0254, _LENGTH),
    "ft": (0.3048, _LENGTH),
    "foot": (0.3048, _LENGTH),
    "feet": (0.3048, _LENGTH),
    "yd": (0.9144, _LENGTH),
    "mi": (1609.344, _LENGTH),
    "thou": (25.4e-6, _LENGTH),
    "gal": (_GALLON_US_M3, _VOLUME),
    "cfm": (0.3048**3 / 60.0, _dimension(m=3, s=-1)),
    "gpm": (_GALLON_US_M3 / 60.0, _dimension(m=3, s=-1)),
    "BTU": (_BTU_IT_J, _ENERGY),
    "TR": (12000.0 * _BTU_IT_J / 3600.0, _POWER),
    "hp": (550.0 * 0.3048 * _POUND_KG * 9.80665, _POWER),
    "psi": (_POUND_KG * 9.80665 / 0.0254**2, _PRESSURE),
    "inH2O": (249.08891, _PRESSURE),
    "mmH2O": (9.80665, _PRESSURE),
    "cmH2O": (98.0665, _PRESSURE),
    "inHg": (3386.38864034, _PRESSURE),
    "mmHg": (133.322387415, _PRESSURE),
    "atm": (101325.0, _PRESSURE),
    "degC": (1.0, _KELVIN),
    "degF": (5.0 / 9.0, _KELVIN),
    "delta_degC": (1.0, _KELVIN),
    "delta_degF": (5.0 / 9.0, _KELVIN),
    "kelvin": (1.0, _KELVIN),
    "rad": (1.0, _ANGLE),
    "deg": (math.pi / 180.0, _ANGLE),
    "degree": (math.pi / 180.0, _ANGLE),
    "degrees": (math.pi / 180.0, _ANGLE),
    "dB": (1.0, _dimension(level=1)),
    "price": (1.0, PRICE),
    "ct": (0.01, PRICE),
    "cent": (0.01, PRICE),
    "cents": (0.01, PRICE),
    "%": (0.01, NO_DIMENSION),
    "percent": (0.01, NO_DIMENSION),
    "pct": (0.01, NO_DIMENSION),
    "ppm": (1e-6, NO_DIMENSION),
}


def _loose_words() -> dict[str, str]:
    # Words that mean one thing however they are capitalised: "KW" but not "mw", which is a
    # milliwatt or a megawatt.
    by_folded: dict[str, set[str]] = {}
    for word in COMMON:
        by_folded.setdefault(word.casefold(), set()).add(word)
    return {
        folded: sorted(words)[0]
        for folded, words in by_folded.items()
        if len({COMMON[word] for word in words}) == 1
    }


LOOSE = _loose_words()
"""Word in small letters -> the one unit it can be."""
