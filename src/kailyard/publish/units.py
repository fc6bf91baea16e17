"""SI inside, the garden's units on paper: figures as a reader has them. The factors stand in `kailyard.units`."""

from __future__ import annotations

from kailyard.units import Units, convert

__all__ = ["Units", "convert", "figure", "number", "temperature", "temperature_unit"]

_DECIMALS = {
    "°C·d": 0,
    "°F·d": 0,
    "in": 2,
    "in/day": 2,
    "days": 0,
    "day": 0,
    "years": 0,
    "minutes": 0,
    "ft": 1,
    "m³/m³": 2,
}


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
