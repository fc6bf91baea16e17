"""Units: SI inside, whatever people write outside. The one table of factors, for reading and for printing.

The factors are those of NIST Special Publication 811 (2008), appendix B.8 and B.9: exact by definition, but for the
columns of mercury, which are as printed there. Imports nothing, so that every part may use it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal, NamedTuple

Units = Literal["metric", "us"]


class Unit(NamedTuple):
    """`value × size + zero` is the same in the base unit of what it measures."""

    measures: str
    """Only units that measure the same are turned into each other."""
    size: float
    zero: float = 0.0


_INCH_M, _POUND_KG, _DEGREE_F, _FEET_IN_MILE = 0.0254, 0.45359237, 1 / 1.8, 5280
_GALLON_L = 231 * (_INCH_M * 10) ** 3
_ACRE_M2 = 43560 * (12 * _INCH_M) ** 2

UNITS: Mapping[str, Unit] = MappingProxyType(
    {
        "°C": Unit("temperature", 1.0),
        "°F": Unit("temperature", _DEGREE_F, -32 * _DEGREE_F),
        "K": Unit("temperature", 1.0, -273.15),
        "tenths of °C": Unit("temperature", 0.1),
        "°C difference": Unit("difference of temperatures", 1.0),
        "°F difference": Unit("difference of temperatures", _DEGREE_F),
        "°C per decade": Unit("trend of temperature", 1.0),
        "°F per decade": Unit("trend of temperature", _DEGREE_F),
        "°C·d": Unit("sum of warmth", 1.0),
        "°F·d": Unit("sum of warmth", _DEGREE_F),
        "mm": Unit("length", 0.001),
        "tenths of mm": Unit("length", 0.0001),
        "cm": Unit("length", 0.01),
        "m": Unit("length", 1.0),
        "km": Unit("length", 1000.0),
        "in": Unit("length", _INCH_M),
        "ft": Unit("length", 12 * _INCH_M),
        "yd": Unit("length", 36 * _INCH_M),
        "miles": Unit("length", 12 * _INCH_M * _FEET_IN_MILE),
        "mm/day": Unit("rain a day", 1.0),
        "in/day": Unit("rain a day", 1000 * _INCH_M),
        "mm/h": Unit("rain an hour", 1.0),
        "in/h": Unit("rain an hour", 1000 * _INCH_M),
        "m²": Unit("area", 1.0),
        "sq ft": Unit("area", (12 * _INCH_M) ** 2),
        "m/s": Unit("speed", 1.0),
        "km/h": Unit("speed", 1 / 3.6),
        "mph": Unit("speed", 12 * _INCH_M * _FEET_IN_MILE / 3600),
        "kt": Unit("speed", 1852 / 3600),
        "%": Unit("share", 0.01),
        "share of 1": Unit("share", 1.0),
        "kPa": Unit("pressure", 1.0),
        "hPa": Unit("pressure", 0.1),
        "inHg": Unit("pressure", 3.386389),
        "mmHg": Unit("pressure", 0.1333224),
        "MJ/m²": Unit("radiation over a time", 1.0),
        "J/cm²": Unit("radiation over a time", 0.01),
        "langley": Unit("radiation over a time", 0.04184),
        "W/m² over an hour": Unit("radiation over a time", 0.0036),
        "kWh/m²": Unit("radiation over a time", 3.6),
        "g": Unit("weight", 0.001),
        "kg": Unit("weight", 1.0),
        "oz": Unit("weight", _POUND_KG / 16),
        "lb": Unit("weight", _POUND_KG),
        "L": Unit("volume", 1.0),
        "mL": Unit("volume", 0.001),
        "m³": Unit("volume", 1000.0),
        "gal": Unit("volume", _GALLON_L),
        "qt": Unit("volume", _GALLON_L / 4),
        "pt": Unit("volume", _GALLON_L / 8),
        "fl oz": Unit("volume", _GALLON_L / 128),
        "tbsp": Unit("volume", _GALLON_L / 256),
        "tsp": Unit("volume", _GALLON_L / 768),
        "cu ft": Unit("volume", (12 * _INCH_M * 10) ** 3),
        "cu yd": Unit("volume", (36 * _INCH_M * 10) ** 3),
        "L/min": Unit("flow", 1.0),
        "gal/min": Unit("flow", _GALLON_L),
        "mL/L": Unit("share", 0.001),
        "fl oz/gal": Unit("share", 1 / 128),
        "tbsp/gal": Unit("share", 1 / 256),
        "mL/m²": Unit("volume over an area", 1.0),
        "L/ha": Unit("volume over an area", 0.1),
        "L/100 m²": Unit("volume over an area", 10.0),
        "gal/acre": Unit("volume over an area", 1000 * _GALLON_L / _ACRE_M2),
        "qt/acre": Unit("volume over an area", 250 * _GALLON_L / _ACRE_M2),
        "pt/acre": Unit("volume over an area", 125 * _GALLON_L / _ACRE_M2),
        "fl oz/acre": Unit("volume over an area", 1000 * _GALLON_L / 128 / _ACRE_M2),
        "gal/1000 sq ft": Unit("volume over an area", _GALLON_L / (12 * _INCH_M) ** 2),
        "fl oz/1000 sq ft": Unit("volume over an area", _GALLON_L / 128 / (12 * _INCH_M) ** 2),
        "g/m²": Unit("weight over an area", 1.0),
        "kg/ha": Unit("weight over an area", 0.1),
        "lb/acre": Unit("weight over an area", 1000 * _POUND_KG / _ACRE_M2),
        "lb/1000 sq ft": Unit("weight over an area", _POUND_KG / (12 * _INCH_M) ** 2),
        "lb/100 sq ft": Unit("weight over an area", 10 * _POUND_KG / (12 * _INCH_M) ** 2),
        "kg/m²": Unit("weight over an area", 1000.0),
        "lb/sq ft": Unit("weight over an area", 1000 * _POUND_KG / (12 * _INCH_M) ** 2),
        "kg/m": Unit("weight over a length", 1.0),
        "lb/ft": Unit("weight over a length", _POUND_KG / (12 * _INCH_M)),
        "kg/h": Unit("weight an hour", 1.0),
        "lb/h": Unit("weight an hour", _POUND_KG),
    }
)
"""Every unit by its name in print."""

_IN_US: Mapping[str, str] = MappingProxyType(
    {
        "°C": "°F",
        "°C difference": "°F difference",
        "°C per decade": "°F per decade",
        "°C·d": "°F·d",
        "mm": "in",
        "mm/day": "in/day",
        "mm/h": "in/h",
        "cm": "in",
        "m": "ft",
        "m²": "sq ft",
        "km": "miles",
        "m/s": "mph",
        "kg": "lb",
        "kg/m²": "lb/sq ft",
        "kg/m": "lb/ft",
        "kg/h": "lb/h",
        "L": "gal",
    }
)
"""What a garden in US units has in place of an SI unit."""

_PRINTED: Mapping[str, str] = MappingProxyType({"°C difference": "°C", "°F difference": "°F"})

_TYPED: Mapping[str, str] = MappingProxyType(
    {
        **{
            typed: unit
            for unit, spellings in {
                "°C": ("c", "degc", "celsius"),
                "°F": ("f", "degf", "fahrenheit"),
                "°C·d": ("c-days", "°cd"),
                "°F·d": ("f-days", "°fd"),
                "in": ("inch", "inches", '"', "″"),
                "ft": ("foot", "feet", "'", "′"),
                "yd": ("yard", "yards"),
                "miles": ("mile", "mi"),
                "m": ("metre", "metres", "meter", "meters"),
                "g": ("gram", "grams"),
                "kg": ("kilo", "kilos"),
                "oz": ("ounce", "ounces"),
                "lb": ("lbs", "pound", "pounds"),
                "km/h": ("kmh", "kph"),
                "kt": ("kn", "knot", "knots"),
                "m/s": ("ms", "m s-1"),
                "hPa": ("mbar", "millibar", "mb"),
                "inHg": ("inhg", "in hg"),
                "K": ("k", "kelvin"),
                "tenths of °C": ("tenths c", "tenths °c"),
                "tenths of mm": ("tenths mm",),
                "share of 1": ("share",),
                "%": ("percent",),
                "langley": ("ly", "langleys"),
                "J/cm²": ("j/cm2",),
                "W/m² over an hour": ("w/m2", "w/m²"),
                "MJ/m²": ("mj/m2", "mj"),
                "kWh/m²": ("kwh/m2", "kwh"),
                "m²": ("m2", "sq m"),
                "sq ft": ("sqft", "ft2", "ft²", "square feet"),
                "L": ("l", "litre", "litres", "liter", "liters"),
                "gal": ("gallon", "gallons"),
                "mL": ("millilitre", "millilitres", "cc"),
                "m³": ("m3", "cubic metres", "cubic meters"),
                "qt": ("quart", "quarts"),
                "pt": ("pint", "pints"),
                "fl oz": ("floz", "fluid ounces"),
                "tbsp": ("tablespoon", "tablespoons"),
                "tsp": ("teaspoon", "teaspoons"),
                "cu ft": ("cuft", "ft3", "ft³", "cubic feet"),
                "cu yd": ("cuyd", "yd3", "yd³", "cubic yards"),
                "mL/m²": ("ml/m2",),
                "L/100 m²": ("l/100m2", "l/100m²", "l/100 m2"),
                "fl oz/gal": ("floz/gal",),
                "fl oz/acre": ("floz/acre",),
                "fl oz/1000 sq ft": ("floz/1000sqft", "fl oz/1000sqft"),
                "gal/1000 sq ft": ("gal/1000sqft",),
                "g/m²": ("g/m2",),
                "lb/1000 sq ft": ("lb/1000sqft",),
                "lb/100 sq ft": ("lb/100sqft",),
            }.items()
            for typed in spellings
        },
        **{unit.lower(): unit for unit in UNITS},
    }
)


_FIGURE = re.compile(r"(?<![\w.])(-?\d+(?:\.\d+)?)(?:( to |–|-)(\d+(?:\.\d+)?))? ?(mm|cm|m|kg|°C)(?![\w²/·])")
"""A figure, or a span of two, with one of the units that a handbook's sentence may hold."""


def in_running_text(text: str, units: Units) -> str:
    """`text` with its metric figures as the garden has them: '15 to 20 cm' is '6 to 8 in' in US units."""
    if units == "metric":
        return text

    def turn(found: re.Match[str]) -> str:
        low, joint, high, unit = found.groups()
        into = "ft" if unit == "m" and float(high or low) >= 1 else "in" if unit == "m" else shown_unit(unit, units)
        numbers = [turned(float(n), unit, into) for n in (low, high) if n is not None]
        places = 2 if unit == "mm" else 0 if max(map(abs, numbers)) >= 3 else 1
        said = [f"{n:.{places}f}".removesuffix(".0") for n in numbers]
        return f"{(joint or '').join(said)} {into}"

    return _FIGURE.sub(turn, text)


def unit_typed(text: str) -> str | None:
    """The unit that somebody typed, by its name in print; None where there is none of that name."""
    return _TYPED.get(" ".join(text.lower().split()))


def shown_unit(unit: str, units: Units) -> str:
    """The unit in which the garden has what is kept in the SI `unit`."""
    return _IN_US.get(unit, unit) if units == "us" else unit


def turned(value: float, unit: str, into: str) -> float:
    """`value` of `unit` as a number of `into`; ValueError where they measure different things."""
    old, new = UNITS[unit], UNITS[into]
    if old.measures != new.measures:
        raise ValueError(f"{unit} measures {old.measures}, {into} {new.measures}")
    return value if unit == into else (value * old.size + old.zero - new.zero) / new.size


def convert(value: float, unit: str, units: Units) -> tuple[float, str]:
    """`value` in the SI `unit` as the garden's units have it, with the unit's name in print.

    '°C' is a temperature; a difference of temperatures is '°C difference', a trend '°C per decade'. A unit that has no
    other ('days', 'seeds', '') goes through untouched.
    """
    shown = shown_unit(unit, units)
    return (value if shown == unit else turned(value, unit, shown)), _PRINTED.get(shown, shown)
