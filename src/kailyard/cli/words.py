"""Words that several commands read alike: `type=` functions for argparse."""

from __future__ import annotations

from datetime import date

from kailyard.errors import UsageError


def day(text: str) -> date:
    """A day written as year, month, day.

    Raises
    ------
    UsageError
        If `text` is no such day.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UsageError(f"'{text}' is no day. Write year, month, day, like 2026-06-12.") from None


def a_number(text: str) -> float:
    """A finite number with a decimal point.

    Raises
    ------
    UsageError
        If `text` is no number.
    """
    try:
        number = float(text)
    except ValueError:
        number = float("nan")
    if number in (float("inf"), float("-inf")) or number != number:
        raise UsageError(f"'{text}' is no number. Write it like 12 or 0.5.")
    return number
