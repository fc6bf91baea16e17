"""Means of thirty years by month as a service states them: to compare with, never used as years."""

from __future__ import annotations

from dataclasses import dataclass

Months = tuple[float | None, ...]
"""January to December; None where nothing is stated."""


@dataclass(frozen=True, slots=True)
class Normals:
    """A station's climate normals. [°C, mm]"""

    station: str
    period: str
    """The years they are means of: '1991-2020'."""
    tmin_c: Months
    tmax_c: Months
    rain_mm: Months
    """Sum of the month."""
    credit: str = ""
    """Whose figures they are and under which licence, in words."""
