"""What people type, read strictly: days, numbers with their units, shares, yes and no. Nothing is guessed.

A number without a unit is in the unit that the garden's own units have for it; the message says which.
"""

from __future__ import annotations

import math
import re
from datetime import date, timedelta

from kailyard.errors import UsageError
from kailyard.units import UNITS, Units, shown_unit, turned, unit_typed

_NUMBER = re.compile(r"([+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+))\s*(.*)", re.ASCII | re.DOTALL)
_YES = ("yes", "y", "true")
_NO = ("no", "n", "false")
LONGEST_SHOWN = 40


def shown(text: str) -> str:
    """`text` in quotes, fit for a message: on one line, not too long, nothing unseen in it."""
    short = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "…"
    return f"'{short}'" if short.isprintable() else ascii(short)


def day(text: str, today: date, what: str) -> date:
    """A day: 2026-06-12, 'today', 'yesterday' or 'tomorrow'."""
    relative = {"today": 0, "yesterday": -1, "tomorrow": 1}
    if text.lower() in relative:
        return today + timedelta(days=relative[text.lower()])
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UsageError(f"{what}: {shown(text)} is no day. Write 2026-06-12, today or yesterday.") from None


def past_day(text: str | None, today: date, what: str) -> date:
    """The same, of something that has happened; None is today."""
    found = today if text is None else day(text, today, what)
    if found > today:
        raise UsageError(f"{what}: {found} lies after today, {today}. An entry says what has happened.")
    return found


def split_number(text: str) -> tuple[float, str] | None:
    """The number at the beginning of `text` and the words behind it; None where there is none."""
    found = _NUMBER.fullmatch(text.strip().replace("−", "-"))
    if found is None or not math.isfinite(number := float(found[1])):
        return None
    return number, found[2].strip()


def quantity(text: str, unit: str, units: Units, what: str) -> float:
    """`text` as a number of the SI `unit` ('' for a pure number)."""
    bare = shown_unit(unit, units)
    like = f"Write a number{f' of {bare}' if bare else ''}{_example(bare)}, with a decimal point."
    parts = split_number(text)
    if parts is None:
        raise UsageError(f"{what}: {shown(text)} is no number. {like}")
    number, word = parts
    typed = unit_typed(word) if word else bare
    if typed == "°C" and unit == "°C difference":
        typed = "°C difference"
    if typed == "°F" and unit == "°C difference":
        typed = "°F difference"
    if not word and bare not in UNITS:
        return number
    if typed is None or unit not in UNITS:
        raise UsageError(f"{what}: {shown(word)} in {shown(text)} is not understood. {like}")
    try:
        return round(turned(number, typed, unit), 9)
    except ValueError:
        raise UsageError(f"{what}: {shown(text)} is no number of {bare}. {like}") from None


def count(text: str, what: str) -> int:
    """A whole number."""
    if not (text.isascii() and text.isdecimal() and len(text) < 10):
        raise UsageError(f"{what}: {shown(text)} is no whole number. Write it like 12.")
    return int(text)


def share(text: str, what: str) -> float:
    """A part of the whole: '0.7' or '70%'."""
    parts = split_number(text)
    if parts is None or parts[1] not in ("", "%"):
        raise UsageError(f"{what}: {shown(text)} is no share. Write it like 70% or 0.7.")
    found = round(parts[0] / 100, 9) if parts[1] else parts[0]
    if not 0.0 <= found <= 1.0:
        raise UsageError(f"{what}: {shown(text)} lies outside 0 to 1 (0% to 100%). A percentage needs its sign: 70%.")
    return found


def yes_or_no(text: str, what: str) -> bool:
    """'yes' or 'no'."""
    if text.lower() in _YES + _NO:
        return text.lower() in _YES
    raise UsageError(f"{what}: {shown(text)} is neither yes nor no.")


def _example(unit: str) -> str:
    examples = {"m": "3.6 or 12ft", "ft": "12 or 3.6m", "cm": "10 or 4in", "in": "4 or 10cm", "mm": "7 or 0.3in"}
    examples |= {"°C": "12 or 54F", "°F": "54 or 12C", "kg": "1.2kg or 3lb", "lb": "3lb or 1.2kg"}
    return f", like {examples[unit]}" if unit in examples else ", like 12 or 0.5"
