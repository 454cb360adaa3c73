"""The kinds of quantity that fields of the design sheet use.

Spans are what coolers for air, their rooms and their wiring have in practice: wide on purpose,
since they only serve to guess a slip of the unit. Tolerances are what a maker who reads a data
sheet or uses common tools may count on.
"""

from __future__ import annotations

from dataclasses import replace
from math import inf, pi

from coldwright.quantities.entries import Entry

_WATER_ALIASES = {"gpm": "gal/min", "gph": "gal/h", "lpm": "L/min", "lph": "L/h"}
_FLOW_ALIASES = {"cfm": "ft^3/min", "cmh": "m^3/h", "cmm": "m^3/min", "m3h": "m^3/h"} | (
    _WATER_ALIASES
)
_POWER_STEPS = ((0.0, "W"), (1.0e-5, "mW"), (0.1, "W"), (1.0e4, "kW"))
_ELECTRIC = {"vdc": "V", "vac": "V", "v": "V", "volt": "V", "vrms": "V"}
_POWER_ALIASES = {"w": "W", "kw": "kW", "watt": "W", "wp": "W", "ton": "TR", "tons": "TR"}
_SHARE_SLIPS = ("%", "")

_KINDS = (
    Entry(
        "temperature", "T", "K", "°C", 223.15, 523.15, "1 K",
        "Temperature of something, on a thermometer's scale.", "35 degC",
        aliases={"c": "degC", "f": "degF", "celsius": "degC", "fahrenheit": "degF", "k": "K"},
        slips=("degC", "degF", "K"), least=0.0, point=True,
    ),
    Entry(
        "temperature_difference", "ΔT", "K", "K", 1e-3, 150.0, "5 %",
        "Difference between two temperatures; “2 degC” here means 2 K.", "2 K",
        aliases={"c": "K", "f": "delta_degF", "k": "K"}, slips=("K", "delta_degF"),
    ),
    Entry(
        "length", "L", "m", "m", 1e-5, 60.0, "1 %", "Length, width, height or thickness.",
        "300 mm", aliases={'"': "in", "'": "ft", "''": "in", "mil": "thou", "mils": "thou"},
        slips=("mm", "m", "cm", "in"), least=0.0,
        steps=((0.0, "µm"), (1e-4, "mm"), (1.0, "m")),
    ),
    Entry(
        "area", "A", "m^2", "m²", 1e-8, 500.0, "2 %", "Area.", "380 cm^2",
        aliases={"sqm": "m^2", "sqft": "ft^2", "sqin": "in^2", "sqmm": "mm^2"},
        slips=("cm^2", "mm^2", "m^2"), least=0.0,
        steps=((0.0, "mm²"), (1e-4, "cm²"), (0.1, "m²")),
    ),
    Entry(
        "volume", "V", "m^3", "m³", 1e-7, 5000.0, "2 %", "Volume of a space or a liquid.",
        "19 L", aliases={"cuft": "ft^3", "cc": "cm^3", "ccm": "cm^3"}, slips=("L", "mL", "m^3"),
        least=0.0, steps=((0.0, "mL"), (1e-4, "L"), (0.5, "m³")),
    ),
    Entry(
        "mass", "m", "kg", "kg", 1e-5, 2e4, "2 %", "Mass.", "80 kg",
        aliases={"lbs": "lb", "kgs": "kg", "to": "t"}, slips=("g", "kg"), least=0.0,
        steps=((0.0, "g"), (1.0, "kg")),
    ),
    Entry(
        "time", "t", "s", "min", 1e-3, 1e8, "0 %", "A span of time.", "60 min",
        aliases={"mins": "min", "hrs": "h", "hour": "h", "hours": "h", "days": "d", "day": "d"},
        slips=("min", "h", "s"), least=0.0,
        steps=((0.0, "s"), (120.0, "min"), (7200.0, "h"), (259200.0, "d")),
    ),
    Entry(
        "power", "P", "W", "W", 1e-3, 2e4, "5 %", "Electrical power.", "14 W",
        aliases=_POWER_ALIASES, slips=("W", "kW"), steps=_POWER_STEPS,
    ),
    Entry(
        "heat", "Q", "W", "W", 1e-3, 5e4, "10 %", "Heat flow.", "53 W",
        aliases=_POWER_ALIASES, slips=("W", "BTU/h", "kW"), steps=_POWER_STEPS,
    ),
    Entry(
        "energy", "E", "J", "kWh", 1e-3, 1e12, "5 %", "Energy.", "1.2 kWh",
        aliases={"kwh": "kWh", "wh": "Wh"}, slips=("Wh", "kWh"),
        steps=((0.0, "J"), (3600.0, "Wh"), (3.6e6, "kWh")),
    ),
    Entry(
        "charge", "C", "A*s", "Ah", 1.0, 1e8, "10 %", "Charge a battery holds.", "100 Ah",
        aliases={"ah": "Ah", "mah": "mAh"}, slips=("Ah", "mAh"), least=0.0,
    ),
    Entry(
        "pressure", "p", "Pa", "Pa", 0.01, 5000.0, "10 %",
        "Pressure difference that moves air.", "70 Pa",
        aliases={"inwg": "inH2O", "inwc": "inH2O", "mmwg": "mmH2O", "mmaq": "mmH2O", "pa": "Pa"},
        slips=("Pa", "mmH2O", "mbar", "inH2O"),
    ),
    Entry(
        "air_pressure", "p", "Pa", "hPa", 4e4, 1.2e5, "1 %", "Pressure of the outdoor air.",
        "1013 hPa", aliases={"hpa": "hPa", "inhg": "inHg"},
        slips=("hPa", "kPa", "inHg", "mmHg"), least=0.0,
    ),
    Entry(
        "stress", "σ", "Pa", "MPa", 1e3, 1e12, "10 %",
        "Mechanical stress, clamping pressure or stiffness.", "1.2 MPa",
        slips=("MPa", "GPa", "kPa", "psi"),
    ),
    Entry(
        "flow", "V̇", "m^3/s", "m³/h", 1e-4, 1.0, "10 %", "Volume flow of air.", "80 m^3/h",
        aliases=_FLOW_ALIASES, slips=("m^3/h", "ft^3/min", "L/s", "L/min"), least=0.0,
    ),
    Entry(
        "water_flow", "V̇", "m^3/s", "L/min", 1e-6, 5e-3, "10 %", "Volume flow of a liquid.",
        "1.5 L/min", aliases=_WATER_ALIASES, slips=("L/min", "L/h", "L/s", "mL/min"), least=0.0,
    ),
    Entry(
        "mass_flow", "ṁ", "kg/s", "kg/h", 1e-5, 2.0, "10 %", "Mass flow of air or a liquid.",
        "95 kg/h", slips=("kg/h", "g/s", "kg/min"), least=0.0,
    ),
    Entry(
        "moisture_rate", "ṁ", "kg/s", "g/h", 1e-9, 3e-3, "10 %",
        "Water that turns to vapour or is condensed, per time.", "60 g/h",
        slips=("g/h", "kg/h", "kg/d"),
    ),
    Entry(
        "velocity", "v", "m/s", "m/s", 0.01, 50.0, "10 %", "Speed of air.", "2 m/s",
        aliases={"fpm": "ft/min", "mph": "mi/h", "kmh": "km/h", "kph": "km/h"},
        slips=("m/s", "km/h", "ft/min"),
    ),
    Entry(
        "thermal_resistance", "R", "K/W", "K/W", 1e-4, 100.0, "20 %",
        "Temperature drop per watt.", "0.35 K/W", slips=("K/W", "mK/W", "K/kW"), least=0.0,
    ),
    Entry(
        "thermal_conductance", "K", "W/K", "W/K", 1e-4, 5e3, "10 %",
        "Watts per kelvin of difference.", "0.5254 W/K", slips=("W/K", "mW/K"), least=0.0,
    ),
    Entry(
        "film_coefficient", "h", "W/m^2/K", "W/(m²·K)", 0.1, 5e4, "20 %",
        "Heat flow from a surface per area and kelvin.", "10 W/m^2/K", least=0.0,
    ),
    Entry(
        "u_value", "U", "W/m^2/K", "W/(m²·K)", 0.05, 10.0, "10 %",
        "Heat flow through a wall or window per area and kelvin, air to air.", "5.7 W/m^2/K",
        slips=("W/m^2/K", "BTU/h/ft^2/delta_degF", "mW/m^2/K"), least=0.0,
    ),
    Entry(
        "thermal_insulance", "R", "m^2*K/W", "m²·K/W", 1e-6, 20.0, "10 %",
        "Resistance of a layer over its area; “R13” is in the US unit ft²·°F·h/BTU.",
        "0.25 m^2*K/W", slips=("m^2*K/W", "ft^2*delta_degF*h/BTU", "mm^2*K/W"), least=0.0,
    ),
    Entry(
        "thermal_conductivity", "k", "W/m/K", "W/(m·K)", 5e-3, 2500.0, "10 %",
        "How well a material conducts heat.", "0.035 W/m/K",
        aliases={"w/mk": "W/m/K", "w/m*k": "W/m/K"}, slips=("mW/m/K", "W/m/K"), least=0.0,
    ),
    Entry(
        "linear_transmittance", "ψ", "W/m/K", "W/(m·K)", 1e-4, 5.0, "20 %",
        "Extra heat flow along an edge, per length and kelvin.", "0.05 W/m/K",
        aliases={"w/mk": "W/m/K"},
    ),
    Entry(
        "specific_heat", "c", "J/kg/K", "J/(kg·K)", 100.0, 15000.0, "5 %",
        "Heat that warms one kilogram by one kelvin.", "1200 J/kg/K",
        aliases={"j/kgk": "J/kg/K", "kj/kgk": "kJ/kg/K"}, slips=("kJ/kg/K", "J/kg/K", "J/g/K"),
        least=0.0,
    ),
    Entry(
        "heat_capacity", "C", "J/K", "J/K", 0.1, 1e9, "20 %",
        "Heat that warms the whole thing by one kelvin.", "900 J/K",
        slips=("J/K", "kJ/K", "Wh/K"), least=0.0,
        steps=((0.0, "J/K"), (1e4, "kJ/K")),
    ),
    Entry(
        "density", "ρ", "kg/m^3", "kg/m³", 0.1, 23000.0, "5 %", "Mass per volume.",
        "30 kg/m^3", slips=("kg/m^3", "g/cm^3"), least=0.0,
    ),
    Entry(
        "mass_per_area", "m″", "kg/m^2", "kg/m²", 1e-3, 2000.0, "5 %", "Mass per area.",
        "8 kg/m^2", slips=("kg/m^2", "g/m^2"), least=0.0,
    ),
    Entry(
        "seebeck", "S", "V/K", "mV/K", 5e-5, 1.0, "5 %",
        "Voltage per kelvin of a module (or of one leg).", "0.0513 V/K",
        slips=("mV/K", "uV/K", "V/K"),
    ),
    Entry(
        "resistance", "R", "ohm", "Ω", 1e-6, 1e7, "5 %", "Electrical resistance.", "1.985 ohm",
        aliases={"ohms": "ohm"}, slips=("ohm", "mohm"), least=0.0,
        steps=((0.0, "mΩ"), (0.1, "Ω"), (1e4, "kΩ")),
    ),
    Entry(
        "resistance_per_length", "R′", "ohm/m", "Ω/km", 1e-6, 10.0, "5 %",
        "Resistance of a conductor per length.", "8.29 ohm/km", slips=("ohm/km", "mohm/m"),
        least=0.0,
    ),
    Entry(
        "resistivity", "ρ", "ohm*m", "µΩ·m", 1e-9, 1.0, "5 %",
        "Electrical resistivity of a material.", "1e-5 ohm*m", slips=("uohm*m", "ohm*m"),
        least=0.0,
    ),
    Entry(
        "contact_resistivity", "r", "ohm*m^2", "Ω·m²", 1e-13, 1e-6, "50 %",
        "Resistance of a soldered contact times its area.", "1e-10 ohm*m^2",
        slips=("ohm*m^2", "ohm*cm^2", "uohm*cm^2"), least=0.0,
    ),
    Entry(
        "voltage", "U", "V", "V", 1e-4, 1000.0, "2 %", "Voltage.", "30 V", aliases=_ELECTRIC,
        slips=("V", "mV"),
    ),
    Entry(
        "current", "I", "A", "A", 1e-4, 1000.0, "2 %", "Current.", "6 A",
        aliases={"a": "A", "amp": "A", "amps": "A", "adc": "A", "aac": "A"},
        slips=("A", "mA"),
    ),
    Entry(
        "capacitance", "C", "F", "µF", 1e-12, 1.0, "20 %",
        "Charge that a capacitor takes for each volt.",
        "220 uF", aliases={"uf": "uF", "nf": "nF", "mf": "mF"},
        slips=("uF", "nF", "mF"), least=0.0,
    ),
    Entry(
        "frequency", "f", "1/s", "Hz", 1e-4, 1e9, "1 %", "How often per second.", "25 kHz",
        aliases={"hz": "Hz", "khz": "kHz"}, slips=("Hz", "kHz"), least=0.0,
        steps=((0.0, "Hz"), (1e3, "kHz")),
    ),
    Entry(
        "rotation", "n", "1/s", "1/min", 0.01, 1000.0, "5 %", "Turns per time.", "1500 rpm",
        aliases={"rpm": "1/min"}, slips=("1/min", "1/s"), least=0.0,
    ),
    Entry(
        "humidity", "φ", "", "%", 0.01, 1.0, "5 %", "Relative humidity of air.", "40 percent",
        aliases={"%rh": "%", "rh": ""}, slips=_SHARE_SLIPS, least=0.0, most=1.0,
    ),
    Entry(
        "humidity_ratio", "W", "", "g/kg", 1e-5, 0.2, "5 %",
        "Water vapour per mass of dry air.", "8 g/kg", slips=("g/kg", ""), least=0.0,
        aliases={"g/kg": "g/kg"},
    ),
    Entry("ratio", "", "", "", 1e-6, 1e6, "0 %", "One number over another.", "0.5"),
    Entry(
        "share", "", "", "%", 1e-4, 1.0, "0 %", "A part of the whole, from 0 to 1.",
        "60 percent", slips=_SHARE_SLIPS, least=0.0, most=1.0,
    ),
    Entry(
        "efficiency", "η", "", "%", 0.05, 1.0, "2 %", "What comes out over what goes in.",
        "92 percent", slips=_SHARE_SLIPS, least=0.0, most=1.0,
    ),
    Entry(
        "emissivity", "ε", "", "", 0.02, 1.0, "10 %",
        "Radiation of a surface over that of a black one.", "0.9", slips=_SHARE_SLIPS,
        least=0.0, most=1.0,
    ),
    Entry(
        "irradiance", "G", "W/m^2", "W/m²", 0.01, 1500.0, "10 %",
        "Heat flow per area: sun, or a person's activity.", "500 W/m^2",
        aliases={"met": "58.2*W/m^2"}, slips=("W/m^2", "kW/m^2"),
    ),
    Entry(
        "sound_level", "L", "dB", "dB", 0.1, 140.0, "3 dB",
        "Sound pressure level, A-weighted unless stated.", "46 dB",
        aliases={"dba": "dB", "db(a)": "dB", "dbc": "dB"}, point=True,
    ),
    Entry(
        "price", "", "price", "price", 1e-3, 1e6, "0 %", "An amount of money, in any currency.",
        "12 EUR", least=0.0,
    ),
    Entry(
        "price_per_energy", "", "price/J", "price/kWh", 0.005 / 3.6e6, 5.0 / 3.6e6, "0 %",
        "What electricity costs.", "0.25 EUR/kWh",
        slips=("price/kWh", "cent/kWh", "price/MWh"), least=0.0,
    ),
    Entry(
        "angle", "", "rad", "°", 1e-4, 4 * pi, "5 deg",
        "A direction: a compass point, or degrees clockwise from north.", "SSW",
        aliases={"°": "deg"}, slips=("deg", "rad"), point=True,
    ),
    Entry(
        "latitude", "", "rad", "°", 1e-4, pi / 2, "0 deg",
        "How far north of the equator, in degrees; south is negative.", "48.1 N",
        aliases={"°": "deg"}, least=-pi / 2, most=pi / 2, point=True,
    ),
    Entry(
        "longitude", "", "rad", "°", 1e-4, pi, "0 deg",
        "How far east of Greenwich, in degrees; west is negative.", "11.5 E",
        aliases={"°": "deg"}, least=-pi, most=pi, point=True,
    ),
    Entry(
        "emission_factor", "", "kg/J", "kg/kWh", 1e-3 / 3.6e6, 2.0 / 3.6e6, "0 %",
        "Mass of greenhouse gas set free for each unit of electrical energy.", "0.3 kg/kWh",
        slips=("kg/kWh", "g/kWh", "kg/MWh"), least=0.0,
    ),
    Entry(
        "wire_size", "A", "m^2", "mm²", 1e-8, 1e-3, "0 %",
        "Cross section of a wire; gauge numbers are AWG.", "2.5 mm^2",
        aliases={"sqmm": "mm^2", "mm2": "mm^2"}, slips=("mm^2",), least=0.0,
        steps=((0.0, "mm²"),),
    ),
    Entry(
        "air_changes", "n", "1/s", "1/h", 0.005 / 3600, 300.0 / 3600, "30 %",
        "How often the air of a room is replaced, per time.", "5 1/h",
        aliases={"ach": "1/h", "ach50": "1/h", "perhour": "1/h"}, slips=("1/h",), least=0.0,
    ),
    Entry(
        "count", "n", "", "", 1.0, 1e6, "0 %", "A whole number of things.", "12", least=0.0,
        most=inf,
    ),
    Entry(
        "altitude", "z", "m", "m", 1.0, 6000.0, "20 m", "Height of a place above the sea.",
        "120 m", slips=("m", "ft", "km"), point=True,
    ),
)  # fmt: skip

KINDS: dict[str, Entry] = {row.name: replace(row, kind=row.name) for row in _KINDS}
"""Kind of quantity -> its entry. A new kind is one more row of the table above."""
