"""Unit texts to factors: "W/(m²·K)", "ft3/min", "K/W", "degC".

The units of this trade stand in a table of exact definitions; any other single word is looked up
with pint, which is loaded only then. Expressions are taken apart here and not by pint, because
its reading of "W/m2K", "1/2 in" or "5 C" is not what a maker means, and because a sheet may hold
any text at all.
"""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import Any

from coldwright.errors import QuantityError
from coldwright.quantities.entries import Entry
from coldwright.quantities.kinds import KINDS
from coldwright.quantities.unit_table import COMMON, LOOSE, NO_DIMENSION, PRICE, Dimension

UNIT_LENGTH_LIMIT = 60
_SCALES = {"degC": (1.0, 273.15), "degF": (5.0 / 9.0, 459.67 * 5.0 / 9.0)}


def conversion(unit: str, kind: str) -> tuple[float, float]:
    """Factor and offset of a unit for one kind: ``SI value = number * factor + offset``.

    Parameters
    ----------
    unit : str
        The unit as written; empty for none.
    kind : str
        Name of the kind; it decides what "C" or "5 mil" can mean.

    Raises
    ------
    QuantityError
        If the unit is unknown or belongs to another kind of quantity.
    """
    return _conversion(unit, kind)


def pretty(unit: str) -> str:
    """Write a unit the way faces show it: "m^3/h" as "m³/h", "delta_degF" as "°F"."""
    text = unit.replace("delta_", "").replace("deg", "°").replace("*", "·").replace("ohm", "Ω")
    text = re.sub(r"\bu(?=[A-ZΩ])", "µ", text)
    return text.replace("^2", "²").replace("^3", "³")


def plain(text: str) -> str:
    """Replace signs that keyboards and data sheets vary: superscripts, primes, dashes, spaces."""
    text = _POWER_OF_TEN.sub(lambda match: "e" + (match[1] or match[2]).translate(_DIGITS), text)
    for pattern, new in _REPLACED:
        text = pattern.sub(new, text)
    return text.translate(_TRANSLATED)


def dimension_of(kind: str) -> Dimension:
    """Dimension of a kind of quantity."""
    return _product(KINDS[kind].si_unit, kind, tight=True)[1]


def kinds_like(unit: str) -> tuple[str, ...]:
    """Kinds whose dimension a unit has: used to guess what was given instead."""
    found = []
    for kind, row in KINDS.items():
        if row.si_unit:
            try:
                conversion(unit, kind)
            except QuantityError:
                continue
            found.append(kind)
    return tuple(found)


def awg_area(gauge: int) -> float:
    """Cross section [m²] of a solid wire of American gauge `gauge`; 0 is 1/0, -1 is 2/0.

    Notes
    -----
    ``d = 0.127 mm * 92**((36 - n) / 39)``, area ``pi d**2 / 4``.

    Source: ASTM B258-02, the definition of the gauge.
    """
    diameter_m = 0.127e-3 * float(92.0 ** ((36 - gauge) / 39.0))
    return math.pi * diameter_m**2 / 4.0


class _Unknown(Exception):  # noqa: N818 - never leaves this file
    def __init__(self, word: str) -> None:
        super().__init__(word)
        self.word = word


_UPPER_MILLI_ALLOWED = {"MM", "MIN", "MI", "Min", "Mm", "M"}

_TOKEN = re.compile(
    r"\s*(?:(?P<word>(?:in|mm|cm)H2O|[A-Za-z_%$\u00a2-\u00a5\u20a0-\u20bf]+|[\"']+)"
    r"|(?P<number>[0-9]+(?:\.[0-9]+)?)"
    r"|(?P<sign>\^-?|\*\*-?|[*/()]|-))",
)
_REPLACED = tuple(
    (re.compile(pattern), new)
    for pattern, new in (
        (r"(?:[°º˚]|\bdeg(?:ree)?s?\b)\s?(?:C\b|[Cc]elsius\b)", "degC"),
        (r"(?:[°º˚]|\bdeg(?:ree)?s?\b)\s?(?:F\b|[Ff]ahrenheit\b)", "degF"),
        (r"(?:[Δ∆]\s?|\bdelta[ _-])(?=deg[CF])", "delta_"),
        (r"[Δ∆]\s?(?=K\b)", ""),
        (r"⁻", "^-"),
        (r"\^-(?=[¹²³])", "^-"),
        (r"(?<!\^-)²", "^2"),
        (r"(?<!\^-)³", "^3"),
        (r"½", " 1/2"),
        (r"¼", " 1/4"),
        (r"¾", " 3/4"),
        (r"(?i)\b(in|mm|cm)\.?\s?(?:H2O|H₂O|w\.?\s?[gc]\.?|water)(?![A-Za-z])", r"\1H2O"),
        (r"\bin\.(?![A-Za-z0-9])", "in"),
    )
)
_POWER_OF_TEN = re.compile(
    r"(?<=[0-9])\s?[×x*·]\s?10(?:\^(-?[0-9]{1,3})|([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]{1,4}))(?![0-9])"
)
_DIGITS = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
_TRANSLATED = str.maketrans(
    {
        "²": "2", "³": "3", "¹": "1", "·": "*", "⋅": "*", "×": "*", "∙": "*", "•": "*",
        "−": "-", "–": "-", "‐": "-", "‑": "-", "Ω": "ohm", "\u2126": "ohm", "µ": "u", "μ": "u",
        "°": "deg", "º": "deg", "˚": "deg", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'",
        "℃": "degC", "℉": "degF", "٪": "%", "％": "%",
        "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u202f": " ", "\t": " ",
    }
)  # fmt: skip


@lru_cache(maxsize=4096)
def _conversion(unit: str, kind: str) -> tuple[float, float]:
    row = KINDS[kind]
    if len(unit) > UNIT_LENGTH_LIMIT:
        raise _refused(unit, row, "No unit is that long")
    text = plain(unit).strip()
    folded = text.casefold().replace(" ", "")
    text = row.aliases.get(folded, text)
    if folded == "w/mk" and kind == "thermal_conductance":
        raise _refused(unit, row, "“mK” can be read as millikelvin or as metre times kelvin")
    if kind == "temperature":
        return _scale(text, unit, row)
    wanted = _product(row.si_unit, kind, tight=True)[1]
    dimension = NO_DIMENSION
    # "W/m2K" divides by all of "m2K" and "W/m*K" is meant so, too; the dimension tells which
    # reading is right, and at most one can be.
    for tight in (True, False):
        try:
            factor, dimension = _product(text, kind, tight=tight)
        except _Unknown as fault:
            raise _refused(unit, row, f"“{fault.word}” is not a known unit") from None
        except ArithmeticError:  # "m/0", or powers of powers beyond a float
            raise _refused(unit, row, "Its factor is no usable number") from None
        if dimension == wanted:
            if not (math.isfinite(factor) and factor > 0.0):
                raise _refused(unit, row, "Its factor is no usable number")
            return factor, 0.0
    raise _refused(unit, row, "" if text else "A unit is needed")


def _scale(text: str, unit: str, row: Entry) -> tuple[float, float]:
    if text in _SCALES:
        return _SCALES[text]
    if text == "K":
        return 1.0, 0.0
    if text in ("mK", "uK", "kelvin", "Kelvin"):
        return (COMMON[text][0] if text in COMMON else 1.0), 0.0
    if text.startswith("delta_"):
        raise _refused(unit, row, "This is a difference between temperatures")
    if text in ("deg", "degree", "degrees"):
        raise _refused(unit, row, "It does not say which scale")
    raise _refused(unit, row, "" if text else "A unit is needed")


def _refused(unit: str, row: Entry, why: str) -> QuantityError:
    shortened = unit if len(unit) <= 24 else unit[:23] + "…"
    noun = row.name.replace("_", " ")
    return QuantityError(
        f"“{shortened}”" if unit else "", f"a unit of {noun}", why, f"“{row.example}”"
    )


def _product(text: str, kind: str, *, tight: bool) -> tuple[float, Dimension]:
    """Factor and dimension of a product of units; `tight`: "a/b c" is a/(b c), not (a/b) c."""
    tokens = _tokens(text)
    position = 0

    def expression(depth: int) -> tuple[float, Dimension]:
        nonlocal position
        factor, total = 1.0, list(NO_DIMENSION)
        sign = 1
        while position < len(tokens):
            name, piece = tokens[position]
            if name == "sign" and piece in ("*", "/"):
                position += 1
                sign = -1 if piece == "/" or (tight and sign < 0) else 1
                continue
            if name == "sign" and piece == ")":
                break
            value, dimension = power(depth)
            factor = factor * value if sign > 0 else factor / value
            total = [a + sign * b for a, b in zip(total, dimension, strict=True)]
            if not tight:
                sign = 1
        return factor, _as_dimension(total)

    def power(depth: int) -> tuple[float, Dimension]:
        nonlocal position
        name, piece = tokens[position]
        position += 1
        if name == "word":
            value, dimension = _word(piece, kind)
        elif name == "number":
            value, dimension = float(piece), NO_DIMENSION
        elif piece == "(" and depth < 8:
            value, dimension = expression(depth + 1)
            if position >= len(tokens) or tokens[position][1] != ")":
                raise _Unknown(text)
            position += 1
        else:
            raise _Unknown(piece)
        exponent = _exponent(name)
        if abs(exponent) > 6:
            raise _Unknown(f"{piece}^{exponent}")
        return float(value**exponent), _as_dimension([exponent * d for d in dimension])

    def _exponent(name: str) -> int:
        # "m^2", "m**2", "m2", "m-2", ")^2"
        nonlocal position
        if position >= len(tokens):
            return 1
        kind_of, piece = tokens[position]
        sign = 1
        if kind_of == "sign" and piece[0] in "^*-" and piece != "*":
            sign = -1 if piece.endswith("-") else 1
            position += 1
            if position >= len(tokens) or tokens[position][0] != "number":
                raise _Unknown(piece)
            kind_of, piece = tokens[position]
        elif kind_of != "number" or name != "word":
            return 1
        if len(piece) > 1:
            raise _Unknown(piece)
        position += 1
        return sign * int(piece)

    result = expression(0)
    if position < len(tokens):
        raise _Unknown(text)
    return result


def _as_dimension(powers: list[int]) -> Dimension:
    m, kg, s, a, k, price, angle, level = powers
    return m, kg, s, a, k, price, angle, level


def _tokens(text: str) -> list[tuple[str, str]]:
    tokens = []
    position = 0
    while position < len(text):
        match = _TOKEN.match(text, position)
        if match is None or match.lastgroup is None:
            raise _Unknown(text[position:].strip())
        tokens.append((match.lastgroup, match.group(match.lastgroup)))
        position = match.end()
    return tokens


def _word(word: str, kind: str) -> tuple[float, Dimension]:
    thermal = "K" in KINDS[kind].si_unit
    if word in ("C", "F") and thermal:
        return COMMON["deg" + word]  # never coulomb or farad where heat is meant
    if word in COMMON:
        return COMMON[word]
    alias = KINDS[kind].aliases.get(word.casefold())
    if alias in COMMON:
        return COMMON[alias]
    if word.casefold() in LOOSE and not (word.startswith("M") and word not in _UPPER_MILLI_ALLOWED):
        return COMMON[LOOSE[word.casefold()]]
    if kind.startswith("price") and len(word) <= 12:
        return 1.0, PRICE  # a currency, whatever its name
    return _looked_up(word)


@lru_cache(maxsize=1)
def _registry() -> Any:
    import pint  # 0.1 s, and rarely needed

    return pint.UnitRegistry()


def _looked_up(word: str) -> tuple[float, Dimension]:
    if len(word) > 30 or not word.isascii() or not word.replace("_", "").isalpha():
        raise _Unknown(word)
    registry = _registry()
    try:
        once = registry.Quantity(1.0, word).to_base_units()
        twice = registry.Quantity(2.0, word).to_base_units()
        powers = {str(name): power for name, power in once.dimensionality.items()}
        factor = float(once.magnitude)
        linear = math.isclose(float(twice.magnitude), 2.0 * factor, rel_tol=1e-9)
    except (AttributeError, ValueError, TypeError, KeyError, ArithmeticError) as fault:
        raise _Unknown(word) from fault
    names = ("[length]", "[mass]", "[time]", "[current]", "[temperature]")
    if not linear or not set(powers) <= set(names):
        raise _Unknown(word)
    whole = [int(powers.get(name, 0)) for name in names]
    if any(powers.get(name, 0) != count for name, count in zip(names, whole, strict=True)):
        raise _Unknown(word)
    return factor, _as_dimension([*whole, 0, 0, 0])
