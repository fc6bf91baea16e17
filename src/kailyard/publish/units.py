"""SI inside, the garden's units on paper. The only place where a unit is changed for a reader.

The factors are exact by definition: NIST Special Publication 811 (2008), appendix B.8 and B.9 (inch, foot, pound,
degree Fahrenheit, US gallon, mile).
"""

from __future__ import annotations

from typing import Literal, NamedTuple

Units = Literal["metric", "us"]


class _Other(NamedTuple):
    unit: str
    factor: float
    offset: float = 0.0


_US: dict[str, _Other] = {
    "°C": _Other("°F", 1.8, 32.0),
    "°C difference": _Other("°F", 1.8),
    "°C per decade": _Other("°F per decade", 1.8),
    "°C·d": _Other("°F·d", 1.8),
    "mm": _Other("in", 1 / 25.4),
    "mm/day": _Other("in/day", 1 / 25.4),
    "cm": _Other("in", 1 / 2.54),
    "m": _Other("ft", 1 / 0.3048),
    "m²": _Other("sq ft", 1 / 0.3048**2),
    "km": _Other("miles", 1 / 1.609344),
    "m/s": _Other("mph", 1 / 0.44704),
    "kg": _Other("lb", 1 / 0.45359237),
    "L": _Other("gal", 1 / 3.785411784),
}
_METRIC_NAMES = {"°C difference": "°C"}
_DECIMALS = {"°C·d": 0, "°F·d": 0, "in": 2, "in/day": 2, "days": 0, "day": 0, "years": 0, "minutes": 0, "ft": 1}


def convert(value: float, unit: str, units: Units) -> tuple[float, str]:
    """`value` in the SI `unit` as the garden's units have it, with the unit's name there.

    '°C' is a temperature; a difference of temperatures is '°C difference', a trend '°C per decade'. A unit that has no
    other ('days', 'seeds', '') goes through untouched.
    """
    if units == "us" and unit in _US:
        other = _US[unit]
        return value * other.factor + other.offset, other.unit
    return value, _METRIC_NAMES.get(unit, unit)


def number(value: float, decimals: int) -> str:
    """`value` to at most `decimals` places, without trailing zeros, with a true minus sign."""
    written = f"{value:.{decimals}f}"
    if "." in written:
        written = written.rstrip("0").rstrip(".")
    if written in ("-0", ""):
        written = "0"
    return written.replace("-", "−")


def figure(value: float, unit: str, units: Units, decimals: int | None = None) -> str:
    """A figure with its unit, ready to read: '34 °C', '93.2 °F', '0.49 in', '1 day', '8 in 10' for a chance."""
    if unit == "chance":
        from kailyard.publish.words import in_ten

        return in_ten(value)
    if unit == "share":
        return f"{number(value * 100, 0)} in 100"
    shown, name = convert(value, unit, units)
    written = number(shown, _DECIMALS.get(name, 1 if name else 2) if decimals is None else decimals)
    if written == "1" and name in ("days", "years", "minutes"):
        name = name[:-1]
    return f"{written} {name}".rstrip()


def temperature(temp_c: float, units: Units) -> str:
    """A temperature to the whole degree, without its unit."""
    return number(convert(temp_c, "°C", units)[0], 0)


def temperature_unit(units: Units) -> str:
    """'°C' or '°F'."""
    return "°F" if units == "us" else "°C"
