"""The unit table against a published table of conversion factors and against another library."""

import math

import pint
import pytest

from coldwright.errors import QuantityError
from coldwright.quantities.kinds import KINDS
from coldwright.quantities.unit_table import COMMON
from coldwright.quantities.units import conversion, pretty

# NIST SP 811 (2008), appendix B.8, seven figures as printed there; quoted from memory. Each also
# follows by hand from 1 in = 25.4 mm, 1 lb = 0.45359237 kg, g = 9.80665 m/s2, 1 BTU (International
# Table) = 1055.05585262 J and 1 US gallon = 231 in3, which are definitions.
SP_811 = [
    ("in", "length", 2.54e-2),
    ("ft", "length", 3.048e-1),
    ("mil", "length", 2.54e-5),
    ("ft^2", "area", 9.290304e-2),
    ("sq ft", "area", 9.290304e-2),
    ("in^2", "area", 6.4516e-4),
    ("ft^3", "volume", 2.831685e-2),
    ("gal", "volume", 3.785412e-3),
    ("lb", "mass", 4.535924e-1),
    ("oz", "mass", 2.834952e-2),
    ("cfm", "flow", 4.719474e-4),
    ("ft3/min", "flow", 4.719474e-4),
    ("gpm", "water_flow", 6.309020e-5),
    ("ft/min", "velocity", 5.08e-3),
    ("fpm", "velocity", 5.08e-3),
    ("mph", "velocity", 4.4704e-1),
    ("lb/ft^3", "density", 1.601846e1),
    ("psi", "stress", 6.894757e3),
    ("inH2O", "pressure", 2.490889e2),
    ("in. w.g.", "pressure", 2.490889e2),
    ("mmH2O", "pressure", 9.80665),
    ("inHg", "air_pressure", 3.386389e3),
    ("mmHg", "air_pressure", 1.333224e2),
    ("kWh", "energy", 3.6e6),
    ("BTU", "energy", 1.055056e3),
    ("BTU/h", "heat", 2.930711e-1),
    ("hp", "power", 7.456999e2),
    ("ton", "heat", 3.516853e3),
    ("BTU/(h ft^2 degF)", "u_value", 5.678263),
    ("BTU in/(h ft^2 degF)", "thermal_conductivity", 1.442279e-1),
    ("BTU/(lb degF)", "specific_heat", 4.1868e3),
    ("degF h ft^2/BTU", "thermal_insulance", 1.761102e-1),
]


@pytest.mark.published("NIST SP 811 (2008), appendix B.8 (from memory)")
@pytest.mark.parametrize(("unit", "kind", "factor"), SP_811)
def test_factor_agrees_with_sp_811(unit, kind, factor):
    # 3e-7: half of the last of the seven printed figures, at worst.
    assert conversion(unit, kind)[0] == pytest.approx(factor, rel=3e-7)


EXACT = [
    # Definitions, so the only error is that of one multiplication of floats.
    ("in", "length", 0.0254),
    ("cfm", "flow", 0.0004719474432),
    ("BTU", "energy", 1055.05585262),
    ("gal", "volume", 0.003785411784),
    ("m^3/h", "flow", 1 / 3600),
    ("L/min", "water_flow", 1 / 60000),
    ("psi", "stress", 6894.757293168361),
    ("degF", "temperature_difference", 5 / 9),
]


@pytest.mark.published("NIST SP 811 (2008), appendix B: exact definitions; BTU: 5th ICPS (1956)")
@pytest.mark.parametrize(("unit", "kind", "factor"), EXACT)
def test_exact_definitions(unit, kind, factor):
    assert conversion(unit, kind)[0] == pytest.approx(factor, rel=1e-15)


# Words that the library reads as something else than this trade does.
OTHER_MEANING = {"cfm": "centifermi", "TR": "tera-gas-constant", "d": "", "degC": "", "degF": ""}
# It has the BTU of ISO 31-4, rounded to 1055.056 J, and no unit of money.
OWN = {"BTU", "price", "ct", "cent", "cents", "dB", "gpm", "gal", "pct"}


@pytest.mark.published("pint: an independent table of units")
def test_every_common_word_agrees_with_pint():
    registry = pint.UnitRegistry()
    compared = 0
    for word, (factor, dimension) in COMMON.items():
        if word in OTHER_MEANING or word in OWN:
            continue
        theirs = registry.Quantity(1.0, word).to_base_units()
        powers = {str(name): power for name, power in theirs.dimensionality.items()}
        ours = dict(
            zip(
                ("[length]", "[mass]", "[time]", "[current]", "[temperature]"),
                dimension[:5],
                strict=True,
            )
        )
        # Columns of mercury and water hang on densities that differ in the sixth figure.
        assert float(theirs.magnitude) == pytest.approx(factor, rel=1e-6), word
        assert powers == {name: power for name, power in ours.items() if power}, word
        compared += 1
    assert compared > 100


@pytest.mark.parametrize(
    ("unit", "kind"),
    [
        # Juxtaposed units behind a slash all divide: ISO 80000-1, 7.2 asks for brackets there, and
        # people leave them out.
        ("W/m2K", "film_coefficient"),
        ("W/m²K", "film_coefficient"),
        ("W/m2 K", "u_value"),
        ("W/m²/K", "u_value"),
        ("W/(m²·K)", "u_value"),
        ("W m-2 K-1", "u_value"),
        ("W·m⁻²·K⁻¹", "u_value"),
        ("W/m^2*K", "u_value"),
        ("W/m²°C", "u_value"),
        ("W/mK", "thermal_conductivity"),
        ("W/(m K)", "thermal_conductivity"),
        ("K/W", "thermal_resistance"),
        ("°C/W", "thermal_resistance"),
        ("C/W", "thermal_resistance"),
        ("V**2/W", "resistance"),
        ("J/s", "heat"),
        ("N/m^2", "pressure"),
        ("kg m-1 s-2", "pressure"),
    ],
)
@pytest.mark.practice
def test_spellings_of_a_unit_that_is_one_in_si(unit, kind):
    assert conversion(unit, kind) == (1.0, 0.0)


@pytest.mark.parametrize(
    ("unit", "kind"),
    [
        ("m/s", "flow"),
        ("W/mK", "thermal_conductance"),  # millikelvin, or metre times kelvin
        ("mw", "power"),  # milliwatt or megawatt
        ("deg", "temperature"),
        ("delta_degC", "temperature"),
        ("degC/W", "temperature"),
        ("K^2", "temperature"),
        ("dB", "ratio"),
        ("deg", "share"),
        ("Np", "ratio"),
        ("W", "price"),
        ("", "power"),
        ("m^7", "length"),
        ("m^", "length"),
        ("(m", "length"),
        ("m)", "length"),
        ("*", "length"),
        ("m^m", "length"),
        ("m" * 61, "length"),
        ("(" * 30, "length"),
        ("__class__", "length"),
        ("\x00", "length"),
        ("0 m", "length"),
        ("m/0", "length"),
        ("x/0", "air_changes"),
        ("((Gm^6)^6)^6", "length"),
        ("m/((nm^6)^6)^6", "length"),
        ("A**0.5", "current"),
    ],
)
def test_units_that_are_refused(unit, kind):
    with pytest.raises(QuantityError):
        conversion(unit, kind)


def test_rarer_units_are_looked_up():
    # 1 furlong = 660 survey feet or 201.168 m; the two differ by 2 parts in a million.
    assert conversion("furlong", "length")[0] == pytest.approx(201.168, rel=3e-6)


def test_every_unit_the_glossary_names_belongs_to_its_kind():
    for kind, row in KINDS.items():
        units = [row.si_unit, row.display_unit, *row.slips, *(unit for _, unit in row.steps)]
        for unit in units:
            factor, offset = conversion(unit, kind)
            assert factor > 0.0, (kind, unit)
            assert math.isfinite(offset)
        assert conversion(row.si_unit, kind) == (1.0, 0.0)
        for alias in row.aliases:
            assert alias == alias.casefold().replace(" ", ""), "aliases are looked up so"
            assert conversion(alias, kind)[0] > 0.0, (kind, alias)


def test_units_are_shown_with_signs():
    assert pretty("m^3/h") == "m³/h"
    assert pretty("delta_degF") == "°F"
    assert pretty("uohm*m") == "µΩ·m"
