"""Whether it is too cold for anything to grow."""

from __future__ import annotations

from kailyard.weather.ensemble import Ensemble

COLD_C = 5.0
"""In a fortnight whose mean is below this hardly anything grows, nor do weeds."""

BEFORE_DAYS, AFTER_DAYS = 7, 7
"""The fortnight about today."""


def about_now_c(ensemble: Ensemble) -> float:
    """Mean of the fortnight about today, over all possible seasons. [°C]"""
    at = ensemble.today_index
    return float(ensemble.tmean_c[:, max(at - BEFORE_DAYS, 0) : at + AFTER_DAYS].mean())


def too_cold(ensemble: Ensemble) -> bool:
    """Whether hardly anything grows in the open these days."""
    return about_now_c(ensemble) < COLD_C
